"""Clearing with one tool: the allowance stays, no cut is wider than it may be, little stands over what could go."""

import math

import numpy as np
import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.sweep.sweep import sweep
from ovolo.plan.toolpath.clearing.bench import Bench
from ovolo.plan.toolpath.clearing.bites import pass_depth, plunge_width
from ovolo.plan.toolpath.clearing.ground import Share
from ovolo.plan.toolpath.clearing.layers import next_row
from ovolo.plan.toolpath.clearing.leave import Leave
from ovolo.plan.toolpath.clearing.regions import clear
from ovolo.plan.toolpath.clearing.strips import strips
from ovolo.plan.toolpath.recipes import Yard
from ovolo.plan.view.frame import Frame
from ovolo.shop.limits import limit_of

NOSES: list[Data] = [
    {"name": "round nose", "kind": "round", "nose_radius": 3},
    {"name": "small nose", "kind": "round", "nose_radius": 1},
    {"name": "knife", "kind": "pointed", "nose_radius": 0.4},
    {"name": "blade", "kind": "grooving", "width": 3, "nose_radius": 0.2},
]


def _bench(tool: Data, leave: Leave | None = None) -> tuple[Frame, Bench]:
    frame = Frame(job_from_data(pin({"tool": [tool]})))
    yard = Yard(frame, frame.job.shop.tools)
    return frame, yard.bench(frame.job.shop.tools[0], yard.blank, leave or Leave())


@pytest.mark.parametrize("tool", NOSES, ids=lambda t: str(t["name"]))
def test_a_cleared_blank_keeps_the_allowance_and_the_limits(tool: Data) -> None:
    frame, bench = _bench(tool)
    blank = bench.metal.height
    clear(bench, Share())
    assert (bench.metal.height >= np.minimum(bench.ground.target, blank) - 0.02).all()
    shop = frame.job.shop
    for step, took in zip(bench.walk.steps, sweep(frame, bench.walk.steps).moves, strict=True):
        assert took.bite <= limit_of(shop, step.tool, step.slide, rough=True).widest * 1.03 + 0.02


@pytest.mark.parametrize("tool", NOSES[:2], ids=lambda t: str(t["name"]))
def test_no_step_is_higher_than_it_should_be(tool: Data) -> None:
    _, bench = _bench(tool)
    clear(bench, Share())
    assert bench.left(-math.inf, math.inf) < 0.3


def test_what_is_no_share_of_a_tool_it_does_not_touch() -> None:
    _, bench = _bench(NOSES[0])
    clear(bench, Share(opened=False))
    assert not bench.cuts


def test_layers_and_strips_together_cost_no_more_than_strips_alone() -> None:
    _, bench = _bench(NOSES[1])
    alone = bench.fork()
    start = bench.ground.frame.top + bench.ground.tool.nose_radius
    for span in bench.ground.spans(start, float(bench.ground.x[0]), float(bench.ground.x[-1])):
        strips(alone, span, Share())
    clear(bench, Share())
    ends = float(bench.ground.x[0]), float(bench.ground.x[-1])
    assert bench.cost(*ends) <= alone.cost(*ends) + 60.0


def test_a_layer_is_no_deeper_than_the_bite_and_ends_on_a_round_figure() -> None:
    frame, bench = _bench(NOSES[2])
    start = frame.top + bench.ground.tool.nose_radius
    span = bench.ground.spans(start, float(bench.ground.x[0]), float(bench.ground.x[-1]))[0]
    row = next_row(bench, span, start)
    assert start - row <= frame.job.shop.bite + 1e-9
    assert row < start


def test_a_side_step_is_as_wide_as_it_is() -> None:
    frame, bench = _bench(NOSES[1])
    ground, tool = bench.ground, bench.ground.tool
    x = frame.front + tool.nose_radius - 0.5
    assert plunge_width(ground, bench.metal, x, frame.top - 5) == pytest.approx(0.5, abs=3 * ground.pitch)
    assert plunge_width(ground, bench.metal, x, frame.top + tool.nose_radius + 1) == 0.0


def test_a_pass_is_as_deep_as_it_lies_under_the_surface() -> None:
    frame, bench = _bench(NOSES[2])
    y = frame.top + bench.ground.tool.nose_radius - 0.7
    assert pass_depth(bench.ground, bench.metal, y, bench.ground.clear_x, frame.front - 8) == pytest.approx(
        0.7, abs=0.01
    )


def test_the_distance_over_a_level_is_told_square_to_it() -> None:
    _, bench = _bench(NOSES[0])
    ground = bench.ground
    over = ground.over(ground.target + 0.3)
    assert (over <= 0.3 + 1e-9).all()
    assert np.median(over[over > 0]) == pytest.approx(0.3, abs=0.1)


def test_less_is_left_step_by_step_and_then_less_than_the_allowance() -> None:
    leave: Leave | None = Leave()
    steps, allowances = [], []
    while leave is not None:
        steps.append(leave.step)
        allowances.append(leave.allowance)
        leave = leave.finer()
    assert steps == sorted(steps, reverse=True)
    assert allowances[0] == 1.0
    assert allowances[-1] < 0.5
    assert Leave(limits=0.83).lighter() is None
