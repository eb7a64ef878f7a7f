"""Where an outline doubles back along the axis: what it hides when seen from the side, and the rims of its overhangs.

The hollow under a lip, the relief in a shoulder, a dished end: at some x such an outline is met more than once. Lengths
in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.tolerances import SAME_PLACE

__all__ = [
    "Rim",
    "doubles_back",
    "foremost",
    "hidden_behind",
    "line_of_sight",
    "places_at",
    "seen_down_to",
    "seen_from_the_side",
]

_ASIDE = 1e-3
"""So far from a turning place its two branches are kept apart, mm."""


class Rim(NamedTuple):
    """Where metal ends over air, and the place straight below it where the outline, or the axis, is met next."""

    edge: Point
    below: Point


def places_at(outline: Outline, x: float) -> Iterator[tuple[Point, Point]]:
    """(place, direction) wherever an outline passes x; a piece square to the axis passes no x [mm].

    >>> [place for place, _ in places_at(Outline((Line(Point(0, 9), Point(-24, 9)),)), -3.0)]
    [Point(x=-3.0, y=9.0)]
    """
    for segment in outline.segments:
        yield from _on(segment, x)


def _on(segment: Segment, x: float) -> Iterator[tuple[Point, Point]]:
    """(place, direction) wherever a segment passes x; its far end belongs to the next one."""
    if isinstance(segment, Arc):
        yield from _on_arc(segment, x)
        return
    span = segment.end.x - segment.start.x
    share = (x - segment.start.x) / span if abs(span) > 1e-9 else -1.0
    if -1e-9 <= share < 1 - 1e-9:
        yield segment.point(max(share, 0.0) * segment.length), segment.tangent(0)


def _on_arc(arc: Arc, x: float) -> Iterator[tuple[Point, Point]]:
    across = x - arc.centre.x
    if abs(across) >= arc.radius:
        return
    half = math.acos(across / arc.radius)
    for angle in (half, -half):
        turn = (angle - arc.angle0) % (2 * math.pi) if arc.ccw else (arc.angle0 - angle) % (2 * math.pi)
        along = turn * arc.radius
        if along < arc.length - 1e-9:
            yield arc.point(along), arc.tangent(along)


def foremost(outline: Outline) -> Point:
    """Its place of greatest x: the start, or the outermost of those that stand in front of it (z, r) [mm]."""
    best = max(outline.flattened(1e-5), key=lambda p: (round(p.x, 6), p.y))
    return outline.start if outline.start.x >= best.x - SAME_PLACE else best


def doubles_back(outline: Outline) -> bool:
    """Whether x grows anywhere along it.

    >>> doubles_back(Outline((Line(Point(0, 9), Point(-24, 9)),)))
    False
    """
    return any(_grows(piece) > 0 for piece in _one_way(outline))


def seen_from_the_side(outline: Outline) -> tuple[tuple[Segment, bool], ...]:
    """The outline cut into pieces, each with whether it is seen from the side: other metal stands over the rest."""
    pieces = _one_way(outline)
    turns = sorted({piece.end.x for piece in pieces} | {outline.start.x})
    cut = [part for piece in pieces for part in _cut_at(piece, turns)]
    return tuple((part, not _covered(outline, part)) for part in cut)


def _covered(outline: Outline, part: Segment) -> bool:
    """Whether the outline passes farther out at the same x; next to a face it has to do so on both sides."""
    p = part.point(part.length / 2)
    beside = (p.x,) if _grows(part) else (p.x - _ASIDE, p.x + _ASIDE)
    return all(any(place.y > p.y + SAME_PLACE for place, _ in places_at(outline, x)) for x in beside)


def hidden_behind(outline: Outline, p: Point) -> bool:
    """Whether a place of an outline is hidden from the side by what stands over it, before it and behind it [mm].

    >>> hidden_behind(Outline((Line(Point(0, 9), Point(-24, 9)),)), Point(-3, 9))
    False
    """
    beside = (p.x - _ASIDE, p.x + _ASIDE)
    return all(any(place.y > p.y + _ASIDE for place, _ in places_at(outline, x)) for x in beside)


def seen_down_to(outline: Outline, p: Point) -> float | None:
    """How far toward the axis an edge in a cut-open bore is seen [mm]: to the next metal; None where it is over metal.

    >>> seen_down_to(Outline((Line(Point(0, 9), Point(-24, 9)),)), Point(-24, 9))
    0.0
    """
    under = sorted(place.y for place, _ in places_at(outline, p.x) if place.y < p.y - _ASIDE)
    return None if len(under) % 2 else (under[-1] if under else 0.0)


def line_of_sight(outline: Outline) -> tuple[Rim, ...]:
    """Rims of overhangs: seen beyond the plane of a section, each down to where the outline or the axis is met next."""
    pieces = [piece for piece in _one_way(outline) if _grows(piece)]
    rims = []
    for one, other in pairwise(pieces):
        if _grows(one) == _grows(other):
            continue
        before = one.point(max(one.length - _ASIDE, 0.0)).y
        after = other.point(min(_ASIDE, other.length)).y
        over = before > after if _grows(one) < 0 else after > before
        if over:
            edge = min(one.end, other.start, key=lambda p: p.y)
            rims.append(Rim(edge, Point(edge.x, _next_below(outline, edge))))
    return tuple(rims)


def _next_below(outline: Outline, p: Point) -> float:
    return max((place.y for place, _ in places_at(outline, p.x) if place.y < p.y - _ASIDE), default=0.0)


def _grows(piece: Segment) -> int:
    """1 where x grows along it, -1 where it falls, 0 square to the axis."""
    change = piece.end.x - piece.start.x
    return 0 if abs(change) < SAME_PLACE else int(math.copysign(1, change))


def _one_way(outline: Outline) -> list[Segment]:
    """The outline with its arcs cut where they stand upright: along each piece x only grows or only falls."""
    out: list[Segment] = []
    for segment in outline.segments:
        if isinstance(segment, Arc):
            upright = [segment.centre.x - segment.radius, segment.centre.x + segment.radius]
            sides = sorted(
                turn for x in upright if SAME_PLACE < (turn := _along(segment, x)) < segment.length - SAME_PLACE
            )
            out += _parts(segment, sides)
        else:
            out.append(segment)
    return out


def _along(arc: Arc, x: float) -> float:
    """How far along an arc, or past it, its foremost or hindmost place lies."""
    angle = 0.0 if x > arc.centre.x else math.pi
    turn = (angle - arc.angle0) % (2 * math.pi) if arc.ccw else (arc.angle0 - angle) % (2 * math.pi)
    return turn * arc.radius


def _cut_at(piece: Segment, levels: list[float]) -> list[Segment]:
    """A piece along which x goes one way, cut at these x."""
    low, high = sorted((piece.start.x, piece.end.x))
    outline = Outline((piece,))
    places = [p for x in levels if low + SAME_PLACE < x < high - SAME_PLACE for p, _ in places_at(outline, x)]
    return _parts(piece, sorted(_length_to(piece, p) for p in places))


def _length_to(piece: Segment, p: Point) -> float:
    if isinstance(piece, Line):
        return math.dist(piece.start, p)
    turn = math.atan2(p.y - piece.centre.y, p.x - piece.centre.x) - piece.angle0
    return (turn if piece.ccw else -turn) % (2 * math.pi) * piece.radius


def _parts(segment: Segment, lengths: list[float]) -> list[Segment]:
    """A segment cut at these lengths along it."""
    places = [segment.start, *(segment.point(s) for s in lengths), segment.end]
    if isinstance(segment, Line):
        return [Line(a, b) for a, b in pairwise(places)]
    return [Arc(a, b, segment.centre, segment.ccw) for a, b in pairwise(places)]
