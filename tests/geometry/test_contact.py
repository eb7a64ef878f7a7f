"""The contact line, against the outline grown by the tool turned half round (hulls of the tool along the border)."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.contact import contact_height
from ovolo.geometry.segments import Arc, Line, Point, Segment

UPRIGHT = (math.pi / 2, math.pi / 2)
KNIFE = (math.radians(87), math.radians(32))
LEFT_KNIFE = (math.radians(148), math.radians(93))

SHAPES: dict[str, tuple[Segment, ...]] = {
    "dome on a cylinder": (
        Arc.from_radius(Point(0, 0), Point(-6, 6), 6, ccw=True),
        Line(Point(-6, 6), Point(-15, 6)),
    ),
    "cove": (
        Line(Point(0, 6), Point(-4, 6)),
        Arc.from_radius(Point(-4, 6), Point(-10, 6), 3.5, ccw=False),
        Line(Point(-10, 6), Point(-15, 6)),
    ),
    "groove and shoulder": (
        Line(Point(0, 6), Point(-3, 6)),
        Line(Point(-3, 6), Point(-4, 3)),
        Line(Point(-4, 3), Point(-9, 3)),
        Line(Point(-9, 3), Point(-9, 7)),
        Line(Point(-9, 7), Point(-15, 7)),
    ),
    "round, then a hollow tighter than the nose": (
        Line(Point(0, 4), Point(-2, 4)),
        Arc.from_radius(Point(-2, 4), Point(-4, 6), 2, ccw=True),
        Arc.from_radius(Point(-4, 6), Point(-5, 6), 0.6, ccw=False),
        Line(Point(-5, 6), Point(-15, 6)),
    ),
}


def _tool(radius: float, edges: tuple[float, float]) -> Floats:
    """The tool about its nose centre: the nose and two edges, as far as anything stands."""
    a = np.linspace(0, 2 * math.pi, 1441)
    nose = radius * np.c_[np.cos(a), np.sin(a)]
    left, right = edges
    flanks = []
    for angle, turn in ((left, math.pi / 2), (right, -math.pi / 2)):
        touch = radius * np.array([math.cos(angle + turn), math.sin(angle + turn)])
        flanks += [touch, touch + 40 * np.array([math.cos(angle), math.sin(angle)])]
    return np.asarray(shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(np.vstack([nose, *flanks])))))


def _forbidden(segments: tuple[Segment, ...], radius: float, edges: tuple[float, float]) -> BaseGeometry:
    turned = -_tool(radius, edges)
    border = [p for s in segments for p in s.flattened(2e-5)[:-1]] + [segments[-1].end]
    hulls = [shapely.MultiPoint(np.vstack([turned + a, turned + b])).convex_hull for a, b in pairwise(border)]
    return shapely.union_all(hulls)


@pytest.mark.parametrize("edges", [UPRIGHT, KNIFE, LEFT_KNIFE], ids=["round", "right hand", "left hand"])
@pytest.mark.parametrize("radius", [0.4, 1.0])
@pytest.mark.parametrize("shape", SHAPES)
def test_lowest_place_is_the_border_of_the_grown_outline(shape: str, radius: float, edges: tuple[float, float]) -> None:
    segments = SHAPES[shape]
    x = np.linspace(-14, 0.3, 2861)  # 5 µm apart, as the planner looks
    height = contact_height(Chain(segments), x, radius, edges)
    grown = _forbidden(segments, radius, edges)
    for i in range(7, len(x), 97):
        column = shapely.intersection(grown, shapely.LineString([(x[i], -1000), (x[i], 1000)]))
        top = max(g.bounds[3] for g in shapely.get_parts(column))
        # Beside an upright wall the grown outline has a step of its own height: the place itself decides there.
        if grown.boundary.intersection(shapely.LineString([(x[i] - 2e-3, top), (x[i] + 2e-3, top)])).is_empty:
            continue
        assert height[i] == pytest.approx(top, abs=3e-5 + 0.005**2 / radius), x[i]


def test_on_a_ball_it_is_the_larger_ball() -> None:
    x = np.linspace(-6, 0.9, 200)
    height = contact_height(Chain(SHAPES["dome on a cylinder"]), x, 1.0, UPRIGHT)
    assert height == pytest.approx(np.sqrt(49 - (x + 6) ** 2), abs=1e-9)


def test_in_a_hollow_it_is_the_smaller_one() -> None:
    x = np.linspace(-7.2, -6.8, 41)
    centre = 6 + math.sqrt(3.5**2 - 9)
    height = contact_height(Chain(SHAPES["cove"]), x, 1.0, UPRIGHT)
    assert height == pytest.approx(centre - np.sqrt(2.5**2 - (x + 7) ** 2), abs=1e-9)


def test_a_nose_wider_than_a_hollow_rests_on_its_edges() -> None:
    x = np.array([-7.0 - 1e-3, -7.0, -7.0 + 1e-3])
    height = contact_height(Chain(SHAPES["cove"]), x, 5.0, UPRIGHT)
    assert height[1] == pytest.approx(6 + 4)  # 3 to either side, 5 from the centre


def test_nothing_touched_is_no_height() -> None:
    height = contact_height(Chain(SHAPES["cove"]), np.array([5.0, 6.0]), 1.0, UPRIGHT)
    assert (height == -np.inf).all()


def test_a_leaning_edge_is_kept_off_by_what_stands_beside() -> None:
    """Behind the corner at (-9, 7) the trailing side of a left-hand knife, 57° from upright, falls as a line."""
    x = np.linspace(-12, 0.3, 2461)
    chain = Chain(SHAPES["groove and shoulder"])
    plain, leaning = (contact_height(chain, x, 0.4, edges) for edges in (UPRIGHT, LEFT_KNIFE))
    slope = math.tan(math.radians(32))
    near = (x > -7.5) & (x < -6.9)
    assert (leaning[near] > plain[near] + 0.5).all()
    assert np.diff(leaning[near]) / np.diff(x[near]) == pytest.approx(np.full(near.sum() - 1, -slope), abs=1e-6)
    # The edge passes the corner at the distance of the nose: the line stands 0.4 off it.
    gap = (7 - leaning[near]) * math.cos(math.radians(32)) - (x[near] + 9) * math.sin(math.radians(32))
    assert np.abs(gap + 0.4).max() < 1e-4


@pytest.mark.parametrize("beside", [0.9995, 0.99995])
def test_a_nose_is_held_up_as_soon_as_it_overlaps_a_corner(beside: float) -> None:
    """Half a micrometre of a nose of R 1 over the corner of a shoulder: it rests on it, at r + sqrt(1 - x^2)."""
    shoulder = Chain(
        (Line(Point(0, 2), Point(-5, 2)), Line(Point(-5, 2), Point(-5, 6)), Line(Point(-5, 6), Point(-9, 6)))
    )
    height = contact_height(shoulder, np.array([-5 + beside]), 1.0, UPRIGHT)
    assert height[0] == pytest.approx(6 + math.sqrt(1 - beside**2), abs=1e-9)
