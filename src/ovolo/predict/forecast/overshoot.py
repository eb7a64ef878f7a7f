"""What becomes of the part where a slide goes past its figure: worked out for each move before anybody is at the lathe.

Lengths in mm. Only what lies beyond the figure is looked at, straight on in the direction of the move; how deep it is
below the outline is measured square to it, from the deepest place of the tool. Valid up to `FARTHEST` past the figure.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.predict.forecast.sampled import Line, sampled

__all__ = ["FARTHEST", "WITHIN", "Overshoot", "overshoots"]

FARTHEST = 3.0
"""No answer is worked out past this, mm: then the spindle is stopped and the part measured whatever came of it."""

REACHED: tuple[float, ...] = (0.0, *(round(float(x), 4) for x in np.geomspace(0.005, FARTHEST, 20)))
"""How far past its figure each move is looked at, mm, at least; closer where the depth bends."""

WITHIN, SHARE = 2e-3, 5e-3
"""Between two places the depth is true to this, mm, and to this share of it."""

_METAL = 1e-3
"""Less metal than this is none, mm^2."""

_CHORD = 3e-4
_AROUND = 0.5
_CLOSE = 0.03
"""How much of the part is looked at around the tool, and how closely the border of what is cut is followed, mm."""


class Overshoot(NamedTuple):
    """What a move does past its figure: how deep `below` the outline at places past it, straight lines between them,
    nothing where nothing is harmed; and from where on metal is cut, None where none is; mm."""

    n: int
    below: Line
    cuts_from: float | None


def overshoots(plan: Plan) -> tuple[Overshoot, ...]:
    """Each move's, in order."""
    swept = plan.swept
    part = shapely.simplify(swept.part, _CHORD)
    line = shapely.LineString(list(plan.job.part.outline.flattened(_CHORD)))
    bore = plan.job.part.surface == "bore"
    shapes = {tool.name: tool_shape(tool) * (np.array([1.0, -1.0]) if bore else 1.0) for tool in plan.tools}
    shapely.prepare(line)
    return tuple(_of(move, shapes[move.tool], part, line, swept.after(move.n)) for move in plan.moves)


def _of(move: Move, shape: Floats, part: BaseGeometry, line: BaseGeometry, metal: BaseGeometry) -> Overshoot:
    places = [_past(move, s) for s in REACHED]
    near = _near(part, shape, places)
    below: Line = ()
    if not near.is_empty and shapely.intersects(_tool(move, shape, [FARTHEST])[0], near):
        below = sampled(lambda s: _depths(_tool(move, shape, s), near, line), REACHED, WITHIN, SHARE)
    cuts_from = _cuts_from(_tool(move, shape, REACHED), _near(metal, shape, places))
    return Overshoot(move.n, _rising(below), cuts_from)


def _rising(below: Line) -> Line:
    """What was cut stays cut: the depth never falls. Nothing where nothing is below the outline."""
    deepest: Floats = np.maximum.accumulate(np.array([depth for _, depth in below]))
    return tuple((s, float(d)) for (s, _), d in zip(below, deepest, strict=True)) if np.any(deepest) else ()


def _tool(move: Move, shape: Floats, s: Sequence[float] | Floats) -> np.ndarray:
    """The tool so far past the end of a move."""
    return np.array([shapely.Polygon(shape + np.asarray(_past(move, one))) for one in s])


def _past(move: Move, s: float) -> Point:
    """The nose centre so far past the end of a move."""
    length = max(move.travel, 1e-12)
    return Point(
        move.end.x + s * (move.end.x - move.start.x) / length, move.end.y + s * (move.end.y - move.start.y) / length
    )


def _near(region: BaseGeometry, shape: Floats, places: Sequence[Point]) -> BaseGeometry:
    """What of a region the tool may come to: its nose and as much above it as a move past its figure can touch."""
    points = np.vstack([shape + np.asarray(place) for place in (places[0], places[-1])])
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    x0, y0, x1, y1 = x0 - _AROUND, y0 - _AROUND, x1 + _AROUND, y1 + _AROUND
    return shapely.clip_by_rect(region, float(x0), float(y0), float(x1), float(y1))


def _depths(tools: np.ndarray, part: BaseGeometry, line: BaseGeometry) -> Floats:
    """How deep each tool is in the part, at its deepest place."""
    inside = shapely.segmentize(shapely.intersection(tools, part), _CLOSE)
    points, of = shapely.get_coordinates(inside, return_index=True)
    # The axis and the back of the part are no outline: what lies there is as deep as its distance to the line.
    depths = np.zeros(len(tools))
    np.maximum.at(depths, of, shapely.distance(shapely.points(points), line))
    return depths


def _cuts_from(tools: np.ndarray, metal: BaseGeometry) -> float | None:
    areas = shapely.area(shapely.intersection(tools, metal))
    cut = np.flatnonzero(areas > _METAL)
    return None if not len(cut) else float(REACHED[max(int(cut[0]) - 1, 0)])
