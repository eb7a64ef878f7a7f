"""The text of a file: read, or refused with one fault that says why."""

from pathlib import Path

import pytest

from ovolo.documents.text_file import text_of
from ovolo.errors import Fault, JobFaults


def _refused(path: Path, most: int = 1_000_000) -> Fault:
    with pytest.raises(JobFaults) as refused:
        text_of(path, "a job", most)
    (fault,) = refused.value.faults
    assert fault.where == str(path)
    assert fault.remedy
    return fault


def test_a_byte_order_mark_is_no_part_of_it(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(b"\xef\xbb\xbfversion = 1")
    assert text_of(tmp_path / "job.toml", "a job", 100) == "version = 1"


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    assert _refused(tmp_path / "none.toml").says == "there is no such file"
    assert _refused(tmp_path).says == "it is not a file"
    assert "cannot be read" in _refused(tmp_path / ("n" * 5000)).says


def test_a_name_with_a_zero_in_it_is_refused(tmp_path: Path) -> None:
    assert _refused(tmp_path / "a\0b").says in ("there is no such file", "it cannot be read: embedded null byte")


def test_size_and_limit_are_quoted(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(b"x" * 2_100_000)
    fault = _refused(tmp_path / "job.toml", 2_000_000)
    assert (fault.value, fault.limit, fault.says) == ("2.1 MB", "2 MB", "2.1 MB are too much for a job")


def test_bytes_that_are_no_text_are_counted(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(b"title = '\xff'")
    assert _refused(tmp_path / "job.toml").says == "byte 10 is not UTF-8 text"
