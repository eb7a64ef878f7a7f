"""The ground: distances square to what could be reached."""

import numpy as np
import pytest
from tests.plan.toolpath.clearing.benches import NOSES, bench_for


def test_the_distance_over_a_level_is_told_square_to_it() -> None:
    _, bench = bench_for(NOSES[0])
    ground = bench.ground
    over = ground.over(ground.target + 0.3)
    assert (over <= 0.3 + 1e-9).all()
    assert np.median(over[over > 0]) == pytest.approx(0.3, abs=0.1)
