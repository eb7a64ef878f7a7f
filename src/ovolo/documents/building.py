"""From the points of a job to an exact outline, and what can be wrong with it as a curve."""

import math
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from ovolo.documents.faults import Loc, fault_at
from ovolo.documents.job_model import OutlinePoint
from ovolo.errors import Fault
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.part import Surface
from ovolo.tolerances import ROUNDING
from ovolo.units import Unit, from_mm, to_mm

_SEEN = 2e-5
"""Less than this past a border is what flattening may invent, mm."""

BULGE = 5e-4
"""How far an arc may bulge back toward the free end, mm: a dome whose height was written to four decimals does."""


class Built(NamedTuple):
    """An outline, or the reasons why there is none."""

    outline: Outline | None
    faults: list[Fault]


def say(mm: float, unit: Unit) -> str:
    """A length for a message: four decimals at most, five in inches.

    >>> say(6.35, "mm"), say(6.35, "in")
    ('6.35 mm', '0.25 in')
    """
    text = f"{from_mm(mm, unit):z.{_decimals(unit)}f}".rstrip("0").rstrip(".")
    return f"{text} {unit}"


def at_least(mm: float, unit: Unit) -> str:
    """A lower limit, rounded up where it has to be: a document with just this figure is within it.

    >>> at_least(6.36391, "mm"), at_least(18.0, "mm")
    ('at least 6.364 mm', 'at least 18 mm')
    """
    return f"at least {say(_outward(mm, unit, math.ceil), unit)}"


def at_most(mm: float, unit: Unit) -> str:
    """An upper limit in mm as text in the unit, rounded down where it has to be."""
    return f"at most {say(_outward(mm, unit, math.floor), unit)}"


def _outward(mm: float, unit: Unit, to_whole: Callable[[float], int]) -> float:
    scale = 10 ** _decimals(unit)
    counts = from_mm(mm, unit) * scale
    whole = round(counts)
    return to_mm((whole if abs(counts - whole) < 1e-6 else to_whole(counts)) / scale, unit)


def _decimals(unit: Unit) -> int:
    return 5 if unit == "in" else 4


def build_outline(points: Sequence[OutlinePoint], surface: Surface, data: object, loc: Loc, unit: Unit) -> Built:
    """The outline [mm] through the points; each arc that is impossible is one fault, all are found.

    data, loc: the document as it was read and the way to the points in it, for faults. unit: for what faults say.
    """
    segments: list[Segment] = []
    faults: list[Fault] = []
    for i in range(1, len(points)):
        found = segment_to(points[i - 1], points[i], surface, data, (*loc, i), unit)
        if isinstance(found, Fault):
            faults.append(found)
        else:
            segments.append(found)
    if faults:
        return Built(None, faults)
    return check_outline(Outline(tuple(segments)), surface, data, loc, unit)


def check_outline(outline: Outline, surface: Surface, data: object, loc: Loc, unit: Unit) -> Built:
    """The outline with what is wrong with it as a curve.

    `loc` leads to the list of its points, or to what it was made of: then it is named as a whole.
    """
    return Built(outline, list(_shape_faults(outline, surface, data, loc, unit)))


def _at(point: OutlinePoint) -> Point:
    return Point(point.z, point.d / 2)


def segment_to(
    before: OutlinePoint, point: OutlinePoint, surface: Surface, data: object, loc: Loc, unit: Unit
) -> Segment | Fault:
    """The piece that leads from one point to the next, or why there is none; `loc` leads to the second."""
    start, end = _at(before), _at(point)
    if math.dist(start, end) < ROUNDING:
        return fault_at(data, (*loc, "z"), "the point is the same as the one before it", "Leave it out")
    if point.through is not None:
        return _through(start, end, point.through, data, loc)
    radius = point.convex if point.convex is not None else point.concave
    if radius is None:
        return Line(start, end)
    convex = point.convex is not None
    # Metal is on the left of an outside outline, walked toward the chuck, and on the right of a bore.
    ccw = convex == (surface == "outside")
    try:
        return Arc.from_radius(start, end, radius, ccw=ccw)
    except ValueError:
        chord = math.dist(start, end)
        says = f"an arc of this radius cannot span the {say(chord, unit)} between its ends"
        remedy = "Write a larger radius, or bring its ends closer together (d is a diameter, the radius is not)"
        name = "convex" if convex else "concave"
        return fault_at(data, (*loc, name), says, remedy, at_least(chord / 2, unit))


