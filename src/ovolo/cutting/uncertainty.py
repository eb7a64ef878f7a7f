"""Uncertainty by the conventions of the GUM (JCGM 100) and by Monte Carlo (JCGM 101).

`propagate` works to first order, `simulate` draws; where both hold they agree, and where they differ, trust the
draws. The quantities must be independent of one another. Units are the caller's.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from ovolo.cutting.limits import above, at_least, between, within_limits
from ovolo.errors import Fault, FaultsFound

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = [
    "Budget",
    "Contribution",
    "Quantity",
    "Scatter",
    "Shape",
    "arcsine",
    "chance_below",
    "coverage_factor",
    "effective_dof",
    "normal",
    "propagate",
    "rectangular",
    "simulate",
    "stand_off",
    "summarise",
    "triangular",
]

Shape = Literal["normal", "rectangular", "triangular", "arcsine"]

_BLOCKS = 10


@dataclass(frozen=True)
class Quantity:
    """Something known within limits: its value, standard uncertainty u, degrees of freedom, shape of distribution."""

    name: str
    value: float
    u: float
    dof: float = math.inf
    shape: Shape = "normal"

    def __post_init__(self) -> None:
        finite = between(self.name, self.value, -1e300, 1e300, "Give a finite value")
        freedom = None if self.dof == math.inf else above(f"degrees of freedom of {self.name}", self.dof, 0)
        within_limits(finite, at_least(f"u of {self.name}", self.u, 0), freedom)


def normal(name: str, value: float, u: float, dof: float = math.inf) -> Quantity:
    """Normally distributed; u is the standard uncertainty. With few degrees of freedom a t distribution is drawn.

    >>> normal("setting", 0, 0.005).u
    0.005
    """
    return Quantity(name, value, u, dof)


def rectangular(name: str, value: float, half_width: float, dof: float = math.inf) -> Quantity:
    """Anywhere within plus or minus half_width, as a rounded readout is: u = a/sqrt 3 (JCGM 100, 4.3.7).

    value, half_width: in the unit of the quantity. dof: degrees of freedom [-].

    >>> round(rectangular("count", 0, 0.005).u, 6)
    0.002887
    """
    return Quantity(name, value, half_width / math.sqrt(3), dof, "rectangular")


def triangular(name: str, value: float, half_width: float, dof: float = math.inf) -> Quantity:
    """Within plus or minus half_width and more likely in the middle: u = a/sqrt 6 (JCGM 100, 4.3.9).

    value, half_width: in the unit of the quantity. dof: degrees of freedom [-].

    >>> round(triangular("shim", 0, 0.1).u, 5)
    0.04082
    """
    return Quantity(name, value, half_width / math.sqrt(6), dof, "triangular")


def arcsine(name: str, value: float, half_width: float, dof: float = math.inf) -> Quantity:
    """Swinging between plus and minus half_width, as a temperature or a run-out does: u = a/sqrt 2.

    value, half_width: in the unit of the quantity. dof: degrees of freedom [-].
    Source: JCGM 100, 4.3.7 note and example H.1.3.4 (U-shaped distribution).

    >>> round(arcsine("run-out", 0, 0.02).u, 5)
    0.01414
    """
    return Quantity(name, value, half_width / math.sqrt(2), dof, "arcsine")


class Contribution(NamedTuple):
    """What one quantity adds: the change of the result for one unit of it, and for one u of it."""

    name: str
    sensitivity: float
    u: float


class Budget(NamedTuple):
    """A result with its combined standard uncertainty, effective degrees of freedom, and who contributes what."""

    value: float
    u: float
    dof: float
    contributions: tuple[Contribution, ...]

    def expanded(self, level: float = 0.95) -> float:
        """U = k u with k for this level of confidence and the degrees of freedom, cut down to a whole number.

        Source: JCGM 100, G.4.1.

        >>> round(Budget(0.0, 1.0, math.inf, ()).expanded(), 2)
        1.96
        """
        whole = self.dof if math.isinf(self.dof) else max(math.floor(self.dof), 1)
        return coverage_factor(whole, level) * self.u


def propagate(model: Callable[..., Any], quantities: Sequence[Quantity]) -> Budget:
    """Law of propagation of uncertainty, to first order.

    model: a function of the quantities' values, in their order, giving one number.
    Each contribution is half the difference of the model at plus and minus one u (JCGM 100, 5.1.3, note 2).
    Limits: independent quantities; a model that is near a straight line over plus and minus one u.
    Source: JCGM 100, eq. (10) and (G.2b).

    >>> budget = propagate(lambda w, t: w * w / (8 * t) + t / 2, [normal("w", 4, 0.02), normal("t", 1, 0.01)])
    >>> round(budget.value, 3), round(budget.u, 4)
    (2.5, 0.025)
    """
    values = [quantity.value for quantity in quantities]
    rows = tuple(_contribution(model, values, n, quantity) for n, quantity in enumerate(quantities))
    u = math.hypot(*(row.u for row in rows))
    dof = effective_dof([row.u for row in rows], [quantity.dof for quantity in quantities])
    return Budget(float(model(*values)), u, dof, rows)


def effective_dof(contributions: Sequence[float], dofs: Sequence[float]) -> float:
    """Welch and Satterthwaite: u^4 / sum of (u_i^4 / dof_i); infinite where all of them are [-].

    Source: JCGM 100, eq. (G.2b).

    >>> round(effective_dof([3.0, 4.0], [5, math.inf]), 2)
    38.58
    """
    # In shares of u, so that neither tiny nor large units lose the fourth power.
    u = math.hypot(*contributions)
    below = sum((part / u) ** 4 / dof for part, dof in zip(contributions, dofs, strict=True)) if u else 0.0
    return 1 / below if below else math.inf


def coverage_factor(dof: float, level: float = 0.95) -> float:
    """k for a two-sided level of confidence, from the t distribution [-].

    Source: JCGM 100, table G.2.

    >>> round(coverage_factor(16, 0.99), 2)
    2.92
    """
    from scipy import stats

    within_limits(between("level of confidence", level, 0.01, 0.9999))
    if math.isinf(dof):
        return float(stats.norm.ppf((1 + level) / 2))
    within_limits(above("degrees of freedom", dof, 0))
    return float(stats.t.ppf((1 + level) / 2, dof))


class Scatter(NamedTuple):
    """What the draws gave; `u_error` and `ends_error` say how far these figures themselves may be off.

    value, u:    mean and standard deviation.
    low, high:   the middle share of all draws that was wanted.
    u_error:     standard error of u; value_error: of the mean; ends_error: of low and high, the worse one.
    runs:        how many draws.
    """

    value: float
    u: float
    low: float
    high: float
    value_error: float
    u_error: float
    ends_error: float
    runs: int

    def settled(self, tolerance: float) -> bool:
        """Whether none of the figures would move by more than `tolerance` (at two standard errors).

        Source: the stopping rule of JCGM 101, 7.9.4.

        >>> Scatter(0, 1, -2, 2, 0.01, 0.007, 0.02, 10_000).settled(0.05)
        True
        """
        return 2 * max(self.value_error, self.u_error, self.ends_error) <= tolerance


def simulate(
    model: Callable[..., Any], quantities: Sequence[Quantity], runs: int = 10_000, seed: int = 1, share: float = 0.95
) -> Scatter:
    """Draw the quantities many times, and see what the model makes of them; the result has the model's unit.

    model: as for `propagate`, able to take arrays, one element a draw.
    runs:  at least 100. seed: the same seed gives the same figures. share: the middle share between low and high [-].
    Raises FaultsFound for fewer runs, a share outside 0.01 to 0.9999, or draws that are not finite.
    Source: JCGM 101, clause 7.

    >>> spread = simulate(lambda x, y: x + y, [normal("x", 1, 0.3), normal("y", 2, 0.4)])
    >>> abs(spread.u - 0.5) < 4 * spread.u_error
    True
    """
    import numpy as np

    within_limits(at_least("runs", runs, 10 * _BLOCKS), between("share", share, 0.01, 0.9999))
    source = np.random.default_rng(seed)
    drawn = [_draw(quantity, runs, source) for quantity in quantities]
    return summarise(np.broadcast_to(np.asarray(model(*drawn), dtype=np.float64), (runs,)), share)


def summarise(draws: "Floats", share: float = 0.95) -> Scatter:
    """Mean, standard deviation and middle share of draws, and the error of each, from ten blocks of them.

    draws: in any unit, which the result keeps. share: the middle share between low and high [-]. Raises FaultsFound
    where a draw is not finite.

    Source: JCGM 101, 7.9.4 (standard deviation of the averages of blocks).

    >>> import numpy as np
    >>> summarise(np.linspace(-1, 1, 1001)).high
    0.95
    """
    import numpy as np

    _check_draws(draws)
    ends = ((1 - share) / 2, (1 + share) / 2)
    figures = np.array([_figures(block, ends) for block in _blocks(draws)])
    errors = figures.std(axis=0, ddof=1) / math.sqrt(_BLOCKS)
    mean, u, low, high = _figures(draws, ends)
    value_error, u_error, *of_ends = (float(error) for error in errors)
    return Scatter(mean, u, low, high, value_error, u_error, max(of_ends), len(draws))


def stand_off(draws: "Floats", chance: float = 0.05) -> float:
    """How much to stand off so that the work is cut below the outline with at most this chance; 0 if none is needed.

    draws:  the deepest place of each run, negative below the outline, in the caller's unit.
    chance: 0.0001 to 0.5. For a normal scatter and 5 % it is 1.645 u less the mean.

    >>> import numpy as np
    >>> stand_off(np.linspace(-1, 1, 2001), 0.05)
    0.9
    """
    import numpy as np

    _check_draws(draws)
    within_limits(between("chance", chance, 0.0001, 0.5))
    # The lower neighbour: never a bit less than what keeps the chance.
    return max(0.0, -float(np.quantile(draws, chance, method="lower")))


def chance_below(draws: "Floats", limit: float = 0.0) -> tuple[float, float]:
    """Share of draws below a limit, and the standard error of that share.

    Source: binomial, with Agresti and Coull's two added successes and failures (from memory), so that none in n isn't
    called certain.

    >>> import numpy as np
    >>> share, error = chance_below(np.array([-1.0] * 50 + [1.0] * 950))
    >>> share, round(error, 4)
    (0.05, 0.007)
    """
    import numpy as np

    _check_draws(draws)
    below, runs = int(np.count_nonzero(draws < limit)), len(draws)
    guarded = (below + 2) / (runs + 4)
    return below / runs, math.sqrt(guarded * (1 - guarded) / (runs + 4))


def _contribution(model: Callable[..., Any], values: list[float], n: int, quantity: Quantity) -> Contribution:
    if not quantity.u:
        return Contribution(quantity.name, 0.0, 0.0)
    up, down = ([*values[:n], quantity.value + step, *values[n + 1 :]] for step in (quantity.u, -quantity.u))
    change = (float(model(*up)) - float(model(*down))) / 2
    return Contribution(quantity.name, change / quantity.u, abs(change))


def _draw(quantity: Quantity, runs: int, source: "np.random.Generator") -> "Floats":
    import numpy as np

    u = quantity.u
    if quantity.shape == "rectangular":
        return quantity.value + u * math.sqrt(3) * source.uniform(-1, 1, runs)
    if quantity.shape == "triangular":
        return quantity.value + u * math.sqrt(6) * source.triangular(-1, 0, 1, runs)
    if quantity.shape == "arcsine":
        return quantity.value + u * math.sqrt(2) * np.sin(source.uniform(-math.pi, math.pi, runs))
    if math.isinf(quantity.dof):
        return quantity.value + u * source.standard_normal(runs)
    return quantity.value + u * source.standard_t(quantity.dof, runs)


def _blocks(draws: "Floats") -> "list[Floats]":
    """Ten blocks, every tenth draw in each, so that draws in order do no harm."""
    return [draws[start::_BLOCKS] for start in range(_BLOCKS)]


def _figures(draws: "Floats", ends: tuple[float, float]) -> tuple[float, float, float, float]:
    import numpy as np

    low, high = np.quantile(draws, ends)
    return float(draws.mean()), float(draws.std(ddof=1)), float(low), float(high)


def _check_draws(draws: "Floats") -> None:
    import numpy as np

    if len(draws) < 10 * _BLOCKS:
        within_limits(at_least("draws", len(draws), 10 * _BLOCKS, "Draw more"))
    if not np.isfinite(draws).all():
        says = "the model gave something that is not a number"
        raise FaultsFound([Fault("draws", None, "finite numbers", says, "Keep the quantities within its limits")])
