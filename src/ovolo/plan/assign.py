"""Which tool cuts which stretch of the curve: the fewest tools, then the fewest stations."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from ovolo.plan.coverage import Settings, Spans
from ovolo.plan.equal import Row, between, rows_in
from ovolo.plan.frame import Frame
from ovolo.plan.model import Proof
from ovolo.plan.stations import REACHED, Choice, Chooser, Pass, cover_of, grid_settings, uncovered
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
    """What one tool can finish to a ridge: its settings on the grid and the parts of the curve that they cover."""

    tool: Tool
    settings: Settings
    covered: tuple[Stretch, ...]
    missed: tuple[Stretch, ...]
    known: dict[float, Spans]

    def chooser(self, frame: Frame, stretch: Stretch) -> Chooser:
        """One that chooses among its settings over a stretch."""
        return Chooser(frame, self.tool, stretch, self.settings, self.known)


#: A tool and what it finishes.
Share = tuple[Reach, tuple[Stretch, ...]]


@dataclass(frozen=True)
class Work:
    """What one tool finishes: its stretches, the settings chosen for them, and the ridge that they leave, mm."""

    tool: Tool
    stretches: tuple[Stretch, ...]
    passes: tuple[Pass, ...]
    ridge: float


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
        return sum(len(w.passes) for w in self.works)


def reach_of(frame: Frame, tool: Tool, ridge: float) -> Reach:
    """What a tool can finish."""
    settings = grid_settings(frame, tool, frame.stretch)
    settings = settings.take(settings.gap <= WIDEST_GAP * ridge)
    known = cover_of(frame, tool, settings, ridge)
    return reach_over(frame, Reach(tool, settings, (), (), {ridge: known}), ridge)


def reach_over(frame: Frame, reach: Reach, ridge: float) -> Reach:
    """The same settings over the stretch of another frame of the same job."""
    missed = tuple(uncovered(frame, reach.known[ridge]))
    covered, at = [], frame.stretch[0]
    for low, high in (*missed, (frame.stretch[1], frame.stretch[1])):
        if low - at > REACHED:
            covered.append((at, low))
        at = high
    return replace(reach, covered=tuple(covered), missed=missed)


def assign(frame: Frame, reaches: Sequence[Reach], ridge: float) -> Assignment | None:
    """The fewest tools that finish the whole curve, and among those the fewest stations; None where none do."""
    found = share_out(frame, reaches, ridge)
    return None if found is None else spread(frame, found[1], ridge, proof_of(frame, found[1], ridge))


def share_out(frame: Frame, reaches: Sequence[Reach], ridge: float) -> tuple[int, list[Share]] | None:
    """The fewest stations, with the fewest tools, and which tool cuts what; None where none do."""
    useful = [r for r in reaches if r.covered]
    for many in range(1, min(TOGETHER, len(useful)) + 1):
        found = [a for group in combinations(useful, many) for a in _with(frame, group, ridge)]
        if found:
            return min(found, key=lambda f: f[0])
    return None


def stations_for(frame: Frame, drawer: Sequence[Tool], ridge: float) -> int | None:
    """How many stations a plan for this ridge has: the fewest, or more where the job asks for equal steps."""
    if frame.job.shop.by is None:
        return fewest_for(frame, drawer, ridge)
    found = assign(frame, [reach_of(frame, t, ridge) for t in drawer], ridge)
    return None if found is None else found.stations


def fewest_for(frame: Frame, drawer: Sequence[Tool], ridge: float) -> int | None:
    """How many stations this ridge takes with the fewest tools, without choosing them; None where none do."""
    found = share_out(frame, [reach_of(frame, t, ridge) for t in drawer], ridge)
    return None if found is None else found[0]


def _with(frame: Frame, group: Sequence[Reach], ridge: float) -> list[tuple[int, list[Share]]]:
    """The curve shared among these tools, with the number of stations; nothing where they don't cover it together."""
    shares = _share(frame.stretch, group)
    if shares is None:
        return []
    count = 0
    for reach, stretches in shares:
        for stretch in stretches:
            found = reach.chooser(frame, stretch).cover(ridge)
            if found is None:
                return []
            count += len(found[1])
    return [(count, shares)]


def _share(whole: Stretch, group: Sequence[Reach]) -> list[Share] | None:
    """Larger noses take all that they reach, smaller ones the rest; every tool of the group must get something."""
    left, shares = [whole], []
    for reach in sorted(group, key=lambda r: -r.tool.nose_radius):
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
        if not mine:
            return None
        shares.append((reach, tuple(mine)))
        left = rest
    return None if left else sorted(shares, key=lambda s: s[1][0])


def proof_of(frame: Frame, shares: Sequence[Share], ridge: float) -> Proof:
    """What the best plan with one station fewer would leave, with the same tools over the same stretches."""
    total, leaves = 0, []
    for reach, stretches in shares:
        for stretch in stretches:
            chooser = reach.chooser(frame, stretch)
            found = chooser.cover(ridge)
            assert found is not None
            total += len(found[1])
            fewer = chooser.one_fewer(len(found[1]), ridge)
            leaves += [] if fewer is None else [fewer]
    return Proof(total - 1, min(leaves, default=None))


def spread(frame: Frame, shares: Sequence[Share], ridge: float, proof: Proof) -> Assignment:
    """Choose the settings of every stretch with its highest ridge as low as its number allows."""
    works = []
    total = equal = 0
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
        works.append(Work(reach.tool, stretches, tuple(passes), highest))
    return Assignment(tuple(works), total, proof, equal)


def _by_equal_steps(frame: Frame, reach: Reach, stretch: Stretch, ridge: float, usual: Choice) -> tuple[Choice, int]:
    """The settings of a stretch with equal steps of one slide wherever they serve, and how many they are; `usual`
    where the job asks for none or they serve nowhere."""
    by = frame.job.shop.by
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
