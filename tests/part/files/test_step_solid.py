"""The process that reads a solid: what it hands over, and that its end is not ours."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files import read_step
from ovolo.part.files.step_solid import packed, unpacked


@pytest.mark.parametrize(
    "segment",
    [Line(Point(0.0, 9.0), Point(-24.0, 9.1)), Arc(Point(0.0, 0.0), Point(-9.0, 9.0), Point(-9.0, 0.0), True)],
)
def test_segments_survive_the_journey(segment: Segment) -> None:
    assert unpacked(json.loads(json.dumps(packed(segment)))) == segment


@pytest.mark.parametrize("end", [-11, 1])
def test_a_process_that_falls_over_is_a_fault_of_the_file(end: int, monkeypatch: pytest.MonkeyPatch) -> None:
    def falls_over(command: list[str], **_: object) -> None:
        raise subprocess.CalledProcessError(end, command)

    monkeypatch.setattr("importlib.util.find_spec", lambda _: True)
    monkeypatch.setattr("subprocess.run", falls_over)
    with pytest.raises(JobFaults, match="its solid is damaged"):
        read_step(b"ISO-10303-21;\nEND-ISO-10303-21;\n")


def test_what_the_process_finds_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    def answers(command: list[str], **_: object) -> None:
        rows = [[0, 0, 0, 9], [0, 9, -24, 9]]
        answer = {"pieces": rows, "notes": ["turned"], "deviation": 0.0}
        Path(command[4]).write_text(json.dumps(answer), encoding="utf-8")

    monkeypatch.setattr("importlib.util.find_spec", lambda _: True)
    monkeypatch.setattr("subprocess.run", answers)
    drawing = read_step(b"ISO-10303-21;\nEND-ISO-10303-21;\n")
    assert [v for p in drawing.outline.nodes for v in p] == pytest.approx([0, 0, 0, 9, -24, 9])
    assert "turned" in drawing.notes


def test_without_its_arguments_the_process_fails() -> None:
    run = subprocess.run([sys.executable, "-m", "ovolo.part.files.step_solid"], capture_output=True, check=False)
    assert run.returncode != 0
