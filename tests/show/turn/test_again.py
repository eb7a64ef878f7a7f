"""The next of several equal parts: touching off that holds, a new face, a stop that may be passed by."""

from tests.show.plans import planned

from ovolo.documents.plan.document import plan_as_data
from ovolo.show.paper.cuts import Cuts
from ovolo.show.turn.again import series_of, steps_again
from ovolo.show.turn.steps import TurnStep, turn_steps


def steps(name: str, **series: object) -> list[TurnStep]:
    plan = planned(name)
    made = turn_steps(plan, plan_as_data(plan)["before"], Cuts(plan))
    return steps_again(made, series_of(plan, series))


def test_the_first_part_is_as_it_was() -> None:
    plan = planned("bridge-pin")
    assert steps("bridge-pin") == turn_steps(plan, plan_as_data(plan)["before"], Cuts(plan))


def test_touching_off_holds_and_the_face_is_found_anew() -> None:
    found = steps("bridge-pin", part=2, parts=8, rechucked=True)
    assert [step.kept for step in found if step.kind == "touch"] == [True]
    kinds = [step.kind for step in found]
    assert kinds.index("face") == kinds.index("stand") - 1
    assert "readout" not in kinds
    assert next(step for step in found if step.kind == "piece").lines[0].startswith("Part 2 of 8")


def test_against_a_stop_nothing_is_found_anew() -> None:
    assert "face" not in [step.kind for step in steps("bridge-pin", part=2, rechucked=False)]


def test_with_several_tools_each_is_touched_off_again() -> None:
    plan = planned("lip")
    assert len(plan.tools) > 1
    found = steps("lip", part=2, rechucked=True)
    assert not any(step.kept for step in found)
    assert "face" not in [step.kind for step in found]
    assert series_of(plan, {"part": 2, "carried": [{"tool": "knife", "slide": "cross", "by": 1}]}).carried == ()


def test_a_part_that_need_not_be_measured_says_so() -> None:
    def first_line(part: int) -> str:
        stops = [step for step in steps("winch-handle", part=part, every=3) if step.kind == "measure"]
        return stops[0].lines[0]

    assert "need not be" in first_line(2)
    assert "need not be" in first_line(3)
    assert "need not be" not in first_line(4)
