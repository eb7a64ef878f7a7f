"""Previews rest on the same choice as the plan."""

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

from ovolo.documents.reading import job_from_data, read_job
from ovolo.errors import CannotPlan
from ovolo.plan.model import Job
from ovolo.plan.planner import make_plan
from ovolo.plan.previews import Preview, preview, trade

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def pin() -> dict[str, Any]:
    """The bridge pin, as it was typed."""
    return tomllib.loads((EXAMPLES / "bridge-pin.toml").read_text(encoding="utf-8"))


def _found(job: Job, **wanted: Any) -> Preview:
    found = preview(job, **wanted)
    assert found is not None
    return found


def test_feet_lie_on_the_dome(pin: dict[str, Any]) -> None:
    for z, r in _found(job_from_data(pin), ridge=0.03).feet:
        assert math.hypot(z + 9, r) == pytest.approx(9, abs=2e-4) or z < -9


def test_the_number_asked_for_is_the_number_found(pin: dict[str, Any]) -> None:
    job = job_from_data(pin)
    for n in (5, 11, 24):
        found = _found(job, stations=n)
        assert found.stations == n
        assert _found(job, stations=n, near=found.ridge).ridge == pytest.approx(found.ridge, rel=2e-3)
        assert _found(job, ridge=found.ridge * 0.97).stations > n


def test_the_curve_meets_the_plan(pin: dict[str, Any]) -> None:
    points = dict(trade(job_from_data(pin)))
    plan = make_plan(job_from_data(pin))
    assert points[plan.stations] == pytest.approx(plan.prediction.ridge_max, rel=0.02)


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*.toml")), ids=lambda file: str(file.stem))
def test_a_preview_counts_as_the_plan_does(file: Path) -> None:
    job = read_job(file)
    plan = make_plan(job)
    assert _found(job).stations == plan.stations
    points = trade(job)
    if job.shop.by is not None:
        assert points == ()
        with pytest.raises(CannotPlan, match="constant amount"):
            _found(job, stations=9)
        return
    assert len(points) > 3
    assert plan.stations in [n for n, _ in points]


def test_settings_under_a_lip_are_seen_too(pin: dict[str, Any]) -> None:
    """A dished end: its hollow is reached by a leaning knife from the end of the part alone."""
    knife = {"name": "knife", "hand": "right", "nose_radius": 0.8, "edge_angle": 125, "point_angle": 35}
    dish = [{"z": -1.5, "d": 0}, {"z": 0, "d": 16, "concave": 22.083}, {"z": 0, "d": 18}, {"z": -12, "d": 18}]
    job = job_from_data({**pin, "part": {"outline": dish, "curve": [0, -10]}, "tool": [knife]})
    plan = make_plan(job)
    found = _found(job)
    assert found.stations == plan.stations
    assert plan.prediction.ridge_max - 1e-3 <= found.ridge <= job.part.ridge
    hollow = [(z, r) for z, r in found.feet if r < 7.9]
    assert len(hollow) > 5
    for z, r in hollow:  # on the circle through the middle of the dish, round a centre in front of it
        assert math.hypot(z + 1.5 - 22.083, r) == pytest.approx(22.083, abs=2e-3)
    assert _found(job, stations=plan.stations - 2).ridge > found.ridge
    assert plan.stations in [n for n, _ in trade(job)]


def test_what_cannot_be_reached_is_said(pin: dict[str, Any]) -> None:
    narrow = [{"z": 0, "d": 10}, {"z": -5, "d": 10}, {"z": -6, "d": 4}, {"z": -7, "d": 10}, {"z": -20, "d": 10}]
    with pytest.raises(CannotPlan):
        preview(job_from_data({**pin, "part": {"outline": narrow, "curve": [0, -10]}}))
