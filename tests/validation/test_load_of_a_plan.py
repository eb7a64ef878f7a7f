"""Figures combined as a plan combines them, against what the sources give for the parts.

Kienzle's constants (St 42: 1780 N/mm^2, 0.17; confirmed by a chuck maker's printed k_c row), chip by geometry, bending
by Machinery's Handbook 31st ed., case 11. Published forces for one material lie 25 % apart: so do these.
"""

import math

import pytest
from tests.predict.loads.test_engaged import one_move

from ovolo.cutting.force import cutting_force
from ovolo.cutting.materials import FORCE_SPREAD
from ovolo.geometry.segments import Point
from ovolo.predict.loads.load import loads


def test_one_pass_worked_by_hand() -> None:
    """Nose R 3, bite 1, feed 0.1: b = 3 acos(2/3) = 2.523, h = 0.1/2.523 = 0.0396, F = 2.523 * 0.0396^0.83 * 1780."""
    load = loads(one_move(Point(6, 12), Point(-15, 12), {"part.material": "mild steel"})).moves[0]
    by_hand = 2.523 * 0.0396**0.83 * 1780
    assert by_hand == pytest.approx(308, abs=2)
    assert load.chip.width == pytest.approx(2.523, rel=0.03)
    assert load.chip.thickness == pytest.approx(0.0396, rel=0.03)
    assert load.force == pytest.approx(by_hand, rel=0.03)
    # Half of it pushes square to the edge; the chord of the arc leans so that 0.886 of that is radial.
    push = 0.5 * by_hand * math.sqrt(1 - (2 / 3) ** 2) / math.acos(2 / 3)
    moment = math.pi * 20**4 / 64
    assert load.bends is not None
    assert load.bends == pytest.approx(push * (35 - 1.3) ** 3 / (3 * 200_000 * moment), rel=0.12)


def _against_the_catalogue(name: str, k11: float, m: float) -> float:
    """Our force over that of an insert maker's turning catalogue, 2017, p. 558, for sharp positive carbide."""
    load = loads(one_move(Point(6, 12), Point(-15, 12), {"part.material": name})).moves[0]
    return load.force / cutting_force(load.chip, k11, m)


@pytest.mark.parametrize(("name", "k11", "m"), [("mild steel", 1350, 0.21), ("medium carbon steel", 1675, 0.24)])
def test_another_source_gives_the_same_force_within_the_spread(name: str, k11: float, m: float) -> None:
    assert 1 - FORCE_SPREAD < _against_the_catalogue(name, k11, m) < 1 + FORCE_SPREAD + 0.05


def test_for_alloy_steel_the_sources_differ_by_half() -> None:
    """42CrMo4 (2500, 0.26) against "low alloy, annealed" (1775, 0.24): the larger force is taken."""
    assert _against_the_catalogue("alloy steel", 1775, 0.24) == pytest.approx(1.5, abs=0.1)
