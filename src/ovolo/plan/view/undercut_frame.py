"""A bay seen from its mouth: turned so that the way in which it is open points up, it is planned like any outline.

The nose comes down from above into the mouth, a place beside the lip, and works from there along the axis. So the
mouth stands for what the air above is elsewhere: it is where moves begin, and nothing beyond it matters but the lowest
place that the nose can come down to.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.plan.job import Job
from ovolo.plan.steps import slack_of
from ovolo.plan.view.contact_line import ContactLine
from ovolo.plan.view.frame import BAR, FINE, Frame
from ovolo.plan.view.lattice import Lattice
from ovolo.plan.view.undercuts import Bay, Way, bays
from ovolo.shop.edges import Edge
from ovolo.shop.tools import Tool
from ovolo.tolerances import SAME_PLACE

#: How far the metal below a mouth is taken to reach, mm.
BELOW = 50.0
#: Clearance of a nose in front of the work, mm.
CLEAR = 1.0


class Mouth(NamedTuple):
    """Where a nose comes down from above beside a lip: its place along the axis, its lowest height there, and how much
    farther out it may stand so low, mm."""

    x: float
    lowest: float
    room: float


@dataclass(frozen=True)
class SideTool(Tool):
    """A tool as it is seen from a bay; `turned` is its edge there, `real` the tool itself."""

    turned: Edge = field(kw_only=True)
    real: Tool = field(kw_only=True)

    @cached_property
    def edge(self) -> Edge:
        """Its edge in the turned frame."""
        return self.turned


def side_tool(tool: Tool, way: Way) -> SideTool | None:
    """A tool turned to work in a bay; None where its edge can't."""
    turned = tool.edge.turned(way)
    if turned is None:
        return None
    return SideTool(**vars(replace(tool, stem=None, shank=None, stands_out=None)), turned=turned, real=tool)


