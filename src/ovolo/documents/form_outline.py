"""The cutting outline of a form tool: from its points to lines and arcs, and what can be wrong with it."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from ovolo.documents.building import BULGE, at_least, at_most, say
from ovolo.documents.faults import Loc, fault_at
from ovolo.documents.job_model import ToolPoint, ToolTable
from ovolo.errors import Fault
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.shop.form_tools import form_tool
from ovolo.tolerances import ROUNDING
from ovolo.units import Unit

NARROWEST = 0.01
"""A tool narrower than this is none, mm."""

HOLLOW = 5e-4
"""How far an outline may fall short of convex, mm: rounded figures do, and no cut shows it."""


def form_segments(points: Sequence[ToolPoint]) -> tuple[Segment, ...]:
    """The lines and arcs [mm] of an outline in which `form_faults` finds nothing."""
    return tuple(_segment(one, other) for one, other in pairwise(points))


def nose_of(table: ToolTable) -> float:
    """The nose radius of a tool, mm; of a form tool how high its nose centre lies over its lowest place."""
    if table.outline is None:
        return table.nose_radius or 0.0
    segments = _sound(table.outline)
    return form_tool(table.name, segments).nose_radius if segments else 0.0


def tightest_of(table: ToolTable) -> float:
    """The least radius that a tool cuts with, 0 where it has a corner, mm."""
    if table.outline is None:
        return table.nose_radius or 0.0
    segments = _sound(table.outline)
    return form_tool(table.name, segments).tightest if segments else 0.0


def _sound(points: Sequence[ToolPoint]) -> tuple[Segment, ...]:
    """The lines and arcs of an outline; none where something is wrong with it."""
    return () if any(form_faults(points, {}, (), "mm")) else form_segments(points)


def form_faults(points: Sequence[ToolPoint], data: object, loc: Loc, unit: Unit) -> Iterator[Fault]:
    """All that is wrong with the outline [mm] of a form tool whose every field is right.

    data, loc: the document as it was read and the way to the points in it. unit: for what faults say.
    """
    found = [_impossible(one, other, data, (*loc, j), unit) for j, (one, other) in enumerate(pairwise(points), 1)]
    faults = [fault for fault in found if fault is not None] or list(_spikes(points, data, loc))
    width = points[-1].z - points[0].z
    if faults:
        yield from faults
    elif width < NARROWEST:
        says = "the outline has no width: its ends stand one above the other"
        remedy = "Give its two ends apart from each other, the one toward the chuck first"
        yield fault_at(data, loc, says, remedy, at_least(NARROWEST, unit))
    else:
        yield from _hollow(form_segments(points), data, loc, unit)


def _spikes(points: Sequence[ToolPoint], data: object, loc: Loc) -> Iterator[Fault]:
    """Pieces straight up or down elsewhere than at the flanks: there the outline runs back on itself."""
    upright = [abs(other.z - one.z) <= ROUNDING for one, other in pairwise(points)]
    down = [other.r < one.r for one, other in pairwise(points)]
    for j, (stands, falls) in enumerate(zip(upright, down, strict=True)):
        beside = zip(upright[:j], down[:j], strict=True) if falls else zip(upright[j + 1 :], down[j + 1 :], strict=True)
        if stands and not all(also and fell == falls for also, fell in beside):
            says = "the outline runs straight up or down here, and goes on from there back into the tool"
            remedy = "Let it run straight down only at its first points, and straight up only at its last ones"
            yield fault_at(data, (*loc, j + 1), says, remedy)


def _at(point: ToolPoint) -> Point:
    return Point(point.z, point.r)


def _segment(before: ToolPoint, point: ToolPoint) -> Segment:
    """The tool lies on the left of the way, so that an arc which bulges out of it is walked counter-clockwise."""
    start, end = _at(before), _at(point)
    if point.through is not None:
        return Arc.through(start, Point(*point.through), end)
    return Line(start, end) if point.convex is None else Arc.from_radius(start, end, point.convex, ccw=True)


def _impossible(before: ToolPoint, point: ToolPoint, data: object, loc: Loc, unit: Unit) -> Fault | None:
    """What is wrong with one piece, if anything."""
    chord = math.dist(_at(before), _at(point))
    if chord < ROUNDING:
        return fault_at(data, (*loc, "z"), "the point is the same as the one before it", "Leave it out")
    if point.z < before.z - ROUNDING:
        says, limit = "the outline heads back toward the chuck here", "z that never falls along the outline"
        return fault_at(data, (*loc, "z"), says, "List the points from the end toward the chuck to the free end", limit)
    try:
        segment = _segment(before, point)
    except ValueError:
        if point.convex is None:
            says = "no arc leads through the three points, which lie on one line"
            return fault_at(data, (*loc, "through"), says, "Leave through out for a straight line")
        says = f"an arc of this radius cannot span the {say(chord, unit)} between its ends"
        remedy = "Write a larger radius, or bring its ends closer together"
        return fault_at(data, (*loc, "convex"), says, remedy, at_least(chord / 2, unit))
    return _bent(segment, data, loc) if isinstance(segment, Arc) else None


def _bent(arc: Arc, data: object, loc: Loc) -> Fault | None:
    """An arc that bulges into the tool, or farther out than the end that it leads to."""
    if not arc.ccw:
        says = "the arc that leads here bulges into the tool, and only a convex tool can be planned with"
        return fault_at(data, (*loc, "through"), says, "Write a third point below the line between its ends")
    # The tool runs straight up from its ends: what bulges beyond them would be cut off there.
    if max(arc.start.x - _least(arc), _greatest(arc) - arc.end.x) <= BULGE:
        return None
    says = "the arc that leads here bulges out beyond its ends, from which the tool runs straight up"
    remedy = "Let it begin and end where it runs straight up, or write a larger radius"
    return fault_at(data, loc, says, remedy, "at most half a circle, open upward")


def _least(arc: Arc) -> float:
    """The least z of an arc that bulges downward."""
    return arc.centre.x - arc.radius if arc.tangent(0.0).x < 0 else arc.start.x


def _greatest(arc: Arc) -> float:
    return arc.centre.x + arc.radius if arc.tangent(arc.length).x < 0 else arc.end.x


def _hollow(segments: Sequence[Segment], data: object, loc: Loc, unit: Unit) -> Iterator[Fault]:
    """Joints at which the outline turns into the tool."""
    import shapely

    points = [segments[0].start]
    for segment in segments:
        points += segment.flattened(1e-5)[1:]
    top = max(p.y for p in points) + 10.0
    hull = shapely.MultiPoint([*points, (points[0].x, top), (points[-1].x, top)]).convex_hull
    border = shapely.boundary(hull)
    for j, (one, other) in enumerate(pairwise(segments), 1):
        a, b = one.tangent(one.length), other.tangent(0.0)
        deep = float(shapely.distance(border, shapely.Point(*other.start)))
        if a.x * b.y - a.y * b.x < 0 and deep > HOLLOW:
            says = (
                f"the outline turns into the tool here, {say(deep, unit)} deep, and no plan is made for a hollow tool"
            )
            remedy = "Leave the point out, or move it outward"
            yield fault_at(data, (*loc, j), says, remedy, at_most(HOLLOW, unit))
