"""What a shell and a system do to a command: full and closed devices, pipes that close, Ctrl-C, odd bytes in files."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PIN = ROOT / "examples" / "bridge-pin.toml"
OVOLO = [sys.executable, "-c", "from ovolo.cli import main; main()"]
STOPPED = 130

needs_full = pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full on this system")


def run(*args: str, shell_after: str = "", **more: object) -> subprocess.CompletedProcess[str]:
    command = " ".join(f"'{word}'" for word in [*OVOLO, *args]) + shell_after
    return subprocess.run(["sh", "-c", command], capture_output=True, text=True, check=False, **more)  # type: ignore[call-overload,no-any-return]


@needs_full
def test_a_full_device_is_said_as_what_it_is() -> None:
    ended = run("schema", "job", shell_after=" > /dev/full")
    assert ended.returncode == 2
    assert "standard output: it cannot be written: no space left on device" in ended.stderr
    assert "mistake" not in ended.stderr


@needs_full
def test_where_standard_output_is_full_no_file_is_written_beside_it(tmp_path: Path) -> None:
    ended = run("plan", str(PIN), "--json", str(tmp_path / "a.json"), "--svg", "-", shell_after=" > /dev/full")
    assert ended.returncode == 2
    assert "no space left" in ended.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_closed_output_is_said(tmp_path: Path) -> None:
    ended = run("plan", str(PIN), "--svg", "-", "--json", str(tmp_path / "a.json"), shell_after=" >&-")
    assert ended.returncode == 2
    assert "standard output: it is closed" in ended.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_reader_that_goes_away_is_no_mistake() -> None:
    ended = run("schema", "job", shell_after=" | true")
    assert ended.stderr == ""


def test_faults_are_json_where_json_was_asked_for(tmp_path: Path) -> None:
    job = tmp_path / "pin.toml"
    job.write_text(PIN.read_text(encoding="utf-8").replace("diameter  = 20", "diameter  = -20"), encoding="utf-8")
    ended = run("plan", str(job), "--json", "-")
    assert ended.returncode == 2
    assert json.loads(ended.stdout)["faults"][0]["where"] == "stock.diameter"


def test_ctrl_c_is_not_a_mistake_and_writes_nothing(tmp_path: Path) -> None:
    script = "import sys, time; from ovolo.cli import commands as c\n"
    script += "c._run = lambda given: (print('ready', flush=True), time.sleep(60))\nc.main([])"
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as started:
        assert started.stdout is not None
        assert started.stdout.readline() == b"ready\n"
        time.sleep(0.1)
        started.send_signal(signal.SIGINT)
        _, said = started.communicate(timeout=30)
    assert started.returncode == STOPPED
    assert said.decode().strip() == "Stopped."


def test_without_a_home_the_commands_work() -> None:
    bare = {name: value for name, value in os.environ.items() if name not in ("HOME", "XDG_DATA_HOME")}
    assert run("plan", str(PIN), "--json", "-", env=bare).returncode == 0


def test_a_write_protected_file_is_not_replaced(tmp_path: Path) -> None:
    target = tmp_path / "pin.svg"
    target.write_text("mine", encoding="utf-8")
    target.chmod(0o444)
    ended = run("plan", str(PIN), "--svg", str(target))
    assert ended.returncode == 2
    assert "it is write-protected" in ended.stderr
    assert target.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("name", ["bad-control-characters.dxf", "bad-table-entry.dxf"])
def test_what_a_drawing_holds_never_steers_the_terminal(name: str, tmp_path: Path) -> None:
    args = ["new", "--from", str(ROOT / "tests" / "cli" / "drawings" / name), "--tool", "round 3", "--yes"]
    ended = run(*args, "-o", str(tmp_path / "job.toml"))
    assert ended.returncode == 2
    assert all(c.isprintable() or c == "\n" for c in ended.stdout + ended.stderr)
    assert "Ignored invalid" not in ended.stderr  # a library's log is for its developers
    assert ended.stderr.count("\n") <= 4
    assert list(tmp_path.iterdir()) == []
