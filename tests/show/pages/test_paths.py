"""Paths hold the shapes that they were made of."""

import math

import pytest
import shapely
from svgelements import Path as Svg

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.shop.shop import Stock
from ovolo.show.pages.paths import (
    at,
    blank_path,
    outline_path,
    points_path,
    region_path,
    rims_path,
    segments_path,
    side_paths,
)


def test_figures_are_short_and_never_minus_nothing() -> None:
    assert [at(v) for v in (1.0, -0.000001, 0.123456, 100.0, -2.5)] == ["1", "0", "0.12346", "100", "-2.5"]


@pytest.mark.parametrize("ccw", [True, False])
@pytest.mark.parametrize("long", [True, False])
def test_an_arc_bulges_to_the_right_side(ccw: bool, long: bool) -> None:
    arc = Arc.from_radius(Point(0.0, 0.0), Point(-6.0, 6.0), 8.0, ccw=ccw, long=long)
    drawn = Svg(segments_path([arc]))
    middle = arc.point(arc.length / 2)
    halfway = drawn.point(0.5)
    assert math.hypot(halfway.x - middle.x, -halfway.y - middle.y) < 1e-3


def test_the_image_lies_on_the_other_side_of_the_axis() -> None:
    outline = Outline((Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(-9.0, 5.0))))
    assert outline_path(outline) == "M0 0L0 -5L-9 -5"
    assert outline_path(outline, mirrored=True) == "M0 0L0 5L-9 5"


def test_a_region_with_a_hole_keeps_it() -> None:
    region = shapely.box(0, 0, 10, 10).difference(shapely.box(4, 4, 6, 6))
    assert region_path(region).count("M") == 2
    assert region_path(shapely.Polygon()) == ""


def test_points_are_closed_on_demand() -> None:
    assert points_path([(0, 0), (1, 1)], close=True) == "M0 0L1 -1Z"


LIP = Outline(
    (
        Line(Point(0, 10), Point(-6, 10)),
        Line(Point(-6, 10), Point(-5, 6)),
        Line(Point(-5, 6), Point(-20, 6)),
    )
)


def test_what_a_lip_hides_is_drawn_apart() -> None:
    seen, hidden = side_paths(LIP, bore=False)
    assert hidden == "M-6 10L-5 6M-5 6L-6 6"
    assert "M-6 6L-20 6" in seen
    assert side_paths(LIP, bore=True) == (outline_path(LIP, mirrored=True), "")


def test_the_rim_of_a_lip_is_seen_beyond_the_cut_and_across_the_other_half() -> None:
    assert rims_path(LIP, bore=False) == "M-6 -6L-6 -10M-6 10L-6 0"
    assert rims_path(LIP, bore=True) == ""


def test_a_piece_already_shaped_is_drawn_as_it_is_in_both_halves() -> None:
    corner = Point(-5.0, 6.0)
    shaped = Outline((Line(Point(1.0, 4.0), corner), Line(corner, Point(-10.0, 6.0))))
    outside = blank_path(Stock(6.0, outline=shaped), -20.0, bore=False)
    assert outside == "M-320 -6L-20 -6L-10 -6L-5 -6L1 -4L1 4L-5 6L-10 6L-20 6L-320 6"
    hole = blank_path(Stock(9.0, hole=12.0, outline=shaped), -20.0, bore=True)
    assert hole.startswith("M-320 -9L1 -9L1 9L-320 9M-320 -6L-20 -6")
    assert hole.endswith("L1 4")
