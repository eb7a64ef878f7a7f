"""`ovolo new`: from a drawing or a form to a job, with or without a terminal; a fault writes nothing."""

import re
import tomllib
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

from ovolo.cli import new as module
from ovolo.cli.new import new
from ovolo.documents.reading import read_job
from ovolo.documents.starts import STARTS
from ovolo.errors import JobFaults

DRAWINGS = Path(__file__).parents[1] / "drawings"


def _run(folder: Path, *args: str, answers: str | None = None) -> Result:
    """The command in a folder; faults come back as the exception of the result."""
    return CliRunner().invoke(new, ["-o", str(folder / "job.toml"), *args], input=answers)


def _job(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))


def test_a_drawing_becomes_a_job_by_options_alone(tmp_path: Path) -> None:
    result = _run(
        tmp_path, "--from", str(DRAWINGS / "bridge-pin-half.dxf"), "--units", "mm", "--diameter", "20",
        "--tool", "round 3", "--tool", "left 0.4", "--title", "Bridge pin", "--material", "mild steel",
        "--ridge", "0.02", "--stick-out", "35", "--proud", "0.5",
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    job = _job(tmp_path)
    assert job["part"]["outline"] == [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}]
    assert job["stock"] == {"diameter": 20, "proud": 0.5, "stick_out": 35}
    assert [t["kind"] for t in job["tool"]] == ["round", "pointed"]
    assert job["finish"]["ridge"] == 0.02
    read_job(tmp_path / "job.toml")


def test_what_was_understood_is_said_and_drawn(tmp_path: Path) -> None:
    page = tmp_path / "seen.svg"
    result = _run(tmp_path, "--from", str(DRAWINGS / "winch-lever-whole.dxf"), "--picture", str(page))
    assert result.exit_code == 0, result.output
    assert "one half was taken" in result.output
    assert "No --diameter was given: 26 mm was taken" in result.output
    assert "As understood" in page.read_text(encoding="utf-8")


def test_a_picture_is_what_its_name_says(tmp_path: Path) -> None:
    drawing = ["--from", str(DRAWINGS / "winch-lever-whole.dxf")]
    assert _run(tmp_path, *drawing, "--picture", str(tmp_path / "seen.PNG")).exit_code == 0
    assert (tmp_path / "seen.PNG").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    wrong = _run(tmp_path, *drawing, "--replace", "--picture", str(tmp_path / "seen.jpg"))
    assert wrong.exit_code == 2
    assert "writes .svg or .png" in wrong.output


def test_a_layer_that_was_left_out_can_be_named(tmp_path: Path) -> None:
    """What is reported as left out may be asked for: it says the same once more."""
    drawing = ["--from", str(DRAWINGS / "winch-lever-whole.dxf"), "--replace"]
    first = _run(tmp_path, *drawing)
    layers = set(re.findall(r"layer ([a-z0-9]+)", first.output))
    assert layers
    for layer in layers:
        again = _run(tmp_path, *drawing, "--without", layer)
        assert again.exit_code == 0, again.output
        assert f"layer {layer}" in again.output


def test_the_hand_made_and_the_written_file_give_the_same_job(tmp_path: Path) -> None:
    jobs = []
    for name in ("bridge-pin-half.dxf", "bridge-pin-r12.dxf"):
        assert _run(tmp_path, "--from", str(DRAWINGS / name), "--units", "mm", "--replace").exit_code == 0
        jobs.append(_job(tmp_path)["part"])
    assert jobs[0] == jobs[1]


def test_a_job_in_inches_from_a_drawing_in_mm(tmp_path: Path) -> None:
    args = ["--from", str(DRAWINGS / "bridge-pin.svg"), "--units", "in", "--tool", "round 1/8"]
    assert _run(tmp_path, *args).exit_code == 0
    job = _job(tmp_path)
    assert job["units"] == "in"
    assert job["part"]["outline"][1]["d"] == round(18 / 25.4, 5), "written to a hundred-thousandth of an inch"
    assert job["tool"][0]["nose_radius"] == 0.125


@pytest.mark.parametrize("form", STARTS)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_form_starts_a_job_that_reads_back(form: str, unit: str, tmp_path: Path) -> None:
    result = _run(tmp_path, "--form", form, "--units", unit, "--yes")
    assert result.exit_code == 0, result.output
    assert read_job(tmp_path / "job.toml").title


