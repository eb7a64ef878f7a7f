"""In which order settings are cut: onward from the free end, inward where the outline is steep, as evenly as may be.

Where the outline rises toward the chuck less steeply than 45°, the settings are taken outward: the cross slide is wound
out, the saddle cuts toward the chuck. Where it is steeper they are taken inward: the saddle is wound back, the cross
slide cuts toward the axis. Where the two meet, and whether a steep place is cut inward at all, is tried on the quick
picture of the metal: that order is taken which makes the cuts most even.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from ovolo.plan.stations.stations import Pass
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.moves import CUTS
from ovolo.plan.toolpath.plain_passes import SHORT
from ovolo.plan.view.view import View
from ovolo.shop.tools import Tool
from ovolo.tolerances import LEVEL, ROUNDING, SAME_PLACE

#: Shorter ways than this are none, mm.
STILL = ROUNDING
#: Slope at which a climbing outline is cut inward instead of outward: normals nearer the axis than this, cosine.
STEEP = math.cos(math.pi / 4)
#: So near to 45° a setting may be cut either way, radians.
EITHER = math.radians(25)
#: So many settings beside those are looked at with them.
BESIDE = 3
#: Cuts are narrower inward: only an order that is more even by this factor is worth more.
WORTH = 1.01
#: And one that makes a place more even by this factor, where the whole is not less even.
MUCH = 1.5
#: How often the groups are gone through.
ROUNDS = 2
#: So many settings before and after those turned are looked at with them.
FAR = 6
#: A nose centre this near to the axis stands on it, nose radii.
NEAR_AXIS = 0.01


@dataclass(frozen=True)
class Run:
    """Settings that follow each other without withdrawing."""

    passes: tuple[Pass, ...]


def runs(frame: View, passes: Sequence[Pass], metal: Metal | None = None) -> list[Run]:
    """Settings in the order in which they are cut, the free end first.

    With `metal`, where two ways meet near 45° they do so where it makes their cuts most even; and steep places are cut
    onward like the others where that does.
    """
    groups = [Group(way, tuple(group)) for way, group in groupby(passes, key=lambda p: _way(frame, p))]
    if metal is None or all(group.way == "onward" for group in groups):
        return _ordered(groups)
    picture = Picture(frame, metal)
    for i in range(len(groups) - 1):
        groups[i : i + 2] = _meet(picture, groups[i], groups[i + 1])
    return _evenest(picture, groups)


class Picture:
    """The quick picture of the metal, and what settings take of it in one order or another."""

    def __init__(self, frame: View, metal: Metal) -> None:
        self.frame, self.metal = frame, metal
        self.line, self.lattice = frame.contact_line(metal.tool), frame.lattice(metal.tool)
        self.tops: dict[tuple[float, float], float] = {}
        self.level: dict[Pass, bool] = {}

    def takes(self, order: Iterable[Run]) -> dict[Pass, float]:
        """What each setting takes in this order, mm², from the one before it or from above; plain passes aside, and
        those that take nothing. On the axis a cut counts on both sides of it."""
        metal, found = self.metal.with_tool(self.metal.tool), {}
        for run in order:
            before: Pass | None = None
            for item in run.passes:
                area = self._take(metal, before, item)
                if item.station and area > CUTS and not self._is_level(item):
                    found[item] = area * (2 if self._on_axis(item) else 1)
                before = item
        return found

    def _take(self, metal: Metal, before: Pass | None, item: Pass) -> float:
        """What a setting takes, with the way to it."""
        base = self.frame.base
        if before is None:
            return metal.take_level(item.y, item.first, item.last, base)
        x, over = before.last, max(before.y, item.y, self._top(before.last, item.last))
        if over <= item.y + STILL and x >= item.first - STILL:
            return metal.take_level(item.y, x, item.last, base)
        over = max(over, self._top(x, item.first))
        return metal.take_level(over, x, item.first, base) + metal.take_level(item.y, item.first, item.last, base)

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


def ratio(takes: Iterable[float]) -> float:
    """The largest to the smallest of these [-]; 1 where there are none.

    >>> ratio([0.25, 1.0, 0.5])
    4.0
    """
    takes = list(takes)
    return max(takes) / min(takes) if takes else 1.0


@dataclass(frozen=True)
class Group:
    """Settings that are cut one way: "onward" or "inward"."""

    way: str
    passes: tuple[Pass, ...]

    def turned(self) -> Group:
        """The same the other way."""
        return Group("inward" if self.way == "onward" else "onward", self.passes)


def _evenest(picture: Picture, groups: Sequence[Group]) -> list[Run]:
    """The groups as they are, all onward, or some of them turned: whichever makes the cuts most even."""
    usual, onward = _ordered(groups), _ordered([Group("onward", g.passes) for g in groups])
    takes = picture.takes(usual)
    candidates = [(ratio(takes.values()), usual), (ratio(picture.takes(onward).values()) * WORTH, onward)]
    turned = _turned(picture, groups, takes)
    if turned != list(groups) and _ordered(turned) != onward:
        some = _ordered(turned)
        candidates.append((ratio(picture.takes(some).values()) * WORTH, some))
    return min(candidates, key=lambda c: c[0])[1]


def _turned(picture: Picture, groups: Sequence[Group], takes: dict[Pass, float]) -> list[Group]:
    """The groups with those turned that make the whole more even, or their place much more while the whole is not less;
    `takes` is what settings take as the groups are."""
    out, takes = list(groups), dict(takes)
    for _ in range(ROUNDS):
        for i in (i for i in range(len(out)) if _may_turn(out, i)):
            part, other = _around(out, i), _around(_with(out, i), i)
            now, new = picture.takes(_ordered(part)), picture.takes(_ordered(other))
            then = {p: area for p, area in takes.items() if p not in now} | {
                p: max(takes.get(p, 0.0) + area - now.get(p, 0.0), CUTS) for p, area in new.items()
            }
            before, after = ratio(takes.values()), ratio(then.values())
            if after * WORTH < before or (after <= before and ratio(new.values()) * MUCH < ratio(now.values())):
                out, takes = _with(out, i), then
    return out


def _with(groups: Sequence[Group], i: int) -> list[Group]:
    """The groups with one turned."""
    return [*groups[:i], groups[i].turned(), *groups[i + 1 :]]


def _may_turn(groups: Sequence[Group], i: int) -> bool:
    """Whether a group may be cut the other way: a steep one, or a short one beside a steep one."""
    beside = [*groups[max(i - 1, 0) : i], *groups[i + 1 : i + 2]]
    return groups[i].way == "inward" or (len(groups[i].passes) <= BESIDE and any(g.way == "inward" for g in beside))


def _around(groups: Sequence[Group], i: int) -> list[Group]:
    """A group with what its order concerns too: those beside it, no farther than that matters."""
    near = [groups[i]]
    if i:
        near.insert(0, Group(groups[i - 1].way, groups[i - 1].passes[-FAR:]))
    if i + 1 < len(groups):
        near.append(Group(groups[i + 1].way, groups[i + 1].passes[:FAR]))
    return near


def _ordered(groups: Iterable[Group]) -> list[Run]:
    """Runs of the groups; neighbours of one way make one run."""
    return [_run(way, [p for g in found for p in g.passes]) for way, found in groupby(groups, key=lambda g: g.way)]


def _meet(picture: Picture, before: Group, after: Group) -> tuple[Group, Group]:
    """Shift settings from the end of one group to the beginning of the next, so that the cuts there are most even.

    On a bulge the two ways run apart, and the first cut has metal on either side of the nose; in a hollow they run
    toward each other, and the last cut has metal on neither.
    """
    every, here = [*before.passes, *after.passes], len(before.passes)
    low = high = here
    while low > 1 and _near_diagonal(picture.frame, every[low - 1]):
        low -= 1
    while high < len(every) - 1 and _near_diagonal(picture.frame, every[high]):
        high += 1
    if low == high:
        return before, after
    first, last = max(low - BESIDE, 0), high + BESIDE

    def unevenness(meet: int) -> float:
        parts = Group(before.way, tuple(every[first:meet])), Group(after.way, tuple(every[meet:last]))
        return ratio(picture.takes(_ordered(parts)).values())

    meet = min(range(low, high + 1), key=unevenness)
    return Group(before.way, tuple(every[:meet])), Group(after.way, tuple(every[meet:]))


def _near_diagonal(frame: View, item: Pass) -> bool:
    """Whether a setting may as well be cut one way as the other."""
    nx, _ = frame.chain.normals(*frame.chain.locate(np.array([item.foot])))
    return item.first - item.last <= STILL and abs(math.acos(max(min(nx[0], 1.0), -1.0)) - math.pi / 4) < EITHER


def _way(frame: View, item: Pass) -> str:
    if item.first - item.last > STILL:  # a plain pass ends where it then goes straight up: what it promises to sweep
        return "onward"
    nx, _ = frame.chain.normals(*frame.chain.locate(np.array([item.foot])))
    return "inward" if nx[0] > STEEP else "onward"


def _run(way: str, group: Iterable[Pass]) -> Run:
    group = tuple(group)
    return Run(tuple(reversed(group)) if way == "inward" else group)
