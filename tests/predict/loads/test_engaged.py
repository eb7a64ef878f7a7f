"""The edge in the metal, against the exact sweep of the same plan and against geometry."""

import math
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data, read_job
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan, Prediction, Proof, SlideName
from ovolo.plan.planner import make_plan
from ovolo.predict.loads.engaged import Engaged, engaged

_FOLDER = Path(__file__).parents[3] / "examples"
EXAMPLES = [
    _FOLDER / f"{name}.toml" for name in ("bridge-pin", "bronze-bush", "corner-radius", "lamp-finial", "winch-lever")
]


def one_move(start: Point, end: Point, changes: Mapping[str, object] | None = None) -> Plan:
    """A plan of a single move on the bridge pin's bar of 20 mm, nose R 3."""
    job = job_from_data(pin(changes))
    slide: SlideName = "saddle" if start.y == end.y else "cross"
    move = Move(1, "rough", job.shop.tools[0].name, slide, start, end, 0.0, "", 0.1, True, 1.0, 1.0)
    nothing = Prediction(0.0, Point(0, 0), 0.0, ())
    return Plan(job, job.shop.tools[:1], (move,), (), 0, 0, Proof(0, None), nothing)


def _only(plan: Plan) -> Engaged:
    found = engaged(plan)
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_it_sees_what_the_exact_sweep_takes(example: Path) -> None:
    """Area of every cut, found in another way than the planner's, and in three of four its bite.

    The planner's bite is that of the largest piece, taken at any time; ours of all that is cut at once.
    """
    plan = make_plan(read_job(example))
    seen = {cut.n: cut for cut in engaged(plan)}
    cuts = [move for move in plan.moves if move.area > 0.05]
    for move in cuts:
        assert seen[move.n].area == pytest.approx(move.area, rel=0.06, abs=0.15)
    alike = [abs(seen[move.n].across - move.bite) < 0.15 * move.bite + 0.1 for move in cuts]
    assert sum(alike) >= 0.75 * len(alike)
    assert set(seen) <= {move.n for move in plan.moves if move.cuts}


def test_the_bite_is_never_wider_than_the_extent_seen_and_a_pass_along_the_bar_is_as_wide() -> None:
    """The bite is the widest at once, the extent that of the whole cut: a plunge beside a slope has less at once."""
    plan = make_plan(read_job(EXAMPLES[0].with_name("bridge-pin.toml")))
    seen = {cut.n: cut for cut in engaged(plan)}
    for move in plan.moves:
        if move.area > 0.05 and move.end.y > 3:  # nearer to the axis the nose cuts on its far side too
            assert move.bite <= 1.1 * seen[move.n].across + 0.03
    along = max((m for m in plan.moves if m.cuts and m.slide == "saddle"), key=lambda m: m.travel)
    assert seen[along.n].across == pytest.approx(along.bite, rel=0.1, abs=0.03)


@settings(max_examples=20)
@given(st.floats(0.1, 1.5))
def test_a_pass_along_the_bar_engages_the_arc_of_the_nose(bite: float) -> None:
    """r acos(1 - a/r), and its chord has the slope by which the push is split."""
    cut = _only(one_move(Point(6, 13 - bite), Point(-15, 13 - bite)))
    angle = math.acos(1 - bite / 3)
    assert cut.across == pytest.approx(bite, abs=0.05)
    assert cut.edge == pytest.approx(3 * angle, abs=0.15)
    assert cut.radial == pytest.approx(math.sin(angle) / angle, abs=0.03)
    assert cut.diameter == pytest.approx(20, abs=0.1)
    half_segment = 9 / 2 * (angle - math.sin(angle) * math.cos(angle))
    assert cut.area == pytest.approx(bite * 15.5 + half_segment, rel=0.04)


def test_a_facing_cut_pushes_along_the_axis() -> None:
    cut = _only(one_move(Point(3.2, 14), Point(3.2, 0)))
    assert cut.across == pytest.approx(0.3, abs=0.03)
    assert cut.radial < 0.35
    assert cut.diameter == pytest.approx(20, abs=0.1)
    assert cut.length == pytest.approx(10 + math.sqrt(3**2 - 2.7**2), abs=0.1)


def test_the_bar_is_seen_as_it_stands() -> None:
    """From the jaws at 35: the whole bar of 20, and the place of the cut along it."""
    cut = _only(one_move(Point(6, 12), Point(-15, 12)))
    assert sum(section.length for section in cut.bar) == pytest.approx(35.5, abs=0.05)
    assert {round(section.start, 1) for section in cut.bar[:-1]} == {20.0}
    assert cut.at == pytest.approx(35 + cut.place.x, abs=1e-6)


def test_after_a_cut_the_bar_is_thinner_there() -> None:
    plan = one_move(Point(6, 12), Point(-9, 12))
    first = plan.moves[0]
    back = replace(first, n=2, start=Point(-9, 12), end=Point(6, 12), cuts=False)
    down = replace(first, n=3, slide="cross", start=Point(6, 12), end=Point(6, 11), cuts=False)
    again = replace(first, n=4, start=Point(6, 11), end=Point(-9, 11))
    cut = engaged(replace(plan, moves=(first, back, down, again)))[1]
    assert cut.n == 4
    assert cut.bar[0].start == pytest.approx(20)
    sizes = {round(section.start, 1) for section in cut.bar if section.start < 18.2}
    assert 18.0 in sizes


def test_without_a_stick_out_there_is_no_bar() -> None:
    job = job_from_data(pin())
    loose = replace(one_move(Point(6, 12), Point(-15, 12)), job=replace(
        job, shop=replace(job.shop, stock=replace(job.shop.stock, stick_out=None))
    ))  # fmt: skip
    assert _only(loose).bar == ()


def test_in_a_bore_the_work_is_a_tube() -> None:
    changes: dict[str, object] = {
        "part.surface": "bore",
        "part.outline": [{"z": 0, "d": 14}, {"z": -10, "d": 10, "concave": 40}, {"z": -12, "d": 10}],
        "part.curve": [0, -10],
        "stock.diameter": 30,
        "stock.hole": 8,
        "tool.0.nose_radius": 1,
    }
    cut = _only(one_move(Point(3, 3.8), Point(-5, 3.8), changes))
    assert cut.across == pytest.approx(0.8, abs=0.05)
    assert cut.place.y > 4
    assert cut.diameter == pytest.approx(9.6, abs=0.1)
    assert all(section.start == 30 and section.hole >= 7.9 for section in cut.bar)


def test_a_move_in_the_air_is_left_out() -> None:
    assert engaged(one_move(Point(6, 14), Point(-15, 14))) == ()


def test_a_pass_along_a_cone_is_seen_as_the_sweep_has_it() -> None:
    plan = make_plan(read_job(_FOLDER / "jig-dowel.toml"))
    seen = {cut.n: cut for cut in engaged(plan)}
    along = [move for move in plan.moves if move.slide == "top" and move.area > 0.05]
    assert along
    for move in along:
        assert seen[move.n].area == pytest.approx(move.area, rel=0.03)
        assert 0 < seen[move.n].length <= move.travel + 1e-6
