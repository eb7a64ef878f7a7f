"""Ridge against number of settings, both ways: the one search of it.

With one tool over one stretch the least ridge that a number of settings keeps is found where halving would find it,
with fewer trials. Halving a range to a step tries places of an even row only. Which of them is the least to serve does
not depend on the order in which they are tried, and how many settings a ridge takes goes with one over its root: a
straight line through what was tried before leads to the place in a few steps, where halving takes ten.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from ovolo.geometry.bisection import bisected

#: So many trials follow the line; then every other one halves what is left, for where the line leads nowhere.
BY_LINE = 5

#: How many settings a ridge takes, the last of them counted by the share that is needed of it; inf where none do.
Needs = Callable[[float], float]


def least_that_serves(
    needs: Needs, count: int, low: float, high: float, step: float, tried: Mapping[float, float]
) -> float:
    """The least place, to within `step` mm, that needs no more than `count`; `high` is known to serve.

    `tried`: what other places need, as far as it is known.

    >>> least_that_serves(lambda r: 3 / r**0.5, 6, 0.0, 1.0, 0.01, {})
    0.25
    """
    halvings = 0
    while (high - low) / 2**halvings > step:
        halvings += 1
    seen = {r: n for r, n in tried.items() if math.isfinite(n)}
    bad, good, trials = 0, 2**halvings, 0
    while good - bad > 1:
        middle = (bad + good) // 2
        if trials < BY_LINE or trials % 2:
            guess = (_on_line(seen, count) - low) / (high - low) * 2**halvings
            middle = min(max(math.ceil(guess), bad + 1), good - 1) if math.isfinite(guess) else middle
        place = _place(middle, halvings, low, high)
        need = needs(place)
        if math.isfinite(need):
            seen[place] = need
        bad, good, trials = (bad, middle, trials + 1) if need <= count else (middle, good, trials + 1)
    return _place(good, halvings, low, high)


def _place(n: int, halvings: int, low: float, high: float) -> float:
    """The n-th place of the row, rounded as halving rounds it."""
    first, last = 0, 2**halvings
    if n == last:
        return high
    while n > first:
        middle, between = (first + last) // 2, (high + low) / 2
        if n == middle:
            return between
        first, last, low, high = (first, middle, low, between) if n < middle else (middle, last, between, high)
    return low


def _on_line(seen: Mapping[float, float], count: int) -> float:
    """Where a line through what was tried says that just `count` are needed; nan where nothing was tried."""
    less = max(((r, n) for r, n in seen.items() if n > count), default=None)
    more = min(((r, n) for r, n in seen.items() if n <= count), default=None)
    if less is None or more is None:
        only = less or more
        return math.nan if only is None else only[0] * (only[1] / count) ** 2
    (a, below), (b, above) = (less[0], less[1] ** -2), (more[0], more[1] ** -2)
    return a + (count**-2 - below) * (b - a) / (above - below)


Found = TypeVar("Found")

#: How many settings a ridge takes, mm; None where none do.
Count = Callable[[float], int | None]

#: How far from where a ridge is expected it is looked for first, and how much farther then, as ratios.
NEAR, FARTHER = 1.02, 1.1


def least_ridge(
    count: Count, stations: int, *, near: float, finest: float, coarsest: float, close: float
) -> float | None:
    """The least ridge that takes no more than so many settings, mm; None where even the `coarsest` takes more.

    Looked for round `near`, in steps that grow, no finer than `finest`; found to `close`, as a share of it.

    >>> from math import ceil
    >>> ridge = least_ridge(lambda r: ceil(1 / r**0.5), 5, near=0.1, finest=1e-4, coarsest=1.0, close=1e-3)
    >>> round(ridge, 3)
    0.04
    """

    def enough(ridge: float) -> bool:
        found = count(ridge)
        return found is not None and found <= stations

    low, high, factor = near / NEAR, near * NEAR, FARTHER
    while low > finest and enough(low):
        low, high, factor = low / factor, low, factor * factor
    while not enough(high):
        if high >= coarsest:
            return None
        low, high, factor = high, min(high * factor, coarsest), factor * factor
    high, _ = bisected(enough, high, low, close=close * high)
    return high


def each_number_once(ridges: Iterable[float], at: Callable[[float], tuple[int, Found] | None]) -> dict[int, Found]:
    """For ridges in this order, what is found at the first that takes each number of settings; `at` tells that number
    and what is found, or None where the ridge can't be kept.

    >>> each_number_once((0.4, 0.3, 0.1), lambda r: (round(1 / r), r))
    {2: 0.4, 3: 0.3, 10: 0.1}
    """
    found: dict[int, Found] = {}
    for ridge in ridges:
        here = at(ridge)
        if here is not None:
            found.setdefault(*here)
    return found
