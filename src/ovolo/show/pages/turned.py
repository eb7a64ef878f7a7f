"""The part as it comes off the tool, to be looked at from all sides: its profile as points on the outline, and how far
the metal stands above each, so that a page can show the heights at their own scale or magnified."""

from __future__ import annotations

import numpy as np
import shapely

from ovolo.geometry.chain import Floats
from ovolo.plan.model import Plan
from ovolo.plan.view.frame import Frame
from ovolo.tolerances import SAME_PLACE

__all__ = ["turned"]

MOST = 280
"""More points than this a page cannot turn smoothly."""

MAGNIFIED = 30.0
"""The points are chosen so that the profile is right at this magnification of the heights."""

FARTHEST = 1.0
"""Metal that stands farther than this from the outline belongs to the bar behind, mm."""


def turned(plan: Plan) -> list[list[float]]:
    """[z, r, dz, dr] from the free end toward the chuck, mm: a place, and from there to the metal left above it.

    Along the curve the place is on the outline; elsewhere it is on the metal itself, whose height is nobody's concern.
    """
    frame = plan.frame
    points = np.asarray(plan.prediction.surface)
    u, height = _projected(frame, points)
    x, y = frame.chain.points(u)
    start, end = frame.curve_ends
    # What has its foot on the very ends of the curve stands beside it, unless that end lies on the axis.
    curve = ((u > start + SAME_PLACE) | frame.on_axis) & (u < end - SAME_PLACE) & (height < FARTHEST)
    feet = np.where(curve[:, None], np.column_stack([x, frame.sign * y]), points)
    part = (u < frame.chain.length - SAME_PLACE) & (height < FARTHEST)
    feet, away = feet[part], (points - feet)[part]
    kept = _chosen(feet + MAGNIFIED * away)
    rows: list[list[float]] = np.round(np.hstack([feet[kept], away[kept]]), 5).tolist()
    return rows


def _projected(frame: Frame, points: Floats) -> tuple[Floats, Floats]:
    """Where each point has its foot, and how far away; the chain wants them in rising order of z."""
    rising = np.argsort(points[:, 0], kind="stable")
    x, y = points[rising].T
    u, height = np.empty(len(points)), np.empty(len(points))
    u[rising], height[rising] = frame.chain.project(x, frame.sign * y, 2.0 * frame.job.shop.stock.radius)
    return u, height


def _chosen(profile: Floats) -> np.ndarray:
    """The numbers of the points that the profile needs, at most `MOST` of them."""
    line, tolerance = shapely.LineString(profile), 1e-3
    while True:
        thin = shapely.get_coordinates(shapely.simplify(line, tolerance))
        if len(thin) <= MOST:
            break
        tolerance *= 1.5
    places = {tuple(point): i for i, point in enumerate(profile)}
    return np.array(sorted(places[tuple(point)] for point in thin))
