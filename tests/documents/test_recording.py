"""A recorded run: what is read, and every way in which a file can be none."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.documents.recording import Recorded, read_recording
from ovolo.errors import Fault, JobFaults


def _file(folder: Path, text: str | bytes) -> Path:
    path = folder / "run.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def _faults(path: Path, moves: int = 9) -> list[Fault]:
    with pytest.raises(JobFaults) as found:
        read_recording(path, moves)
    return list(found.value.faults)


def test_moves_come_in_their_order_whatever_the_files(tmp_path: Path) -> None:
    text = "\ufeffSeconds, move\r\n12.5,3\r\n\r\n 40 , 1\r\n"
    assert read_recording(_file(tmp_path, text), 9) == (Recorded(1, 40.0), Recorded(3, 12.5))


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        ("", "run.csv", "it is empty"),
        ("move,seconds\n", "run.csv", "no move is recorded in it"),
        ("move\n1\n", "line 1", "the column seconds is missing"),
        ("move,seconds,move\n1,2,3\n", "line 1", "the column move is there twice"),
        ("move,seconds\n10,5\n", "line 2", "the plan has no such move"),
        ("move,seconds\n0,5\n", "line 2", "the plan has no such move"),
        ("move,seconds\n1.5,5\n", "line 2", "the plan has no such move"),
        ("move,seconds\n1,5\n\n1,6\n", "line 4", "this move is there already"),
        ("move,seconds\n1,nan\n", "line 2", "a move does not take such a time"),
        ("move,seconds\n1,-3\n", "line 2", "a move does not take such a time"),
        ("move,seconds\n1,1e9\n", "line 2", "a move does not take such a time"),
        ("move,seconds\n1,12,5\n", "line 2", "it has 3 columns, the header 2"),
        (b"move,seconds\n1,\xff\n", "run.csv", "byte 16 is not UTF-8 text"),
    ],
)
def test_what_is_wrong_is_said(tmp_path: Path, text: str | bytes, where: str, says: str) -> None:
    (fault,) = _faults(_file(tmp_path, text))
    assert fault.where.endswith(where)
    assert fault.says == says
    assert fault.remedy


def test_all_lines_that_are_wrong_are_told_at_once(tmp_path: Path) -> None:
    faults = _faults(_file(tmp_path, "move,seconds\n99,x\n1,0\n2,8\n"))
    assert [fault.where.rsplit(", ", 1)[1] for fault in faults] == ["line 2", "line 2", "line 3"]


def test_a_misspelt_column_is_guessed(tmp_path: Path) -> None:
    assert "Did you mean seconds?" in [fault.remedy for fault in _faults(_file(tmp_path, "move,secnds\n1,2\n"))]


def test_what_is_no_file_is_told(tmp_path: Path) -> None:
    assert _faults(tmp_path / "none.csv")[0].says == "there is no such file"
    assert _faults(tmp_path)[0].says == "it is not a file"
    assert _faults(_file(tmp_path, b"x" * 1_100_000))[0].says == "1.1 MB are too much for a recorded run"


@given(st.binary(max_size=200))
def test_nothing_else_is_ever_raised(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    path = _file(tmp_path_factory.mktemp("any"), b"move,seconds\n" + content)
    try:
        assert read_recording(path, 9)
    except JobFaults as found:
        assert found.faults
