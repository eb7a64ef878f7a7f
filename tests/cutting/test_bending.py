import math
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from ovolo.cutting import bending
from ovolo.cutting.bending import Section, Support, bar_bends, second_moment
from ovolo.cutting.materials import BAR_STIFFNESS
from ovolo.errors import FaultsFound

E = 200_000.0
I20 = second_moment(20)
SUPPORTS: tuple[Support, ...] = get_args(Support)
BARS = st.lists(
    st.builds(Section, st.floats(1, 100), st.floats(3, 50), st.floats(3, 50), st.sampled_from([0.0, 1.0, 2.5])),
    min_size=1,
    max_size=5,
)
SHARES = st.floats(0, 1)


@pytest.mark.parametrize("place", [10.0, 75.0, 150.0, 190.0])
def test_a_bar_of_one_diameter_follows_the_handbook(place: float) -> None:
    bar = [Section(120, 20, 20), Section(80, 20, 20)]
    assert bar_bends(100, place, bar, E) == pytest.approx(bending.bends_in_chuck(100, place, E, I20))
    assert bar_bends(100, place, bar, E, "between centres") == pytest.approx(
        bending.bends_between_centres(100, place, 200, E, I20)
    )
    assert bar_bends(100, place, bar, E, "chuck and tailstock") == pytest.approx(
        bending.bends_chuck_and_tailstock(100, place, 200, E, I20)
    )


def test_the_free_end_beyond_the_force() -> None:
    assert bar_bends(100, 60, [Section(100, 20, 20)], E, "chuck", read=100) == pytest.approx(
        bending.end_moves(100, 60, 40, E, I20)
    )


def test_the_place_of_the_most_is_where_the_bar_bends_most() -> None:
    most, from_centre = bending.most_between_chuck_and_tailstock(100, 200, E, I20)
    bar = [Section(200, 20, 20)]

    def at(place: float) -> float:
        return bar_bends(100, 100, bar, E, "chuck and tailstock", read=place)

    assert at(200 - from_centre) == pytest.approx(most)
    assert at(200 - from_centre) > max(at(200 - from_centre - 1), at(200 - from_centre + 1))


@given(bar=BARS, one=SHARES, other=SHARES, support=st.sampled_from(SUPPORTS))
def test_force_and_reading_may_change_places(bar: list[Section], one: float, other: float, support: Support) -> None:
    length = math.fsum(section.length for section in bar)
    there = bar_bends(1, one * length, bar, E, support, read=other * length)
    back = bar_bends(1, other * length, bar, E, support, read=one * length)
    most = bar_bends(1, one * length, bar, E, "chuck") + bar_bends(1, other * length, bar, E, "chuck")
    assert there == pytest.approx(back, rel=1e-6, abs=1e-9 * most + 1e-18)


@given(bar=BARS, share=st.floats(0.05, 0.95))
def test_a_tailstock_always_helps(bar: list[Section], share: float) -> None:
    place = share * math.fsum(section.length for section in bar)
    assert bar_bends(1, place, bar, E, "chuck and tailstock") <= bar_bends(1, place, bar, E, "chuck") * (1 + 1e-9)


def test_a_cone_agrees_with_numerical_integration() -> None:
    length, a, b = 80.0, 24.0, 9.0

    def integrand(z: float) -> float:
        return (length - z) ** 2 / (E * second_moment(a + (b - a) * z / length))

    assert bar_bends(1, length, [Section(length, a, b)], E) == pytest.approx(quad(integrand, 0, length)[0], rel=1e-10)


def test_many_thin_discs_tend_to_the_cone() -> None:
    discs = [Section(0.1, 20 - (k + 0.5) * 0.01, 20 - (k + 0.5) * 0.01) for k in range(1000)]
    assert bar_bends(1, 100, discs, E) == pytest.approx(bar_bends(1, 100, [Section(100, 20, 10)], E), rel=1e-5)


def test_a_neck_at_the_chuck_costs_more_than_one_at_the_end() -> None:
    at_chuck = [Section(20, 10, 10), Section(80, 20, 20)]
    at_end = [Section(80, 20, 20), Section(20, 10, 10)]
    assert bar_bends(1, 100, at_chuck, E) > 5 * bar_bends(1, 100, at_end, E)


def test_a_stepped_bar_by_hand() -> None:
    # Moment-area by hand: thick 60 long (I1), thin 40 long (I2), force at the end.
    thick, thin = second_moment(20), second_moment(10)
    by_hand = (100**3 - 40**3) / (3 * E * thick) + 40**3 / (3 * E * thin)
    assert bar_bends(1, 100, [Section(60, 20, 20), Section(40, 10, 10)], E) == pytest.approx(by_hand)


def test_a_drilled_bar_is_exact() -> None:
    drilled = bending.bends_in_chuck(50, 60, E, second_moment(20, 12))
    assert bar_bends(50, 60, [Section(60, 20, 20, 12)], E) == pytest.approx(drilled)


def test_no_force_at_a_support_bends_anything() -> None:
    bar = [Section(100, 20, 10)]
    assert bar_bends(100, 0, bar, E) == 0
    assert bar_bends(100, 100, bar, E, "chuck and tailstock") == pytest.approx(0, abs=1e-12)
    assert bar_bends(100, 100, bar, E, "between centres") == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: bar_bends(1, 10, [], E),
        lambda: bar_bends(1, 110, [Section(100, 20, 20)], E),
        lambda: bar_bends(1, 10, [Section(100, 20, 0)], E),
        lambda: bar_bends(1, 10, [Section(100, 20, 20, 20)], E),
        lambda: bar_bends(1, 10, [Section(100, 20, 20)], 0),
        lambda: bar_bends(math.nan, 10, [Section(100, 20, 20)], E),
        lambda: bending.bends_in_chuck(math.inf, 60, E, I20),
        lambda: second_moment(0),
        lambda: second_moment(10, 10),
        lambda: bending.bends_between_centres(1, 300, 200, E, I20),
        lambda: bending.overhang_ratio(60, 0),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]


def test_every_bar_material_has_an_overhang_and_a_stiffness() -> None:
    assert set(bending.BAR_OVERHANG_LIMIT) == set(BAR_STIFFNESS)
