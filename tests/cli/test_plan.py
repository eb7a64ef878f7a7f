"""`ovolo plan`, from the job's file to what is printed and written."""

import csv
import json
import tomllib
from pathlib import Path

import pytest

from ovolo.cli import main
from ovolo.documents.plan.model import PlanFile
from ovolo.documents.reading import job_from_data, read_job

PIN = Path(__file__).parents[2] / "examples" / "bridge-pin.toml"


def _run(*args: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main(["plan", *map(str, args)])
    assert isinstance(end.value.code, int)
    return end.value.code


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with all that the bridge pin is written to."""
    folder = tmp_path_factory.mktemp("out")
    files = [f"--{kind}={folder / 'pin'}.{kind}" for kind in ("json", "csv", "job")]
    assert _run(PIN, *files) == 0
    return folder


def test_it_prints_how_to_set_up_every_move_and_what_is_left(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN) == 0
    captured = capsys.readouterr()
    heads = ("Bridge pin, domed end", "Set-up", "Moves, in mm", "Finish with round nose 6", "What will be left")
    places = [captured.out.find(head) for head in heads]
    assert -1 not in places
    assert places == sorted(places)
    assert not captured.err


def test_json_is_a_plan(written: Path) -> None:
    plan = PlanFile.model_validate(json.loads((written / "pin.json").read_text()))
    assert plan.stations == plan.fewest
    assert plan.prediction.ridge_max <= 0.05


def test_csv_has_a_line_a_move(written: Path) -> None:
    with (written / "pin.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    plan = json.loads((written / "pin.json").read_text())
    assert [float(row["set"]) for row in rows] == [move["set"] for move in plan["moves"]]


def test_job_is_the_same_job(written: Path) -> None:
    assert job_from_data(tomllib.loads((written / "pin.job").read_text())) == read_job(PIN)


def test_a_dash_carries_nothing_else(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, "--json", "-") == 0
    assert json.loads(capsys.readouterr().out)["format"] == "ovolo-plan"


def test_a_ridge_may_be_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, "--ridge", "80 µm", "--json", "-") == 0
    coarse = json.loads(capsys.readouterr().out)
    assert coarse["job"]["finish"]["ridge"] == pytest.approx(0.08)
    assert coarse["stations"] < 16


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--ridge", "0.0001"], "--ridge: the slides can only be set to 0.005 mm of travel"),
        (["--ridge", "-1"], "--ridge: the slides can only be set to 0.005 mm of travel"),
        (["--ridge", "fine"], "--ridge: "),
        (["--tool", "round nose"], "--tool: there is no such tool in the drawer"),
        (["--settings", "0"], "--settings"),
        (["--settings", "12", "--ridge", "0.1"], "each follows from the other"),
        (["--csv", "nowhere/pin.csv"], "nowhere/pin.csv: its folder does not exist"),
        (["--job", str(PIN)], "that is the job itself"),
    ],
)
def test_wrong_options_end_with_2(options: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    before = PIN.read_bytes()
    assert _run(PIN, *options) == 2
    captured = capsys.readouterr()
    assert says in captured.err
    assert not captured.out
    assert PIN.read_bytes() == before


def test_every_fault_of_a_job_is_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "pin.toml"
    job.write_text(PIN.read_text().replace("ridge     =", "ridgee ="))
    assert _run(job, "--json", str(tmp_path / "pin.json")) == 2
    assert "finish.ridgee: there is no such field" in capsys.readouterr().err
    job.write_text(
        PIN.read_text().replace("diameter  = 20", "diameter = 10").replace("stick_out = 35", "stick_out = 5")
    )
    assert _run(job, "--json", str(tmp_path / "pin.json")) == 2
    err = capsys.readouterr().err
    assert "2 things are wrong" in err
    assert "stock.diameter" in err
    assert "stock.stick_out" in err
    assert list(tmp_path.iterdir()) == [job]


def test_the_outlook_is_short_and_in_full_on_request(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN) == 0
    short = capsys.readouterr().out
    assert "What to expect" not in short
    assert "Load of each cut" not in short
    assert _run(PIN, "--details") == 0
    long = capsys.readouterr().out
    for head in (
        "Spindle and feed",
        "Load of each cut",
        "Where the outline will lie",
        "Where the time goes",
        "The blend",
    ):
        assert f"\n{head}" in long


def test_the_trade_off_is_written_as_its_name_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, "--tradeoff", tmp_path / "trade.csv") == 0
    rows = list(csv.DictReader((tmp_path / "trade.csv").read_text().splitlines()))
    capsys.readouterr()
    assert _run(PIN, "--tradeoff", tmp_path / "trade.json") == 0
    data = json.loads((tmp_path / "trade.json").read_text())
    assert [row["settings"] for row in data["points"]] == [int(row["settings"]) for row in rows]
    capsys.readouterr()
    assert _run(PIN, "--tradeoff", "-") == 0
    text = capsys.readouterr().out
    assert text.startswith("Bridge pin, domed end: how many settings are worth it")
    assert "Setting up" not in text
    assert _run(PIN, "--tradeoff", tmp_path / "trade.xls") == 2
    assert ".txt, .csv, .json" in capsys.readouterr().err


def _recording(folder: Path, text: str) -> Path:
    path = folder / "run.csv"
    path.write_text(text)
    return path


def test_a_recorded_run_gives_the_pace_to_paste(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [f"{n},{200 if n == 1 else 20 + n % 3}" for n in range(1, 31)]
    run = _recording(tmp_path, "\n".join(["move,seconds", *rows]))
    assert _run(PIN, "--recorded", run, "--json", tmp_path / "pin.json") == 0
    out = capsys.readouterr().out
    assert out.startswith("# From 30 of ")
    pace = tomllib.loads(out)["pace"]
    assert pace["setting"] > 8
    assert (tmp_path / "pin.json").exists()
    pasted = tmp_path / "pin.toml"
    pasted.write_text(PIN.read_text() + "\n" + out)
    assert read_job(pasted).shop.pace.setting == pace["setting"]


def test_a_recording_that_is_wrong_ends_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for text, says in (
        ("move,seconds\n1,x\n999,3\n", "2 things are wrong"),
        ("move,seconds\n3,0.01\n4,0.01\n5,0.01\n6,0.01\n", "no longer than their cuts alone"),
    ):
        assert _run(PIN, "--recorded", _recording(tmp_path, text), "--json", tmp_path / "pin.json") == 2
        captured = capsys.readouterr()
        assert says in captured.err
        assert "Traceback" not in captured.err
        assert not (tmp_path / "pin.json").exists()
    assert _run(PIN, "--recorded", _recording(tmp_path, ""), "--json", "-") == 2
    assert "--recorded prints your pace" in capsys.readouterr().err


def test_coarse_work_says_where_to_try_the_gauge(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, "--coarse") == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "Coarse work" in printed
    assert "Try the gauge first where they are highest" in printed
    assert _run(PIN, "--coarse", "--ridge", "0.1") == 2
