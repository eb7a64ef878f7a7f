"""Which tool cuts which stretch of the curve: the fewest tools, then the fewest stations."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import NamedTuple

from ovolo.geometry.coverage import Settings, Spans
from ovolo.plan.move import Proof
from ovolo.plan.stations.equal_steps import Row, between, rows_in
from ovolo.plan.stations.stations import REACHED, Choice, Chooser, Pass, cover_of, grid_settings, uncovered
from ovolo.plan.stations.taper import SlantPass, left_to_step, passes_by
from ovolo.plan.view.frame import Frame
from ovolo.plan.view.undercut_frame import SideView, real_tool, side_tool, side_views
from ovolo.shop.tools import Tool

Stretch = tuple[float, float]

#: A stretch shorter than this is not worth a tool of its own, mm.
SHORT = 1e-4
#: Settings with more under the nose than so many ridges are not looked at: one fewer station is never bought by them.
WIDEST_GAP = 1.5
#: At most this many tools are tried together.
TOGETHER = 4


@dataclass(frozen=True)
class Reach:
    """What one tool can finish to a ridge: its settings on the grid and the parts of the curve that they cover; from
    above, or from the `side` in one bay."""

    tool: Tool
    settings: Settings
    covered: tuple[Stretch, ...]
    missed: tuple[Stretch, ...]
    known: dict[float, Spans]
    side: SideView | None = None

    def chooser(self, frame: Frame, stretch: Stretch) -> Chooser:
        """One that chooses among its settings over a stretch."""
        return Chooser(self.side or frame, self.tool, stretch, self.settings, self.known)

    @property
    def name(self) -> str:
        """Of its tool."""
        return self.tool.name


#: A tool and what it finishes.
Share = tuple[Reach, tuple[Stretch, ...]]


class SideWork(NamedTuple):
    """What a tool finishes in one bay: the bay's own view, the tool turned as it is, the settings in that view, and the
    ridge that they leave, mm."""

    view: SideView
    tool: Tool
    passes: tuple[Pass, ...]
    ridge: float


@dataclass(frozen=True)
class Work:
    """What one tool finishes: its stretches, the settings chosen for them, and the ridge that they leave, mm; what it
    then does in bays, and along which cones the top slide takes it."""

    tool: Tool
    stretches: tuple[Stretch, ...]
    passes: tuple[Pass, ...]
    ridge: float
    sides: tuple[SideWork, ...] = ()
    slants: tuple[SlantPass, ...] = ()

    @property
    def stations(self) -> int:
        """How many settings it takes; a cone counts as one."""
        return len(self.passes) + sum(len(s.passes) for s in self.sides) + len(self.slants)

    @property
    def highest(self) -> float:
        """The most that all of it leaves, in bays and on cones too, mm."""
        return max([self.ridge, *(s.ridge for s in self.sides), *(s.leaves for s in self.slants)])


@dataclass(frozen=True)
class Assignment:
    """The tools in the order of their first stretch; the fewest stations that these stretches take, with the proof of
    that number; and how many stations are equal steps of one slide, where the job asks for them."""

    works: tuple[Work, ...]
    fewest: int
    proof: Proof
    equal: int = 0

    @property
    def stations(self) -> int:
        """How many settings all tools take."""
        return sum(w.stations for w in self.works)


def reaches_of(frame: Frame, tools: Sequence[Tool], ridge: float) -> list[Reach]:
    """What every tool can finish, from above and in the bays of the outline."""
    above = [reach_of(frame, t, ridge) for t in tools]
    views = side_views(frame)
    return above + [r for t in tools for v in views if (r := _side_reach(v, t, ridge)) is not None]


def _side_reach(view: SideView, tool: Tool, ridge: float) -> Reach | None:
    """What a tool can finish in a bay; None where it can do nothing there."""
    turned = side_tool(tool, view.bay.way)
    if turned is None or view.mouth(turned) is None:
        return None
    settings = grid_settings(view, turned, (view.bay.begin, view.bay.end))
    settings = settings.take(settings.gap <= WIDEST_GAP * ridge)
    if not len(settings.x):
        return None
    known = cover_of(view, turned, settings, ridge)
    return reach_over(view.whole, Reach(turned, settings, (), (), {ridge: known}, view), ridge)


def missed_by_all(frame: Frame, reaches: Sequence[Reach]) -> list[Stretch]:
    """The parts of the curve that every one of these misses."""
    common: list[Stretch] = [frame.stretch]
    for reach in reaches:
        common = [(max(a, c), min(b, d)) for a, b in common for c, d in reach.missed if min(b, d) - max(a, c) > 0]
    return common


def reach_of(frame: Frame, tool: Tool, ridge: float) -> Reach:
    """What a tool can finish from above."""
    settings = grid_settings(frame, tool, frame.stretch)
    settings = settings.take(settings.gap <= WIDEST_GAP * ridge)
    known = cover_of(frame, tool, settings, ridge)
    return reach_over(frame, Reach(tool, settings, (), (), {ridge: known}), ridge)


def reach_over(frame: Frame, reach: Reach, ridge: float) -> Reach:
    """The same settings over the stretch of another frame of the same job."""
    covered = _within(reach, _rest(frame.stretch, uncovered(frame, reach.known[ridge])))
    return replace(reach, covered=tuple(covered), missed=tuple(_rest(frame.stretch, covered)))


def _rest(whole: Stretch, parts: Sequence[Stretch]) -> list[Stretch]:
    """What these parts leave of a stretch."""
    out, at = [], whole[0]
    for low, high in (*parts, (whole[1], whole[1])):
        if low - at > REACHED:
            out.append((at, low))
        at = max(at, high)
    return out


def _within(reach: Reach, covered: Sequence[Stretch]) -> list[Stretch]:
    """The stretches that a tool can be brought to: in a bay only those behind its mouth."""
    if reach.side is None:
        return list(covered)
    low, high = reach.side.reachable(reach.tool)
    cut = ((max(a, low), min(b, high)) for a, b in covered)
    return [(a, b) for a, b in cut if b - a > REACHED]


def assign(frame: Frame, reaches: Sequence[Reach], ridge: float) -> Assignment | None:
    """The fewest tools that finish the whole curve, and among those the fewest stations; None where none do."""
    found = allocate(frame, reaches, ridge)
    return None if found is None else equalised(frame, found[1], ridge, proof_of(frame, found[1], ridge))


def allocate(frame: Frame, reaches: Sequence[Reach], ridge: float) -> tuple[int, list[Share]] | None:
    """The fewest stations, with the fewest tools, and which tool cuts what; None where none do."""
    useful = [r for r in reaches if r.covered]
    names = list(dict.fromkeys(r.name for r in useful))
    for many in range(1, min(TOGETHER, len(names)) + 1):
        groups = [[r for r in useful if r.name in some] for some in combinations(names, many)]
        found = [a for group in groups for a in _with(frame, group, ridge)]
        if found:
            return min(found, key=lambda f: f[0])
    return None


def stations_for(frame: Frame, drawer: Sequence[Tool], ridge: float) -> int | None:
    """How many stations a plan for this ridge has: the fewest, or more where the job asks for equal steps."""
    if frame.job.shop.by is None:
        return fewest_for(frame, drawer, ridge)
    found = assign(frame, reaches_of(frame, drawer, ridge), ridge)
    return None if found is None else found.stations


def fewest_for(frame: Frame, drawer: Sequence[Tool], ridge: float) -> int | None:
    """How many stations this ridge takes with the fewest tools, without choosing them; None where none do."""
    found = allocate(frame, reaches_of(frame, drawer, ridge), ridge)
    return None if found is None else found[0]


def _with(frame: Frame, group: Sequence[Reach], ridge: float) -> list[tuple[int, list[Share]]]:
    """The curve shared among these tools, with the number of stations; nothing where they don't cover it together."""
    slants = passes_by(frame, [r.tool for r in group if r.side is None], ridge)
    shares = None if slants is None else _share(left_to_step(frame, slants, ridge), group, slants)
    if slants is None or shares is None:
        return []
    count = len(slants)
    for reach, stretches in shares:
        for stretch in stretches:
            found = reach.chooser(frame, stretch).cover(ridge)
            if found is None:
                return []
            count += len(found[1])
    return [(count, shares)]


