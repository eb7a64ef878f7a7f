import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import swing
from ovolo.errors import FaultsFound


@given(radius=st.floats(2, 50), share=st.floats(0, 0.9))
def test_a_fixture_set_right_makes_a_true_ball(radius: float, share: float) -> None:
    ball = swing.swung_ball(radius, stem=2 * radius * share)
    assert ball.diameter == pytest.approx(2 * radius)
    assert ball.pole == pytest.approx(radius)
    assert ball.pip == 0
    assert ball.off_round == pytest.approx(0, abs=1e-12 * radius)


@given(radius=st.floats(2, 50), angle=st.floats(-1.5, 1.5))
def test_a_true_ball_is_a_ball_at_every_angle(radius: float, angle: float) -> None:
    assert math.hypot(*swing.swung_point(radius, angle)) == pytest.approx(radius)


def test_set_over_makes_too_large_and_dimpled_or_too_small_and_pointed() -> None:
    large, small = swing.swung_ball(10, 0.1), swing.swung_ball(10, -0.1)
    assert large.diameter == pytest.approx(20.2)
    assert small.diameter == pytest.approx(19.8)
    # Dimpled: beyond the quarter turn the surface falls back; both poles are e^2/2R short.
    assert large.pole == pytest.approx(10 - 0.1**2 / 20, abs=1e-6)
    assert swing.swung_point(10, math.pi / 2, 0.1)[0] > large.pole
    assert small.pole == pytest.approx(large.pole)
    assert large.off_round == pytest.approx(0.1, rel=0.01)


def test_height_error_leaves_a_pip_and_hardly_touches_the_diameter() -> None:
    ball = swing.swung_ball(10, height_error=0.1)
    assert ball.pip == pytest.approx(0.2)
    assert ball.diameter - 20 == pytest.approx(2 * 0.1**2 / 20, rel=1e-3)


def test_sampling_has_settled() -> None:
    coarse = swing.swung_ball(10, 0.1, 0.05, stem=8).off_round
    angles = [-math.acos(0.4) + k * 1e-5 for k in range(300_000)]
    pole = math.acos(-0.01)
    away = [math.hypot(*swing.swung_point(10, a, 0.1, 0.05)) for a in angles if a <= pole]
    assert coarse == pytest.approx(max(away) - min(away), abs=1e-4)


def test_swing_needed() -> None:
    assert math.degrees(swing.swing_needed(30, 0)) == pytest.approx(180)
    assert math.degrees(swing.swing_needed(30, 30)) == pytest.approx(90)


@pytest.mark.parametrize(
    "call",
    [
        lambda: swing.swung_ball(0),
        lambda: swing.swung_point(10, math.nan),
        lambda: swing.swung_ball(10, height_error=math.inf),
        lambda: swing.swung_ball(10, 6),
        lambda: swing.swung_ball(10, stem=21),
        lambda: swing.swing_needed(30, 31),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]
