"""A boring bar in its hole: does it pass through, and does it stand out far enough?"""

import pytest
from tests.documents.jobs import Data

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan, Fault
from ovolo.plan.planner import make_plan
from ovolo.plan.report.boring_bar import boring_faults, depth_needed
from ovolo.plan.view.frame import Frame

BAR: Data = {"name": "bar", "nose_radius": 0.4, "edge_angle": 95}


def _bush(hole: float = 20, **bar: object) -> Data:
    """A bush bored Ø 30, with a shoulder 20 deep and a way out of Ø 24."""
    outline = [{"z": 0, "d": 30}, {"z": -20, "d": 30}, {"z": -23, "d": 24, "concave": 3}, {"z": -38, "d": 24}]
    return {
        "title": "bush",
        "part": {"surface": "bore", "outline": outline, "curve": [0, -24]},
        "stock": {"diameter": 60, "hole": hole, "stick_out": 100},
        "tool": [{**BAR, **bar}],
        "limits": {"bite": 0.8},
    }


def _faults(data: Data) -> list[Fault]:
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(data))
    return list(refused.value.faults)


@pytest.mark.parametrize(("diameter", "across"), [(26, "28.5"), (19, "21.5")])
def test_bar_and_nose_have_to_pass_through_the_hole(diameter: float, across: str) -> None:
    (fault,) = _faults(_bush(bar_diameter=diameter, stands_out=2.5))
    assert (fault.where, fault.value) == ("tool[0].bar_diameter", diameter)
    assert f"{across} mm across" in fault.says
    assert "hole of Ø 20 mm" in fault.says


def test_the_limit_is_enough_and_a_little_more_is_not() -> None:
    (fault,) = _faults(_bush(bar_diameter=19, stands_out=2.5))
    most = float(fault.limit.split()[-2])
    assert most <= 20 - 2.5  # bar and nose can't be wider than the hole
    assert make_plan(job_from_data(_bush(bar_diameter=most, stands_out=2.5))).stations
    assert _faults(_bush(bar_diameter=round(most + 0.02, 4), stands_out=2.5))


def test_a_larger_hole_lets_it_through_where_the_bore_allows_one() -> None:
    (fault,) = _faults(_bush(bar_diameter=19, stands_out=2.5))
    drill = float(fault.remedy.split("Ø")[-1].split()[0])
    assert drill < 24
    assert make_plan(job_from_data(_bush(hole=drill, bar_diameter=19, stands_out=2.5))).stations
    (fault,) = _faults(_bush(bar_diameter=26, stands_out=2.5))
    assert "drill" not in fault.remedy  # 28.5 across and more, but the way out is 24


def test_where_the_nose_stands_is_not_told_the_bar_alone_counts() -> None:
    (fault,) = _faults(_bush(bar_diameter=20))
    assert "stands_out is not given" in fault.says
    assert make_plan(job_from_data(_bush(bar_diameter=17))).stations


def test_no_bar_is_thin_enough_for_a_nose_that_stands_out_so_far() -> None:
    (fault,) = _faults(_bush(bar_diameter=8, stands_out=19.5))
    assert fault.limit.startswith("a nose that projects less than")
    assert "projects less" in fault.remedy


def test_the_holder_stays_in_front_of_the_end_face() -> None:
    """The finished bore is 38 deep, and the nose goes all but there."""
    (fault,) = _faults(_bush(overhang=30, stands_out=2.5))
    assert (fault.where, fault.value) == ("tool[0].overhang", 30)
    least = float(fault.limit.split()[-2])
    assert 37 < least < 38.5
    assert make_plan(job_from_data(_bush(overhang=least + 0.01, stands_out=2.5))).stations


def test_the_depth_is_counted_from_the_front_as_it_stands() -> None:
    data = _bush()
    data["stock"]["proud"] = 0.7
    plan = make_plan(job_from_data(data))
    deepest = min(move.end.x for move in plan.moves) - 0.4
    assert depth_needed(Frame(plan.job), plan.tools[0], plan.moves) == pytest.approx(0.7 - deepest)


def test_outside_no_bar_is_asked_for() -> None:
    data = _bush()
    data["part"] = {"outline": [{"z": 0, "d": 50}, {"z": -20, "d": 50}], "curve": [0, -10]}
    data["stock"] = {"diameter": 60}
    data["tool"] = [{**BAR, "bar_diameter": 90, "overhang": 1}]
    plan = make_plan(job_from_data(data))
    assert boring_faults(Frame(plan.job), plan.moves) == []
