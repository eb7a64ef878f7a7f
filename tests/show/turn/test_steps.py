"""Everything that plan.before asks for has its screen, with its number; the checklist comes ahead of it."""

import pytest
from tests.show.plans import NAMES, planned

from ovolo.documents.plan.document import plan_as_data
from ovolo.show.paper.cuts import Cuts
from ovolo.show.turn.steps import TurnStep, turn_steps


def steps_of(name: str) -> tuple[list[TurnStep], list[dict[str, object]]]:
    plan = planned(name)
    befores = plan_as_data(plan)["before"]
    return turn_steps(plan, befores, Cuts(plan)), befores


@pytest.mark.parametrize("name", [*NAMES, "hinge-pin-dials", "windlass-handle"])
def test_each_has_its_screen_in_order(name: str) -> None:
    steps, befores = steps_of(name)
    told = [(step.before, step.move, step.kind) for step in steps if step.before]
    assert told == [(n, before["move"], before["kind"]) for n, before in enumerate(befores, 1)]
    assert [step.move for step in steps] == sorted(step.move for step in steps)
    assert all(step.title and step.lines for step in steps)


def test_the_checklist_comes_first_with_the_spindle_stopped() -> None:
    steps, _ = steps_of("bridge-pin")
    first = [step for step in steps if step.before is None]
    assert [step.kind for step in first] == ["piece", "safe", "readout", "readout"]
    assert steps[: len(first)] == first
    assert all(step.stopped for step in first)
    assert "35.50 mm" in first[0].picture


def test_where_to_start_is_worked_out_for_a_plan_that_does_not_say() -> None:
    plan = planned("windlass-handle")
    befores = plan_as_data(plan)["before"]
    older = [before for before in befores if before["kind"] != "stand"]
    new, old = (turn_steps(plan, given, Cuts(plan)) for given in (befores, older))
    there, worked_out = ([s for s in steps if s.kind == "stand"] for steps in (new, old))
    assert [(s.move, s.entries) for s in worked_out] == [(s.move, s.entries) for s in there]
    assert {s.before for s in worked_out} == {None}


def test_touching_off_says_what_the_slides_read_there() -> None:
    steps, _ = steps_of("bridge-pin")
    touch = next(step for step in steps if step.kind == "touch")
    assert [(entry.slide, entry.figure) for entry in touch.entries] == [("cross", 20.0), ("saddle", 0.5)]


def test_a_later_tool_is_touched_off_on_what_then_stands() -> None:
    steps, _ = steps_of("windlass-handle")
    first, later = (step for step in steps if step.kind == "touch")
    assert first.entries[0].figure == 20.0
    assert later.entries[0].figure < 20.0
    said = next(line for line in later.lines if line.startswith("Diameter"))
    assert f"Ø {later.entries[0].figure:.2f}" in said
