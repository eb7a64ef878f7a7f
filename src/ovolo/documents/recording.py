"""A recorded run: how long the moves of a plan took, one a line, with the columns `move` and `seconds`."""

import csv
import io
import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from ovolo.documents.faults import nearest
from ovolo.documents.job_model import LONGEST_TIME
from ovolo.documents.text_file import text_of
from ovolo.errors import Fault, JobFaults

__all__ = ["COLUMNS", "Recorded", "read_recording"]

COLUMNS = ("move", "seconds")

LARGEST_FILE = 1_000_000
"""A thousand moves take less, bytes."""

MOST_FAULTS = 20
"""A file that isn't a recording at all is not recited line by line."""


class Recorded(NamedTuple):
    """A move by its number, and the seconds that it took."""

    move: int
    seconds: float


def read_recording(path: Path | str, moves: int) -> tuple[Recorded, ...]:
    """The moves that were timed, in their order, of a plan with that number of moves.

    Raises JobFaults with all that is wrong with the file.
    """
    path = Path(path)
    rows = _rows(path)
    header = [cell.strip().lower() for cell in rows[0][1]] if rows else []
    faults = list(_header_faults(path, header))
    if faults:
        raise JobFaults(faults)
    found: dict[int, float] = {}
    for number, cells in rows[1:]:
        where = f"{path}, line {number}"
        if len(cells) != len(header):
            says = f"it has {len(cells)} columns, the header {len(header)}"
            faults.append(Fault(where, ",".join(cells), "", says, "Write a move and its seconds, as 12,34.5"))
            continue
        named = dict(zip(header, cells, strict=True))
        move = _move(where, named["move"].strip(), moves, found)
        seconds = _seconds(where, named["seconds"].strip())
        faults += [value for value in (move, seconds) if isinstance(value, Fault)]
        if not isinstance(move, Fault) and not isinstance(seconds, Fault):
            found[move] = seconds
    if not faults and not found:
        faults.append(Fault(str(path), None, "", "no move is recorded in it", "Write a line for each move timed"))
    if faults:
        raise JobFaults(faults[:MOST_FAULTS])
    return tuple(Recorded(move, found[move]) for move in sorted(found))


def _rows(path: Path) -> list[tuple[int, list[str]]]:
    """The lines that hold something, each with its number."""
    reader = csv.reader(io.StringIO(text_of(path, "a recorded run", LARGEST_FILE), newline=""))
    try:
        return [(reader.line_num, cells) for cells in reader if any(cell.strip() for cell in cells)]
    except csv.Error as wrong:
        raise JobFaults([Fault(str(path), None, "", f"it is no table: {wrong}", "Save it as CSV")]) from None


def _header_faults(path: Path, header: Sequence[str]) -> Iterator[Fault]:
    limit = ", ".join(COLUMNS)
    if not header:
        yield Fault(str(path), None, limit, "it is empty", f"Begin it with the line {','.join(COLUMNS)}")
        return
    for name in COLUMNS:
        if header.count(name) != 1:
            says = f"the column {name} is {'there twice' if name in header else 'missing'}"
            yield Fault(f"{path}, line 1", ",".join(header)[:80], limit, says, f"Write {','.join(COLUMNS)}")
    for name in header:
        if name not in COLUMNS:
            near = nearest(name, COLUMNS)
            remedy = f"Did you mean {near}?" if near else "Leave it out"
            yield Fault(f"{path}, line 1", name[:40], limit, "there is no such column", remedy)


def _move(where: str, text: str, moves: int, found: dict[int, float]) -> int | Fault:
    limit = f"1 to {moves}"
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 9 else 0
    if not 1 <= number <= moves:
        return Fault(where, text, limit, "the plan has no such move", "Write the number of a move as planned")
    if number in found:
        return Fault(where, text, "each move once", "this move is there already", "Leave one of the two out")
    return number


def _seconds(where: str, text: str) -> float | Fault:
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not 0 < seconds <= LONGEST_TIME:
        limit = f"more than 0, at most {LONGEST_TIME:g}"
        return Fault(where, text, limit, "a move does not take such a time", "Write seconds, as 34.5")
    return seconds
