"""Figures and lengths as they are read and said."""

import pytest

from ovolo.shop.slides import Slide
from ovolo.show.words.figures import decimals, figure_text, in_units, length_text, ridge_text, travel_text, within_text

INCH = Slide("cross", "radius", "in", 0.0127, unit=25.4)
FINE = Slide("saddle", "diameter", "toward", 0.005)


def test_a_figure_has_the_decimals_of_its_count() -> None:
    assert (decimals(INCH), decimals(FINE), decimals(Slide("saddle", "diameter", "away", 1.0))) == (4, 3, 0)


@pytest.mark.parametrize(
    ("slide", "place", "text"), [(INCH, 12.7, "-0.5000"), (FINE, -3.0, "3.000"), (FINE, 0.0, "0.000")]
)
def test_a_figure_follows_the_convention_of_its_slide(slide: Slide, place: float, text: str) -> None:
    assert figure_text(slide, place) == text


def test_travel_is_told_to_the_step_and_what_may_be_off_is_never_rounded_up() -> None:
    assert travel_text(0.635, INCH) == "0.0250"
    assert within_text(0.02, INCH) == "0.0007"
    assert within_text(0.05, FINE) == "0.050"


def test_lengths_are_said_in_either_unit() -> None:
    assert (length_text(-0.001, "mm"), length_text(3.175, "in"), in_units("in")) == ("0.00 mm", "0.125 in", "inches")
    assert ridge_text(0.0123, "mm") == "0.012 mm"
