"""Drawings of pages are as fine as a page can be looked at."""

import math

import pytest
import shapely
from svgelements import Path as Svg

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.shop.shop import Stock
from ovolo.show.pages.paths import HALVES, SCENE, axis, fine, section_lines
from ovolo.show.paper.section import Section
from ovolo.show.paper.shapes import outline_path


@pytest.mark.parametrize("ccw", [True, False])
@pytest.mark.parametrize("long", [True, False])
def test_an_arc_bulges_to_the_right_side(ccw: bool, long: bool) -> None:
    arc = Arc.from_radius(Point(0.0, 0.0), Point(-6.0, 6.0), 8.0, ccw=ccw, long=long)
    middle = arc.point(arc.length / 2)
    for half in HALVES:
        halfway = Svg(outline_path([arc], half)).point(0.5)
        assert math.hypot(halfway.x - middle.x, -half.up * halfway.y - middle.y) < 1e-3


def test_a_hundredth_of_a_micron_is_kept() -> None:
    assert outline_path([Line(Point(0.0, 0.12345), Point(-1.0, -0.000001))], SCENE) == "M0 -0.12345L-1 0"


def test_a_region_with_a_hole_keeps_it() -> None:
    region = shapely.box(0, 0, 10, 10).difference(shapely.box(4, 4, 6, 6))
    assert fine(region).count("M") == 2
    assert fine(shapely.Polygon()) == ""


def test_both_halves_are_drawn_the_blank_if_wished() -> None:
    section = Section(Outline((Line(Point(0.0, 5.0), Point(-9.0, 5.0)),)), Stock(6.0), False, -300.0)
    drawn = section_lines(section)
    assert sum('class="stock"' in line for line in drawn) == 2
    assert not any('class="stock"' in line for line in section_lines(section, blank=False))
    assert 'd="M0 -5L-9 -5"' in "".join(drawn)
    assert 'd="M0 5L-9 5"' in "".join(drawn)


def test_the_axis_goes_on_past_what_is_looked_at() -> None:
    assert axis(-10.0, 20.0) == '<path class="axis" d="M-310 0L310 0"/>'
