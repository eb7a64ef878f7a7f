"""Roughing: passes along the axis, then passes square to it, that leave the allowance and never take over the bite.

A wide nose touches a slope with its flank: the cut is then as tall as the part of the nose that is engaged, whatever
the depth of the pass. So a pass along the axis follows the outline only while the slope lets it keep within the bite,
shallower passes being tried before it is stopped short; what is left on the steeper parts is taken by feeding square
to the axis, where the same holds with the directions exchanged.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ovolo.geometry.chain import Chain, Floats
from ovolo.plan.frame import Frame, Lattice
from ovolo.plan.metal import Metal, lowest_possible
from ovolo.plan.stations import Pass
from ovolo.plan.walk import Walk
from ovolo.shop.tools import Tool

#: Depths tried for a pass, as shares of the bite.
SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)
#: Layers thinner than this share of the bite are no good way to clear a pocket: there finishing takes all that it may.
THIN_LAYER = 0.15
#: Layers thinner than this share of the bite clear no pocket in a time that anyone has.
LEAST_LAYER = 0.03
#: Layers of this share of the bite are good enough not to look for a better place to enter.
GOOD_LAYER = 0.25
#: So is this share of what could be fed into a flat.
GOOD_PLUNGE = 0.75
#: How far from the end of a pocket the nose may enter, as shares of its length.
INSETS = (0.0, 0.05, 0.1, 0.2, 0.35, 0.5)
#: In other pockets a last layer is made for more than this share of the bite.
LAST_LAYER = 0.25
#: A pass that takes less than this many squares of the bite is not made.
LEAST = 0.05
#: A pass that has to stop short of the outline and takes less than this many squares of the bite is left to be done
#: square to the axis.
SMALL = 0.5
#: Differences in place that don't matter, mm.
STILL = 1e-6
#: Less than this in front of the part is left to the finishing cut, mm.
THIN = 0.03
#: Facing steps, in nose radii: what lies farther in front of the nose would stay at the axis as a cone.
CLEARED = 1.7
#: Clearance of a tool that is wound back, mm.
CLEAR = 1.0


@dataclass(frozen=True)
class Care:
    """How much roughing may leave: `heap`, the highest metal over what could be reached, and `cut`, the thickest
    finishing cut, both as shares of the bite; and `bite`, the share of it that roughing is planned with, so that
    rounding to the figures and the quick picture of the metal can't take a cut over it."""

    heap: float = 0.65
    cut: float = 0.85
    bite: float = 0.97

    def more(self) -> Care:
        """The same with less left, in lighter cuts."""
        return Care(self.heap * 0.75, self.cut * 0.85, self.bite * 0.94)


@dataclass(frozen=True)
class Span:
    """Where the nose may go at one height: from `left` to `right`, mm; `open` where it comes in from the free end."""

    left: float
    right: float
    open: bool


