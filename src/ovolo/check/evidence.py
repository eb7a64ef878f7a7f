"""Which causes the readings support: as few as explain them, chosen by evidence and never by habit.

Explanations are compared by -2 ln of their likelihood and a price of ln n + 6 for every cause that they name, n the
number of readings: the price of ln n is Bayes' (Schwarz), the 6 pays for having chosen among several causes. With the
full covariance of the settings' scatter some cause is then named on about one good part in a hundred.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from ovolo.check.causes import Cause, applied
from ovolo.check.jaws import Jaws
from ovolo.check.measured import Reading
from ovolo.check.positions import Positions
from ovolo.check.settings_scatter import DRAWS, drawn, unbiased_inverse
from ovolo.cutting.uncertainty import coverage_factor
from ovolo.geometry.chain import Floats
from ovolo.shop.setting_errors import SettingErrors

__all__ = ["APART", "Bench", "Explained", "Weight", "price"]

PAY = 6.0
"""What every cause costs beside ln n."""

APART = 8.0
"""An explanation that is no better than another by this leaves the two undecided: of two causes the wrong one leads by
more in at most 2.3 parts of 1,000, however like they are."""

FEWEST = 3
"""Readings have uncertainties of their own: fewer degrees of freedom than this make none of them worse."""

ROUGHLY = 1.1
"""The scatter of settings is known to a tenth at best (our own judgement)."""

NEAR = 0.5
"""Moves that come this near to the surface are looked at while causes are fitted, mm."""

LEAST_U = 5e-4
"""No reading is taken to be finer than this, mm."""

ROUNDS = 6


def price(readings: int, choices: int = 1) -> float:
    """What a cause has to gain; more where it is one of many alike.

    >>> round(price(16), 2)
    8.77
    """
    return math.log(readings) + PAY + 2 * math.log(choices)


@lru_cache(maxsize=256)
def students(free: int) -> float:
    """Student's t for 95 % over that of many readings [-]; free: degrees of freedom, fewer than 3 count as 3.

    >>> round(students(10), 3)
    1.137
    """
    return coverage_factor(max(free, FEWEST)) / coverage_factor(math.inf)


class Weight(NamedTuple):
    """How readings scatter about an explanation: inverse and logarithm of the determinant of their covariance, and by
    how much scatter alone shifts each of them on average, mm."""

    inverse: Floats
    log_det: float
    bias: Floats


@dataclass(frozen=True)
class Explained:
    """Readings explained by some causes; `covariance` of their values; `chi2` what is left over; `at` the positions."""

    causes: tuple[Cause, ...]
    values: Floats
    covariance: Floats
    chi2: float
    score: float
    at: Positions
    weight: Weight
    slopes: Floats
    left: Floats

    @property
    def u(self) -> Floats:
        """Standard uncertainty of each value."""
        return self.widened * np.sqrt(np.diag(self.covariance)) if len(self.causes) else np.zeros(0)

    @property
    def widened(self) -> float:
        """By how much an uncertainty is stated larger so that twice it covers 95 %: few readings (Student's t),
        readings that scatter by more than they should (Birge's ratio), scatter that is itself not well known."""
        free = max(len(self.left) - len(self.causes), 1)
        return ROUGHLY * students(free) * max(1.0, math.sqrt(self.chi2 / free))

    def value_of(self, n: int) -> tuple[float, float]:
        """Value and standard uncertainty as they are stated: of a centre height no longer its square."""
        value, u = float(self.values[n]), float(self.u[n])
        if self.causes[n].name != "centre_height":
            return value, u
        height = math.sqrt(max(value, 0.0))
        return height, min(u / (2 * height), height) if height else math.sqrt(u)

    @property
    def clear(self) -> bool:
        """Whether every value is at least twice its uncertainty."""
        stated = [self.value_of(n) for n in range(len(self.causes)) if self.causes[n].fixed is None]
        return all(abs(value) >= 2 * u for value, u in stated)


@dataclass
class Bench:
    """Readings that are to be explained, on the positions of a plan set exactly: those near the finished surface, and
    the `whole` plan."""

    positions: Positions
    readings: tuple[Reading, ...]
    errors: SettingErrors
    extra: Floats
    whole: Positions | None = None

    def with_causes(self, causes: Sequence[Cause], values: Sequence[float] | Floats) -> Positions:
        """Where the tools went with these causes at work; all moves of the plan where one changes them altogether."""
        anywhere = self.whole is not None and any(cause.fixed is not None for cause in causes)
        base = self.whole if anywhere and self.whole is not None else self.positions
        return applied(base, [(cause, float(value)) for cause, value in zip(causes, values, strict=True)])

    @cached_property
    def seen(self) -> Floats:
        """What was read, mm, in the planner's frame."""
        return self.positions.frame.sign * np.array([reading.r for reading in self.readings])

    @property
    def n(self) -> int:
        """How many readings there are."""
        return len(self.readings)

    @property
    def draws(self) -> int:
        """How many times the settings are drawn."""
        return max(DRAWS * self.n, 120)

    def weight(self, at: Positions) -> Weight:
        """How the readings scatter about positions."""
        jaws = Jaws.on(at, self.readings, 0.06)
        exact = jaws.at_place(at)
        spread = jaws.at_place(drawn(at, self.errors, self.draws)) - exact
        own = np.array([max(reading.u, LEAST_U) for reading in self.readings]) ** 2 + jaws.from_place(at) + self.extra
        covariance = np.atleast_2d(np.cov(spread.T)) + np.diag(own)
        inverse = unbiased_inverse(covariance, self.draws)
        return Weight(inverse, float(np.linalg.slogdet(covariance)[1]), spread.mean(axis=0))

    def fit(self, causes: Sequence[Cause], weight: Weight, start: Sequence[float] | Floats | None = None) -> Explained:
        """The values of some causes that explain the readings best, by Gauss and Newton's steps."""
        values = np.array([c.fixed or 0.0 for c in causes] if start is None else start, dtype=np.float64)
        free = [n for n, cause in enumerate(causes) if cause.fixed is None]
        jaws, around, at = self._jaws(causes, values)
        left = self.seen - jaws.at_place(at) - weight.bias
        chi2, slopes = float(left @ weight.inverse @ left), np.zeros((self.n, len(causes)))
        for _ in range(ROUNDS if free else 0):
            if np.abs(values - around).max() > NEAR / 2:
                jaws, around, at = self._jaws(causes, values)
            slopes = self._slopes(causes, values, free, jaws, at)
            step = np.zeros(len(causes))
            normal = slopes[:, free].T @ weight.inverse @ slopes[:, free]
            step[free] = np.linalg.lstsq(normal, slopes[:, free].T @ weight.inverse @ left, rcond=1e-10)[0]
            better = self._stepped(causes, values, step, jaws, weight, chi2)
            if better is None:
                break
            gain = chi2 - better[2]
            values, left, chi2 = better[:3]
            at = self.with_causes(causes, values)
            if gain < 0.02:
                break
        return self._explained(causes, values, left, weight, at, slopes, free)

    def _jaws(self, causes: Sequence[Cause], values: Floats) -> tuple[Jaws, Floats, Positions]:
        """Jaws on the part as these causes leave it; the jaws set before serve where nothing is far from there."""
        at = self.with_causes(causes, values)
        moved = any(cause.fixed is not None for cause in causes) or bool(np.abs(values).max(initial=0.0) > NEAR / 2)
        return (Jaws.on(at, self.readings, NEAR) if moved else self.first), values.copy(), at

    @cached_property
    def first(self) -> Jaws:
        """The jaws on the part as it was planned."""
        return Jaws.on(self.positions, self.readings, NEAR)

    @cached_property
    def first_read(self) -> Floats:
        """What they would read there, mm, in the planner's frame."""
        return self.first.at_place(self.positions)

    def _slopes(
        self, causes: Sequence[Cause], values: Floats, free: Sequence[int], jaws: Jaws, at: Positions
    ) -> Floats:
        """What a little more of each cause does to each reading."""
        slopes = np.zeros((self.n, len(causes)))
        for n in free:
            unit, each = causes[n].unit, []
            for sign in (1, -1):
                value = values.copy()
                value[n] += sign * unit
                if causes[n].name == "centre_height" and value[n] < 0:
                    value[n] = 0.0
                moved = self.with_causes(causes, value)
                each.append((value[n], jaws.at_place(moved)))
            (a, up), (b, down) = each
            slopes[:, n] = (up - down) / (a - b)
        return slopes

    def _stepped(
        self, causes: Sequence[Cause], values: Floats, step: Floats, jaws: Jaws, weight: Weight, chi2: float
    ) -> tuple[Floats, Floats, float] | None:
        """A whole step, or a half, or less, as long as it explains more; None where none does."""
        least = [0.0 if c.name == "centre_height" else -c.most for c in causes]
        most = [c.most for c in causes]
        longest = np.array([0.5 if c.name not in ("taper", "centre_height") else c.most for c in causes])
        share = min(1.0, 1.0 / max(float(np.max(np.abs(step) / longest)), 1e-12))
        for _ in range(5):
            tried = np.clip(values + share * step, least, most)
            at = self.with_causes(causes, tried)
            left = self.seen - jaws.at_place(at) - weight.bias
            found = float(left @ weight.inverse @ left)
            if found < chi2 - 1e-9:
                return tried, left, found
            share /= 4
        return None

    def _explained(
        self,
        causes: Sequence[Cause],
        values: Floats,
        left: Floats,
        weight: Weight,
        at: Positions,
        slopes: Floats,
        free: Sequence[int],
    ) -> Explained:
        normal = slopes[:, free].T @ weight.inverse @ slopes[:, free]
        covariance = np.zeros((len(causes), len(causes)))
        covariance[np.ix_(free, free)] = np.linalg.pinv(normal)
        chi2 = float(left @ weight.inverse @ left)
        paid = sum(price(self.n, cause.choices) for cause in causes)
        score = chi2 + weight.log_det + paid
        return Explained(tuple(causes), values, covariance, chi2, score, at, weight, slopes, left)

    def again(self, found: Explained) -> Explained:
        """The same explanation with slopes, ridges and scatter of the part as it explains it."""
        weight = self.weight(found.at)
        return self.fit(found.causes, weight, found.values)
