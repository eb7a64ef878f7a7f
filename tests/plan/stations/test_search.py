"""The least place that serves: the one that plain halving finds, sooner."""

import math

import numpy as np
import pytest

from ovolo.plan.stations.search import _place, each_number_once, least_ridge, least_that_serves


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


@pytest.mark.parametrize("near", [1e-3, 0.04, 0.9])
def test_the_least_ridge_is_found_from_wherever_it_is_looked_for(near: float) -> None:
    """As many settings as one over the root of the ridge."""
    found = least_ridge(lambda r: math.ceil(1 / r**0.5), 25, near=near, finest=1e-5, coarsest=1.0, close=1e-4)
    assert found == pytest.approx(1 / 625, rel=2e-4)
    assert found is not None
    assert math.ceil(1 / found**0.5) <= 25


def test_no_ridge_keeps_fewer_settings_than_there_must_be() -> None:
    assert least_ridge(lambda r: 9, 8, near=0.1, finest=1e-4, coarsest=2.0, close=1e-3) is None
    assert least_ridge(lambda r: None, 8, near=0.1, finest=1e-4, coarsest=2.0, close=1e-3) is None


def test_of_each_number_of_settings_the_first_is_kept() -> None:
    rows = each_number_once((0.5, 0.4, 0.1), lambda r: None if r > 0.45 else (1, r))
    assert rows == {1: 0.4}
