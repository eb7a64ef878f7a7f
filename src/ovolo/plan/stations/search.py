"""The least ridge that a number of settings keeps, found where halving would find it, with fewer trials.

Halving a range to a step tries places of an even row only. Which of them is the least to serve does not depend on the
order in which they are tried, and how many settings a ridge takes goes with one over its root: a straight line through
what was tried before leads to the place in a few steps, where halving takes ten.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

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
