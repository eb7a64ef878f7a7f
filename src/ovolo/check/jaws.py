"""What an instrument reads on a surface: jaws ride on the highest places under them, a point reads its own place.

Where the surface slopes jaws touch at their uphill edge, so that a place that is off by `u_z` counts there with the
slope at that edge; it is taken from how the reading changes while the jaws are shifted, which evens out ridges.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ovolo.check.measured import Reading
from ovolo.check.positions import Positions
from ovolo.check.profile import ASIDE, Places, heights, places
from ovolo.geometry.chain import Floats, Ints

__all__ = ["Jaws"]

STEP = 0.02
"""Places under jaws are at most this far apart, mm."""

SHIFTS = (-2.8570, -1.3556, 0.0, 1.3556, 2.8570)
"""By how many u_z jaws are shifted, and how much each shift counts: Gauss and Hermite's rule of five points."""

WEIGHTS = (0.011257, 0.222076, 0.533333, 0.222076, 0.011257)

KEEP = 0.12
"""Places this far below the highest under the jaws are not looked at again, mm."""


@dataclass(frozen=True)
class Jaws:
    """Jaws on all readings: which of `spots` lie under the jaws of each, shifted or not.

    `window`: pairs of (row, spot), row = reading * len(SHIFTS) + shift, sorted; `starts` where each row begins.
    """

    readings: tuple[Reading, ...]
    spots: Places
    spot: Ints
    starts: Ints

    @classmethod
    def on(cls, positions: Positions, readings: Sequence[Reading], near: float) -> Jaws:
        """Jaws set on a surface; good for positions that differ by less than `near` mm from these."""
        x, rows = [], []
        done = 0
        for reading in readings:
            grid, windows = _grid(reading)
            x.append(grid)
            rows += [window + done for window in windows]
            done += len(grid)
        spots = places(positions, np.concatenate(x), near, aside=max(ASIDE, 0.6 * near))
        return cls(tuple(readings), spots, *_joined(rows))._thinned(positions, near)

    def _thinned(self, positions: Positions, near: float) -> Jaws:
        """The same without places far below the highest in every window that holds them."""
        y = heights(positions, self.spots)
        row = np.repeat(np.arange(len(self.starts)), np.diff(np.append(self.starts, len(self.spot))))
        top = np.maximum.reduceat(y[self.spot], self.starts)
        keep = y[self.spot] >= top[row] - max(KEEP, 2 * near)
        used, spot = np.unique(self.spot[keep], return_inverse=True)
        starts = np.flatnonzero(np.diff(row[keep], prepend=-1))
        return replace(self, spots=self.spots.some(used), spot=spot, starts=starts)

    def read(self, positions: Positions) -> Floats:
        """What jaws read at every shift: (…, readings, shifts), mm in the planner's frame."""
        y = heights(positions, self.spots)
        tops = np.maximum.reduceat(y[..., self.spot], self.starts, axis=-1)
        return tops.reshape(*tops.shape[:-1], len(self.readings), len(SHIFTS))

    @cached_property
    def unshifted(self) -> Jaws:
        """The same jaws, each at its place only: a fifth of the work."""
        rows = np.split(self.spot, self.starts[1:])[len(SHIFTS) // 2 :: len(SHIFTS)]
        used, spot = np.unique(np.concatenate(rows), return_inverse=True)
        starts = np.concatenate([[0], np.cumsum([len(row) for row in rows])[:-1]]).astype(np.int64)
        return replace(self, spots=self.spots.some(used), spot=spot, starts=starts)

    def at_place(self, positions: Positions) -> Floats:
        """What jaws read where they are said to be: (…, readings), mm."""
        y = heights(positions, self.unshifted.spots)
        return np.asarray(np.maximum.reduceat(y[..., self.unshifted.spot], self.unshifted.starts, axis=-1))

    def touching(self, positions: Positions) -> Floats:
        """Where along the axis the jaws touch, mm."""
        jaws = self.unshifted
        y = heights(positions, jaws.spots)[jaws.spot]
        out = []
        for n, (a, b) in enumerate(zip(jaws.starts, np.append(jaws.starts[1:], len(jaws.spot)), strict=True)):
            highest = np.flatnonzero(y[a:b] >= y[a:b].max() - 1e-6)
            x = jaws.spots.x[jaws.spot[a:b][highest]]
            out.append(x[np.argmin(np.abs(x - self.readings[n].z))])
        return np.array(out)

    def from_place(self, positions: Positions) -> Floats:
        """Variance that each reading has from the uncertainty of its place, mm²."""
        read = self.read(positions)
        middle = read[..., len(SHIFTS) // 2 : len(SHIFTS) // 2 + 1]
        return np.asarray(((read - middle) ** 2 * np.array(WEIGHTS)).sum(axis=-1))


def _grid(reading: Reading) -> tuple[Floats, list[Ints]]:
    """Places under the jaws of one reading at all shifts, and which of them lie under them at each shift."""
    half, u_z = reading.over / 2, reading.u_z
    step = half / np.ceil(half / STEP) if half > 0 else max(min(STEP, u_z / 3), 1e-3)
    wide = round(half / step)
    shifts = [round(shift * u_z / step) for shift in SHIFTS]
    reach = wide + max(abs(s) for s in shifts)
    grid = reading.z + step * np.arange(-reach, reach + 1)
    windows = [np.arange(reach + s - wide, reach + s + wide + 1, dtype=np.int64) for s in shifts]
    return np.asarray(grid, dtype=np.float64), windows


def _joined(rows: list[Ints]) -> tuple[Ints, Ints]:
    starts = np.concatenate([[0], np.cumsum([len(row) for row in rows])[:-1]])
    return np.concatenate(rows).astype(np.int64), starts.astype(np.int64)
