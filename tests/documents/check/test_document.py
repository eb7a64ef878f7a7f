"""check.json."""

import json

import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import Checked, check
from ovolo.documents.check.document import check_as_data, check_as_json
from ovolo.documents.check.model import CheckFile
from ovolo.documents.check.readings import readings_from_text
from ovolo.documents.plan.model import PlanFile


def _checked(wrong: Wrong, *, u_z: float = 0.02, more: str = "") -> Checked:
    made = shape("dome")
    read = measure(make(made.job, made.moves, wrong, 4), places("dome"), 54, u_z=u_z)
    return check(made.plan, readings_from_text(as_csv(read, u=0.01, u_z=u_z) + more, made.plan.job))


@pytest.mark.parametrize(
    ("wrong", "u_z", "more"),
    [(Wrong(), 0.02, ""), (Wrong(cross=0.09), 0.02, ""), (Wrong(saddle=0.2), 0.1, ""), (Wrong(), 0.02, "9,12\n")],
)
def test_what_is_written_keeps_to_its_schema(wrong: Wrong, u_z: float, more: str) -> None:
    text = check_as_json(_checked(wrong, u_z=u_z, more=more))
    CheckFile.model_validate_json(text)
    plan = json.loads(text)["correction"]["plan"]
    if plan is not None:
        PlanFile.model_validate(plan)


def test_a_reading_is_given_back_with_what_the_plan_would_read() -> None:
    data = check_as_data(_checked(Wrong(cross=0.09)))
    row = data["readings"][6]
    assert row["d"] - row["expected"] == pytest.approx(0.18, abs=0.06)
    assert row["used"]
    assert data["causes"][0]["name"] == "cross_offset"
    assert "farther from the axis" in data["causes"][0]["says"]


def test_what_lies_off_the_part_is_not_used_and_asked_about() -> None:
    data = check_as_data(_checked(Wrong(), more="9,12\n"))
    assert data["readings"][-1]["used"] is False
    assert data["questions"][-1]["where"] == "readings[14].z"
