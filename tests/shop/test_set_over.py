"""A top slide at an angle: what it moves along the axis and across it."""

import math

import pytest

from ovolo.shop.set_over import SetOver
from ovolo.shop.slides import Slide


@pytest.mark.parametrize("degrees", [-40.0, -5.0, 2.5, 30.0])
def test_it_moves_by_cosine_and_sine(degrees: float) -> None:
    over = SetOver(Slide("top", "radius", "away", 0.02), math.radians(degrees))
    z, r = over.toward
    assert math.hypot(z, r) == pytest.approx(1)
    assert z < 0
    assert (r > 0) == (degrees > 0)
    assert over.over(30) == pytest.approx(30 * abs(r / z))
