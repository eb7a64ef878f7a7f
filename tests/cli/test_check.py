"""`ovolo check`."""

import json
from pathlib import Path

import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.cli import main
from ovolo.documents.plan.document import plan_as_json
from ovolo.documents.resolved import job_as_toml


def _run(*args: str) -> int:
    with pytest.raises(SystemExit) as left:
        main(["check", *args])
    return int(left.value.code or 0)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made, path = shape("dome"), tmp_path_factory.mktemp("check")
    (path / "pin.toml").write_text(job_as_toml(made.plan.job), encoding="utf-8")
    (path / "pin.json").write_text(plan_as_json(made.plan), encoding="utf-8")
    read = measure(make(made.job, made.moves, Wrong(cross=0.09), 4), places("dome"), 54)
    (path / "read.csv").write_text(as_csv(read, u=0.01, u_z=0.02), encoding="utf-8")
    return path


def test_what_to_measure_is_listed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(str(folder / "pin.toml")) == 0
    assert "Measure" in capsys.readouterr().out
    assert _run(str(folder / "pin.toml"), "--list", "-") == 0
    assert capsys.readouterr().out.startswith("z,d,over\n")


def test_readings_become_a_verdict_a_document_and_moves(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out, moves = folder / "check.json", folder / "again.json"
    assert _run(str(folder / "pin.toml"), str(folder / "read.csv"), "--json", str(out), "--plan", str(moves)) == 0
    assert "cross slide's readout" in capsys.readouterr().out
    data = json.loads(out.read_text(encoding="utf-8"))
    assert data["causes"][0]["name"] == "cross_offset"
    assert json.loads(moves.read_text(encoding="utf-8")) == data["correction"]["plan"]


def test_a_plan_is_checked_as_it_was_run(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(str(folder / "pin.json"), str(folder / "read.csv"), "--json", "-") == 0
    assert json.loads(capsys.readouterr().out)["causes"][0]["name"] == "cross_offset"


def test_what_was_out_of_the_chuck_gets_no_moves(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(str(folder / "pin.toml"), str(folder / "read.csv"), "--rechucked") == 0
    assert "runs out" in capsys.readouterr().out
    assert _run(str(folder / "pin.toml"), str(folder / "read.csv"), "--rechucked", "--plan", "-") == 2


@pytest.mark.parametrize("content", ["", "z,d\n-3,x\n", "nothing"])
def test_what_is_wrong_with_a_file_is_said(folder: Path, content: str, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "bad.csv").write_text(content, encoding="utf-8")
    assert _run(str(folder / "pin.toml"), str(folder / "bad.csv")) == 2
    assert "bad.csv" in capsys.readouterr().err
    (folder / "bad.json").write_text(content, encoding="utf-8")
    assert _run(str(folder / "bad.json"), str(folder / "read.csv")) == 2


def test_json_without_readings_is_refused(folder: Path) -> None:
    assert _run(str(folder / "pin.toml"), "--json", "-") == 2
