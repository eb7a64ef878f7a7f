"""A shank out of which a narrower part stands: the whole of it stays above the piece before that is cut."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.shop.edges.bodies import Heights, rectangle
from ovolo.shop.edges.nosed import highest_ahead


@dataclass(frozen=True)
class Shank:
    """A shank of a width, its narrow part standing out as far as `stem`; mm. The shank stands over the middle between
    the nose centre and a place `drawn_out` from it."""

    radius: float
    width: float
    stem: float
    drawn_out: float

    def shape(self) -> Floats:
        """The shank above its stem [mm]."""
        half, middle = self.width / 2, self.drawn_out / 2
        return rectangle(middle - half, middle + half, self.stem - self.radius)

    def height(self, x: Floats, part: Heights, blank: Heights) -> Floats:
        """Clear of all of the blank under it [mm]."""
        half = max(0.0, (self.width - self.drawn_out) / 2)
        step = x[1] - x[0]
        wide = np.concatenate([x[0] - half + step * np.arange(int(half / step)), x])
        wide = np.concatenate([wide, x[-1] + step * np.arange(1, int((half + self.drawn_out) / step) + 1)])
        over = highest_ahead(blank(wide), len(wide) - len(x))[: len(x)]
        return over + self.radius - self.stem