def _share(whole: Sequence[Stretch], group: Sequence[Reach], slants: Sequence[SlantPass]) -> list[Share] | None:
    """Larger noses take all that they reach, smaller ones the rest, and last what is reached from the side alone;
    every tool of the group must get something, if only a cone."""
    left, shares = list(whole), []
    for reach in sorted(group, key=lambda r: (r.side is not None, -r.tool.nose_radius)):
        mine, rest = [], []
        for low, high in left:
            at = low
            for a, b in reach.covered:
                a, b = max(a, low), min(b, high)
                if b - a > SHORT:
                    mine.append((a, b))
                    if a - at > REACHED:
                        rest.append((at, a))
                    at = b
            if high - at > REACHED:
                rest.append((at, high))
        if mine:
            shares.append((reach, tuple(mine)))
            left = rest
    named = {r.name for r, _ in shares}
    shares += [(r, ()) for r in group if r.side is None and r.name not in named and _has_a_cone(r, slants)]
    if left or {r.name for r, _ in shares} != {r.name for r in group}:
        return None
    return sorted(shares, key=lambda s: s[1][0] if s[1] else whole[-1] if whole else (0.0, 0.0))


def _has_a_cone(reach: Reach, slants: Sequence[SlantPass]) -> bool:
    return any(item.tool == reach.tool for item in slants)


