"""Strips against strips and layers."""

from tests.plan.toolpath.clearing.benches import NOSES, bench_for

from ovolo.plan.toolpath.clearing.ground import Share
from ovolo.plan.toolpath.clearing.regions import clear
from ovolo.plan.toolpath.clearing.strips import strips


def test_layers_and_strips_together_cost_no_more_than_strips_alone() -> None:
    _, bench = bench_for(NOSES[1])
    alone = bench.fork()
    start = bench.ground.frame.top + bench.ground.tool.nose_radius
    for span in bench.ground.spans(start, float(bench.ground.x[0]), float(bench.ground.x[-1])):
        strips(alone, span, Share())
    clear(bench, Share())
    ends = float(bench.ground.x[0]), float(bench.ground.x[-1])
    assert bench.cost(*ends) <= alone.cost(*ends) + 60.0
