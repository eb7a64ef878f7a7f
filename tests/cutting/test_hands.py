import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import hands
from ovolo.errors import FaultsFound


@given(along=st.floats(-20, 20), across=st.floats(-20, 20), ahead=st.floats(0, 1))
def test_the_way_off_is_where_the_model_says(along: float, across: float, ahead: float) -> None:
    way = math.hypot(along, across)
    if way < 1e-6:
        return
    # At the middle one slide is at half its way, the other ahead by p of its own: distance from the line by area.
    z, r = along / 2, across * (0.5 + ahead)
    assert hands.out_of_proportion(along, across, ahead) == pytest.approx(abs(z * across - r * along) / way, abs=1e-9)


def test_nothing_where_one_slide_stands_still_and_most_at_45_degrees() -> None:
    assert hands.out_of_proportion(0, 3, 0.2) == hands.out_of_proportion(3, 0, 0.2) == 0
    assert hands.out_of_proportion(0, 0, 0.2) == 0
    offs = [hands.out_of_proportion(math.cos(a), math.sin(a), 0.2) for a in (0.3, math.pi / 4, 1.2)]
    assert max(offs) == offs[1]


def test_steady_hands_still_gouge_a_convex_arc_and_never_a_concave_one() -> None:
    convex = hands.wound_along_arc(1, 3, 9, math.pi / 4, 0, convex=True)
    assert convex.gouge == pytest.approx(12 * (1 - math.cos(1 / 18)))
    assert convex.left == 0
    concave = hands.wound_along_arc(1, 3, 9, math.pi / 4, 0, convex=False)
    assert concave.gouge == 0
    assert concave.left == pytest.approx(6 * (1 - math.cos(1 / 18)))


@given(spacing=st.floats(0.05, 3), ahead=st.floats(0, 0.5), convex=st.booleans())
def test_closer_stations_gouge_less(spacing: float, ahead: float, convex: bool) -> None:
    far, near = (hands.wound_along_arc(s, 3, 9, math.pi / 4, ahead, convex=convex) for s in (spacing, spacing / 2))
    assert near.gouge <= far.gouge + 1e-12 or not convex
    assert near.left <= far.left + 1e-12 or convex


@pytest.mark.parametrize(
    "call",
    [
        lambda: hands.out_of_proportion(1, 1, 1.5),
        lambda: hands.out_of_proportion(math.nan, 1, 0.1),
        lambda: hands.wound_along_arc(1, 9, 9, 0.5, 0.1, convex=False),
        lambda: hands.wound_along_arc(20, 3, 9, 0.5, 0.1, convex=True),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]
