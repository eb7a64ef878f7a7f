"""Loads of plans: figures that follow from the published law, and what is said where it is too much."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.documents.jobs import pin
from tests.predict.loads.test_engaged import one_move

from ovolo.cutting.bending import bends_in_chuck, second_moment
from ovolo.cutting.force import chip_of_nose, cutting_force
from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.planner import make_plan
from ovolo.predict.loads.load import BENDING_SHARE, Kind, Loads, loads

Changes = dict[str, object]
STEEL: Changes = {"part.material": "mild steel"}


def _pass(bite: float, changes: Changes | None = None) -> Loads:
    return loads(one_move(Point(6, 13 - bite), Point(-15, 13 - bite), STEEL | (changes or {})))


def _planned(changes: Changes) -> Loads:
    return loads(make_plan(job_from_data(pin(STEEL | changes))))


def _kinds(found: Loads) -> set[Kind]:
    return {over.kind for over in found.overloads}


@settings(max_examples=15)
@given(st.floats(0.2, 1.5))
def test_a_pass_along_the_bar_has_the_force_of_its_chip(bite: float) -> None:
    """St 42, k 1780, m 0.17; nose R 3; feed 0.1: the closed form of the chip and Kienzle's law."""
    load = _pass(bite).moves[0]
    expected = cutting_force(chip_of_nose(bite, 0.1, 3), 1780, 0.17)
    assert load.force == pytest.approx(expected, rel=0.08)
    assert load.power == pytest.approx(load.force * math.pi * 20 * load.rpm / 60_000, rel=0.01)


def test_a_plain_bar_bends_as_the_handbook_says() -> None:
    """Case 11 with half the cutting force, of which the slope of the chord turns a part along the axis."""
    load = _pass(1.0).moves[0]
    angle = math.acos(1 - 1 / 3)
    push = 0.5 * load.force * math.sin(angle) / angle
    assert load.bends is not None
    assert load.bends < bends_in_chuck(push, 35.5, 200_000, second_moment(20))
    assert load.bends > bends_in_chuck(push, 30, 200_000, second_moment(20))


def test_a_centre_stiffens_the_bar() -> None:
    bends = [_pass(1.0, {"lathe": {"holding": held}}).moves[0].bends for held in ("chuck", "chuck and centre")]
    assert bends[0] is not None
    assert bends[1] is not None
    assert bends[1] < bends[0] / 4


def test_a_deeper_bite_asks_for_more() -> None:
    loads_of = [_pass(bite).moves[0] for bite in (0.3, 0.6, 1.2)]
    assert [load.force for load in loads_of] == sorted(load.force for load in loads_of)
    assert [load.bends for load in loads_of] == sorted(load.bends or 0 for load in loads_of)


def test_a_weak_motor_is_named_with_the_moves_and_a_remedy() -> None:
    assert "motor" not in _kinds(_pass(1.0, {"lathe": {"motor_w": 550}}))
    (over,) = [over for over in _pass(1.0, {"lathe": {"motor_w": 60}}).overloads if over.kind == "motor"]
    assert over.moves == (1,)
    assert "45 W" in over.says
    assert "smaller bite" in over.remedy


def test_a_long_bar_is_to_be_supported() -> None:
    assert "overhang" not in _kinds(_planned({}))
    long = _planned({"stock.stick_out": 120})
    assert "overhang" in _kinds(long)
    assert "overhang" not in _kinds(_planned({"stock.stick_out": 120, "lathe": {"holding": "chuck and centre"}}))


def test_a_quarter_of_the_ridge_may_bend_away() -> None:
    """Our choice, as the fault says it: with a ridge of 0.05 a finishing cut may push the work away by 0.0125."""
    found = _planned({"stock.stick_out": 120, "lathe": {"speeds": [300]}})
    bends = {load.n: load.bends or 0.0 for load in found.moves}
    (over,) = [over for over in found.overloads if over.kind == "bending"]
    assert "over 25 %" in over.says
    assert min(bends[n] for n in over.moves) > 0.0125
    assert sum(0.0125 < bend < 0.025 for bend in bends.values()) > 0


def test_bending_is_held_against_the_ridge_in_finishing_only() -> None:
    found = _planned({"stock.stick_out": 150})
    (over,) = [over for over in found.overloads if over.kind == "bending"]
    for load in found.moves:
        too_much = load.bends is not None and load.bends > BENDING_SHARE * 0.05
        assert (load.n in over.moves) <= too_much
    heavy = max(found.moves, key=lambda load: load.bends or 0)
    assert heavy.bends is not None
    assert heavy.bends > BENDING_SHARE * 0.05


def test_thin_chips_in_stainless_are_for_the_file() -> None:
    found = _planned({"part.material": "stainless steel", "tool.0.material": "carbide"})
    (over,) = [over for over in found.overloads if over.kind == "thin"]
    assert "file it" in over.remedy
    assert any("hardens" in text for text in found.missing)
    assert "thin" not in _kinds(_planned({}))


def test_a_long_edge_with_a_thin_chip_may_chatter() -> None:
    thin = _pass(0.06)
    assert "chatter" not in _kinds(thin)  # 0.6 mm of edge
    wide = _pass(0.2, {"lathe": {}, "tool.0.nose_radius": 3, "slide.saddle": {"per_turn": 0.3}})  # wound 0.046 a turn
    assert wide.moves[0].chip.width > 1
    assert "chatter" in _kinds(wide)


def test_what_is_not_known_is_said() -> None:
    nothing = loads(one_move(Point(6, 12), Point(-15, 12)))
    assert nothing.moves == ()
    assert "material" in nothing.missing[0]
    assert nothing.of(1) is None
    loose = loads(make_plan(job_from_data(pin(STEEL | {"stock": {"diameter": 20, "proud": 0.5}}))))
    assert all(load.bends is None for load in loose.moves)
    assert any("stick_out" in text for text in loose.missing)


BORE: Changes = {
    "part.material": "bronze",
    "part.surface": "bore",
    "part.outline": [{"z": 0, "d": 14}, {"z": -10, "d": 10, "concave": 40}, {"z": -12, "d": 10}],
    "part.curve": [0, -10],
    "stock.diameter": 30,
    "stock.hole": 8,
    "tool.0.nose_radius": 1,
}


def test_a_boring_bar_bends_with_its_own_length() -> None:
    def bends(overhang: float) -> float:
        bar = {"tool.0.bar_diameter": 6, "tool.0.overhang": overhang}
        found = loads(one_move(Point(3, 3.8), Point(-5, 3.8), BORE | bar)).moves[0].bends
        assert found is not None
        return found

    assert bends(40) == pytest.approx(8 * bends(20), rel=0.1)  # the tube itself hardly gives
    long = loads(one_move(Point(3, 3.8), Point(-5, 3.8), BORE | {"tool.0.bar_diameter": 6, "tool.0.overhang": 40}))
    assert "bar" in _kinds(long)


def test_a_boring_bar_of_which_nothing_is_said_leaves_bending_open() -> None:
    found = loads(one_move(Point(3, 3.8), Point(-5, 3.8), BORE))
    assert found.moves[0].bends is None
    assert any("bar_diameter" in text for text in found.missing)


def test_every_cut_of_a_plan_carries_a_load() -> None:
    made = make_plan(job_from_data(pin(STEEL)))
    found = loads(made)
    for move in made.moves:
        load = found.of(move.n)
        assert (load is not None) or move.area < 0.01
        assert load is None or (move.cuts and load.force > 0 and load.power > 0)