@dataclass(frozen=True)
class SideView:
    """A bay in its own frame: a `View`. The same places along the outline as in `whole`, the frame that it lies in."""

    whole: Frame
    bay: Bay

    # ---- the turn
    def turned(self, p: Point) -> Point:
        """A place of the whole frame in this one."""
        return Point(-self.bay.way * p.y, self.bay.way * p.x)

    def back_from(self, p: Point) -> Point:
        """A place of this frame in the whole one."""
        return Point(self.bay.way * p.y, -self.bay.way * p.x)

    def _segment(self, segment: Segment) -> Segment:
        start, end = self.turned(segment.start), self.turned(segment.end)
        return (
            Line(start, end) if isinstance(segment, Line) else Arc(start, end, self.turned(segment.centre), segment.ccw)
        )

    # ---- what planning asks of a view
    @property
    def job(self) -> Job:
        """That of the whole frame."""
        return self.whole.job

    @property
    def sign(self) -> int:
        """That of the whole frame."""
        return self.whole.sign

    @cached_property
    def chain(self) -> Chain:
        """The outline, turned."""
        return Chain([self._segment(s) for s in self.whole.outline.segments])

    @property
    def base(self) -> float:
        """There is no end below."""
        return -BELOW - abs(self.whole.back)

    @property
    def front(self) -> float:
        """The far end of the metal along the radius: its surface, or the axis; past it where the bay begins there."""
        return self.whole.top if self.bay.way < 0 or self.on_axis else -self.whole.base

    @property
    def top(self) -> float:
        """The end of the piece on the open side: its front, or far behind where the bar goes on."""
        return self.whole.front if self.bay.way > 0 else BAR - self.whole.back

    @property
    def clear_of(self) -> float:
        """The same: the tailstock's centre is looked at by the sweep alone."""
        return self.top

    @property
    def on_axis(self) -> bool:
        """Whether the bay begins on the axis: a dished end."""
        return self.whole.on_axis and self.bay.begin <= SAME_PLACE

    def this_half(self, x: Floats) -> np.ndarray:
        """Which of these x lie on this side of the axis, where the bay begins on that."""
        return np.asarray(-self.bay.way * x >= -SAME_PLACE) | (not self.on_axis)

    @property
    def stretch(self) -> tuple[float, float]:
        """What is finished, as in the whole frame."""
        return self.whole.stretch

    @cached_property
    def obstacles(self) -> Chain:
        """What is seen of the part from the bay's side, closed below the mouth."""
        return Chain([self._segment(s) for s in self._seen()])

    def _seen(self) -> list[Segment]:
        """The outline from the bay's innermost place outward; the other side of the mouth is not looked at."""
        whole, bay = self.whole, self.bay
        outer: Sequence[Segment]
        if bay.way < 0:
            outer = [*whole.end_face, *whole.outline.stretch(0.0, self._along(bay.end))]
            foot = outer[-1].end
            return [*outer, Line(foot, Point(foot.x, foot.y - BELOW))]
        outer = [*whole.outline.stretch(self._along(bay.begin), whole.outline.length), *whole.bar]
        foot = outer[0].start
        if self.on_axis:  # the other half of the work stands where the nose reaches past the axis
            return [*(s.mirrored().reversed() for s in reversed(outer[: -len(whole.bar)])), *outer]
        return [Line(Point(foot.x, foot.y - BELOW), foot), *outer]

    def _along(self, u: float) -> float:
        """A place `u` of the chain as a length along the outline's segments."""
        k, t = self.whole.chain.locate(np.array([u]))
        chain, piece = self.whole.chain, int(k[0])
        real = np.where(chain.is_arc, chain.radius * chain.sweep, chain.size)
        return float(real[:piece].sum() + t[0] * (real[piece] / chain.size[piece]))

    def deepest(self, tool: Tool) -> float:
        """The least height that a nose centre has any business at."""
        k = np.linspace(self.bay.begin, self.bay.end, 400)
        return float(self.chain.points(k)[1].min())

    def lattice(self, tool: Tool) -> Lattice:
        """The settings of both slides, turned."""
        return self._turned_lattice(self.whole.lattice(real_tool(tool)))

    def coarse_lattice(self, tool: Tool) -> Lattice:
        """The same in roughing."""
        return self._turned_lattice(self.whole.coarse_lattice(real_tool(tool)))

    def round_lattice(self, tool: Tool) -> Lattice:
        """The round figures of both slides, each as it reads them, turned."""
        return self._turned_lattice(self.whole.round_lattice(real_tool(tool)))

    def _turned_lattice(self, flat: Lattice) -> Lattice:
        way = self.bay.way
        return Lattice(-way * flat.y0, flat.dy, way * flat.x0, flat.dx)

    def mouth(self, tool: Tool, spare: float = 0.0) -> Mouth | None:
        """Where this tool comes down beside the lip, as near to it as it gets lowest; None where it doesn't fit."""
        key = (tool, spare)
        if key not in self._mouths:
            self._mouths[key] = self._find_mouth(real_tool(tool), spare)
        return self._mouths[key]

    @cached_property
    def _lines(self) -> dict[tuple[Tool, float], ContactLine]:
        return {}

    @cached_property
    def _mouths(self) -> dict[tuple[Tool, float], Mouth | None]:
        return {}

    def _find_mouth(self, tool: Tool, spare: float) -> Mouth | None:
        lip_x, lip_y = self._lip()
        line, lattice = self.whole.contact_line(tool, spare), self.whole.lattice(tool)
        x, height = line.x[:: line.finer], line.height[:: line.finer]
        height = np.maximum(height, self.whole.deepest(tool))
        out = (x - lip_x) * self.bay.way
        beside = np.flatnonzero((out >= 0) & (out <= self._floor_beyond(lip_x) + tool.nose_radius))
        beside = beside if self.bay.way > 0 else beside[::-1]  # from the lip outward
        x, height = x[beside], height[beside]
        low = height < lip_y + tool.nose_radius - SAME_PLACE
        if not low.any():
            return None
        first = int(np.argmax(low))
        stop = len(low) if low[first:].all() else first + int(np.argmin(low[first:]))
        lowest = float(height[first:stop].min())
        deep = height[first:stop] <= lowest + SAME_PLACE
        room = self._room()
        roomy = deep & _deep_so_far_on(deep, math.ceil(room / lattice.dx - SAME_PLACE))
        place = first + int(np.argmax(roomy if roomy.any() else deep))
        return Mouth(float(x[place]), lattice.y_up(lowest), room if roomy.any() else 0.0)

    def _room(self) -> float:
        """How far the nose is wound past a figure in the mouth so that it can be brought back, mm."""
        shop = self.job.shop
        return max(slack_of(shop, shop.coarse).saddle, slack_of(shop, shop.fine).saddle)

    def _lip(self) -> tuple[float, float]:
        """The place of the overhang that stands farthest out of its bay."""
        u = np.linspace(self.bay.first, self.bay.last, 400)
        x, y = self.whole.chain.points(u)
        at = int(np.argmax(self.bay.way * x))
        return float(x[at]), float(y[at])

    def _floor_beyond(self, lip_x: float) -> float:
        """How far the floor of the bay runs on beyond its lip, mm; no limit where it ends under the lip."""
        foot = self.bay.begin if self.bay.way > 0 else self.bay.end
        x, _ = self.whole.chain.points(np.array([foot]))
        beyond = float(x[0] - lip_x) * self.bay.way
        return beyond if beyond > 0 else math.inf

    def top_for(self, tool: Tool) -> float:
        """The height of the mouth in this frame, from which all moves begin."""
        mouth = self.mouth(tool)
        assert mouth is not None  # a tool that does not fit has no reach and is given no work
        return self.bay.way * mouth.x

    def room_for(self, tool: Tool) -> float:
        """How far over the mouth's height it may be wound."""
        mouth = self.mouth(tool)
        return 0.0 if mouth is None else mouth.room

    def height(self, x: Floats, tool: Tool, spare: float = 0.0) -> Floats:
        """Least height of the nose centre at each x: clear of the bay, and no lower than the mouth lets it come."""
        height = tool.edge.clear_of(self.obstacles, x, spare)
        mouth = self.mouth(tool, spare)
        if mouth is None:
            return np.full_like(x, self.bay.way * self.whole.back + BELOW)
        shut = -self.bay.way * x < mouth.lowest - SAME_PLACE
        return np.where(shut, np.maximum(height, self.bay.way * mouth.x + CLEAR), height)

    def contact_line(self, tool: Tool, spare: float = 0.0) -> ContactLine:
        """The contact line of a tool over the bay and beside it."""
        key = (tool, spare)
        if key not in self._lines:
            x, _ = self.chain.points(np.linspace(self.bay.begin, self.bay.end, 400))
            lattice, margin = self.lattice(tool), 2 * tool.nose_radius + 2.0
            first = lattice.column_at(float(x.min()) - margin, False)
            last = lattice.column_at(float(x.max()) + margin, True)
            finer = max(1, math.ceil(lattice.dx / FINE))
            places = lattice.x0 + lattice.dx * np.arange(first * finer, last * finer + 1) / finer
            self._lines[key] = ContactLine(places, self.height(places, tool, spare), first, finer)
        return self._lines[key]

    def axis_settings(self, tool: Tool, x: Floats, y: Floats) -> np.ndarray:
        """Which of these nose centres stand as near the axis as the grid allows."""
        least = self.whole.lattice(real_tool(tool)).y_up(0.0)
        return np.asarray(np.abs(-self.bay.way * x - least) < 1e-9)

    def admits(self, tool: Tool, x: float) -> bool:
        """Whether the nose may stand at x in the mouth: nowhere lower than it can come down to."""
        mouth = self.mouth(tool)
        return mouth is not None and -self.bay.way * x >= mouth.lowest - SAME_PLACE

    def reachable(self, tool: Tool) -> tuple[float, float]:
        """The stretch of the outline that this tool can be brought to from its mouth."""
        mouth, bay = self.mouth(tool), self.bay
        if mouth is None:
            return bay.first, bay.first
        u = np.linspace(bay.begin, bay.end, 4000)
        x, _ = self.whole.chain.points(u)
        inside = bay.way * (mouth.x - x) >= 0
        within = u[inside]
        return (float(within.min()), float(within.max())) if len(within) else (bay.first, bay.first)


def real_tool(tool: Tool) -> Tool:
    """The tool itself, where it was turned for a bay."""
    return tool.real if isinstance(tool, SideTool) else tool


def _deep_so_far_on(deep: np.ndarray, count: int) -> np.ndarray:
    """For each place whether the next ones, so many, are deep as well."""
    return np.array([bool(deep[i : i + count + 1].all()) and i + count < len(deep) for i in range(len(deep))])


def side_views(frame: Frame) -> tuple[SideView, ...]:
    """A view for every bay of the outline that the curve holds a part of."""
    low, high = frame.stretch
    found = (b for b in bays(frame.chain) if b.first < high and b.last > low)
    return tuple(SideView(frame, b) for b in found)
