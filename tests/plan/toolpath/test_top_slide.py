"""Finishing with the top slide: the saddle stays put, the travel is kept, and it is all said."""

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.plan.words import notes_of
from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan

TOP: Data = {"travel": 60, "count": 0.02, "per_turn": 2.0, "divisions": 100, "backlash": 0.1}
BOTH = ["saddle", "cross", "top"]


def _plan(slides: list[str], more: Data | None = None) -> Plan:
    changes: Data = {"limits.slides": slides, "slide": {"saddle": {"count": 0.5}, "top": TOP}}
    return make_plan(job_from_data(pin(changes | (more or {}))))


def _saddle_stands(plan: Plan) -> bool:
    """Whether nothing but the cross slide and the top slide moves once the top slide has."""
    first = next(m.n for m in plan.moves if m.slide == "top")
    return all(m.slide != "saddle" for m in plan.moves[first - 1 :])


def test_the_saddle_roughs_and_the_top_slide_finishes() -> None:
    plan = _plan(BOTH)
    assert {m.slide for m in plan.moves if m.stage == "rough"} == {"saddle", "cross"}
    stop = next(before.move for before in plan.before if before.kind == "measure")
    finishing = [m for m in plan.moves if m.n >= stop]
    assert sum(m.slide == "saddle" for m in finishing) == 1  # it brings the tool to the curve
    assert _saddle_stands(plan)
    assert plan.prediction.ridge_max <= 0.05
    assert plan.prediction.gouge_max < 1.5e-3


def test_each_on_its_own_grid() -> None:
    plan = _plan(BOTH)
    for m in plan.moves:
        count = {"saddle": 0.5, "top": 0.02, "cross": 0.01}[m.slide]
        assert m.figure / count == pytest.approx(round(m.figure / count), abs=1e-6)
        reference = plan.tools[0].reference[0]
        if m.slide != "cross":
            assert m.end.x + reference == pytest.approx(m.figure)


def test_the_saddle_stops_where_the_top_slide_can_be_set_too() -> None:
    plan = _plan(BOTH, {"slide": {"saddle": {"count": 0.25}, "top": TOP}})
    stop = next(m for m in reversed(plan.moves) if m.slide == "saddle")
    assert stop.figure / 0.02 == pytest.approx(round(stop.figure / 0.02), abs=1e-6)


def test_without_the_saddle_everything_is_done_with_the_top_slide() -> None:
    plan = _plan(["cross", "top"])
    assert {m.slide for m in plan.moves} == {"cross", "top"}
    assert plan.prediction.ridge_max <= 0.05


def test_its_travel_is_never_exceeded() -> None:
    with pytest.raises(CannotPlan, match="of its travel") as refused:
        _plan(BOTH, {"slide": {"saddle": {"count": 0.5}, "top": TOP | {"travel": 5}}})
    (fault,) = refused.value.faults
    assert fault.where == "slide.top.travel"
    least = float(fault.limit.split()[-2])
    enough = _plan(BOTH, {"slide": {"saddle": {"count": 0.5}, "top": TOP | {"travel": least + 0.01}}})
    ends = [x for m in enough.moves if m.slide == "top" for x in (m.start.x, m.end.x)]
    assert max(ends) - min(ends) <= least + 0.01


def test_how_it_has_to_stand_is_said() -> None:
    plan = _plan(BOTH)
    run = [m for m in plan.moves if m.slide == "top"]
    low = min(x for m in run for x in (m.start.x, m.end.x))
    said = [b for b in plan.before if b.kind == "say"]
    assert said[0].move == 1
    assert f"{run[0].start.x - low:.4g} mm toward the chuck" in said[0].text
    assert said[1].move == run[0].n
    assert "Lock the saddle" in said[1].text


def test_whole_turns_of_the_top_slide() -> None:
    plan = _plan(BOTH, {"finish": {"by": {"slide": "top", "amount": 1.0}}})
    whole = [m for m in plan.moves if m.station and m.slide == "top" and abs(m.figure - round(m.figure)) < 1e-9]
    assert len(whole) >= 5
    assert any("of the top slide" in note for note in notes_of(plan))
