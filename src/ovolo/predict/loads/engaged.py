"""How much of the edge is in the metal, move by move, and what the bar looks like just then.

The moves of a plan are taken again over the height of the metal that stands. Along each cutting move the edge is
looked at where it leads: the pieces of it that lie in metal say how wide the chip is, which way it pushes and how large
the work is there. What lies under an overhang no height shows: cuts in there are looked at in the half-section itself
(`under_overhangs`). Lengths in mm. Limits: heights stand at close places along the axis (0.01 mm, more on a part over
40 mm), a chip thinner than 2 µm is not seen, and what a tool takes past the axis is seen on this side only.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from ovolo.cutting.bending import Section
from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.plan.sweep.height_field import nearest_to_lowest, under_way
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.plan.toolpath.taper_passes import is_slant
from ovolo.plan.view.frame import Frame
from ovolo.predict.loads.under_overhangs import inside, roof_of
from ovolo.shop.tools import EDGE_LENGTH, Tool

__all__ = ["Engaged", "engaged"]

_PITCH, _MOST_PLACES = 0.01, 4000
"""Spacing of the heights, mm, unless the part is so long that it would take more places than this."""

_NOTHING, _ALIKE = 0.01, 0.1
"""Heights show what a cut takes where they are off by less than this, mm^2, and a share of it."""

_SEEN = 0.002
"""Metal less than this above the edge is not seen, mm."""

_PIECE = 0.02
"""The straight edges are looked at in pieces of this length, mm."""

_POSITIONS = 40
"""At this many positions of a move the edge is looked at, once to find the cut and once within it."""

_SECTIONS = 24
"""The bar is described by this many cones."""

_THINNEST_BAR = 0.5
"""No diameter of the bar is taken for less, mm: the tip of a dome is carried by what stands behind it."""

_ORDER = 0.25
"""The heaviest position has the greatest width^0.25 across^0.75: so Kienzle's force has it for most metals."""


_TO_THE_END = (0.8, 0.4, 0.2, 0.12, 0.08, 0.051)
"""A move often ends against a shoulder: it is looked at so near to its end too, mm."""

_LAST = 0.05
"""In the last half turn of the work a cut is no full chip any more, however long the edge that just arrives, mm."""


class Engaged(NamedTuple):
    """The edge of one cutting move, where the cut is heaviest.

    edge:     length of the edge in the metal at once [mm]. across: extent of it across the feed [mm].
    radial:   share of the push square to the edge that is square to the axis [-].
    place:    middle of the edge in the metal, (z, r) [mm].
    diameter: the largest that the move cuts [mm]. length: how far the slide goes while it cuts [mm].
    area:     metal taken as seen here [mm^2], for comparison with the exact sweep.
    bar:      the bar from the jaws on, as it stands at the start of the move; empty where the stick-out isn't known.
    at:       place of the cut along the bar, from the jaws [mm].
    """

    n: int
    edge: float
    across: float
    radial: float
    place: Point
    diameter: float
    length: float
    area: float
    bar: tuple[Section, ...]
    at: float


@lru_cache(maxsize=4)
def engaged(plan: Plan) -> tuple[Engaged, ...]:
    """The cutting moves of a plan, each with its edge in the metal; a move that takes too little is left out.

    Kept for the last few plans: loads, time and power feed all need it.
    """
    frame = plan.frame
    tools = {tool.name: tool for tool in plan.job.shop.tools}
    edges = {tool.name: _Edge.of(tool, 2 * plan.job.shop.stock.widest) for tool in plan.tools}
    metal = _Standing(frame, _lowest(frame, plan, list(tools.values())))
    found = []
    for n, move in enumerate(plan.moves, 1):
        way, tool = _Way.of(frame, move), tools[move.tool]
        before, taken = metal.height.copy(), metal.take(tool, way)
        seen = None
        if move.cuts and metal.roof is not None:
            seen = _seen_under(plan, n, edges[move.tool], way, tool, float(taken.sum()) * metal.pitch)
        if seen is None and move.cuts and taken.any():
            near = _near(way, metal, before, taken, tool)
            seen = _look(frame, _of_heights(metal, before), float(before.max()), edges[move.tool], near)
        if seen is not None:
            found.append(_engaged(frame, metal, before, move, seen))
    return tuple(found)


def _seen_under(plan: Plan, n: int, edge: "_Edge", way: "_Way", tool: Tool, area: float) -> "_Seen | None":
    """The edge of move `n`, which takes `area` as heights show it; None where that is so."""
    chip = plan.swept.chip_in_frame(n)
    if chip.area < _NOTHING or abs(chip.area - area) < _NOTHING + _ALIKE * chip.area:
        return None
    before = plan.swept.after_in_frame(n - 1)
    left, low, right, high = chip.bounds
    spare = 2 * tool.nose_radius + tool.edge.toward_end
    near = way.within(Point(left - spare, low - spare), Point(right + spare, high + spare))

    def part_inside(lead: _Edge, x: Floats, y: Floats) -> Floats:
        return inside(before, x, y)

    return _look(plan.frame, part_inside, before.bounds[3], edge, near)


