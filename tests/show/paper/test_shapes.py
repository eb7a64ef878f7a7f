"""From metal to paper."""

import re

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.shop.tools import Tool
from ovolo.show.paper.shapes import (
    Place,
    common,
    exact_path,
    hatching,
    less,
    nice_scale,
    on_paper,
    outline_path,
    region_path,
    solid,
    tool_path,
)

DOME = Outline((Arc(Point(0, 0), Point(-9, 9), Point(-9, 0), True), Line(Point(-9, 9), Point(-24, 9))))
PLACE = Place(100, 50, 2)


def test_both_halves_are_drawn_from_one_outline() -> None:
    assert outline_path(DOME, PLACE) == "M100 50A18 18 0 0 0 82 32L52 32"
    assert outline_path(DOME, PLACE.other_half) == "M100 50A18 18 0 0 1 82 68L52 68"


@given(st.floats(1e-4, 1e5))
def test_a_scale_is_never_too_large_and_wastes_little(most: float) -> None:
    assert most / 1.7 <= nice_scale(most) <= most * (1 + 1e-8)


@given(st.floats(0, 180), st.floats(0.5, 4))
def test_hatching_stays_inside_whatever_its_angle(angle: float, pitch: float) -> None:
    """A thin sickle is what turning folds over most easily."""
    sickle = shapely.Point(30, 30).buffer(20).difference(shapely.Point(30.4, 30.3).buffer(20))
    numbers = [float(n) for n in re.findall(r"-?[0-9.]+", hatching(sickle, pitch, angle))]
    for x, y in zip(numbers[::2], numbers[1::2], strict=True):
        assert sickle.distance(shapely.Point(x, y)) < 2e-3


def test_hatching_of_nothing_is_nothing() -> None:
    assert hatching(shapely.Polygon()) == ""
    assert region_path(shapely.Polygon()) == ""


def test_a_region_keeps_its_size_on_paper() -> None:
    square = shapely.box(-1, 0, 0, 1)
    assert on_paper(square, PLACE).bounds == (98, 48, 100, 50)
    assert exact_path(square, PLACE).count("L") == 3


@pytest.mark.parametrize("bore", [False, True])
def test_a_round_nose_touches_what_it_is_set_to(bore: bool) -> None:
    d = tool_path(Tool("r", "round", 3.0), Point(0, 0), Place(0, 0, 1), 10, bore=bore)
    turned = "-" if not bore else ""
    assert d == f"M-3 {turned}10L-3 0A3 3 0 0 {int(bore)} 3 0L3 {turned}10"


def test_a_blade_has_two_corners() -> None:
    tool = Tool("blade", "grooving", 0.2, width=3.0)
    assert tool_path(tool, Point(0, 0), Place(0, 0, 10), 1, bore=False).count("A2 2") == 2


def test_only_areas_are_kept_of_what_touches() -> None:
    square = shapely.MultiPolygon([shapely.box(0, 0, 1, 1)])
    mixed = shapely.GeometryCollection([square, shapely.LineString([(1, 1), (5, 5)]), shapely.Point(9, 9)])
    assert solid(mixed).equals(shapely.box(0, 0, 1, 1))
    assert common(square, shapely.box(1, 0, 2, 1)).is_empty
    assert less(shapely.box(0, 0, 2, 1), shapely.box(1, 0, 2, 1)).equals(shapely.box(0, 0, 1, 1))
    assert hatching(mixed, 0.2) != ""
