"""The sweep that a plan keeps, against taking its moves over the metal one after the other."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely import affinity
from tests.show.plans import planned

from ovolo.plan.sweep.sweep import tool_shape

NAMES = ["bridge-pin", "bush", "lip"]


@pytest.mark.parametrize("name", NAMES)
def test_metal_and_chips_are_those_of_one_move_after_the_other(name: str) -> None:
    plan = planned(name)
    swept, rest = plan.swept, plan.swept.after_in_frame(0)
    for n, step in enumerate(swept.steps, 1):
        shape = tool_shape(step.tool)
        track = shapely.MultiPoint(np.vstack([shape + np.array(step.start), shape + np.array(step.end)])).convex_hull
        if plan.frame.sign > 0:
            beyond = shapely.intersection(track, shapely.box(-1e3, -1e3, 1e3, 0))
            track = shapely.union(track, affinity.scale(beyond, 1, -1, origin=(0, 0)))
        chip, rest = shapely.intersection(track, rest), shapely.difference(rest, track)
        assert shapely.symmetric_difference(swept.chip_in_frame(n), chip).area < 1e-6
        assert shapely.symmetric_difference(swept.after_in_frame(n), rest).area < 1e-6


def test_a_bore_is_turned_back_to_its_radii() -> None:
    plan = planned("bush")
    assert plan.swept.part.bounds[1] == pytest.approx(10, abs=1e-3)
    assert plan.swept.left.area == pytest.approx(plan.swept.after(len(plan.moves)).area)
    assert min(chip.bounds[1] for chip in plan.swept.chips if not chip.is_empty) > 0


def test_the_planners_own_sweep_is_kept_and_moves_that_were_exchanged_are_swept_anew() -> None:
    plan = planned("bridge-pin")
    assert plan.worked is not None
    assert plan.swept.sweep is plan.worked.sweep
    fewer = replace(plan, moves=plan.moves[:6])
    assert fewer.swept.sweep is not plan.worked.sweep
    assert fewer.swept.left.area == pytest.approx(plan.swept.after(6).area)


def test_the_border_runs_from_the_free_end_toward_the_chuck() -> None:
    plan = planned("bridge-pin")
    border = plan.swept.border_after(0)
    assert border[0].x == pytest.approx(plan.frame.front)
    assert border[-1].x == pytest.approx(plan.frame.back)
    after = plan.swept.border_after(len(plan.moves))
    assert [tuple(p) for p in after] == [tuple(plan.frame.place(*p)) for p in plan.prediction.surface]


def test_plans_are_looked_up_by_what_they_are() -> None:
    plan = planned("bridge-pin")
    assert hash(plan) == hash(replace(plan))
    assert {plan: 1}[replace(plan)] == 1
