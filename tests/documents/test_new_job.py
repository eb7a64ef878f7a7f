"""The text of a new job: comments, usual values, and that it reads back."""

import tomllib

import pytest

from ovolo.documents.new_job import NewJob, NewTool, bar_for, hole_for, job_text
from ovolo.documents.reading import job_from_data
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point
from ovolo.part.part import Surface
from ovolo.units import Unit

SHANK = Outline((Line(Point(0, 9), Point(-24, 9)),))


def _job(unit: Unit = "mm", surface: Surface = "outside", **more: float) -> NewJob:
    return NewJob("Pin", unit, surface, SHANK, 50.8, (NewTool("round", "round", 3),), "Made here", **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_it_reads_back(unit: Unit) -> None:
    job = job_from_data(tomllib.loads(job_text(_job(unit, proud=0.5, ridge=0.02))))
    assert job.shop.stock.radius == pytest.approx(25.4)
    assert job.part.ridge == pytest.approx(0.02)
    assert job.part.outline.end == pytest.approx((-24, 9), abs=1.5e-4), "as it is written, to a tenth of a micrometre"


def test_what_was_not_said_stands_as_a_comment() -> None:
    text = job_text(_job())
    for line in ('# material = "mild steel"', "# curve = [0, -24]", "# ridge = 0.05", "# stick_out = ..."):
        assert line in text


def test_an_outline_shorter_than_the_nose_gets_its_curve() -> None:
    short = Outline((Line(Point(0, 9), Point(-2, 9)),))
    job = NewJob("Rim", "mm", "outside", short, 20, (NewTool("round", "round", 3),), "Made here")
    assert tomllib.loads(job_text(job))["part"]["curve"] == [0, -2]


def test_texts_cannot_break_the_document() -> None:
    tools = (NewTool('"', "round", 3),)
    source = "Read from a\n[stock]\ndiameter = 1\x07.dxf"
    job = NewJob('A "pin"\n[stock]', "mm", "outside", SHANK, 20, tools, source, material="x'\"")
    data = tomllib.loads(job_text(job))
    assert data["title"] == 'A "pin"\n[stock]'
    assert data["stock"]["diameter"] == 20


@pytest.mark.parametrize(
    ("d", "unit", "bar", "hole"),
    [(18, "mm", 19, 17), (17.9, "mm", 19, 16), (25.4, "in", 1.125 * 25.4, 0.9375 * 25.4), (1, "mm", 2, 1)],
)
def test_bars_and_holes_are_sizes_that_one_can_buy_or_drill(d: float, unit: Unit, bar: float, hole: float) -> None:
    outline = Outline((Line(Point(0, d / 2), Point(-24, d / 2)),))
    assert bar_for(outline, "outside", unit) == pytest.approx(bar)
    assert hole_for(outline, unit) == pytest.approx(hole)
