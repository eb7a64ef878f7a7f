"""What the part looks like where a slide went past its figure while finishing, and the next cut is taken from there.

The slide is not brought back: the other slide's moves that follow are made where it stands, until its own next move
brings it to the figure after. Lengths in mm. Valid up to `FARTHEST_ON` past the figure, everything else set exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.steps import Step
from ovolo.plan.sweep.remaining import left_standing
from ovolo.plan.sweep.sweep import part_region, tool_shape
from ovolo.plan.sweep.swept_hulls import Tracks
from ovolo.plan.view.frame import Frame
from ovolo.predict.forecast.sampled import Line, sampled

__all__ = ["FARTHEST_ON", "GoingOn", "going_on", "moved_on"]

FARTHEST_ON = 0.3
"""A slide farther past its figure than this is wound back, mm."""

PLACES = (0.0, 0.1, FARTHEST_ON)
WITHIN, SHARE = 4e-3, 2e-2
HARMLESS = 1.5e-3
"""A cut that goes deeper below the outline than this is not taken from there, mm: the ridge is then of no interest."""

_CHORD = 3e-4
_AROUND = 0.5


class GoingOn(NamedTuple):
    """After move `n`: how deep below the outline it then is, and how high the highest ridge there becomes, at places
    past the figure, straight lines between them; the ridge as far as the depth does no harm; mm."""

    n: int
    ridge: Line
    below: Line


def going_on(plan: Plan) -> tuple[GoingOn | None, ...]:
    """Each move's, in order; None where the move is not of finishing, or where no cut follows from where it stands."""
    steps, swept = plan.swept.steps, plan.swept
    cut = np.array([move.cuts for move in plan.moves])
    made = _tracks(plan.frame, steps)
    scene = _Scene(plan.frame, steps, made, swept.sweep.rest, shapely.simplify(part_region(plan.frame), _CHORD))
    found: list[GoingOn | None] = []
    for i, move in enumerate(plan.moves):
        last = _next_of_slide(steps, i)
        between = cut[i + 1 : last]
        wanted = move.stage == "finish" and move.slide in ("cross", "saddle") and between.any()
        chips = [swept.chip_in_frame(k + 1) for k in range(i, min(last + 1, len(steps)))] if wanted else []
        found.append(_of(scene, i, last, shapely.union_all(chips)) if wanted else None)
    return tuple(found)


def moved_on(steps: Sequence[Step], i: int, past: float) -> list[Step]:
    """The moves where the i-th (counted from 0) goes so far past its end, mm, and is not brought back."""
    last, out = _next_of_slide(steps, i), list(steps)
    (x0, y0), (x1, y1) = steps[i].start, steps[i].end
    size = max(np.hypot(x1 - x0, y1 - y0), 1e-12)
    dx, dy = past * (x1 - x0) / size, past * (y1 - y0) / size

    def off(place: Point) -> Point:
        return Point(place.x + dx, place.y + dy)

    out[i] = steps[i]._replace(end=off(steps[i].end))
    for k in range(i + 1, min(last + 1, len(steps))):
        out[k] = steps[k]._replace(start=off(steps[k].start), end=steps[k].end if k == last else off(steps[k].end))
    return out


def _next_of_slide(steps: Sequence[Step], i: int) -> int:
    """The number of the next move of the same slide with the same tool; how many steps there are where none comes, or
    another tool does."""
    for k in range(i + 1, len(steps)):
        if steps[k].tool is not steps[i].tool and steps[k].tool != steps[i].tool:
            return len(steps)
        if steps[k].slide == steps[i].slide:
            return k
    return len(steps)


class _Scene(NamedTuple):
    frame: Frame
    steps: Sequence[Step]
    made: np.ndarray
    rest: BaseGeometry
    part: BaseGeometry


def _tracks(frame: Frame, steps: Sequence[Step]) -> np.ndarray:
    """What each step sweeps."""
    shapes, moves = [tool_shape(s.tool) for s in steps], [(s.start, s.end) for s in steps]
    return Tracks(shapes, moves, mirrored=frame.sign > 0).regions


def _of(scene: _Scene, i: int, last: int, taken: BaseGeometry) -> GoingOn | None:
    """taken: what the moves i to last take that change; it is uncertain now, but for what later moves take anyway."""
    if taken.is_empty:
        return None
    later = scene.made[last + 1 :]
    open_ = shapely.difference(taken, shapely.union_all(later[shapely.intersects(later, taken)]))
    x0, y0, x1, y1 = shapely.bounds(taken)
    near = (x0 - _AROUND, y0 - _AROUND, x1 + _AROUND, y1 + _AROUND)
    rest, part = shapely.clip_by_rect(scene.rest, *near), shapely.clip_by_rect(scene.part, *near)
    line = shapely.LineString(list(scene.frame.outline.flattened(_CHORD)))

    def swept(s: float) -> BaseGeometry:
        return shapely.union_all(_tracks(scene.frame, moved_on(scene.steps, i, s)[i : last + 1]))

    def ridge(s: float) -> float:
        _, height, _ = left_standing(scene.frame, shapely.difference(standing, swept(s)))
        return float(height.max(initial=0.0))

    def depth(s: float) -> float:
        return _depth(shapely.intersection(swept(s), part), line)

    standing = shapely.union(rest, open_)
    below = sampled(_each(depth), PLACES, WITHIN, SHARE)
    until = next((s for s, deep in below if deep > HARMLESS), FARTHEST_ON)
    places = [s for s in PLACES if s < until] + [until]
    return GoingOn(i + 1, sampled(_each(ridge), places, WITHIN, SHARE), below)


def _each(of: Callable[[float], float]) -> Callable[[Floats], Floats]:
    return lambda at: np.array([of(s) for s in at.tolist()])


def _depth(inside: BaseGeometry, line: BaseGeometry) -> float:
    points = shapely.get_coordinates(shapely.segmentize(inside, 0.03))
    return float(np.max(shapely.distance(shapely.points(points), line), initial=0.0)) if len(points) else 0.0
