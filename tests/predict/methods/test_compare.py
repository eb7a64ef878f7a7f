"""Methods side by side: the same curve, the same pace, and a verdict that may go against the steps."""

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from tests.documents.jobs import pin
from tests.properties.cases import outlines

from ovolo.cutting.pace import Pace
from ovolo.documents.reading import job_from_data
from ovolo.errors import FaultsFound
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.outlook import forecast
from ovolo.predict.methods.compare import AS_TRUE, MANY, compare, quickest
from ovolo.predict.methods.ways import Method, Said

NAMES = (
    "single-slide steps",
    "coarse steps, filed to a gauge",
    "both slides wound at once",
    "facets with the top slide",
    "form tool",
    "swinging ball fixture",
    "roughed, then filed to a gauge",
)


def _method(name: str, error: float, first: float, each: float) -> Method:
    return Method(name, True, Said(""), (), (), error=error, first=first, each=each)


def test_for_twenty_ball_ends_the_fixture_is_not_yet_worth_mounting() -> None:
    """Once trued it is quicker and rounder; but what it saves a part pays for mounting it only after far more."""
    found = compare(make_plan(job_from_data(pin({"part.material": "mild steel"}))))
    assert tuple(method.name for method in found.methods) == NAMES
    assert found.for_one.name == "coarse steps, filed to a gauge"
    assert found.for_many.name == "coarse steps, filed to a gauge"
    coarse, fixture = found.methods[1], found.methods[5]
    assert fixture.error is not None
    assert coarse.error is not None
    assert fixture.error < coarse.error
    assert quickest(found.methods, 500).name == "swinging ball fixture"


def test_where_no_ball_is_wanted_the_steps_stay() -> None:
    outline = [{"z": 0, "d": 12}, {"z": -10, "d": 18, "concave": 12}, {"z": -24, "d": 18}]
    changes = {"part.outline": outline, "part.curve": [0, -10], "tool.0.nose_radius": 1}
    found = compare(make_plan(job_from_data(pin(changes))))
    assert not found.methods[5].can
    assert found.for_many.can


def test_all_are_judged_by_the_same_pace() -> None:
    made = make_plan(job_from_data(pin()))
    quick, slow = (compare(made, pace=Pace(setting=s)) for s in (2, 30))
    told = make_plan(job_from_data(pin({"pace.setting": 30})))
    assert [method.first for method in compare(told).methods] == [method.first for method in slow.methods]
    for one, other in zip(quick.methods, slow.methods, strict=True):
        if one.can:
            assert one.first is not None
            assert other.first is not None
            assert one.first < other.first


def test_what_is_known_already_is_not_worked_out_again() -> None:
    made = make_plan(job_from_data(pin()))
    expected = forecast(made, runs=200)
    assert compare(made, expected).methods[0].first == expected.times.minutes


def test_only_what_is_as_true_can_win() -> None:
    measure, rough = _method("steps", 0.08, 15, 15), _method("rough", 0.08 * AS_TRUE + 0.001, 1, 1)
    assert quickest((measure, rough), MANY).name == "steps"
    fair = _method("fair", 0.08 * AS_TRUE, 14, 14)
    assert quickest((measure, rough, fair), 1).name == "fair"


@pytest.mark.parametrize(("parts", "name"), [(1, "steps"), (4, "steps"), (20, "fixture")])
def test_the_number_of_parts_decides(parts: int, name: str) -> None:
    assert quickest((_method("steps", 0.08, 15, 15), _method("fixture", 0.05, 50, 8)), parts).name == name


@settings(max_examples=6, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(outlines(), st.sampled_from(["mild steel", "stainless steel", "brass", "cast iron"]))
def test_any_job_that_can_be_planned_can_be_judged(data: dict[str, Any], name: str) -> None:
    data["part"]["material"] = name
    try:
        made = make_plan(job_from_data(data))
    except FaultsFound:
        assume(False)
    expected = forecast(made, runs=200)
    assert all(load.force > 0 and (load.bends or 0) >= 0 for load in expected.loads.moves)
    assert math.isfinite(expected.times.total)
    for method in compare(made, expected).methods:
        if method.can:
            assert method.error is not None
            assert method.alone is not None
            assert 0 <= method.alone <= method.error
            assert method.first is not None
            assert method.first > 0
            assert method.shape
