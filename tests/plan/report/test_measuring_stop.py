"""What a stop says: where, how large, a blank for what was found, and which way to correct."""

import numpy as np
import pytest
import shapely
from tests.documents.jobs import Data, pin
from tests.show.plans import planned

from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Before, Measured, Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.report.measuring_stop import BLANK
from ovolo.plan.toolpath.trial_cut import MOST, room_for


def _stop(changes: Data) -> Before:
    made = make_plan(job_from_data(pin(changes)))
    return next(before for before in made.before if before.kind == "measure")


def test_it_says_place_and_size_and_leaves_a_blank() -> None:
    stop = _stop({})
    assert isinstance(stop.measured, Measured)
    assert f"between z {stop.measured.near:.2f} and {stop.measured.far:.2f}" in stop.text
    assert f"it should be Ø {2 * stop.measured.radius:.2f}, it is {BLANK}." in stop.text
    assert stop.should[0].figure == pytest.approx(2 * stop.measured.radius)


@pytest.mark.parametrize(
    ("cross", "says"),
    [
        ({"reads": "diameter", "grows": "out"}, "make the cross slide show that much more where it is"),
        ({"reads": "radius", "grows": "out"}, "make the cross slide show half of that more where it is"),
        ({"reads": "radius", "grows": "in"}, "make the cross slide show half of that less where it is"),
        ({"reads": "radius", "count": 0.025, "per_turn": 2.0, "divisions": 40}, "turn the collar of the cross slide's"),
    ],
)
def test_which_way_to_correct(cross: Data, says: str) -> None:
    """The work is larger than the figures say: the slide is farther out than it reads."""
    assert f"If it is larger, {says}" in _stop({"slide.cross": cross}).text


NAMES = ["bridge-pin", "bronze-bush", "hinge-pin-dials", "lamp-finial", "winch-lever", "pawl-knob"]


def _stops(made: Plan) -> list[tuple[int, Measured]]:
    return [(b.move, b.measured) for b in made.before if b.measured is not None]


@pytest.mark.parametrize("name", NAMES)
def test_the_cylinder_is_there_when_it_is_measured_and_metal_is_left_under_it(name: str) -> None:
    made = planned(name)
    assert _stops(made)
    outline = shapely.LineString(made.job.part.outline.flattened(1e-4))
    for n, found in _stops(made):
        border = shapely.boundary(made.swept.after(n - 1))
        for z in np.linspace(found.far + 0.1, found.near - 0.1, 5):
            place = shapely.Point(z, found.radius)
            assert shapely.distance(border, place) < 2e-3, "the metal ends there"
            room = room_for(made.job.shop.errors)
            assert shapely.distance(outline, place) > room - 2e-3, "a correction can still be made"


@pytest.mark.parametrize("name", NAMES)
def test_the_very_tool_has_cut_it_as_finely_as_it_finishes_and_gone_back_over_it(name: str) -> None:
    made = planned(name)
    for n, found in _stops(made):
        cut, back = made.moves[found.after - 1], made.moves[found.after]
        assert cut.tool == back.tool == made.moves[n - 1].tool
        assert cut.cuts
        assert cut.stage == "finish"
        assert cut.bite <= 1.5 * max(made.job.shop.allowance, MOST) + 0.02
        assert back.end.y == pytest.approx(cut.end.y), "back over it at the same figure"
        low, high = sorted((back.start.x, back.end.x))
        assert low - 1e-6 <= found.far < found.near <= high + 1e-6
        set_by = next(m for m in reversed(made.moves[: found.after]) if m.slide == "cross")
        assert set_by.within <= made.job.shop.cross.step + 1e-9
        assert not any(m.cuts for m in made.moves[found.after + 1 : n - 1]), "and nothing was cut since"


def test_every_tool_that_finishes_is_measured_before_it_does() -> None:
    made = planned("pawl-knob")
    finish = {m.tool for m in made.moves if m.station is not None}
    assert finish == {made.moves[n - 1].tool for n, _ in _stops(made)}


def test_no_stop_where_nothing_level_is_left() -> None:
    """A steep cone from the end to the bar: no cylinder long enough to be measured finds room over it."""
    outline = [{"z": 0, "d": 10}, {"z": -2, "d": 18}]
    changes = {"part.outline": outline, "part.curve": [0, -1.5], "stock": {"diameter": 18.4}}
    assert _stops(make_plan(job_from_data(pin(changes)))) == []


def test_a_stop_in_every_plan_has_a_place_to_come_back_to() -> None:
    made = planned("pivot-pin")
    stands = {b.move for b in made.before if b.kind == "stand"}
    assert {n for n, _ in _stops(made)} <= stands
