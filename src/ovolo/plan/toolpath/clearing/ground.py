"""The ground that one tool clears: where its nose may go, what it could clear, how far metal stands over that."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.sweep.height_field import lowest_possible
from ovolo.plan.toolpath.clearing.leave import Leave
from ovolo.plan.view.frame import Frame, Lattice
from ovolo.shop.tools import Tool

#: Differences in place that don't matter, mm.
STILL = 1e-6
#: Clearance of a tool that is wound back, mm.
CLEAR = 1.0
#: A stretch of at least this length that leans by no more than this is a cylinder, mm.
LEVEL_LENGTH, LEVEL_LEAN = 1.0, 0.02
#: In so many ways a tool may stand between two places.
PHASES = 8
#: Farther than this from the outline nothing is looked for, bites.
NEAR = 1.2


@dataclass(frozen=True)
class Span:
    """Where the nose may go at one height: from `left` to `right`, mm; `open` where it comes in from the free end."""

    left: float
    right: float
    open: bool


@dataclass(frozen=True)
class Share:
    """What one tool clears: what is open toward the free end, and what is not."""

    opened: bool = True
    pockets: bool = True

    def takes(self, span: Span) -> bool:
        """Whether a span is part of it."""
        return self.opened if span.open else self.pockets


class Ground:
    """What one tool may do over a row of places `x`, whatever stands there at the moment.

    allowed: the least height of its nose centre at each place, the allowance left. target: the height of what it can't
    take. step: how far metal may stand over that, square to it. level: which places lie on a cylinder. widest,
    deepest: limits of its plunges and passes, mm.
    """

    def __init__(self, frame: Frame, tool: Tool, x: Floats, leave: Leave, limits: tuple[float, float]) -> None:
        self.frame, self.tool, self.x, self.pitch = frame, tool, x, float(x[1] - x[0])
        self.lattice = frame.coarse_lattice(tool)
        self.round = round_figures(frame, self.lattice)
        self.widest, self.deepest = (limit * leave.limits for limit in limits)
        if tool.edge.whole_width <= limits[0] + STILL:  # what it cuts is never wider than itself
            self.widest = limits[0] + 2 * self.pitch
        shop = frame.job.shop
        height = frame.height(x, tool, shop.allowance * leave.allowance)
        self.allowed = np.maximum(height, frame.deepest(tool))
        self.target = np.maximum(lowest_possible(x, self.allowed, tool), frame.base)
        self.step = leave.step * shop.bite
        self.level = _level(self.target, self.pitch)
        self.clear_x = self.round.x_up(frame.front + tool.nose_radius + CLEAR)
        self.clear_y = self.round.y_up(frame.clear_of + tool.nose_radius + CLEAR)
        self._reach = math.ceil(NEAR * shop.bite / self.pitch)
        self._x0 = float(x[0])
        padded = np.pad(self.target, self._reach, mode="edge")
        self._windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * self._reach + 1)
        self._beside = (self.pitch * np.arange(-self._reach, self._reach + 1)) ** 2

    @property
    def left_handed(self) -> bool:
        """Whether it cuts away from the chuck."""
        return self.tool.edge.cuts_away

    @property
    def both_ways(self) -> bool:
        """Whether it cuts along the axis either way."""
        return self.tool.edge.cuts_both_ways

    @property
    def passes(self) -> bool:
        """Whether it makes passes along the axis at all: a load from the side breaks a blade."""
        return not self.tool.edge.only_plunges

    def over(self, height: Floats, first: int = 0) -> Floats:
        """How far metal of these heights stands over what could be reached, square to it, mm; from place `first` on.

        No more than `NEAR` bites are told exactly; 0 on what can't be reached.
        """
        out = np.zeros(len(height))
        stands = np.flatnonzero(height > self.target[first : first + len(height)] + STILL)
        above = np.maximum(height[stands, None] - self._windows[stands + first], 0.0)
        out[stands] = np.sqrt((above**2 + self._beside).min(axis=1))
        return out

    def spans(self, y: float, left: float, right: float) -> list[Span]:
        """The stretches between left and right where the nose may stand at height y, the one at the free end first."""
        i, j = np.searchsorted(self.x, (left - 1e-9, right + 1e-9))
        free = self.allowed[i:j] <= y + 2 * STILL
        edge = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(np.int8))) + i
        found = [self._span(float(self.x[a]), float(self.x[b - 1])) for a, b in zip(edge[::2], edge[1::2], strict=True)]
        return [s for s in reversed(found) if s.right - s.left > 2 * self.pitch or s.open]

    def _span(self, left: float, right: float) -> Span:
        in_air = right > self.clear_x - 2 * self.pitch
        return Span(left, max(left, min(right, self.clear_x)), open=True) if in_air else Span(left, right, False)

    def split(self, span: Span, y: float, below: float) -> list[Span]:
        """The parts of a span as wide as they are where the outline first divides it on the way down."""
        whole, divided = y, below
        while whole - divided > self.lattice.dy / 2:
            middle = (whole + divided) / 2
            many = len(self.spans(middle, span.left, span.right)) > 1
            whole, divided = (whole, middle) if many else (middle, divided)
        return self.spans(divided, span.left, span.right)

    def basins(self, span: Span) -> Iterator[Span]:
        """The parts of a span between the crests of what is allowed, the one at the free end first.

        A crest stands higher than the ground on both its sides by more than a count.
        """
        i, j = np.searchsorted(self.x, (span.left - 1e-9, span.right + 1e-9))
        crests = _crests(self.allowed[i:j], max(self.round.dy, self.lattice.dy))
        edges = [span.left, *(float(self.x[i + c]) for c in crests), span.right]
        for n in range(len(edges) - 2, -1, -1):
            yield Span(edges[n], edges[n + 1], open=span.open and n == len(edges) - 2)

    def floor(self, x: float) -> float:
        """The round figure to which the nose may be fed in at x."""
        return float(self._floors[min(max(round((x - self._x0) / self.pitch), 0), len(self.x) - 1)])

    def floors(self, xs: Floats) -> Floats:
        """The same at many places."""
        at = np.rint((xs - self._x0) / self.pitch).astype(np.int64)
        return self._floors[np.clip(at, 0, len(self.x) - 1)]

    @cached_property
    def _floors(self) -> Floats:
        """The round figures at all places; those of the slide itself where they meet the outline."""
        ends = np.pad(self.allowed, 1, mode="edge")
        least = np.maximum(np.maximum(ends[:-2], ends[2:]), self.allowed)
        exact, rounded = (np.array([grid.y_up(y) for y in least.tolist()]) for grid in (self.lattice, self.round))
        return np.where((exact < rounded) & (rounded < least + STILL), exact, rounded)

    def profile(self, x: float, y: float) -> tuple[int, Floats]:
        """The underside of the tool with its nose centre at (x, y): the first place under it, and the heights."""
        at = round((x - self._x0) / self.pitch * PHASES)
        i, under = at // PHASES - self._left, self._undersides[at % PHASES]
        if i < 0 or i + len(under) > len(self.x):
            low, high = max(-i, 0), len(self.x) - i
            i, under = i + low, under[low:high]
        return i, y + under

    def profiles(self, xs: Floats, height: Floats) -> tuple[Floats, Floats]:
        """The underside of the tool at many x, its nose centre at height 0, and what stands there; a row each."""
        at = np.rint((xs - self._x0) / self.pitch * PHASES).astype(np.int64)
        under = np.array(self._undersides)[at % PHASES]
        places = (at // PHASES - self._left)[:, None] + np.arange(under.shape[1])
        known = (places >= 0) & (places < len(self.x))
        return under, np.where(known, height[np.clip(places, 0, len(self.x) - 1)], -np.inf)

    @cached_property
    def _undersides(self) -> list[Floats]:
        """The underside of the tool over the places, for so many ways in which it may stand between two of them."""
        left, right = (math.ceil(reach / self.pitch) + 1 for reach in self.beside)
        places = self.pitch * np.arange(-left, right + 1, dtype=np.float64)
        return [self.tool.edge.over(places - n * self.pitch / PHASES) for n in range(PHASES)]

    @cached_property
    def _left(self) -> int:
        return math.ceil(self.beside[0] / self.pitch) + 1

    @cached_property
    def beside(self) -> tuple[float, float]:
        """How far the tool stretches to its left and right within the height of the stock, mm."""
        left, right = self.tool.edge.beside(self.frame.top - self.frame.base + self.tool.nose_radius)
        return left + self.pitch, right + self.pitch

    @property
    def beside_nose(self) -> tuple[float, float]:
        """How far its cutting end stretches to its left and right, mm."""
        return self.tool.edge.toward_chuck, self.tool.edge.toward_end

    def round_down(self, x: float) -> float:
        """The greatest column not above x."""
        return self.lattice.x(self.lattice.column_at(x, False))


def _level(target: Floats, pitch: float) -> np.ndarray:
    """Which places lie on a cylinder, long enough to be one."""
    flat = np.abs(np.gradient(target, pitch)) < LEVEL_LEAN
    edge = np.flatnonzero(np.diff(np.concatenate([[False], flat, [False]]).astype(np.int8)))
    for a, b in zip(edge[::2], edge[1::2], strict=True):
        if (b - a) * pitch < LEVEL_LENGTH:
            flat[a:b] = False
    return flat


def _crests(height: Floats, least: float) -> list[int]:
    """The places of the crests of a row of heights: higher than lows on both sides by at least so much."""
    out: list[int] = []
    low, top, at = math.inf, -math.inf, 0
    climbing = False
    for i, h in enumerate(height.tolist()):
        if climbing:
            if h > top:
                top, at = h, i
            elif top - h > least:
                out.append(at)
                climbing, low = False, h
        elif h < low:
            low = h
        elif h - low > least:
            climbing, top, at = True, h, i
    return out


def round_figures(frame: Frame, lattice: Lattice) -> Lattice:
    """The coarser grid of round figures that roughing is set to: a tenth of a millimetre, 5 thousandths of an inch."""
    shop = frame.job.shop
    wish = 0.1 if shop.unit == 1.0 else 0.005 * shop.unit

    def coarser(step: float, factor: float) -> float:
        return step * max(1, math.floor(wish / factor / step + 1e-6))

    return Lattice(
        lattice.x0,
        coarser(lattice.dx, abs(shop.coarse.factor)),
        lattice.y0,
        coarser(lattice.dy, abs(shop.cross.factor)),
    )
