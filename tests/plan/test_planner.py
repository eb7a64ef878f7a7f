"""The planner as a whole: ridge or stations asked for, one tool, and what it refuses."""

import dataclasses

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.plan.planner import make_plan, ridge_for
from ovolo.plan.stations.choose_tools import fewest_for
from ovolo.plan.view.frame import Frame

JOB = job_from_data(pin({"tool.1": {"name": "knife", "nose_radius": 0.4}}))
PLAN = make_plan(JOB)


def test_as_few_as_proven_and_one_fewer_leaves_more() -> None:
    assert PLAN.stations == PLAN.fewest == fewest_for(Frame(JOB), JOB.shop.tools, 0.05)
    assert PLAN.proof.fewer == PLAN.stations - 1
    assert PLAN.proof.leaves is not None
    assert PLAN.proof.leaves > 0.05
    asked = make_plan(JOB, stations=PLAN.proof.fewer)
    assert asked.job.part.ridge == pytest.approx(PLAN.proof.leaves, rel=2e-3)


@pytest.mark.parametrize("stations", [8, 13, 16, 25])
def test_so_many_stations_and_as_low_a_ridge_as_they_allow(stations: int) -> None:
    plan = make_plan(JOB, stations=stations)
    assert plan.stations == stations
    ridge = plan.job.part.ridge
    assert ridge == pytest.approx(ridge_for(JOB, stations))
    assert plan.prediction.ridge_max <= ridge + 2e-4  # the flattened nose never flatters
    # A hair lower takes one more.
    more = fewest_for(Frame(JOB), JOB.shop.tools, ridge * 0.998)
    assert more is not None
    assert more > stations


def test_another_ridge() -> None:
    fine = make_plan(JOB, ridge=0.02)
    assert fine.job.part.ridge == 0.02
    assert fine.prediction.ridge_max <= 0.02
    assert fine.stations > PLAN.stations


def test_one_tool_of_the_drawer() -> None:
    assert [t.name for t in PLAN.tools] == ["round nose 6"]
    knife = make_plan(JOB, tool="knife")
    assert {m.tool for m in knife.moves} == {"knife"}
    assert knife.stations > PLAN.stations


def test_a_tool_that_is_not_there() -> None:
    with pytest.raises(CannotPlan, match="no tool of this name") as refused:
        make_plan(JOB, tool="spoon")
    (fault,) = refused.value.faults
    assert "round nose 6, knife" in fault.limit


def test_too_few_stations() -> None:
    with pytest.raises(CannotPlan) as refused:
        make_plan(JOB, stations=1)
    assert refused.value.faults[0].where == "stations"


def test_the_same_job_gives_the_same_plan() -> None:
    again = make_plan(JOB)
    assert again.moves == PLAN.moves
    assert again.prediction == PLAN.prediction


def test_the_job_in_the_plan_is_the_one_that_was_asked_for() -> None:
    asked = make_plan(JOB, ridge=0.03).job
    assert dataclasses.replace(asked, part=dataclasses.replace(asked.part, ridge=0.05)) == JOB


def test_what_cannot_be_reached_says_where_and_what_would_do() -> None:
    outline = [{"z": 0, "d": 20}, {"z": -5, "d": 20}, {"z": -9, "d": 20, "concave": 2.5}, {"z": -40, "d": 20}]
    job = job_from_data(
        pin(
            {
                "part.outline": outline,
                "part.curve": [-4, -10],
                "stock": {"diameter": 21},
                "tool.1": {"name": "knife", "nose_radius": 0.4},
            }
        )
    )
    with pytest.raises(CannotPlan) as refused:
        make_plan(job)
    for fault in refused.value.faults:
        assert "z = -5" in fault.says or "z = -6" in fault.says
        assert "round nose" in fault.remedy


HALF_ROUND = {"name": "half round", "kind": "form", "outline": [{"z": 0, "r": 0}, {"z": 6, "r": 0, "convex": 3}]}


