"""`ovolo open`: says where it is, serves, keeps what it is given, refuses what can't be."""

import re
import signal
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest
from click.testing import CliRunner

from ovolo.cli.commands import commands


def test_it_serves_until_it_is_stopped(tmp_path: Path) -> None:
    code = "import sys; from ovolo.cli import main; main(sys.argv[1:])"
    run = subprocess.Popen(
        [sys.executable, "-c", code, "open", "--no-browser", "--port", "0", "--data", str(tmp_path / "data")],
        stdout=subprocess.PIPE,
        text=True,
    )
    assert run.stdout is not None
    try:
        address = re.search(r"http://127\.0\.0\.1:\d+/", run.stdout.readline())
        assert address
        with urllib.request.urlopen(address[0], timeout=20) as answer:
            assert "Bridge pin" in answer.read().decode()
    finally:
        run.send_signal(signal.SIGINT)
        run.stdout.close()
        run.wait(20)
    assert (tmp_path / "data" / "ovolo.sqlite3").is_file()


def test_two_places_to_keep_jobs_are_one_too_many(tmp_path: Path) -> None:
    result = CliRunner().invoke(commands, ["open", "--data", str(tmp_path), "--database", "sqlite://"])
    assert result.exit_code == 2
    assert "Give one of them" in result.output


@pytest.mark.parametrize("port", ["-1", "70000", "x"])
def test_a_port_is_a_port(port: str) -> None:
    assert CliRunner().invoke(commands, ["open", "--port", port]).exit_code == 2
