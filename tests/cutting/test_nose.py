import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import nose
from ovolo.errors import FaultsFound

RADII = st.floats(0.2, 10)
PART_RADII = st.floats(1, 500)


@given(r=RADII, share=st.floats(0.001, 1))
def test_the_flat_spacing_undoes_the_feed_mark(r: float, share: float) -> None:
    spacing = nose.spacing_flat(share * r, r)
    assert nose.feed_mark(min(spacing, 2 * r), r) == pytest.approx(share * r, rel=1e-6)


@given(r=RADII, big=PART_RADII, share=st.floats(0.001, 0.95))
def test_the_convex_spacing_undoes_the_convex_ridge(r: float, big: float, share: float) -> None:
    spacing = share * 2 * big * math.asin(r / (big + r))
    assert nose.spacing_convex(nose.ridge_convex(spacing, r, big), r, big) == pytest.approx(spacing, rel=1e-6)


@given(r=RADII, ratio=st.floats(1.05, 50), share=st.floats(0.01, 0.95))
def test_the_concave_spacing_undoes_the_concave_ridge(r: float, ratio: float, share: float) -> None:
    big = r * ratio
    most = math.asin(1 / (ratio - 1)) if ratio > 2 else math.pi / 2
    spacing = share * 2 * big * most
    assert nose.spacing_concave(nose.ridge_concave(spacing, r, big), r, big) == pytest.approx(spacing, rel=1e-6)


@given(r=RADII, ratio=st.floats(1.5, 50), share=st.floats(0.01, 0.5))
def test_convex_is_always_worse_than_flat_and_concave_better(r: float, ratio: float, share: float) -> None:
    spacing, big = share * r, r * ratio
    flat = nose.feed_mark(spacing, r)
    assert nose.ridge_concave(spacing, r, big) < flat < nose.ridge_convex(spacing, r, big)


@given(r=RADII, big=PART_RADII)
def test_small_steps_follow_the_small_step_law(r: float, big: float) -> None:
    spacing = 0.01 * min(r, big)
    assert nose.ridge_convex(spacing, r, big) == pytest.approx(nose.ridge_small(spacing, r, 1 / big), rel=1e-3)


def test_a_nearly_straight_arc_is_a_straight_line() -> None:
    assert nose.ridge_convex(0.2, 0.8, 1e7) == pytest.approx(nose.feed_mark(0.2, 0.8), rel=1e-6)


def test_a_nose_that_fills_the_hollow_leaves_nothing() -> None:
    assert nose.ridge_concave(2.0, 3.0, 3.0) == pytest.approx(0, abs=1e-12)


@given(angle=st.floats(0.01, math.pi / 2 - 0.01), r=RADII)
def test_the_tip_offset_shifts_the_taper_by_its_normal_error(angle: float, r: float) -> None:
    left, offset = nose.ignored_nose_on_taper(angle, r), nose.tip_offset(angle, r)
    assert offset.length * math.sin(angle) == pytest.approx(left, rel=1e-9)
    assert offset.diameter / 2 * math.cos(angle) == pytest.approx(left, rel=1e-9)


@given(r=RADII, share=st.floats(0.05, 1))
def test_a_groove_of_known_nose_gives_the_nose_back(r: float, share: float) -> None:
    depth = share * r
    width = 2 * math.sqrt(2 * r * depth - depth**2)
    assert nose.nose_from_groove(max(width, 2 * depth), depth).radius == pytest.approx(r, rel=1e-9)


def test_the_groove_uncertainty_is_the_change_for_one_u() -> None:
    by_hand = nose.nose_from_groove(4.001, 0.7).radius - nose.nose_from_groove(3.999, 0.7).radius
    assert nose.nose_from_groove(4, 0.7, u_width=0.001).u == pytest.approx(by_hand / 2, rel=1e-4)
    deeper = nose.nose_from_groove(4, 0.701).radius - nose.nose_from_groove(4, 0.699).radius
    assert nose.nose_from_groove(4, 0.7, u_depth=0.001).u == pytest.approx(-deeper / 2, rel=1e-4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: nose.feed_mark(2.0, 0.8),
        lambda: nose.feed_mark(-0.1, 0.8),
        lambda: nose.feed_mark(math.nan, 0.8),
        lambda: nose.ridge_convex(3.0, 0.8, 10),
        lambda: nose.ridge_concave(0.1, 3.0, 2.0),
        lambda: nose.ridge_small(0.1, 3.0, -1.0),
        lambda: nose.spacing_concave(9.0, 0.8, 10),
        lambda: nose.ignored_nose_on_arc(0.4, 0.8, convex=True),
        lambda: nose.nose_from_groove(2.0, 1.5),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]
