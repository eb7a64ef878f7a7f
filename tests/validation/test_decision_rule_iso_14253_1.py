"""The decision rule of ISO 14253-1: proved to conform inside the limits reduced by the expanded uncertainty (k = 2),
proved not to outside the limits enlarged by it, undecided between. From memory; seen in secondary pages only."""

import pytest

from ovolo.check.verdict import verdict_of
from ovolo.part.targets import CurveLimits

LIMITS = CurveLimits(above=0.1, below=0.05)


@pytest.mark.parametrize(
    ("above", "below", "u", "verdict"),
    [
        (0.080, 0.030, 0.010, "good"),
        (0.081, 0.000, 0.010, "cannot tell"),
        (0.000, 0.031, 0.010, "cannot tell"),
        (0.120, 0.070, 0.010, "cannot tell"),
        (0.121, 0.000, 0.010, "not good"),
        (0.000, 0.071, 0.010, "not good"),
        (0.100, 0.050, 0.0, "good"),
    ],
)
def test_guard_bands_on_both_sides(above: float, below: float, u: float, verdict: str) -> None:
    assert verdict_of(above, below, u, LIMITS) == verdict
