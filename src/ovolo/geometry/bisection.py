"""Bisection: where something that holds on one side stops holding."""

from __future__ import annotations

from collections.abc import Callable

#: This many steps narrow any length of a lathe to less than a float can resolve.
ALL = 50


def bisected(
    holds: Callable[[float], bool], inside: float, outside: float, *, close: float = 0.0, most: int = ALL
) -> tuple[float, float]:
    """A place where something holds and one where it doesn't, no farther apart than `close`, between two such places.

    Neither is tried again; at most `most` steps are taken. Any unit will do.

    >>> bisected(lambda x: x * x <= 2.0, 1.0, 2.0, close=0.1)
    (1.375, 1.4375)
    """
    for _ in range(most):
        if abs(outside - inside) <= close:
            break
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if holds(middle) else (inside, middle)
    return inside, outside
