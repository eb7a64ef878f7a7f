"""Deflection: Machinery's Handbook, 31st ed., "Stresses and Deflections in Beams" (formulas seen), cases 2, 3, 11-14.

Numbers recomputed for F 100 N, d 20 mm, E 210 GPa, and by finite elements. E: Gere, Mechanics of Materials, 5th ed.
"""

import math

import pytest

from ovolo.cutting import bending
from ovolo.cutting.materials import BAR_STIFFNESS, material

E = 210_000.0
I20 = bending.second_moment(20)


def test_case_11_chuck_only() -> None:
    assert 1000 * bending.bends_in_chuck(100, 60, E, I20) == pytest.approx(4.3654, abs=5e-5)


def test_case_2_between_centres() -> None:
    assert 1000 * bending.bends_between_centres(100, 100, 200, E, I20) == pytest.approx(10.105, abs=5e-4)
    assert bending.bends_between_centres(100, 100, 200, E, I20) == pytest.approx(100 * 200**3 / (48 * E * I20))


def test_case_13_chuck_and_tailstock() -> None:
    at_load = bending.bends_chuck_and_tailstock(100, 100, 200, E, I20)
    assert 1000 * at_load == pytest.approx(4.4210, abs=5e-5)
    assert at_load == pytest.approx(7 * 100 * 200**3 / (768 * E * I20))
    most, place = bending.most_between_chuck_and_tailstock(100, 200, E, I20)
    assert most == pytest.approx(100 * 200**3 / (107.33 * E * I20), rel=1e-4)
    assert place / 200 == pytest.approx(0.4472, abs=5e-5)


def test_case_14_chuck_and_tailstock_anywhere() -> None:
    assert 1000 * bending.bends_chuck_and_tailstock(100, 150, 200, E, I20) == pytest.approx(3.4638, abs=5e-5)


def test_ratios_16_to_1_to_7_16() -> None:
    centres = bending.bends_between_centres(1, 100, 200, E, I20)
    assert bending.bends_in_chuck(1, 200, E, I20) / centres == pytest.approx(16)
    assert bending.bends_chuck_and_tailstock(1, 100, 200, E, I20) / centres == pytest.approx(7 / 16)


def test_half_the_diameter_bends_sixteen_times_as_far() -> None:
    assert 1000 * bending.bends_in_chuck(100, 60, E, bending.second_moment(10)) == pytest.approx(69.85, abs=5e-3)


def test_three_diameters_out() -> None:
    assert bending.bends_in_chuck(100, 60, E, I20) * E * 20 / 100 == pytest.approx(183.35, abs=5e-3)
    assert 64 * 27 / (3 * math.pi) == pytest.approx(183.35, abs=5e-3)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("mild steel", 190, 210), ("brass", 96, 110), ("bronze", 96, 120), ("cast iron", 83, 170), ("aluminium", 70, 79)],
)
def test_moduli_of_gere(name: str, low: float, high: float) -> None:
    stiffness = material(name).stiffness
    assert (stiffness.low, stiffness.high) == (low, high)
    assert low <= stiffness.gpa <= high


def test_stainless_of_the_psi_table() -> None:
    assert material("stainless steel").stiffness.gpa == pytest.approx(28e6 * 6.894757e-6, abs=0.1)
    assert BAR_STIFFNESS["steel"].gpa == pytest.approx(29e6 * 6.894757e-6, abs=0.1)
