"""The circle nearest to points: least squares of the distances from it, with what it is known to.

The distances themselves are squared and summed, not an algebraic form that is quicker to solve: on a short arc those
come out small (24 % on the published short arc that the tests hold).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from ovolo.errors import Fault, FaultsFound
from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point

__all__ = ["Circle", "fit_circle"]

ROUNDS, CLOSE = 200, 1e-12


class Circle(NamedTuple):
    """Centre and radius, mm; standard uncertainty of the radius for points known to 1 (multiply it by theirs);
    root mean square of what is left."""

    centre: Point
    radius: float
    u_radius: float
    left: float


def fit_circle(points: Sequence[Point]) -> Circle:
    """The circle with the least sum of squared distances to three points or more, mm.

    Raises FaultsFound for fewer points, or where they lie on a line. Source: Gauss and Newton's steps,
    damped as Levenberg and Marquardt do, on distance less radius; started from the algebraic fit.

    >>> circle = fit_circle([Point(1, 7), Point(2, 6), Point(5, 8), Point(7, 7), Point(9, 5), Point(3, 7)])
    >>> round(circle.centre.x, 6), round(circle.centre.y, 6), round(circle.radius, 6)
    (4.739782, 2.983533, 4.714226)
    """
    if len(points) < 3:
        says = "a circle needs three points or more"
        raise FaultsFound([Fault("points", len(points), "3 or more", says, "Measure at more places")])
    xy = np.array(points, dtype=np.float64)
    middle, size = xy.mean(axis=0), float(np.abs(xy - xy.mean(axis=0)).max())
    scaled = (xy - middle) / (size or 1.0)
    values = _started(scaled)
    if values is None:
        says = "these points lie on a line"
        raise FaultsFound([Fault("points", len(points), "points on a curve", says, "Measure farther apart")])
    values = _refined(scaled, values)
    slopes, off = _linear(scaled, values)
    spread = np.linalg.pinv(slopes.T @ slopes)
    centre = Point(float(values[0] * size + middle[0]), float(values[1] * size + middle[1]))
    left = math.sqrt(float(off @ off) / len(points)) * size
    return Circle(centre, float(values[2]) * size, math.sqrt(float(spread[2, 2])), left)


def _started(xy: Floats) -> Floats | None:
    """The algebraic fit: x² + y² = 2 a x + 2 b y + c."""
    design = np.column_stack([2 * xy, np.ones(len(xy))])
    if np.linalg.matrix_rank(design, 1e-9) < 3:
        return None
    a, b, c = np.linalg.lstsq(design, (xy**2).sum(axis=1), rcond=None)[0]
    return np.array([a, b, math.sqrt(max(c + a * a + b * b, 1e-12))])


def _linear(xy: Floats, values: Floats) -> tuple[Floats, Floats]:
    """How distance less radius changes with centre and radius, and what it is."""
    away = xy - values[:2]
    far = np.maximum(np.hypot(away[:, 0], away[:, 1]), 1e-12)
    return np.column_stack([-away / far[:, None], -np.ones(len(xy))]), far - values[2]


def _refined(xy: Floats, values: Floats) -> Floats:
    damping, (slopes, off) = 1e-3, _linear(xy, values)
    for _ in range(ROUNDS):
        normal = slopes.T @ slopes
        damped = normal + damping * np.diag(np.diag(normal) + 1e-12)
        # By least squares: where the points all but lie on a line the equations have no one solution.
        step, *_ = np.linalg.lstsq(damped, -slopes.T @ off, rcond=None)
        tried_slopes, tried_off = _linear(xy, values + step)
        if tried_off @ tried_off <= off @ off:
            values, slopes, off, damping = values + step, tried_slopes, tried_off, damping / 5
            if np.abs(step).max() < CLOSE:
                break
        else:
            damping = min(damping * 5, 1e12)
    return values
