"""Chains: places, parallels and feet of many points at once, against one segment at a time."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.geometry.chain import Chain
from ovolo.geometry.segments import Arc, Line, Point, Segment

# A face, a corner, a cylinder, a hollow that starts with a corner, a tangent round, a slope: every kind of joint.
SEGMENTS: tuple[Segment, ...] = (
    Line(Point(0, 0), Point(0, 6)),
    Line(Point(0, 6), Point(-5, 6)),
    Arc.from_radius(Point(-5, 6), Point(-11, 6), 4, ccw=False),
    Line(Point(-11, 6), Point(-14, 6)),
    Arc.from_radius(Point(-14, 6), Point(-16, 4), 2, ccw=True),
    Line(Point(-16, 4), Point(-20, 7)),
)
CHAIN = Chain(SEGMENTS)


def test_corners_get_a_length_of_their_own() -> None:
    """Convex corners only: the face's edge and both edges of the hollow; none where joints are smooth or hollow."""
    turns = [CHAIN.size[k] for k in range(CHAIN.count) if CHAIN.is_arc[k] and CHAIN.radius[k] == 0]
    edge = math.asin(3 / 4)  # the direction in which the hollow leaves the cylinder
    assert turns == pytest.approx([math.pi / 2, edge, edge])
    assert CHAIN.length == pytest.approx(sum(s.length for s in SEGMENTS) + sum(turns))


def test_pivot_scales_the_corners() -> None:
    assert Chain(SEGMENTS, pivot=0.5).length == pytest.approx(CHAIN.length - 0.5 * (math.pi / 2 + 2 * math.asin(0.75)))


def test_segments_of_no_length_are_left_out() -> None:
    stub = Line(Point(-20, 7), Point(-20, 7 + 1e-12))
    assert Chain((*SEGMENTS, stub)).count == CHAIN.count


@given(st.floats(0, 1), st.sampled_from([0.0, 0.3, 1.5]))
def test_points_are_those_of_the_segments(share: float, height: float) -> None:
    u = share * CHAIN.length
    k, t = CHAIN.locate(np.array([u]))
    x, y = CHAIN.points(np.array([u]), height)
    solid = [i for i in range(CHAIN.count) if CHAIN.radius[i] > 0 or not CHAIN.is_arc[i]]
    if k[0] in solid:
        s = SEGMENTS[solid.index(int(k[0]))]
        p, n = s.point(float(t[0])), s.normal(float(t[0]))
        assert (x[0], y[0]) == pytest.approx((p.x + height * n.x, p.y + height * n.y), abs=1e-9)
    else:
        corner = Point(float(CHAIN.x0[k[0]]), float(CHAIN.y0[k[0]]))
        assert math.dist(corner, (x[0], y[0])) == pytest.approx(height, abs=1e-9)


def test_a_parallel_is_unbroken_at_convex_corners() -> None:
    u = np.linspace(0, CHAIN.starts[6] - 1e-9, 20001)
    x, y = CHAIN.points(u, 0.7)
    assert np.hypot(np.diff(x), np.diff(y)).max() < 3 * (u[1] - u[0])


DENSE = np.array([s.point(t) for s in SEGMENTS for t in np.linspace(0, s.length, 2001)])
"""Places along all segments, at most 5 µm apart."""


@given(st.lists(st.tuples(st.floats(-25, 5), st.floats(-2, 14)), min_size=1, max_size=4))
def test_feet_are_the_nearest_places(points: list[tuple[float, float]]) -> None:
    x, y = np.array(sorted(points)).T
    u, gap = CHAIN.project(x, y, within=50)
    fx, fy = CHAIN.points(u)
    assert gap == pytest.approx(np.hypot(x - fx, y - fy), abs=1e-9)
    for i in range(len(x)):
        nearest = np.hypot(*(DENSE - (x[i], y[i])).T).min()
        assert nearest - 0.005 <= gap[i] <= nearest + 1e-9


def test_nothing_near_is_infinitely_far() -> None:
    _, gap = CHAIN.project(np.array([-100.0, -3.0]), np.array([6.0, 8.0]), within=5)
    assert gap[0] == math.inf
    assert gap[1] == pytest.approx(2)


def test_extents_hold_every_piece() -> None:
    low, high = CHAIN.extents
    for k in range(CHAIN.count):
        places = np.linspace(CHAIN.starts[k], CHAIN.starts[k + 1] - 1e-9, 500)
        x, _ = CHAIN.points(places)
        assert low[k] <= x.min() + 1e-8
        assert high[k] >= x.max() - 1e-8
        assert high[k] - low[k] <= x.max() - x.min() + 0.2
