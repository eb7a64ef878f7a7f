"""How wide a cut is on the quick picture of the metal."""

import numpy as np
import pytest
from tests.documents.jobs import Data
from tests.plan.toolpath.clearing.benches import NOSES, bench_for

from ovolo.plan.toolpath.clearing.bites import fitting, pass_depth, plunge_width


def test_a_side_step_is_as_wide_as_it_is() -> None:
    frame, bench = bench_for(NOSES[1])
    ground, tool = bench.ground, bench.ground.tool
    x = frame.front + tool.nose_radius - 0.5
    assert plunge_width(ground, bench.metal, x, frame.top - 5) == pytest.approx(0.5, abs=3 * ground.pitch)
    assert plunge_width(ground, bench.metal, x, frame.top + tool.nose_radius + 1) == 0.0


def test_a_pass_is_as_deep_as_it_lies_under_the_surface() -> None:
    frame, bench = bench_for(NOSES[2])
    y = frame.top + bench.ground.tool.nose_radius - 0.7
    assert pass_depth(bench.ground, bench.metal, y, bench.ground.clear_x, frame.front - 8) == pytest.approx(
        0.7, abs=0.01
    )


@pytest.mark.parametrize("nose", NOSES)
def test_many_places_at_once_are_judged_as_one_by_one(nose: Data) -> None:
    frame, bench = bench_for(nose)
    ground = bench.ground
    bench.metal.cut_level(frame.top - 3, ground.clear_x, frame.front - 5)
    xs = np.linspace(ground.x[0], ground.x[-1], 120)
    ys = ground.floors(xs)
    one_by_one = [plunge_width(ground, bench.metal, x, y) <= ground.widest for x, y in zip(xs, ys, strict=True)]
    assert fitting(ground, bench.metal, xs, ys).tolist() == one_by_one
    assert ys.tolist() == [ground.floor(x) for x in xs.tolist()]
