"""Feed marks and ridges against published and independently found values.

Qu & Shih, Mach. Sci. Technol. 7(2) 2003, 281-294 (abstract seen): the parabola is less than 1.6 % low for f/r < 0.5.
Ridges on arcs: derived; the oracle here is shapely's intersection of two fine circles.
"""

import math

import pytest
from shapely import Point, get_coordinates

from ovolo.cutting import nose


def test_feed_mark_exact_value() -> None:
    assert nose.feed_mark(0.2, 0.8) == pytest.approx((8 - 3 * math.sqrt(7)) / 10, abs=1e-15)


@pytest.mark.parametrize(
    ("feed", "radius", "exact_um", "small_um"),
    [(0.2, 0.8, 6.2746, 6.25), (0.1, 0.4, 3.1373, 3.125), (0.5, 0.8, 40.066, 39.063), (0.4, 0.8, 25.403, 25.0)],
)
def test_feed_mark_rows(feed: float, radius: float, exact_um: float, small_um: float) -> None:
    assert 1000 * nose.feed_mark(feed, radius) == pytest.approx(exact_um, abs=6e-4)
    assert 1000 * nose.feed_mark_small(feed, radius) == pytest.approx(small_um, abs=6e-4)


def test_the_parabola_is_less_than_1_6_percent_low_up_to_half_the_radius() -> None:
    ratios = [nose.feed_mark(k / 1000, 1.0) / nose.feed_mark_small(k / 1000, 1.0) for k in range(1, 501)]
    assert max(ratios) == ratios[-1] == pytest.approx(1.0161, abs=1e-4)
    assert min(ratios) > 1


# 23.284 and 9.378 are as printed in the table of check values; the first is 23.28454 to more digits.
@pytest.mark.parametrize(
    ("part", "radius", "step", "convex_um", "concave_um"),
    [(10, 0.8, 0.4, 27.548, 23.284), (25, 3, 1, 47.123, 36.838), (5, 2, 0.5, None, 9.378)],
)
def test_ridge_rows(part: float, radius: float, step: float, convex_um: float | None, concave_um: float) -> None:
    assert 1000 * nose.ridge_concave(step, radius, part) == pytest.approx(concave_um, abs=1e-3)
    if convex_um is not None:
        assert 1000 * nose.ridge_convex(step, radius, part) == pytest.approx(convex_um, abs=1e-3)


def _meeting_points(part: float, radius: float, centres: float, step: float) -> list[float]:
    """Distances from the part's centre at which two tool circles cross, by shapely."""
    half = step / (2 * part)
    rings = [
        Point(centres * math.cos(a), centres * math.sin(a)).buffer(radius, quad_segs=20000).exterior
        for a in (-half, half)
    ]
    return [math.hypot(x, y) for x, y in get_coordinates(rings[0].intersection(rings[1]))]


@pytest.mark.parametrize(("part", "radius", "step"), [(10, 0.8, 0.4), (25, 3, 1)])
def test_ridges_agree_with_intersected_circles(part: float, radius: float, step: float) -> None:
    outer = min(_meeting_points(part, radius, part + radius, step))
    inner = max(_meeting_points(part, radius, part - radius, step))
    assert nose.ridge_convex(step, radius, part) == pytest.approx(outer - part, abs=2e-8)
    assert nose.ridge_concave(step, radius, part) == pytest.approx(part - inner, abs=2e-8)


@pytest.mark.parametrize(
    ("degrees", "left"), [(0, 0), (15, 0.22474), (30, 0.36603), (45, 0.41421), (60, 0.36603), (75, 0.22474), (90, 0)]
)
def test_ignored_nose_on_a_taper_rows(degrees: float, left: float) -> None:
    assert nose.ignored_nose_on_taper(math.radians(degrees), 1.0) == pytest.approx(left, abs=5e-6)


@pytest.mark.parametrize(("convex", "radius", "at_45"), [(True, 9.2, 10.3314), (False, 10.8, 9.6686)])
def test_ignored_nose_on_a_quarter_round(convex: bool, radius: float, at_45: float) -> None:
    ignored = nose.ignored_nose_on_arc(10, 0.8, convex=convex)
    sign = 1 if convex else -1
    assert ignored.radius == pytest.approx(radius)
    assert 10 + sign * ignored.left_at_45 == pytest.approx(at_45, abs=5e-5)
    # The arc through the shifted centre passes through just that point.
    assert sign * ignored.shift * math.sqrt(2) + ignored.radius == pytest.approx(at_45, abs=5e-5)
