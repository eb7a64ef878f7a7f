"""Readings of a part as people write them: a table with the columns z and d or r, in a file or pasted into a page."""

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from ovolo.check.measured import Circumstances, Measured, Reading, State
from ovolo.documents.faults import nearest
from ovolo.documents.job_fields import LONGEST
from ovolo.documents.text_file import text_of
from ovolo.errors import Fault, JobFaults
from ovolo.plan.model import Job
from ovolo.shop.instruments import UNNAMED, Instrument
from ovolo.units import to_mm

__all__ = ["COLUMNS", "read_readings", "readings_from_text"]

COLUMNS = ("z", "d", "r", "u", "u_z", "over", "with")
"""What a header may name; z and one of d and r are required."""

LARGEST_FILE = 1_000_000
MOST_READINGS = 1000
MOST_FAULTS = 20

_STATE = re.compile(r"#\s*state\s*=\s*(\S+)\s*$", re.IGNORECASE)
_STATES: Mapping[str, State] = {"turned": "turned", "blended": "blended"}


class _Row(NamedTuple):
    where: str
    cells: Mapping[str, str]


def read_readings(path: Path | str, job: Job, circumstances: Circumstances | None = None) -> Measured:
    """The readings in a file, in the units of the job. Raises JobFaults with all that is wrong with it."""
    path = Path(path)
    return readings_from_text(text_of(path, "a file of readings", LARGEST_FILE), job, str(path), circumstances)


def readings_from_text(
    text: str, job: Job, name: str = "readings", circumstances: Circumstances | None = None
) -> Measured:
    """The same from text: commas, semicolons or tabs between columns; a decimal comma where those are no commas.

    Raises JobFaults with all that is wrong.
    """
    faults: list[Fault] = []
    lines = [(n, line.strip()) for n, line in enumerate(text.splitlines(), 1) if line.strip()]
    state = _state(lines, name, faults)
    rows = list(_rows([(n, line) for n, line in lines if not line.startswith("#")], name, faults))
    if not rows and not faults:
        faults.append(Fault(name, None, "one reading or more", "no reading is in it", "Write a line for each reading"))
    if len(rows) > MOST_READINGS:
        faults.append(Fault(name, len(rows), f"at most {MOST_READINGS}", "these are too many readings", "Split it"))
    readings = [_reading(row, n, job, faults) for n, row in enumerate(rows[:MOST_READINGS])]
    if faults:
        raise JobFaults(faults[:MOST_FAULTS])
    found = tuple(reading for reading in readings if reading is not None)
    return Measured(found, state, circumstances or Circumstances())


def _state(lines: Sequence[tuple[int, str]], name: str, faults: list[Fault]) -> State:
    for n, line in lines:
        given = _STATE.match(line)
        if given:
            state = _STATES.get(given[1].lower())
            if state is not None:
                return state
            says = "a part has no such state"
            faults.append(Fault(f"{name}, line {n}", given[1][:40], "turned, blended", says, "Write one of them"))
    return "turned"


def _rows(lines: Sequence[tuple[int, str]], name: str, faults: list[Fault]) -> Iterator[_Row]:
    """The lines below the header, each by the names of its columns."""
    if not lines:
        faults.append(Fault(name, None, "z and d, or z and r", "it is empty", "Begin it with the line z,d"))
        return
    between = next((mark for mark in ("\t", ";") if mark in lines[0][1]), ",")
    cells = list(csv.reader(io.StringIO("\n".join(line for _, line in lines)), delimiter=between))
    header = [cell.strip().lower() for cell in cells[0]]
    wrong = list(_header_faults(f"{name}, line {lines[0][0]}", header))
    faults += wrong
    if wrong:
        return
    for (n, line), row in zip(lines[1:], cells[1:], strict=False):
        where = f"{name}, line {n}"
        if len(row) > len(header):
            says = f"it has {len(row)} columns, the header {len(header)}"
            faults.append(Fault(where, line[:80], "", says, "Write as many as the header names"))
            continue
        filled = [*row, *[""] * (len(header) - len(row))]
        figures = [cell.replace(",", ".") if between != "," else cell for cell in filled]
        yield _Row(where, {key: cell.strip() for key, cell in zip(header, figures, strict=True)})


def _header_faults(where: str, header: Sequence[str]) -> Iterator[Fault]:
    limit, shown = "z and d, or z and r; u, u_z, over, with", ",".join(header)[:80]
    for name in dict.fromkeys(header):
        if name not in COLUMNS:
            near = nearest(name, COLUMNS)
            yield Fault(
                where, name[:40], limit, "there is no such column", f"Did you mean {near}?" if near else "Leave it out"
            )
        elif header.count(name) > 1:
            yield Fault(where, shown, limit, f"the column {name} is there twice", "Keep one of them")
    if "z" not in header:
        yield Fault(
            where, shown, limit, "the column z is missing", "Add the place along the axis, falling toward the chuck"
        )
    if ("d" in header) == ("r" in header):
        says = "a reading is a diameter or a radius, not both" if "d" in header else "the column d is missing"
        yield Fault(where, shown, limit, says, "Write d for diameters or r for radii")


def _reading(row: _Row, n: int, job: Job, faults: list[Fault]) -> Reading | None:
    """One reading; what its line does not give comes from the instrument."""
    before = len(faults)
    tool = _instrument(row, job, faults)
    column = "d" if "d" in row.cells else "r"
    unit = job.units

    def figure(name: str, *, signed: bool = False, needed: bool = False) -> float | None:
        text = row.cells.get(name, "")
        if not text and not needed:
            return None
        try:
            value = to_mm(float(text), unit)
        except ValueError:
            value = float("nan")
        if not abs(value) <= LONGEST or (value < 0 and not signed):
            limit = "a number" if signed else "a number from 0"
            says = "it is missing" if not text else "this is no such figure"
            faults.append(
                Fault(f"{row.where}, {name}", text[:40] or None, limit, says, "Write a figure, such as 13.52")
            )
        return value

    z, size = figure("z", signed=True, needed=True), figure(column, needed=True)
    u, u_z, over = figure("u"), figure("u_z"), figure("over")
    if len(faults) > before or z is None or size is None:
        return None
    half = 2.0 if column == "d" else 1.0
    own = tool.u if tool.kind in ("caliper", "micrometer") else 2 * tool.u
    return Reading(
        z=z,
        r=size / half,
        u=own / 2 if u is None else u / half,
        u_z=tool.u_z if u_z is None else u_z,
        over=(tool.over if row.cells.get("with") else 0.0) if over is None else over,
        column=column,  # type: ignore[arg-type]
        where=f"readings[{n}]",
        relative=not tool.absolute and bool(row.cells.get("with")),
    )


def _instrument(row: _Row, job: Job, faults: list[Fault]) -> Instrument:
    """The instrument that a line names; else the first of the job, or a caliper."""
    owned = job.shop.instruments
    usual = next(iter(owned), UNNAMED)
    name = row.cells.get("with", "")
    if not name:
        return usual
    found = next((tool for tool in owned if tool.name.lower() == name.lower()), None)
    if found is None:
        known = [tool.name for tool in owned]
        near = nearest(name, known)
        remedy = f'Did you mean "{near}"?' if near else "Add it to the job as [[measure]], or leave it out"
        says = "the job has nothing of this name to measure with"
        faults.append(Fault(f"{row.where}, with", name[:40], ", ".join(known) or "none given", says, remedy))
        return usual
    return replace(found)
