"""The pictures that `ovolo plan` writes."""

from importlib import import_module
from pathlib import Path
from xml.etree import ElementTree

import pytest

from ovolo.cli import main
from ovolo.errors import Fault, OutputError
from ovolo.show.animation import moments

plan_command = import_module("ovolo.cli.plan")

PIN = Path(__file__).parents[2] / "examples" / "bridge-pin.toml"

GROOVE = """
title = "Groove of a winch drum"
[part]
outline = [ { z = 0, d = 20 }, { z = -5, d = 20 }, { z = -5, d = 10 }, { z = -9, d = 10 }, { z = -9, d = 20 },
  { z = -20, d = 20 } ]
curve = [-5, -9]
[stock]
diameter = 20.5
proud = 0
[[tool]]
name = "blade"
kind = "grooving"
nose_radius = 0.1
width = 3
stem = 4
shank = 12
[limits]
bite = 3.5
"""
"""The blade's stem is shorter than the groove is deep."""


def _run(*args: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main(["plan", *map(str, args)])
    assert isinstance(end.value.code, int)
    return end.value.code


def test_drawing_image_and_animation_are_written(tmp_path: Path) -> None:
    files = [tmp_path / name for name in ("pin.svg", "pin.png", "pin.html")]
    assert _run(PIN, "--svg", files[0], "--png", files[1], "--animation", files[2]) == 0
    assert "Bridge pin, domed end" in (ElementTree.parse(files[0]).getroot().findtext("*") or "")
    assert files[1].read_bytes().startswith(b"\x89PNG")
    assert files[2].read_text(encoding="utf-8").startswith("<!doctype html>")


def test_another_picture_of_another_move_in_another_look(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, "--svg", "-", "--picture", "move", "--move", "8", "--look", "dark") == 0
    svg = capsys.readouterr().out
    assert "<title>Move 8:" in svg
    assert "#15212c" in svg


def test_an_image_goes_to_standard_output_untouched(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert _run(PIN, "--png", "-") == 0
    assert capfdbinary.readouterr().out.startswith(b"\x89PNG\r\n\x1a\n")


def test_a_moving_picture_is_written_where_the_name_asks_for_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(moments, "MOST", 4)
    assert _run(PIN, "--animation", tmp_path / "pin.GIF", "--look", "print") == 0
    assert (tmp_path / "pin.GIF").read_bytes().startswith(b"GIF89a")


def test_stopped_at_an_image_it_leaves_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(done: int, of: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(plan_command, "told", lambda what: stop)
    assert _run(PIN, "--json", tmp_path / "pin.json", "--animation", tmp_path / "pin.gif") == 130
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--svg", "-", "--move", "999"], "--move: the plan has no such move"),
        (["--svg", "-", "--picture", "portrait"], "--picture"),
        (["--png", "nowhere/pin.png"], "its folder does not exist"),
        (["--animation", "nowhere/pin.gif"], "its folder does not exist"),
        (["--animation", "pin.mp4"], "--animation: the end of its name does not say what to write"),
    ],
)
def test_wrong_options_end_with_2(options: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, *options) == 2
    captured = capsys.readouterr()
    assert says in captured.err
    assert not captured.out


@pytest.fixture
def refused(tmp_path: Path) -> Path:
    """A job that no tool of its drawer can make, in a folder of its own."""
    job = tmp_path / "jobs" / "groove.toml"
    job.parent.mkdir()
    job.write_text(GROOVE, encoding="utf-8")
    return job


def test_a_refusal_is_drawn(refused: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    svg, png = tmp_path / "out.svg", tmp_path / "out.png"
    svg.write_text("what was there before", encoding="utf-8")
    assert _run(refused, "--svg", svg, "--png", png, "--json", tmp_path / "plan.json", "--look", "dark") == 2
    captured = capsys.readouterr()
    assert "is out of reach" in captured.err
    assert captured.err.rstrip().endswith(f"What is out of reach is drawn in {svg} and {png}.")
    assert not captured.out
    root = ElementTree.parse(svg).getroot()
    assert "No tool of the drawer reaches the outline" in (root.findtext("{http://www.w3.org/2000/svg}desc") or "")
    assert "#15212c" in svg.read_text(encoding="utf-8")
    assert png.read_bytes().startswith(b"\x89PNG")
    assert {path.name for path in tmp_path.iterdir()} == {"jobs", "out.svg", "out.png"}


def test_a_refusal_goes_to_standard_output_too(refused: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(refused, "--svg", "-") == 2
    captured = capsys.readouterr()
    assert captured.out.startswith("<svg")
    assert captured.err.rstrip().endswith("What is out of reach is drawn in the output.")


@pytest.mark.parametrize("options", [["--picture", "left"], ["--tool", "file"], ["--ridge", "-1"]])
def test_what_is_no_drawing_of_a_refusal_is_left_alone(refused: Path, tmp_path: Path, options: list[str]) -> None:
    svg = tmp_path / "out.svg"
    svg.write_text("what was there before", encoding="utf-8")
    assert _run(refused, "--svg", svg, *options) == 2
    assert svg.read_text(encoding="utf-8") == "what was there before"


def test_where_tools_are_not_in_the_way_nothing_is_drawn(
    refused: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    deep = GROOVE.replace("stem = 4", "stem = 7")
    refused.write_text(f"{deep}[slide.cross]\ntravel = 1\n", encoding="utf-8")
    assert _run(refused, "--svg", tmp_path / "out.svg") == 2
    assert "slide.cross.travel" in capsys.readouterr().err
    assert not (tmp_path / "out.svg").exists()


def test_a_refusal_is_told_though_its_drawing_cannot_be_written(
    refused: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(_: object) -> None:
        raise OutputError(Fault("out.svg", None, "", "it cannot be written: no space left on device", "Make room"))

    monkeypatch.setattr(plan_command, "write_all", full)
    assert _run(refused, "--svg", tmp_path / "out.svg") == 2
    said = capsys.readouterr().err
    assert "is out of reach" in said
    assert "no space left on device" in said
    assert "is drawn" not in said
