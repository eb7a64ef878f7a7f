"""What stands over the curve, against heights known in closed form."""

import math

import pytest
from tests.plan.test_sweep import NOSE, PLAIN, _steps

from ovolo.plan.standing import left_standing
from ovolo.plan.sweep import NOSE_CHORD, sweep


def test_what_stands_after_two_settings() -> None:
    """Two settings of a nose on the cylinder, 0.4 apart: the exact feed mark between them, none beneath."""
    a, b = -5.0, -5.4
    swept = sweep(PLAIN, _steps(NOSE, (a, 12), (a, 10.0), (a, 12), (b, 12), (b, 10.0)))
    u, height, points = left_standing(PLAIN, swept.rest)
    between = (points[:, 0] < a) & (points[:, 0] > b)
    exact = 1 - math.sqrt(1 - 0.04)
    assert exact - 1e-6 <= height[between].max() <= exact + NOSE_CHORD  # the flattened nose never flatters
    assert height[between].min() == pytest.approx(0, abs=1e-5)
    x, _ = PLAIN.chain.points(u[between])
    assert x == pytest.approx(points[between][:, 0], abs=1e-9)
