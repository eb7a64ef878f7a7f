"""The sweep: every move of a plan taken over the metal, so that nothing is shown that was not swept.

A convex tool along a straight move sweeps the convex hull of itself at both ends. What it takes is the part of that in
the metal that still stands; outside, what it takes beyond the axis is gone on this side too, for the work turns.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats, Ints
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Point
from ovolo.plan.steps import Step
from ovolo.plan.sweep.bite import Way, engaged, extents
from ovolo.plan.sweep.stock_strips import Chips, History, Tiles
from ovolo.plan.sweep.swept_hulls import Geometries, Tracks
from ovolo.plan.view.frame import BAR, Frame
from ovolo.shop.limits import limit_of, thickest
from ovolo.shop.shop import Shop
from ovolo.shop.tools import Tool

#: Chordal error of the flattened outline, mm.
OUTLINE_CHORD = 2e-5
#: Area under which a move counts as taking nothing, mm².
NOTHING = 1e-5
#: A body enters metal when it takes more than this, mm².
FOULS = 1e-3


@dataclass(frozen=True)
class Swept:
    """What one move took: area, mm²; its bite, mm, the extent of the chip across its feed or, where that is over what
    the move may take, the widest that the edge takes at once; whether it is anywhere thicker than a chip may be; and
    whether a part of the tool that does not cut enters metal."""

    area: float
    bite: float
    thick: bool
    fouls: bool = False


@dataclass(frozen=True)
class Record:
    """How the metal went, move by move: `track` is the number of each move's cutting track."""

    history: History
    chips: Chips
    track: Ints

    def after(self, n: int) -> BaseGeometry:
        """The metal after so many moves; 0 for the blank."""
        return self.history.after(int(self.track[n - 1]) if n else -1)

    def chip(self, n: int) -> BaseGeometry:
        """What the n-th move took, counted from 1."""
        whole: BaseGeometry = self.chips.whole(self.track[n - 1 : n])[0]
        return whole


def _no_record() -> Record:
    """That of no moves at all."""
    none, no_pieces = np.empty(0, dtype=np.int64), np.empty(0, dtype=object)
    return Record(History(no_pieces, none, none, no_pieces), Chips(no_pieces, none, np.empty(0)), none)


@dataclass(frozen=True)
class Sweep:
    """What all moves took, one by one, and the metal that is left (a shapely region, in the planner's frame);
    `record` tells the metal after each of them."""

    moves: tuple[Swept, ...]
    rest: BaseGeometry
    gouge: float
    record: Record = field(default_factory=_no_record, compare=False, repr=False)


@lru_cache(maxsize=64)
def tool_shape(tool: Tool) -> Floats:
    """The tool's cutting outline about its nose centre as points of a convex polygon, (n, 2), mm."""
    return tool.edge.shape()


@lru_cache(maxsize=64)
def body_shapes(tool: Tool) -> tuple[Floats, ...]:
    """The parts of a tool that do not cut, as points of convex polygons about the nose centre, mm."""
    return tuple(body.shape() for body in tool.bodies)


def part_region(frame: Frame) -> shapely.Polygon:
    """The finished part in the half-section."""
    return _region_under(frame.outline, frame.base)


@lru_cache(maxsize=16)
def _region_under(outline: Outline, base: float) -> shapely.Polygon:
    """What lies between an outline and a level."""
    ring = [(outline.start.x, base), *outline.flattened(OUTLINE_CHORD), (outline.end.x, base)]
    return shapely.make_valid(shapely.Polygon(ring)).buffer(0)


def bar_region(frame: Frame) -> shapely.Polygon:
    """The bar behind the part."""
    return shapely.box(frame.back - BAR, frame.base, frame.back, frame.bar_top)


def centre_region(frame: Frame) -> shapely.Polygon:
    """The centre and the nub that it leaves; empty where there is none."""
    if frame.centre is None:
        return shapely.Polygon()
    border = frame.centre.border
    return shapely.Polygon([(border[0].x, 0.0), *border, (border[-1].x, 0.0)])


def _kept(frame: Frame) -> shapely.Geometry:
    """All that must not be cut."""
    return shapely.union_all([part_region(frame), bar_region(frame), centre_region(frame)])


def blank_region(frame: Frame) -> BaseGeometry:
    """The piece before anything is cut, in front of the bar."""
    if frame.shaped is None:
        return shapely.box(frame.back, frame.base, frame.front, frame.top)
    x, y = frame.shaped
    ring = [(x[0], frame.base), *zip(x, y, strict=True), (x[-1], frame.base)]
    whole = shapely.buffer(shapely.Polygon(ring), 0)
    behind = shapely.box(frame.back, frame.base, max(float(x[0]), frame.back), frame.bar_top)
    return shapely.union(shapely.clip_by_rect(whole, frame.back, frame.base, frame.front, frame.top), behind)


