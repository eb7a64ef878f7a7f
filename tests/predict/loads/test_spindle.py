"""Spindle speeds and feeds for a plan."""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import pin
from tests.predict.loads.test_engaged import one_move

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.loads.engaged import engaged
from ovolo.predict.loads.spindle import (
    FEEDS,
    Turning,
    feed_of,
    hand_turns,
    material_of,
    turning_for,
    turning_of,
    turnings,
)
from ovolo.shop.slides import Slide

STEEL = {"part.material": "mild steel"}


def _runs(changes: dict[str, object]) -> tuple[Turning, ...]:
    made = make_plan(job_from_data(pin(STEEL | changes)))
    return turnings(made, engaged(made))


def _one(changes: dict[str, object]) -> Turning:
    made = one_move(Point(6, 12.5), Point(-15, 12.5), STEEL | changes)
    (run,) = turnings(made, engaged(made))
    return run


def test_roughing_is_slow_and_finishing_fast() -> None:
    rough, finish = _runs({})
    assert (rough.stage, finish.stage) == ("rough", "finish")
    assert rough.speed <= 25 < finish.speed <= 45  # mild steel, high-speed steel: 25 to 45 m/min
    assert (rough.feed, finish.feed) == (FEEDS["rough"], FEEDS["finish"])


def test_the_lathes_own_list_is_used_and_nothing_exceeds_the_chuck() -> None:
    assert _one({"lathe": {"speeds": [70, 200, 360, 600, 1000]}}).rpm == 360
    assert _one({"lathe": {"speeds": [70, 200, 360, 600, 1000], "chuck_max_rpm": 300}}).rpm == 200


def test_without_a_list_the_speed_is_rounded_down_to_two_figures() -> None:
    """Mild steel at 25 m/min on Ø 25: 318.3 rev/min, of which 310 are named; 300 would give a figure away."""
    run = _one({})
    wanted = 25_000 / (math.pi * run.diameter)
    assert run.rpm == math.floor(wanted / 10) * 10
    assert run.rpm % 100 != 0
    assert 100 < wanted < 1000


def test_carbide_runs_faster_but_no_unlisted_lathe_is_driven_past_our_caution() -> None:
    assert _one({"tool.0.material": "carbide"}).rpm > 2 * _one({}).rpm
    brass = _one({"part.material": "brass", "tool.0.material": "carbide"})
    assert brass.rpm == 2000
    assert "not listed" in brass.why


@given(st.sampled_from(["brass", "mild steel", "stainless steel", "aluminium"]), st.floats(100, 1500))
def test_the_speed_wanted_is_never_exceeded(name: str, chuck: float) -> None:
    run = _one({"part.material": name, "lathe": {"chuck_max_rpm": chuck}})
    assert run.rpm <= chuck
    assert run.speed == pytest.approx(math.pi * run.diameter * run.rpm / 1000)


def test_without_a_material_nothing_is_said() -> None:
    made = one_move(Point(6, 12.5), Point(-15, 12.5))
    assert material_of(made) is None
    assert turnings(made, engaged(made)) == ()


def test_a_slide_of_which_the_turn_is_not_known_has_no_hand_feed() -> None:
    run = Turning("rough", "knife", 20.0, 600.0, 37.7, 0.1, "")
    assert hand_turns(run, Slide("saddle", "diameter", "away", 0.01)) is None
    assert feed_of(run, Slide("saddle", "diameter", "away", 0.01)) == 0.1


@given(st.floats(50, 3000), st.floats(0.5, 30))
def test_no_handwheel_is_wound_faster_than_a_hand_can(rpm: float, per_turn: float) -> None:
    run = Turning("rough", "knife", 20.0, rpm, 37.7, 0.1, "")
    turns = hand_turns(run, Slide("saddle", "diameter", "away", 0.01, per_turn=per_turn))
    assert turns is not None
    assert turns <= 60.0001


def test_a_blade_turns_at_half_the_speed_and_is_fed_slowly() -> None:
    """Common practice, no source: 0.03 to 0.05 mm a turn, so that the chip gets out of the slot."""
    blade = {"name": "blade", "kind": "grooving", "width": 3, "nose_radius": 0.2}
    plan = make_plan(job_from_data(pin({**STEEL, "tool.1": blade})))
    row = material_of(plan)
    assert row is not None
    other, slow = (turning_for(plan, row, "rough", tool, 20.0) for tool in ("round nose 6", "blade"))
    assert slow.rpm == pytest.approx(other.rpm / 2, rel=0.05)
    assert slow.rpm <= other.rpm / 2 + 1e-9
    assert 0.03 <= slow.feed <= 0.05
    assert "half the usual speed" in slow.why


def test_a_move_finds_its_own_turning() -> None:
    made: Plan = one_move(Point(6, 12.5), Point(-15, 12.5), STEEL)
    runs = turnings(made, engaged(made))
    assert turning_of(runs, made.moves[0]) is runs[0]
    assert turning_of((), made.moves[0]) is None


def test_examples_name_a_material_that_is_known() -> None:
    examples = sorted((Path(__file__).parents[3] / "examples").glob("*.toml"))
    assert all("material" in example.read_text(encoding="utf-8") for example in examples)
