"""What settings take in one order or another, seen on the quick picture of the metal: how evenly, whether too wide.

A setting is reached over whatever stands between: the cross slide is wound out where it must, the saddle goes along,
the cross slide goes in, the saddle goes to the setting's end. Each of these may cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from ovolo.plan.stations.stations import Pass
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.moves import CUTS
from ovolo.plan.toolpath.plain_passes import SHORT
from ovolo.plan.view.view import View
from ovolo.shop.limits import limit_of
from ovolo.shop.tools import Tool
from ovolo.tolerances import LEVEL, ROUNDING, SAME_PLACE

#: Shorter ways than this are none, mm.
STILL = ROUNDING
#: A nose centre this near to the axis stands on it, nose radii.
NEAR_AXIS = 0.01
#: A nose may be fed in beside a setting no farther off than so many times its extent, at one of so many places.
BESIDE, PLACES = 4.0, 24
#: A setting that takes too wide a cut is reached in so many parts, if that makes it narrower by more than this, mm.
PARTS, HARDLY = (2, 3, 4, 6, 8), 0.05
#: Of a pass longer than this, mm, such a share counts: at its end the nose runs into what earlier cuts left there.
LONG, COUNTS = 0.6, 0.9
#: A cut may be this much wider than planned for, as a share and mm: the exact sweep decides.
WIDER = (1.02, 0.01)


@dataclass(frozen=True)
class Run:
    """Settings that follow each other without withdrawing."""

    passes: tuple[Pass, ...]


class Cut(NamedTuple):
    """One slide of the way to a setting: along the axis from `first` to `last` at height y, or in at `first` to y."""

    inward: bool
    y: float
    first: float
    last: float


class Takes(NamedTuple):
    """What settings take, mm², and by how much each is wider than it may be, mm; 0 for those that keep within."""

    area: dict[Pass, float]
    wide: dict[Pass, float]

    @property
    def worth(self) -> tuple[int, float]:
        """How bad an order is: how many of its cuts are too wide, then how uneven they are."""
        return self.too_wide, ratio(self.area.values())

    @property
    def too_wide(self) -> int:
        """How many of the settings take too wide a cut."""
        return sum(over > 0 for over in self.wide.values())


def ratio(takes: Iterable[float]) -> float:
    """The largest to the smallest of these [-]; 1 where there are none.

    >>> ratio([0.25, 1.0, 0.5])
    4.0
    """
    takes = list(takes)
    return max(takes) / min(takes) if takes else 1.0


class Picture:
    """The quick picture of the metal, and what settings take of it in one order or another."""

    def __init__(self, frame: View, metal: Metal) -> None:
        height = np.where(frame.this_half(metal.x), metal.height, frame.base)
        self.frame, self.metal = frame, Metal(metal.x, height, metal.tool)
        self.line, self.lattice = frame.contact_line(metal.tool), frame.lattice(metal.tool)
        self.tops: dict[tuple[float, float], float] = {}
        self.level: dict[Pass, bool] = {}
        shop, tool = frame.job.shop, metal.tool
        inward, along = (limit_of(shop, tool, slide, rough=False).widest for slide in ("cross", "saddle"))
        self.inward, self.along = (WIDER[0] * most + WIDER[1] for most in (inward, along))

    def takes(self, order: Iterable[Run]) -> Takes:
        """What each setting takes in this order, from the one before it or from above; in area plain passes aside, and
        those that take nothing. On the axis a cut counts on both sides of it."""
        metal, found = self.metal.with_tool(self.metal.tool), Takes({}, {})
        for run in order:
            before: Pass | None = None
            for item in run.passes:
                area, over = self._take(metal, before, item)
                if item.station and area > CUTS and not self._is_level(item):
                    found.area[item] = area * (2 if self._on_axis(item) else 1)
                found.wide[item] = over
                before = item
        return found

    def _take(self, metal: Metal, before: Pass | None, item: Pass) -> tuple[float, float]:
        """What a setting takes, with the way to it, and by how much that is too wide."""
        area, over = 0.0, 0.0
        for cut in self._way(metal, before, item):
            over = max(over, self._over(metal, cut))
            area += metal.take_level(cut.y, cut.first, cut.last, self.frame.base)
        return area, over

    def take(self, metal: Metal, before: Pass | None, item: Pass) -> None:
        """Make a setting in the metal, with the way to it."""
        for cut in self._way(metal, before, item):
            metal.cut_level(cut.y, cut.first, cut.last)

    def between(self, metal: Metal, before: Pass, item: Pass) -> tuple[Pass, ...]:
        """Places on the way to a setting that keep each cut within its limit, where the setting at once is too wide.

        In a hollow little wider than the nose the edge would take all that is left there on either side of it; going
        round step by step it takes only what lies ahead. They carry no station.
        """
        least = self._worst(metal, before, (item,))
        found: tuple[Pass, ...] = ()
        for parts in PARTS if least > 0 else ():
            places = self._spaced(before, item, parts)
            worst = self._worst(metal, before, (*places, item))
            if worst < least - HARDLY:
                least, found = worst, places
            if worst <= 0:
                break
        return found

    def _spaced(self, before: Pass, item: Pass, parts: int) -> tuple[Pass, ...]:
        """Places between the end of one setting and the begin of the next, on the free side of the contact line."""
        out = []
        for share in np.linspace(0.0, 1.0, parts + 1)[1:-1]:
            x = self.lattice.x_up(before.last + share * (item.first - before.last))
            y = max(before.y + share * (item.y - before.y), self.line.highest(x, x))
            foot = before.foot + share * (item.foot - before.foot)
            out.append(Pass(self.lattice.y_up(y), x, x, foot, station=False))
        return tuple(p for p in out if math.isfinite(p.y))

    def _worst(self, metal: Metal, before: Pass, items: Iterable[Pass]) -> float:
        """By how much the widest of several cuts one after the other is too wide, mm."""
        metal, worst = metal.with_tool(metal.tool), 0.0
        for item in items:
            worst = max(worst, self._take(metal, before, item)[1])
            before = item
        return worst

    def entry(self, metal: Metal, item: Pass) -> float:
        """Where the nose is fed in for the first setting of a run, x: at the setting, or beside it.

        A wide nose that is fed straight down onto a slope cuts along much of its edge; where that is too much it goes
        in where the slope has fallen away, and along the axis from there.
        """
        if self._plunge(metal, item.first, item.y) <= self.inward:
            return item.first
        sides = [self._entry_beside(metal, item, side) for side in (1, -1)]
        found = [x for x in sides if x is not None]
        return min(found, key=lambda x: abs(x - item.first), default=item.first)

    def _entry_beside(self, metal: Metal, item: Pass, side: int) -> float | None:
        """The nearest place on one side of a setting where the nose may be fed in, and go along to the setting."""
        far = BESIDE * self.metal.tool.extent
        end = self.line.free_toward(item.first, item.first + side * far, item.y)
        for share in np.linspace(0.0, 1.0, PLACES + 1)[1:]:
            x = self.lattice.x(self.lattice.column_at(item.first + share * (end - item.first), side < 0))
            if (x - item.first) * side <= STILL or self._plunge(metal, x, item.y) > self.inward:
                continue
            return x if metal.try_level(item.y, x, item.first, self.frame.base).tall <= self.along else None
        return None

    def _plunge(self, metal: Metal, x: float, y: float) -> float:
        """How wide feeding straight in would cut, mm."""
        return metal.try_level(y, x, x, self.frame.base).wide

    def _way(self, metal: Metal, before: Pass | None, item: Pass) -> Iterator[Cut]:
        """The cuts with which a setting is reached and made."""
        at = self.entry(metal, item) if before is None else before.last
        if before is not None:
            over = max(before.y, item.y, self._top(at, item.last))
            if over > item.y + STILL or at < item.first - STILL:
                over = max(over, self._top(at, item.first))
                yield Cut(False, over, at, item.first)
                at = item.first
        yield Cut(True, item.y, at, at)
        if at < item.first - STILL:
            yield Cut(False, item.y, at, item.first)
            at = item.first
        if abs(item.last - at) > STILL:
            yield Cut(False, item.y, at, item.last)

    def _over(self, metal: Metal, cut: Cut) -> float:
        """By how much a cut is wider than it may be, mm."""
        last = (
            cut.last if cut.inward or abs(cut.last - cut.first) < LONG else cut.first + COUNTS * (cut.last - cut.first)
        )
        chip = metal.try_level(cut.y, cut.first, last, self.frame.base)
        return max(chip.wide - self.inward, 0.0) if cut.inward else max(chip.tall - self.along, 0.0)

    def _top(self, a: float, b: float) -> float:
        """The height needed to go level from x = a to b."""
        if (a, b) not in self.tops:
            height = self.line.highest(a, b) if abs(a - b) > STILL else -math.inf
            self.tops[a, b] = self.lattice.y_up(height) if math.isfinite(height) else height
        return self.tops[a, b]

    def _is_level(self, item: Pass) -> bool:
        if item not in self.level:
            self.level[item] = is_level(self.frame, self.metal.tool, item)
        return self.level[item]

    def _on_axis(self, item: Pass) -> bool:
        return self.frame.sign > 0 and item.y < NEAR_AXIS * self.metal.tool.nose_radius


def is_level(frame: View, tool: Tool, item: Pass) -> bool:
    """Whether a setting finishes a cylinder or a face: it takes what its length asks for."""
    chain = frame.chain
    k, _ = chain.locate(np.array([item.foot]))
    if not chain.is_arc[k[0]] and min(abs(chain.tx[k[0]]), abs(chain.ty[k[0]])) < LEVEL:
        return True
    return item.first - item.last > SHORT and _goes_along_a_cylinder(frame, tool, item)


def _goes_along_a_cylinder(frame: View, tool: Tool, item: Pass) -> bool:
    """Whether a level sweep has its foot in a hollow but goes along a cylinder as low as a plain pass would."""
    chain = frame.chain
    level = np.flatnonzero(~chain.is_arc & (np.abs(chain.ty) < LEVEL))
    start, y = chain.points(chain.starts[level])
    end, _ = chain.points(chain.starts[level + 1])
    low = np.abs(y + tool.nose_radius - item.y) < frame.lattice(tool).dy + SAME_PLACE
    return bool((low & (np.minimum(start, item.first) - np.maximum(end, item.last) > SHORT)).any())
