"""How wide a cut is: the widest that its edge takes at once, the last tenth of its cutting way aside.

There the nose runs into what earlier cuts left at their stops: the fillet in a corner, the scallop on a floor. A cut
that is narrow enough as a whole is not looked at more closely.
"""

from __future__ import annotations

import math

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.clearing.ground import STILL, Ground

#: The share of the cutting way that does not count; the sweep looks at a move in so many parts, each of which does.
ASIDE, PARTS = 0.1, 40
#: Metal thinner than this is not there, mm.
TOUCH = 2e-3
#: Widths that differ by less are the same, mm.
LEVEL_WITH = 1e-3


def plunge_width(ground: Ground, metal: Metal, x: float, y: float) -> float:
    """How wide the nose cuts while it is fed straight in at x, down to y, mm."""
    i, under = ground.profile(x, 0.0)
    gap = metal.height[i : i + len(under)] - under
    first = float(gap.max(initial=-np.inf))
    if first <= y + TOUCH:
        return 0.0
    counts = _counts(first - y, max(ground.clear_y, first) - y)
    taken = gap > y + (1.0 - counts) * (first - y) + TOUCH
    in_all = np.count_nonzero(taken) * ground.pitch
    return in_all if in_all <= ground.widest else _widest_run(taken) * ground.pitch


def fitting(ground: Ground, metal: Metal, xs: Floats, ys: Floats) -> np.ndarray:
    """Which of many places the nose may be fed straight in at, each down to its own y, without too wide a cut."""
    under, height = ground.profiles(xs, metal.height)
    gap = height - under
    first = gap.max(axis=1, initial=-np.inf)
    way = np.maximum(first - ys, STILL)
    parts = PARTS * way / np.maximum(np.maximum(ground.clear_y, first) - ys, way)
    counts = 1.0 - np.floor(ASIDE * parts + 1e-9) / parts
    taken = gap > (ys + (1.0 - counts) * way + TOUCH)[:, None]
    widest = _widest_runs(taken) * ground.pitch
    return np.asarray((first <= ys + TOUCH) | (widest <= ground.widest))


def enclosed_depth(ground: Ground, metal: Metal, x: float, y: float) -> float:
    """How deep a slot is that feeding in at x, down to y, would cut with metal on both its sides, mm; 0 in the open."""
    i, under = ground.profile(x, y)
    inside = np.flatnonzero(np.isfinite(under) & (metal.height[i : i + len(under)] > under + TOUCH))
    if not len(inside):
        return 0.0
    left, right = i + int(inside[0]) - 2, i + int(inside[-1]) + 2
    if left < 0 or right >= len(metal.height):
        return 0.0
    return float(min(metal.height[left], metal.height[right])) - y + ground.tool.nose_radius


def pass_depth(ground: Ground, metal: Metal, y: float, first: float, last: float) -> float:
    """How deep the nose cuts on its way along the axis from `first` to `last` at height y, mm."""
    whole = metal.try_level(y, first, last)
    if whole.tall <= ground.deepest + LEVEL_WITH:
        return min(whole.tall, ground.deepest)
    found = metal.cutting_way(y, first, last)
    if found is None:
        return 0.0
    begin, end = found
    stop = begin + _counts(abs(end - begin), abs(last - first)) * (end - begin)
    return metal.tallest_at_once(y, first, stop) - LEVEL_WITH


def _counts(cutting: float, move: float) -> float:
    """The share of the cutting way of a move that counts, both of these lengths [-].

    >>> _counts(10.0, 10.0), _counts(1.0, 10.0)
    (0.9, 1.0)
    """
    parts = PARTS * cutting / max(move, cutting)
    aside = math.floor(ASIDE * parts + 1e-9)
    return 1.0 - aside / parts if aside else 1.0


def _widest_run(taken: np.ndarray) -> int:
    """How many of these are true one after the other, at most."""
    return int(_widest_runs(taken[None])[0])


def _widest_runs(taken: np.ndarray) -> np.ndarray:
    """The same of each row."""
    places = np.arange(1, taken.shape[1] + 1)
    before = np.maximum.accumulate(np.where(taken, 0, places), axis=1)
    return np.asarray((places - before).max(axis=1, initial=0))
