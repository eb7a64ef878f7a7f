"""The part to be turned: along the curve the metal stands no higher than the sweep says."""

import math

import pytest
from tests.show.pages.examples import NAMES, plan

from ovolo.show.pages.turned import MOST, turned


@pytest.mark.parametrize("name", NAMES)
def test_heights_are_those_of_the_sweep(name: str) -> None:
    made = plan(name)
    rows = turned(made)
    assert 10 < len(rows) <= MOST
    heights = [math.hypot(dz, dr) for _, _, dz, dr in rows]
    assert max(heights) <= made.prediction.ridge_max + 2e-3
    assert max(heights) > 0.5 * made.prediction.ridge_max