def proof_of(frame: Frame, shares: Sequence[Share], ridge: float) -> Proof:
    """What the best plan with one station fewer would leave, with the same tools over the same stretches."""
    total, leaves = len(_slants(frame, shares, ridge)), []
    for reach, stretches in shares:
        for stretch in stretches:
            chooser = reach.chooser(frame, stretch)
            choice = chooser.choose(ridge)
            assert choice is not None
            many = len(choice.passes)  # with a lower ridge it may be fewer: a coarse grid is not even
            total += many
            fewer = chooser.one_fewer(many, ridge)
            leaves += [] if fewer is None else [fewer]
    return Proof(total - 1, min(leaves, default=None))


def equalised(frame: Frame, shares: Sequence[Share], ridge: float, proof: Proof) -> Assignment:
    """Choose the settings of every stretch with its highest ridge as low as its number allows."""
    works: list[Work] = []
    sides: dict[str, list[SideWork]] = {}
    slants = _slants(frame, shares, ridge)
    total, equal = len(slants), 0
    for reach, stretches in shares:
        passes: list[Pass] = []
        highest = 0.0
        for stretch in stretches:
            chooser = reach.chooser(frame, stretch)
            choice = chooser.choose(ridge)
            assert choice is not None
            total += len(choice.passes)
            choice, steps = _by_equal_steps(frame, reach, stretch, ridge, choice)
            passes += choice.passes
            highest = max(highest, choice.ridge)
            equal += steps
        if reach.side is None:
            mine = tuple(item for item in slants if item.tool == reach.tool)
            works.append(Work(reach.tool, stretches, tuple(passes), highest, slants=mine))
        else:
            sides.setdefault(reach.name, []).append(SideWork(reach.side, reach.tool, tuple(passes), highest))
    return Assignment(tuple(_with_sides(works, sides)), total, proof, equal)


def _slants(frame: Frame, shares: Sequence[Share], ridge: float) -> list[SlantPass]:
    """The passes along cones with these tools."""
    return passes_by(frame, [reach.tool for reach, _ in shares if reach.side is None], ridge) or []


def _with_sides(works: Sequence[Work], sides: dict[str, list[SideWork]]) -> list[Work]:
    """The same with what each tool does in bays; a tool that does nothing else comes last."""
    out = [replace(w, sides=tuple(sides.get(w.tool.name, ()))) for w in works]
    alone = [found for name, found in sides.items() if all(w.tool.name != name for w in works)]
    return out + [Work(real_tool(found[0].tool), (), (), 0.0, tuple(found)) for found in alone]


def _by_equal_steps(frame: Frame, reach: Reach, stretch: Stretch, ridge: float, usual: Choice) -> tuple[Choice, int]:
    """The settings of a stretch with equal steps of one slide wherever they serve, and how many they are; `usual`
    where the job asks for none or they serve nowhere."""
    by = frame.job.shop.by if reach.side is None else None  # in a bay they would be steps of the other slide
    rows = () if by is None else rows_in(frame, reach.tool, reach.settings, stretch, ridge, by)
    if not rows:
        return usual, 0
    parts: list[tuple[float, bool, tuple[Pass, ...]]] = [(row.begin, True, _passes(row)) for row in rows]
    for gap in between(frame, rows, stretch):
        choice = reach.chooser(frame, gap).choose(ridge)
        assert choice is not None  # the whole stretch is covered, so each part of it is
        parts.append((gap[0], False, choice.passes))
    passes = tuple(p for _, _, group in sorted(parts, key=lambda part: part[:2]) for p in group)
    return Choice(passes, ridge), sum(len(row.picked) for row in rows)


def _passes(row: Row) -> tuple[Pass, ...]:
    return row.chooser.passes(row.covers, row.picked)
