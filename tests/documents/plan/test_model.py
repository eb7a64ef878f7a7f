"""The plan document as read: what the program writes passes, what is not a plan does not."""

import pytest
from pydantic import ValidationError
from tests.documents.plans import plan

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.plan.model import PlanFile


def test_what_is_written_is_read() -> None:
    read = PlanFile.model_validate(plan_as_data(plan()))
    assert read.moves[1].from_ == [4.5, 12.2]
    assert read.stations == 1


def test_what_is_read_writes_the_same_plan_again() -> None:
    data = plan_as_data(plan())
    again = PlanFile.model_validate(data).model_dump(by_alias=True, exclude_unset=True)
    assert again == data
    assert [move["n"] for move in again["moves"] if "feed_off" in move] == [2]


@pytest.mark.parametrize(
    ("name", "value"), [("format", "plan"), ("version", 2), ("stations", -1), ("extra", 1), ("checksum", "XYZ")]
)
def test_anything_else_is_refused(name: str, value: object) -> None:
    with pytest.raises(ValidationError, match=name):
        PlanFile.model_validate({**plan_as_data(plan()), name: value})


def test_a_figure_is_a_finite_number() -> None:
    data = plan_as_data(plan())
    data["moves"][0]["set"] = float("nan")
    with pytest.raises(ValidationError, match="finite"):
        PlanFile.model_validate(data)
