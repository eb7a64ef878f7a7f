"""Ridge against settings against minutes."""

import itertools
from dataclasses import replace
from pathlib import Path

import pytest
from tests.documents.jobs import pin

from ovolo.cutting.nose import ridge_convex
from ovolo.cutting.pace import Pace
from ovolo.documents.reading import job_from_data, read_job
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.outlook import forecast
from ovolo.predict.forecast.tradeoff import FILED, Tradeoff, TradeoffPoint, tradeoff

KNIFE = {"name": "knife", "nose_radius": 0.4}
SMALL = {"name": "small", "nose_radius": 0.8, "kind": "round"}


@pytest.fixture(scope="module")
def dome() -> Plan:
    return make_plan(job_from_data(pin({"part.material": "mild steel", "tool.1": SMALL})))


@pytest.fixture(scope="module")
def traded(dome: Plan) -> Tradeoff:
    return tradeoff(dome)


def _of(traded: Tradeoff, tool: str) -> list[TradeoffPoint]:
    return [point for point in traded.points if point.tool == tool]


def test_more_settings_leave_less_and_take_longer_to_set(traded: Tradeoff) -> None:
    for tool in ("round nose 6", "small"):
        points = _of(traded, tool)
        assert len(points) >= 8
        for one, other in itertools.pairwise(points):
            assert one.stations < other.stations
            assert one.ridge > other.ridge
            assert one.minutes - one.filing < other.minutes - other.filing


def test_the_plans_own_number_is_a_point_with_its_ridge_and_its_minutes(dome: Plan, traded: Tradeoff) -> None:
    """Against the sweep of the plan, and against its moves counted one by one."""
    (own,) = [point for point in _of(traded, "round nose 6") if point.stations == dome.stations]
    assert own.ridge == dome.prediction.ridge_max  # one figure, one text
    assert own.minutes == pytest.approx(forecast(dome, runs=200).times.minutes, rel=0.1)


def test_the_metal_to_file_is_that_of_the_sweep(dome: Plan, traded: Tradeoff) -> None:
    """Ridges as rings of a third of spacing times height, against what the sweep of the whole plan leaves to file."""
    (own,) = [point for point in _of(traded, "round nose 6") if point.stations == dome.stations]
    assert own.filing == pytest.approx(forecast(dome, runs=200).times.filing / 60, rel=0.2)


def test_points_are_exact_where_the_grid_is_fine() -> None:
    """Equal steps of the closed form need as many settings, to one."""
    fine = {"slide": {"cross": {"count": 0.002}, "saddle": {"count": 0.001}}, "finish": {"ridge": 0.05}}
    points = tradeoff(make_plan(job_from_data(pin(fine)))).points
    for point in points:
        if point.ridge > 0.005:
            step = 9 * 1.5707963 / (point.stations - 1)
            assert point.ridge <= ridge_convex(step, 3, 9) + 0.0005
            wider = 9 * 1.5707963 / (point.stations - 2 + 1e-9) if point.stations > 2 else 9.0
            assert point.ridge >= ridge_convex(min(step * 0.8, wider), 3, 9) * 0.9


def test_a_larger_nose_needs_fewer_settings(traded: Tradeoff) -> None:
    large = {point.stations: point.ridge for point in _of(traded, "round nose 6")}
    small = _of(traded, "small")
    for point in small:
        better = [ridge for stations, ridge in large.items() if stations <= point.stations]
        assert not better or min(better) < point.ridge


def test_what_is_recommended_keeps_what_was_asked_and_no_point_that_does_is_quicker(traded: Tradeoff) -> None:
    best = traded.recommended
    assert best is not None
    assert best.ridge <= traded.asked
    assert all(point.minutes >= best.minutes for point in traded.points if point.ridge <= traded.asked)
    quickest = traded.quickest
    assert quickest is not None
    assert quickest.ridge <= FILED
    assert quickest.minutes <= best.minutes
    assert quickest.stations < best.stations


def test_whoever_files_slowly_is_told_to_set_more_often(dome: Plan) -> None:
    slow, quick = (tradeoff(dome, Pace(filing=rate)).quickest for rate in (0.5, 60))
    told = replace(dome, job=replace(dome.job, shop=replace(dome.job.shop, pace=Pace(filing=0.5))))
    assert tradeoff(told).quickest == slow
    assert slow is not None
    assert quick is not None
    assert slow.stations > quick.stations


def test_a_tool_that_cannot_do_it_alone_is_named_with_the_place() -> None:
    """A ball on a stem: the right-hand knife can't get behind it."""
    ball = [
        {"z": 0, "d": 0},
        {"z": -9, "d": 18, "convex": 9},
        {"z": -17, "d": 8.246, "convex": 9},
        {"z": -24, "d": 8.246},
    ]
    changes = {"part.outline": ball, "part.curve": [0, -15.4], "stock.stick_out": 45, "tool.1": KNIFE}
    traded = tradeoff(make_plan(job_from_data(pin(changes))))
    assert [tool.tool for tool in traded.unsuited] == ["knife"]
    assert traded.unsuited[0].at.x < -9
    assert {point.tool for point in traded.points} == {"round nose 6"}


def test_where_no_tool_does_it_alone_two_do_it_together() -> None:
    ball = [
        {"z": 0, "d": 0},
        {"z": -9, "d": 18, "convex": 9},
        {"z": -17, "d": 8.246, "convex": 9},
        {"z": -30, "d": 8.246},
    ]
    changes = {"part.outline": ball, "part.curve": [0, -15.4], "stock.stick_out": 45, "tool.0": KNIFE,
               "tool.1": KNIFE | {"name": "left", "hand": "left"}}  # fmt: skip
    traded = tradeoff(make_plan(job_from_data(pin(changes))))
    assert len(traded.unsuited) == 2
    assert {point.tool for point in traded.points} == {"knife + left"}
    assert traded.recommended is not None


def test_the_floor_is_the_scatter_of_one_setting(traded: Tradeoff) -> None:
    """Setting 0.01 and 0.005, counts of 0.01 and 0.005 as travel, at 45 degrees."""
    rms = ((0.01**2 + 0.005**2 + (0.01**2 + 0.005**2) / 12) / 2) ** 0.5
    assert traded.floor == pytest.approx(rms, rel=0.02)


def test_tapers_by_the_top_slide_count_as_in_the_plan() -> None:
    """A dowel whose taper the top slide turns in one pass: the plan's own number is a point, with its ridge."""
    made = make_plan(read_job(Path(__file__).parents[3] / "examples" / "jig-dowel.toml"))
    (own,) = [point for point in tradeoff(made).points if point.stations == made.stations]
    assert own.ridge == made.prediction.ridge_max
    best = tradeoff(made).recommended
    assert best is not None
    assert best.stations == made.stations
