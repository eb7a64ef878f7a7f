"""Files are written whole or not at all."""

import os
import stat
from pathlib import Path

import click
import pytest

from ovolo.cli.output import check_targets, write_all
from ovolo.errors import OutputError


def test_files_are_written_with_the_rights_of_the_shell(tmp_path: Path) -> None:
    mask = os.umask(0o027)
    try:
        write_all({str(tmp_path / "a.json"): "ä\n", str(tmp_path / "b.csv"): "1,2\r\n"})
    finally:
        os.umask(mask)
    assert (tmp_path / "a.json").read_bytes() == "ä\n".encode()
    assert (tmp_path / "b.csv").read_bytes() == b"1,2\r\n"
    assert stat.S_IMODE((tmp_path / "a.json").stat().st_mode) == 0o640
    assert len(list(tmp_path.iterdir())) == 2


def test_a_file_that_is_there_keeps_its_rights_and_its_link(tmp_path: Path) -> None:
    real = tmp_path / "real.json"
    real.write_text("old")
    real.chmod(0o600)
    (tmp_path / "link.json").symlink_to(real)
    write_all({str(tmp_path / "link.json"): "new"})
    assert real.read_text() == "new"
    assert stat.S_IMODE(real.stat().st_mode) == 0o600
    assert (tmp_path / "link.json").is_symlink()


def test_where_one_cannot_be_written_none_is(tmp_path: Path) -> None:
    first = tmp_path / "a.json"
    first.write_text("old")
    with pytest.raises(OutputError, match=r"b\.csv: it cannot be written"):
        write_all({str(first): "new", str(tmp_path / "nowhere" / "b.csv"): "1"})
    assert first.read_text() == "old"
    assert list(tmp_path.iterdir()) == [first]


def test_a_text_that_cannot_be_encoded_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(UnicodeEncodeError):
        write_all({str(tmp_path / "a.json"): "\ud800"})
    assert list(tmp_path.iterdir()) == []


def test_a_device_is_written_to_and_never_replaced() -> None:
    write_all({os.devnull: "text"})
    assert stat.S_ISCHR(os.stat(os.devnull).st_mode)


def test_a_dash_is_standard_output(capsys: pytest.CaptureFixture[str]) -> None:
    write_all({"-": "Ø 18\n"})
    assert capsys.readouterr().out == "Ø 18\n"


def test_targets_are_looked_at_before_the_work(tmp_path: Path) -> None:
    job = tmp_path / "pin.toml"
    job.write_text("")
    check_targets({"--json": "-", "--csv": str(tmp_path / "a.csv")}, job)
    with pytest.raises(click.UsageError, match=r"--json .*pin\.toml: that is the job itself"):
        check_targets({"--json": str(tmp_path / "." / "pin.toml")}, job)
    with pytest.raises(click.UsageError, match="--csv -: that is where --json goes"):
        check_targets({"--json": "-", "--csv": "-"}, job)
    with pytest.raises(OutputError, match="its folder does not exist"):
        check_targets({"--svg": str(tmp_path / "out" / "a.svg")}, job)
    with pytest.raises(OutputError, match="it is a folder"):
        check_targets({"--svg": str(tmp_path)}, job)


def test_bytes_are_written_as_they_are(tmp_path: Path) -> None:
    file = tmp_path / "x.bin"
    write_all({str(file): b"\r\n\x00\xff"})
    assert file.read_bytes() == b"\r\n\x00\xff"
