import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from ovolo.cutting.scatter import Errors, Touch, nose_share, outlook, station_budget
from ovolo.errors import FaultsFound

NONE = Errors(**dict.fromkeys(vars(Errors()), 0.0))
DOME = [Touch(9 * math.sin(k * math.pi / 58), k * math.pi / 58, 0.02) for k in range(30)]
BAR = [Touch(9, math.pi / 2, 0.02)] * 30


def test_without_errors_the_ridge_is_all_that_stands() -> None:
    seen = outlook(DOME, NONE)
    assert seen.band.value == pytest.approx(0.02)
    assert seen.band.u == pytest.approx(0, abs=1e-12)
    assert (seen.below, seen.margin, seen.u_first) == (0, 0, 0)


@pytest.mark.parametrize("chance", [0.01, 0.05, 0.2])
def test_settings_alone_give_the_known_chance_of_thirty_draws(chance: float) -> None:
    # The least of n normal deviations stays above -m with the chance Phi(m/u)^n.
    seen = outlook(BAR, replace(NONE, setting_r=0.01), runs=60_000, chance=chance)
    assert seen.margin == pytest.approx(0.01 * norm.ppf((1 - chance) ** (1 / 30)), rel=0.02)
    assert seen.below == pytest.approx(1, abs=1e-4)


def test_touching_off_moves_a_bar_and_does_not_roughen_it() -> None:
    seen = outlook(BAR, replace(NONE, touching_r=0.01), runs=20_000)
    assert seen.band.value == pytest.approx(0.02)
    assert seen.deepest.u == pytest.approx(0.01, rel=0.03)
    assert seen.below == pytest.approx(0.5, abs=4 * seen.below_error)
    assert seen.margin == pytest.approx(0.016449, rel=0.03)


def test_the_top_of_a_ridge_moves_with_the_mean_of_its_two_settings() -> None:
    """Two settings, each off by a normal error u: top less bottom is the ridge plus half their distance, and the mean
    distance of two normal deviates is 2 u / sqrt(pi); by the higher of the two it would be twice that."""
    seen = outlook([Touch(9, math.pi / 2, 0.05)] * 2, replace(NONE, setting_r=0.01), runs=40_000)
    assert seen.band.value == pytest.approx(0.05 + 0.01 / math.sqrt(math.pi), rel=0.005)


def test_standing_off_by_the_margin_keeps_the_chance() -> None:
    bad = Errors(play_r=0.02, play_z=0.02)
    margin = outlook(DOME, bad, seed=5).margin
    # Metal left everywhere is the same as work that gives way by as much, always.
    safe = [touch._replace(bends=margin) for touch in DOME]
    again = outlook(safe, replace(bad, force=0), seed=6)
    assert again.below == pytest.approx(0.05, abs=0.012)


@given(
    angle=st.floats(0, math.pi / 2),
    size=st.floats(0.001, 0.05),
    which=st.sampled_from(["setting_z", "setting_r", "count_r", "play_z", "touching_z", "nose"]),
)
def test_first_order_and_draws_agree_where_the_model_is_straight(angle: float, size: float, which: str) -> None:
    errors = replace(replace(NONE, setting_r=0.002), **{which: size})
    seen = outlook([Touch(9, angle, 0.01)], errors, runs=4_000)
    assert seen.u_drawn == pytest.approx(seen.u_first, rel=0.06, abs=1e-9)


def test_a_wrong_nose_does_no_harm_on_faces_and_cylinders() -> None:
    errors = replace(NONE, nose=0.1)
    left = [station_budget(Touch(9, angle), errors).u for angle in (0, math.pi / 4, math.pi / 2)]
    assert left == pytest.approx([0, 0.1 * (math.sqrt(2) - 1), 0], abs=1e-12)


def test_height_leaves_metal_near_the_axis_and_never_gouges() -> None:
    seen = [outlook([Touch(radius, math.pi / 2)], replace(NONE, height=0.2)) for radius in (1.0, 20.0)]
    assert seen[0].deepest.value > 5 * seen[1].deepest.value > 0
    assert seen[0].below == seen[1].below == 0


def test_bending_leaves_metal_by_its_own_share() -> None:
    seen = outlook([Touch(9, math.pi / 2, bends=0.04)], replace(NONE, force=0.25), runs=20_000)
    assert seen.deepest.value == pytest.approx(0.04, rel=0.02)
    assert seen.u_drawn == pytest.approx(seen.u_first, rel=0.03) == pytest.approx(0.01, rel=0.03)


def test_who_contributes_what_is_named() -> None:
    budget = station_budget(Touch(9, 0.3, bends=0.01), Errors())
    largest = max(budget.contributions, key=lambda row: row.u)
    assert largest.name == "touching_z"
    assert math.hypot(*(row.u for row in budget.contributions)) == pytest.approx(budget.u)


def test_the_same_seed_the_same_figures() -> None:
    assert outlook(DOME, Errors(), seed=3) == outlook(DOME, Errors(), seed=3) != outlook(DOME, Errors(), seed=4)


