import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import force as cutting
from ovolo.cutting.force import Chip
from ovolo.errors import FaultsFound

LATHE = (70, 115, 200, 360, 600, 1000)


@given(bite=st.floats(0.01, 5), feed=st.floats(0.01, 0.5), angle=st.floats(0.2, 2.9))
def test_the_area_of_the_chip_is_bite_times_feed(bite: float, feed: float, angle: float) -> None:
    straight = cutting.chip_of_edge(bite, feed, angle)
    assert straight.width * straight.thickness == pytest.approx(bite * feed)
    round_nose = cutting.chip_of_nose(bite, feed, 3.0)
    assert round_nose.width * round_nose.thickness == pytest.approx(bite * feed)


def test_a_nose_buried_to_its_radius_cuts_over_a_quarter_turn() -> None:
    assert cutting.chip_of_nose(3, 0.1, 3).width == pytest.approx(3 * math.pi / 2)
    assert cutting.chip_of_nose(0, 0.1, 3) == (0, 0)


def test_the_same_metal_in_a_thinner_chip_takes_more_force() -> None:
    thick, thin = cutting.cutting_force(Chip(1, 0.2), 1780, 0.17), cutting.cutting_force(Chip(4, 0.05), 1780, 0.17)
    assert thin / thick == pytest.approx(4**0.17)


def test_load_says_when_it_guesses() -> None:
    assert not cutting.cut_load(Chip(1, 0.05), 1780, 0.17, 30).guess
    load = cutting.cut_load(Chip(1, 0.049), 1780, 0.17, 30)
    assert load.guess
    assert load.power == pytest.approx(load.force / 2)


@given(force=st.floats(1, 5000), h=st.floats(0.01, 1))
def test_the_widest_chip_takes_just_the_force(force: float, h: float) -> None:
    width = cutting.widest_chip(force, h, 1160, 0.26)
    assert cutting.cutting_force(Chip(width, h), 1160, 0.26) == pytest.approx(force)


@given(speed=st.floats(5, 300), diameter=st.floats(1, 300), limit=st.floats(70, 2000))
def test_no_choice_ever_exceeds_the_chuck(speed: float, diameter: float, limit: float) -> None:
    choice = cutting.choose_spindle(speed, diameter, LATHE, limit)
    assert choice.rpm in LATHE
    assert choice.rpm <= limit
    assert choice.speed <= speed * (1 + 1e-12) or choice.rpm == LATHE[0]


@pytest.mark.parametrize(
    ("speed", "diameter", "limit", "rpm", "why"),
    [
        (30, 25, None, 360, "next below 382"),
        (30, 2, None, 1000, "the fastest; 4775 rev/min would suit"),
        (30, 2, 800, 600, "the limit of 800"),
        (10, 100, None, 70, "the slowest; 32 rev/min would suit"),
        (30, 25, 1500, 360, "next below"),
    ],
)
def test_the_choice_says_why(speed: float, diameter: float, limit: float | None, rpm: float, why: str) -> None:
    choice = cutting.choose_spindle(speed, diameter, reversed(LATHE), limit)
    assert choice.rpm == rpm
    assert why in choice.why


def test_a_chuck_too_slow_for_the_lathe_is_refused() -> None:
    with pytest.raises(FaultsFound, match=r"slowest speed.*given: 70; allowed: 0 to 50"):
        cutting.choose_spindle(30, 25, LATHE, 50)
    with pytest.raises(FaultsFound, match="no speed is listed"):
        cutting.choose_spindle(30, 25, ())
    with pytest.raises(FaultsFound, match="spindle speeds"):
        cutting.choose_spindle(30, 25, (0, 100))


def test_winding_twice_as_fast_for_half_the_thread() -> None:
    assert cutting.hand_feed(0.1, 600, 1) == 2 * cutting.hand_feed(0.1, 600, 2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: cutting.chip_of_edge(1, 0.1, 0),
        lambda: cutting.chip_of_nose(7, 0.1, 3),
        lambda: cutting.cutting_force(Chip(-1, 0.1), 1780, 0.17),
        lambda: cutting.cutting_force(Chip(1, 0.1), 1780, 1.2),
        lambda: cutting.wanted_speed(30, 0),
        lambda: cutting.unit_power(math.nan),
        lambda: cutting.energy_from_force(-1),
        lambda: cutting.hand_feed(0.1, 600, 0),
        lambda: cutting.thinnest_chip(-0.1, 0.3),
    ],
)
def test_what_a_formula_does_not_cover_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]


def test_a_wide_edge_with_little_feed_is_slender() -> None:
    assert cutting.slenderness(cutting.chip_of_nose(1.5, 0.02, 3)) > cutting.MOST_SLENDER
    assert cutting.slenderness(cutting.chip_of_nose(0.3, 0.1, 3)) < cutting.MOST_SLENDER
    with pytest.raises(FaultsFound, match="chip thickness"):
        cutting.slenderness(Chip(1, 0))


def test_thrust_and_thinnest_chip() -> None:
    assert cutting.thrust(200, 0.3) == pytest.approx(60)
    assert cutting.thinnest_chip(0.03, 0.4) == pytest.approx(0.012)
