"""The metal under lips while a plan is carried out: heights along the axis see nothing of it, so here it is a region.

Only for outlines that double back, and there only for cuts of which heights don't tell: regions take longer. Lengths in
mm, in the planner's frame.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.overhang import doubles_back, seen_from_the_side
from ovolo.geometry.segments import Point
from ovolo.plan.sweep.sweep import blank_region, tool_shape
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

__all__ = ["UnderLips", "inside", "under_lips"]

_CHORD = 2e-3
"""Chordal error of the outline, mm."""


class UnderLips:
    """The metal as it stands, and the finished outline as it is seen from above."""

    def __init__(self, frame: Frame) -> None:
        self.rest: BaseGeometry = blank_region(frame)
        self._roof = np.array(_roof(frame)[::-1])

    def roof(self, x: Floats, nothing: float) -> Floats:
        """The highest place of the finished part at each x; `nothing` beside it."""
        return np.asarray(np.interp(x, self._roof[:, 0], self._roof[:, 1], left=nothing, right=nothing))

    def take(self, tool: Tool, start: Point, end: Point) -> tuple[BaseGeometry, BaseGeometry]:
        """Make a move: the metal before it, and the chip."""
        before, shape = self.rest, tool_shape(tool)
        track = shapely.MultiPoint(np.vstack([shape + np.array(start), shape + np.array(end)])).convex_hull
        chip = shapely.intersection(track, before)
        if not chip.is_empty:
            self.rest = shapely.difference(before, track)
        return before, chip


def under_lips(frame: Frame) -> UnderLips | None:
    """The same for a job whose outline doubles back; None for all others."""
    return UnderLips(frame) if doubles_back(frame.outline) else None


def _roof(frame: Frame) -> Sequence[Point]:
    """What is seen of the finished outline from above, from the free end on."""
    points: list[Point] = []
    for piece, seen in seen_from_the_side(frame.outline):
        points += piece.flattened(_CHORD) if seen else []
    return points


def inside(metal: BaseGeometry, x: Floats, y: Floats) -> Floats:
    """1 for every place that lies in the metal, 0 for the others."""
    left, low, right, high = metal.bounds
    near = (x >= left) & (x <= right) & (y >= low) & (y <= high)
    out = np.zeros(x.shape)
    shapely.prepare(metal)
    out[near] = shapely.contains_xy(metal, x[near], y[near])
    return out
