"""Advice: faults that say what would do, and what is not known."""

import re

import pytest
from tests.documents.jobs import NOTHING, Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan, Fault
from ovolo.plan.model import Job
from ovolo.plan.planner import make_plan

COVE: Data = {
    "part.outline": [{"z": 0, "d": 20}, {"z": -5, "d": 20}, {"z": -9, "d": 20, "concave": 2.5}, {"z": -40, "d": 20}],
    "part.curve": [-4, -10],
    "stock": {"diameter": 21},
    "tool": [{"name": "knife", "nose_radius": 0.4}],
}


def _refused(job: Job) -> list[Fault]:
    with pytest.raises(CannotPlan) as refused:
        make_plan(job)
    return list(refused.value.faults)


def test_advice_would_do() -> None:
    """What the fault advises to add makes the plan possible."""
    (fault,) = _refused(job_from_data(pin(COVE)))
    advised = re.search(r"round nose of R (\S+) mm or less", fault.remedy)
    assert advised
    helped = pin({**COVE, "tool.1": {"name": "round", "kind": "round", "nose_radius": float(advised[1])}})
    assert make_plan(job_from_data(helped)).stations > 0


def test_under_a_lip_a_knife_is_advised_that_reaches() -> None:
    """The wall leans by atan(1/4), 14.04°: an edge of more than 104.04° clears it."""
    foot = [{"z": -5.1864, "d": 13.4914}, {"z": -5.7687, "d": 12, "concave": 0.6}]
    back: Data = {
        "part.outline": [{"z": 0, "d": 20}, {"z": -6, "d": 20}, *foot, {"z": -24, "d": 12}],
        "part.curve": [-3, -20],
        "stock": {"diameter": 22},
        "tool": [{"name": "knife", "nose_radius": 0.4}, {"name": "left", "nose_radius": 0.4, "hand": "left"}],
    }
    (fault,) = _refused(job_from_data(pin(back)))
    advised = re.search(
        r"a left-hand knife of 35°, its edge at (\d+)°, with a nose of R (\S+) mm or less", fault.remedy
    )
    assert advised
    assert 104.04 < float(advised[1]) < 110
    knife = {"name": "leaning", "nose_radius": float(advised[2]), "hand": "left", "point_angle": 35}
    helped = pin({**back, "tool.2": {**knife, "edge_angle": float(advised[1])}})
    plan = make_plan(job_from_data(helped))
    assert plan.stations > 0


def test_the_tightest_hollow_is_told_where_a_nose_is_too_large() -> None:
    wide = {"name": "wide", "kind": "round", "nose_radius": 3}
    faults = _refused(job_from_data(pin({**COVE, "tool.1": wide})))
    assert any("at most R 2.5 mm" in fault.remedy for fault in faults)


def test_places_are_told_in_the_unit_of_the_job() -> None:
    inches: Data = {
        "units": "in",
        "part.outline": [{"z": p["z"] / 25, "d": p["d"] / 25} for p in COVE["part.outline"]],
        "part.curve": [-0.16, -0.4],
        "stock": {"diameter": 0.84},
        "tool": [{"name": "knife", "nose_radius": 0.016}],
    }
    inches["part.outline"][2]["concave"] = 0.1
    (fault,) = _refused(job_from_data(pin(inches)))
    assert "z = -0.2" in fault.says
    assert fault.limit.endswith("in in")


def test_counts_too_coarse_for_the_ridge() -> None:
    """A ridge that the same tool would leave on finer slides: the fault says what these can do, and they can."""
    coarse = {"finish.ridge": 0.02, "slide": {"cross": {"count": 0.1, "reads": "radius"}, "saddle": {"count": 0.1}}}
    (fault,) = _refused(job_from_data(pin(coarse)))
    assert fault.where == "finish.ridge"
    least = float(fault.limit.split()[-2])
    plan = make_plan(job_from_data(pin({**coarse, "finish.ridge": least})))
    assert plan.prediction.ridge_max <= least + 1e-4
    assert _refused(job_from_data(pin({**coarse, "finish.ridge": least * 0.9})))


def test_what_is_not_known_is_said() -> None:
    assert any("chuck" in note for note in make_plan(job_from_data(pin({"stock.stick_out": NOTHING}))).notes)
    assert make_plan(job_from_data(pin())).notes == ()
    vague = make_plan(job_from_data(pin({"tool.0.nose_radius_u": 0.2})))
    assert any("round nose 6" in note for note in vague.notes)
