"""Slips that people make in a job: figures that are possible but most likely not what was meant.

Each becomes a question: a fault with an answer. `sure = ["inches"]` in the job says that it is meant so, and the
question is not put again. The thresholds are common practice, no source: a home shop's lathe, its bars, its tools.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from ovolo.documents.building import say
from ovolo.documents.faults import Loc, fault_at
from ovolo.documents.job_model import JobFile, OutlinePoint, Sure
from ovolo.errors import Fault
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.part import Surface
from ovolo.units import INCH, Unit

__all__ = ["CAN_BE_PLANNED", "axis_slip", "shape_slips", "size_slips"]

CAN_BE_PLANNED = frozenset({"axis", "noses", "stock"})
"""Questions about what is odd but does no harm if it is meant: the plan is made, and puts them. The others come first:
a plan in the wrong unit, or of another outline, is of no use."""

LARGEST_BAR = 8 * INCH
"""A bar thicker than this does not go over the saddle of most home-shop lathes, mm."""

IN_INCHES: dict[str, float] = {"nose_radius": 0.39, "ridge": 0.02, "allowance": 0.1, "bite": 0.25, "count": 0.0049}
"""From here on a figure in inches is most likely one in millimetres: a nose of R 0.4, a ridge of 0.05. One alone may
be meant; where two kinds are so large the question is put."""

COARSEST_COUNT = 1.0
"""No readout or dial is set in steps as coarse as this, mm of what it reads."""

TOO_THICK, SPARE = 4.0, 60.0
"""Stock thicker than the part by this factor, and by this many mm, is questioned."""

_SMOOTH = math.radians(0.7)
"""Neighbours that meet within this angle were meant to be tangent: figures read off a drawing make less."""

_SQUARE = math.radians(1.5), math.radians(12.0)
"""An arc that misses square to the axis by an angle between these was meant to meet it square, radians."""

_KINK = math.radians(3.0)
"""A corner that a wrong figure makes is sharper than this."""


class _Size(NamedTuple):
    """A length of the job: where, what kind it is, its value in mm."""

    loc: Loc
    kind: str
    mm: float


def size_slips(file: JobFile, data: object, largest: float | None) -> list[Fault]:
    """Questions about units and sizes; `largest` is the widest diameter of the outline, mm, where it is known.

    One question for each cause, however many figures show it.
    """
    found = [_units(file, data), _counts(file, data), _stock(file, data, largest), _noses(file, data, largest)]
    return [fault for fault in found if fault is not None and fault.answer not in file.sure]


def _large(file: JobFile) -> Iterator[_Size]:
    """The lengths that would be odd in inches."""
    if file.stock.diameter is not None and file.stock.diameter > LARGEST_BAR:
        yield _Size(("stock", "diameter"), "bar", file.stock.diameter)
    noses = [(("tool", i, "nose_radius"), tool.nose_radius) for i, tool in enumerate(file.tool)]
    given: Sequence[tuple[Loc, float | None]] = [
        *noses,
        (("finish", "ridge"), file.finish.ridge),
        (("finish", "allowance"), file.finish.allowance),
        (("limits", "bite"), file.limits.bite),
        (("slide", "cross", "count"), file.slide.cross.count),
        (("slide", "saddle", "count"), file.slide.saddle.count),
    ]
    found = [_Size(loc, str(loc[-1]), mm) for loc, mm in given if mm is not None]
    yield from (size for size in found if size.mm >= IN_INCHES[size.kind] * INCH)


def _units(file: JobFile, data: object) -> Fault | None:
    """Whether a job in inches has figures in millimetres."""
    odd = list(_large(file)) if file.units == "in" else []
    if len({size.kind for size in odd}) < 2:
        return None
    says = f"the job says that its figures are inches, and this one would be {say(odd[0].mm, 'mm')}"
    return _question(data, odd[0].loc, says, 'If they are millimetres, write units = "mm"', "inches")


def _counts(file: JobFile, data: object) -> Fault | None:
    for name, table in (("cross", file.slide.cross), ("saddle", file.slide.saddle)):
        if table.count is not None and table.count > COARSEST_COUNT and table.divisions is None:
            says = f"the {_spoken(name)} would be set in steps of {say(table.count, file.units)}"
            remedy = "Write the last figure that the readout shows, such as 0.01"
            return _question(data, ("slide", name, "count"), says, remedy, "counts")
    return None


def _spoken(slide: str) -> str:
    return "cross slide" if slide == "cross" else slide


def _stock(file: JobFile, data: object, largest: float | None) -> Fault | None:
    """Whether the bar is far too thick: a radius taken for a diameter elsewhere, a figure too many."""
    bar = file.stock.diameter
    if bar is None or largest is None or file.part.surface == "bore":
        return None
    if bar <= max(TOO_THICK * largest, largest + SPARE):
        return None
    says = f"the part is {say(largest, file.units)} thick at most, and the bar {bar / largest:.0f} times as thick"
    return _question(data, ("stock", "diameter"), says, "Correct the diameter, or take a thinner bar", "stock")


def _noses(file: JobFile, data: object, largest: float | None) -> Fault | None:
    """Whether every nose is as large as the part: a diameter typed as a radius, or the wrong unit."""
    noses = [tool.nose_radius for tool in file.tool]
    sizes = [nose for nose in noses if nose is not None]
    if largest is None or not sizes or len(sizes) < len(noses) or min(sizes) < largest / 2:
        return None
    i = noses.index(min(sizes))
    says = f"a nose of this radius is as large as the part, which is {say(largest, file.units)} thick at most"
    return _question(data, ("tool", i, "nose_radius"), says, "Write the radius of the nose, not its width", "noses")


def _question(data: object, loc: Loc, says: str, remedy: str, answer: Sure) -> Fault:
    bare = fault_at(data, loc, says, f'{remedy}. If it is meant so, add sure = ["{answer}"] to the top of the job')
    return Fault(bare.where, bare.value, bare.limit, bare.says, bare.remedy, answer)


def axis_slip(points: Sequence[OutlinePoint], data: object, loc: Loc, unit: Unit) -> Fault | None:
    """A fault where z [mm] grows toward the chuck instead of falling: the minus signs are missing."""
    zs = [point.z for point in points]
    last = len(zs) - 1
    if zs[last] <= zs[0] or zs[last] <= 0 or min(zs) < 0:
        return None
    right = say(-zs[last], unit).split()[0]
    says = "z is 0 at the free end and falls toward the chuck, and here it grows"
    remedy = f"Write z = {right} here, and put a minus before every other z of the outline that is not 0"
    return fault_at(data, (*loc, last, "z"), says, remedy, "0 or less")


def shape_slips(
    file: JobFile, points: Sequence[OutlinePoint], data: object, loc: Loc, *, build: Callable[..., Segment | Fault]
) -> list[Fault]:
    """Questions about arcs [mm] that would join their neighbours smoothly, were one thing read otherwise.

    Diameters typed as radii, and convex for concave. Only what becomes smooth everywhere is questioned: corners that
    were meant stay corners either way.
    """
    surface = file.part.surface
    now = _segments(points, surface, build)
    if not any(p.convex or p.concave for p in points):
        return []
    found = [_off_square(points, now, data, loc, file.units)]
    if now is None or _worst(now) >= _KINK:
        found = [_as_radii(points, data, loc, surface, build), _turned(points, data, loc, surface, build), *found]
    return [fault for fault in found if fault is not None and fault.answer not in file.sure][:1]


def _segments(
    points: Sequence[OutlinePoint], surface: Surface, build: Callable[..., Segment | Fault]
) -> list[Segment] | None:
    """The pieces of an outline; None where one is impossible."""
    pieces = [build(a, b, surface, None, ("",), "mm") for a, b in pairwise(points)]
    good = [piece for piece in pieces if not isinstance(piece, Fault)]
    return good if len(good) == len(pieces) else None


def _worst(segments: Sequence[Segment]) -> float:
    """The sharpest corner at an arc, the axis included, radians; infinite where fewer than two show anything."""
    corners = [_corner(a, b) for a, b in pairwise(segments) if isinstance(a, Arc) or isinstance(b, Arc)]
    first = segments[0]
    if isinstance(first, Arc) and abs(first.start.y) < 1e-9:
        corners.append(_between(first.tangent(0.0), Point(0.0, 1.0)))
    return max(corners) if len(corners) > 1 else math.inf


def _corner(a: Segment, b: Segment) -> float:
    """The angle by which the outline turns at a joint, radians; a face next to a cylinder is a corner that is meant."""
    turn = _between(a.tangent(a.length), b.tangent(0.0))
    return 0.0 if isinstance(a, Line) and isinstance(b, Line) else turn


def _between(a: Point, b: Point) -> float:
    return abs(math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y))


def _as_radii(
    points: Sequence[OutlinePoint], data: object, loc: Loc, surface: Surface, build: Callable[..., Segment | Fault]
) -> Fault | None:
    """The question whether each d was typed as a radius."""
    doubled = _segments([p.model_copy(update={"d": 2 * p.d}) for p in points], surface, build)
    if doubled is None or _worst(doubled) > _SMOOTH:
        return None
    first = next(i for i, p in enumerate(points) if p.d > 0)
    says = "with every d doubled each arc joins its neighbours smoothly, and as written it does not: d is a diameter"
    return _question(data, (*loc, first, "d"), says, "Write diameters", "diameters")


def _turned(
    points: Sequence[OutlinePoint], data: object, loc: Loc, surface: Surface, build: Callable[..., Segment | Fault]
) -> Fault | None:
    """The question whether an arc bulges the other way."""
    for i, point in enumerate(points):
        if point.convex is None and point.concave is None:
            continue
        other = point.model_copy(update={"convex": point.concave, "concave": point.convex})
        segments = _segments([*points[:i], other, *points[i + 1 :]], surface, build)
        if segments is not None and _worst(segments) < _SMOOTH:
            now, then = ("convex", "concave") if point.convex is not None else ("concave", "convex")
            says = f"as {then} this arc would join its neighbours smoothly, and as {now} it makes a corner"
            return _question(data, (*loc, i, now), says, f"Write {then} instead", "arcs")
    return None


def _off_square(
    points: Sequence[OutlinePoint], segments: Sequence[Segment] | None, data: object, loc: Loc, unit: Unit
) -> Fault | None:
    """The question whether a round end was meant: its arc begins on the axis, and nearly square to it."""
    first = segments[0] if segments else None
    if not isinstance(first, Arc) or not first.ccw or abs(first.start.y) > 1e-9 or points[1].convex is None:
        return None
    lean = first.tangent(0.0).x
    if not _SQUARE[0] <= abs(math.asin(lean)) <= _SQUARE[1]:
        return None
    length, height = first.start.x - first.end.x, first.end.y
    right = (length**2 + height**2) / (2 * length)
    says = f"the arc meets the axis at {90 - abs(math.degrees(math.asin(lean))):.1f}°, not square to it, and leaves "
    says += "a point in the middle of the end" if lean < 0 else "a hollow in the middle of the end"
    return _question(data, (*loc, 1, "convex"), says, f"For a round end write convex = {_plain(right, unit)}", "axis")


def _plain(mm: float, unit: Unit) -> str:
    """A length as a bare figure of the job."""
    return say(mm, unit).split()[0]
