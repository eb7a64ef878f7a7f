"""How a drawing file is to be read, and what was understood of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, NamedTuple, NoReturn

from ovolo.errors import Fault, JobFaults
from ovolo.geometry.fit import TOLERANCE
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Point, Segment
from ovolo.part.part import Surface
from ovolo.units import INCH, Unit

#: Why a piece is no part of the outline, though it belongs to the part.
MIRRORED, INSIDE = "mirrored half", "inside the part, or off the outline"

FreeEnd = Literal["right", "left", "top", "bottom"]


@dataclass(frozen=True)
class Asked:
    """What is given about a file; what is left out is read from it, or found.

    unit:      of the file's numbers, where it does not say itself.
    surface:   which surface to take from a section that shows two.
    axis:      "x" or "y" (through 0), "y=12.5" or "x=40", or two points "0,0 100,30"; in the file's own numbers.
    free_end:  the side of the drawing on which the free end lies.
    layers:    take only these; without: leave these out. Names as in the file, case aside.
    gap:       ends that are no farther apart are joined, mm.
    tolerance: how far arcs may stray from a curve, or an outline from points, mm.
    smooth:    how far an outline may stray from points that scatter, mm; None: scatter is refused.
    """

    unit: Unit | None = None
    surface: Surface = "outside"
    axis: str | None = None
    free_end: FreeEnd | None = None
    layers: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    gap: float = 0.01
    tolerance: float = TOLERANCE
    smooth: float | None = None

    def scale(self, stated: Unit | None, where: str) -> float:
        """mm in one unit of the file; raises JobFaults where neither the file nor the asker says."""
        unit = self.unit or stated
        if unit is None:
            refuse_file(where, None, "the file does not say whether it is in mm or inches", "Give the units", "mm, in")
        return INCH if unit == "in" else 1.0


class Piece(NamedTuple):
    """One line or arc of a file, mm in the plane of the drawing (y up)."""

    segment: Segment
    layer: str = ""
    centre_line: bool = False


class Dropped(NamedTuple):
    """A piece that is not part of the outline, why, and its layer where that is known."""

    segment: Segment
    why: str
    layer: str = ""


class Found(NamedTuple):
    """What a reader takes from a file: pieces, what it left out, what a person should know, the scale of its numbers.

    `flipped`: the file counts y downward.
    """

    pieces: list[Piece]
    dropped: list[Dropped]
    notes: list[str]
    deviation: float
    scale: float
    flipped: bool = False


@dataclass(frozen=True)
class Placement:
    """Where the half-section lies in the drawing: its z = 0 on the axis, and the unit directions of +z and +r."""

    origin: Point
    along: Point
    out: Point


@dataclass(frozen=True)
class Drawing:
    """The outline understood, and how it was understood.

    outline:   (z, r) from the free end toward the chuck, mm, z = 0 at the free end.
    surface:   the surface that it bounds.
    notes:     what was left out, joined, found; one sentence each, without a full stop.
    deviation: the greatest distance between the outline and the curves or points of the file, mm.
    kept, dropped: the pieces in the drawing's own plane, mm, y up.
    unit:      of the file's numbers.
    """

    outline: Outline
    surface: Surface
    notes: tuple[str, ...]
    deviation: float
    kept: tuple[Segment, ...] = ()
    dropped: tuple[Dropped, ...] = field(default=())
    placement: Placement | None = None
    unit: Unit = "mm"


def refusal(where: str, value: object, says: str, remedy: str, limit: str = "") -> JobFaults:
    """The error of one fault about a file, to be raised."""
    return JobFaults([Fault(where, value, limit, says, remedy)])


def refuse_file(where: str, value: object, says: str, remedy: str, limit: str = "") -> NoReturn:
    """Raise JobFaults with one fault about a file."""
    raise refusal(where, value, says, remedy, limit)
