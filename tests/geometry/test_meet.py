"""Where lines and circles meet, and rounded corners."""

import math

import pytest

from ovolo.geometry.meet import along, foot, largest_rounding, meetings, rounded, turn_between
from ovolo.geometry.segments import Arc, Line, Point, Segment

UP, BACK = Line(Point(0, 0), Point(0, 9)), Line(Point(0, 9), Point(-24, 9))


def _dome() -> Arc:
    """R 15, cut off at a radius of 9."""
    return Arc.from_radius(Point(0, 0), Point(-3, 9), 15, ccw=True)


@pytest.mark.parametrize(
    ("a", "b", "count"),
    [(UP, BACK, 1), (UP, Line(Point(1, 0), Point(1, 9)), 0), (BACK, _dome(), 2), (_dome(), _dome().offset(1), 0)],
)
def test_lines_and_circles_meet_on_both(a: Segment, b: Segment, count: int) -> None:
    found = meetings(a, b)
    assert len(found) == count
    for p in found:
        for s in (a, b):
            assert math.dist(p, foot(s, p)) < 1e-9


def test_two_circles_meet_twice() -> None:
    one, other = (Arc(Point(x + 5, 0), Point(x, 5), Point(x, 0), True) for x in (0, 6))
    below, above = sorted(meetings(one, other))
    assert below == pytest.approx((3, -4))
    assert above == pytest.approx((3, 4))


@pytest.mark.parametrize(("before", "after"), [(UP, BACK), (_dome(), Line(Point(-3, 9), Point(-24, 9)))])
@pytest.mark.parametrize("radius", [0.2, 1, 2])
def test_a_rounded_corner_has_no_corners(before: Segment, after: Segment, radius: float) -> None:
    found = rounded(before, after, radius)
    assert found is not None
    one, arc, two = found
    assert arc.radius == pytest.approx(radius)
    assert abs(turn_between(one, arc)) < 1e-9
    assert abs(turn_between(arc, two)) < 1e-9
    assert one.start == before.start
    assert two.end == after.end


def test_the_largest_rounding_just_fits() -> None:
    most = largest_rounding(UP, BACK)
    assert most == pytest.approx(9, abs=1e-5)
    assert rounded(UP, BACK, most - 1e-6) is not None
    assert rounded(UP, BACK, most + 1e-3) is None


def test_where_nothing_turns_nothing_is_rounded() -> None:
    assert rounded(BACK, Line(Point(-24, 9), Point(-30, 9)), 1) is None


def test_along_counts_from_the_start() -> None:
    dome = _dome()
    assert along(dome, dome.point(4)) == pytest.approx(4)
    assert along(BACK, Point(-4, 9)) == 4
    assert along(dome, dome.start) == 0
