"""Heaps: where metal stands higher over what could be reached than it should, kept as cuts are made.

How far a place stands over that depends on its own height alone. So after a cut only the places are looked at again
where something was taken, and asking for heaps costs next to nothing.
"""

from __future__ import annotations

import math

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.toolpath.clearing.ground import Ground

#: On cylinders roughing leaves scallops, but nowhere more than this share of a step all over a stretch twice so long.
LEVEL_SHARE, SCALLOP = 0.1, 1.8


class Heaps:
    """The heaps of metal of one height over the ground of one tool."""

    def __init__(self, ground: Ground, height: Floats) -> None:
        self.ground, self.height = ground, height
        self._wide = math.ceil(SCALLOP / ground.pitch) if ground.level.any() else 0
        self._over = ground.over(height)
        self._here = np.zeros(len(height), dtype=bool)
        self._look(0, len(height))

    def after(self, height: Floats) -> Heaps:
        """Those of the same ground when the metal stands so high."""
        changed = np.flatnonzero(height != self.height)
        if not len(changed):
            return self
        new = object.__new__(Heaps)
        new.ground, new.height, new._wide = self.ground, height, self._wide
        i, j = int(changed[0]), int(changed[-1]) + 1
        new._over, new._here = self._over.copy(), self._here.copy()
        new._over[i:j] = self.ground.over(height[i:j], i)
        new._look(max(i - self._wide, 0), min(j + self._wide, len(height)))
        return new

    def _look(self, i: int, j: int) -> None:
        """Say of the places from i to j whether they are part of a heap."""
        found = self._over[i:j] > self.ground.step
        if self._wide and self.ground.level[i:j].any():
            a, b = max(i - self._wide, 0), min(j + self._wide, len(self.height))
            low = _sliding_min(self._over[a:b], self._wide)[i - a : j - a]
            found |= self.ground.level[i:j] & (low > LEVEL_SHARE * self.ground.step)
        self._here[i:j] = found

    def between(self, low: float = -math.inf, high: float = math.inf) -> np.ndarray:
        """The places of heaps between two x."""
        i, j = self._range(low, high)
        return np.flatnonzero(self._here[i:j]) + i

    def any(self, low: float, high: float) -> bool:
        """Whether there is one between two x."""
        i, j = self._range(low, high)
        return bool(self._here[i:j].any())

    def first(self, low: float, high: float, way: int) -> float | None:
        """The first heap between two x, looked for toward the chuck (`way` -1) or away from it; None where none is."""
        i, j = self._range(low, high)
        here = self._here[i:j] if way > 0 else self._here[i:j][::-1]
        at = int(here.argmax()) if len(here) else 0
        if not len(here) or not here[at]:
            return None
        return float(self.ground.x[i + at if way > 0 else j - 1 - at])

    def _range(self, low: float, high: float) -> tuple[int, int]:
        i, j = np.searchsorted(self.ground.x, (low, high))
        return int(i), int(j)


def _sliding_min(values: Floats, reach: int) -> Floats:
    """The least of each value and the `reach` on either side of it."""
    padded = np.pad(values, reach, mode="edge")
    out = padded.copy()
    span, wide = 1, 2 * reach + 1
    while span < wide:  # runs of 2, 4, 8, … places
        hop = min(span, wide - span)
        out = np.minimum(out[:-hop], out[hop:])
        span += hop
    return out[: len(values)]
