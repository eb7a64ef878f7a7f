"""A drawing file read by what its name says it is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from ovolo.part.files.drawing import Asked, Drawing, refusal
from ovolo.part.files.dxf import read_dxf
from ovolo.part.files.points import read_points
from ovolo.part.files.step import read_step
from ovolo.part.files.svg import read_svg

READERS: dict[str, Callable[[Path, Asked], Drawing]] = {
    ".dxf": read_dxf,
    ".svg": read_svg,
    ".csv": read_points,
    ".txt": read_points,
    ".step": read_step,
    ".stp": read_step,
}
"""The ending of a file's name -> its reader."""


def read_drawing(path: Path | str, asked: Asked = Asked()) -> Drawing:  # noqa: B008 (frozen)
    """The outline in a DXF, SVG, CSV or STEP file. Raises JobFaults for another kind, and as the readers do."""
    path = Path(path)
    reader = READERS.get(path.suffix.lower())
    if reader is None:
        says, remedy = "its name does not end like a drawing that can be read", "Export it as DXF, SVG or STEP"
        raise refusal(str(path), path.suffix, says, remedy, ", ".join(READERS))
    return reader(path, asked)
