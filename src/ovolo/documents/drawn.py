"""The outline of a job that names a drawing, `part.file`, next to its own file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from ovolo.documents.building import Built, check_outline
from ovolo.documents.faults import Loc, fault_at, place
from ovolo.documents.job_model import JobFile
from ovolo.errors import Fault, JobFaults
from ovolo.part.files import Asked, Drawing, read_drawing

__all__ = ["outline_from_drawing"]

_LOC: Loc = ("part", "file")

_TOLD = ("axis", "free_end", "gap", "smooth", "layers", "without")
"""What a reader may need to be given, and only `ovolo new` can give."""


def outline_from_drawing(name: str, file: JobFile, data: object, base: Path | None) -> Built:
    """The outline in the drawing of that name, looked for in the folder `base`; what is wrong with it is a fault.

    A name with a path is followed inside that folder only; an absolute one is taken as the writer of the file gave it.
    Without a folder (a job that was sent, not read from a file) nothing is opened.
    """
    path = _found(name, base)
    if isinstance(path, str):
        return Built(None, [fault_at(data, _LOC, path, _INSTEAD)])
    try:
        drawing = _read(path, Asked(surface=file.part.surface), file, data)
    except JobFaults as wrong:
        return Built(None, [_as_ours(fault, name, path) for fault in wrong.faults])
    return check_outline(drawing.outline, file.part.surface, data, _LOC, file.units)


_INSTEAD = "Put the drawing into the job's folder, or write the outline as points: ovolo new --from does it"


def _found(name: str, base: Path | None) -> Path | str:
    """Where the drawing lies, or why it is not opened."""
    if base is None:
        return "a job that was sent, not read from a file, has no folder to look for a drawing in"
    if Path(name).is_absolute():
        return Path(name)
    try:
        folder, path = base.resolve(), (base / name).resolve()
    except (OSError, RuntimeError):  # a link that leads to itself
        return "its name leads nowhere"
    return path if path.is_relative_to(folder) else "it lies outside the folder of the job"


def _read(path: Path, asked: Asked, file: JobFile, data: object) -> Drawing:
    """The drawing; where it does not say its unit, that of the job, if the job says one."""
    try:
        return read_drawing(path, asked)
    except JobFaults as wrong:
        says_unit = isinstance(data, Mapping) and "units" in data
        if not says_unit or all(fault.where != "units" for fault in wrong.faults):
            raise
    return read_drawing(path, replace(asked, unit=file.units))


def _as_ours(fault: Fault, name: str, path: Path) -> Fault:
    """A reader's fault at the place in the job that named the drawing."""
    remedy = fault.remedy
    inside = fault.where.removeprefix(str(path)).lstrip(", ") if fault.where.startswith(str(path)) else ""
    says = f"{inside}: {fault.says}" if inside else fault.says
    if fault.where == "units":
        remedy = 'Write units = "mm" or units = "in" at the head of the job'
    elif fault.where in _TOLD:
        option = fault.where.replace("_", "-").removesuffix("s" if fault.where == "layers" else "")
        remedy = f"{remedy}; ovolo new --from {name} has the option --{option} for it"
    return Fault(place(_LOC), name if fault.value is None else fault.value, fault.limit, says, remedy)
