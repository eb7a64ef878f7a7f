"""Curves that are not arcs: Béziers, ellipses and splines, each as a place and a direction at a parameter."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ovolo.geometry.segments import Point

#: A curve: parameter -> (place, derivative), mm.
Curve = Callable[[float], tuple[Point, Point]]


@dataclass(frozen=True)
class Bezier:
    """A Bézier curve of any degree on the parameter 0 to 1, by de Casteljau's construction (points in mm).

    >>> Bezier((Point(0, 0), Point(0, 2), Point(2, 2)))(0.5)
    (Point(x=0.5, y=1.5), Point(x=2.0, y=2.0))
    """

    points: tuple[Point, ...]

    def __call__(self, t: float) -> tuple[Point, Point]:
        """Place and derivative at t."""
        row: Sequence[Point] = self.points
        degree = len(row) - 1
        while len(row) > 2:
            row = [_between(a, b, t) for a, b in itertools.pairwise(row)]
        slope = Point(degree * (row[1].x - row[0].x), degree * (row[1].y - row[0].y))
        return _between(row[0], row[1], t), slope


@dataclass(frozen=True)
class Ellipse:
    """An ellipse about `centre`: place = centre + major cos t + minor sin t; t in radians, lengths in mm.

    >>> Ellipse(Point(0, 0), Point(5, 0), Point(0, 3))(math.pi / 2)[0].y
    3.0
    """

    centre: Point
    major: Point
    minor: Point

    def __call__(self, t: float) -> tuple[Point, Point]:
        """Place and derivative at t."""
        c, s = math.cos(t), math.sin(t)
        m, n = self.major, self.minor
        place = Point(self.centre.x + m.x * c + n.x * s, self.centre.y + m.y * c + n.y * s)
        return place, Point(n.x * c - m.x * s, n.y * c - m.y * s)


def smooth_through(points: Sequence[Point]) -> tuple[Curve, tuple[float, ...]]:
    """The natural cubic spline through the points, by chord length, and its parameter at each of them [mm].

    Curvature runs on without a jump and is 0 at both ends. Raises ValueError for fewer than two points, or two
    neighbours in the same place.

    >>> curve, at = smooth_through([Point(0, 6), Point(-20, 9), Point(-50, 7)])
    >>> curve(at[1])[0]
    Point(x=-20.0, y=9.0)
    """
    from scipy.interpolate import CubicSpline

    steps = [math.dist(a, b) for a, b in itertools.pairwise(points)]
    if not steps or min(steps) < 1e-9:
        raise ValueError(f"{len(points)} points, the nearest {min(steps, default=0):g} mm apart: no curve runs there")
    at = [0.0]
    for step in steps:
        at.append(at[-1] + step)
    spline = CubicSpline(at, [tuple(p) for p in points], bc_type="natural")
    slope = spline.derivative()

    def curve(t: float) -> tuple[Point, Point]:
        return Point(*map(float, spline(t))), Point(*map(float, slope(t)))

    return curve, tuple(at)


def _between(a: Point, b: Point, t: float) -> Point:
    return Point(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y))
