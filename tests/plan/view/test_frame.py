"""The planner's view: grid, bores turned over, the curve as a stretch, the contact line."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

PIN = Frame(job_from_data(pin()))
NOSE = PIN.job.shop.tools[0]
BORE = Frame(
    job_from_data(
        pin(
            {
                "part.surface": "bore",
                "part.outline": [{"z": 0, "d": 24}, {"z": -5, "d": 14, "convex": 5}, {"z": -20, "d": 14}],
                "part.curve": [0, -5],
                "stock": {"diameter": 30, "hole": 12, "proud": 0.5},
                "tool": [{"name": "boring bar", "nose_radius": 0.4}],
            }
        )
    )
)


@given(st.integers(-2000, 500), st.integers(0, 3000))
def test_the_grid_is_what_the_slides_can_be_set_to(column: int, row: int) -> None:
    for frame in (PIN, BORE):
        tool, shop = frame.job.shop.tools[0], frame.job.shop
        lattice = frame.lattice(tool)
        x, y = lattice.x(column), lattice.y(row)
        for slide in (shop.saddle, shop.cross):
            figure = frame.figure(slide, tool, x, y)
            counts = figure * slide.unit / slide.count
            assert counts == pytest.approx(round(counts), abs=1e-6)
            at = frame.place(x, y)
            ref = tool.reference[0] if slide.name == "saddle" else frame.sign * tool.reference[1]
            where = (at.x if slide.name == "saddle" else at.y) + ref
            assert slide.place(figure) == pytest.approx(where, abs=1e-6)


def test_a_nose_of_3_reads_minus_6_at_the_middle() -> None:
    assert PIN.figure(PIN.job.shop.cross, NOSE, 3.0, 0.0) == -6.0


def test_a_bore_is_turned_over() -> None:
    assert (BORE.sign, PIN.sign) == (-1, 1)
    assert [tuple(p) for p in BORE.outline.nodes] == [(0, -12), (-5, -7), (-20, -7)]
    assert tuple(BORE.place(-5, -7)) == (-5, 7)
    assert (BORE.base, BORE.top, BORE.front, BORE.back) == (-15, -6, 0.5, -20)
    assert BORE.deepest(BORE.job.shop.tools[0]) == pytest.approx(-12.4)
    assert not BORE.on_axis


def test_outside_the_frame_is_the_half_section() -> None:
    assert (PIN.base, PIN.top, PIN.front, PIN.back) == (0, 10, 0.5, -24)
    assert PIN.deepest(NOSE) == 0
    assert PIN.on_axis
    assert PIN.end_face == ()
    assert [s.end.x for s in PIN.bar] == [-24, -324]


@pytest.mark.parametrize(("curve", "places"), [([0, -9], (0, -9)), ([-2, -7], (-2, -7)), ([0, -24], (0, -24))])
def test_the_curve_as_a_stretch(curve: list[float], places: tuple[float, float]) -> None:
    frame = Frame(job_from_data(pin({"part.curve": curve})))
    x, _ = frame.chain.points(np.array(frame.stretch))
    assert x == pytest.approx(np.array(places), abs=1e-4)
    first, last = frame.stretch
    assert 0 <= first < last <= frame.chain.length


def test_nothing_of_the_curve_is_left_out() -> None:
    """A corner just at the end belongs to the curve, with the metal that stands over it."""
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 10}, {"z": -4, "d": 18, "convex": 4}, {"z": -24, "d": 18}]
    frame = Frame(job_from_data(pin({"part.outline": outline, "part.curve": [0, -4]})))
    assert frame.stretch[0] == 0
    _, y = frame.chain.points(np.array([frame.stretch[1]]))
    assert y[0] == pytest.approx(9)


def test_the_contact_line_stands_on_the_columns() -> None:
    line, lattice = PIN.contact_line(NOSE), PIN.lattice(NOSE)
    first = lattice.column_at(-15, True)
    heights = line.columns(first, first + 1000)
    for i in (0, 10, 1000):
        x = lattice.x(first + i)
        assert heights[i] == pytest.approx(12 if x <= -9 else math.sqrt(144 - (x + 9) ** 2), abs=1e-9)


def test_spare_keeps_the_nose_farther_off() -> None:
    line = PIN.contact_line(NOSE, 0.2)
    assert line.highest(-18, -12) == pytest.approx(12.2)
    assert PIN.contact_line(NOSE).highest(-18, -12) == pytest.approx(12.0)
    assert PIN.contact_line(NOSE).highest(3.5, 3.9) == -math.inf


def test_a_bar_behind_is_an_obstacle() -> None:
    frame, fine = Frame(job_from_data(pin({"stock.diameter": 26}))), Tool("fine", "round", 1.0)
    line = frame.contact_line(fine)
    assert line.highest(-24.9, -23.1) == pytest.approx(14)
    assert line.highest(-22.9, -20) == pytest.approx(10)


def test_in_a_cored_bore_the_wall_of_the_hole_is_the_blanks_top() -> None:
    """Turned over: Ø 18 as far as z = -10, then Ø 14, which goes on behind the end of the outline."""
    nodes = [{"z": 1, "d": 18}, {"z": -10, "d": 18}, {"z": -10, "d": 14}, {"z": -15, "d": 14}]
    changes = {"part.surface": "bore", "part.outline": [{"z": 0, "d": 30}, {"z": -20, "d": 20}], "part.curve": [0, -20]}
    frame = Frame(job_from_data(pin({**changes, "stock": {"diameter": 50, "outline": nodes}})))
    height = frame.blank_top(np.array([-30.0, -18.0, -12.0, -5.0, 1.0, 1.1]))
    assert height[:5] == pytest.approx([-7, -7, -7, -9, -9])
    assert height[5] < frame.base == -25
    assert (frame.front, frame.top, frame.bar_top) == (1, -7, -7)