def sweep(frame: Frame, steps: Sequence[Step]) -> Sweep:
    """Take every move over the metal, in order."""
    tiles = Tiles(blank_region(frame), _kept(frame), max((s.tool.nose_radius for s in steps), default=1.0))
    tracks, step_of, is_body = _tracks(frame, steps)
    chips, kept = tiles.take(tracks, is_body), tiles.kept(tracks)
    fouls = np.zeros(len(steps), dtype=bool)
    fouls[step_of[is_body & (np.maximum(chips.area, kept.area) > FOULS)]] = True
    area, rows = chips.area[~is_body], np.flatnonzero(~is_body)
    cuts = area > NOTHING
    bite, thick = np.zeros(len(steps)), np.zeros(len(steps), dtype=bool)
    across = [s.slide == "cross" for s in steps]
    bite[cuts] = extents(_levelled(steps, cuts, chips.whole(rows[cuts])), np.array(across)[cuts])
    limits = limits_of(frame.job.shop, steps)
    over = np.flatnonzero(bite > limits.thickest)
    thick[over] = ~shapely.is_empty(shapely.buffer(chips.whole(rows[over]), -limits.thickest[over] / 2))
    wide = np.flatnonzero(bite > limits.widest)
    bite[wide] = _engaged(steps, wide, chips.whole(rows[wide]))
    moves = zip(area.tolist(), bite.tolist(), thick.tolist(), fouls.tolist(), strict=True)
    record = Record(tiles.history(), chips, np.flatnonzero(~is_body))
    return Sweep(tuple(Swept(*m) for m in moves), tiles.rest(), tiles.depth(kept.pieces[~is_body[kept.of]]), record)


def _tracks(frame: Frame, steps: Sequence[Step]) -> tuple[Tracks, Ints, NDArray[np.bool_]]:
    """The tracks of every move, those of the parts that do not cut right after it; the number of the move for each, and
    whether it is of such a part."""
    rows = [(n, shape, i > 0) for n, s in enumerate(steps) for i, shape in enumerate(_shapes(s.tool))]
    moves = [(steps[n].start, steps[n].end) for n, _, _ in rows]
    tracks = Tracks([shape for _, shape, _ in rows], moves, mirrored=frame.sign > 0)
    return tracks, np.array([n for n, _, _ in rows], dtype=np.int64), np.array([b for _, _, b in rows], dtype=bool)


def _shapes(tool: Tool) -> tuple[Floats, ...]:
    return (tool_shape(tool), *body_shapes(tool))


def _levelled(steps: Sequence[Step], cuts: NDArray[np.bool_], chips: Geometries) -> Geometries:
    """The chips, those of moves at an angle turned so that their feed lies along the axis."""
    for i, n in enumerate(np.flatnonzero(cuts).tolist()):
        (x0, y0), (x1, y1) = steps[n].start, steps[n].end
        if x0 != x1 and y0 != y1:
            chips[i] = affinity.rotate(chips[i], -math.atan((y1 - y0) / (x1 - x0)), origin=(0, 0), use_radians=True)
    return chips


def _engaged(steps: Sequence[Step], which: Ints, chips: Geometries) -> list[float]:
    """The widest that each of some moves takes at once; of a cut along a cone the extent of all of it."""
    out = []
    for n, chip in zip(which.tolist(), chips, strict=True):
        (x0, y0), (x1, y1) = steps[n].start, steps[n].end
        way = Way(tool_shape(steps[n].tool), steps[n].start, steps[n].end)
        if x0 != x1 and y0 != y1:
            out.append(float(extents(_levelled(steps, _only(n, len(steps)), np.array([chip])), np.array([False]))[0]))
            continue
        out.append(engaged(way, chip, along_axis=steps[n].slide == "cross"))
    return out


def _only(n: int, many: int) -> NDArray[np.bool_]:
    which = np.zeros(many, dtype=bool)
    which[n] = True
    return which


class Limits(NamedTuple):
    """The widest cut that each move may take, and the thickest chip, mm, a little more than that for rounding."""

    widest: Floats
    thickest: Floats


def limits_of(shop: Shop, steps: Sequence[Step]) -> Limits:
    """What binds each move; where nothing is roughed finishing is bound as roughing is."""
    roughs = any(s.stage == "rough" for s in steps)
    widest = [limit_of(shop, s.tool, s.slide, rough=s.stage == "rough" or not roughs).widest for s in steps]
    thick = [thickest(shop, s.tool, s.slide) * 1.01 for s in steps]
    return Limits(np.array(widest) * 1.02 + 0.01, np.array(thick))


def surface(frame: Frame, rest: shapely.Geometry) -> list[Point]:
    """The border of what is left from the free end toward the chuck, in the planner's frame."""
    parts = [g for g in shapely.get_parts(rest) if g.geom_type == "Polygon"]
    body = max(parts, key=lambda g: g.area)
    ring = np.asarray(shapely.get_coordinates(body.exterior))[:-1]
    on_base = np.abs(ring[:, 1] - frame.base) < 1e-7
    return _from_free_end(ring, on_base, frame.back)


def _from_free_end(ring: Floats, on_base: np.ndarray, back: float) -> list[Point]:
    front = int(np.argmax(np.where(on_base, ring[:, 0], -np.inf)))
    rear = int(np.argmin(np.where(on_base, ring[:, 0], np.inf)))
    n = len(ring)
    one = [ring[(front + i) % n] for i in range((rear - front) % n + 1)]
    other = [ring[(front - i) % n] for i in range((front - rear) % n + 1)]
    path = one if len(one) >= len(other) else other
    return [Point(float(x), float(y)) for x, y in path]
