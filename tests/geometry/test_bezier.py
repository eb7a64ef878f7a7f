"""Curves that are not arcs: places and derivatives."""

import math

import pytest

from ovolo.geometry.bezier import Bezier, Curve, Ellipse, smooth_through
from ovolo.geometry.segments import Point


def _slope_by_difference(curve: Curve, t: float) -> tuple[float, float]:
    h = 1e-6
    a, b = curve(t - h)[0], curve(t + h)[0]
    return (b.x - a.x) / (2 * h), (b.y - a.y) / (2 * h)


@pytest.mark.parametrize("t", [0.1, 0.5, 0.8])
def test_derivatives_agree_with_differences(t: float) -> None:
    spline, _ = smooth_through([Point(0, 6), Point(-0.3, 9), Point(-0.9, 7), Point(-1.4, 7.2)])
    curves: list[Curve] = [
        Bezier((Point(0, 0), Point(1, 3), Point(4, 3), Point(5, 0))),
        Bezier((Point(0, 0), Point(1, 3), Point(4, 3))),
        Ellipse(Point(1, 2), Point(5, 1), Point(-0.6, 3)),
        spline,
    ]
    for curve in curves:
        assert curve(t)[1] == pytest.approx(_slope_by_difference(curve, t), abs=1e-6)


def test_a_bezier_starts_and_ends_on_its_points() -> None:
    curve = Bezier((Point(0, 0), Point(1, 3), Point(4, 3), Point(5, 1)))
    assert curve(0)[0] == (0, 0)
    assert curve(1)[0] == (5, 1)


def test_an_ellipse_keeps_to_its_equation() -> None:
    curve = Ellipse(Point(-12, 0), Point(12, 0), Point(0, 9))
    for k in range(12):
        p = curve(k * math.pi / 6)[0]
        assert ((p.x + 12) / 12) ** 2 + (p.y / 9) ** 2 == pytest.approx(1)


def test_a_spline_runs_through_its_points_and_ends_straight() -> None:
    points = [Point(0, 6), Point(-20, 9), Point(-50, 7), Point(-80, 10)]
    curve, at = smooth_through(points)
    for p, t in zip(points, at, strict=True):
        assert curve(t)[0] == pytest.approx(p)
    h = 1e-3
    bend = (curve(h)[1].y - curve(0)[1].y) / h
    assert abs(bend) < 1e-4


@pytest.mark.parametrize("points", [[], [Point(0, 0)], [Point(0, 0), Point(0, 0)]])
def test_too_few_points_make_no_spline(points: list[Point]) -> None:
    with pytest.raises(ValueError, match="no curve runs there"):
        smooth_through(points)
