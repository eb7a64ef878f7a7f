"""The second opinion itself: it agrees with closed forms, and notices every kind of wrong plan."""

import copy
import math
import tomllib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely
from tests import oracle
from tests.documents.jobs import pin

from ovolo.documents.plan_document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan

JOB = pin()
PLAN = plan_as_data(make_plan(job_from_data(JOB)))
EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.toml"))

Spoil = Callable[[oracle.Data], None]


def _spoilt(spoil: Spoil) -> list[str]:
    plan = copy.deepcopy(PLAN)
    spoil(plan)
    return oracle.judge(JOB, plan).faults


def test_a_good_plan_passes() -> None:
    verdict = oracle.judge(JOB, PLAN)
    assert verdict.faults == []
    assert 0.01 < verdict.ridge <= 0.05 + oracle.AGREE
    assert 0.5 < verdict.bite < 1.02
    assert 0 < verdict.finished < verdict.roughed


def _finishing(plan: oracle.Data) -> list[oracle.Data]:
    return [m for m in plan["moves"] if m["stage"] == "finish"]


def _shift(plan: oracle.Data, first: int, z: float = 0.0, r: float = 0.0, last: int | None = None) -> None:
    """Everything from one move on, elsewhere: figures and all."""
    for i, move in enumerate(plan["moves"][first:last], first):
        if i > first:
            move["from"] = [move["from"][0] + z, move["from"][1] + r]
        move["to"] = [move["to"][0] + z, move["to"][1] + r]


def _deeper(plan: oracle.Data) -> None:
    first = next(i for i, m in enumerate(plan["moves"]) if m.get("station") is not None and m["slide"] == "cross")
    _shift(plan, first, r=-0.01)


def _leave_out_a_station(plan: oracle.Data) -> None:
    """Two moves, so that the way goes on from where it stood."""
    marked = [i for i, m in enumerate(plan["moves"]) if m.get("station") is not None]
    middle = next(i for i in marked[3:] if i + 1 in marked or i + 2 in marked)
    del plan["moves"][middle]


def _heavier(plan: oracle.Data) -> None:
    """The heaviest roughing move is called a finishing one."""
    max(plan["moves"], key=lambda m: m["removes_mm2"])["stage"] = "finish"


def _secretly(plan: oracle.Data) -> None:
    for move in plan["moves"]:
        move["cuts"] = False


WRONG: dict[str, tuple[Spoil, str]] = {
    "gouges": (_deeper, "gouges 0.0"),
    "a station is missing": (_leave_out_a_station, "leaves 0.0|numbers its stations|starts"),
    "another slide moves too": (lambda p: p["moves"][3]["to"].__setitem__(0, 99.0), "moves more than the|starts"),
    "off the grid": (lambda p: _finishing(p)[0].update(set=_finishing(p)[0]["set"] + 0.003), "is no whole count"),
    "another figure": (lambda p: _finishing(p)[2].update(set=_finishing(p)[2]["set"] + 0.5), "stands at"),
    "promises less": (lambda p: p["prediction"].update(ridge_max=0.03), "ridge_max: predicts"),
    "promises a gouge": (lambda p: p["prediction"].update(gouge_max=0.01), "gouge_max: predicts"),
    "another surface": (lambda p: p["prediction"]["surface"][40].__setitem__(1, 3.0), "predicted surface"),
    "takes more than said": (lambda p: p["moves"][4].update(removes_mm2=0.0), "promises 0.0"),
    "cuts in secret": (_secretly, "is said to cut nothing"),
    "finishes heavily": (_heavier, "the heaviest roughing move|thicker than"),
    "not the fewest": (lambda p: p.update(fewest=3), "would do"),
    "no proof": (lambda p: p["proof"].update(leaves=0.04), "which is allowed"),
    "starts in metal": (lambda p: p["moves"][0].update({"from": [0.0, 5.0]}), "starts in metal"),
    "may not be off": (lambda p: p["moves"][0].update(within=0.0), "may be off by"),
}


@pytest.mark.parametrize("wrong", WRONG)
def test_a_wrong_plan_is_noticed(wrong: str) -> None:
    spoil, words = WRONG[wrong]
    found = " ".join(_spoilt(spoil))
    assert any(word in found for word in words.split("|")), found


