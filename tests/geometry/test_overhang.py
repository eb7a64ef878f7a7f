"""Where an outline doubles back: what its own lip hides, and the rims of overhangs."""

from itertools import pairwise

import pytest

from ovolo.geometry.outline import Outline
from ovolo.geometry.overhang import (
    Rim,
    doubles_back,
    foremost,
    hidden_behind,
    line_of_sight,
    places_at,
    seen_down_to,
    seen_from_the_side,
)
from ovolo.geometry.segments import Arc, Line, Point


def lines(*places: tuple[float, float]) -> Outline:
    points = [Point(*p) for p in places]
    return Outline(tuple(Line(a, b) for a, b in pairwise(points)))


LIP = lines((0, 10), (-6, 10), (-5, 6), (-20, 6))
"""A lip at x = -6 over a hollow that goes back to -5, and a neck under it."""

SHOULDER = lines((0, 5), (-10, 5), (-9, 8), (-9, 12), (-14, 12))
"""A shoulder that leans over the groove beside it."""

DISH = Outline((Arc(Point(-2, 0), Point(0, 6), Point(8, 0), False), *lines((0, 6), (0, 8), (-9, 8)).segments))
DOME = Outline((Arc(Point(0, 0), Point(-9, 9), Point(-9, 0), True), Line(Point(-9, 9), Point(-24, 9))))
BALL = Outline((Arc(Point(0, 0), Point(-13, 4), Point(-5, 0), True), Line(Point(-13, 4), Point(-20, 4))))


@pytest.mark.parametrize(("outline", "back"), [(LIP, True), (SHOULDER, True), (DOME, False), (BALL, False)])
def test_only_what_leans_over_doubles_back(outline: Outline, back: bool) -> None:
    assert doubles_back(outline) is back


def test_an_arc_past_upright_doubles_back() -> None:
    hook = Outline((Line(Point(0, 10), Point(-6, 10)), Arc(Point(-6, 10), Point(-6, 4), Point(-6, 7), False)))
    assert doubles_back(hook)
    turned = Outline((Line(Point(0, 10), Point(-6, 10)), Arc(Point(-6, 10), Point(-6, 4), Point(-6, 7), True)))
    assert doubles_back(turned)


def test_an_x_under_the_lip_is_met_three_times() -> None:
    met = sorted(place.y for place, _ in places_at(LIP, -5.5))
    assert met == pytest.approx([6, 8, 10])
    assert [place.y for place, _ in places_at(LIP, -3.0)] == [10]


def test_the_lip_hides_its_underside_and_what_of_the_neck_it_stands_over() -> None:
    hidden = [(s.start, s.end) for s, seen in seen_from_the_side(LIP) if not seen]
    assert hidden == [(Point(-6, 10), Point(-5, 6)), (Point(-5, 6), Point(-6, 6))]


def test_a_dish_is_hidden_by_its_rim_and_a_dome_by_nothing() -> None:
    assert [seen for _, seen in seen_from_the_side(DISH)] == [
        False,
        True,
        True,
        True,
    ]  # its cylinder is cut at the bottom of the dish
    assert all(seen for _, seen in seen_from_the_side(DOME))


def test_the_pieces_join_to_the_whole() -> None:
    for outline in (LIP, SHOULDER, DISH, DOME, BALL):
        pieces = [piece for piece, _ in seen_from_the_side(outline)]
        assert pieces[0].start == outline.start
        assert pieces[-1].end == outline.end
        assert sum(p.length for p in pieces) == pytest.approx(outline.length)


def test_rims_reach_down_to_the_floor_or_the_axis() -> None:
    assert line_of_sight(LIP) == (Rim(Point(-6, 10), Point(-6, 6)),)
    assert line_of_sight(SHOULDER) == (Rim(Point(-9, 8), Point(-9, 5)),)
    assert line_of_sight(DISH) == (Rim(Point(0, 6), Point(0, 0.0)),)
    assert line_of_sight(DOME) == ()


def test_the_foremost_place_is_the_outer_rim_of_a_dish() -> None:
    assert foremost(DISH) == Point(0, 8)
    assert foremost(LIP) == LIP.start


def test_what_stands_under_a_lip_is_hidden_from_the_side() -> None:
    assert hidden_behind(LIP, Point(-5.5, 6))
    assert not hidden_behind(LIP, Point(-6, 10))  # its own edge
    assert not hidden_behind(LIP, Point(-12, 6))


def test_an_edge_in_a_bore_is_seen_down_to_the_lip_that_stands_before_it() -> None:
    """A recess of r 12 behind a lip of r 8: its far edge is open to the axis, its near one down to the lip alone."""
    bore = lines((0, 8), (-5, 8), (-4, 12), (-20, 12), (-20, 8), (-30, 8))
    assert seen_down_to(bore, Point(-20, 8)) == 0.0
    assert seen_down_to(bore, Point(-4, 12)) is None
    assert seen_down_to(bore, Point(-4.5, 12)) == pytest.approx(10)
    assert seen_down_to(bore, Point(-5, 8)) == 0.0
