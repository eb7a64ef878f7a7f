"""What Check says, in sentences."""

import re

import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import Checked, check
from ovolo.documents.check.readings import readings_from_text
from ovolo.documents.check.says import cause_says, correction_says, fine, undecided_says, verdict_says


def _checked(wrong: Wrong, u_z: float = 0.02) -> Checked:
    made = shape("dome")
    read = measure(make(made.job, made.moves, wrong, 4), places("dome"), 54, u_z=u_z)
    return check(made.plan, readings_from_text(as_csv(read, u=0.01, u_z=u_z), made.plan.job))


def test_small_lengths_in_either_unit() -> None:
    assert (fine(0.0931, "mm"), fine(0.0508, "in")) == ("0.093 mm", "0.0020 in")


def test_a_nose_is_said_with_what_to_enter() -> None:
    found = _checked(Wrong(nose={"round nose 6": 0.3}), 0.01)
    said = cause_says(found.causes[0], found.plan)
    assert re.fullmatch(
        r"The nose of round nose 6 is R 3\.\d+ rather than R 3 \(±0\.\d+ mm\)\. Measure it, or enter 3\.\d+\.", said
    )


def test_what_cannot_be_told_apart_is_said_with_the_reading_that_would() -> None:
    found = _checked(Wrong(saddle=0.12), 0.05)
    assert "A reading at z -" in undecided_says(found.undecided[0], found.plan)


@pytest.mark.parametrize(("cross", "word"), [(0.0, "Good"), (0.13, "Not good"), (-0.13, "Not good")])
def test_the_verdict_comes_with_figures_and_limits(cross: float, word: str) -> None:
    assert verdict_says(_checked(Wrong(cross=cross))).startswith(f"{word}: at most 0.")


def test_a_shift_is_said_as_the_readout_has_it() -> None:
    said = correction_says(_checked(Wrong(cross=0.09)))
    assert re.match(r"Add \+0\.1\d to what the cross slide's readout shows", said[0])
