"""Counts that a dial can be stopped at, worked out by hand."""

import pytest

from ovolo.shop.dial_counts import better_counts, can_be_stopped_at, division
from ovolo.shop.slides import Slide


def _dial(count: float, per_turn: float = 2.0, divisions: int | None = 40) -> Slide:
    """Of radii; a division is 0.05."""
    return Slide("cross", "radius", "out", count, per_turn=per_turn, divisions=divisions)


@pytest.mark.parametrize("count", [0.05, 0.1, 0.025, 0.0125, 0.01, 0.005])
def test_a_division_its_multiples_and_simple_parts(count: float) -> None:
    assert better_counts(_dial(count)) == []


@pytest.mark.parametrize(
    ("count", "near"), [(0.03, [0.025, 0.05]), (0.07, [0.05, 0.1]), (0.004, [0.005]), (0.011, [0.01, 0.0125])]
)
def test_the_nearest_on_either_side(count: float, near: list[float]) -> None:
    """0.03 is six tenths of a division; beside it lie a half, 0.025, and a whole one, 0.05."""
    assert better_counts(_dial(count)) == pytest.approx(near)
    assert all(better_counts(_dial(good)) == [] for good in near)


def test_a_slide_that_reads_diameters_counts_twice_the_travel() -> None:
    cross = Slide("cross", "diameter", "out", 0.02, per_turn=1.0, divisions=50)
    assert division(cross) == pytest.approx(0.04)
    assert better_counts(cross) == []


def test_a_readout_has_any_count() -> None:
    assert better_counts(_dial(0.03, divisions=None)) == []
    assert not can_be_stopped_at(0.03, 0.05)
