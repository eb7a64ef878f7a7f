"""The pictures that `ovolo plan` writes."""

from importlib import import_module
from pathlib import Path
from xml.etree import ElementTree

import pytest

from ovolo.cli import main
from ovolo.show import moments

plan_command = import_module("ovolo.cli.plan")

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
    assert _run(PIN, "--json", tmp_path / "pin.json", "--animation", tmp_path / "pin.gif") == 1
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
