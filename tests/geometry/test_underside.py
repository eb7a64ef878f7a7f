"""The underside of a convex tool: its bends, its heights, its parallels."""

import itertools
import math

import numpy as np
import pytest
import shapely

from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.geometry.underside import Bend, Underside

HALF_ROUND: list[Segment] = [Arc(Point(-3, 0), Point(3, 0), Point(0, 0), True)]
CHAMFER: list[Segment] = [Line(Point(0, 2), Point(2, 0)), Line(Point(2, 0), Point(5, 0))]
BULL_NOSE: list[Segment] = [
    Arc(Point(0, 1), Point(1, 0), Point(1, 1), True),
    Line(Point(1, 0), Point(3, 0)),
    Arc(Point(3, 0), Point(5.5, 2.5), Point(3, 2.5), True),
]


def test_half_a_circle_is_one_bend() -> None:
    (bend,) = Underside.of(HALF_ROUND).bends
    assert (bend.x, bend.y, bend.radius) == (0, 0, 3)
    assert (bend.begin, bend.end) == pytest.approx((math.pi, 2 * math.pi))


def test_corners_are_bends_of_no_radius_and_turn_all_the_way() -> None:
    """From the left flank to a slope of 45 degrees, to the flat, to the right flank."""
    bends = Underside.of(CHAMFER).bends
    assert [b.radius for b in bends] == [0, 0, 0]
    turns = [math.degrees(b.end - b.begin) for b in bends]
    assert turns == pytest.approx([45, 45, 90])


@pytest.mark.parametrize(
    ("segments", "left", "right", "low", "round_end"),
    [(HALF_ROUND, -3, 3, -3, True), (CHAMFER, 0, 5, 0, False), (BULL_NOSE, 0, 5.5, 0, True)],
)
def test_extents(segments: list[Segment], left: float, right: float, low: float, round_end: bool) -> None:
    under = Underside.of(segments)
    assert (under.left, under.right, under.low) == pytest.approx((left, right, low), abs=1e-12)
    assert under.runs_into_left_flank is round_end


def test_heights_are_those_of_lines_and_arcs() -> None:
    under = Underside.of(BULL_NOSE)
    x = np.array([-0.1, 0.0, 0.5, 1.0, 2.0, 4.5, 5.5, 5.6])
    wanted = [math.inf, 1, 1 - math.sqrt(1 - 0.25), 0, 0, 2.5 - math.sqrt(2.5**2 - 1.5**2), 2.5, math.inf]
    assert under.height(x) == pytest.approx(wanted, abs=1e-9)
    assert under.rough_height(x) == pytest.approx(wanted, abs=1e-3)


def test_a_level_stretch_has_two_ends() -> None:
    left, right = Underside.of(BULL_NOSE).lowest
    assert (left.x, right.x) == pytest.approx((1, 3))


def test_how_wide_it_is_at_a_height() -> None:
    under = Underside.of(CHAMFER)
    assert [under.width_at(y) for y in (-0.1, 1.0, 3.0)] == pytest.approx([0, 4, 5])


@pytest.mark.parametrize("segments", [HALF_ROUND, CHAMFER, BULL_NOSE])
def test_its_parallel_is_what_grows_round_it(segments: list[Segment]) -> None:
    """Compared with a buffer of the region over it, which is shapely's own computation."""
    under = Underside.of(segments)
    points = under.points(1e-6)
    top = [[under.right, 50.0], [under.left, 50.0]]
    grown = shapely.Polygon(np.vstack([points, top])).buffer(0.2, quad_segs=500)
    along = under.parallel(0.2).points(1e-6)
    assert shapely.distance(grown.boundary, shapely.points(along)).max() < 1e-5


def test_points_lie_on_the_arcs() -> None:
    """Chords lie inside, so a flattened tool never takes more than the tool."""
    points = Underside.of(HALF_ROUND).points(1e-4)
    assert np.hypot(*points.T) == pytest.approx(3.0, abs=1e-12)
    middles = np.hypot(*((points[1:] + points[:-1]) / 2).T)
    assert middles.min() >= 3.0 - 1e-4


def test_a_joint_not_quite_tangent_turns_once() -> None:
    """Rounded figures let an arc end a shade past the slope of the line that follows: no normal is passed twice."""
    arc = Arc.from_radius(Point(0, 1), Point(1, 0), 1.0001, ccw=True)
    bends = Underside.of([arc, Line(Point(1, 0), Point(3, 0.0003))]).bends
    assert all(a.end <= b.begin + 1e-12 for a, b in itertools.pairwise(bends))


def test_the_tightest_of_many_flat_bends() -> None:
    """Where no bend turns by as much as a corner that counts, the least radius of them."""
    under = Underside.of(HALF_ROUND)
    slices = [Bend(0, 0, 3, math.pi + i * math.radians(0.9), math.pi + (i + 1) * math.radians(0.9)) for i in range(200)]
    assert Underside(tuple(slices)).tightest == under.tightest == 3
