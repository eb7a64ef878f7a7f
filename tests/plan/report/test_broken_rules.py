"""Why a plan is not shown: the rule that is broken is the one that is named."""

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan, Fault
from ovolo.plan.model import Stage
from ovolo.plan.planner import make_plan
from ovolo.plan.report.broken_rules import broken_faults, ridge_fault
from ovolo.plan.steps import Step
from ovolo.plan.sweep.sweep import Swept, sweep
from ovolo.plan.toolpath.ground import Care
from ovolo.plan.toolpath.plan_moves import Draft
from ovolo.plan.view.frame import Frame

FRAME = Frame(job_from_data(pin({"tool.0.stem": 2.5, "tool.0.shank": 8})))
NOTHING_DONE = sweep(FRAME, [])

RECESS: Data = {
    "part": {
        "surface": "bore",
        "outline": [
            {"z": 0, "d": 22},
            {"z": -1, "d": 22},
            {"z": -7, "d": 34},
            {"z": -9, "d": 34, "concave": 1.4143},
            {"z": -15, "d": 22},
            {"z": -30, "d": 22},
        ],
        "curve": [-3, -8],
    },
    "stock": {"diameter": 60, "hole": 18, "proud": 0.5, "stick_out": 60},
    "tool": [{"name": "left", "hand": "left", "nose_radius": 0.4, "point_angle": 35}],
}


@pytest.mark.parametrize("bite", [1, 20])
def test_an_end_face_that_no_tool_gets_to_is_no_matter_of_the_bite(bite: float) -> None:
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(pin({**RECESS, "limits.bite": bite})))
    (fault,) = refused.value.faults
    assert fault.where == "tool"
    assert "end face" in fault.says
    assert "right-hand knife" in fault.remedy


def test_what_the_fault_advises_helps() -> None:
    helped = pin({**RECESS, "tool.1": {"name": "right", "nose_radius": 0.4}})
    assert make_plan(job_from_data(helped)).stations > 0


def _broken(*moves: tuple[Stage, Swept]) -> list[Fault]:
    tool = FRAME.job.shop.tools[0]
    place = FRAME.outline.start
    steps = [Step(stage, tool, "saddle", place, place) for stage, _ in moves]
    swept = type(NOTHING_DONE)(tuple(took for _, took in moves), NOTHING_DONE.rest, 0.0)
    return broken_faults(FRAME, Draft(steps, swept, 1, Care()))


def test_a_shank_in_metal_is_named_and_not_the_bite() -> None:
    (fault,) = _broken(("rough", Swept(2.0, 5.0, True, fouls=True)))
    assert (fault.where, fault.value) == ("tool round nose 6", 2.5)
    assert "shank" in fault.says


def test_so_many_moves_take_too_much() -> None:
    rough: Stage = "rough"
    light, wide = (rough, Swept(2.0, 0.9, False)), (rough, Swept(2.0, 1.5, True))
    (one,), (two,) = _broken(light, wide), _broken(wide, wide)
    assert one.where == two.where == "limits.bite"
    assert "one move would take" in one.says
    assert "2 moves would take" in two.says


def test_what_is_left_is_told_with_its_unit() -> None:
    assert ridge_fault(FRAME, 0.0712).limit == "at least 0.0712 mm"


DOME = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}]


def test_stock_that_is_finished_already_is_no_job() -> None:
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(pin({"stock": {"outline": DOME, "stick_out": 40}})))
    (fault,) = refused.value.faults
    assert fault.where == "stock.outline"
    assert "nothing to cut" in fault.says


def test_a_bar_at_its_finished_size_is_no_job_either() -> None:
    bar = {"part.outline": [{"z": 0, "d": 18}, {"z": -24, "d": 18}], "stock": {"diameter": 18, "stick_out": 40}}
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(pin(bar)))
    assert [fault.where for fault in refused.value.faults] == ["stock.diameter"]
