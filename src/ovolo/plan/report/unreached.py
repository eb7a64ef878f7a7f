"""What no tool of the drawer reaches, once a job was refused for it: where, how much stays there, and why.

Nothing of this is needed to make a plan; it is worked out again from the job when somebody wants to see the refusal.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from typing import Literal, NamedTuple

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.segments import Point, Segment
from ovolo.plan.job import Job
from ovolo.plan.report.advice import FINER, TOLD
from ovolo.plan.stations.choose_tools import Stretch, missed_by_all, reaches_of
from ovolo.plan.sweep.sweep import bar_region, blank_region, body_shapes, centre_region, part_region, tool_shape
from ovolo.plan.view.frame import Frame
from ovolo.plan.view.undercut_frame import side_tool, side_views
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool
from ovolo.tolerances import SAME_PLACE

#: Places of a stretch that are looked at.
PLACES = 33
#: Nose centres on a contact line that are looked at first; then again as many about the best of them.
STANDS = 400
#: A contact line may be off by so much, mm.
SMOOTH = 1e-3
#: What comes nearer than this touches, mm.
TOUCHING = 0.01
#: Metal thinner than twice this is rounding, mm.
SLIVER = 0.004


class Touch(NamedTuple):
    """A place (z, r), mm, at which a part of a tool meets with metal or the centre."""

    at: Point
    by: Literal["nose", "edge", "shank", "boring bar"]


@dataclass(frozen=True)
class Unreached:
    """A stretch of the curve that every tool of the drawer misses; points are (z, r), lengths mm.

    `pieces` is the stretch itself, from the free end; `metal` the region of (z, r) that stays on it. `tool` is the one
    that gets nearest, and at most `short` of it; `nose` its nose centre as near as it gets to `place`, where it is so
    far off; `touches` what it meets with there.
    """

    pieces: tuple[Segment, ...]
    metal: BaseGeometry
    tool: Tool
    nose: Point
    place: Point
    short: float
    touches: tuple[Touch, ...]

    @property
    def begin(self) -> Point:
        """Its end on the free side."""
        return self.pieces[0].start

    @property
    def end(self) -> Point:
        """Its end toward the chuck."""
        return self.pieces[-1].end

    @property
    def length(self) -> float:
        """How long it is along the outline, mm."""
        return sum(piece.length for piece in self.pieces)


class _Stand(NamedTuple):
    """A tool as near to a place as it gets: its nose centre and the place in the planner's frame, how far off, mm."""

    tool: Tool
    nose: Floats
    place: Floats
    gap: float


def unreached(job: Job, *, ridge: float | None = None, tool: str | None = None) -> tuple[Unreached, ...]:
    """The stretches that no tool reaches, from the free end; none where tools are not what stands in the way.

    `ridge` (mm) and `tool` (its name) stand in for those of the job, as in `make_plan`.
    """
    height = job.part.ridge if ridge is None else ridge
    tools = [t for t in job.shop.tools if tool in (None, t.name)]
    frame = Frame(job)
    gaps = _gaps(Frame(_finer(job)), tools, height) if _gaps(frame, tools, height) else []
    lines = {t: _contact_lines(frame, t) for t in tools} if gaps else {}
    if not lines:
        return ()
    left = _left_by_all(frame, lines)
    return tuple(_stretch(frame, gap, lines, left) for gap in gaps)


def _gaps(frame: Frame, tools: Sequence[Tool], ridge: float) -> list[Stretch]:
    missed = missed_by_all(frame, reaches_of(frame, tools, ridge))
    return [(a, b) for a, b in missed if b - a > TOLD] or missed


def _finer(job: Job) -> Job:
    """The job with slides that could be set much finer: what is missed then, no count of a slide is to blame for."""

    def fine(slide: Slide) -> Slide:
        return replace(slide, count=slide.count / FINER)

    shop = job.shop
    top = None if shop.top is None else fine(shop.top)
    return replace(job, shop=replace(shop, cross=fine(shop.cross), saddle=fine(shop.saddle), top=top))


def _stretch(frame: Frame, gap: Stretch, lines: dict[Tool, list[Floats]], left: BaseGeometry) -> Unreached:
    joints = frame.chain.starts
    u = np.union1d(np.linspace(*gap, PLACES), joints[(joints > gap[0]) & (joints < gap[1])])
    places = np.column_stack(frame.chain.points(u))
    stand = min((_nearest(tool, found, places) for tool, found in lines.items()), key=lambda s: round(s.gap, 4))
    outline = frame.job.part.outline
    start, end = (_along(frame.chain, at) for at in gap)
    return Unreached(
        pieces=outline.stretch(start, end),
        metal=_turned(frame, _beside(left, places)),
        tool=stand.tool,
        nose=frame.place(*map(float, stand.nose)),
        place=frame.place(*map(float, stand.place)),
        short=stand.gap,
        touches=tuple(_touches(frame, stand)),
    )


def _turned(frame: Frame, region: BaseGeometry) -> BaseGeometry:
    return region if frame.sign > 0 else affinity.scale(region, 1, -1, origin=(0, 0))


def _along(chain: Chain, u: float) -> float:
    """A place of the chain as a length along the segments: turning at a corner takes none."""
    k, t = chain.locate(np.array([u]))
    real = np.where(chain.is_arc, chain.radius * chain.sweep, chain.size)
    piece = int(k[0])
    return float(real[:piece].sum() + t[0] * (real[piece] / chain.size[piece]))


