"""Few places of a curve, true in between, kinks and bends included."""

import numpy as np
import pytest

from ovolo.predict.forecast.sampled import between, sampled


@pytest.mark.parametrize("kink", [0.013, 0.4, 1.7, 2.99])
def test_a_kink_is_closed_in_upon(kink: float) -> None:
    line = sampled(lambda x: np.maximum(0.0, x - kink), [0.0, 0.1, 1.0, 3.0], 0.002)
    for x in np.linspace(0, 3, 1001):
        assert between(line, float(x)) == pytest.approx(max(0.0, x - kink), abs=0.003)
    assert len(line) < 20


def test_a_bend_is_followed() -> None:
    line = sampled(np.square, [0.0, 1.0, 3.0], 0.002, 0.01)
    for x in np.linspace(0, 3, 1001):
        assert between(line, float(x)) == pytest.approx(x * x, abs=0.003 + 0.011 * x * x)


def test_what_is_flat_takes_two_places() -> None:
    assert sampled(np.zeros_like, [0.0, 0.5, 3.0], 0.002) == ((0.0, 0.0), (3.0, 0.0))
