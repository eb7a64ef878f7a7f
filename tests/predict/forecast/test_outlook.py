"""What is told of a plan before it is cut."""

import math
from dataclasses import replace

import pytest
from tests.documents.jobs import pin
from tests.documents.plans import plan as written

from ovolo.cutting.filing import ring_volume
from ovolo.cutting.pace import Pace
from ovolo.cutting.scatter import Errors
from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.outlook import (
    AMPLE,
    errors_of,
    forecast,
    left_volume,
    touches_of,
    work_counts_by_move,
    work_counts_of,
)
from ovolo.predict.loads.load import loads

STEEL = {"part.material": "mild steel"}


@pytest.fixture(scope="module")
def dome() -> Plan:
    return make_plan(job_from_data(pin(STEEL)))


def test_draws_and_first_order_agree(dome: Plan) -> None:
    """Both hold where no station stands on the axis with a height error; small height, and they meet."""
    seen = forecast(dome, errors=Errors(height=0.002)).scatter
    assert seen is not None
    assert seen.u_drawn == pytest.approx(seen.u_first, rel=0.05)


def test_the_margin_brings_the_chance_down_to_what_was_asked(dome: Plan) -> None:
    """Stood off by the margin, one run in twenty still cuts in: the same draws, shifted."""
    bare = forecast(dome, runs=4000).scatter
    assert bare is not None
    assert 0 < bare.below < 0.2  # deeper than 0.05 mm, as the job gives no tolerance
    assert bare.depth == 0.05
    assert bare.margin == pytest.approx(-bare.deepest.value + 1.645 * bare.deepest.u, rel=0.35)
    assert bare.band.value > dome.prediction.ridge_max


def test_the_same_seed_gives_the_same_figures(dome: Plan) -> None:
    assert forecast(dome, runs=500, seed=7).scatter == forecast(dome, runs=500, seed=7).scatter
    assert forecast(dome, runs=500, seed=7).scatter != forecast(dome, runs=500, seed=8).scatter


def test_a_careful_hand_scatters_less(dome: Plan) -> None:
    rough = forecast(dome, errors=Errors(setting_z=0.05, setting_r=0.03), runs=2000).scatter
    fine = forecast(dome, errors=Errors(setting_z=0.002, setting_r=0.001), runs=2000).scatter
    assert rough is not None
    assert fine is not None
    assert fine.band.value < rough.band.value


def test_touches_lie_on_the_outline_and_keep_to_the_sweep(dome: Plan) -> None:
    touches = touches_of(dome, loads(dome))
    assert len(touches) == dome.stations
    for touch in touches:
        assert touch.radius == pytest.approx(9 * math.sin(touch.normal), abs=1e-6)
        assert 0 <= touch.ridge <= dome.prediction.ridge_max
    assert any(touch.bends > 0 for touch in touches)


def test_the_errors_are_those_of_the_jobs_own_slides() -> None:
    data = pin({"slide.cross": {"count": 0.02, "per_turn": 2, "divisions": 100, "backlash": 0.2}, "slide.saddle": {}})
    data["tool"][0]["nose_radius_u"] = 0.004
    made = make_plan(job_from_data(data))
    errors = errors_of(made)
    assert (errors.count_r, errors.count_z) == (0.01, 0.01)
    assert errors.play_r == pytest.approx(0.02)
    assert errors.play_z == 0
    assert errors.nose == 0.004


def test_a_curve_without_stations_has_no_scatter(dome: Plan) -> None:
    none = replace(dome, moves=tuple(replace(move, station=None) for move in dome.moves), stations=0)
    assert forecast(none, runs=200).scatter is None


def test_work_counts_are_counted_from_the_moves(dome: Plan) -> None:
    found = work_counts_of(dome, loads(dome))
    careful = sum(move.within < AMPLE for move in dome.moves)
    assert found.settings == round(careful + 0.25 * (len(dome.moves) - careful))
    assert found.locks == 2 * sum(move.cuts and move.stage == "finish" for move in dome.moves)
    assert found.tool_changes == 1
    travel = sum(move.travel for move in dome.moves)
    assert travel / 20 < found.turns < travel / 2


def test_time_goes_where_the_pace_says(dome: Plan) -> None:
    quick, slow = forecast(dome, Pace(setting=4)), forecast(dome, Pace(setting=8))
    assert slow.times.setting == pytest.approx(2 * quick.times.setting)
    assert slow.times.winding == quick.times.winding


def test_the_jobs_own_pace_is_gone_by() -> None:
    jobs = [job_from_data(pin({"part.material": "mild steel", "pace.setting": seconds})) for seconds in (4, 8)]
    quick, slow = (forecast(make_plan(job), runs=200).times for job in jobs)
    assert slow.setting == pytest.approx(2 * quick.setting)
    assert slow.filing == quick.filing


def test_the_work_counts_of_all_moves_are_those_of_the_plan(dome: Plan) -> None:
    by_move, whole = work_counts_by_move(dome, loads(dome)), work_counts_of(dome, loads(dome))
    assert len(by_move) == len(dome.moves)
    assert sum(each.turns for each in by_move) == pytest.approx(whole.turns)
    assert sum(each.feed_seconds for each in by_move) == pytest.approx(whole.feed_seconds)
    assert sum(each.measurings for each in by_move) == whole.measurings
    assert [each.tool_changes for each in by_move] == [1] + [0] * (len(by_move) - 1)
    assert not any(each.filed for each in by_move)


def test_without_a_material_there_is_still_a_time() -> None:
    made = make_plan(job_from_data(pin()))
    found = forecast(made, runs=200)
    assert found.loads.moves == ()
    assert found.times.feeding > 0
    assert found.times.minutes > 1


def test_the_metal_left_is_that_of_the_ridges(dome: Plan) -> None:
    """A third of height by length, once round: ridges of a parabola's section."""
    about = ring_volume(dome.prediction.ridge_max / 3 * 9 * math.pi / 2, 9 * 2 / math.pi)
    assert left_volume(dome) == pytest.approx(about, rel=0.35)
    assert forecast(dome, runs=200).blend.lowering.ridges == pytest.approx(2 * dome.prediction.ridge_max)


def test_a_known_ring_left_standing_is_found() -> None:
    """The dome's outline with 0.1 left on its cylinder from z = -9 to -12: a tube."""
    made = written({"part.curve": [0, -12]})
    arc = [Point(-9 + 9 * math.cos(a), 9 * math.sin(a)) for a in (math.pi / 2 * k / 4000 for k in range(4001))]
    tube = [Point(-9, 9.1), Point(-20, 9.1)]
    stepped = replace(made, prediction=replace(made.prediction, ridge_max=0.1, surface=(*arc, *tube)))
    assert left_volume(stepped) == pytest.approx(
        math.pi * (9.1**2 - 9**2) * 3, rel=1e-3
    )  # arcs are flattened to 0.02 µm


def test_a_plan_with_no_surface_leaves_nothing() -> None:
    made = written()
    assert left_volume(replace(made, prediction=replace(made.prediction, surface=()))) == 0.0
