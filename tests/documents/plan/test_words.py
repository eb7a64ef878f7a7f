"""Every note of a plan in words, in the job's units."""

from typing import get_args

import pytest

from ovolo.documents.plan.words import _WORDS, note_text
from ovolo.geometry.segments import Point
from ovolo.plan.report import facts
from ovolo.plan.report.facts import Note
from ovolo.units import INCH


def test_every_kind_of_note_has_its_words() -> None:
    assert set(_WORDS) == set(get_args(Note))


@pytest.mark.parametrize(
    ("note", "unit", "says"),
    [
        (facts.Nub(6.0), "mm", "a nub of Ø 6 mm"),
        (facts.Nub(0.25 * INCH), "in", "a nub of Ø 0.25 in"),
        (facts.FinishedFrom(Point(-2.0, 3.0), with_nub=True), "mm", "from z = -2 mm, Ø 6 mm on"),
        (facts.HoleStays(4.0, 3.4641, 3.4641), "mm", "Ø 4 mm, 3.46 mm deep: a facing allowance of 3.46 mm"),
        (facts.BetweenDivisions("top", 0.01, 0.05, (0.05, 0.025)), "mm", "count = 0.05 or 0.025 (slide.top)"),
        (facts.ToleranceAllows("h7", 20.0, 0.01, keeps=False), "mm", "lets only 0.01 mm stand"),
        (facts.NoseTooVague("knife", 0.02, 0.05, 0.025, 0.04, full_radius=False), "mm", "to 0.04 mm first"),
        (facts.EqualStepsTaken("saddle", 0.02 * INCH, 8, 11, 1), "in", "steps of 0.02 in of the saddle;"),
        (facts.EqualStepsNowhere("cross", 1.0), "mm", "steps of 1 mm of the cross slide keep"),
        (facts.ThinAllowance(0.127), "in", "leaves 0.005 in"),
        (facts.AsWritten("As it was."), "mm", "As it was."),
    ],
)
def test_a_note_in_words(note: Note, unit: str, says: str) -> None:
    assert says in note_text(note, "in" if unit == "in" else "mm")
