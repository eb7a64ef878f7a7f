"""How long a command takes to answer, against an interpreter that does nothing, and a length against a bare float."""

import subprocess
import sys
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from ovolo.units import parse_length

PIN = Path(__file__).parents[1] / "examples" / "bridge-pin.toml"

START = {
    "nothing": ["-c", "pass"],
    "front door": ["-c", "import ovolo"],
    "ovolo --help": ["-c", "from ovolo.cli import main; main(['--help'])"],
    "ovolo plan": ["-c", "import sys; from ovolo.cli import main; main(['plan', sys.argv[1]])", str(PIN)],
}

AIMS = {"ovolo --help": 100, "ovolo plan": 800}
"""To the end of the answer, start of the interpreter included, ms."""


@pytest.mark.benchmark(group="start of a process")
@pytest.mark.parametrize("what", START)
def test_start(benchmark: BenchmarkFixture, what: str) -> None:
    benchmark.extra_info["baseline"] = what == "nothing"
    benchmark.extra_info["aim_ms"] = AIMS.get(what)
    command = [sys.executable, *START[what]]
    benchmark.pedantic(  # type: ignore[no-untyped-call]
        subprocess.run, args=(command,), kwargs={"check": True, "capture_output": True}, rounds=15, warmup_rounds=2
    )


@pytest.mark.benchmark(group="reading a length")
def test_bare_float(benchmark: BenchmarkFixture) -> None:
    benchmark.extra_info["baseline"] = True
    assert benchmark(float, "7.25") == 7.25


@pytest.mark.benchmark(group="reading a length")
@pytest.mark.parametrize(("text", "mm"), [("7.25 mm", 7.25), ("1 1/4 in", 31.75)])
def test_parse_length(benchmark: BenchmarkFixture, text: str, mm: float) -> None:
    assert benchmark(parse_length, text, "mm") == mm