def _lowest(frame: Frame, plan: Plan, tools: Sequence[Tool]) -> float:
    """The place nearest to the chuck that any edge comes to, x."""
    tall = max(frame.bar_top, frame.top) - frame.base
    lean = min(math.tan(min(math.pi - tool.edge.directions[0], math.pi / 2)) for tool in tools)
    wide = max(tool.extent for tool in tools)
    return min([frame.back, *(move.end.x for move in plan.moves)]) - 2 * wide - 1.0 - min(tall / lean, EDGE_LENGTH)


class _Way(NamedTuple):
    """A straight move in the planner's frame."""

    start: Point
    end: Point

    @classmethod
    def of(cls, frame: Frame, move: Move) -> "_Way":
        return cls(Point(move.start.x, frame.sign * move.start.y), Point(move.end.x, frame.sign * move.end.y))

    def within(self, low: Point, high: Point) -> "_Way":
        """Its ends, brought into a rectangle."""
        ends = (Point(*(min(max(p, a), b) for p, a, b in zip(end, low, high, strict=True))) for end in self)
        return _Way(*ends)

    @property
    def feed(self) -> Point:
        size = math.dist(self.start, self.end) or 1.0
        return Point((self.end.x - self.start.x) / size, (self.end.y - self.start.y) / size)


@dataclass(frozen=True)
class _Edge:
    """Pieces of a tool's cutting outline about its nose centre, walked with the tool on the left: middle and extent."""

    x: Floats
    y: Floats
    dx: Floats
    dy: Floats

    @classmethod
    def of(cls, tool: Tool, tall: float) -> "_Edge":
        ring = tool_shape(tool)
        ring = np.vstack([ring, ring[:1]])
        turn = float((ring[:-1, 0] * ring[1:, 1] - ring[1:, 0] * ring[:-1, 1]).sum())
        ring = ring if turn > 0 else ring[::-1]
        many = [max(1, math.ceil(math.dist(one, other) / _PIECE)) for one, other in pairwise(ring)]
        pieces = [
            one + (other - one) * np.arange(1, k + 1)[:, None] / k
            for (one, other), k in zip(pairwise(ring), many, strict=True)
        ]
        line = np.vstack([ring[:1], *pieces])
        middle, step = (line[:-1] + line[1:]) / 2, np.diff(line, axis=0)
        low = middle[:, 1] < tall
        return cls(middle[low, 0], middle[low, 1], step[low, 0], step[low, 1])

    def leading(self, feed: Point, below: float) -> "_Edge":
        """The pieces that face the feed, up to a height over the nose centre."""
        on = (self.dy * feed.x - self.dx * feed.y > 1e-9) & (self.y < below)
        return _Edge(self.x[on], self.y[on], self.dx[on], self.dy[on])


class _Standing:
    """Height of the metal at close places along the axis, in the planner's frame."""

    def __init__(self, frame: Frame, low: float) -> None:
        high = max(frame.front, frame.front_of_part) + 0.5
        self.x = np.linspace(low, high, min(_MOST_PLACES, math.ceil((high - low) / _PITCH)))
        self.pitch = float(self.x[1] - self.x[0])
        self.nothing = frame.base - 10.0
        self.height = frame.blank_top(self.x)
        self.roof = roof_of(frame, self.x, self.nothing)

    def take(self, tool: Tool, way: _Way) -> Floats:
        """Make a move; what it takes at each place, mm."""
        low, high = min(way.start.x, way.end.x), max(way.start.x, way.end.x)
        if is_slant(*way):
            under = under_way(tool, self.x, *way)
        else:
            under = tool.edge.over(nearest_to_lowest(tool, self.x - high, self.x - low))
            under = under + min(way.start.y, way.end.y)
        after = np.minimum(self.height, under)
        after = np.maximum(after, self.nothing)
        if self.roof is not None:  # a tool under a lip takes nothing of the lip
            after = np.maximum(after, np.minimum(self.roof, self.height))
        taken = self.height - after
        self.height = after
        return np.asarray(np.where(taken > _SEEN, taken, 0.0))


class _Seen(NamedTuple):
    """The edge at the heaviest position, and the whole of the cut."""

    edge: float
    across: float
    radial: float
    x: float
    y: float
    outermost: float
    length: float
    area: float


def _near(way: _Way, metal: _Standing, before: Floats, taken: Floats, tool: Tool) -> _Way:
    """The part of a move on which it can be cutting."""
    at = np.flatnonzero(taken)
    spare = 2 * tool.nose_radius + tool.edge.toward_end
    low = Point(metal.x[at[0]] - spare, -math.inf)
    high = Point(metal.x[at[-1]] + spare, float(before[at].max()) + spare)
    return way.within(low, high)


PartInside = Callable[[_Edge, Floats, Floats], Floats]
"""How much of each piece of an edge lies in metal, 0 to 1: pieces, and where their middles are (positions, pieces)."""


