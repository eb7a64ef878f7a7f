"""Advice: faults that say what would do, and what is not known."""

import math
import re

import pytest
from tests.documents.jobs import NOTHING, Data, pin

from ovolo.documents.plan.words import notes_of
from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan, Fault
from ovolo.plan.model import Job
from ovolo.plan.planner import make_plan

COVE: Data = {
    "part.outline": [{"z": 0, "d": 20}, {"z": -5, "d": 20}, {"z": -9, "d": 20, "concave": 2.5}, {"z": -40, "d": 20}],
    "part.curve": [-4, -10],
    "stock": {"diameter": 21},
    "tool": [{"name": "knife", "nose_radius": 0.4}],
    "limits.plunge": 4.0,
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


SHOULDER: Data = {
    "part.outline": [{"z": 0, "d": 20}, {"z": -20, "d": 20}, {"z": -20, "d": 26}, {"z": -40, "d": 26}],
    "part.curve": [-5, -20],
    "stock": {"diameter": 28},
    "tool": [{"name": "knife", "nose_radius": 0.4}],
}


def test_a_sharp_corner_is_told_of_with_the_nose_that_does_it() -> None:
    """Between two sides square to each other a nose leaves, square to them, r·(1 - sin 45°): 0.05 mm takes R 0.17."""
    (fault,) = _refused(job_from_data(pin(SHOULDER)))
    advised = re.search(r"R (\S+) mm or less would do; or round the corner by the radius of your nose", fault.remedy)
    assert advised
    assert 0.05 / (1 - math.sin(math.pi / 4)) - 0.01 < float(advised[1]) <= 0.05 / (1 - math.sin(math.pi / 4))
    assert "z = -20 " in fault.remedy
    assert make_plan(job_from_data(pin({**SHOULDER, "tool.0.nose_radius": float(advised[1])}))).stations > 0
    round_ = [
        {"z": 0, "d": 20},
        {"z": -19.5, "d": 20},
        {"z": -20, "d": 21, "concave": 0.5},
        *SHOULDER["part.outline"][2:],
    ]
    assert make_plan(job_from_data(pin({**SHOULDER, "part.outline": round_}))).stations > 0


def test_a_corner_that_some_nose_fits_is_not_blamed() -> None:
    """At 175° a nose of R 0.4 leaves 0.4·(1 - sin 87.5°), less than half a micron: the shoulder is to blame."""
    bent = [{"z": 0, "d": 20}, {"z": -10, "d": 20}, {"z": -20, "d": 20 + 20 * math.tan(math.radians(5))}]
    outline = [*bent, {"z": -20, "d": 30}, {"z": -40, "d": 30}]
    changes = {**SHOULDER, "part.outline": outline, "part.curve": [-5, -20], "stock": {"diameter": 32}}
    (fault,) = _refused(job_from_data(pin(changes)))
    assert "sharp corner at z = -20 " in fault.remedy
    assert "z = -10 " not in fault.remedy


def test_what_an_advised_knife_would_leave_under_a_lip_counts() -> None:
    """All that it finishes lies in the bay: what it leaves there is told, and kept."""
    dish = [{"z": -1.5, "d": 0}, {"z": 0, "d": 16, "concave": 22.083}, {"z": 0, "d": 18}, {"z": -12, "d": 18}]
    job: Data = {
        "part.outline": dish,
        "part.curve": [0, -10],
        "stock": {"diameter": 20},
        "tool": [{"name": "knife", "nose_radius": 0.8}],
    }
    (fault,) = _refused(job_from_data(pin(job)))
    leaves = [float(found) for found in re.findall(r"which would leave (\S+) mm", fault.remedy)]
    assert leaves
    assert all(0.005 < found <= 0.05 for found in leaves)


def test_no_wider_nose_is_advised_than_may_plunge_to_the_bottom() -> None:
    """A nose as large as the cove would cut along its whole edge at last: a smaller one is named, and it will do."""
    noses = []
    for plunge in (4.0, 2.0):
        (fault,) = _refused(job_from_data(pin({**COVE, "limits.plunge": plunge})))
        advised = re.search(r"round nose of R (\S+) mm or less", fault.remedy)
        assert advised
        noses.append(float(advised[1]))
        tool = {"name": "round", "kind": "round", "nose_radius": noses[-1]}
        assert make_plan(job_from_data(pin({**COVE, "limits.plunge": plunge, "tool.1": tool}))).stations > 0
    assert noses[1] < noses[0]


def test_what_advised_tools_would_leave_is_what_they_leave() -> None:
    (fault,) = _refused(job_from_data(pin(COVE)))
    advised = re.search(r"R (\S+) mm or less, which would leave (\S+) mm in (\d+) settings", fault.remedy)
    assert advised
    helped = pin({**COVE, "tool.1": {"name": "round", "kind": "round", "nose_radius": float(advised[1])}})
    plan = make_plan(job_from_data(helped))
    assert plan.stations == int(advised[3])
    # The plan's last sweep ends with the curve: what stays there is a little more than the settings alone leave.
    assert plan.prediction.ridge_max == pytest.approx(float(advised[2]), abs=2e-3)


GROOVE: Data = {
    "part.outline": [
        {"z": 0, "d": 20},
        {"z": -5, "d": 20},
        {"z": -7, "d": 10},
        {"z": -15, "d": 10},
        {"z": -17, "d": 20},
        {"z": -40, "d": 20},
    ],
    "part.curve": [-4, -18],
    "stock": {"diameter": 21},
    "finish.ridge": 0.1,
    "tool": [{"name": "blade", "kind": "round", "nose_radius": 0.2, "stem": 3, "shank": 10}],
}


def test_a_shank_that_is_in_the_way_is_named_with_how_far_the_nose_has_to_stand_out() -> None:
    (fault,) = _refused(job_from_data(pin(GROOVE)))
    assert "the shank of blade" in fault.says
    advised = re.search(r"project at least (\S+) mm \(stem\)", fault.remedy)
    assert advised
    assert 5 < float(advised[1]) < 7  # the groove is 5 mm deep, and half a millimetre of stock lies over it
    assert make_plan(job_from_data(pin({**GROOVE, "tool.0.stem": float(advised[1])}))).stations > 0
    assert _refused(job_from_data(pin({**GROOVE, "tool.0.stem": float(advised[1]) - 0.3})))


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
    assert any("chuck" in note for note in notes_of(make_plan(job_from_data(pin({"stock.stick_out": NOTHING})))))
    assert notes_of(make_plan(job_from_data(pin()))) == ()
    vague = make_plan(job_from_data(pin({"tool.0.nose_radius_u": 0.2})))
    assert any("round nose 6" in note for note in notes_of(vague))


COARSE: Data = {
    "part.outline": [
        {"z": 0, "d": 0},
        {"z": 0, "d": 20.13},
        {"z": -12, "d": 20.13},
        {"z": -12, "d": 30},
        {"z": -40, "d": 30},
    ],
    "part.curve": [-2, -12],
    "stock": {"diameter": 32, "proud": 0.5, "stick_out": 60},
    "tool.0.nose_radius": 1,
    "finish.ridge": 0.03,
    "slide": {"cross": {"reads": "radius", "count": 0.1}, "saddle": {"count": 0.01}},
}
"""A plain cylinder whose diameter no count of the cross slide hits, before a shoulder with a sharp corner."""


def test_coarse_figures_are_called_that_where_it_is_so_and_the_corner_apart() -> None:
    """Radius 10.065 with counts of 0.1: 10.1 leaves 0.035, so no tool is to blame along the cylinder."""
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(pin(COARSE)))
    coarse, corner = refused.value.faults
    assert coarse.where == "finish.ridge"
    assert "as coarse as these slides have" in coarse.says
    assert "from z = -2 (Ø 20.13) to z = -1" in coarse.says
    least = float(coarse.limit.split()[2])
    assert 0.035 <= least <= 0.037
    assert "In the sharp corner at z = -12 (Ø 20.13)" in corner.remedy
    assert float(corner.says.split("z = ")[1].split()[0]) < -11


def test_the_ridge_that_is_said_to_do_does() -> None:
    """The same cylinder without the shoulder: refused with 0.03, planned with the ridge that the fault names."""
    plain = {**COARSE, "part.outline": [{"z": 0, "d": 0}, {"z": 0, "d": 20.13}, {"z": -40, "d": 20.13}]}
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(pin(plain)))
    (fault,) = refused.value.faults
    assert fault.where == "finish.ridge"
    least = float(fault.limit.split()[2])
    assert make_plan(job_from_data(pin({**plain, "finish.ridge": least}))).prediction.ridge_max <= least + 1e-6
