"""Speeds in sentences."""

from dataclasses import replace

from tests.show.plans import planned

from ovolo.show.words.speeds import speeds


def test_each_stage_and_tool_has_its_speed() -> None:
    said = speeds(planned("bridge-pin"))
    assert said[0].startswith("Roughing with round nose 6: ")
    assert said[1].startswith("Finishing with round nose 6: ")
    assert "rev/min" in said[0]
    assert said[-1].startswith("Never faster than chuck and lathe are marked for")


def test_inches_are_said_in_inches() -> None:
    said = speeds(planned("winch-pin-inch"))[0]
    assert " in a turn" in said
    assert " ft/min" in said


def test_an_unknown_material_has_none() -> None:
    plan = planned("bridge-pin")
    for material in ("unobtainium", ""):
        part = replace(plan.job.part, material=material)
        assert speeds(replace(plan, job=replace(plan.job, part=part))) == ()
