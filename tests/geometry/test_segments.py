"""Lines and arcs: places, directions, parallels and what they are flattened to."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from ovolo.geometry.segments import Arc, Line, Point, Segment

places = st.builds(Point, st.floats(-50, 50), st.floats(-50, 50))


@st.composite
def lines(draw: st.DrawFn) -> Line:
    start, end = draw(places), draw(places)
    assume(math.dist(start, end) > 0.01)
    return Line(start, end)


@st.composite
def arcs(draw: st.DrawFn) -> Arc:
    start, end = draw(places), draw(places)
    chord = math.dist(start, end)
    assume(chord > 0.01)
    radius = chord * draw(st.floats(0.501, 20))
    return Arc.from_radius(start, end, radius, ccw=draw(st.booleans()), long=draw(st.booleans()))


segments: st.SearchStrategy[Segment] = st.one_of(lines(), arcs())


def near(a: Point, b: Point, within: float = 1e-7) -> bool:
    return math.dist(a, b) <= within


@given(segments)
def test_it_runs_from_its_start_to_its_end(s: Segment) -> None:
    assert near(s.point(0), s.start)
    assert near(s.point(s.length), s.end)


@given(segments, st.floats(0, 0.99))
def test_places_are_so_far_apart_along_it(s: Segment, share: float) -> None:
    at, small = share * s.length, s.length / 1000
    gone = math.dist(s.point(at), s.point(at + small))
    assert gone == pytest.approx(small, rel=1e-4)


@given(segments, st.floats(0, 1))
def test_the_normal_points_to_the_right_of_the_way(s: Segment, share: float) -> None:
    t, n = s.tangent(share * s.length), s.normal(share * s.length)
    assert math.hypot(*t) == pytest.approx(1)
    assert (n.x, n.y) == pytest.approx((t.y, -t.x))


@given(segments, st.floats(0, 1))
def test_backwards_it_is_the_same_and_its_normal_turned(s: Segment, share: float) -> None:
    back, at = s.reversed(), share * s.length
    assert back.length == pytest.approx(s.length)
    assert near(back.point(s.length - at), s.point(at))
    n, m = s.normal(at), back.normal(s.length - at)
    assert (n.x, n.y) == pytest.approx((-m.x, -m.y), abs=1e-7)


@given(segments, st.floats(0, 1))
def test_mirrored_in_the_axis(s: Segment, share: float) -> None:
    at = share * s.length
    p, q = s.point(at), s.mirrored().point(at)
    assert near(q, Point(p.x, -p.y))
    assert s.mirrored().mirrored() == s


@given(segments, st.floats(-3, 3), st.floats(0, 1))
def test_a_parallel_stands_off_along_the_normal(s: Segment, distance: float, share: float) -> None:
    if isinstance(s, Arc):
        assume(s.radius + (distance if s.ccw else -distance) > 0.01)
    beside = s.offset(distance)
    p, n = s.point(share * s.length), s.normal(share * s.length)
    assert near(beside.point(share * beside.length), Point(p.x + distance * n.x, p.y + distance * n.y), 1e-6)


def test_no_parallel_inside_its_own_centre() -> None:
    with pytest.raises(ValueError, match="no parallel"):
        Arc.from_radius(Point(0, 0), Point(-9, 9), 9, ccw=False).offset(9)


@given(segments, st.sampled_from([1e-5, 1e-3, 0.1]))
def test_its_chords_stay_within_the_sagitta(s: Segment, sagitta: float) -> None:
    points = s.flattened(sagitta)
    assert points[0] == s.start
    assert points[-1] == s.end
    if isinstance(s, Line):
        assert len(points) == 2
        return
    for a, b in pairwise(points):
        middle = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
        assert s.radius - math.dist(middle, s.centre) <= sagitta * (1 + 1e-6) + 1e-9
        assert math.dist(a, s.centre) == pytest.approx(s.radius)


@given(places, places, st.floats(0.5, 30), st.booleans(), st.booleans())
def test_an_arc_of_a_radius(start: Point, end: Point, share: float, ccw: bool, long: bool) -> None:
    chord = math.dist(start, end)
    assume(chord > 0.01)
    arc = Arc.from_radius(start, end, share * chord, ccw=ccw, long=long)
    assert arc.radius == pytest.approx(share * chord)
    assert math.dist(arc.end, arc.centre) == pytest.approx(share * chord)
    assert (arc.sweep > 0) == ccw
    if share > 0.5001:
        assert (abs(arc.sweep) > math.pi) == long


@pytest.mark.parametrize("radius", [0.9, 0.0])
def test_a_radius_that_cannot_span(radius: float) -> None:
    with pytest.raises(ValueError, match="cannot span"):
        Arc.from_radius(Point(0, 0), Point(2, 0), radius, ccw=True)


def test_no_arc_between_a_point_and_itself() -> None:
    with pytest.raises(ValueError, match="cannot span"):
        Arc.from_radius(Point(1, 1), Point(1, 1), 5, ccw=True)


@given(arcs(), st.floats(0.05, 0.95))
def test_an_arc_through_a_third_point_is_the_same_arc(arc: Arc, share: float) -> None:
    assume(arc.radius < 1000)
    again = Arc.through(arc.start, arc.point(share * arc.length), arc.end)
    # Three points close together fix a centre badly: so far from it that the middle of the arc moves no micrometre.
    assert again.ccw == arc.ccw
    assert near(again.point(again.length / 2), arc.point(arc.length / 2), 1e-4)


def test_three_points_on_a_line_are_no_arc() -> None:
    with pytest.raises(ValueError, match="one line"):
        Arc.through(Point(0, 0), Point(1, 1), Point(3, 3))


def test_an_arc_that_comes_back_to_its_start_goes_all_round() -> None:
    whole = Arc(Point(2, 0), Point(2, 0), Point(0, 0), ccw=True)
    assert whole.sweep == pytest.approx(2 * math.pi)
    assert whole.length == pytest.approx(4 * math.pi)


@pytest.mark.parametrize(("ccw", "centre"), [(True, Point(-9, 0)), (False, Point(0, 9))])
def test_metal_on_the_left_bulges_counter_clockwise(ccw: bool, centre: Point) -> None:
    """A quarter between (0, 0) and (-9, 9), walked toward the chuck: at its middle the normal points into the air."""
    arc = Arc.from_radius(Point(0, 0), Point(-9, 9), 9, ccw=ccw)
    n = arc.normal(arc.length / 2)
    assert (n.x, n.y) == pytest.approx((math.sqrt(0.5), math.sqrt(0.5)))
    assert near(arc.centre, centre)
