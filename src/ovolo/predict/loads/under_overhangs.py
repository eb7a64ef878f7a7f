"""The metal under overhangs: heights along the axis see nothing of it, so the regions of the plan's own sweep are used.

Only for outlines that double back, and there only for cuts that heights don't show: regions take longer. Lengths in
mm, in the planner's frame.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.overhang import doubles_back, seen_from_the_side
from ovolo.geometry.segments import Point
from ovolo.plan.view.frame import Frame

__all__ = ["inside", "roof_of"]

_CHORD = 2e-3
"""Chordal error of the outline, mm."""


def roof_of(frame: Frame, x: Floats, nothing: float) -> Floats | None:
    """The highest place of the finished part at each x, `nothing` outside it; None where the outline does not double
    back: there heights show all [mm]."""
    if not doubles_back(frame.outline):
        return None
    points = np.array(_roof(frame)[::-1])
    return np.asarray(np.interp(x, points[:, 0], points[:, 1], left=nothing, right=nothing))


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