def test_a_round_nose_told_by_its_outline_gets_the_same_plan() -> None:
    """Two ways of telling the same tool: the same settings, figures and moves."""
    nose = make_plan(job_from_data(pin()))
    form = make_plan(job_from_data(pin({"tool.0": HALF_ROUND})))
    assert (form.stations, form.fewest) == (nose.stations, nose.fewest)
    assert form.proof.leaves == pytest.approx(nose.proof.leaves, abs=1e-4)
    of = [[m.figure for m in plan.moves if m.station] for plan in (form, nose)]
    assert of[0] == pytest.approx(of[1])
    rough = [[m.figure for m in plan.moves if m.stage == "rough" and m.cuts] for plan in (form, nose)]
    assert rough[0] == pytest.approx(rough[1], abs=0.1 + 1e-9)  # a round one


@pytest.mark.parametrize(
    "outline",
    [
        [{"z": 0, "r": 0}, {"z": 3, "r": 0}],
        [{"z": 0, "r": 5}, {"z": 5, "r": 0}, {"z": 7, "r": 0}],
        [{"z": 0, "r": 4}, {"z": 2, "r": 0}, {"z": 2.5, "r": 0}, {"z": 4.5, "r": 4}],
        [{"z": 0, "r": 0}, {"z": 8, "r": 0, "convex": 8}],
    ],
    ids=["square", "chamfer", "vee", "60 degrees of arc"],
)
def test_a_form_tool_leaves_no_pip_on_a_dome(outline: list[dict[str, float]]) -> None:
    """Its end toward the chuck is a corner: taken just short of the axis it would leave a pip 0.5 mm long, what was
    proud there."""
    plan = make_plan(job_from_data(pin({"tool.0": {"name": "form tool", "kind": "form", "outline": outline}})))
    assert plan.prediction.ridge_max <= plan.job.part.ridge + 1e-4
    middle = [place.x for place in plan.prediction.surface if place.y < 0.1]
    assert middle
    assert max(middle) < 0.01


def test_a_face_alone_is_planned() -> None:
    """Only the end face is asked for, from the middle to the rim: it is cut clean, and nothing stands over it."""
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 30}, {"z": -10, "d": 30}]
    knife = {"name": "knife", "nose_radius": 0.4}
    job = {"part.outline": outline, "part.curve": [0, 0], "stock.diameter": 32, "tool.0": knife}
    plan = make_plan(job_from_data(pin(job)))
    assert max(p.x for p in plan.prediction.surface if p.y < 14.9) <= 1e-6
    reached = [m.end.y for m in plan.moves if m.cuts and m.end.x - 0.4 < 1e-6]
    assert min(reached) <= 1e-6  # the nose centre gets to the axis


def test_on_a_coarse_grid_the_proof_is_of_one_setting_fewer_than_the_plan_takes() -> None:
    """With these counts a lower ridge takes fewer settings than the one asked for does at first."""
    job = pin(
        {
            "part.outline": [
                {"z": 0.0, "d": 0.0},
                {"z": 0.0, "d": 1.76},
                {"z": -0.913, "d": 6.357, "convex": 2.4732},
                {"z": -1.947, "d": 7.766, "concave": 3.128},
                {"z": -7.06, "d": 7.766},
            ],
            "part.curve": [0.0, -6.9],
            "stock": {"diameter": 10.766, "proud": 0.3, "stick_out": 12.06},
            "tool": [
                {"name": "T0", "nose_radius": 0.05, "edge_angle": 95},
                {"name": "T1", "nose_radius": 1.2, "edge_angle": 117.5, "point_angle": 35},
                {"name": "T2", "nose_radius": 0.1, "edge_angle": 117.5, "point_angle": 60},
                {"name": "T3", "nose_radius": 1.2, "edge_angle": 95},
            ],
            "finish": {"ridge": 0.2948, "allowance": 0.306},
            "limits": {"bite": 0.235},
            "slide.cross": {"reads": "radius", "grows": "in", "count": 0.05},
            "slide.saddle": {"grows": "toward", "count": 0.005},
        }
    )
    plan = make_plan(job_from_data(job))
    assert plan.fewest == plan.stations == plan.proof.fewer + 1
    assert plan.proof.leaves is None or plan.proof.leaves > plan.job.part.ridge
