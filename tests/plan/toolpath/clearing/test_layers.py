"""Layers: how deep the next one is."""

from tests.plan.toolpath.clearing.benches import NOSES, bench_for

from ovolo.plan.toolpath.clearing.layers import next_row


def test_a_layer_is_no_deeper_than_the_bite_and_ends_on_a_round_figure() -> None:
    frame, bench = bench_for(NOSES[2])
    start = frame.top + bench.ground.tool.nose_radius
    span = bench.ground.spans(start, float(bench.ground.x[0]), float(bench.ground.x[-1]))[0]
    row = next_row(bench, span, start)
    assert start - row <= frame.job.shop.bite + 1e-9
    assert row < start
