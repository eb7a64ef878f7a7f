import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import roughness
from ovolo.cutting.nose import feed_mark
from ovolo.errors import FaultsFound


def _by_numbers(spacing: float, radius: float) -> tuple[float, float]:
    x = (np.arange(400_000) + 0.5) / 400_000 * spacing / 2
    y = x**2 / (radius + np.sqrt(radius**2 - x**2))
    return float(np.abs(y - y.mean()).mean()), float(y.std())


@pytest.mark.parametrize("spacing", [0.002, 0.1, 0.3199, 0.3201, 0.8, 1.6])
def test_arc_texture_is_the_integral(spacing: float) -> None:
    marks = roughness.arc_texture(spacing, 0.8)
    assert (marks.ra, marks.rq) == pytest.approx(_by_numbers(spacing, 0.8), rel=1e-6)


@given(r=st.floats(0.1, 10), share=st.floats(1e-4, 2))
def test_heights_are_in_order_and_rt_is_the_feed_mark(r: float, share: float) -> None:
    marks = roughness.arc_texture(share * r, r)
    assert marks.ra < marks.rq < marks.rt
    assert marks.rt == pytest.approx(feed_mark(share * r, r))


@given(share=st.floats(1e-5, 0.05))
def test_small_spacings_follow_the_parabola(share: float) -> None:
    assert roughness.arc_texture(share, 1.0) == pytest.approx(roughness.texture_small(share, 1.0), rel=1e-3)


def test_the_two_branches_meet() -> None:
    below, above = (roughness.arc_texture(2 * (0.2 + tiny), 1.0) for tiny in (-1e-9, 1e-9))
    assert below == pytest.approx(above, rel=1e-7)


@pytest.mark.parametrize("wavelength", [0.4, 0.8, 1.6, 2.4])
def test_the_filter_passes_what_it_should(wavelength: float) -> None:
    step = 0.01
    x = np.arange(4000) * step
    wave = np.cos(2 * math.pi * x / wavelength)
    middle = slice(500, 3500)
    passed = np.abs(roughness.mean_line(wave, step, 0.8)[middle]).max()
    assert passed == pytest.approx(roughness.transmission(wavelength, 0.8), abs=1e-4)


def test_weights_have_area_one() -> None:
    x = np.arange(-2000, 2001) * 0.001
    assert sum(roughness.gaussian_weight(float(v), 0.8) for v in x) * 0.001 == pytest.approx(1, abs=1e-9)


@given(height=st.floats(-5, 5), count=st.integers(2, 300))
def test_a_level_profile_is_its_own_mean_line(height: float, count: int) -> None:
    assert roughness.mean_line(np.full(count, height), 0.02, 0.8) == pytest.approx(np.full(count, height))


@pytest.mark.parametrize(
    "call",
    [
        lambda: roughness.arc_texture(0, 1),
        lambda: roughness.arc_texture(2.1, 1),
        lambda: roughness.grade_for(51),
        lambda: roughness.cut_off(0.013),
        lambda: roughness.cut_off(4.01),
        lambda: roughness.cut_off(math.nan),
        lambda: roughness.transmission(0, 0.8),
        lambda: roughness.gaussian_weight(math.nan, 0.8),
        lambda: roughness.mean_line(np.zeros(10), 0.2, 0.8),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]
