"""Outlines: bounds, images and whether they head toward the chuck."""

import math

import pytest

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point

DOME = Outline(
    (Arc.from_radius(Point(0, 0), Point(-9, 9), 9, ccw=True), Line(Point(-9, 9), Point(-24, 9))),
)
HALF = Arc.from_radius(Point(0, 5), Point(-8, 5), 4, ccw=True)


def test_ends_nodes_and_length() -> None:
    assert DOME.start == Point(0, 0)
    assert DOME.end == Point(-24, 9)
    assert DOME.nodes == (Point(0, 0), Point(-9, 9), Point(-24, 9))
    assert DOME.length == pytest.approx(9 * math.pi / 2 + 15)


def test_bounds_include_the_crown_of_an_arc() -> None:
    assert Outline((HALF,)).bounds() == pytest.approx((-8, 5, 0, 9), abs=1e-5)
    assert Outline((HALF.mirrored(),)).bounds() == pytest.approx((-8, -9, 0, -5), abs=1e-5)


def test_mirrored_walks_from_the_same_end() -> None:
    image = DOME.mirrored()
    assert image.nodes == tuple(Point(p.x, -p.y) for p in DOME.nodes)
    assert image.mirrored() == DOME


def test_flattened_keeps_every_node_once() -> None:
    points = DOME.flattened(1e-3)
    assert [p for p in points if p in DOME.nodes] == list(DOME.nodes)
    assert len(points) == len(set(points))
    assert max(abs(math.hypot(p.x + 9, p.y) - 9) for p in points[:-1]) < 1e-9


def test_the_tightest_concave() -> None:
    cove = Arc.from_radius(Point(-24, 9), Point(-28, 9), 3, ccw=False)
    wide = Arc.from_radius(Point(-28, 9), Point(-38, 9), 30, ccw=False)
    assert DOME.tightest_concave() == math.inf
    assert Outline((*DOME.segments, cove, wide)).tightest_concave() == pytest.approx(3)


def test_a_stretch_runs_from_here_to_there() -> None:
    """Its pieces lie on the outline and are as long as the stretch; a whole segment stays as it is."""
    whole = DOME.length
    assert DOME.stretch(0.0, whole) == DOME.segments
    part = DOME.stretch(3.0, whole - 2.0)
    assert sum(s.length for s in part) == pytest.approx(whole - 5.0)
    first = DOME.segments[0]
    assert part[0].start == pytest.approx(first.point(3.0))
    assert math.hypot(part[0].start.x + 9, part[0].start.y) == pytest.approx(9)
    assert DOME.stretch(5.0, 5.0) == ()
