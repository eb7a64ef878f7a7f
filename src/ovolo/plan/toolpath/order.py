"""In which order settings are cut: onward from the free end, inward where the outline is steep, as evenly as may be.

Where the outline rises toward the chuck less steeply than 45°, the settings are taken outward: the cross slide is wound
out, the saddle cuts toward the chuck. Where it is steeper they are taken inward: the saddle is wound back, the cross
slide cuts toward the axis. Where the two meet, and whether a steep place is cut inward at all, is tried on the quick
picture of the metal: that order is taken which keeps the most cuts within their limits, and of those the most even.
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
from ovolo.plan.toolpath.picture import STILL, Picture, Run, Takes, ratio
from ovolo.plan.view.view import View

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
#: A place that leans toward the chuck by more than this falls toward it, sine of the angle.
FALLS = 0.01
#: How often the groups are gone through.
ROUNDS = 2
#: So many settings before and after those turned are looked at with them.
FAR = 6


def runs(frame: View, passes: Sequence[Pass], metal: Metal | None = None) -> list[Run]:
    """Settings in the order in which they are cut, the free end first.

    With `metal`, where two ways meet near 45° they do so where it makes their cuts most even; and steep places are cut
    onward like the others where that does.
    """
    groups = [Group(way, tuple(group)) for way, group in groupby(passes, key=lambda p: _way(frame, p))]
    if metal is None:
        return _ordered(groups)
    picture = Picture(frame, metal)
    if all(group.way == "onward" for group in groups) and not picture.takes(_ordered(groups)).too_wide:
        return _ordered(groups)
    for i in range(len(groups) - 1):
        groups[i : i + 2] = _meet(picture, groups[i], groups[i + 1])
    groups = [part for group in groups for part in _by_facing(frame, group)]
    return _evenest(picture, groups)


@dataclass(frozen=True)
class Group:
    """Settings that are cut one way: "onward" or "inward"."""

    way: str
    passes: tuple[Pass, ...]

    def turned(self) -> Group:
        """The same the other way."""
        return Group("inward" if self.way == "onward" else "onward", self.passes)


def _by_facing(frame: View, group: Group) -> list[Group]:
    """A group that is cut onward, apart where it faces the chuck: there it may be cut climbing, the other way."""
    if group.way != "onward":
        return [group]
    return [Group("onward", tuple(found)) for _, found in groupby(group.passes, key=lambda p: _falls(frame, p))]


def _falls(frame: View, item: Pass) -> bool:
    """Whether the outline falls toward the chuck where a setting touches it."""
    nx, _ = frame.chain.normals(*frame.chain.locate(np.array([item.foot])))
    return item.first - item.last <= STILL and nx[0] < -FALLS


def _evenest(picture: Picture, groups: Sequence[Group]) -> list[Run]:
    """The groups as they are, all onward, or some of them turned: whichever makes the cuts most even."""
    usual, onward = _ordered(groups), _ordered([Group("onward", g.passes) for g in groups])
    takes = picture.takes(usual)
    candidates = [(takes.worth, usual), (_less(picture.takes(onward)), onward)]
    turned = _turned(picture, groups, takes)
    if turned != list(groups) and _ordered(turned) != onward:
        some = _ordered(turned)
        candidates.append((_less(picture.takes(some)), some))
    return min(candidates, key=lambda c: c[0])[1]


def _less(takes: Takes) -> tuple[int, float]:
    """How bad an order is that has to be worth a change."""
    return takes.too_wide, takes.worth[1] * WORTH


def _turned(picture: Picture, groups: Sequence[Group], takes: Takes) -> list[Group]:
    """The groups with those turned that keep more cuts within their limit, make the whole more even, or their place
    much more while the whole is not less; `takes` is what settings take as the groups are."""
    out, area = list(groups), dict(takes.area)
    for _ in range(ROUNDS):
        for i in range(len(out)):
            if not _may_turn(out, i) and not any(takes.wide[p] for p in out[i].passes):
                continue
            part, other = _around(out, i), _around(_with(out, i), i)
            now, new = picture.takes(_ordered(part)), picture.takes(_ordered(other))
            then = {p: took for p, took in area.items() if p not in now.area} | {
                p: max(area.get(p, 0.0) + took - now.area.get(p, 0.0), CUTS) for p, took in new.area.items()
            }
            before, after = ratio(area.values()), ratio(then.values())
            better = after * WORTH < before or (after <= before and new.worth[1] * MUCH < now.worth[1])
            if new.too_wide < now.too_wide or (better and new.too_wide == now.too_wide):
                out, area = _with(out, i), then
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

    def unevenness(meet: int) -> tuple[int, float]:
        parts = Group(before.way, tuple(every[first:meet])), Group(after.way, tuple(every[meet:last]))
        return picture.takes(_ordered(parts)).worth

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