# ---- where a tool may stand


def _contact_lines(frame: Frame, tool: Tool) -> list[Floats]:
    """The lowest nose centres of a tool in the planner's frame, (n, 2): from above, and in each bay that it enters."""
    line = frame.contact_line(tool)
    above = np.column_stack([line.x, np.maximum(line.height, frame.deepest(tool))])
    return [_thinned(above), *_in_bays(frame, tool)]


def _in_bays(frame: Frame, tool: Tool) -> Iterator[Floats]:
    for view in side_views(frame):
        turned = side_tool(tool, view.bay.way)
        mouth = None if turned is None else view.mouth(turned)
        if turned is None or mouth is None:
            continue
        line, way = view.contact_line(turned), view.bay.way
        height = np.maximum(line.height, view.deepest(turned))
        free = (-way * line.x >= mouth.lowest - SAME_PLACE) & (height <= way * mouth.x + SAME_PLACE)
        points = np.column_stack([way * height, -way * line.x])
        runs = np.split(np.arange(len(free)), np.flatnonzero(np.diff(free)) + 1)
        yield from (_thinned(points[run]) for run in runs if free[run[0]] and len(run) > 1)


def _thinned(points: Floats) -> Floats:
    return shapely.get_coordinates(shapely.simplify(shapely.linestrings(points), SMOOTH))


# ---- what stays


def _left_by_all(frame: Frame, lines: dict[Tool, list[Floats]]) -> BaseGeometry:
    """The metal over the part that none of the tools can take."""
    blank = shapely.difference(blank_region(frame), part_region(frame))
    taken = (shapely.union_all([_swept(tool, line) for line in found]) for tool, found in lines.items())
    left = reduce(shapely.difference, taken, blank)
    return shapely.buffer(shapely.buffer(left, -SLIVER), SLIVER)


def _swept(tool: Tool, line: Floats) -> BaseGeometry:
    shape = tool_shape(tool)
    pairs = np.concatenate([shape[None] + line[:-1, None], shape[None] + line[1:, None]], axis=1)
    return shapely.union_all(shapely.convex_hull(shapely.multipoints([shapely.points(pair) for pair in pairs])))


def _beside(left: BaseGeometry, places: Floats) -> BaseGeometry:
    """The pieces of what stays that lie on a stretch."""
    near = shapely.buffer(shapely.linestrings(places), 4 * SLIVER)
    return shapely.union_all([piece for piece in shapely.get_parts(left) if piece.intersects(near)])


# ---- the tool that gets nearest


def _nearest(tool: Tool, lines: Sequence[Floats], places: Floats) -> _Stand:
    """A tool where it gets least near to a stretch, as near as it gets to that place."""
    shape = shapely.polygons(tool_shape(tool))
    stands = np.concatenate([_spaced(line, STANDS) for line in lines])
    far = shapely.distance(shape, shapely.points(places[:, None] - stands[None]))
    worst = int(np.argmax(far.min(axis=1)))
    first, place = stands[int(np.argmin(far[worst]))], places[worst]
    step = max(float(shapely.length(shapely.linestrings(line))) for line in lines) / STANDS
    about = shapely.box(*(first - 2 * step), *(first + 2 * step))
    closer = [shapely.intersection(shapely.linestrings(line), about) for line in lines]
    parts = [shapely.get_coordinates(p) for p in shapely.get_parts(closer) if isinstance(p, shapely.LineString)]
    parts = [part for part in parts if len(part) > 1]
    stands = np.concatenate([first[None], *(_spaced(part, STANDS) for part in parts)])
    far = shapely.distance(shape, shapely.points(place - stands))
    best = int(np.argmin(far))
    return _Stand(tool, stands[best], place, float(far[best]))


def _spaced(line: Floats, many: int) -> Floats:
    """Points of a line, evenly spaced, and all of its corners between them."""
    string = shapely.linestrings(line)
    return shapely.get_coordinates(shapely.segmentize(string, max(float(shapely.length(string)) / many, 1e-6)))


def _touches(frame: Frame, stand: _Stand) -> Iterator[Touch]:
    """Where the tool meets the part or the tailstock's centre, and its shank or bar what stands before a cut."""
    tool, part = stand.tool, shapely.union_all([part_region(frame), bar_region(frame), centre_region(frame)])
    for x, y in _meeting(shapely.Polygon(tool_shape(tool) + stand.nose), part):
        by_nose = np.hypot(*(stand.nose - (x, y))) <= tool.nose_radius + TOUCHING
        yield Touch(frame.place(x, y), "nose" if by_nose else "edge")
    # The planner keeps a shank off the blank, and a boring bar off the part alone.
    metal = part if tool.stands_out is not None else shapely.union(part, blank_region(frame))
    for body in body_shapes(tool):
        for x, y in _meeting(shapely.Polygon(body + stand.nose), metal):
            yield Touch(frame.place(x, y), "shank" if tool.stands_out is None else "boring bar")


def _meeting(shape: BaseGeometry, metal: BaseGeometry) -> Iterator[tuple[float, float]]:
    """The middle of every stretch along which a shape lies against metal."""
    near = shapely.intersection(shapely.buffer(shape, TOUCHING), metal)
    for part in shapely.get_parts(near):
        if not part.is_empty:
            at = metal.boundary.interpolate(metal.boundary.project(part.centroid))
            yield at.x, at.y
