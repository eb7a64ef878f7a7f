"""The least place that serves: the one that plain halving finds, sooner."""

import math

import numpy as np
import pytest

from ovolo.plan.stations.search import _place, least_that_serves


def _halved(serves: np.ndarray | float, low: float, high: float, step: float) -> float:
    while high - low > step:
        middle = (low + high) / 2
        low, high = (low, middle) if middle >= serves else (middle, high)
    return high


@pytest.mark.parametrize("seed", range(40))
def test_it_is_the_place_that_halving_finds(seed: int) -> None:
    """Needs that fall as one over the root, in jumps here and there, or out of reach below some place."""
    dice = np.random.default_rng(seed)
    low, high = (0.0, 0.05) if seed % 2 else (0.05, 0.0597)
    size, bend, dead = dice.uniform(1, 9), dice.uniform(0.1, 1.5), dice.uniform(low, high) if seed % 3 == 0 else 0.0

    def needs(ridge: float) -> float:
        return math.inf if ridge < dead else size / ridge**bend

    count = (
        math.ceil(needs(high * dice.uniform(0.5, 1.0) if seed % 2 else high)) if dead == 0 else math.ceil(needs(high))
    )
    serves = max((size / count) ** (1 / bend), dead)
    tried = {high: needs(high)} if seed % 5 else {}
    assert least_that_serves(needs, count, low, high, 2e-5, tried) == _halved(serves, low, high, 2e-5)


def test_a_line_takes_fewer_trials_than_halving() -> None:
    trials: list[float] = []

    def needs(ridge: float) -> float:
        trials.append(ridge)
        return 130 / math.sqrt(ridge)

    least_that_serves(needs, 920, 0.0, 0.02, 2e-5, {0.02: 130 / math.sqrt(0.02)})
    assert len(trials) < math.log2(0.02 / 2e-5) / 2


def test_places_are_rounded_as_halving_rounds_them() -> None:
    assert [_place(n, 2, 0.1, 0.3) for n in (0, 4)] == [0.1, 0.3]
    middle = (0.1 + 0.3) / 2
    assert [_place(n, 2, 0.1, 0.3) for n in (1, 2, 3)] == [(0.1 + middle) / 2, middle, (middle + 0.3) / 2]


def test_a_range_within_the_step_needs_no_trial() -> None:
    assert least_that_serves(lambda _: pytest.fail("tried"), 3, 0.05, 0.05001, 2e-5, {}) == 0.05001
