"""What is measured at a stop: the diameter that the planner names, and a length where another tool faced the end."""

from dataclasses import replace

import pytest
from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.documents.plan.document import plan_as_data
from ovolo.plan.model import Plan, Reading
from ovolo.setup.measuring import ahead_of


def _stops(made: Plan) -> list[tuple[str, tuple[Reading, ...]]]:
    return [(before.text, before.should) for before in ahead_of(made) if before.kind == "measure"]


@pytest.mark.parametrize("name", ["bridge-pin", "bronze-bush"])
def test_one_tool_that_faces_the_end_measures_a_diameter_only(name: str) -> None:
    ((text, should),) = _stops(planned(name))
    assert [reading.slide for reading in should] == ["cross"]
    assert "end face" not in text


def test_a_shoulder_is_measured_where_another_tool_has_faced_the_end() -> None:
    """The knife of the pawl knob comes second and roughs up to its rim."""
    made = planned("pawl-knob")
    for before in ahead_of(made):
        if before.kind == "measure" and len(before.should) > 1:
            z = made.job.shop.saddle.place(before.should[1].figure)
            assert f"shoulder at z {z:.2f}" in before.text


def test_the_document_carries_what_it_should_be() -> None:
    made = planned("bridge-pin")
    (stop,) = [before for before in plan_as_data(made)["before"] if before["kind"] == "measure"]
    (should,) = [s for _, s in _stops(made)]
    assert stop["should"] == {reading.slide: reading.figure for reading in should}


def test_all_else_stays_as_the_planner_has_it() -> None:
    made = replace(plan(), before=())
    assert ahead_of(made) == ()