def test_sizes_of_a_form_are_options(tmp_path: Path) -> None:
    assert _run(tmp_path, "--form", "dome", "--size", "diameter=5/8 in", "--size", "length=1 in").exit_code == 0
    outline = _job(tmp_path)["part"]["outline"]
    assert outline[1]["d"] == pytest.approx(15.875)
    assert outline[1]["convex"] == pytest.approx(15.875 / 2)


@pytest.mark.parametrize(
    ("args", "places"),
    [
        (["--form", "dome", "--size", "width=3", "--tool", "rund 3", "--ridge", "0"], ["--tool", "--ridge", "--size"]),
        (["--form", "dome", "--size", "height=12"], ["--size height"]),
        (["--form", "dome", "--size", "diameter=5/16-"], ["--size diameter"]),
        (["--form", "ball", "--size", "neck=30"], ["--size neck"]),
        (["--form", "dome", "--diameter", "5"], ["--diameter"]),
        (["--from", str(DRAWINGS / "bridge-pin.csv")], ["--drawing-units"]),
        (["--from", str(DRAWINGS / "lamp-finial-block.dxf")], ["--axis"]),
        (["--from", str(DRAWINGS / "handle-measured.csv"), "--units", "mm"], ["--smooth"]),
        (["--from", str(DRAWINGS / "winch-lever-whole.dxf"), "--layer", "nowhere"], ["--layer"]),
        (["--from", str(DRAWINGS / "bad-crossing.dxf")], [str(DRAWINGS / "bad-crossing.dxf")]),
    ],
)
def test_faults_name_the_option_and_write_nothing(args: list[str], places: list[str], tmp_path: Path) -> None:
    more = ["--picture", str(tmp_path / "seen.svg")] if "--from" in args else []
    result = _run(tmp_path, *args, *more)
    assert isinstance(result.exception, JobFaults), result.output
    assert [f.where for f in result.exception.faults] == places
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("args", "says"),
    [
        ([], "Give a drawing by --from, or a form by --form"),
        (["--from", "a.dxf", "--form", "dome"], "Give a drawing by --from, or a form by --form"),
        (["--form", "dome", "--picture", "a.svg"], "it goes with --from"),
    ],
)
def test_misuse_is_refused(args: list[str], says: str, tmp_path: Path) -> None:
    result = _run(tmp_path, *args)
    assert result.exit_code == 2
    assert says in result.output


def test_a_job_that_is_there_is_kept(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("mine", encoding="utf-8")
    assert _run(tmp_path, "--form", "dome").exit_code == 2
    assert (tmp_path / "job.toml").read_text(encoding="utf-8") == "mine"
    assert _run(tmp_path, "--form", "dome", "--replace").exit_code == 0


@pytest.fixture
def _at_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    class _Stdin:
        @staticmethod
        def isatty() -> bool:
            return True

    class _Sys:
        stdin = _Stdin

    monkeypatch.setattr(module, "sys", _Sys)


@pytest.mark.usefixtures("_at_a_terminal")
def test_at_a_terminal_it_asks_for_what_is_missing(tmp_path: Path) -> None:
    answers = "\n".join(["in", "0.75", "", "1", "Lamp pin", "1", "round 1/8"]) + "\n"
    result = _run(tmp_path, "--form", "dome", answers=answers)
    assert result.exit_code == 0, result.output
    job = _job(tmp_path)
    assert (job["units"], job["title"], job["stock"]["diameter"]) == ("in", "Lamp pin", 1)
    assert job["part"]["outline"][1] == {"z": -0.375, "d": 0.75, "convex": 0.375}


@pytest.mark.usefixtures("_at_a_terminal")
def test_at_a_terminal_units_and_axis_are_asked_and_a_no_writes_nothing(tmp_path: Path) -> None:
    name = str(DRAWINGS / "lamp-finial-block.dxf")
    answers = "\n".join(["mm", "x=40", "", "", "", "n"]) + "\n"
    result = _run(tmp_path, "--from", name, answers=answers)
    assert result.exit_code == 2
    assert "Is that the part?" in result.output
    assert list(tmp_path.iterdir()) == []


def test_every_option_is_explained() -> None:
    assert all(p.help for p in new.params if isinstance(p, click.Option))