class Rougher:
    """Plans the roughing of one tool; its moves go onto a Walk."""

    def __init__(self, frame: Frame, tool: Tool, metal: Metal, care: Care, *, again: bool = False) -> None:
        """`again` where another tool has roughed before: then only heaps are worth a pass."""
        self.again, self.pockets, self.inset, self.from_left = again, True, 0.0, False
        self.left_handed = tool.kind == "pointed" and tool.hand == "left"
        self.frame, self.tool, self.lattice, self.care = frame, tool, frame.lattice(tool), care
        self.bite = frame.job.shop.bite * care.bite
        self.round = _round_figures(frame, self.lattice)
        radius = tool.nose_radius
        self.x, self.metal = metal.x, metal.with_tool(tool)
        height = frame.height(self.x, tool, frame.job.shop.allowance)
        self.allowed = np.maximum(height, frame.deepest(tool))
        target = np.maximum(lowest_possible(self.x, self.allowed, tool), frame.base)
        self.target = np.minimum(target, self.metal.height)
        self.slope = np.gradient(self.target, self.metal.pitch)
        self.clear_x = self.round.x_up(frame.front + radius + CLEAR)
        self.clear_y = self.round.y_up(frame.top + radius + CLEAR)

    def rough(self, walk: Walk, *, pockets: bool = True) -> None:
        """All of it: the end is faced, then passes along the axis, then across what is left.

        Without `pockets` only what is open toward the free end.
        """
        self.pockets = pockets
        if self.again and not self._heaps():
            return
        if not self.left_handed:  # it cuts away from the chuck, and only what another tool can't
            self.face(walk)
        self.along(walk)
        self._lift(walk)
        self.across(walk)

    # ---- the end face
    def face(self, walk: Walk) -> None:
        """Face off what stands in front of the part, no wider than the bite, nor than the nose clears at the axis."""
        radius = self.tool.nose_radius
        at_floor = self.allowed <= self.frame.deepest(self.tool) + 1e-9
        blocked = np.flatnonzero(~at_floor)
        if not len(blocked) or blocked[-1] + 1 >= len(self.x):
            return
        last = self.lattice.x_up(float(self.x[blocked[-1] + 1]))
        proud = self.frame.front + radius - last
        if proud < THIN:
            return
        y = self.lattice.y_up(self.frame.deepest(self.tool))
        at = self.frame.front + radius
        while at > last + STILL:
            at = self._next_face(at, last, y)
            self._plunge(walk, at, y)

    def _next_face(self, at: float, last: float, y: float) -> float:
        """Where to face next: as far on as bite and nose allow, in even steps."""
        widest = min(self.bite, CLEARED * self.tool.nose_radius)
        step = (at - last) / math.ceil((at - last) / widest - 1e-9)
        for _ in range(12):
            x = max(self.lattice.x_up(at - step), last)
            if self.metal.try_plunge(x, y).wide <= self.bite or x >= at - self.lattice.dx:
                break
            step *= 0.85
        return min(x, self.lattice.x(self.lattice.column_at(at - self.lattice.dx / 2, False)))

    def _plunge(self, walk: Walk, x: float, y: float) -> None:
        self._lift(walk)
        walk.saddle(x, -1)
        walk.cross(y)
        self.metal.cut_plunge(x, y)

    # ---- passes along the axis
    def along(self, walk: Walk) -> None:
        """Passes along the axis over everything that the tool can reach from above, from the outside in."""
        start = self.frame.top + self.tool.nose_radius
        inside = self.allowed <= start + 1e-9
        for span in self._spans(start, self.x[0], self.x[-1], inside):
            self._clear(walk, span, start)

    def _spans(self, y: float, left: float, right: float, free: np.ndarray | None = None) -> list[Span]:
        """The stretches between left and right where the nose may stand at height y, the one at the free end first."""
        i0, j0 = np.searchsorted(self.x, (left - 1e-9, right + 1e-9))
        free = self.allowed[i0:j0] <= y + 1e-9 if free is None else free[i0:j0]
        edge = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(np.int8))) + i0
        spans = [
            Span(float(self.x[i]), float(self.x[j - 1]), bool(j == len(self.x)))
            for i, j in zip(edge[::2], edge[1::2], strict=True)
        ]
        return [s for s in reversed(spans) if s.right - s.left > 2 * self.metal.pitch or s.open]

    def _clear(self, walk: Walk, span: Span, y: float) -> None:
        """Go down layer by layer inside a span, splitting where the outline splits it."""
        while True:
            below = self._next_row(walk, span, y)
            if below is None:
                return
            parts = self._spans(below, span.left, span.right)
            if len(parts) > 1:
                for part in self._split(span, y, below):
                    if part.open or self.pockets:
                        self._clear(walk, part, y)
                return
            if not parts or not (parts[0].open or self.pockets):
                return
            if (self.again or not parts[0].open) and not self._worth(parts[0], below - y):
                return
            if not self._pass(walk, parts[0], below) and not self._remains(parts[0]):
                return
            span, y = parts[0], below

    def _split(self, span: Span, y: float, below: float) -> list[Span]:
        """The parts of a span as wide as they are where the outline first divides it on the way down."""
        undivided, divided = y, below
        while undivided - divided > self.lattice.dy / 2:
            middle = (undivided + divided) / 2
            many = len(self._spans(middle, span.left, span.right)) > 1
            undivided, divided = (undivided, middle) if many else (middle, divided)
        return self._spans(divided, span.left, span.right)

    def _worth(self, span: Span, depth: float) -> bool:
        """Whether a pocket is worth another layer: where layers have to be thin, or another tool has been there before,
        finishing may take what it can."""
        thin = self.again or abs(depth) < THIN_LAYER * self.bite
        inside = (self.x >= span.left - self.tool.nose_radius) & (self.x <= span.right + self.tool.nose_radius)
        most = self.care.heap if thin else min(LAST_LAYER, self.care.heap)
        return bool((self._over()[inside] > most * self.bite).any())

    def _remains(self, span: Span) -> bool:
        """Whether a level stretch of the outline still waits below."""
        inside = (self.x >= span.left) & (self.x <= span.right)
        over = (self.metal.height - self.target > self.care.heap * self.bite) & (np.abs(self.slope) < 1)
        return bool(over[inside].any())

    def _next_row(self, walk: Walk, span: Span, y: float) -> float | None:
        """The height of the next pass: as deep as the bite allows while its end still reaches the outline."""
        lowest = self._lowest(span)
        if y <= lowest + 1e-9:
            return None
        deepest = None
        plunge = self.bite if span.open else self._plunge_depth(walk, span, y)
        if not plunge:
            return None
        for share in SHARES:
            depth = min(share * self.bite, plunge)
            row = self._row_at_or_above(max(y - depth, lowest), y, span)
            if row >= y - 1e-9:
                continue
            deepest = row if deepest is None else deepest
            part = next(iter(self._spans(row, span.left, span.right)), None)
            if part is None or self.metal.try_level(row, self._start(part), part.left).tall <= self.bite:
                return row
        return deepest

    def _lowest(self, span: Span) -> float:
        inside = (self.x >= span.left - 1e-9) & (self.x <= span.right + 1e-9)
        return self.lattice.y_up(float(self.allowed[inside].min()))

    def _row_at_or_above(self, row: float, y: float, span: Span) -> float:
        """A round figure for a row, no deeper; a level stretch of the outline that it would pass by is met exactly."""
        inside = (self.x >= span.left) & (self.x <= span.right)
        level = self._level_between(self.allowed[inside], row, y)
        if level is not None:
            return self.lattice.y_up(level)
        rounded = self.round.y_up(row)
        return rounded if rounded < y - 1e-9 else self.lattice.y_up(row)

    def _level_between(self, allowed: Floats, row: float, y: float) -> float | None:
        """The highest cylinder or crest between two heights: a pass just over it clears what lies behind it too."""
        between = (allowed[1:-1] > row + 1e-6) & (allowed[1:-1] < y - self.lattice.dy)
        level = between & (np.abs(np.diff(allowed)[:-1]) < 1e-9)
        if level.sum() * self.metal.pitch < min(0.25 * self.tool.nose_radius, 0.5):
            level[:] = False
        crest = between & (allowed[1:-1] >= allowed[:-2]) & (allowed[1:-1] > allowed[2:])
        found = allowed[1:-1][level | crest]
        return float(found.max()) if len(found) else None

    def _start(self, span: Span) -> float:
        return self.clear_x if span.open else span.right

    def _plunge_depth(self, walk: Walk, span: Span, y: float) -> float:
        """How deep the nose may be fed straight in without a cut wider than the bite; 0 where it is not worth it.

        Remembers where: at the end where it should enter, or as near to it as it goes deep enough, or where it goes
        deepest. (An edge that leans cuts along all of its length when it is fed in beside a wall.)
        """
        from_left = self._enters_left(walk, span)
        depths = []
        for inset in INSETS:
            depth = self._depth(span, y, inset * (span.right - span.left), from_left)
            if depth >= min(GOOD_LAYER * self.bite, GOOD_PLUNGE * self.flat_plunge):
                self.inset, self.from_left = inset, from_left
                return depth if depth >= LEAST_LAYER * self.bite else 0.0
            depths.append(depth)
        best = int(np.argmax(depths))
        self.inset, self.from_left = INSETS[best], from_left
        return depths[best] if depths[best] >= LEAST_LAYER * self.bite else 0.0

    @cached_property
    def flat_plunge(self) -> float:
        """How deep the nose may be fed into a flat without a cut wider than the bite, mm."""
        x = np.linspace(-4 * self.bite, 4 * self.bite + self.tool.flat, 4001)
        flat = Metal(x, np.zeros_like(x), self.tool)
        low, high = 0.0, self.bite
        for _ in range(12):
            middle = (low + high) / 2
            fits = flat.try_plunge(0.0, self.tool.nose_radius - middle).wide <= self.bite
            low, high = (middle, high) if fits else (low, middle)
        return low

    def _depth(self, span: Span, y: float, inset: float, from_left: bool) -> float:
        low, high = 0.0, self.bite
        for _ in range(9):
            middle = (low + high) / 2
            part = next(iter(self._spans(y - middle, span.left, span.right)), None)
            where = self._entry(part, inset, from_left) if part else span.right
            fits = part is not None and self.metal.try_plunge(where, y - middle).wide <= self.bite
            low, high = (middle, high) if fits else (low, middle)
        return low

    def _entry(self, span: Span, inset: float, from_left: bool) -> float:
        """A column inside a span, `inset` mm from one of its ends."""
        if from_left:
            return min(self.lattice.x_up(span.left + inset), self.round_down(span.right))
        return self.round_down(max(span.right - inset, span.left))

    def _enters_left(self, walk: Walk, span: Span) -> bool:
        """Whether the nose enters a pocket at its end toward the chuck: a left-hand knife, which then cuts away from
        it; and a nose that cuts either way, where it stands there already."""
        if self.left_handed:
            return True
        near_left = walk.x - span.left < span.right - walk.x and walk.y < self.clear_y - STILL
        return self.tool.kind != "pointed" and near_left

    def _pass(self, walk: Walk, span: Span, y: float) -> bool:
        """One pass along the axis; False where it would take next to nothing."""
        if not span.open:
            return self._pocket_pass(walk, span, y)
        first = self._start(span)
        last = self._stop(y, first, span.left)
        if last >= first - STILL or self.left_handed:
            return False
        area = self.metal.try_level(y, first, last).area
        if area < LEAST * self.bite**2 or (area < SMALL * self.bite**2 and last > self.round.x_up(span.left) + STILL):
            return False
        self._come_to_front(walk, y)
        walk.saddle(last)
        walk.saddle(self.clear_x)
        self.metal.cut_level(y, first, last)
        return True

    def _come_to_front(self, walk: Walk, y: float) -> None:
        """Stand in front of the work at height y: over the top where the way back is not clear."""
        if walk.x < self.clear_x - STILL and not self._free_level(walk.y, walk.x, self.clear_x):
            self._lift(walk)
        walk.saddle(self.clear_x)
        walk.cross(y, -1)

    def round_down(self, x: float) -> float:
        """The greatest column not above x."""
        return self.lattice.x(self.lattice.column_at(x, False))

    def _pocket_pass(self, walk: Walk, span: Span, y: float) -> bool:
        """One layer of a pocket: in at the entry, then to the end toward the free end where that is another, then
        along; False where it would take next to nothing."""
        entry = self._entry(span, self.inset * (span.right - span.left), self.from_left)
        turns = self._pocket_turns(span, y, entry)
        area = self.metal.try_level(y, min(entry, *turns), max(entry, *turns)).area
        if area < LEAST * self.bite**2:
            return False
        if not (walk.y < self.clear_y - STILL and self._free_level(walk.y, walk.x, entry)):
            self._lift(walk)
        walk.saddle(entry)
        walk.cross(y)
        self.metal.cut_plunge(entry, y)
        for x in turns:
            walk.saddle(x)
            self.metal.cut_level(y, entry, x)
        return True

    def _pocket_turns(self, span: Span, y: float, entry: float) -> list[float]:
        """Where the nose goes along the layer after it has entered."""
        right, left = self.round_down(span.right), self._stop(y, entry, span.left)
        if self.left_handed:
            return [self._stop_right(y, entry, right)]
        if entry >= right - STILL or self.tool.kind == "pointed":
            return [min(left, entry)]
        far = self._stop_right(y, entry, right)
        return [far] if entry <= left + STILL else [far, left]

    def _stop_right(self, y: float, entry: float, right: float) -> float:
        """The same as `_stop` for a cut away from the chuck."""
        if self.metal.try_level(y, entry, right).tall <= self.bite:
            return max(right, entry)
        low, high = entry, right
        for _ in range(14):
            middle = (low + high) / 2
            low, high = (middle, high) if self.metal.try_level(y, entry, middle).tall <= self.bite else (low, middle)
        return max(self.round_down(low), entry)

    def _free_level(self, y: float, a: float, b: float) -> bool:
        return self.metal.try_level(y, a, b).area < 1e-6

    def _lift(self, walk: Walk) -> None:
        walk.cross(self.clear_y)

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

    # ---- passes square to the axis
    def across(self, walk: Walk) -> None:
        """Passes square to the axis over what the passes along it had to leave."""
        for left, right in self._heaps():
            if not self.pockets and not self._open_from_front(left):
                continue
            if not self._columns(walk, left, right, from_right=True):
                self._columns(walk, left, right, from_right=False)
        self._lift(walk)

    def _open_from_front(self, left: float) -> bool:
        """Whether nothing of the part stands higher between a heap and the free end."""
        ahead = self.x >= left
        here = np.abs(self.x - left) <= self.metal.pitch
        return bool(self.allowed[ahead].max() <= self.allowed[here].max() + 0.5 * self.bite)

    def _over(self) -> Floats:
        """How high the metal stands over what could be reached, roughly square to it, mm."""
        return np.asarray((self.metal.height - self.target) / np.hypot(1.0, self.slope))

    def _heaps(self) -> list[tuple[float, float]]:
        """The heaps that stand higher over what could be reached than they should, the one at the free end first."""
        over = self._over() > self.care.heap * self.bite
        edge = np.flatnonzero(np.diff(np.concatenate([[False], over, [False]]).astype(np.int8)))
        runs = [(float(self.x[i]), float(self.x[j - 1])) for i, j in zip(edge[::2], edge[1::2], strict=True)]
        return list(reversed(runs))

    def _columns(self, walk: Walk, left: float, right: float, *, from_right: bool) -> bool:
        """Feed in again and again, each time no wider than the bite, through one heap that was left."""
        radius, made = self.tool.nose_radius, False
        side = 1 if from_right else -1
        near, far = (right, left) if from_right else (left, right)
        at = near + side * radius
        while any(low < right + radius and high > left - radius for low, high in self._heaps()):
            place = self._next_column(at, far - side * radius, side)
            if place is None:
                return made
            self._plunge(walk, *place)
            made, at = True, place[0]
        return made

    def thinning(self, passes: Sequence[Pass]) -> list[tuple[float, tuple[Pass, ...]]]:
        """Where more is left than one finishing cut may take: how far out to go over it first, and at which settings.

        A nose that is wide for the bite can't follow a slope near 45° with passes along or across.
        """
        most = self.care.cut * self.bite
        outline = self.frame.chain
        layers = []
        feet = np.array([p.foot for p in passes])
        middles = np.concatenate([feet[:1], (feet[1:] + feet[:-1]) / 2, feet[-1:]])
        heights = [
            max(self._standing_over(outline, u) for u in np.linspace(low, high, 5))
            for low, high in itertools.pairwise(middles)
        ]
        layer = math.ceil(max(heights, default=0.0) / most - 1e-9) - 1
        while layer > 0:
            spare = layer * most
            chosen = tuple(p for p, h in zip(passes, heights, strict=True) if h > spare + most / 4)
            if chosen:
                layers.append((spare, chosen))
            layer -= 1
        return layers

    def _standing_over(self, outline: Chain, foot: float) -> float:
        """Height of the metal over a place of the outline, square to it, mm."""
        k, t = outline.locate(np.array([foot]))
        steps = np.arange(0.0, 60 * self.bite, self.bite / 40)
        nx, ny = outline.normals(k, t)
        px, py = outline.offset_points(k, t, 0.0)
        x, y = px[0] + steps * nx[0], py[0] + steps * ny[0]
        inside = np.interp(x, self.x, self.metal.height) > y
        return float(steps[inside].max(initial=0.0))

    def _next_column(self, at: float, far: float, side: int) -> tuple[float, float] | None:
        """The next place to feed in: as far on as the bite allows."""
        step = max(self.round.dx, self.lattice.dx)
        best = None
        n = int(abs(at - far) / step) + 1
        for i in range(n + 1):
            x = self.round.x_up(at - side * i * step)
            y = self._column_floor(x)
            chip = self.metal.try_plunge(x, y)
            if chip.wide > self.bite:
                break
            if chip.area > LEAST * self.bite**2 and chip.wide > 0:
                best = (x, y)
        return best

    def _column_floor(self, x: float) -> float:
        near = np.abs(self.x - x) <= self.metal.pitch
        least = self.frame.deepest(self.tool)
        return self.lattice.y_up(float(self.allowed[near].max(initial=least)))


def _round_figures(frame: Frame, lattice: Lattice) -> Lattice:
    """The coarser grid of round figures that roughing is set to: a tenth of a millimetre, 5 thousandths of an inch."""
    shop = frame.job.shop
    wish = 0.1 if shop.unit == 1.0 else 0.005 * shop.unit

    def coarser(step: float, factor: float) -> float:
        return step * max(1, math.floor(wish / factor / step + 1e-6))

    return Lattice(
        lattice.x0,
        coarser(lattice.dx, abs(shop.saddle.factor)),
        lattice.y0,
        coarser(lattice.dy, abs(shop.cross.factor)),
    )
