"""The limits of a formula: a value outside them is refused in words, never turned into a wrong number."""

import math

from ovolo.errors import Fault, FaultsFound

__all__ = ["Bound", "above", "at_least", "between", "finite", "within_limits"]

Bound = Fault | None


def within_limits(*bounds: Bound) -> None:
    """Refuse a formula's values, all that are wrong at once.

    bounds: what `above`, `at_least` and `between` found; None where nothing is wrong.
    Raises `FaultsFound`.

    >>> within_limits(above("nose radius", 0.8, 0), at_least("spacing", 0.0, 0))
    """
    faults = [bound for bound in bounds if bound is not None]
    if faults:
        raise FaultsFound(faults)


def above(where: str, value: float, low: float, remedy: str = "") -> Bound:
    """A fault unless `value` is finite and more than `low`, both in one unit.

    >>> print(above("nose radius", -3, 0))
    nose radius: -3 is outside what this formula is good for (given: -3; allowed: more than 0). Give a larger value.
    """
    good = math.isfinite(value) and value > low
    return None if good else _fault(where, value, f"more than {low:g}", remedy or "Give a larger value")


def at_least(where: str, value: float, low: float, remedy: str = "") -> Bound:
    """A fault unless `value` is finite and `low` or more, both in one unit.

    >>> at_least("spacing", 0, 0) is None
    True
    """
    good = math.isfinite(value) and value >= low
    return None if good else _fault(where, value, f"{low:g} or more", remedy or f"Give {low:g} or more")


def finite(where: str, value: float) -> Bound:
    """A fault unless `value`, in any unit, is a number that is neither infinite nor NaN.

    >>> print(finite("force", math.nan))
    force: nan is outside what this formula is good for (given: nan; allowed: a finite number). Give a number.
    """
    return None if math.isfinite(value) else _fault(where, value, "a finite number", "Give a number")


def between(where: str, value: float, low: float, high: float, remedy: str = "") -> Bound:
    """A fault unless `value` lies from `low` to `high`, both allowed, all in one unit.

    >>> print(between("point angle", 200, 0, 180, "Measure the angle again"))
    point angle: 200 is outside what this formula is good for (given: 200; allowed: 0 to 180). Measure the angle again.
    """
    good = math.isfinite(value) and low <= value <= high
    return None if good else _fault(where, value, f"{low:g} to {high:g}", remedy or f"Give {low:g} to {high:g}")


def _fault(where: str, value: float, limit: str, remedy: str) -> Fault:
    return Fault(where, value, limit, f"{value:g} is outside what this formula is good for", remedy)
