"""The order of settings: inward where it is steep, onward elsewhere, and the other way where that is more even."""

import math

import numpy as np
import pytest
from tests.documents.jobs import Data
from tests.plan.toolpath.passes import frame_of, passes_of

from ovolo.plan.stations.stations import Pass
from ovolo.plan.sweep.height_field import Metal, lowest_possible
from ovolo.plan.toolpath.order import Group, runs
from ovolo.plan.toolpath.picture import Picture, Run, is_level
from ovolo.plan.toolpath.plain_passes import with_plain
from ovolo.plan.view.frame import Frame


def test_a_dome_takes_two_runs_that_meet_near_45_degrees() -> None:
    """From the flank's foot inward to the middle, and onward from there toward the chuck."""
    frame = frame_of()
    inward, onward = runs(frame, passes_of(frame))
    assert [p.y for p in inward.passes] == sorted((p.y for p in inward.passes), reverse=True)
    assert [p.first for p in onward.passes] == sorted((p.first for p in onward.passes), reverse=True)
    slopes = [math.atan2(p.y, p.first + 9) for run in (inward, onward) for p in run.passes]
    assert max(slopes[: len(inward.passes)]) <= math.pi / 4 + 1e-6
    assert min(slopes[len(inward.passes) :]) >= math.pi / 4 - 1e-6


FILLET: Data = {
    "part.outline": [
        {"z": 0, "d": 0},
        {"z": 0, "d": 12},
        {"z": -10, "d": 12},
        {"z": -16, "d": 24, "concave": 6},
        {"z": -16, "d": 30},
        {"z": -30, "d": 30},
    ],
    "part.curve": [-9, -16],
    "stock": {"diameter": 32},
    "tool.0.nose_radius": 2,
}


def _metal(frame: Frame, heap: float) -> Metal:
    """Metal 0.2 mm over the part, with a heap over the middle of the curve."""
    tool = frame.job.shop.tools[0]
    x = np.arange(frame.back - 3.0, frame.front + 3.0, 0.01)
    low = np.maximum(lowest_possible(x, np.maximum(frame.height(x, tool, 0.2), 0.0), tool), 0.0)
    middle = sum(frame.chain.points(np.array(frame.stretch))[0]) / 2
    return Metal(x, low + heap * np.exp(-(((x - middle) / 1.5) ** 2)), tool)


def _unevenness(metal: Metal, found: list[Run]) -> float:
    metal, takes = metal.with_tool(metal.tool), []
    for item in (p for run in found for p in run.passes):
        if item.first == item.last:
            takes.append(metal.try_plunge(item.last, item.y).area)
        metal.cut_level(item.y, item.first, item.last)
    return max(takes) / min(takes)


@pytest.mark.parametrize("changes", [None, FILLET], ids=["bulge", "hollow"])
@pytest.mark.parametrize("heap", [0.0, 0.6])
def test_two_ways_meet_where_their_cuts_are_more_even(changes: Data | None, heap: float) -> None:
    frame = frame_of(changes)
    passes, metal = passes_of(frame), _metal(frame, heap)
    blind, seen = runs(frame, passes), runs(frame, passes, metal)
    assert _unevenness(metal, seen) <= _unevenness(metal, blind)
    assert seen != blind
    assert sorted((p for run in seen for p in run.passes), key=lambda p: p.foot) == list(passes)


def test_nothing_to_finish_is_no_run() -> None:
    assert runs(frame_of(), ()) == []


def test_a_group_turned_twice_is_as_it_was() -> None:
    group = Group("inward", passes_of(frame_of()))
    assert group.turned().way == "onward"
    assert group.turned().turned() == group


def test_no_order_tried_is_more_even_than_the_one_taken() -> None:
    """Beside a face the plain pass down it would take most of the fillet before its settings do, were it cut inward."""
    frame = frame_of(FILLET)
    tool, metal = frame.job.shop.tools[0], _metal(frame, 0.6)
    passes = with_plain(frame, tool, passes_of(frame), [frame.stretch])
    picture = Picture(frame, metal)
    taken = picture.takes(runs(frame, passes, metal)).worth
    for order in (runs(frame, passes), [Run(passes)]):
        assert taken <= picture.takes(order).worth


def test_the_picture_counts_what_lies_between_the_metal_before_and_after() -> None:
    """All that the settings and the plain passes take together is what is gone, above the axis."""
    frame = frame_of({"part.curve": [0, -6]})
    metal, passes = _metal(frame, 0.0), passes_of(frame)
    picture = Picture(frame, metal)
    found = picture.takes([Run(passes)]).area
    after = metal.with_tool(metal.tool)
    for before, item in zip((None, *passes), passes, strict=False):
        after.cut_level(item.y, item.first if before is None else max(before.last, item.first), item.last)
    gone = float((np.maximum(metal.height, 0) - np.maximum(after.height, 0)).sum()) * metal.pitch
    on_axis = found[passes[0]] / 2  # it counts on both sides
    assert sum(found.values()) - on_axis == pytest.approx(gone, abs=0.01 * gone + 1.5e-3 * len(passes))


def test_a_sweep_along_a_cylinder_is_level_and_a_setting_on_a_dome_is_not() -> None:
    frame = frame_of({"part.curve": [0, -20], "tool.0.nose_radius": 2})
    tool = frame.job.shop.tools[0]
    level = [is_level(frame, tool, p) for p in passes_of(frame)]
    assert level[-1]  # it goes along the shank
    assert not any(level[1:-2])


def test_a_setting_in_the_hollow_that_goes_along_the_cylinder_is_level() -> None:
    frame = frame_of(FILLET)
    tool = frame.job.shop.tools[0]
    low = frame.lattice(tool).y_up(6 + tool.nose_radius)
    foot = float(frame.chain.project(np.array([-10.5]), np.array([6.0]), 1.0)[0][0])  # just in the fillet
    assert is_level(frame, tool, Pass(low, -2.0, -10.0, foot))
    assert not is_level(frame, tool, Pass(low + 0.1, -2.0, -10.0, foot))
    assert not is_level(frame, tool, Pass(low, -10.0, -10.0, foot))
