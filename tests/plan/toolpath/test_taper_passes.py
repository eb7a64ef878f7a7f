"""Moves of a top slide that is set over: from 0 and back to 0, within the bite, on its own count."""

import math
from pathlib import Path

import pytest
from tests import oracle
from tests.documents.jobs import Data, pin
from tests.plan.stations.test_taper import ANGLE, BORE, CONE

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data, read_job
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.steps import Step
from ovolo.plan.toolpath.taper_passes import figures_of, in_parts, is_slant
from ovolo.shop.set_over import SetOver
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

OVER = SetOver(Slide("top", "radius", "away", 0.02), math.radians(30))
TOP: Data = {"travel": 60, "count": 0.02}
DOWEL = Path(__file__).parents[3] / "examples" / "jig-dowel.toml"
DOMED: Data = {
    **CONE,
    "part.outline": [{"z": 0, "d": 0}, {"z": -5, "d": 10, "convex": 5}, {"z": -25, "d": 14}, {"z": -40, "d": 14}],
    "part.curve": [0, -25],
}
DOMED_ANGLE = math.degrees(math.atan2(2, 20))


def _job(shape: Data, angle: float, **more: object) -> Data:
    return pin({**shape, "slide": {"top": {**TOP, "angle": angle}, **more}})


def _plan(shape: Data, angle: float, **more: object) -> Plan:
    return make_plan(job_from_data(_job(shape, angle, **more)))


JOBS = [
    (CONE, ANGLE, {}),
    (CONE, ANGLE, {"saddle": {"count": 0.5}}),
    (BORE, -ANGLE, {}),
    (DOMED, DOMED_ANGLE, {}),
    (DOMED, DOMED_ANGLE, {"cross": {"reads": "radius", "grows": "in", "count": 0.02}}),
]


@pytest.mark.parametrize(("shape", "angle", "more"), JOBS)
def test_the_second_opinion_finds_nothing(shape: Data, angle: float, more: Data) -> None:
    job = _job(shape, angle, **more)
    verdict = oracle.judge(job, plan_as_data(make_plan(job_from_data(job))))
    assert verdict.faults == []
    assert verdict.gouge <= oracle.AGREE


def test_a_cone_is_one_station_and_the_rest_is_stepped_as_if_it_were_not_there() -> None:
    assert (_plan(CONE, ANGLE).stations, _plan(CONE, ANGLE).fewest) == (1, 1)
    domed = _plan(DOMED, DOMED_ANGLE)
    alone = make_plan(job_from_data(pin({**DOMED, "part.curve": [0, -5], "limits.slides": ["saddle", "cross"]})))
    assert domed.stations == domed.fewest
    assert alone.stations - 1 <= domed.stations - 1 <= alone.stations  # the cone's pass goes on over the dome's end
    assert domed.proof.fewer == domed.fewest - 1
    stepped = make_plan(job_from_data(pin({**DOMED, "limits.slides": ["saddle", "cross"]})))
    assert domed.stations < stepped.stations


def test_it_starts_from_0_and_is_back_there_before_another_slide_moves() -> None:
    plan, stands = _plan(CONE, ANGLE), 0.0
    for move in plan.moves:
        if move.slide != "top":
            assert stands == 0
            continue
        way = math.dist(move.start, move.end)
        stands += way if move.end.x > move.start.x else -way
        assert move.figure == pytest.approx(stands, abs=1e-6)
        assert move.travel == pytest.approx(way)
        lean = math.degrees(math.atan2(abs(move.end.y - move.start.y), abs(move.end.x - move.start.x)))
        assert lean == pytest.approx(ANGLE)
    assert sum(move.slide == "top" for move in plan.moves) >= 2


def test_what_is_left_on_the_cone_is_no_step() -> None:
    plan = _plan(CONE, ANGLE)
    assert plan.prediction.ridge_max < 0.005  # half a count of the cross slide, where 0.05 was asked for


def test_where_roughing_leaves_steps_several_cuts_keep_within_the_bite() -> None:
    plan = make_plan(read_job(DOWEL))
    cuts = [m for m in plan.moves if m.slide == "top" and m.cuts]
    assert len(cuts) > 1
    assert all(m.bite <= plan.job.shop.bite for m in cuts)
    assert [m.station for m in cuts][-1] is not None
    assert all(m.station is None for m in cuts[:-1])
    heaviest = max(m.area for m in plan.moves if m.stage == "rough")
    assert all(m.area <= heaviest for m in cuts)


def test_it_is_told_where_to_stand_and_what_to_lock() -> None:
    plan = _plan(CONE, ANGLE)
    texts = [before.text for before in plan.before]
    far = max(abs(m.figure) for m in plan.moves if m.slide == "top")
    assert any(f"still go {far:.4g} mm toward the chuck" in text for text in texts)
    assert any("lock saddle and cross slide" in text for text in texts)


def test_a_cut_in_parts_stays_on_its_line_and_on_its_count() -> None:
    end = Point(-10 * math.cos(OVER.angle), 10 * math.sin(OVER.angle))
    tool = Tool("nose", "round", 1.0)
    parts = in_parts(OVER, Step("finish", tool, "top", Point(0, 0), end, station=3, exact=True), 2)
    assert [p.station for p in parts] == [None, None, 3]
    assert parts[0].start == Point(0, 0)
    assert parts[-1].end == end
    figures = figures_of(OVER, parts)
    assert figures[-1] == pytest.approx(-10)
    for part, figure in zip(parts, figures, strict=True):
        assert figure is not None
        assert figure / 0.02 == pytest.approx(round(figure / 0.02))
        assert math.hypot(*part.end) == pytest.approx(-figure, abs=1e-9)
        assert part.end.y / -part.end.x == pytest.approx(math.tan(OVER.angle))


def test_other_slides_keep_their_own_figures() -> None:
    step = Step("rough", Tool("nose", "round", 1.0), "saddle", Point(0, 0), Point(-5, 0))
    assert figures_of(OVER, [step]) == [None]
    assert not is_slant(step.start, step.end)
    assert is_slant(Point(0, 0), Point(-1, 1))
