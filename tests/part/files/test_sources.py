"""Bytes of a file, within limits."""

import os
from pathlib import Path

import pytest

from ovolo.errors import JobFaults
from ovolo.part.files.sources import MOST_BYTES, load


def test_bytes_come_back_as_they_are(tmp_path: Path) -> None:
    file = tmp_path / "pin.csv"
    file.write_bytes(b"z,d\n0,1\n")
    assert load(file, "points") == load(b"z,d\n0,1\n", "points")


@pytest.mark.parametrize("data", [b"", b"  \r\n \t"])
def test_an_empty_file_is_refused(data: bytes) -> None:
    with pytest.raises(JobFaults, match="it is empty"):
        load(data, "DXF")


def test_a_huge_file_is_refused_without_being_read(tmp_path: Path) -> None:
    """A hole of 100 GB takes no room on the disc; reading it would take all memory."""
    file = tmp_path / "huge.dxf"
    with file.open("wb") as out:
        out.truncate(100_000_000_000)
    with pytest.raises(JobFaults, match="too large"):
        load(file, "DXF")


def test_bytes_past_the_limit_are_refused() -> None:
    with pytest.raises(JobFaults, match="at most 16 MB"):
        load(b" " * (MOST_BYTES + 1), "DXF")


def test_what_is_no_plain_file_is_refused(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.dxf"
    os.mkfifo(pipe)
    for path, says in [
        (tmp_path, "not a plain file"),
        (pipe, "not a plain file"),
        (tmp_path / "no.dxf", "cannot be read"),
    ]:
        with pytest.raises(JobFaults, match=says):
            load(path, "DXF")
    with pytest.raises(JobFaults, match="cannot be read"):
        load("a\0b.dxf", "DXF")
