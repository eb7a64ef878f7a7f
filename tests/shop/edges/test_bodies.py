"""Shanks and boring bars: where they are, and how high the nose has to stand for them to be clear."""

import numpy as np
import pytest

from ovolo.geometry.chain import Floats
from ovolo.shop.edges.bodies import CLEARANCE
from ovolo.shop.edges.boring_bar import BoringBar
from ovolo.shop.edges.shank import Shank

X = np.arange(-10.0, 10.0, 0.01)


def _step(x: Floats) -> Floats:
    """Metal 5 high up to 0, 2 high beyond."""
    return np.where(x <= 0, 5.0, 2.0)


def test_a_shank_stays_above_all_that_is_under_it() -> None:
    shank = Shank(radius=1.0, width=6.0, stem=8.0, drawn_out=0.0)
    height = shank.height(X, _step, _step)
    assert float(np.interp(-5.0, X, height)) == pytest.approx(5.0 + 1.0 - 8.0)
    assert float(np.interp(2.9, X, height)) == pytest.approx(5.0 + 1.0 - 8.0)
    assert float(np.interp(3.1, X, height)) == pytest.approx(2.0 + 1.0 - 8.0)
    assert shank.shape()[:, 1].min() == pytest.approx(7.0 + CLEARANCE)


def test_a_boring_bar_stays_above_all_that_is_nearer_to_the_mouth() -> None:
    bar = BoringBar(radius=0.5, stands_out=3.0)
    height = bar.height(X, lambda x: np.where(x > 4, 6.0, 1.0), _step)
    assert float(np.interp(-5.0, X, height)) == pytest.approx(6.0 + 0.5 - 3.0)
    assert bar.shape()[:, 0].min() == 0.0
