"""From readings to the causes that they support, and to those that they cannot tell apart."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ovolo.check.causes import ordinary, settings_wrong
from ovolo.check.evidence import APART, Bench, Explained, Weight, price
from ovolo.check.jaws import Jaws
from ovolo.plan.model import Plan

__all__ = ["Reasons", "reasons_of"]

WORTH = 14.0
"""Explanations within this of the best are looked at again, about the part as each explains it."""

MOST_AGAIN, MOST_SETTINGS = 5, 8

PAIRED = ("cross_offset", "saddle_offset", "nose_radius", "taper", "centre_height")
"""Causes that are looked at two at a time."""

UNLIKELY = 3.0
"""Readings that scatter by so many standard deviations of chi squared more than they should fit no explanation."""


@dataclass(frozen=True)
class Reasons:
    """The best explanation; others that are as good; whether any fits at all."""

    best: Explained
    rivals: tuple[Explained, ...]
    nothing: Explained
    fits: bool

    @property
    def named(self) -> bool:
        """Whether the causes of the best explanation may be named."""
        return bool(self.best.causes) and self.fits and not self.rivals and self.best.clear


def reasons_of(plan: Plan, bench: Bench) -> Reasons:
    """The explanation of the readings that has the most evidence, and those that have as much."""
    weight = bench.weight(bench.positions)
    nothing = bench.fit((), weight)
    touching = _touching(bench)
    singles = [bench.fit((cause,), weight) for cause in ordinary(plan, bench.positions, touching)]
    found = _looked_again(bench, [nothing, *singles, *_pairs(bench, weight, singles)])
    best = min(found, key=lambda each: each.score)
    if not _fits(best, bench.n):
        found += [bench.again(each) for each in _settings(bench, weight, nothing, touching)]
        best = min(found, key=lambda each: each.score)
    if best.causes and not best.clear:
        clear = [each for each in found if not each.causes or each.clear]
        best = min(clear, key=lambda each: each.score)
    rivals = [each for each in found if each is not best and _rival(each, best)]
    return Reasons(best, tuple(sorted(rivals, key=lambda each: each.score)), nothing, _fits(best, bench.n))


def _touching(bench: Bench) -> list[int]:
    """The moves that shaped what was read."""
    jaws = Jaws.on(bench.positions, bench.readings, 0.02)
    return sorted({int(m) for m in jaws.spots.move})


def _settings(bench: Bench, weight: Weight, nothing: Explained, touching: Sequence[int]) -> list[Explained]:
    """Single figures set wrong, where no cause of the whole part explains the readings: the likeliest few."""
    base, ranked = bench.first_read, []
    for cause in settings_wrong(bench.positions, touching):
        for size in (0.1, -0.1):
            rise = bench.first.at_place(bench.with_causes((cause,), (size,))) - base
            own = float(rise @ weight.inverse @ rise)
            if (np.abs(rise) > 0.005).sum() > 1:
                share = float(rise @ weight.inverse @ nothing.left) / own
                gain = share**2 * own if share > 0 else 0.0
                ranked.append((gain, cause, float(np.clip(size * share, -1.0, 1.0))))
    ranked.sort(key=lambda item: -item[0])
    tries = [bench.fit((cause,), weight, [start]) for _, cause, start in ranked[:MOST_SETTINGS]]
    return sorted(tries, key=lambda each: each.score)[:2]


def _pairs(bench: Bench, weight: Weight, singles: Sequence[Explained]) -> list[Explained]:
    """Two causes at once, where what one leaves over looks like enough of another."""
    able = [fit for fit in singles if fit.causes[0].name in PAIRED and fit.causes[0].choices == 1]
    best = min(able, key=lambda each: each.score)
    found = []
    for one, other in itertools.combinations(able, 2):
        causes = (*one.causes, *other.causes)
        if _promise(one, other, weight) < best.chi2 - price(bench.n) + 4.0:
            fit = bench.fit(causes, weight, [float(one.values[0]), 0.0])
            found.append(min((fit, bench.fit(causes, weight)), key=lambda each: each.chi2))
    return found


def _promise(one: Explained, other: Explained, weight: Weight) -> float:
    """What both together would leave over if neither changed the other's slopes."""
    base, more = (one, other) if one.chi2 <= other.chi2 else (other, one)
    a, b, inverse = base.slopes[:, 0], more.slopes[:, 0], weight.inverse
    own = float(a @ inverse @ a)
    rest = b - a * float(a @ inverse @ b) / own if own > 0 else b
    size = float(rest @ inverse @ rest)
    return base.chi2 - (float(rest @ inverse @ base.left) ** 2 / size if size > 1e-12 else 0.0)


def _looked_again(bench: Bench, found: Sequence[Explained]) -> list[Explained]:
    """The best few once more, and nothing wrong always among them."""
    ranked = sorted(found, key=lambda each: each.score)
    kept = [each for each in ranked if each.score < ranked[0].score + WORTH][:MOST_AGAIN]
    if not any(not each.causes for each in kept):
        kept.append(next(each for each in ranked if not each.causes))
    return [bench.again(each) for each in kept]


def _rival(each: Explained, best: Explained) -> bool:
    """Whether an explanation is as good, and says something else."""
    if not best.causes or each.score > best.score + APART or len(each.causes) > len(best.causes):
        return False
    return not each.causes or {c.key for c in each.causes} != {c.key for c in best.causes} or _other_setting(each, best)


def _other_setting(each: Explained, best: Explained) -> bool:
    return {(c.slide, c.move) for c in each.causes} != {(c.slide, c.move) for c in best.causes}


def _fits(best: Explained, n: int) -> bool:
    free = max(n - len(best.causes), 1)
    return best.chi2 < free + UNLIKELY * math.sqrt(2 * free) + 6
