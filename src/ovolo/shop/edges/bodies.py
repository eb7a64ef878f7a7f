"""What carries an edge and never touches metal."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

import numpy as np

from ovolo.geometry.chain import Floats

#: How far a body is taken to run up, mm.
UP = 60.0
#: A body may just pass at its measured distance: it is looked at this much farther off, mm.
CLEARANCE = 1e-3

#: The height of something at each place along the axis, rising in x.
Heights = Callable[[Floats], Floats]


class Body(Protocol):
    """A shank or a boring bar about the nose centre; mm."""

    def shape(self) -> Floats:
        """Points of a convex polygon, (n, 2), a hair smaller than the body [mm]."""

    def height(self, x: Floats, part: Heights, blank: Heights) -> Floats:
        """Least height of the nose centre at each x (rising, even) at which it is clear of the finished part and of the
        piece before it is cut [mm]."""


def rectangle(left: float, right: float, low: float) -> Floats:
    """A body from `left` to `right` that begins at a height [mm]."""
    return np.array([[left, low + CLEARANCE], [right, low + CLEARANCE], [right, UP], [left, UP]])
