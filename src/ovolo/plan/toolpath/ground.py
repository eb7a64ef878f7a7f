"""The ground that roughing stands on: the metal of the moment, where the nose may go, what still stands too high."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.steps import Walk
from ovolo.plan.sweep.height_field import Metal, lowest_possible
from ovolo.plan.view.view import View
from ovolo.shop.tools import Tool

#: Differences in place that don't matter, mm.
STILL = 1e-6
#: Clearance of a tool that is wound back, mm.
CLEAR = 1.0


#: Below this share for the heap, less of the allowance is left too.
LAST_RESORT = 0.4


@dataclass(frozen=True)
class Care:
    """How much roughing may leave: `heap`, the highest metal over what could be reached, and `cut`, the thickest
    finishing cut, both as shares of the bite; and `bite`, the share of it that roughing is planned with, so that
    rounding to the figures and the quick picture of the metal can't take a cut over it. Where that is not enough,
    `allowance` is the share of the allowance that is left: so little has to go that roughing would leave it all."""

    heap: float = 0.65
    cut: float = 0.85
    bite: float = 0.97
    allowance: float = 1.0

    def more(self) -> Care:
        """The same with less left, in lighter cuts."""
        allowance = self.allowance * (0.7 if self.heap < LAST_RESORT else 1.0)
        return Care(self.heap * 0.75, self.cut * 0.85, self.bite * 0.94, allowance)


@dataclass(frozen=True)
class Span:
    """Where the nose may go at one height: from `left` to `right`, mm; `open` where it comes in from the free end."""

    left: float
    right: float
    open: bool


class Ground:
    """What one tool finds when it comes to rough, and what its moves do to it."""

    def __init__(self, frame: View, tool: Tool, metal: Metal, care: Care, *, again: bool = False) -> None:
        """`again` where another tool has roughed before: then only heaps are worth a pass."""
        self.again, self.pockets, self.inset, self.from_left = again, True, 0.0, False
        self.left_handed = tool.edge.cuts_away
        self.frame, self.tool, self.lattice, self.care = frame, tool, frame.coarse_lattice(tool), care
        self.bite = frame.job.shop.bite * care.bite
        self.round = frame.round_lattice(tool)
        radius = tool.nose_radius
        self.x, self.metal = metal.x, metal.with_tool(tool)
        height = frame.height(self.x, tool, frame.job.shop.allowance * care.allowance)
        self.allowed = np.maximum(height, frame.deepest(tool))
        target = np.maximum(lowest_possible(self.x, self.allowed, tool), frame.base)
        self.target = np.minimum(target, self.metal.height)
        self.slope = np.gradient(self.target, self.metal.pitch)
        self.clear_x = self.round.x_up(frame.front + radius + CLEAR)
        self.clear_y = self.round.y_up(frame.clear_of + radius + CLEAR)

    def _spans(self, y: float, left: float, right: float, free: np.ndarray | None = None) -> list[Span]:
        """The stretches between left and right where the nose may stand at height y, the one at the free end first."""
        i0, j0 = np.searchsorted(self.x, (left - 1e-9, right + 1e-9))
        free = self.allowed[i0:j0] <= y + 1e-9 if free is None else free[i0:j0]
        edge = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(np.int8))) + i0
        spans = [
            self._span(float(self.x[i]), float(self.x[j - 1]), reaches_air=bool(j == len(self.x)))
            for i, j in zip(edge[::2], edge[1::2], strict=True)
        ]
        return [s for s in reversed(spans) if s.right - s.left > 2 * self.metal.pitch or s.open]

    def _span(self, left: float, right: float, *, reaches_air: bool) -> Span:
        """A left-hand knife cuts away from the chuck: what others enter from the free end is a pocket to it."""
        if reaches_air and self.left_handed:
            return Span(left, max(left, min(right, self.clear_x)), open=False)
        return Span(left, right, reaches_air)

    def _split(self, span: Span, y: float, below: float) -> list[Span]:
        """The parts of a span as wide as they are where the outline first divides it on the way down."""
        undivided, divided = y, below
        while undivided - divided > self.lattice.dy / 2:
            middle = (undivided + divided) / 2
            many = len(self._spans(middle, span.left, span.right)) > 1
            undivided, divided = (undivided, middle) if many else (middle, divided)
        return self._spans(divided, span.left, span.right)

    def round_down(self, x: float) -> float:
        """The greatest column not above x."""
        return self.lattice.x(self.lattice.column_at(x, False))

    def _free_level(self, y: float, a: float, b: float) -> bool:
        return self.metal.try_level(y, a, b).area < 1e-6

    def _lift(self, walk: Walk) -> None:
        walk.cross(self.clear_y)

    def _plunge(self, walk: Walk, x: float, y: float) -> None:
        self._lift(walk)
        walk.saddle(x, -1)
        walk.cross(y)
        self.metal.cut_plunge(x, y)

    def _stop(self, y: float, first: float, left: float) -> float:
        """Where a pass has to stop: at the outline, or earlier where it would take more than the bite."""
        stop = self.round.x_up(left)
        stop = stop if stop < first else self.lattice.x_up(left)
        if self.metal.try_level(y, first, stop).tall <= self.bite:
            return stop
        low, high = stop, first
        for _ in range(14):
            middle = (low + high) / 2
            low, high = (low, middle) if self.metal.try_level(y, first, middle).tall <= self.bite else (middle, high)
        return self.round.x_up(high)

    def _stop_right(self, y: float, entry: float, right: float) -> float:
        """The same as `_stop` for a cut away from the chuck."""
        if self.metal.try_level(y, entry, right).tall <= self.bite:
            return max(right, entry)
        low, high = entry, right
        for _ in range(14):
            middle = (low + high) / 2
            low, high = (middle, high) if self.metal.try_level(y, entry, middle).tall <= self.bite else (low, middle)
        return max(self.round_down(low), entry)

    def _over(self) -> Floats:
        """How high the metal stands over what could be reached, roughly square to it, mm."""
        return np.asarray((self.metal.height - self.target) / np.hypot(1.0, self.slope))

    def _heaps(self) -> list[tuple[float, float]]:
        """The heaps that stand higher over what could be reached than they should, the one at the free end first."""
        over = self._over() > self.care.heap * self.bite
        edge = np.flatnonzero(np.diff(np.concatenate([[False], over, [False]]).astype(np.int8)))
        runs = [(float(self.x[i]), float(self.x[j - 1])) for i, j in zip(edge[::2], edge[1::2], strict=True)]
        return list(reversed(runs))

    def _column_floor(self, x: float) -> float:
        near = np.abs(self.x - x) <= self.metal.pitch
        least = self.frame.deepest(self.tool)
        return self.lattice.y_up(float(self.allowed[near].max(initial=least)))
