"""`ovolo gauge`."""

from pathlib import Path

import pytest

from ovolo.cli import main

PIN = Path(__file__).parents[2] / "examples" / "bridge-pin.toml"


def _run(*args: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main(["gauge", *map(str, args)])
    assert isinstance(end.value.code, int)
    return end.value.code


@pytest.mark.parametrize(("kind", "start"), [("pdf", b"%PDF"), ("svg", b"<svg"), ("dxf", b"  0")])
def test_the_name_says_what_is_written(kind: str, start: bytes, tmp_path: Path) -> None:
    file = tmp_path / f"pin.{kind}"
    assert _run(PIN, "-o", file, "--side", "both", "--margin", "12", "--kerf", "0.2") == 0
    assert file.read_bytes().startswith(start)


def test_standard_output_needs_a_kind(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, "-o", "-") == 2
    assert "Add --kind" in capsys.readouterr().err
    assert _run(PIN, "-o", "-", "--kind", "dxf") == 0
    assert capsys.readouterr().out.rstrip().endswith("EOF")


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["-o", "pin.doc"], "its name does not say what to write"),
        (["-o", "pin.pdf", "--margin", "0"], "--margin: that is more or less than makes sense"),
        (["-o", "pin.pdf", "--margin", "wide"], "--margin: "),
        (["-o", "pin.pdf", "--kerf", "-1"], "--kerf: that is more or less"),
        (["-o", "nowhere/pin.pdf"], "its folder does not exist"),
    ],
)
def test_wrong_options_end_with_2(options: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, *options) == 2
    assert says in capsys.readouterr().err
