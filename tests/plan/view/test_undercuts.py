"""Bays: where an outline doubles back, which way it is open there, and what is seen from that side."""

import math

import numpy as np
import pytest

from ovolo.geometry.chain import Chain
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.plan.view.undercuts import bays, turned

# A knob whose back leans in by 1 mm under its rim, a neck behind it.
HOLLOW_BACK = (
    Line(Point(0, 10), Point(-6, 10)),
    Line(Point(-6, 10), Point(-5, 6)),
    Line(Point(-5, 6), Point(-24, 6)),
)
# A cylinder, a shoulder that leans toward the chuck, its flat face.
RELIEF = (
    Line(Point(0, 6), Point(-20, 6)),
    Line(Point(-20, 6), Point(-19, 9)),
    Line(Point(-19, 9), Point(-19, 12)),
    Line(Point(-19, 12), Point(-25, 12)),
)
DISH = (Arc.from_radius(Point(-1, 0), Point(0, 6), 18.5, ccw=False), Line(Point(0, 6), Point(-12, 6)))


def _chain(*segments: Line | Arc) -> Chain:
    return Chain(segments, pivot=1e-6)  # hardly any length at corners: places are lengths


def test_an_outline_that_never_doubles_back_has_none() -> None:
    assert (
        bays(_chain(Arc.from_radius(Point(0, 0), Point(-9, 9), 9, ccw=True), Line(Point(-9, 9), Point(-24, 9)))) == ()
    )
    assert bays(_chain(Line(Point(0, 4), Point(0, 9)), Line(Point(0, 9), Point(-9, 9)))) == ()


def test_a_hollow_back_is_open_toward_the_chuck() -> None:
    (bay,) = bays(_chain(*HOLLOW_BACK))
    wall = math.hypot(1, 4)
    assert bay.way == -1
    assert bay.first == pytest.approx(6, abs=0.01)
    assert bay.last == pytest.approx(6 + wall, abs=0.01)
    assert bay.begin == 0.0
    assert bay.end == pytest.approx(6 + wall + 19, abs=0.01)


def test_a_relief_is_open_toward_the_free_end() -> None:
    (bay,) = bays(_chain(*RELIEF))
    assert bay.way == 1
    assert bay.first == pytest.approx(20, abs=0.01)
    assert bay.last == pytest.approx(20 + math.hypot(1, 3), abs=0.01)


def test_a_dished_end_begins_on_the_axis() -> None:
    (bay,) = bays(_chain(*DISH))
    assert (bay.way, bay.begin) == (1, 0.0)


def test_a_groove_wider_inside_than_at_its_mouth_has_two() -> None:
    around = Arc.through(Point(-8, 10), Point(-10, 4), Point(-12, 10))
    found = bays(_chain(Line(Point(0, 10), Point(-8, 10)), around, Line(Point(-12, 10), Point(-20, 10))))
    assert [bay.way for bay in found] == [-1, 1]
    bottom = 8 + around.length / 2
    assert found[0].end == pytest.approx(bottom, abs=0.02)
    assert found[1].begin == pytest.approx(bottom, abs=0.02)


def test_figures_rounded_off_make_no_bay() -> None:
    """A dome whose height was written to three decimals leans back by less than a tenth of a micron at its tip."""
    rounded = Arc.from_radius(Point(0, 0), Point(-4.299, 9.525), 12.7, ccw=True)
    assert rounded.tangent(0).x > 0
    assert bays(_chain(rounded, Line(Point(-4.299, 9.525), Point(-24, 9.525)))) == ()


def test_a_fillet_rounded_off_does_not_end_what_is_seen() -> None:
    """The foot of a hollow dips under the neck by what its figures were rounded by."""
    foot = Arc.from_radius(Point(-5.1864, 6.7457), Point(-5.7687, 6), 0.6001, ccw=False)
    segments = (
        HOLLOW_BACK[0],
        Line(Point(-6, 10), Point(-5.1864, 6.7457)),
        foot,
        Line(Point(-5.7687, 6), Point(-24, 6)),
    )
    (bay,) = bays(_chain(*segments))
    assert bay.end == pytest.approx(sum(s.length for s in segments), abs=0.01)


@pytest.mark.parametrize("way", [1, -1])
def test_what_a_bay_is_open_to_points_up(way: int) -> None:
    x, y = turned(np.array([0.0, float(way)]), np.array([0.0, 0.0]), 1 if way > 0 else -1)
    assert (x[1] - x[0], y[1] - y[0]) == (0.0, 1.0)
