"""Slides: places become figures and come back, in every convention."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.shop.slides import Grows, Reads, Slide


@st.composite
def slides(draw: st.DrawFn) -> Slide:
    unit = draw(st.sampled_from([1.0, 25.4]))
    count = draw(st.sampled_from([0.001, 0.005, 0.01, 0.02] if unit == 1 else [0.0001, 0.0005, 0.001])) * unit
    if draw(st.booleans()):
        return Slide(
            "cross", draw(st.sampled_from(["diameter", "radius"])), draw(st.sampled_from(["out", "in"])), count, unit
        )
    return Slide("saddle", "radius", draw(st.sampled_from(["away", "toward"])), count, unit)


@given(slides(), st.floats(-200, 200))
def test_a_figure_leads_back_within_half_a_step(slide: Slide, place: float) -> None:
    assert slide.place(slide.figure(place)) == pytest.approx(place, abs=slide.step * 0.5001 + 1e-7)


@given(slides(), st.integers(-20_000, 20_000))
def test_a_whole_count_is_kept(slide: Slide, counts: int) -> None:
    figure = counts * slide.count / slide.unit
    assert slide.figure(slide.place(figure)) == pytest.approx(figure, abs=1e-8)


@given(slides(), st.integers(-20_000, 20_000))
def test_one_step_changes_the_figure_by_one_count(slide: Slide, counts: int) -> None:
    place = slide.place(counts * slide.count / slide.unit)
    change = slide.figure(place + slide.step) - slide.figure(place)
    assert abs(change) == pytest.approx(slide.count / slide.unit, abs=1e-8)
    assert (change > 0) == (slide.grows in ("out", "away"))


@pytest.mark.parametrize(
    ("reads", "grows", "figure"),
    [("diameter", "out", 13.86), ("diameter", "in", -13.86), ("radius", "out", 6.93), ("radius", "in", -6.93)],
)
def test_the_same_place_in_four_conventions(reads: Reads, grows: Grows, figure: float) -> None:
    slide = Slide("cross", reads, grows, 0.01)
    assert slide.figure(6.93) == figure


def test_the_saddle_knows_no_diameters() -> None:
    assert Slide("saddle", "diameter", "toward", 0.01).factor == -1


def test_a_diameter_moves_half() -> None:
    assert Slide("cross", "diameter", "out", 0.01).step == 0.005
    assert Slide("cross", "radius", "out", 0.01).step == 0.01


@pytest.mark.parametrize(
    ("count", "unit", "decimals"),
    [(0.01, 1.0, 2), (0.005, 1.0, 3), (1.0, 1.0, 0), (0.0127, 25.4, 4), (0.00254, 25.4, 4)],
)
def test_as_many_decimals_as_the_count_needs(count: float, unit: float, decimals: int) -> None:
    assert Slide("saddle", "radius", "away", count, unit).decimals == decimals


def test_text_of_figures() -> None:
    cross = Slide("cross", "diameter", "out", 0.01)
    saddle = Slide("saddle", "radius", "away", 0.005)
    assert cross.text(-6.0) == "Ø -6.00"
    assert saddle.text(-0.0) == "0.000"
    assert Slide("cross", "radius", "out", 0.01).text(3) == "3.00"


def test_on_a_dial_where_it_has_divisions() -> None:
    assert not Slide("saddle", "radius", "away", 0.02).on_dial
    assert Slide("saddle", "radius", "away", 0.02, per_turn=2.0, divisions=100).on_dial
