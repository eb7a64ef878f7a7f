"""The trial cut: long enough to be measured, thin, with room for any correction; few moves more."""

import itertools
import math

import numpy as np
import pytest
from tests.documents.jobs import Data, pin
from tests.show.plans import planned

from ovolo.documents.reading import job_from_data
from ovolo.plan.move import Move
from ovolo.plan.planner import make_plan
from ovolo.plan.steps import Walk
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.trial_cut import LENGTHS, MOST, Trial, joined, make_trial, of_trials, room_for, trial_cut
from ovolo.plan.view.frame import Frame
from ovolo.shop.setting_errors import SettingErrors


def _roughed(changes: Data, over: float) -> tuple[Frame, Metal]:
    """The pin with so much left over its outline, square to the axis."""
    frame = Frame(job_from_data(pin(changes)))
    x = np.linspace(-40.0, 8.0, 1601)
    places = np.clip(x, frame.back, frame.front_of_part)
    line = np.array(frame.outline.flattened(1e-3))[::-1]
    height = np.where(x <= frame.front, np.interp(places, line[:, 0], line[:, 1]) + over, -10.0)
    height = np.where(x < frame.back, frame.bar_top, np.minimum(height, frame.bar_top))
    return frame, Metal(x, height, frame.job.shop.tools[0])


def test_room_follows_from_what_touching_off_and_setting_may_be_off_by() -> None:
    wide = SettingErrors(touching_cross=0.03, setting_cross=0.04)
    assert room_for(wide) == pytest.approx(0.15), "three times the hypotenuse of 3, 4, 5"


def test_it_takes_a_thin_chip_and_leaves_room_for_the_greatest_error() -> None:
    frame, metal = _roughed({}, 0.2)
    tool, room = metal.tool, room_for(frame.job.shop.errors)
    found = trial_cut(frame, tool, metal)
    assert found is not None
    assert abs(found.first - found.last) >= LENGTHS[0] - 0.11
    assert 0.02 < metal.try_level(*found).tall <= MOST
    low = frame.height(metal.x, tool, room)
    along = (metal.x >= min(found.first, found.last)) & (metal.x <= max(found.first, found.last))
    assert (found.y >= low[along] - 1e-9).all()


def test_no_trial_where_too_little_is_left() -> None:
    frame, metal = _roughed({}, room_for(SettingErrors()))
    assert trial_cut(frame, metal.tool, metal) is None


def test_greater_errors_leave_more_on() -> None:
    frame, metal = _roughed({"errors": {"touching": {"cross": 0.045, "saddle": 0.02}}}, 0.2)
    found = trial_cut(frame, metal.tool, metal)
    assert found is not None
    assert found.y - metal.tool.nose_radius >= 9 + room_for(frame.job.shop.errors) - 1e-9


def test_a_tool_already_in_line_goes_level_and_a_lift_is_taken_back() -> None:
    frame, metal = _roughed({}, 0.2)
    radius = metal.tool.nose_radius
    walk = Walk(metal.tool, -20.0, 9.2 + radius)
    walk.cross(20.0)
    made = make_trial(frame, walk, metal, 20.0)
    assert made is not None
    assert [step.slide for step in walk.steps] == ["saddle", "cross", "saddle", "saddle"]
    assert of_trials(walk.steps) == {0, 1, 2, 3}
    assert walk.steps[3].end.x == walk.steps[2].start.x, "gone over again"


def test_the_way_back_goes_on_to_where_finishing_begins() -> None:
    frame, metal = _roughed({}, 0.2)
    walk = Walk(metal.tool, -20.0, 9.2 + metal.tool.nose_radius, stage="finish")
    made = make_trial(frame, walk, metal, 20.0)
    assert made is not None
    there = walk.x + 3.0
    walk.cross(20.0)
    walk.saddle(there)
    walk.cross(9.0)
    steps = joined(frame, walk.steps, made)
    assert len(steps) < len(walk.steps)
    assert steps[made.back].end.x == pytest.approx(there)
    assert steps[-1].end == walk.steps[-1].end
    for before, after in itertools.pairwise(steps):
        assert math.dist(before.end, after.start) < 1e-9


def _trial_moves(changes: Data) -> tuple[Trial, list[Move]]:
    plan = make_plan(job_from_data(pin(changes)))
    (found,) = [b.measured for b in plan.before if b.measured is not None]
    cut = plan.moves[found.after - 1]
    return Trial(cut.end.y, cut.start.x, cut.end.x), list(plan.moves)


def test_a_blade_makes_a_groove_of_its_own_width() -> None:
    """It is not fed along the axis."""
    blade = {"name": "blade", "kind": "grooving", "width": 3.0, "nose_radius": 0.2}
    outline = [{"z": 0, "d": 18}, {"z": -24, "d": 18}]
    trial, moves = _trial_moves({"tool": [blade], "part.outline": outline, "part.curve": [-8, -20]})
    assert trial.first == trial.last
    assert all(m.slide == "cross" or not m.cuts or m.bite < 0.25 for m in moves)


def test_the_saddle_goes_to_no_figure_that_only_the_top_slide_has() -> None:
    made = planned("hasp-pin")
    saddle = made.job.shop.saddle
    tools = {tool.name: tool for tool in made.tools}
    for move in made.moves:
        if move.slide == "saddle":
            assert saddle.place(move.figure) == pytest.approx(move.end.x + tools[move.tool].reference[0], abs=1e-6)
