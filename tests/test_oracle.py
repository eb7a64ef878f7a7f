"""The second opinion itself: it agrees with closed forms, and notices every kind of wrong plan."""

import copy
import math
import tomllib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry
from tests import oracle
from tests.documents.jobs import pin
from tests.oracle import judgement

from ovolo.documents.plan.document import plan_as_data
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
    assert 0.5 < verdict.bite < 2.5 * 1.02 + 0.02  # the usual plunge where no material is named
    assert 0 < verdict.finished < verdict.roughed


def _finishing(plan: oracle.Data) -> list[oracle.Data]:
    return [m for m in plan["moves"] if m["stage"] == "finish"]


def _first_cut(plan: oracle.Data) -> oracle.Data:
    return next(m for m in plan["moves"] if m["cuts"])


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
    "takes more than said": (
        lambda p: next(m for m in p["moves"] if m["cuts"]).update(removes_mm2=0.0),
        "promises 0.0",
    ),
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


def test_a_finishing_cut_over_the_plunge_is_noticed() -> None:
    job = pin({"limits.plunge": 0.8})
    assert any("(finish" in fault and "at once" in fault for fault in oracle.judge(job, PLAN).faults)
    assert not any("at once" in fault for fault in oracle.judge(JOB, PLAN).faults)


@pytest.mark.parametrize(("out", "near"), [(24.3, True), (40, False)])
def test_a_tool_too_near_to_told_jaws_is_noticed(out: float, near: bool) -> None:
    job = pin({"lathe": {"jaws": 8}, "stock.stick_out": out})
    assert near == any("from the jaws" in fault for fault in oracle.judge(job, PLAN).faults)


def test_more_left_than_asked_is_noticed() -> None:
    faults = oracle.judge(pin({"finish.ridge": 0.03}), PLAN).faults
    assert any(fault.startswith("leaves 0.04") for fault in faults), faults


@pytest.mark.parametrize("off", [-1.0, 1.0])
def test_a_ridge_promised_just_outside_the_tolerance_is_noticed(off: float) -> None:
    measured = oracle.judge(JOB, PLAN).ridge
    just_in, just_out = measured + off * (oracle.AGREE - 2e-5), measured + off * (oracle.AGREE + 2e-5)
    assert _spoilt(lambda p: p["prediction"].update(ridge_max=just_in)) == []
    (fault,) = _spoilt(lambda p: p["prediction"].update(ridge_max=just_out))
    assert fault.startswith("ridge_max: predicts")


CYLINDER: oracle.Data = {"part.outline": [{"z": 0, "d": 18}, {"z": -24, "d": 18}], "part.curve": [-1, -20]}


def _over(job: oracle.Data, metal: BaseGeometry) -> float:
    setup = oracle.set_up(job)
    return oracle.standing(setup, shapely.union(setup.part, metal))


def _nose(z: float, r: float) -> BaseGeometry:
    """The place of a nose of 1 mm, its chords a fortieth of a micrometre at most from the arc."""
    return shapely.Point(z, r).buffer(1, quad_segs=3600)


def test_at_the_end_of_a_curve_heights_are_measured_at_the_very_end() -> None:
    """A nose 0.4 mm before the end leaves its own flank there, 17 µm higher than 0.04 mm before it."""
    behind = shapely.difference(shapely.box(-24, 8, 0, 10), shapely.box(-19.6, 8, 0, 10).union(_nose(-19.6, 10)))
    assert _over(pin(CYLINDER), behind) == pytest.approx(1 - math.sqrt(1 - 0.4**2), abs=2e-5)
    before = shapely.difference(shapely.box(-24, 8, 0, 10), shapely.box(-24, 8, -1.4, 10).union(_nose(-1.4, 10)))
    assert _over(pin(CYLINDER), before) == pytest.approx(1 - math.sqrt(1 - 0.4**2), abs=2e-5)


def test_in_a_hollow_corner_most_stands_between_its_sides() -> None:
    """A square corner filled up to 1 mm: highest right over the corner, and there the border has no corner itself."""
    outline = [{"z": 0, "d": 20}, {"z": -5, "d": 10}, {"z": -10, "d": 20}, {"z": -24, "d": 20}]
    job = pin({"part.outline": outline, "part.curve": [-1, -9]})
    assert _over(job, shapely.box(-5.613, 5, -4.6, 6)) == pytest.approx(math.sqrt(0.5), abs=2e-5)


HOLLOW_BACK: oracle.Data = {
    "part.outline": [{"z": 0, "d": 12}, {"z": -2, "d": 6}, {"z": -4, "d": 12}, {"z": -24, "d": 12}],
    "part.curve": [0, -10],
}


