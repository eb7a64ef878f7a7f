"""Moves of a plan: figures, how exact they must be, what they read; and the ridges that will be left."""

import itertools

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Move, Plan
from ovolo.plan.planner import make_plan

PLAN = make_plan(job_from_data(pin()))
DIAL = make_plan(
    job_from_data(pin({"slide.saddle": {"per_turn": 2.5, "divisions": 125, "count": 0.02, "backlash": 0.2}}))
)


def _ends(plan: Plan, move: Move) -> float:
    tool = next(t for t in plan.tools if t.name == move.tool)
    return move.end.x + tool.reference[0] if move.slide == "saddle" else move.end.y + tool.reference[1]


@pytest.mark.parametrize("plan", [PLAN, DIAL], ids=["readout", "dial"])
def test_figures_say_where_the_reference_point_comes_to(plan: Plan) -> None:
    for move in plan.moves:
        slide = plan.job.shop.saddle if move.slide == "saddle" else plan.job.shop.cross
        assert slide.place(move.figure) == pytest.approx(_ends(plan, move), abs=1e-6)
        assert move.shown.startswith(slide.text(move.figure))


def test_they_are_numbered_and_follow_each_other() -> None:
    assert [m.n for m in PLAN.moves] == list(range(1, len(PLAN.moves) + 1))
    for before, move in itertools.pairwise(PLAN.moves):
        assert move.start == before.end
    assert [m.station for m in PLAN.moves if m.station] == list(range(1, PLAN.stations + 1))


def test_what_a_setting_depends_on_is_exact() -> None:
    """On each station both slides stand exactly: the move that reaches it, and the last one of the other slide."""
    finish = [m for m in PLAN.moves if m.stage == "finish"]
    for i, move in enumerate(finish):
        if move.station is None:
            continue
        assert move.within <= 0.02
        other = next((m for m in reversed(finish[:i]) if m.slide != move.slide), None)
        if other is not None:
            assert other.within <= 0.02


def test_how_far_a_setting_may_be_off_is_one_count_or_what_of_the_ridge_is_not_used() -> None:
    """Each setting one count of its slide as travel (0.005 across, 0.01 along), or what the plan's ridge leaves over of
    the ridge asked for, whichever is more."""
    spare = PLAN.job.part.ridge - PLAN.prediction.ridge_max
    for move in (m for m in PLAN.moves if m.station is not None):
        count = {"cross": 0.005, "saddle": 0.01}[move.slide]
        assert move.within == pytest.approx(max(count, spare), abs=0.0016), move.n


def test_roughing_is_ample() -> None:
    """Half the allowance at most where metal is cut, so that what roughing leaves is never cut into; what is measured
    before finishing is set to one count of the cross slide (0.005 as travel)."""
    (stop,) = [before.measured for before in PLAN.before if before.measured is not None]
    measured = next(m for m in reversed(PLAN.moves[: stop.after]) if m.slide == "cross")
    assert measured.within == pytest.approx(0.005)
    rough = [m for m in PLAN.moves if m.stage == "rough" and m is not measured]
    assert all(0 < m.within <= 0.1 for m in rough if m.cuts)
    exact = [m for m in rough if not m.cuts and m.within != 0.5]  # what sets the pass that is measured
    assert len(exact) <= sum(before.kind == "measure" for before in PLAN.before)
    assert all((m.slide, m.within) == ("cross", PLAN.job.shop.cross.step) for m in exact)


def test_a_dial_is_said_as_it_is_counted() -> None:
    said = [m.shown for m in DIAL.moves if m.slide == "saddle"]
    assert all("stop at" in text for text in said)
    assert not any("stop at" in m.shown for m in DIAL.moves if m.slide == "cross")


def test_a_dial_is_wound_past_and_brought_back_before_the_other_slide_cuts() -> None:
    """While the cross slide cuts a station, the saddle has last gone the way that closes its backlash."""
    moves = [m for m in DIAL.moves if m.stage == "finish"]
    for i, move in enumerate(moves):
        if move.station is None or move.slide != "cross" or not move.cuts:
            continue
        last = next(m for m in reversed(moves[:i]) if m.slide == "saddle")
        assert last.end.x < last.start.x, f"move {move.n}"  # the cut on a dome pushes the saddle away from the chuck


def test_the_prediction_is_that_of_the_ridges() -> None:
    prediction = PLAN.prediction
    assert max(height for _, height in prediction.ridges) == pytest.approx(prediction.ridge_max)
    assert PLAN.stations - 2 <= len(prediction.ridges) <= PLAN.stations + 1  # one between each two, one at either end
    places = [foot.x for foot, _ in prediction.ridges]
    assert places == sorted(places, reverse=True)
    assert prediction.gouge_max <= 0.0015
    assert prediction.ridge_max <= PLAN.job.part.ridge


def test_heavy_and_light_moves() -> None:
    for move in PLAN.moves:
        assert move.cuts == (move.area > 1.5e-3)
        assert move.bite >= 0
