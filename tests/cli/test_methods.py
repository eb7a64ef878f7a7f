"""`ovolo methods`."""

import json
from pathlib import Path

import pytest

from ovolo.cli import main

PIN = Path(__file__).parents[2] / "examples" / "bridge-pin.toml"


def _run(*args: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main(["methods", *map(str, args)])
    assert isinstance(end.value.code, int)
    return end.value.code


def test_it_prints_the_methods_side_by_side(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN) == 0
    out = capsys.readouterr().out
    assert out.startswith("Bridge pin, domed end: ways to turn the curve")
    for name in ("single-slide steps", "both slides", "facets", "form tool", "fixture", "roughed, then filed"):
        assert name in out


def test_it_writes_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, "--json", tmp_path / "methods.json") == 0
    assert json.loads((tmp_path / "methods.json").read_text())["format"] == "ovolo-methods"
    assert "ways to turn the curve" in capsys.readouterr().out
    assert _run(PIN, "--json", "-") == 0
    assert json.loads(capsys.readouterr().out)["version"] == 1


def test_it_draws_them_to_one_scale(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    svg, png = tmp_path / "methods.svg", tmp_path / "methods.png"
    assert _run(PIN, "--svg", svg, "--png", png, "--look", "print") == 0
    assert "ways to turn the curve" in capsys.readouterr().out
    assert "times as large" in svg.read_text()
    assert png.read_bytes().startswith(b"\x89PNG")
    assert _run(PIN, "--svg", "-") == 0
    assert capsys.readouterr().out.startswith("<svg")
    assert _run(PIN, "--svg", svg, "--png", svg) == 2


def test_what_is_wrong_ends_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(tmp_path / "none.toml") == 2
    assert "there is no such file" in capsys.readouterr().err
    assert _run(PIN, "--json", tmp_path / "nowhere" / "m.json") == 2
    assert "its folder does not exist" in capsys.readouterr().err