def _look(frame: Frame, part_inside: PartInside, top: float, edge: _Edge, way: _Way) -> _Seen | None:
    """Look at the edge along a move, the second time only where it cuts; no metal stands higher than `top`."""
    lead = edge.leading(way.feed, top - min(way.start.y, way.end.y))
    share = np.linspace(0.0, 1.0, _POSITIONS)
    on = np.flatnonzero(_inside(frame, part_inside, lead, way, share).any(axis=1))
    if not len(on):
        return None
    first, last = share[max(on[0] - 1, 0)], share[min(on[-1] + 1, _POSITIONS - 1)]
    near = 1.0 - np.array(_TO_THE_END) / max(math.dist(way.start, way.end), _LAST)
    share = np.union1d(np.linspace(first, last, _POSITIONS), near[(near > first) & (near < last)])
    cutting = _inside(frame, part_inside, lead, way, share)
    return _heaviest(frame, lead, way, share, cutting) if cutting.any() else None


def _inside(frame: Frame, part_inside: PartInside, lead: _Edge, way: _Way, share: Floats) -> Floats:
    """How much of each piece of the edge lies in metal, 0 to 1, at each position."""
    x = way.start.x + share[:, None] * (way.end.x - way.start.x) + lead.x[None, :]
    y = way.start.y + share[:, None] * (way.end.y - way.start.y) + lead.y[None, :]
    return np.asarray(np.where(y > frame.base, part_inside(lead, x, y), 0.0))


def _of_heights(metal: _Standing, before: Floats) -> PartInside:
    """The same of metal whose height is known along the axis."""

    def part_inside(lead: _Edge, x: Floats, y: Floats) -> Floats:
        deep = np.interp(x, metal.x, before, right=metal.nothing) - _SEEN - y
        return np.asarray(np.clip(0.5 + deep / np.maximum(np.abs(lead.dy), _SEEN), 0.0, 1.0))

    return part_inside


def _heaviest(frame: Frame, lead: _Edge, way: _Way, share: Floats, inside: Floats) -> _Seen:
    feed = way.feed
    size = np.hypot(lead.dx, lead.dy)
    length, across = inside @ size, np.abs(inside @ (lead.dy * feed.x - lead.dx * feed.y))
    full = math.dist(way.start, way.end) * (1 - share) >= _LAST
    heavy = length**_ORDER * across ** (1 - _ORDER)
    i = int(np.argmax(np.where(full, heavy, 0.0) if (heavy * full).any() else heavy))
    weight = inside[i] * size
    centre = Point(*(a + share[i] * (b - a) for a, b in zip(way.start, way.end, strict=True)))
    ys = way.start.y + share[:, None] * (way.end.y - way.start.y) + lead.y[None, :]
    outermost = min(float(np.abs(ys[inside > 0]).max()), frame.job.shop.stock.widest)
    return _Seen(
        float(length[i]),
        float(across[i]),
        float(abs(inside[i] @ lead.dx) / length[i]),
        float(centre.x + weight @ lead.x / length[i]),
        float(centre.y + weight @ lead.y / length[i]),
        outermost,
        float(np.trapezoid(inside.any(axis=1).astype(float), share) * math.dist(way.start, way.end)),
        float(np.trapezoid(across, share) * math.dist(way.start, way.end)),
    )


def _engaged(frame: Frame, metal: _Standing, before: Floats, move: Move, seen: _Seen) -> Engaged:
    stick_out = frame.job.shop.stock.stick_out
    bar, at = ((), 0.0) if stick_out is None else _bar(frame, metal, before, seen.x, stick_out)
    place = frame.place(seen.x, seen.y)
    return Engaged(
        move.n, seen.edge, seen.across, seen.radial, place, 2 * seen.outermost, seen.length, seen.area, bar, at
    )


def _bar(
    frame: Frame, metal: _Standing, before: Floats, x: float, stick_out: float
) -> tuple[tuple[Section, ...], float]:
    """The bar from the jaws to its free end, cut where the force stands, and that place from the jaws."""
    standing = metal.x[before > frame.base + _SEEN]
    end = max(float(standing[-1]), x) if len(standing) else x
    at = float(max(x + stick_out, _SEEN))
    half = _SECTIONS // 2
    places = [*np.linspace(0.0, at, half + 1), *np.linspace(at, end + stick_out, half + 1)[1:]]
    return tuple(_cones(frame, metal, before, places, stick_out)), at


def _cones(frame: Frame, metal: _Standing, before: Floats, places: Sequence[float], stick_out: float) -> list[Section]:
    height = np.interp(np.array(places) - stick_out, metal.x, before, left=frame.bar_top)
    stock = frame.job.shop.stock
    outside = frame.sign > 0
    sizes = np.maximum(2 * height, _THINNEST_BAR + stock.hole) if outside else np.full(len(places), 2 * stock.radius)
    holes = np.full(len(places), stock.hole) if outside else np.clip(-2 * height, 0.0, 1.98 * stock.radius)
    return [
        Section(
            float(places[k + 1] - places[k]), float(sizes[k]), float(sizes[k + 1]), float(max(holes[k], holes[k + 1]))
        )
        for k in range(len(places) - 1)
        if places[k + 1] - places[k] > 1e-6
    ]
