"""The job as resolved: nothing left to default, and it reads back to the same job."""

import math
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import Data, jobs, pin

from ovolo.documents.reading import job_from_data, read_job
from ovolo.documents.resolved import figure, job_as_data, job_as_toml
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Point, Segment
from ovolo.plan.model import Job
from ovolo.units import Unit, parse_length, to_mm

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


def _again(job: Job) -> Job:
    return job_from_data(tomllib.loads(job_as_toml(job)))


def _bare(job: Job) -> Job:
    """The job without its outline."""
    return replace(job, part=replace(job.part, outline=Outline(())))


def _same(one: Segment, other: Segment) -> bool:
    if isinstance(one, Arc) and isinstance(other, Arc):
        near = math.dist(one.centre, other.centre) < 1e-8 * max(1.0, one.radius)
        return near and (one.start, one.end, one.ccw) == (other.start, other.end, other.ccw)
    return one == other


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_reads_back_equal(example: Path) -> None:
    job = read_job(example)
    assert _again(job) == job


@given(jobs())
def test_any_job_reads_back_equal(data: Data) -> None:
    """All but the centres of arcs to the last bit; those within what arcs of this size can be told apart by."""
    job = job_from_data(data)
    again = _again(job)
    assert _bare(again) == _bare(job)
    pairs = zip(again.part.outline.segments, job.part.outline.segments, strict=True)
    assert all(_same(one, other) for one, other in pairs)


@given(jobs())
def test_in_millimetres_it_is_the_same_part(data: Data) -> None:
    """What plan.json carries: only the unit of the figures is another."""
    job = job_from_data(data)
    again = job_from_data(job_as_data(job))
    assert again.part.curve == job.part.curve
    assert again.shop.stock == job.shop.stock
    assert again.shop.tools == job.shop.tools
    assert again.shop.unit == 1.0


def test_every_default_is_filled_in() -> None:
    data = job_as_data(job_from_data(pin()))
    assert data["finish"] == {"ridge": 0.05, "allowance": 0.2}
    assert data["limits"] == {"bite": 1, "plunge": 2.5}
    assert data["slide"]["cross"] == {"reads": "diameter", "grows": "out", "count": 0.01, "lock": True}
    assert data["slide"]["saddle"] == {"reads": "diameter", "grows": "away", "count": 0.01, "lock": True}
    assert data["stock"] == {"diameter": 20, "hole": 0, "proud": 0.5, "stick_out": 35}
    assert data["part"]["outline"] == [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}]
    assert data["tool"][0]["edge_angle"] == 93


def test_an_arc_of_more_than_half_a_turn_goes_through_a_third_point() -> None:
    """A ball on a neck: by its radius alone it would be the short way round."""
    job = job_from_data(pin())
    foot = 10 - math.sqrt(8)
    ball = Arc(Point(-4, foot), Point(-6, foot), Point(-5, 10), ccw=True)
    assert ball.sweep > math.pi
    written = job_as_data(replace(job, part=replace(job.part, outline=Outline((ball,)))))["part"]["outline"][1]
    assert set(written) == {"z", "d", "through"}
    assert written["through"] == pytest.approx([-5, 26])


def test_inches_stay_inches() -> None:
    data = pin(
        {"units": "in", "sure": ["inches"], "part.outline": [{"z": 0, "d": 0}, {"z": -0.5, "d": 1, "convex": 0.5}]}
    )
    data["part"]["curve"] = [0, -0.5]
    data["stock"] = {"diameter": 1}
    data["tool"][0]["nose_radius"] = 0.125
    job = job_from_data(data)
    assert job.units == "in"
    text = job_as_toml(job)
    assert 'units = "in"' in text
    assert "{z = -0.5, d = 1, convex = 0.5}" in text


@given(st.floats(-1e4, 1e4).filter(lambda mm: mm == 0 or abs(mm) > 1e-9), st.sampled_from(["mm", "in"]))
def test_a_figure_reads_back_to_the_last_bit(mm: float, unit: Unit) -> None:
    written = figure(mm, unit)
    again = parse_length(written, unit) if isinstance(written, str) else to_mm(written, unit)
    assert again == mm
    assert str(written) not in ("-0", "-0.0")


@pytest.mark.parametrize("slides", [["saddle", "cross", "top"], ["cross", "top"]])
def test_the_top_slide_reads_back(slides: list[str]) -> None:
    job = job_from_data(pin({"limits.slides": slides, "slide.top": {"travel": 60, "per_turn": 2, "divisions": 100}}))
    assert job.shop.top is not None
    assert _again(job).shop == job.shop


def test_a_hole_already_shaped_reads_back_equal_with_its_outside_filled_in() -> None:
    bell = {
        "part.surface": "bore",
        "part.outline": [{"z": 0, "d": 40}, {"z": -10, "d": 20, "convex": 10}, {"z": -30, "d": 20}],
        "stock": {"outline": [{"z": 1, "d": 34}, {"z": -9, "d": 19, "convex": 10}, {"z": -30, "d": 18}]},
    }
    job = job_from_data(pin(bell))
    assert _again(job) == job
    assert job_as_data(job)["stock"]["diameter"] == 60  # 1.5 times Ø 40
    assert job_as_data(job)["stock"]["outline"][1] == {"z": -9, "d": 19, "convex": 10}


@pytest.mark.parametrize("angle", [5.7248, -29.5, "-1 deg 30 min"])
def test_a_top_slide_at_an_angle_reads_back_equal(angle: float | str) -> None:
    job = job_from_data(pin({"limits.slides": ["saddle", "cross", "top"], "slide.top": {"travel": 60, "angle": angle}}))
    assert _again(job) == job
    assert job.shop.top is None
    assert job.shop.set_over is not None
    degrees = -1.5 if isinstance(angle, str) else angle
    assert math.degrees(job.shop.set_over.angle) == pytest.approx(degrees)
    assert job_as_data(job)["slide"]["top"]["angle"] == pytest.approx(degrees)
