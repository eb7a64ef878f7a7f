"""What each cause does square to the outline, against the formulas of the trade."""

import math

import numpy as np
import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Wrong, make

from ovolo.check.causes import Cause, applied, ordinary, settings_wrong
from ovolo.check.jaws import Jaws
from ovolo.check.measured import Reading
from ovolo.check.positions import positions_of


@pytest.mark.parametrize("name", ["dome", "bore", "crown"])
@pytest.mark.parametrize(
    ("cause", "value"),
    [("cross_offset", 0.05), ("saddle_offset", -0.08), ("nose_radius", 0.2), ("taper", 0.004), ("centre_height", 0.3)],
)
def test_a_cause_is_what_a_sweep_with_it_leaves(name: str, cause: str, value: float) -> None:
    made = shape(name)
    tool = made.tool if cause == "nose_radius" else None
    wrong = {
        "cross_offset": Wrong(cross=value),
        "saddle_offset": Wrong(saddle=value),
        "nose_radius": Wrong(nose={made.tool: value}),
        "taper": Wrong(taper=value),
        "centre_height": Wrong(height=value),
    }[cause]
    metal = make(made.job, made.moves, wrong, 1, scatter=False)
    at = positions_of(made.plan)
    given = value**2 if cause == "centre_height" else value
    moved = applied(at, [(Cause(cause, tool), given)])  # type: ignore[arg-type]
    zs = places(name, 9)
    read = np.abs(Jaws.on(moved, [Reading(z, 0.0, 0.01, 0.0) for z in zs], 0.3).at_place(moved))
    assert read == pytest.approx([metal.radius(z, z) for z in zs], abs=2e-3)


def test_a_nose_touched_off_by_its_reference_point_leaves_what_an_ignored_nose_does() -> None:
    at = positions_of(shape("dome").plan)
    moved = applied(at, [(Cause("nose_radius", "round nose 6"), 0.2)])
    z = -9 + 9 * math.cos(math.pi / 4)  # where the normal lies at 45 degrees: 0.41 d square to the outline
    reading = [Reading(z, 0.0, 0.01, 0.3)]
    more = Jaws.on(moved, reading, 0.3).read(moved).mean() - Jaws.on(at, reading, 0.3).read(at).mean()
    assert more * math.sin(math.pi / 4) == pytest.approx(0.2 * (math.sqrt(2) - 1), abs=0.02)


def test_a_slide_that_reads_something_else_goes_half_as_far_from_where_it_was_right() -> None:
    at = positions_of(shape("dome").plan)
    half = applied(at, [(Cause("counts_twice", fixed=1.0, about=10.0), 1.0)])
    assert half.y1 - at.radius == pytest.approx(10 + (at.y1 - at.radius - 10) / 2)
    twice = applied(at, [(Cause("counts_half", fixed=1.0, about=0.0), 1.0)])
    assert twice.y1 - at.radius == pytest.approx(2 * (at.y1 - at.radius))


def test_one_setting_moves_what_was_cut_by_it_alone() -> None:
    at = positions_of(shape("dome").plan)
    last = int(at.settings.cross_made[-2])
    moved = applied(at, [(Cause("setting", slide="cross", move=last), 0.1)])
    changed = np.flatnonzero((moved.y1 != at.y1) | (moved.y0 != at.y0))
    assert changed[0] == last
    assert len(changed) < 4


def test_backlash_counts_where_a_slide_came_from_the_other_side() -> None:
    at = positions_of(shape("dome").plan)
    moved = applied(at, [(Cause("backlash", slide="saddle"), 0.1)])
    away = at.settings.saddle_away[at.settings.saddle_end]
    assert at.x1 - moved.x1 == pytest.approx(0.1 * away)


def test_backlash_may_be_the_other_way_round_and_is_taken_up_where_a_slide_is_set_anew() -> None:
    at = positions_of(shape("dome").plan)
    moved = applied(at, [(Cause("backlash", slide="saddle", way="forth"), 0.1)])
    assert moved.x1 - at.x1 == pytest.approx(0.1 * (1 - at.settings.saddle_away[at.settings.saddle_end]))


def test_a_tool_off_centre_that_was_touched_off_on_the_bar_is_right_there() -> None:
    at = positions_of(shape("dome").plan)
    moved = applied(at, [(Cause("centre_height", about=10.0), 0.16)])
    assert moved.height == pytest.approx(0.4)
    assert np.hypot(10.0 + (moved.y0 - at.y0)[0], 0.4) == pytest.approx(10.0)


def test_a_single_tool_has_no_offset_of_its_own_and_a_readout_seldom_backlash() -> None:
    plan = shape("dome").plan
    at = positions_of(plan)
    found = ordinary(plan, at, range(at.count))
    named = ["cross_offset", "saddle_offset", "nose_radius", "taper", "centre_height", "centre_height"]
    assert [c.name for c in found if c.fixed is None] == [*named, *["backlash"] * 4]
    assert {cause.choices for cause in found if cause.name == "backlash"} == {8}
    assert all(cause.choices > 10 for cause in settings_wrong(at, range(at.count)))
