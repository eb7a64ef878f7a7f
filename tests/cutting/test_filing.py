import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from ovolo.cutting import filing
from ovolo.errors import FaultsFound


@pytest.mark.parametrize("spacing", [0.001, 0.0319, 0.0321, 0.4, 1.0, 1.6])
def test_the_section_of_a_ridge_is_the_integral_of_the_arc(spacing: float) -> None:
    by_numbers = 2 * quad(lambda x: x * x / (0.8 + math.sqrt(0.64 - x * x)), 0, spacing / 2, epsabs=0, epsrel=1e-12)[0]
    assert filing.ridge_area(spacing, 0.8) == pytest.approx(by_numbers, rel=1e-9)


@given(
    corners=st.lists(st.tuples(st.floats(-50, 50), st.floats(0, 50)), min_size=3, max_size=8), shift=st.floats(-90, 90)
)
def test_a_volume_does_not_depend_on_sense_start_or_place(corners: list[tuple[float, float]], shift: float) -> None:
    volume = filing.revolved_volume(corners)
    moved = [(z + shift, r) for z, r in reversed(corners)]
    assert filing.revolved_volume(moved[1:] + moved[:1]) == pytest.approx(volume, rel=1e-9, abs=1e-6)


@given(z=st.floats(-50, 50), r=st.floats(0, 40), wide=st.floats(0.1, 30), high=st.floats(0.1, 30))
def test_a_polygon_agrees_with_pappus(z: float, r: float, wide: float, high: float) -> None:
    ring = [(z, r), (z + wide, r), (z + wide, r + high), (z, r + high)]
    assert filing.revolved_volume(ring) == pytest.approx(filing.ring_volume(wide * high, r + high / 2))


def test_ridges_of_half_the_spacing_hold_a_quarter_of_the_metal() -> None:
    assert filing.ridges_volume(0.1, 3, 20, 9) / filing.ridges_volume(0.2, 3, 20, 9) == pytest.approx(0.25, rel=1e-3)


def test_the_mean_of_the_blend_is_the_metal_in_the_ridges() -> None:
    ridge = 3 - math.sqrt(9 - 0.04)
    metal = filing.ridges_volume(0.4, 3, 20, 9)
    assert filing.lowering(ridge).mean / 2 * 20 * 2 * math.pi * 9 == pytest.approx(metal, rel=1e-2)


def test_to_the_last_blue_and_no_further_leaves_the_valleys() -> None:
    assert filing.lowering(0.05).valleys == 0
    assert filing.lowering(0.05, 0.001).valleys == pytest.approx(0.002)


@pytest.mark.parametrize(
    "word",
    ["handle", "left hand", "rag", "emery", "chuck", "blue", "stop", "eye protection", "gloves", "manual", "gauge"],
)
def test_what_a_person_at_the_lathe_must_be_told_is_there(word: str) -> None:
    assert any(word in sentence for sentence in filing.blend_steps())


def test_each_step_is_a_sentence_and_cautions_come_first() -> None:
    steps = filing.blend_steps()
    assert all(step[0].isupper() and step.endswith(".") for step in steps)
    assert steps[0].startswith("Follow the machine's manual")


@pytest.mark.parametrize(
    "call",
    [
        lambda: filing.ring_volume(1, -1),
        lambda: filing.revolved_volume([(0, 0), (1, 1)]),
        lambda: filing.revolved_volume([(0, 0), (1, -1), (2, 3)]),
        lambda: filing.ridge_area(3, 1),
        lambda: filing.ridges_volume(0, 1, 1, 1),
        lambda: filing.lowering(-0.1),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]
