"""The bench: moves are priced as they are laid down; a deep slot by a blade is cut piece by piece."""

import pytest
from tests.plan.toolpath.clearing.benches import NOSES, bench_for


def test_what_is_spent_is_what_the_moves_cost() -> None:
    frame, bench = bench_for(NOSES[1])
    bench.feed_in(frame.front, frame.top - 2)
    steps = bench.walk.steps
    cuts = [n in bench.cuts for n in range(len(steps))]
    assert bench.spent == pytest.approx(bench.price.cost(steps, cuts), abs=9)


def test_a_fork_leaves_the_bench_as_it_is() -> None:
    frame, bench = bench_for(NOSES[1])
    bench.fork().feed_in(frame.front, frame.top - 2)
    assert not bench.walk.steps
    assert bench.metal.height.max() == frame.top


def test_a_blade_clears_chips_from_a_deep_slot() -> None:
    frame, bench = bench_for(NOSES[3])
    bench.feed_in(-10.0, frame.top - 7)
    assert len(bench.cuts) > 1
