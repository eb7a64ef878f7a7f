"""What settings take on the quick picture of the metal: how wide, and where a wide nose goes in."""

import numpy as np
import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.stations.choose_tools import reach_of
from ovolo.plan.stations.stations import Pass
from ovolo.plan.steps import Walk
from ovolo.plan.sweep.height_field import Metal, lowest_possible
from ovolo.plan.toolpath.finishing import Finisher
from ovolo.plan.toolpath.order import runs
from ovolo.plan.toolpath.picture import Picture, Run, Takes, ratio
from ovolo.plan.view.frame import Frame

RISE: Data = {
    "part.outline": [
        {"z": 0, "d": 20},
        {"z": -10, "d": 20},
        {"z": -16, "d": 32, "concave": 6},
        {"z": -16, "d": 40},
        {"z": -30, "d": 40},
    ],
    "part.curve": [-9, -16],
    "stock": {"diameter": 42},
    "limits": {"plunge": 2.0},
}
HUMP: Data = {
    "part.outline": [
        {"z": 0, "d": 20},
        {"z": -20, "d": 20},
        {"z": -40, "d": 36},
        {"z": -60, "d": 20},
        {"z": -70, "d": 20},
    ],
    "part.curve": [-22, -58],
    "stock": {"diameter": 40},
    "tool.0.nose_radius": 8,
    "limits": {"plunge": 2.5},
    "finish": {"ridge": 0.02, "allowance": 0.3},
}


def _frame(changes: Data) -> Frame:
    return Frame(job_from_data(pin(changes)))


def _passes(frame: Frame) -> tuple[Pass, ...]:
    ridge, tool = frame.job.part.ridge, frame.job.shop.tools[0]
    choice = reach_of(frame, tool, ridge).chooser(frame, frame.stretch).choose(ridge)
    assert choice is not None
    return choice.passes


def _metal(frame: Frame) -> Metal:
    """Metal as roughing leaves it: the allowance over the part."""
    tool, spare = frame.job.shop.tools[0], frame.job.shop.allowance
    x = np.arange(frame.back - 9.0, frame.front + 9.0, 0.01)
    low = np.maximum(lowest_possible(x, np.maximum(frame.height(x, tool, spare), 0.0), tool), 0.0)
    return Metal(x, np.minimum(low, frame.blank_top(x)), tool)


def test_a_rise_that_ends_in_a_face_is_finished_from_its_top_inward() -> None:
    """Cut onward, the flank of the nose would shave the rise over its height."""
    frame = _frame(RISE)
    passes, metal = _passes(frame), _metal(frame)
    picture = Picture(frame, metal)
    steep = [p for p in passes if p.foot > passes[-1].foot - 4.0]
    assert picture.takes([Run(passes)]).too_wide > 0
    taken = runs(frame, passes, metal)
    assert picture.takes(taken).too_wide == 0
    inward = next(run for run in taken if steep[-1] in run.passes)
    assert inward.passes[0].y > inward.passes[-1].y


def test_where_the_outline_falls_toward_the_chuck_a_wide_nose_climbs() -> None:
    frame = _frame(HUMP)
    passes, metal = _passes(frame), _metal(frame)
    picture = Picture(frame, metal)
    assert picture.takes([Run(passes)]).too_wide > 0
    found = runs(frame, passes, metal)
    assert picture.takes(found).too_wide < picture.takes([Run(passes)]).too_wide
    falling = next(run for run in found if passes[-1] in run.passes)
    assert falling.passes[0].first < falling.passes[-1].first


def test_a_wide_nose_goes_in_beside_a_slope_and_not_onto_it() -> None:
    """Straight down onto the slope R 8 would take more than the plunge; where it has fallen away it takes less."""
    frame = _frame(HUMP)
    item = next(p for p in _passes(frame) if p.first < -30)
    picture = Picture(frame, _metal(frame))
    limit = frame.job.shop.plunge
    assert picture.metal.try_plunge(item.first, item.y).wide > limit
    x = picture.entry(picture.metal, item)
    assert x > item.first
    assert picture.metal.try_plunge(x, item.y).wide <= limit * 1.02 + 0.01
    walk = Walk(frame.job.shop.tools[0], 5.0, 40.0, stage="finish")
    Finisher(frame, walk, 40.0, 1).follow([Run((item,))], picture.metal)
    assert any(step.slide == "cross" and step.end == (x, item.y) for step in walk.steps)
    assert walk.steps[-2].end == (item.last, item.y)


def test_making_a_setting_leaves_the_metal_as_low_as_it_is_set() -> None:
    frame = _frame(HUMP)
    picture, item = Picture(frame, _metal(frame)), _passes(frame)[3]
    metal = picture.metal.with_tool(picture.metal.tool)
    picture.take(metal, None, item)
    assert metal.try_plunge(item.first, item.y).area == pytest.approx(0.0, abs=1e-6)
    assert picture.metal.try_plunge(item.first, item.y).area > 0


def test_the_worse_order_has_more_cuts_too_wide_then_less_even_ones() -> None:
    one, other = Pass(1, 0, 0, 0), Pass(2, 1, 1, 1)
    even, uneven = {one: 1.0, other: 1.0}, {one: 1.0, other: 3.0}
    assert Takes(uneven, {one: 0.0}).worth < Takes(even, {one: 0.1}).worth
    assert Takes(even, {}).worth < Takes(uneven, {}).worth
    assert ratio([]) == 1.0