def _through(start: Point, end: Point, middle: Sequence[float], data: object, loc: Loc) -> Segment | Fault:
    place = Point(middle[0], middle[1] / 2)
    if min(math.dist(place, start), math.dist(place, end)) < ROUNDING:
        says, remedy = "the third point is one of the arc's ends", "Write a point between them"
        return Fault(*_where(data, loc), "", says, remedy)
    try:
        return Arc.through(start, place, end)
    except ValueError:
        says = "the three points lie on one line, and no arc leads through them"
        return Fault(*_where(data, loc), "", says, "Leave through out for a straight line")


def _where(data: object, loc: Loc) -> tuple[str, object]:
    fault = fault_at(data, (*loc, "through", 0), "", "")
    other = fault_at(data, (*loc, "through", 1), "", "")
    return fault.where.removesuffix("[0]"), [fault.value, other.value]


def _shape_faults(outline: Outline, surface: Surface, data: object, loc: Loc, unit: Unit) -> Iterator[Fault]:
    yield from _axis_faults(outline, surface, data, loc, unit)
    back, _, front, _ = outline.bounds()
    if front - back < ROUNDING:
        says = "the outline has no length along the axis: it is a face alone"
        yield fault_at(data, _spot(loc, len(outline.segments), "z"), says, "Let it go on toward the chuck")
    crossing = _crossing(outline)
    if crossing is not None:
        first, second = crossing
        says = (
            f"the outline runs across or over itself: the piece that ends here meets the one that ends at point {first}"
        )
        yield fault_at(data, _spot(loc, second), says, "Correct one of the two")
    yield from _turning_faults(outline, data, loc, unit)


def _spot(loc: Loc, *steps: str | int) -> Loc:
    """A point of an outline that was written as points; forms and drawings have none to name."""
    return (*loc, *steps) if loc[-1] == "outline" else loc


def _axis_faults(outline: Outline, surface: Surface, data: object, loc: Loc, unit: Unit) -> Iterator[Fault]:
    for i, segment in enumerate(outline.segments, 1):
        dip = -Outline((segment,)).bounds()[1]
        if dip > _SEEN:
            says = f"the arc that leads here goes past the axis by {say(dip, unit)}"
            yield fault_at(data, _spot(loc, i), says, "Write a smaller radius, or move its ends away from the axis")
        elif segment.end.y < ROUNDING and (i < len(outline.nodes) - 1 or surface == "outside"):
            says = "the outline reaches the axis behind its free end, where the part would come apart"
            yield fault_at(data, _spot(loc, i, "d"), says, "Write the diameter of the neck that is left", "more than 0")
    if surface == "bore" and outline.start.y < ROUNDING:
        says = "a bore cannot begin on the axis"
        yield fault_at(data, _spot(loc, 0, "d"), says, "Write the diameter of the bore there", "more than 0")


def _turning_faults(outline: Outline, data: object, loc: Loc, unit: Unit) -> Iterator[Fault]:
    """Where the outline ends nearer to the free end than it has been: the bar behind it would stand in its own way."""
    least = outline.bounds()[0]
    if outline.end.x > least + BULGE:
        says = f"the outline ends nearer to the free end than it has been: {say(outline.end.x - least, unit)} nearer"
        remedy = (
            "List the points from the free end toward the chuck; it may double back where a tool reaches in, "
            "but has to end behind all the rest"
        )
        spot = _spot(loc, len(outline.segments), "z")
        yield fault_at(data, spot, says, remedy, at_most(least, unit))


def _crossing(outline: Outline) -> tuple[int, int] | None:
    """The first two pieces that meet elsewhere than at the point that joins neighbours, counted from 1."""
    import shapely

    whole = shapely.LineString(outline.flattened(1e-4))
    if whole.is_simple:
        return None
    lines = [shapely.LineString(segment.flattened(1e-4)) for segment in outline.segments]
    pairs = shapely.STRtree(lines).query(lines, predicate="intersects").T
    for i, j in sorted((int(i), int(j)) for i, j in pairs if i < j):
        if j > i + 1 or lines[i].intersection(lines[j]).geom_type != "Point":
            return i + 1, j + 1
    return next(((i + 1, i + 1) for i, line in enumerate(lines) if not line.is_simple), (1, len(lines)))
