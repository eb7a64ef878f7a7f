"""A boring bar: it lies along the axis from its nose to the mouth of the hole, its nose standing out of its side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.shop.edges.bodies import UP, Heights, rectangle


@dataclass(frozen=True)
class BoringBar:
    """A bar out of which a nose of this radius stands, mm."""

    radius: float
    stands_out: float

    def shape(self) -> Floats:
        """From the nose centre toward the mouth [mm]."""
        return rectangle(0.0, UP, self.stands_out - self.radius)

    def height(self, x: Floats, part: Heights, blank: Heights) -> Floats:
        """It lies over all of the part that is nearer to the mouth [mm]."""
        return np.maximum.accumulate(part(x)[::-1])[::-1] + self.radius - self.stands_out
