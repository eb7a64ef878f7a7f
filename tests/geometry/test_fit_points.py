"""Lines and arcs through rows of points."""

import math
import random

import pytest

from ovolo.geometry.fit import distance_to
from ovolo.geometry.fit_points import fit_points, scatter
from ovolo.geometry.segments import Arc, Line, Point


def _pin(step: int, noise: float = 0.0) -> list[Point]:
    chance = random.Random(3)
    arc = [(-9 + 9 * math.cos(a), 9 * math.sin(a)) for a in (k * math.pi / 2 / step for k in range(step + 1))]
    shank = [(-9 - 0.1 * k, 9.0) for k in range(1, 151)]
    return [Point(x, y + chance.gauss(0, noise)) for x, y in arc + shank]


@pytest.mark.parametrize("step", [12, 100, 3000])
def test_a_dome_and_its_shank_are_found_again(step: int) -> None:
    fitted = fit_points(_pin(step), 1e-6)
    arc, line = fitted.segments
    assert isinstance(arc, Arc)
    assert isinstance(line, Line)
    assert arc.radius == pytest.approx(9, abs=1e-5)
    assert fitted.deviation <= 1e-6


@pytest.mark.parametrize(("tolerance", "most"), [(1e-4, 160), (1e-3, 75), (1e-2, 35)])
def test_no_point_lies_farther_off_than_allowed(tolerance: float, most: int) -> None:
    points = [Point(-0.05 * k, 10 + 2 * math.sin(k / 31)) for k in range(800)]
    fitted = fit_points(points, tolerance)
    assert max(min(distance_to(s, p) for s in fitted.segments) for p in points) <= tolerance + 1e-9
    assert fitted.deviation <= tolerance
    assert fitted.segments[0].start == points[0]
    assert fitted.segments[-1].end == points[-1]
    # One arc strays by about k' h³/125: for this row some 150, 70 and 32 of them are needed.
    assert len(fitted.segments) <= most


def test_corners_are_kept() -> None:
    points = [Point(0, 0.5 * k) for k in range(19)] + [Point(-0.5 * k, 9) for k in range(1, 40)]
    assert [type(s) for s in fit_points(points, 1e-6).segments] == [Line, Line]


def test_more_than_half_a_circle_takes_more_than_one_arc() -> None:
    points = [Point(10 * math.cos(k / 50), 10 * math.sin(k / 50)) for k in range(250)]
    fitted = fit_points(points, 1e-6)
    assert 2 <= len(fitted.segments) <= 4
    assert all(isinstance(s, Arc) and s.radius == pytest.approx(10, abs=1e-4) for s in fitted.segments)


@pytest.mark.parametrize("noise", [0.002, 0.01, 0.05])
def test_scatter_is_estimated_and_shape_is_not(noise: float) -> None:
    assert scatter(_pin(100, noise)) == pytest.approx(noise, rel=0.35)
    assert scatter(_pin(100)) < 1e-5


def test_one_point_is_no_row() -> None:
    with pytest.raises(ValueError, match="1 points"):
        fit_points([Point(0, 0)], 1e-3)
