"""A job that names a drawing: the same plan as from points, and every refusal at `part.file`."""

import json
from pathlib import Path
from shutil import copy

import pytest
from tests.documents.jobs import NOTHING, Data, faults, pin

from ovolo.cli import main
from ovolo.documents.reading import job_from_data, read_job
from ovolo.documents.resolved import job_as_toml
from ovolo.errors import Fault, JobFaults
from ovolo.plan.planner import make_plan

DRAWINGS = Path(__file__).parents[1] / "drawings"


def _job(name: str, changes: Data | None = None) -> Data:
    return pin({"part.file": name, "part.outline": NOTHING, **(changes or {})})


def _fault(name: str, base: Path | None, changes: Data | None = None) -> Fault:
    with pytest.raises(JobFaults) as caught:
        job_from_data(_job(name, changes), base)
    (fault,) = caught.value.faults
    assert fault.where == "part.file"
    assert fault.remedy
    return fault


@pytest.mark.parametrize("name", ["bridge-pin-half.dxf", "bridge-pin.svg", "bridge-pin.csv"])
def test_a_drawing_gives_the_outline_of_the_pin(name: str) -> None:
    job = job_from_data(_job(name, {"units": "mm"}), DRAWINGS)
    assert job.part.outline.start == pytest.approx((0, 0), abs=2e-3)
    assert job.part.outline.end.y == pytest.approx(9, abs=2e-3)


def test_it_is_planned_as_the_job_that_new_writes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy(DRAWINGS / "bridge-pin-half.dxf", tmp_path / "pin.dxf")
    written, named = tmp_path / "written.toml", tmp_path / "named.toml"
    options = ["--diameter", "20", "--proud", "0.5", "--stick-out", "35", "--yes"]
    with pytest.raises(SystemExit) as end:
        main(["new", "--from", str(tmp_path / "pin.dxf"), *options, "--tool", "round 3", "-o", str(written)])
    assert end.value.code == 0, capsys.readouterr().err
    text = written.read_text("utf-8")
    head, _, rest = text.partition("outline = [")
    named.write_text(head + 'file = "pin.dxf"\n' + rest.partition("\n]\n")[2], "utf-8")
    one, other = make_plan(read_job(written)), make_plan(read_job(named))
    assert [move.shown for move in one.moves] == [move.shown for move in other.moves]
    assert one.stations == other.stations


def test_as_resolved_it_carries_its_points(tmp_path: Path) -> None:
    job = job_from_data(_job("bridge-pin-half.dxf"), DRAWINGS)
    text = job_as_toml(job)
    assert "outline = [" in text
    assert "file" not in text
    (tmp_path / "pin.toml").write_text(text, "utf-8")
    again = read_job(tmp_path / "pin.toml")
    for piece, same in zip(again.part.outline.segments, job.part.outline.segments, strict=True):
        assert type(piece) is type(same)
        assert piece.end == pytest.approx(same.end, abs=1e-12)
        assert piece.length == pytest.approx(same.length)
    assert again.shop == job.shop


def test_a_job_that_was_sent_opens_nothing() -> None:
    (fault,) = faults(_job(str(DRAWINGS / "bridge-pin-half.dxf")))
    assert fault.where == "part.file"
    assert fault.says.startswith("a job that was sent")


def test_a_relative_name_stays_in_the_folder_of_the_job(tmp_path: Path) -> None:
    inside = tmp_path / "job"
    inside.mkdir()
    copy(DRAWINGS / "bridge-pin-half.dxf", tmp_path / "pin.dxf")
    assert _fault("../pin.dxf", inside).says == "it lies outside the folder of the job"
    (inside / "link.dxf").symlink_to(tmp_path / "pin.dxf")
    assert _fault("link.dxf", inside).says == "it lies outside the folder of the job"
    (inside / "loop.dxf").symlink_to(inside / "loop.dxf")
    assert _fault("loop.dxf", inside).says
    assert job_from_data(_job("../job/pin.dxf"), _with_copy(inside)).part.outline.segments


def _with_copy(folder: Path) -> Path:
    copy(DRAWINGS / "bridge-pin-half.dxf", folder / "pin.dxf")
    return folder


def test_an_absolute_name_is_the_writers_own(tmp_path: Path) -> None:
    assert job_from_data(_job(str(DRAWINGS / "bridge-pin-half.dxf")), tmp_path).part.outline.segments


def test_a_drawing_that_tells_no_unit_takes_the_one_that_the_job_writes(tmp_path: Path) -> None:
    (tmp_path / "dowel.csv").write_text("z,d\n0,12\n-20,14\n", "utf-8")
    fault = _fault("dowel.csv", tmp_path)
    assert "mm or inches" in fault.says
    assert 'units = "mm"' in fault.remedy
    job = job_from_data(_job("dowel.csv", {"units": "mm", "part.curve": [0, -10]}), tmp_path)
    assert job.part.outline.end == pytest.approx((-20, 7))


def test_a_drawing_that_tells_its_unit_is_believed() -> None:
    """A dowel of 2.2 in, drawn in inches, in a job in millimetres: its numbers are not read as millimetres."""
    changes = {"units": "mm", "part.curve": NOTHING, "stock.diameter": 60, "stock.stick_out": 80}
    assert job_from_data(_job("dowel-inch.dxf", changes), DRAWINGS).part.outline.end.x == pytest.approx(-55.88)


@pytest.mark.parametrize("name", sorted(path.name for path in DRAWINGS.glob("bad-*")))
def test_every_refusal_of_a_reader_stands_at_part_file(name: str) -> None:
    fault = _fault(name, DRAWINGS, {"units": "mm"})
    assert json.dumps(fault.as_dict())


@pytest.mark.parametrize("name", ["nowhere.dxf", "make.py", ".", "a" * 200])
def test_what_is_no_drawing_is_refused_in_words(name: str) -> None:
    assert _fault(name, DRAWINGS).says


def test_what_only_new_can_be_told_is_said(tmp_path: Path) -> None:
    """Two lines that could each be the axis: the reader wants to be told."""
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
    lines = '<path d="M50 10 L50 5 L20 5 L20 10" fill="none" stroke="black"/></svg>'
    (tmp_path / "odd.svg").write_text(svg + lines, "utf-8")
    fault = _fault("odd.svg", tmp_path)
    assert "ovolo new --from odd.svg has the option --axis for it" in fault.remedy


def test_faults_of_the_shop_come_with_those_of_the_drawing() -> None:
    with pytest.raises(JobFaults) as caught:
        job_from_data(_job("nowhere.dxf", {"finish.ridge": 0.0001}), DRAWINGS)
    assert {fault.where for fault in caught.value.faults} == {"part.file", "finish.ridge"}