def test_the_figures_settle_with_the_runs() -> None:
    few, many = (outlook(DOME, Errors(), runs=runs) for runs in (1_000, 100_000))
    assert many.band.u_error < few.band.u_error / 3
    assert many.band.settled(0.002)
    assert abs(few.band.value - many.band.value) < 5 * few.band.value_error


@pytest.mark.parametrize(
    ("call", "where"),
    [
        (lambda: Errors(setting_z=-0.01), "setting_z"),
        (lambda: outlook([], Errors()), "no setting"),
        (lambda: outlook(DOME, Errors(), runs=50), "runs"),
        (lambda: outlook([Touch(-1, 0)], Errors()), "radius of setting 1"),
        (lambda: outlook([Touch(1, math.nan)], Errors()), "normal of setting 1"),
    ],
)
def test_what_does_not_make_sense_is_refused(call: object, where: str) -> None:
    with pytest.raises(FaultsFound, match=where):
        call()  # type: ignore[operator]


def test_in_a_bore_a_larger_nose_leaves_metal_too() -> None:
    """On its cylinder nothing (it was touched off there), at 45 degrees r (sqrt 2 - 1), on either surface."""
    for side in (1, -1):
        at_45 = station_budget(Touch(9, side * math.pi / 4), Errors(nose=0.02))
        (nose,) = [part for part in at_45.contributions if part.name == "nose"]
        assert abs(nose.u) == pytest.approx(0.02 * (math.sqrt(2) - 1), rel=1e-4)


@pytest.mark.parametrize("end", [-1, 1])
@pytest.mark.parametrize("degrees", [10, 45, 80, 100, 135, 170])
def test_a_wrong_nose_against_two_circles(end: int, degrees: float) -> None:
    """A tool is touched off by the corner of the square about its nose; the true nose is larger by d. The surface that
    it leaves, by the two circles themselves: the larger one inside the same corner, along the inward normal."""
    d, r, angle = 0.05, 0.4, math.radians(degrees)
    corner = (end * r, -r)  # seen from the assumed nose centre
    centre = (corner[0] - end * (r + d), corner[1] + (r + d))
    inward = (-math.cos(angle), -math.sin(angle))
    assumed, true = r, centre[0] * inward[0] + centre[1] * inward[1] + r + d
    assert nose_share(angle, end) * d == pytest.approx(assumed - true, abs=1e-12)


def test_a_left_hand_tool_leads_behind_a_crest() -> None:
    """The hollow of a pawl: the left-hand tool leaves there what a right-hand one would cut away."""
    behind = math.radians(110)
    assert nose_share(behind, 1.0) == pytest.approx(0.2817, abs=1e-4)
    assert nose_share(behind, -1.0) == pytest.approx(-0.4023, abs=1e-4)


def test_stations_off_the_outline_need_less_to_be_left_on() -> None:
    near = outlook(BAR, replace(NONE, setting_r=0.01), runs=20_000)
    off = outlook([touch._replace(away=0.004) for touch in BAR], replace(NONE, setting_r=0.01), runs=20_000)
    assert off.margin == pytest.approx(near.margin - 0.004, abs=1e-12)
    assert off.high == pytest.approx(near.high, abs=1e-12)  # a ridge is measured above the outline already


def test_more_skill_is_never_worse() -> None:
    """Half of every error: a narrower range, a smaller chance of too deep a place."""
    half = Errors(**{name: value / 2 for name, value in vars(Errors()).items()})
    usual, better = (outlook(DOME, errors, depth=0.03) for errors in (Errors(), half))
    assert better.high - better.low < 0.7 * (usual.high - usual.low) + 0.02
    assert better.below < usual.below
    assert better.low > usual.low


def test_the_largest_share_is_that_of_the_largest_error() -> None:
    for kind, errors in (("nose", Errors(nose=0.5)), ("setting", Errors(setting_z=0.2)), ("touching off", Errors())):
        assert outlook(DOME, errors, runs=1000).shares[0].kind == kind
    assert outlook(DOME, NONE, runs=200).shares == ()


def test_each_tool_is_touched_off_by_itself() -> None:
    """Two settings side by side on a cylinder: of one tool they go up and down together, of two they do not."""
    errors = Errors(setting_z=0, setting_r=0, count_z=0, count_r=0, height=0, nose=0, force=0)
    one = outlook([Touch(9, math.pi / 2), Touch(9, math.pi / 2)], errors, runs=2000)
    two = outlook([Touch(9, math.pi / 2), Touch(9, math.pi / 2, tool=1)], errors, runs=2000)
    assert one.band.value == pytest.approx(0, abs=1e-9)
    # Of two that are off independently by 0.01 the lower lies 0.01 / √π under their mean: the mean of a folded normal.
    assert two.band.value == pytest.approx(0.01 / math.sqrt(math.pi), rel=0.1)
