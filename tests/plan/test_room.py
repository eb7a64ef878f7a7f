"""Room: the chuck, and how far the slides go."""

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan, Fault
from ovolo.plan.model import Job
from ovolo.plan.planner import make_plan


def _refused(job: Job) -> list[Fault]:
    with pytest.raises(CannotPlan) as refused:
        make_plan(job)
    return list(refused.value.faults)


def test_a_chuck_too_near() -> None:
    deep = {"part.curve": [0, -23.5], "stock.diameter": 18.02, "stock.stick_out": 24.5}
    faults = _refused(job_from_data(pin(deep)))
    assert [fault.where for fault in faults] == ["stock.stick_out"]
    assert "chuck jaws" in faults[0].says


@pytest.mark.parametrize(("slide", "travel"), [("cross", 5), ("saddle", 8)])
def test_a_slide_that_cannot_go_so_far(slide: str, travel: float) -> None:
    (fault,) = _refused(job_from_data(pin({f"slide.{slide}.travel": travel})))
    assert fault.where == f"slide.{slide}.travel"
    needed = float(fault.limit.split()[-2])
    assert make_plan(job_from_data(pin({f"slide.{slide}.travel": needed + 0.01}))).stations


def test_chuck_and_travel_come_in_one_go() -> None:
    short = {"slide.cross.travel": 5, "slide.saddle.travel": 8}
    assert {fault.where for fault in _refused(job_from_data(pin(short)))} == {
        "slide.cross.travel",
        "slide.saddle.travel",
    }
