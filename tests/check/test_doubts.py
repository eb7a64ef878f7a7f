"""Readings that cannot be right as they are written."""

from dataclasses import replace

import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import Checked, check
from ovolo.check.measured import Measured, Reading
from ovolo.documents.check.readings import readings_from_text
from ovolo.documents.check.says import question


def _right() -> list[Reading]:
    made = shape("dome")
    read = measure(make(made.job, made.moves, Wrong(), 1), places("dome"), 51)
    return list(readings_from_text(as_csv(read, u=0.01, u_z=0.02), made.plan.job).readings)


def _asked(readings: list[Reading]) -> Checked:
    return check(shape("dome").plan, Measured(tuple(readings)))


@pytest.mark.parametrize(
    ("factor", "kind"), [(0.5, "halved"), (2.0, "doubled"), (1 / 25.4, "inches"), (25.4, "millimetres")]
)
def test_one_slip_and_all_of_them_are_named(factor: float, kind: str) -> None:
    right = _right()
    one = [*right[:8], replace(right[8], r=right[8].r * factor), *right[9:]]
    found = _asked(one)
    assert [(doubt.rows, doubt.kind) for doubt in found.doubts] == [((8,), kind)]
    assert (found.verdict, found.causes) == ("cannot tell", ())
    assert found.lines[8].unused is None
    whole = _asked([replace(reading, r=reading.r * factor) for reading in right])
    assert [doubt.kind for doubt in whole.doubts] == [kind]
    assert whole.causes == ()


def test_two_digits_swapped() -> None:
    right = _right()
    right[9] = replace(right[9], r=float("71.40") / 2 if f"{2 * right[9].r:.2f}".startswith("17.4") else 0.0)
    if right[9].r == 0.0:
        text = f"{2 * _right()[9].r:.2f}"
        right[9] = replace(right[9], r=float(text[1] + text[0] + text[2:]) / 2)
    found = _asked(right)
    assert [(doubt.rows, doubt.kind) for doubt in found.doubts] == [((9,), "swapped")]
    assert "swapped" in str(question(found.doubts[0], found))


def test_two_readings_at_one_place_that_disagree() -> None:
    right = _right()
    found = _asked([*right, replace(right[12], r=right[12].r + 0.06, where="readings[14]")])
    assert [(doubt.rows, doubt.kind) for doubt in found.doubts if doubt.kind == "disagree"] == [((12, 14), "disagree")]


def test_a_place_off_the_part_is_asked_about_and_not_used() -> None:
    right = _right()
    found = _asked([*right, replace(right[5], z=3.0), replace(right[5], z=-60.0)])
    assert [doubt.rows for doubt in found.doubts] == [(14,), (15,)]
    assert found.lines[14].unused == "it is off the part"
    assert "negative" in str(question(found.doubts[0], found))
