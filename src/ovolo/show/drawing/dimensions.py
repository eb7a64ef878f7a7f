"""Dimensions as a drawing office writes them (ISO 129-1): lengths from the free end, diameters, radii.

They stand in the half below the axis, where the tool never is. What finds no place without touching something else is
left out, and said so: nothing is ever drawn over something else.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from ovolo.geometry.outline import Outline
from ovolo.geometry.overhang import foremost
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.show.paper.layout import Candidate, Layout, box_of
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.shapes import Place
from ovolo.show.paper.svg import XY, Anchor, arrow, line, text, text_box
from ovolo.show.words.figures import plain_size
from ovolo.tolerances import SAME_PLACE
from ovolo.units import Unit

__all__ = ["Diameter", "Dimensions", "Length", "Radius", "dimensions", "draw_dimensions", "rows_height"]

SIZE = 3.8
"""Size of the type, mm: its capitals are 2.5 mm high, a size of ISO 3098."""

ROW = 6.5
"""From one dimension line to the next, mm."""

FIRST = 8.0
"""From the part to its first dimension line, mm."""

MOST = 7
"""So many of each kind are drawn; a curve of a hundred arcs is not dimensioned joint by joint."""

_OVERSHOOT = 1.6


@dataclass(frozen=True)
class Length:
    """A length along the axis from the foremost place to a joint of the outline, mm."""

    start: float
    end: Point
    text: str


@dataclass(frozen=True)
class Diameter:
    """A diameter at `at`; on a cylinder from `at` to `to`."""

    at: Point
    to: Point | None
    text: str


@dataclass(frozen=True)
class Radius:
    """A radius of an arc of the outline."""

    arc: Arc
    text: str


@dataclass(frozen=True)
class Dimensions:
    """What is dimensioned on a drawing of an outline."""

    lengths: tuple[Length, ...]
    diameters: tuple[Diameter, ...]
    radii: tuple[Radius, ...]


def dimensions(outline: Outline, unit: Unit) -> Dimensions:
    """The dimensions of an outline: joints that are corners or ends first, each size once."""
    joints = _important(outline)
    start = foremost(outline).x
    lengths = [
        Length(start, p, plain_size(abs(p.x - start), unit))
        for p in _distinct(joints, key=0)
        if abs(p.x - start) > 1e-3
    ]
    cylinders = [s for s in outline.segments if isinstance(s, Line) and abs(s.start.y - s.end.y) < SAME_PLACE]
    named = {round(s.end.y, 4) for s in cylinders}
    corners = [p for p in _distinct(joints, key=1) if p.y > 1e-3 and round(p.y, 4) not in named]
    diameters = [Diameter(s.start, s.end, f"Ø {plain_size(2 * s.end.y, unit)}") for s in _widest(cylinders)]
    diameters += [Diameter(p, None, f"Ø {plain_size(2 * p.y, unit)}") for p in corners]
    return Dimensions(
        tuple(sorted(lengths, key=lambda length: abs(length.end.x - start))[:MOST]),
        tuple(diameters[:MOST]),
        tuple(_radii(outline, unit)),
    )


def _important(outline: Outline) -> list[Point]:
    """Ends and joints, the sharpest corners first, then the joints of the longest pieces."""
    joints = [(_turn(a, b), min(a.length, b.length), a.end) for a, b in pairwise(outline.segments)]
    joints.sort(key=lambda joint: (-round(joint[0], 2), -joint[1]))
    return [outline.end, outline.start, *(point for _, _, point in joints)][:MOST]


def _turn(a: Segment, b: Segment) -> float:
    before, after = a.tangent(a.length), b.tangent(0.0)
    return abs(before.x * after.y - before.y * after.x)


def _distinct(points: Sequence[Point], key: int) -> list[Point]:
    """One point for each z (key 0) or r (key 1)."""
    seen: dict[float, Point] = {}
    for point in points:
        seen.setdefault(round(point[key], 3), point)
    return list(seen.values())


def _widest(cylinders: Sequence[Line]) -> list[Line]:
    """The longest cylinder of each size."""
    best: dict[float, Line] = {}
    for cylinder in sorted(cylinders, key=lambda s: -s.length):
        best.setdefault(round(cylinder.end.y, 4), cylinder)
    return list(best.values())


def _radii(outline: Outline, unit: Unit) -> Iterator[Radius]:
    """The arcs, the longest of each radius, with how many there are of it."""
    groups: dict[str, list[Arc]] = {}
    for segment in sorted(outline.segments, key=lambda s: -s.length):
        if isinstance(segment, Arc):
            groups.setdefault(f"R {plain_size(segment.radius, unit)}", []).append(segment)
    for words, arcs in list(groups.items())[:MOST]:
        yield Radius(arcs[0], words if len(arcs) == 1 else f"{words} ({len(arcs)}×)")


def rows_height(what: Dimensions) -> float:
    """How much paper the lengths take below the part, mm."""
    return FIRST + ROW * len(what.lengths)


def draw_dimensions(
    what: Dimensions, place: Place, layout: Layout, outline: Outline, edge: XY
) -> tuple[list[str], list[str]]:
    """The pieces, and the texts that found no place.

    place: the upper half. edge: where the piece ends on paper, to the right and below, the bar included.
    """
    below = place.other_half
    pieces, missing = _lengths(what.lengths, below, layout, outline, edge[1]), []
    column = 0
    for diameter in sorted(what.diameters, key=lambda d: d.at.y):
        found = layout.first_free(_diameter(diameter, below, outline, edge[0] + FIRST + column * ROW))
        column += found is not None and found.in_column
        pieces += found.pieces if found else ()
        missing += [] if found else [diameter.text]
    for radius in what.radii:
        found = layout.first_free(_radius(radius, below))
        pieces += found.pieces if found else ()
        missing += [] if found else [radius.text]
    return pieces, missing


def _lengths(lengths: Sequence[Length], below: Place, layout: Layout, outline: Outline, lowest: float) -> list[str]:
    """Dimension lines under the part, the shortest nearest to it."""
    pieces = []
    for row, length in enumerate(lengths):
        y = lowest + FIRST + row * ROW
        a, b = below.at(*length.end), below.at(*foremost(outline))
        pieces += _extension(a, (a[0], y), layout)
        if row == len(lengths) - 1:
            pieces += _extension(b, (b[0], y), layout)
        pieces += _between((min(a[0], b[0]), y), (max(a[0], b[0]), y), length.text, layout)
    return pieces


def _extension(start: XY, end: XY, layout: Layout) -> list[str]:
    """An extension line: off the edge by a gap, past the dimension line by a little."""
    way = math.copysign(1.0, end[1] - start[1])
    a, b = (start[0], start[1] + way * 0.9), (end[0], end[1] + way * _OVERSHOOT)
    layout.add_line([a, b])
    return [line(a, b, "thin")]


def _between(a: XY, b: XY, words: str, layout: Layout) -> list[str]:
    """A dimension line from left to right with its text above; text and arrows go outside where it is too short."""
    wide = breadth(words, SIZE)
    if b[0] - a[0] >= wide + 7.0:
        at = ((a[0] + b[0]) / 2, a[1] - SIZE / 2 - 0.5)
        layout.add_words(box_of(text_box(at, words, SIZE, "middle")))
        layout.add_line([a, b])
        return [
            line(a, b, "thin"),
            arrow(a, (-1, 0)),
            arrow(b, (1, 0)),
            text(at, words, SIZE, cls="halo", anchor="middle"),
        ]
    far = (b[0] + 6.0 + wide, b[1])
    at = (b[0] + 5.0, b[1] - SIZE / 2 - 0.5)
    layout.add_words(box_of(text_box(at, words, SIZE, "start")))
    layout.add_line([(a[0] - 5, a[1]), far])
    return [
        line((a[0] - 5, a[1]), far, "thin"), arrow(a, (1, 0)), arrow(b, (-1, 0)), text(at, words, SIZE, cls="halo"),
    ]  # fmt: skip


def _diameter(diameter: Diameter, below: Place, outline: Outline, column: float) -> Iterator[Candidate]:
    """Inside its cylinder, beside the free end, or by a leader."""
    if diameter.to is not None:
        for past, share in product((True, False), (0.62, 0.5, 0.4, 0.75, 0.28)):
            z = diameter.to.x + share * (diameter.at.x - diameter.to.x)
            yield _half_line(below.at(z, diameter.at.y), below, diameter.text, None, past=past)
    if all(point.y <= diameter.at.y + SAME_PLACE for point in outline.flattened(0.01) if point.x > diameter.at.x):
        start = below.at(*diameter.at)
        for past in (True, False):
            yield _half_line((column, start[1]), below, diameter.text, start, past=past)
    middle = diameter.at if diameter.to is None else Point((diameter.at.x + diameter.to.x) / 2, diameter.at.y)
    for reach in (9.0, 13.0, 18.0):
        for way in ((0.5, 1.0), (-0.5, 1.0), (1.0, 0.5), (-1.0, 0.5), (0.5, -1.0), (-0.5, -1.0)):
            yield _leader(below.at(*middle), way, reach, diameter.text)


def _half_line(foot: XY, below: Place, words: str, start: XY | None, *, past: bool) -> Candidate:
    """A dimension line from the lower edge past the axis, abbreviated there: one arrow (ISO 129-1).

    past: false where something stands above the axis; it ends on the axis then.
    """
    axis = below.at(0, 0)[1]
    wide, tall = breadth(words, SIZE), foot[1] - axis
    end = (foot[0], axis - (min(3.0, tall / 2) if past else 0.0))
    at = (foot[0] - SIZE / 2 - 0.5, (axis + foot[1]) / 2)
    if tall < wide + 5.0:
        at = (at[0], foot[1] + 2.0 + wide / 2)
        pieces = [line((foot[0], foot[1] + 3.0 + wide), end, "thin")]
    else:
        pieces = [line(foot, end, "thin")]
    pieces += [arrow(foot, (0, 1)), text(at, words, SIZE, cls="halo", anchor="middle", turn=-90)]
    lines = [(foot, end)]
    if start is not None:
        a, b = (start[0] + 0.9, start[1]), (foot[0] + _OVERSHOOT, start[1])
        pieces.append(line(a, b, "thin"))
        lines.append((a, b))
    return Candidate(tuple(pieces), box_of(text_box(at, words, SIZE, "middle"), at), tuple(lines), start is not None)


def _radius(radius: Radius, below: Place) -> Iterator[Candidate]:
    """Along the normal, from outside or from inside."""
    arc = radius.arc
    for outside in (True, False):
        for reach in (8.0, 12.0, 17.0):
            for share in (0.5, 0.38, 0.62, 0.25, 0.75, 0.12, 0.88):
                normal = arc.normal(share * arc.length)
                way = (normal.x, normal.y) if below.up < 0 else (normal.x, -normal.y)
                side = 1 if outside else -1
                if outside or reach < arc.radius * below.scale or not arc.ccw:
                    yield _leader(
                        below.at(*arc.point(share * arc.length)), (side * way[0], side * way[1]), reach, radius.text
                    )


def _leader(tip: XY, way: XY, reach: float, words: str) -> Candidate:
    """An arrow on the edge, a line away from it, a level piece with the text on it."""
    size = math.hypot(*way)
    ux, uy = way[0] / size, way[1] / size
    knee = (tip[0] + ux * reach, tip[1] + uy * reach)
    right = ux >= 0
    wide = breadth(words, SIZE)
    end = (knee[0] + (wide + 1.5) * (1 if right else -1), knee[1])
    anchor: Anchor = "start" if right else "end"
    at = (knee[0] + (0.8 if right else -0.8), knee[1] - SIZE / 2 - 0.4)
    pieces = (
        line(tip, knee, "thin"),
        line(knee, end, "thin"),
        arrow(tip, (-ux, -uy)),
        text(at, words, SIZE, cls="halo", anchor=anchor),
    )
    near = (tip[0] + ux * 0.6, tip[1] + uy * 0.6)
    return Candidate(pieces, box_of(text_box(at, words, SIZE, anchor)), ((near, knee), (knee, end)))
