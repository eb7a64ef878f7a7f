"""The metal that stands while roughing is planned: its height at close places along the axis.

A quick picture to plan with, from above; what a plan really takes is found afterwards by the exact sweep.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.shop.tools import Tool
from ovolo.tolerances import ROUNDING

#: Cuts thinner than this are slivers and no part of a bite, mm.
SLIVER = 0.018
#: So many spots of a tool are looked at for the one that passes lowest.
SPOTS = 2001


class Chip(NamedTuple):
    """What a cut takes: area, mm²; greatest extents of one piece of it, upward and along the axis, mm."""

    area: float
    tall: float
    wide: float


def nearest_to_lowest(tool: Tool, low: Floats, high: Floats) -> Floats:
    """Of each range of places under a tool, from its nose centre, the one where its underside is lowest."""
    middle = 0.0 if tool.edge.noses else sum(tool.lowest) / 2
    return np.asarray(np.clip(middle, low, high))


def under_way(tool: Tool, x: Floats, start: Point, end: Point) -> Floats:
    """The lowest underside over each place while the nose centre goes straight from `start` to `end`, mm.

    Where it goes down or up as it goes along, each place is passed lowest by the same spot of the tool: where that
    leans as the way does.
    """
    low, high = min(start.x, end.x), max(start.x, end.x)
    if high - low < ROUNDING:
        return min(start.y, end.y) + tool.edge.over(x - start.x)
    slope = (end.y - start.y) / (end.x - start.x)
    reach = np.linspace(-tool.extent, tool.extent, SPOTS)
    spot = float(reach[np.argmin(tool.edge.over(reach) - slope * reach)])
    centre = np.clip(x - spot, low, high)
    return np.asarray(start.y + slope * (centre - start.x) + tool.edge.over(x - centre))


class Metal:
    """Height of the metal over an even row of places `x` (rising), mm."""

    def __init__(self, x: Floats, height: Floats, tool: Tool) -> None:
        self.x, self.height, self.tool = x, height, tool
        self.pitch = float(x[1] - x[0])
        self.top = float(height.max())

    def with_tool(self, tool: Tool) -> Metal:
        """The same metal, to be cut with another tool."""
        return Metal(self.x, self.height, tool)

    def _after_level(self, y: float, first: float, last: float) -> tuple[slice, Floats]:
        """Where the nose may take something on its way from x = first to last at height y, and the heights after it."""
        low, high = min(first, last), max(first, last)
        edge = self.tool.edge
        left, right = edge.beside(max(self.top - y, 0.0) + self.tool.nose_radius)
        i, j = np.searchsorted(self.x, (low - left - self.pitch, high + right + self.pitch))
        return slice(i, j), np.minimum(self.height[i:j], y + edge.over_way(self.x[i:j], low, high))

    def _chip(self, where: slice, after: Floats, base: float = -math.inf) -> Chip:
        height, after = np.maximum(self.height[where], base), np.maximum(after, base)
        taken = height - after
        area = float(taken.sum()) * self.pitch
        thick = taken > SLIVER
        if not thick.any():
            return Chip(area, 0.0, 0.0)
        edge = np.flatnonzero(np.diff(np.concatenate([[False], thick, [False]]).astype(np.int8)))
        starts, stops = edge[::2], edge[1::2]
        tops = np.maximum.reduceat(np.where(thick, height, -np.inf), starts)
        lows = np.minimum.reduceat(np.where(thick, after, np.inf), starts)
        return Chip(area, float((tops - lows).max()), float((stops - starts).max()) * self.pitch)

    def try_level(self, y: float, first: float, last: float, base: float = -math.inf) -> Chip:
        """What a pass along the axis would take, above `base` where there is no metal below that."""
        return self._chip(*self._after_level(y, first, last), base)

    def cutting_way(self, y: float, first: float, last: float) -> tuple[float, float] | None:
        """Between which places of the nose centre a pass from `first` to `last` takes metal; None nowhere."""
        where, after = self._after_level(y, first, last)
        taken = np.flatnonzero(self.height[where] - after > SLIVER)
        if not len(taken):
            return None
        low, high = float(self.x[where][taken[0]]), float(self.x[where][taken[-1]])
        left, right = self.tool.lowest
        if first > last:
            return min(first, high - right), max(last, low - left)
        return max(first, low - left), min(last, high - right)

    def tallest_at_once(self, y: float, first: float, last: float) -> float:
        """The greatest depth that the leading side of the tool meets at any place of a pass along the axis, mm."""
        where, after = self._after_level(y, first, last)
        height, reach = self.height[where], max(1, round(self.tool.nose_radius / self.pitch))
        taken = height - after > SLIVER
        if not taken.any():
            return 0.0
        top = np.pad(np.where(taken, height, -np.inf), reach, constant_values=-np.inf)
        low = np.pad(np.where(taken, after, np.inf), reach, constant_values=np.inf)
        windows = np.lib.stride_tricks.sliding_window_view
        extent = windows(top, reach + 1).max(axis=1) - windows(low, reach + 1).min(axis=1)
        return float(extent[np.isfinite(extent)].max())

    def try_plunge(self, x: float, y: float) -> Chip:
        """What feeding straight in at x, down to y, would take."""
        return self.try_level(y, x, x)

    def take_level(self, y: float, first: float, last: float, base: float = -math.inf) -> float:
        """Make a pass along the axis; what it takes, mm², above `base` where there is no metal below that."""
        where, after = self._after_level(y, first, last)
        area = float((np.maximum(self.height[where], base) - np.maximum(after, base)).sum()) * self.pitch
        self.height = self.height.copy()
        self.height[where] = after
        return area

    def cut_level(self, y: float, first: float, last: float) -> None:
        """Make a pass along the axis."""
        self.take_level(y, first, last)

    def cut_plunge(self, x: float, y: float) -> None:
        """Feed straight in at x, down to y."""
        self.cut_level(y, x, x)


def lowest_possible(x: Floats, allowed: Floats, tool: Tool) -> Floats:
    """Height of what the tool can't take when its centre stays on or above `allowed` everywhere."""
    pitch = float(x[1] - x[0])
    reach = math.ceil(tool.extent / pitch) + 1
    under = tool.edge.over(np.arange(-reach, reach + 1, dtype=np.float64) * pitch)
    padded = np.concatenate([np.full(reach, np.inf), allowed, np.full(reach, np.inf)])
    windows = np.lib.stride_tricks.sliding_window_view(padded, 2 * reach + 1)
    # A place is cut by centres to its left and right: their underside, seen the other way round.
    return np.asarray((windows + under[::-1]).min(axis=1))
