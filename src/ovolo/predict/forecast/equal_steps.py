"""What the usual way would leave: equal steps along the curve, set with a tool taken for a point.

Lengths in mm, angles in radians. The settings, both ends of the curve counted, are equally far apart along it;
the slides are wound one after the other, so that the tip goes round the outer corner between two settings and leaves
that corner standing. The same settings with a round nose whose radius is allowed for leave far less.
"""

import math

import numpy as np
import shapely

from ovolo.cutting.limits import above, at_least, between, within_limits
from ovolo.cutting.nose import ridge_convex
from ovolo.geometry.chain import Chain, Floats
from ovolo.plan.view.frame import Frame
from ovolo.tolerances import LEVEL

__all__ = ["equal_places", "nose_on_dome", "point_on_dome", "steps_leave"]

_FLATTEN = 96
"""Chords in a quarter of the nose: a nose of R 6 is short by 0.2 µm."""

_BETWEEN = 24
"""Places of the outline looked at between two settings."""

_CLOSE = 0.02
"""Heights are taken at least this closely along what is left, mm."""


def point_on_dome(radius: float, settings: int, turn: float = math.pi / 2) -> float:
    """Highest corner that a point leaves on a dome stepped evenly from the axis outward, square to it [mm].

    Between settings at angles a and b from the axis stands the corner (R cos a, R sin b):
    h = sqrt(R^2 cos^2 a + R^2 sin^2 b) - R; the greatest of all steps.

    radius:   R [mm]. settings: 2 or more, both ends counted. turn: of the arc from the axis [rad], to pi/2.
    Source: derived; on R 9 with 13 and 25 settings it is 0.565 and 0.289 mm, the same as an independent sweep.

    >>> round(point_on_dome(9, 13), 3), round(point_on_dome(9, 25), 3)
    (0.565, 0.289)
    """
    _dome_limits(radius, settings, turn)
    step = turn / (settings - 1)
    return max(radius * math.hypot(math.cos(k * step), math.sin((k + 1) * step)) - radius for k in range(settings - 1))


def nose_on_dome(radius: float, nose_radius: float, settings: int, turn: float = math.pi / 2) -> float:
    """Ridge that a round nose, its radius allowed for, leaves on a dome with the same equal steps [mm].

    Limits and source: those of `ridge_convex`.

    >>> round(nose_on_dome(9, 3, 13), 3), round(nose_on_dome(9, 3, 25), 3)
    (0.079, 0.019)
    """
    _dome_limits(radius, settings, turn)
    return ridge_convex(radius * turn / (settings - 1), nose_radius, radius)


def steps_leave(frame: Frame, settings: int, nose_radius: float = 0.0) -> float | None:
    """Most metal that equal steps leave above the curve of any job, square to it [mm]; swept.

    settings:    how many, both ends of the curve counted.
    nose_radius: 0 for a point; else a nose that is allowed for [mm].
    None where there is nothing to compare: under 2 settings, or a curve that one slide alone follows.
    Limits: the nose has to fit wherever it is set; what an edge of the tool can't reach is not seen.
    Source: derived; agrees with `point_on_dome` and `nose_on_dome` on domes.
    """
    within_limits(at_least("nose radius", nose_radius, 0))
    if settings < 2:
        return None
    feet = equal_places(frame, settings)
    if feet[-1] - feet[0] < _CLOSE:
        return None
    gaps = [_between(frame.chain, feet[i], feet[i + 1], nose_radius) for i in range(settings - 1)]
    left = shapely.make_valid(np.array([shapely.Polygon(np.vstack([ground, way[::-1]])) for ground, way in gaps]))
    if nose_radius:
        ways = shapely.linestrings([way for _, way in gaps])
        left = shapely.difference(left, shapely.buffer(ways, nose_radius, quad_segs=_FLATTEN))
    points = shapely.get_coordinates(shapely.segmentize(left, _CLOSE))
    points = points[np.argsort(points[:, 0], kind="stable")]
    if not len(points):
        return 0.0
    _, height = frame.chain.project(points[:, 0], points[:, 1], 2 * frame.job.shop.stock.radius)
    return float(height.max())


def equal_places(frame: Frame, settings: int) -> Floats:
    """Places equally far apart along the curve, both ends counted, as the `u` of the frame's chain [mm].

    Faces and cylinders count for nothing, as one slide alone follows them; nor do sharp corners.
    """
    chain = frame.chain
    square = ~chain.is_arc & (np.minimum(np.abs(chain.tx), np.abs(chain.ty)) < LEVEL)
    corner = chain.is_arc & (chain.radius == 0)
    way = np.concatenate([[0.0], np.cumsum(np.where(square | corner, 0.0, chain.size))])
    start, end = np.interp(frame.curve_ends, chain.starts, way)
    return np.asarray(np.interp(np.linspace(start, end, settings), way, chain.starts), dtype=np.float64)


def _between(chain: Chain, one: float, other: float, rise: float) -> tuple[Floats, Floats]:
    """The outline between two feet, and the way of the tip or nose centre above it: up, level and down, (n, 2)."""
    u = np.linspace(one, other, _BETWEEN)
    x, y = chain.points(u, rise)
    top = y.max()
    way = np.array([(x[0], y[0]), (x[0], top), (x[-1], top), (x[-1], y[-1])])
    return np.column_stack(chain.points(u)), way


def _dome_limits(radius: float, settings: int, turn: float) -> None:
    within_limits(
        above("radius", radius, 0),
        at_least("settings", settings, 2, "Count both ends of the curve"),
        between("turn", turn, 1e-6, math.pi / 2),
    )
