"""A curve that is dear to compute, as few places of it as a straight line between them needs to be true."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import shapely

from ovolo.geometry.chain import Floats

__all__ = ["between", "sampled"]

NEAREST = 1e-3
"""Places nearer to each other than this are one, mm."""

Line = tuple[tuple[float, float], ...]
"""Places and values, in rising order of the places."""


def sampled(of: Callable[[Floats], Floats], at: Sequence[float], within: float, share: float = 0.0) -> Line:
    """(place, value) of a function, so close together that straight lines between them are true to about `within` and
    to `share` of the value.

    It looks at the places `at` first, then halves each way between two where the middle lies off the straight line: a
    kink is closed in upon. A bend so narrow that it hides between two places of `at`, and leaves the middle on the
    line, is not seen.

    >>> sampled(lambda x: np.maximum(0.0, x - 1.0), [0.0, 1.0, 3.0], 0.001)
    ((0.0, 0.0), (1.0, 0.0), (3.0, 2.0))
    """
    x = np.asarray(at, dtype=float)
    y = of(x)
    live = np.ones(len(x) - 1, dtype=bool)
    while (live := live & (np.diff(x) > 2 * NEAREST)).any():
        left = np.flatnonzero(live)
        middle = (x[left] + x[left + 1]) / 2
        there = of(middle)
        off = np.abs(there - (y[left] + y[left + 1]) / 2) > within / 2 + share * np.abs(there) / 2
        # Where the middle is on the line the way is done; where it is not, both halves are looked at.
        live[left] = off
        keep = np.repeat(live, 1 + np.isin(np.arange(len(live)), left))
        x, y = np.insert(x, left + 1, middle), np.insert(y, left + 1, there)
        live = keep
    return _fewest(x, y, within / 4)


def _fewest(x: Floats, y: Floats, within: float) -> Line:
    line = shapely.simplify(shapely.LineString(np.c_[x, y]), within)
    return tuple((round(float(px), 4), round(float(py), 5)) for px, py in shapely.get_coordinates(line))


def between(line: Line, at: float) -> float:
    """The value at a place, on the straight line between its neighbours."""
    x, y = np.transpose(line)
    return float(np.interp(at, x, y))
