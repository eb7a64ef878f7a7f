"""Pockets: where the nose has to be fed straight into metal before it can go along.

A cut fed straight in is as wide as the nose is at its depth, so a wide nose goes in little by little. Where only thin
layers are possible, and finishing may take what is left, they are not made.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from ovolo.plan.steps import Walk
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.ground import STILL, Ground, Span

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


class Pockets(Ground):
    """Clears what lies between two parts of the outline that stand higher."""

    def _worth(self, span: Span, depth: float) -> bool:
        """Whether a pocket is worth another layer: where layers have to be thin, or another tool has been there before,
        finishing may take what it can."""
        thin = self.again or abs(depth) < THIN_LAYER * self.bite
        inside = (self.x >= span.left - self.tool.nose_radius) & (self.x <= span.right + self.tool.nose_radius)
        most = self.care.heap if thin else min(LAST_LAYER, self.care.heap)
        return bool((self._over()[inside] > most * self.bite).any())

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
        left, right = self.tool.lowest
        x = np.linspace(left - 4 * self.bite, right + 4 * self.bite, 4001)
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

    def _entry_that_fits(self, span: Span, y: float) -> float:
        """The column next to the one that was looked out for an entry where feeding in to y keeps within the bite.

        Rounded to the figures, each entry lies a little more or less off a leaning wall than the one before; where it
        is nearer, the edge shaves the wall along all of its length.
        """
        wish = self._entry(span, self.inset * (span.right - span.left), self.from_left)
        first, last = self.lattice.column_at(span.left, True), self.lattice.column_at(span.right, False)
        columns = np.arange(first, last + 1)
        for column in columns[np.argsort(np.abs(columns - self.lattice.column_at(wish, False)), kind="stable")]:
            x = self.lattice.x(int(column))
            if self.metal.try_plunge(x, y).wide <= self.bite:
                return x
        return wish

    def _enters_left(self, walk: Walk, span: Span) -> bool:
        """Whether the nose enters a pocket at its end toward the chuck: a left-hand knife, which then cuts away from
        it; and a nose that cuts either way, where it stands there already."""
        if self.left_handed:
            return True
        near_left = walk.x - span.left < span.right - walk.x and walk.y < self.clear_y - STILL
        return self.tool.edge.cuts_both_ways and near_left

    def _pocket_pass(self, walk: Walk, span: Span, y: float) -> bool:
        """One layer of a pocket: in at the entry, then to the end toward the free end where that is another, then
        along; False where it would take next to nothing."""
        entry = self._entry_that_fits(span, y)
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
        if entry >= right - STILL or not self.tool.edge.cuts_both_ways:
            return [min(left, entry)]
        far = self._stop_right(y, entry, right)
        return [far] if entry <= left + STILL else [far, left]
