"""Dials: where they stand, and how a winding is said, against winding them division by division."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.shop.dials import dial_place, dial_words
from ovolo.shop.slides import Slide

SADDLE = Slide("saddle", "radius", "away", 0.05, per_turn=2.0, divisions=40)
CROSS = Slide("cross", "diameter", "out", 0.02, per_turn=2.5, divisions=250)
INCH = Slide("saddle", "radius", "toward", 0.001 * 25.4, unit=25.4, per_turn=2.54, divisions=100)


def _wound(start: int, end: int, divisions: int) -> tuple[int, int]:
    """How often the mark 0 is passed (not counting start and end) and where it stops, one division at a time."""
    step = 1 if end > start else -1
    passed = sum(1 for at in range(start + step, end, step) if at % divisions == 0)
    return passed, end % divisions


@given(st.integers(-400, 400), st.integers(-400, 400))
def test_words_say_what_winding_by_single_divisions_finds(start: int, end: int) -> None:
    passed, stop = _wound(start, end, 40)
    times = {0: "", 1: "past 0 once, ", 2: "past 0 twice, "}.get(passed, f"past 0 {passed} times, ")
    assert dial_words(SADDLE, start * 0.05, end * 0.05) == f"{times}stop at {stop}"


@given(st.integers(-4000, 4000))
def test_turns_and_division_add_up_to_the_travel(counts: int) -> None:
    for slide in (SADDLE, CROSS, INCH):
        assert slide.per_turn is not None
        assert slide.divisions is not None
        figure = counts * slide.count / slide.unit
        place = dial_place(slide, figure)
        travel = (place.turns + place.division / slide.divisions) * slide.per_turn
        assert 0 <= place.division < slide.divisions
        near = travel - figure * slide.unit / abs(slide.factor)
        # A hair under a full turn shows 0 of the next one: the dial itself can't tell.
        assert min(abs(near), abs(near + slide.per_turn)) == pytest.approx(0, abs=1e-4 * slide.per_turn)


def test_a_cross_slide_that_reads_diameters_turns_half_as_far() -> None:
    assert dial_place(CROSS, 5.0) == (1, 0.0)
    assert dial_place(CROSS, -0.02) == (-1, 249.0)


def test_inches() -> None:
    assert dial_place(INCH, 0.2505) == (2, 50.5)
    assert dial_words(INCH, 0.0, 0.2505) == "past 0 twice, stop at 50.5"


def test_where_it_stands_already() -> None:
    assert dial_words(SADDLE, 1.0, 1.0) == "stop at 20"
    assert math.isclose(dial_place(SADDLE, 1.0).division, 20)
