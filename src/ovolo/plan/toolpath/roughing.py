"""Roughing: passes along the axis, then passes square to it, that leave the allowance and never take over the bite.

A wide nose touches a slope with its flank: the cut is then as tall as the part of the nose that is engaged, whatever
the depth of the pass. So a pass along the axis follows the outline only while the slope lets it keep within the bite,
shallower passes being tried before it is stopped short; what is left on the steeper parts is taken by feeding square
to the axis, where the same holds with the directions exchanged.
"""

from __future__ import annotations

import math

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.steps import Walk
from ovolo.plan.toolpath.ground import STILL, Span
from ovolo.plan.toolpath.pockets import LEAST, Pockets
from ovolo.plan.view.frame import whole

#: Depths tried for a pass, as shares of the bite.
SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2)
#: A pass that has to stop short of the outline and takes less than this many squares of the bite is left to be done
#: square to the axis.
SMALL = 0.5
#: Less than this in front of the part is left to the finishing cut, mm.
THIN = 0.03
#: Facing steps, in nose radii: what lies farther in front of the nose would stay at the axis as a cone.
CLEARED = 1.7


class Rougher(Pockets):
    """Plans the roughing of one tool; its moves go onto a Walk."""

    def rough(self, walk: Walk, *, pockets: bool = True) -> None:
        """All of it: the end is faced, then passes along the axis, then across what is left.

        Without `pockets` only what is open toward the free end.
        """
        self.pockets = pockets
        if self.again and not self._heaps():
            return
        if not self.left_handed or not self.again:  # it cuts away from the chuck: only what no other tool has done
            self.face(walk)
        self.along(walk)
        self._lift(walk)
        self.across(walk)

    def face(self, walk: Walk) -> None:
        """Face off what stands in front of the part, no wider than the bite, nor than the nose clears at the axis."""
        radius = self.tool.nose_radius
        floor = max(whole(self.frame).face_floor(self.tool), self.frame.deepest(self.tool))
        at_floor = self.allowed <= floor + 1e-9
        blocked = np.flatnonzero(~at_floor)
        if not len(blocked) or blocked[-1] + 1 >= len(self.x):
            return
        last = self.lattice.x_up(float(self.x[blocked[-1] + 1]))
        proud = self.frame.front + radius - last
        if proud < THIN:
            return
        at = self.frame.front + radius
        while at > last + STILL:
            at = self._next_face(at, last)
            self._plunge(walk, at, self._face_row(at, last))

    def _face_row(self, x: float, last: float) -> float:
        """How far a facing cut goes: to the axis; in a bore, where metal stays below, the deeper the earlier it is.

        Each would take a crescent along its nose, wide at the foot, had the one before gone no deeper. The circles of
        two noses cross square to the line between their centres: with centres on a line k to 1 the crescent ends
        k/√(1 + k²) of a radius beside the nose centre.
        """
        floor = whole(self.frame).face_floor(self.tool)
        if self.frame.sign > 0:
            return self.lattice.y_up(floor)
        beside = max(1.0 - self.bite / (2 * self.tool.nose_radius), 0.0)
        steep = beside / math.sqrt(1.0 - beside**2)
        return self.lattice.y_up(max(floor - steep * (x - last), min(floor, self.frame.base)))

    def _next_face(self, at: float, last: float) -> float:
        """Where to face next: as far on as bite and nose allow, in even steps."""
        widest = min(self.bite, CLEARED * self.tool.half_width)
        step = (at - last) / math.ceil((at - last) / widest - 1e-9)
        for _ in range(12):
            x = max(self.lattice.x_up(at - step), last)
            if self.metal.try_plunge(x, self._face_row(x, last)).wide <= self.bite or x >= at - self.lattice.dx:
                break
            step *= 0.85
        return min(x, self.lattice.x(self.lattice.column_at(at - self.lattice.dx / 2, False)))

    # ---- passes along the axis
    def along(self, walk: Walk) -> None:
        """Passes along the axis over everything that the tool can reach from above, from the outside in."""
        start = self.frame.top + self.tool.nose_radius
        inside = self.allowed <= start + 1e-9
        for span in self._spans(start, self.x[0], self.x[-1], inside):
            self._clear(walk, span, start)

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
        ahead = self._level_between(self.allowed[inside], row - self.bite, row + STILL)
        if ahead is not None and y - ahead < 1.6 * self.bite:  # two even passes, not a heavy one and a remainder
            row = max(row, (y + ahead) / 2)
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

    def _columns(self, walk: Walk, left: float, right: float, *, from_right: bool) -> bool:
        """Feed in again and again, each time no wider than the bite, through one heap that was left."""
        radius, made = self.tool.nose_radius, False
        side = 1 if from_right else -1
        near, far = (right, left) if from_right else (left, right)
        # A form tool may stretch any way from its nose centre: its near edge begins over the heap, its lowest place
        # comes to the far end of it.
        back = radius if from_right or self.tool.edge.noses else self.tool.edge.toward_end
        on = max(radius, self.tool.lowest[0] if from_right else -self.tool.lowest[1])
        at = near + side * back
        while any(low < right + radius and high > left - radius for low, high in self._heaps()):
            place = self._next_column(at, far - side * on, side)
            if place is None:
                return made
            self._plunge(walk, *place)
            made, at = True, place[0]
        return made

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
