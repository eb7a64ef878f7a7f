"""The bench: one tool at work on the metal of the moment. Every cut is laid down, taken and priced as it is made."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from ovolo.plan.steps import Walk
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.clearing.bites import enclosed_depth
from ovolo.plan.toolpath.clearing.ground import CLEAR, STILL, Ground
from ovolo.plan.toolpath.clearing.heaps import Heaps
from ovolo.plan.toolpath.minutes import Price

#: Metal left where it should not be, compared by seconds as if each mm² took so long, s.
LEFT = 120.0
#: Pieces of a deep slot are no shallower than this share of the width of the blade.
LAST_PIECE = 0.25


@dataclass
class Bench:
    """A tool, where its nose stands, what stands around it; `spent` is what its moves cost so far."""

    ground: Ground
    metal: Metal
    walk: Walk
    price: Price
    spent: float = 0.0
    cuts: list[int] = field(default_factory=list)
    known: Heaps | None = None

    def fork(self) -> Bench:
        """The same, to try something on."""
        walk = replace(self.walk, steps=list(self.walk.steps))
        return Bench(
            self.ground,
            self.metal.with_tool(self.metal.tool),
            walk,
            self.price,
            self.spent,
            list(self.cuts),
            self.known,
        )

    def become(self, other: Bench) -> None:
        """Take over what was tried."""
        self.metal, self.walk, self.spent, self.cuts = other.metal, other.walk, other.spent, other.cuts
        self.known = other.known

    @property
    def heaps(self) -> Heaps:
        """The heaps of the metal as it stands."""
        height = self.metal.height
        if self.known is None or self.known.height is not height:
            self.known = Heaps(self.ground, height) if self.known is None else self.known.after(height)
        return self.known

    def cost(self, low: float, high: float) -> float:
        """What has been spent, and what it would cost to leave the heaps between two x as they are."""
        return self.spent + LEFT * self.left(low, high)

    def left(self, low: float, high: float) -> float:
        """Metal that stands higher than it should between two x, mm²."""
        at = self.heaps.between(low, high)
        return float((self.metal.height[at] - self.ground.target[at]).sum()) * self.metal.pitch

    # ---- moves
    def _to(self, slide: str, target: float, closing: int = 0, *, cuts: bool = False, careful: bool = False) -> None:
        walk, before = self.walk, len(self.walk.steps)
        length = abs(target - (walk.y if slide == "cross" else walk.x))
        if length <= STILL:
            return
        (walk.cross if slide == "cross" else walk.saddle)(target, closing)
        self.spent += self.price.line * (len(walk.steps) - before)
        if cuts:
            self.cuts.append(len(walk.steps) - 1)
            self.spent += self.price.pace.setting + self.price.feeding(walk.tool, length)
        else:
            self.spent += self.price.winding(slide, length) + self.price.pace.setting * careful

    def rise(self, y: float) -> None:
        """Wind the cross slide out to y, from where the next pass starts."""
        self._to("cross", y, -1, careful=True)

    def lift(self) -> None:
        """Wind the cross slide out until nothing is near."""
        self._to("cross", self.ground.clear_y)

    def _over(self, x: float) -> None:
        """Wind the cross slide out just so far that the way to x is free."""
        ground, walk = self.ground, self.walk
        low, high = min(walk.x, x), max(walk.x, x)
        left, right = ground.beside
        i, j = np.searchsorted(self.metal.x, (low - left, high + right))
        top = float(self.metal.height[i:j].max(initial=ground.frame.base)) + ground.tool.nose_radius + CLEAR
        allowed = float(ground.allowed[(ground.x >= low - STILL) & (ground.x <= high + STILL)].max(initial=top))
        y = min(ground.clear_y, ground.round.y_up(max(top, allowed)))
        if walk.y < y - STILL:
            self._to("cross", y)

    def feed_in(self, x: float, y: float) -> None:
        """Side-step to x, feed in to y: a strip. A blade goes into a deep slot piece by piece, clearing chips."""
        if abs(self.walk.x - x) > STILL or self.walk.y <= y:
            self._over(x)
        self._to("saddle", x, -1, careful=True)
        width, tool = self.ground.widest, self.ground.tool
        if tool.edge.only_plunges:
            deep = enclosed_depth(self.ground, self.metal, x, y)
            while deep > width * (1 + LAST_PIECE):
                deep -= width
                self._to("cross", self.ground.round.y_up(y + deep), cuts=True)
                self._over(x)
        self._to("cross", y, cuts=True)
        self.metal.cut_plunge(x, y)

    def enter(self, x: float, y: float) -> None:
        """Feed in at x without leaving the groove it stands in, where that is free."""
        if self.walk.y > y and self.metal.try_level(self.walk.y, self.walk.x, x).area < 1e-6:
            self._to("saddle", x, -1, careful=True)
            self._to("cross", y, cuts=True)
            self.metal.cut_plunge(x, y)
        else:
            self.feed_in(x, y)

    def front(self, y: float) -> None:
        """Stand in front of the work at height y."""
        clear = self.ground.clear_x
        if self.walk.x < clear - STILL and self.metal.try_level(self.walk.y, self.walk.x, clear).area > 1e-6:
            self._over(clear)
        self._to("saddle", clear)
        self._to("cross", y, -1, careful=True)

    def go_along(self, x: float, y: float) -> None:
        """Cut along the axis to x."""
        start = self.walk.x
        self._to("saddle", x, cuts=True)
        self.metal.cut_level(y, start, x)

    def behind(self, x: float, y: float) -> None:
        """Stand at x behind the metal, at height y, where nothing is cut on the way."""
        self._over(x)
        self._to("saddle", x)
        self._to("cross", y, -1, careful=True)
