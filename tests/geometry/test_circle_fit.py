"""Circles through points; published sets are in tests/validation."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.errors import FaultsFound
from ovolo.geometry.circle_fit import fit_circle
from ovolo.geometry.segments import Point


@given(
    st.floats(-50, 50),
    st.floats(-50, 50),
    st.floats(0.5, 200),
    st.floats(0, 6.28),
    st.floats(0.5, 6.2),
    st.integers(4, 20),
)
def test_points_on_a_circle_lie_on_it(x: float, y: float, r: float, turn: float, span: float, many: int) -> None:
    angles = np.linspace(turn, turn + span, many)
    circle = fit_circle([Point(x + r * math.cos(a), y + r * math.sin(a)) for a in angles])
    assert circle.radius == pytest.approx(r, rel=1e-6)
    assert circle.left < 1e-7 * r


def test_a_short_arc_is_known_less_well() -> None:
    def u(span: float) -> float:
        return fit_circle([Point(9 * math.cos(a), 9 * math.sin(a)) for a in np.linspace(0, span, 9)]).u_radius

    assert u(0.5) > 15 * u(2.0)


@pytest.mark.parametrize("points", [[], [Point(0, 0), Point(1, 1)], [Point(float(i), 2.0 * i) for i in range(5)]])
def test_what_makes_no_circle_is_refused(points: list[Point]) -> None:
    with pytest.raises(FaultsFound):
        fit_circle(points)
