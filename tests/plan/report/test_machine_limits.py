"""Room: the chuck, and how far the slides go."""

import math

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan, Fault
from ovolo.geometry.segments import Point
from ovolo.plan.model import Job, Move
from ovolo.plan.planner import make_plan
from ovolo.plan.report.machine_limits import nearest_to_chuck
from ovolo.plan.view.frame import Frame


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


COVE: Data = {
    "part.outline": [
        {"z": 0, "d": 20},
        {"z": -10, "d": 14, "concave": 30},
        {"z": -20, "d": 20, "concave": 30},
        {"z": -26, "d": 20},
    ],
    "part.curve": [0, -20],
    "stock": {"diameter": 22, "stick_out": 29},
    "tool": [
        {"name": "left knife", "hand": "left", "nose_radius": 0.8},
        {"name": "right knife", "nose_radius": 0.8},
    ],
    "limits.bite": 2,
}


def _move(tool: str, x: float, y: float) -> Move:
    at = Point(x, y)
    return Move(1, "finish", tool, "saddle", Point(x + 1.0, y), at, 0.0, "", 0.0, False, 0.0, 0.0)


def test_what_leans_over_the_bar_is_kept_off_the_jaws_too() -> None:
    """The back of a left-hand knife of 55° at 93° rises at 32° over the work, toward the chuck. At Ø 14 of a bar of
    Ø 22 the nose centre of R 0.8 stands at 7.8; jaws that stand 6 over the bar end 9.2 above that."""
    job = job_from_data(pin({**COVE, "lathe.jaws": 6}))
    found = nearest_to_chuck(Frame(job), [_move("left knife", -20.0, 7.8)])
    back = math.radians(32)
    leans = 0.8 * math.sin(back) + (9.2 + 0.8 * math.cos(back)) / math.tan(back)
    assert found.tool == pytest.approx(-20 - leans, abs=1e-3)
    assert found.nose == pytest.approx(-20.8)


def test_a_shank_wider_than_its_blade_is_kept_off_them() -> None:
    """A blade of 3 with corners of R 0.2: its middle is 1.3 off the first corner's centre, half the shank is 10."""
    blade = {"name": "blade", "kind": "grooving", "nose_radius": 0.2, "width": 3, "stem": 6, "shank": 20}
    frame = Frame(job_from_data(pin({"tool": [blade]})))
    assert nearest_to_chuck(frame, [_move("blade", -20.0, 10.2)]).tool == pytest.approx(-20 + 1.3 - 10, abs=2e-3)
    high = _move("blade", -20.0, 14.3)  # the jaws of a bar of Ø 20 end at 20, the shank begins at 20.1
    assert nearest_to_chuck(frame, [high]).tool == pytest.approx(-20.2, abs=2e-3)


def test_how_far_the_bar_has_to_stand_out_is_told_and_enough() -> None:
    told = {**COVE, "lathe.jaws": 10}
    (fault,) = _refused(job_from_data(pin(told)))
    assert fault.where == "stock.stick_out"
    assert "not its nose" in fault.says
    assert "10 mm over the bar (lathe.jaws)" in fault.remedy
    least = float(fault.limit.split()[-2])
    assert make_plan(job_from_data(pin({**told, "stock": {"diameter": 22, "stick_out": least}}))).stations
    short = {**told, "stock": {"diameter": 22, "stick_out": round(least - 0.02, 6)}}
    assert [f.where for f in _refused(job_from_data(pin(short)))] == ["stock.stick_out"]


def test_low_jaws_need_less() -> None:
    (low,) = _refused(job_from_data(pin({**COVE, "lathe.jaws": 6})))
    (high,) = _refused(job_from_data(pin({**COVE, "lathe.jaws": 10})))
    rise = 4 / math.tan(math.radians(32))  # 4 mm lower, along a back that rises at 32°
    assert float(high.limit.split()[-2]) - float(low.limit.split()[-2]) == pytest.approx(rise, abs=0.02)


def test_jaws_that_nobody_told_of_are_a_warning_ahead_of_the_first_move_that_may_meet_them() -> None:
    job = job_from_data(pin(COVE))
    plan = make_plan(job)
    (said,) = [b for b in plan.before if "may meet the jaws" in b.text]
    assert "10 mm over the bar (write lathe.jaws" in said.text
    out = job.shop.stock.stick_out
    assert out is not None
    reach = [-nearest_to_chuck(Frame(job), [m]).tool for m in plan.moves]
    assert reach[said.move - 1] > out
    assert all(r <= out for r in reach[: said.move - 1])
