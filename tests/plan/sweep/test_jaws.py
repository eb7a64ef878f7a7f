"""How near a tool comes to the jaws of the chuck."""

import math

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.geometry.segments import Point
from ovolo.plan.planner import make_plan
from ovolo.plan.steps import Step
from ovolo.plan.sweep.jaws import FROM_JAWS, free_of_jaws, too_near, within_of_jaws
from ovolo.plan.view.frame import Frame

TOLD: Data = {"stock": {"diameter": 20, "proud": 0.5, "stick_out": 35}, "lathe": {"jaws": 8}}


def _step(frame: Frame, x: float, y: float) -> Step:
    return Step("rough", frame.job.shop.tools[0], "saddle", Point(5, y), Point(x, y))


def _frame(changes: Data) -> Frame:
    return Frame(job_from_data(pin(changes)))


def test_a_round_nose_comes_as_near_as_its_flank() -> None:
    """R 3 with its centre 10 mm from the jaws' face leaves 7 mm, beside the jaws and not over them."""
    frame = _frame(TOLD)
    assert free_of_jaws(frame, _step(frame, -25, 12)) == pytest.approx(7.0)
    assert free_of_jaws(frame, _step(frame, -40, 18 + 3.01)) == math.inf


@pytest.mark.parametrize("changes", [{}, {"lathe": {"jaws": 8}, "stock": {"diameter": 20}}], ids=["jaws", "stick-out"])
def test_where_it_is_not_told_where_they_are_nothing_is_too_near(changes: Data) -> None:
    frame = _frame(changes)
    assert not too_near(frame, _step(frame, -34, 12), 0.1)


def test_what_a_move_may_be_off_has_to_stay_free_too() -> None:
    frame = _frame(TOLD)
    just = _step(frame, -35 + 3 + FROM_JAWS + 0.1, 12)
    assert not too_near(frame, just, 0.1)
    assert too_near(frame, just, 0.2)
    assert within_of_jaws(frame, just, 0.5, 0.01) == pytest.approx(0.1)
    assert within_of_jaws(frame, _step(frame, -34, 12), 0.5, 0.01) == 0.01


def test_no_move_of_a_plan_comes_nearer_than_it_may() -> None:
    plan = make_plan(job_from_data(pin({**TOLD, "stock": {"diameter": 20, "proud": 0.5, "stick_out": 25.2}})))
    frame = Frame(plan.job)
    tool = plan.tools[0]
    for move in plan.moves:
        step = Step(move.stage, tool, move.slide, move.start, move.end)
        assert free_of_jaws(frame, step) >= FROM_JAWS + move.within - 1e-6


def test_a_bar_that_stands_out_too_little_is_refused_with_what_would_do() -> None:
    """The advice is taken: with just that length it can be planned."""
    short = {**TOLD, "part.curve": [0, -20], "stock": {"diameter": 20, "proud": 0.5, "stick_out": 24.2}}
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(pin(short)))
    (fault,) = refused.value.faults
    assert fault.where == "stock.stick_out"
    least = float(fault.limit.removeprefix("at least ").removesuffix(" mm"))
    helped = {**short, "stock": {"diameter": 20, "proud": 0.5, "stick_out": least}}
    assert make_plan(job_from_data(pin(helped))).stations > 0
