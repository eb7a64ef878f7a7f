"""Finishing by a constant amount of one slide: every multiple of it where it serves, the usual settings elsewhere."""

import pytest
from tests.documents.jobs import pin

from ovolo.documents.plan.words import notes_of
from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.shop.slides import EqualSteps

USUAL = make_plan(job_from_data(pin()))


def _by(slide: str, amount: float, more: dict[str, object] | None = None) -> Plan:
    return make_plan(job_from_data(pin({"finish.by": {"slide": slide, "amount": amount}, **(more or {})})))


def _settings(plan: Plan) -> list[tuple[float, float]]:
    """The figures of (cross slide, saddle) at each station, by place along the saddle."""
    shop, reference = plan.job.shop, plan.tools[0].reference
    places = [m.end for m in plan.moves if m.station is not None]
    found = [(shop.cross.figure(p.y + reference[1]), shop.saddle.figure(p.x + reference[0])) for p in places]
    return sorted(found, key=lambda pair: -pair[1])


def _whole(figure: float, amount: float) -> bool:
    return abs(figure / amount - round(figure / amount)) < 1e-9


@pytest.mark.parametrize(("slide", "amount"), [("saddle", 1.0), ("cross", 1.0), ("cross", 2.0)])
def test_every_multiple_is_used_where_it_serves(slide: str, amount: float) -> None:
    plan = _by(slide, amount)
    figures = [pair[0 if slide == "cross" else 1] for pair in _settings(plan)]
    whole = sorted({round(f / amount) for f in figures if _whole(f, amount)})
    assert len(whole) >= 6
    serving = [n for n in whole if n + 1 in whole or n - 1 in whole]
    assert len(serving) == serving[-1] - serving[0] + 1  # none is left out
    assert plan.prediction.ridge_max <= 0.05
    assert plan.prediction.gouge_max < 1.5e-3


def test_what_it_costs_is_said_and_the_least_stays_proven() -> None:
    plan = _by("cross", 1.0)
    assert plan.fewest == USUAL.fewest == USUAL.stations
    assert plan.proof == USUAL.proof
    assert plan.stations > plan.fewest
    assert any(f"{plan.stations - plan.fewest} more than the fewest" in note for note in notes_of(plan))
    assert not any("steps of" in note for note in notes_of(USUAL))


def test_the_axis_is_always_set() -> None:
    for plan in (_by("cross", 1.0), _by("cross", 0.7), _by("saddle", 1.0)):
        assert _settings(plan)[0][0] == -6.0


def test_an_amount_that_serves_nowhere_changes_nothing_but_the_notes() -> None:
    plan = _by("saddle", 7.0)
    assert plan.moves == USUAL.moves
    assert any("Nowhere" in note for note in notes_of(plan))


def test_cylinders_and_faces_are_not_stepped() -> None:
    """A cylinder inside the curve takes one plain pass, whatever the amount."""
    outline = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -20, "d": 18}]
    long = {"part.outline": outline, "part.curve": [0, -16], "stock.diameter": 18.5}
    plan = _by("saddle", 1.0, long)
    on_cylinder = [pair for pair in _settings(plan) if pair[0] == 18.0]
    assert len(on_cylinder) <= 3


def test_so_many_stations_with_equal_steps_counted() -> None:
    job = job_from_data(pin({"finish.by": {"slide": "cross", "amount": 1.0}}))
    plan = make_plan(job, stations=30)
    assert plan.stations <= 30
    assert plan.fewest < plan.stations


def test_a_readout_in_radius_that_grows_inward() -> None:
    changes: dict[str, object] = {
        "finish.by": {"slide": "cross", "amount": "0.5 mm"},
        "slide": {"cross": {"reads": "radius", "grows": "in"}},
    }
    job = job_from_data(pin(changes))
    assert job.shop.by == EqualSteps("cross", 0.5)
    plan = make_plan(job)
    steps = [pair[0] for pair in _settings(plan) if _whole(pair[0], 0.5)]
    assert len(steps) >= 15
