import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import centre_height as height
from ovolo.errors import FaultsFound

HEIGHTS = st.floats(0.01, 2)


@given(d=st.floats(0, 200), h=HEIGHTS)
def test_below_and_above_centre_cut_the_same_and_never_too_small(d: float, h: float) -> None:
    assert height.diameter_cut(d, h) == height.diameter_cut(d, -h) >= d
    assert height.diameter_cut(d, h) >= height.pip_diameter(h)


@given(h=HEIGHTS, share=st.floats(0.01, 0.9))
def test_smallest_diameter_has_just_the_error_allowed(h: float, share: float) -> None:
    allowed = 2 * h * share
    smallest = height.smallest_diameter(h, allowed)
    assert height.diameter_cut(smallest, h) - smallest == pytest.approx(allowed, rel=1e-6)
    assert height.height_for(smallest, allowed) == pytest.approx(h, rel=1e-6)


def test_a_pip_smaller_than_the_error_allowed_needs_no_smallest_diameter() -> None:
    assert height.smallest_diameter(0.01, 0.05) == 0


@given(small=st.floats(0, 20), more=st.floats(0.1, 30), h=HEIGHTS)
def test_a_taper_gets_less_and_hollow(small: float, more: float, h: float) -> None:
    cut = height.taper_cut(small, small + more, h)
    assert cut.large - cut.small < more
    assert cut.hollow >= 0


def test_limits() -> None:
    with pytest.raises(FaultsFound, match="a finite number"):
        height.radius_cut(math.nan, 0.1)
    with pytest.raises(FaultsFound, match="a finite number"):
        height.pip_diameter(math.inf)
    with pytest.raises(FaultsFound, match="error allowed"):
        height.smallest_diameter(0.1, 0)
    with pytest.raises(FaultsFound, match="small diameter"):
        height.taper_cut(-1, 3, 0.1)
