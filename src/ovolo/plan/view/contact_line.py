"""The contact line: how low a tool may be above the part at close places, and how far it can go level from there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ovolo.geometry.chain import Floats, Ints


@dataclass(frozen=True)
class ContactLine:
    """Least heights of the nose centre at close places: every `finer`-th is a column, the first of them `column`."""

    x: Floats
    height: Floats
    column: int
    finer: int
    apart: float = 0.0

    def columns(self, first: int, last: int) -> Floats:
        """The heights at the columns from `first` to `last`."""
        return self.height[(first - self.column) * self.finer : (last - self.column) * self.finer + 1 : self.finer]

    @cached_property
    def _runs(self) -> list[Floats]:
        """The greatest height in every run of 1, 2, 4, 8, … places: any stretch is the union of two such runs."""
        table = [self.height]
        while 2 ** len(table) <= len(self.height):
            half, last = 2 ** (len(table) - 1), table[-1]
            table.append(np.maximum(last[:-half], last[half:]))
        return table

    def _highest_of(self, first: Ints, last: Ints) -> Floats:
        """The greatest height from place `first` to place `last`, for many stretches at once."""
        level = np.frexp((last - first + 1).astype(float))[1] - 1
        out = np.empty(len(first))
        for k in np.unique(level):
            mine = level == k
            out[mine] = np.maximum(self._runs[k][first[mine]], self._runs[k][last[mine] - 2**k + 1])
        return out

    def limits(self, x: Floats, y: Floats, target: Floats, *, ahead: bool) -> Floats:
        """How far each nose can go level toward a target, which lies toward the chuck (`ahead`) or away from it."""
        n = len(self.x)
        target = np.minimum(target, x) if ahead else np.maximum(target, x)
        start = np.clip(np.searchsorted(self.x, x - 1e-9), 0, n - 1)
        beyond = np.searchsorted(self.x, target + 1e-9) - 1 if ahead else np.searchsorted(self.x, target - 1e-9)
        end = np.clip(beyond, 0, n - 1)
        out = target.copy()
        held = np.flatnonzero(self._highest_of(np.minimum(start, end), np.maximum(start, end)) > y + 1e-6)
        start, y = start[held], y[held]
        good, bad = start.copy(), end[held]
        while (np.abs(bad - good) > 1).any():
            middle = (good + bad) // 2
            free = self._highest_of(np.minimum(middle, start), np.maximum(middle, start)) <= y + 1e-6
            good, bad = np.where(free, middle, good), np.where(free, bad, middle)
        out[held] = self.x[good]
        return out

    def free_toward(self, start: float, target: float, y: float) -> float:
        """How far the nose can go level at height y from one x toward another, mm."""
        low, high = min(start, target), max(start, target)
        i, j = np.searchsorted(self.x, (low - 1e-9, high + 1e-9))
        x, blocked = self.x[i:j], self.height[i:j] > y + 1e-6
        if target < start:
            x, blocked = x[::-1], blocked[::-1]
        if not blocked.any():
            return target
        return float(x[max(int(np.argmax(blocked)) - 1, 0)])

    def highest(self, a: float, b: float) -> float:
        """The greatest height between two x, both included, mm; -inf where nothing is touched."""
        low, high = min(a, b), max(a, b)
        i, j = np.searchsorted(self.x, (low - 1e-9, high + 1e-9))
        return float(self.height[i:j].max(initial=-math.inf))