def test_what_stands_over_the_end_face_is_no_part_of_the_curve() -> None:
    """In front of a face with a hollow behind it: the outline is nearest in the hollow, but the part lies between."""
    assert _over(pin(HOLLOW_BACK), shapely.box(0, 1, 0.5, 3)) == 0
    assert _over(pin(HOLLOW_BACK), shapely.box(0, 1, 0.5, 6)) == 0


def test_what_stands_behind_the_edge_of_the_end_face_is() -> None:
    """A ring on the side of the hollow, 0.01 mm behind the face, a plate of 0.2 mm square to that side."""
    way = complex(-2, -3) / math.sqrt(13)
    first, last, out = 6j + 0.02 * way, 6j + 0.5 * way, 0.2 * way * 1j
    plate = shapely.Polygon([(p.real, p.imag) for p in (first, last, last + out, first + out)])
    if plate.intersection(oracle.set_up(pin(HOLLOW_BACK)).part).area > 1e-6:
        plate = shapely.Polygon([(p.real, p.imag) for p in (first, last, last - out, first - out)])
    assert _over(pin(HOLLOW_BACK), plate) == pytest.approx(0.2, abs=2e-5)


def test_an_area_is_off_by_no_more_than_flattened_noses_make_it() -> None:
    """Of the chip with most border for its area: what is granted any chip, then only what its nose can make."""
    setup, verdict = oracle.set_up(JOB), oracle.Verdict()
    chips = [(n, chip) for n, _, chip in judgement.sweep(setup, PLAN["moves"], verdict) if chip.area > 0.01]
    n, chip = max(chips, key=lambda c: c[1].length / c[1].area)
    low, high = judgement.bounds_of(JOB, PLAN["moves"]).areas[n - 1]
    granted = 1e-3 + 0.005 * chip.area
    assert chip.area - granted < low < chip.area < high < chip.area + granted
    assert 1e-4 * chip.length > 2e-4  # granting more for a long border would let these pass
    for off in (-granted - 1e-4, granted + 1e-4):
        plan = copy.deepcopy(PLAN)
        plan["moves"][n - 1]["removes_mm2"] = chip.area + off
        (fault,) = oracle.judge(JOB, plan).faults
        assert fault.startswith(f"move {n} ")
        assert "promises" in fault


def test_a_sharp_tip_stands_out_no_farther_than_flattened_noses_leave_it() -> None:
    """Two plunges of a nose 1.99 mm apart on a cylinder: a nose 0.2 µm smaller leaves the tip 2.1 µm higher."""
    job, name = pin({**CYLINDER, "tool.0.nose_radius": 1}), JOB["tool"][0]["name"]
    moves = [{"tool": name, "from": [z, 12.0], "to": [z, 10.0]} for z in (-5.0, -6.99)]
    bounds = judgement.bounds_of(job, moves)

    def tip(radius: float) -> float:
        return 10 - math.sqrt(radius**2 - 0.995**2)

    inner, outer = tip(1), tip(1 - judgement.FLATTENED)
    assert outer - inner > oracle.AGREE
    verdict = oracle.Verdict(rest=bounds.least)
    for high, wrong in ((inner, False), (outer - 1e-5, False), (outer + 6e-4, True), (inner - oracle.AGREE, False)):
        verdict.faults.clear()
        judgement.check_surface([[-5.995, high]], verdict, lambda: bounds)
        assert bool(verdict.faults) is wrong, high - inner


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
    if "outline" in job["stock"]:
        pytest.skip("the other judge knows bars alone")
    said = oracle.other_judge(job, plan, tmp_path)
    if said is None:
        pytest.skip("there is no other judge beside the repository")
    assert said == []


@pytest.mark.parametrize("bore", [False, True])
def test_a_piece_already_shaped_is_what_lies_under_its_outline(bore: bool) -> None:
    """Ø 20 over 12 mm and Ø 30 over 18 mm more, in front of and behind z = 0; the part ends at z = -24."""
    nodes = [{"z": 2, "d": 20}, {"z": -10, "d": 20}, {"z": -10, "d": 30}, {"z": -28, "d": 30}]
    outline = [{"z": 0, "d": 16}, {"z": -24, "d": 16}] if not bore else [{"z": 0, "d": 36}, {"z": -24, "d": 36}]
    shaped = {"part.surface": "bore" if bore else "outside", "part.outline": outline}
    setup = oracle.set_up(pin({**shaped, "stock": {"outline": nodes, **({"diameter": 50} if bore else {})}}))
    assert setup.blank.area == pytest.approx(12 * (25 - 10) + 14 * (25 - 15) if bore else 12 * 10 + 14 * 15)
    behind = shapely.box(-40, 15 if bore else 0, -24, 25 if bore else 15)
    assert shapely.difference(behind, setup.keep).area == pytest.approx(0, abs=1e-9)
