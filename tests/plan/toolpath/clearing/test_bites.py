"""How wide a cut is on the quick picture of the metal."""

import pytest
from tests.plan.toolpath.clearing.benches import NOSES, bench_for

from ovolo.plan.toolpath.clearing.bites import pass_depth, plunge_width


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
