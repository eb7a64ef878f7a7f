"""From readings to the causes that they support, and to those that they cannot tell apart."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ovolo.check.causes import Cause, ordinary, settings_wrong
from ovolo.check.evidence import APART, Bench, Explained, Weight, price
from ovolo.check.jaws import Jaws
from ovolo.geometry.chain import Floats
from ovolo.plan.model import Plan

__all__ = ["Reasons", "reasons_of"]

WORTH = 14.0
"""Explanations within this of the best are looked at again, about the part as each explains it."""

MOST_AGAIN, MOST_SETTINGS, MOST_FIGURES = 6, 12, 3

PAIRED = ("cross_offset", "saddle_offset", "nose_radius", "taper", "centre_height")
"""Causes that are looked at two at a time."""

SUPPORT = 9.0
"""A setting that is wrong is seen by two readings: so much of its evidence is left without the strongest of them."""

ALIKE = 0.99
"""A backlash whose traces agree with those of an offset to this cosine is that offset: no reading tells them apart."""

GROSS = 100.0
"""A cause that explains readings so many times better than nothing wrong does need not explain their last scatter."""

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
    causes = _told_apart(bench, weight, ordinary(plan, bench.positions, touching))
    singles = [bench.fit((cause,), weight) for cause in causes]
    figures = _settings(bench, weight, nothing, touching)
    found = _looked_again(bench, [nothing, *singles, *_pairs(bench, weight, singles), *figures])
    best = min(found, key=lambda each: each.score)
    if best.causes and not best.clear:
        clear = [each for each in found if not each.causes or each.clear]
        best = min(clear, key=lambda each: each.score)
    rivals = [each for each in found if each is not best and _rival(each, best)]
    return Reasons(best, tuple(sorted(rivals, key=lambda each: each.score)), nothing, _fits(best, nothing, bench.n))


def _touching(bench: Bench) -> list[int]:
    """The moves that shaped what was read."""
    jaws = Jaws.on(bench.positions, bench.readings, 0.02)
    return sorted({int(m) for m in jaws.spots.move})


def _told_apart(bench: Bench, weight: Weight, causes: Sequence[Cause]) -> list[Cause]:
    """The causes without a backlash that leaves no trace, or the same as an offset."""
    traces = {cause: _trace(bench, cause) for cause in causes if cause.fixed is None}
    offsets = [trace for cause, trace in traces.items() if cause.name in ("cross_offset", "saddle_offset")]
    return [
        cause
        for cause in causes
        if cause.name != "backlash" or not any(_alike(traces[cause], each, weight) for each in offsets)
    ]


def _trace(bench: Bench, cause: Cause) -> Floats:
    """What a little of a cause does to each reading."""
    return (bench.first.at_place(bench.with_causes((cause,), (0.05,))) - bench.first_read) / 0.05


def _alike(one: Floats, other: Floats, weight: Weight) -> bool:
    own, its = (float(a @ weight.inverse @ a) for a in (one, other))
    if own < 1e-9:
        return True
    return its > 0 and abs(float(one @ weight.inverse @ other)) > ALIKE * math.sqrt(own * its)


def _settings(bench: Bench, weight: Weight, nothing: Explained, touching: Sequence[int]) -> list[Explained]:
    """Single figures set wrong, as far as two readings or more speak for them: the likeliest few."""
    base, ranked = bench.first_read, []
    for cause in settings_wrong(bench.positions, touching):
        for size in (0.1, -0.1):
            rise = bench.first.at_place(bench.with_causes((cause,), (size,))) - base
            own = float(rise @ weight.inverse @ rise)
            share = float(rise @ weight.inverse @ nothing.left) / own if own > 1e-9 else 0.0
            gain = share**2 * own if share > 0 else 0.0
            if gain > price(bench.n) and _support(rise, nothing.left, weight) > SUPPORT:
                ranked.append((gain, cause, float(np.clip(size * share, -1.0, 1.0))))
    ranked.sort(key=lambda item: -item[0])
    tries = [bench.fit((cause,), weight, [start]) for _, cause, start in ranked[:MOST_SETTINGS]]
    return sorted(tries, key=lambda each: each.score)[:MOST_FIGURES]


def _support(rise: Floats, left: Floats, weight: Weight) -> float:
    """How much a cause still explains without that reading which speaks most for it."""
    inverse, n = weight.inverse, len(rise)
    without = rise - np.eye(n) * (inverse @ rise / np.diag(inverse))[:, None]
    own = np.einsum("ij,jk,ik->i", without, inverse, without)
    shared = without @ inverse @ left
    gains = np.where((own > 1e-9) & (shared > 0), shared**2 / np.maximum(own, 1e-9), 0.0)
    return float(gains.min())


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


def _fits(best: Explained, nothing: Explained, n: int) -> bool:
    """Whether the scatter of settings and readings explains what is left over."""
    free = max(n - len(best.causes), 1)
    most = free + UNLIKELY * math.sqrt(2 * free) + 6
    gross = any(cause.fixed is not None for cause in best.causes)
    return best.chi2 < (max(most, min(nothing.chi2 / GROSS, 10 * most)) if gross else most)
