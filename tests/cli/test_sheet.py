"""`ovolo sheet`."""

from pathlib import Path

import pytest

from ovolo.cli import main

PIN = Path(__file__).parents[2] / "examples" / "bridge-pin.toml"


def _run(*args: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main(["sheet", *map(str, args)])
    assert isinstance(end.value.code, int)
    return end.value.code


def test_it_writes_a_pdf_and_says_where(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "pin.pdf"
    assert _run(PIN, "-o", file, "--paper", "letter", "--revision", "B", "--ridge", "0.1") == 0
    assert file.read_bytes().startswith(b"%PDF")
    assert capsys.readouterr().out == f"Sheet: {file}\n"


def test_a_dash_carries_nothing_else(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert _run(PIN, "-o", "-") == 0
    assert capfdbinary.readouterr().out.startswith(b"%PDF")


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ([], "--output"),
        (["-o", "nowhere/pin.pdf"], "its folder does not exist"),
        (["-o", str(PIN)], "that is the job itself"),
        (["-o", "x.pdf", "--paper", "a0"], "--paper"),
        (["-o", "x.pdf", "--tool", "none"], "no such tool"),
    ],
)
def test_wrong_options_end_with_2(options: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(PIN, *options) == 2
    assert says in capsys.readouterr().err


def test_a_job_that_is_wrong_leaves_nothing_behind(tmp_path: Path) -> None:
    job = tmp_path / "pin.toml"
    job.write_text(PIN.read_text().replace("nose_radius = 3", "nose_radius = -3"))
    assert _run(job, "-o", tmp_path / "pin.pdf") == 2
    assert list(tmp_path.iterdir()) == [job]
