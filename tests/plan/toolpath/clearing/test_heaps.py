"""Heaps: kept as cuts are made, they are those that a fresh look finds."""

import numpy as np
import pytest
from tests.documents.jobs import Data
from tests.plan.toolpath.clearing.benches import NOSES, bench_for

from ovolo.plan.toolpath.clearing.heaps import Heaps


@pytest.mark.parametrize("nose", NOSES)
def test_after_cuts_the_heaps_are_those_of_a_fresh_look(nose: Data) -> None:
    frame, bench = bench_for(nose)
    kept = bench.heaps
    for n in range(4):
        bench.metal.cut_level(frame.top + bench.ground.tool.nose_radius - 1.5 * n, bench.ground.clear_x, -2.0 * n)
        bench.metal.cut_plunge(-3.0 - n, frame.top - 1.0)
        kept = kept.after(bench.metal.height)
        fresh = Heaps(bench.ground, bench.metal.height)
        assert np.array_equal(kept.between(), fresh.between())
        assert np.array_equal(bench.heaps.between(), fresh.between())
    assert len(kept.between()) < len(Heaps(bench.ground, bench.ground.target + 3).between())


def test_the_first_heap_lies_where_it_is_looked_for() -> None:
    _, bench = bench_for(NOSES[0])
    places = bench.ground.x[bench.heaps.between(-20.0, -5.0)]
    assert bench.heaps.first(-20.0, -5.0, -1) == places[-1]
    assert bench.heaps.first(-20.0, -5.0, 1) == places[0]
    assert bench.heaps.first(-5.0, -20.0, 1) is None
