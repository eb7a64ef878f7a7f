"""The pictures that `ovolo plan` writes."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from ovolo.cli import main

PIN = Path(__file__).parents[2] / "examples" / "bridge-pin.toml"


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


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--svg", "-", "--move", "999"], "--move: the plan has no such move"),
        (["--svg", "-", "--picture", "portrait"], "--picture"),
        (["--png", "nowhere/pin.png"], "its folder does not exist"),
    ],
)
def test_wrong_options_end_with_2(options: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, *options) == 2
    captured = capsys.readouterr()
    assert says in captured.err
    assert not captured.out
