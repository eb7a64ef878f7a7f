import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import facets
from ovolo.errors import FaultsFound

SWEEPS = st.floats(0.05, math.pi / 2)


@given(radius=st.floats(1, 100), sweep=SWEEPS, n=st.integers(1, 40), convex=st.booleans())
def test_the_fewest_facets_for_an_error_undo_the_error(radius: float, sweep: float, n: int, convex: bool) -> None:
    error = facets.facet_error(radius, sweep, n, convex=convex) * (1 + 1e-9)
    assert facets.facets_for(error, radius, sweep, convex=convex) == n


@given(radius=st.floats(1, 100), sweep=SWEEPS, n=st.integers(1, 40))
def test_convex_corners_stand_off_by_just_the_error(radius: float, sweep: float, n: int) -> None:
    away = [math.hypot(*corner) - radius for corner in facets.facet_corners(radius, sweep, n)]
    assert away == pytest.approx([facets.facet_error(radius, sweep, n)] * (n + 1), rel=1e-6, abs=1e-12)


@pytest.mark.parametrize("convex", [True, False])
def test_each_facet_lies_at_its_angle(convex: bool) -> None:
    corners = facets.facet_corners(10, 1.2, 4, convex=convex)
    for (x1, y1), (x2, y2), angle in zip(
        corners, corners[1:], facets.facet_angles(1.2, 4, convex=convex), strict=False
    ):
        # The tangent at the start runs along the second axis.
        assert math.atan2(x1 - x2, y2 - y1) == pytest.approx(angle)


def test_concave_facets_start_and_end_on_the_arc() -> None:
    corners = facets.facet_corners(10, math.pi / 2, 3, convex=False)
    assert corners[0] == pytest.approx((10, 0))
    assert corners[-1] == pytest.approx((0, 10), abs=1e-12)


def test_a_very_small_error_still_has_a_number() -> None:
    assert facets.facets_for(1e-9, 10, 1.0) == pytest.approx(1 / (2 * math.sqrt(2e-10)), rel=1e-4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: facets.facet_angles(0, 3),
        lambda: facets.facet_angles(2, 3),
        lambda: facets.facet_error(10, 1, 0),
        lambda: facets.facet_error(-1, 1, 2),
        lambda: facets.facets_for(0, 10, 1),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]
