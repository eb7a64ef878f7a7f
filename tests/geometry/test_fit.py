"""Tangent arcs for curves: near enough, smooth, ends exact, few."""

import math

import pytest

from ovolo.geometry.bezier import Bezier, Ellipse
from ovolo.geometry.fit import Fitted, arc_leaving, biarc, distance_to, fit_curve
from ovolo.geometry.meet import turn_between
from ovolo.geometry.segments import Arc, Line, Point


def _farthest(fitted: Fitted, curve: Bezier | Ellipse, low: float, high: float) -> float:
    """Measured anew, at other places than the fit did."""
    places = [low + (high - low) * (k + 0.37) / 900 for k in range(900)]
    return max(min(distance_to(s, curve(t)[0]) for s in fitted.segments) for t in places)


@pytest.mark.parametrize(("a", "b"), [(12, 9), (50, 2), (9, 8.9), (3, 30)])
@pytest.mark.parametrize("tolerance", [1e-2, 1e-3, 1e-4])
def test_an_ellipse_is_met_within_the_tolerance_by_arcs_without_corners(a: float, b: float, tolerance: float) -> None:
    curve = Ellipse(Point(0, 0), Point(a, 0), Point(0, b))
    fitted = fit_curve(curve, 0, math.pi / 2, tolerance)
    assert fitted.deviation <= tolerance
    # Between its samples a pair strays a little more than at them.
    assert _farthest(fitted, curve, 0, math.pi / 2) <= 1.02 * fitted.deviation + 1e-9
    turns = [abs(turn_between(p, q)) for p, q in zip(fitted.segments, fitted.segments[1:], strict=False)]
    assert max(turns, default=0) < 1e-9
    assert fitted.segments[0].start == pytest.approx((a, 0))
    assert fitted.segments[-1].end == pytest.approx((0, b), abs=1e-12)
    for p, q in zip(fitted.segments, fitted.segments[1:], strict=False):
        assert math.dist(p.end, q.start) < 1e-12


def test_a_tenth_of_the_tolerance_takes_about_the_cube_root_more_arcs() -> None:
    curve = Ellipse(Point(0, 0), Point(30, 0), Point(0, 12))
    coarse, fine = (len(fit_curve(curve, 0, math.pi / 2, tol).segments) for tol in (1e-3, 1e-6))
    assert 6 < fine / coarse < 14


def test_a_curve_may_be_walked_backward() -> None:
    curve = Ellipse(Point(0, 0), Point(5, 0), Point(0, 3))
    fitted = fit_curve(curve, math.pi / 2, 0)
    assert fitted.segments[0].start == pytest.approx((0, 3), abs=1e-12)
    assert fitted.segments[-1].end == pytest.approx((5, 0))


def test_breaks_are_met() -> None:
    curve = Ellipse(Point(0, 0), Point(5, 0), Point(0, 3))
    fitted = fit_curve(curve, 0, math.pi, 1e-2, [math.pi / 2])
    assert min(math.dist(s.end, (0, 3)) for s in fitted.segments) < 1e-12


def test_a_straight_bezier_becomes_lines() -> None:
    fitted = fit_curve(Bezier((Point(0, 0), Point(-1, 1), Point(-2, 2), Point(-3, 3))), 0, 1)
    assert all(isinstance(s, Line) for s in fitted.segments)


def test_handles_on_the_ends_and_loops_are_followed() -> None:
    for points in [
        (Point(0, 0), Point(0, 0), Point(0, 10), Point(10, 10)),
        (Point(0, 0), Point(10, 10), Point(0, 10), Point(10, 0)),
        (Point(0, 0), Point(12, 9), Point(-2, 9), Point(10, 0)),
    ]:
        curve = Bezier(points)
        assert _farthest(fit_curve(curve, 0, 1), curve, 0, 1) < 1.1e-3


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_a_curve_that_is_not_finite_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="not a number"):
        fit_curve(Bezier((Point(0, 0), Point(bad, 1), Point(2, 2))), 0, 1)


def test_a_curve_without_length_is_refused() -> None:
    with pytest.raises(ValueError, match="no length"):
        fit_curve(Bezier((Point(1, 1), Point(1, 1), Point(1, 1))), 0, 1)


def test_a_biarc_keeps_both_directions() -> None:
    one, two = biarc(Point(0, 0), Point(0, 1), Point(-9, 5), Point(-1, 0))
    assert one.tangent(0) == pytest.approx((0, 1))
    assert two.tangent(two.length) == pytest.approx((-1, 0))
    assert abs(turn_between(one, two)) < 1e-12


def test_an_arc_that_leaves_straight_ahead_is_a_line() -> None:
    assert isinstance(arc_leaving(Point(0, 0), Point(-1, 0), Point(-5, 0)), Line)
    assert isinstance(arc_leaving(Point(0, 0), Point(-1, 0), Point(-5, 1)), Arc)


def test_distance_counts_the_ends() -> None:
    arc = Arc(Point(9, 0), Point(0, 9), Point(0, 0), True)
    assert distance_to(arc, Point(5, 5)) == pytest.approx(9 - math.hypot(5, 5))
    assert distance_to(arc, Point(-3, -4)) == pytest.approx(math.dist((-3, -4), (9, 0)))
    assert distance_to(Line(Point(0, 0), Point(4, 0)), Point(7, 4)) == 5