def test_a_bite_over_the_limit_is_noticed() -> None:
    job = pin({"limits.bite": 0.5})
    assert any("bites" in fault for fault in oracle.judge(job, PLAN).faults)


def test_more_left_than_asked_is_noticed() -> None:
    faults = oracle.judge(pin({"finish.ridge": 0.03}), PLAN).faults
    assert any(fault.startswith("leaves 0.04") for fault in faults), faults


def test_what_stands_on_a_ball_is_measured_from_its_centre() -> None:
    setup = oracle.set_up(JOB)
    rng = np.random.default_rng(1)
    angle, high = rng.uniform(0.1, 1.5, 50), rng.uniform(0, 2, 50)
    points = -9 + (9 + high) * np.exp(1j * angle)
    height, foot, _ = oracle.drop(setup, points)
    assert height == pytest.approx(high, abs=1e-9)
    assert np.abs(foot + 9) == pytest.approx(np.full(50, 9.0))


def test_a_hollow_left_full_is_noticed() -> None:
    """A cove that nobody cut, the curve asked for only at its floor."""
    outline = [{"z": 0, "d": 20}, {"z": -5, "d": 20}, {"z": -15, "d": 20, "concave": 5.5}, {"z": -30, "d": 20}]
    setup = oracle.set_up(pin({"part.outline": outline, "part.curve": [-9.5, -10.5]}))
    full = shapely.box(-30, 0, 0, 10)
    assert oracle.standing(setup, full) > setup.ridge
    assert oracle.standing(setup, shapely.intersection(setup.part, full)) == 0


@pytest.mark.parametrize("bore", [False, True])
def test_arcs_bulge_where_they_should(bore: bool) -> None:
    """A quarter round between a face and a cylinder: its middle lies at 45° from its centre."""
    nodes: list[oracle.Data] = [{"z": 0, "d": 10}, {"z": -4, "d": 18 if not bore else 2, "convex": 4}]
    (arc,) = oracle.pieces_of(nodes, 1.0, bore)
    middle = arc.above(np.array([0.5]), 0.0, 1)[0]
    rise = 4 * math.sqrt(0.5)
    assert middle == pytest.approx(complex(-4 + rise, 5 + rise if not bore else 5 - rise))
    third = [nodes[0], {"z": -4, "d": nodes[1]["d"], "through": [middle.real, 2 * middle.imag]}]
    (same,) = oracle.pieces_of(third, 1.0, bore)
    assert same.above(np.array([0.25]), 0.3, 1)[0] == pytest.approx(arc.above(np.array([0.25]), 0.3, 1)[0])


def test_a_tool_too_wide_for_a_hollow_is_found_out() -> None:
    outline = [{"z": 0, "d": 20}, {"z": -5, "d": 20}, {"z": -9, "d": 20, "concave": 2.5}, {"z": -30, "d": 20}]
    asked = {"part.outline": outline, "part.curve": [-4, -10]}
    assert oracle.out_of_reach(pin({**asked, "tool.0.nose_radius": 1})) == 0
    assert oracle.out_of_reach(pin(asked)) > 0.4
    assert oracle.out_of_reach(pin(asked), (-6.5 + 18j, -7.5 + 18j)) == 1
    assert oracle.out_of_reach(pin({**asked, "tool.0.nose_radius": 1, "slide": {"saddle": {"count": 20}}})) > 0.5


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_both_judges_pass_the_examples(path: Path, tmp_path: Path) -> None:
    job = tomllib.loads(path.read_text(encoding="utf-8"))
    if "outline" not in job["part"]:
        pytest.skip("its outline is not given by points")
    plan = plan_as_data(make_plan(job_from_data(job, path.parent)))
    assert oracle.judge(job, plan).faults == []
    if any(tool.get("kind") in ("grooving", "form") for tool in job["tool"]):
        pytest.skip("the other judge does not know all of its tools")
    said = oracle.other_judge(job, plan, tmp_path)
    if said is None:
        pytest.skip("there is no other judge beside the repository")
    assert said == []
