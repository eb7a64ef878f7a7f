"""The shape of a gauge: a plate with the curve as one of its edges, in (z, r) and mm."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.outline import Outline, part_of
from ovolo.geometry.overhang import doubles_back, seen_from_the_side
from ovolo.geometry.segments import Line, Point, Segment
from ovolo.part.part import Part
from ovolo.tolerances import ROUNDING

__all__ = ["FLAT", "Held", "Plate", "Side", "held", "plate", "widened"]

Side = Literal["air", "part"]
"""Which side of the curve is plate: "air" is held against the finished part, "part" has the part's own form."""

FLAT = 1e-4
"""How far the chords of a flattened gauge may lie from its arcs, mm."""

_FINE = 64


@dataclass(frozen=True)
class Plate:
    """A plate with its edge along the curve; `edge` is that edge, `rest` the straight edges back to its start."""

    side: Side
    edge: tuple[Segment, ...]
    rest: tuple[Line, ...]

    @property
    def segments(self) -> tuple[Segment, ...]:
        """All edges, closed."""
        return (*self.edge, *self.rest)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(least z, least r, greatest z, greatest r), mm."""
        return Outline(self.segments).bounds()


class Held(NamedTuple):
    """The edge of a template, and how it is brought to the part: from the side, or along the axis from the free end.

    `left_out` holds the stretches of z that lean over, so that no plate could be brought to them: greater, lesser, mm.
    """

    edge: tuple[Segment, ...]
    way: Literal["side", "end"] = "side"
    left_out: tuple[tuple[float, float], ...] = ()


def held(part: Part, start: float, end: float, side: Side) -> Held:
    """The edge along an outline from `start` to `end`, mm along it, as far as a plate of this side can be held there.

    A plate with the part's own form is held beside it and has the whole of the edge.
    """
    outline = part.outline
    if not doubles_back(outline):
        return Held(outline.stretch(start, end))
    start, end = _past_overhangs(outline, start, end)
    edge = outline.stretch(start, end)
    if side == "part" or not doubles_back(Outline(edge)):
        return Held(edge)
    return Held(edge, "end") if _faces_the_end(edge, part) else _from_the_side(part, start, end)


def _past_overhangs(outline: Outline, start: float, end: float) -> tuple[float, float]:
    """The stretch carried on so far that neither of its ends stands over or under the rest of it."""
    points = outline.flattened(FLAT)
    along = [0.0]
    for a, b in pairwise(points):
        along.append(along[-1] + math.dist(a, b))
    share = outline.length / along[-1]
    places = [(u * share, p.x) for u, p in zip(along, points, strict=True)]
    inside = [x for u, x in places if start <= u <= end] or [points[0].x]
    front, back = max(inside), min(inside)
    end = next((u for u, x in places if u >= end - ROUNDING and x <= back + FLAT), outline.length)
    start = next((u for u, x in reversed(places) if u <= start + ROUNDING and x >= front - FLAT), 0.0)
    return start, end


def _faces_the_end(edge: Sequence[Segment], part: Part) -> bool:
    """Whether a plate slides on along the axis: nowhere does the edge face the chuck, which it does where it comes
    back toward the axis; in a bore where it goes away from it."""
    points = Outline(tuple(edge)).flattened(FLAT)
    sign = 1 if part.surface == "outside" else -1
    return all(sign * (b.y - a.y) >= -FLAT / 10 for a, b in pairwise(points))


def _from_the_side(part: Part, start: float, end: float) -> Held:
    """What is seen from the side; over what is hidden the edge runs straight across, square to the axis."""
    outside = part.surface == "outside"
    outline = part.outline if outside else part.outline.mirrored()
    pieces: list[Segment] = []
    out: list[tuple[float, float]] = []
    done = 0.0
    for piece, seen in seen_from_the_side(outline):
        a, b = max(start - done, 0.0), min(end - done, piece.length)
        done += piece.length
        if b - a > ROUNDING:
            cut = part_of(piece, a, b)
            cut = cut if outside else cut.mirrored()
            pieces += [cut] if seen else []
            out += [] if seen else [(max(cut.start.x, cut.end.x), min(cut.start.x, cut.end.x))]
    return Held(tuple(_joined(pieces)), "side", tuple(_merged(out)))


def _joined(pieces: Sequence[Segment]) -> Iterator[Segment]:
    for before, piece in zip((None, *pieces), pieces, strict=False):
        if before is not None and math.dist(before.end, piece.start) > ROUNDING:
            yield Line(before.end, piece.start)
        yield piece


def _merged(stretches: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Stretches of z that overlap or join as one."""
    out: list[tuple[float, float]] = []
    for high, low in sorted(stretches, reverse=True):
        if out and high >= out[-1][1] - FLAT:
            out[-1] = (out[-1][0], min(low, out[-1][1]))
        else:
            out.append((high, low))
    return out


def plate(part: Part, edge: Sequence[Segment], side: Side, margin: float) -> Plate:
    """The plate on one side of an edge, `margin` mm of it around the curve; it ends at the axis if nearer."""
    points = Outline(tuple(edge)).flattened(FLAT)
    low, high = min(p.y for p in points), max(p.y for p in points)
    outward = (part.surface == "outside") == (side == "air")
    level = high + margin if outward else max(0.0, low - margin)
    edge = _without_spikes(edge, level)
    first, last = edge[0].start, edge[-1].end
    front = max(p.x for p in points) + margin if side == "air" else first.x
    corners = [last, Point(last.x, level), Point(front, level), Point(front, first.y), first]
    return Plate(side, tuple(edge), tuple(_lines(corners)))


def _without_spikes(edge: Sequence[Segment], level: float) -> tuple[Segment, ...]:
    """The edge without a face at its end from which the plate would lead straight back over it."""
    kept = list(edge)
    while len(kept) > 1 and abs(kept[-1].start.x - kept[-1].end.x) < ROUNDING and isinstance(kept[-1], Line):
        if (kept[-1].end.y - kept[-1].start.y) * (level - kept[-1].end.y) >= 0:
            break
        kept.pop()
    return tuple(kept)


def _lines(corners: Sequence[Point]) -> Iterator[Line]:
    for a, b in pairwise(corners):
        if abs(a.x - b.x) + abs(a.y - b.y) > ROUNDING:
            yield Line(a, b)


def widened(shape: Plate, kerf: float) -> BaseGeometry:
    """The path to cut along with a beam `kerf` mm wide, so that the plate comes out true: half of it outside."""
    region = shapely.make_valid(shapely.Polygon(Outline(shape.segments).flattened(FLAT)))
    return region.buffer(kerf / 2, quad_segs=_FINE)
