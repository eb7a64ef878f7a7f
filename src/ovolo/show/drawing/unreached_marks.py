"""Marks and words of the drawing of a refusal: the stretches, their numbers, their figures where there is room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice, permutations

import shapely
from shapely.ops import substring

from ovolo.geometry.segments import Point
from ovolo.plan.report.unreached import Unreached
from ovolo.show.paper.layout import Candidate, Layout, box_of
from ovolo.show.paper.shapes import Place, on_paper, outline_path
from ovolo.show.paper.svg import XY, Anchor, circle, line, path, text, text_box
from ovolo.units import Unit, from_mm

__all__ = ["draw_labels", "draw_numbers", "draw_stretches", "figure", "long_text", "short_text"]

SIZE = 3.8

ORDERS = 8
"""In so many orders the words of a stretch are tried."""

SMALL = 5.0
"""A stretch shorter than this on paper gets a ring round it, mm."""


def figure(mm: float, unit: Unit, digits: int = 4) -> str:
    """A length to so many digits that count, in the job's unit.

    >>> figure(-14.7019, "mm"), figure(25.4, "in")
    ('-14.7', '1')
    """
    return f"{from_mm(mm, unit):.{digits}g}"


def long_text(s: Unreached, unit: Unit) -> str:
    """How long a stretch is along the outline."""
    return f"{figure(s.length, unit, 3)} {unit} long"


def short_text(s: Unreached, unit: Unit) -> str:
    """How far off the nearest tool stops."""
    return f"{figure(s.short, unit, 3)} {unit} short"


def draw_stretches(stretches: Sequence[Unreached], place: Place) -> list[str]:
    """Every stretch as a broad red line; with a bar across at either end, where it is not small."""
    pieces = []
    for s in stretches:
        pieces.append(path(outline_path(s.pieces, place), "unreached"))
        ends = ((s.pieces[0], 0.0), (s.pieces[-1], s.pieces[-1].length))
        for piece, at in ends if s.length * place.scale >= SMALL else ():
            (x, y), n = place.at(*piece.point(at)), piece.normal(at)
            nx, ny = 1.6 * n.x, -place.up * 1.6 * n.y
            pieces.append(line((x - nx, y - ny), (x + nx, y + ny), "red"))
    return pieces


def _middle(s: Unreached) -> tuple[Point, Point]:
    """The place half-way along a stretch, and the way into the metal there."""
    left, piece = s.length / 2, s.pieces[0]
    for piece in s.pieces:
        if left <= piece.length:
            break
        left -= piece.length
    n = piece.normal(left)
    return piece.point(left), Point(-n.x, -n.y)


def draw_numbers(stretches: Sequence[Unreached], place: Place, layout: Layout) -> list[str]:
    """A number at every stretch, and a ring round the small ones."""
    pieces = []
    for k, s in enumerate(stretches, 1):
        middle, inward = _middle(s)
        ring = SMALL / 2 if s.length * place.scale < SMALL else 0.0
        pieces += [circle(place.at(*middle), ring, "thin")] if ring else []
        words = str(k) if len(stretches) > 1 else "out of reach"
        found = layout.first_free(_around(place.at(*middle), inward, (words,), "strong halo red", ring))
        pieces += found.pieces if found else ()
    return pieces


_Named = tuple[Point, Point, tuple[str, ...], str]
"""A place, the way in which its words should lie, the words from long to short, and how they look."""


def draw_labels(s: Unreached, unit: Unit, place: Place, layout: Layout, *, bore: bool) -> list[str]:
    """Both ends by z and Ø, how long it is, how far off the tool stops; where the tool is stopped, and by what."""
    middle, inward = _middle(s)
    layout.lines.append(on_paper(s.metal, place))
    layout.regions.append(shapely.buffer(on_paper(s.metal, place), -0.4))
    border = shapely.LineString([place.at(*p) for piece in s.pieces for p in piece.flattened(0.01)])
    layout.regions.append(substring(border, 0.04, 0.96, normalized=True))  # only a line from its end may meet it
    along, short = long_text(s, unit), short_text(s, unit)
    named: list[_Named] = []
    for p in (s.begin, s.end):
        off = Point(p.x - middle.x, p.y - middle.y)
        size = math.hypot(*off) or 1.0
        toward = Point(inward.x + 0.8 * off.x / size, inward.y + 0.8 * off.y / size)
        named.append((p, toward, (f"z {figure(p.x, unit)}, Ø {figure(2 * p.y, unit)}",), "halo"))
    named.append((middle, inward, (f"out of reach: {along}", along), "strong halo red"))
    named.append((s.place, inward, (f"the tool stops {short}", short), "halo red"))
    deeper = Point(0.0, 1.0 if bore else -1.0)
    named += [(t.at, deeper, (f"its {t.by} is stopped here", t.by), "halo blue") for t in s.touches[:2]]
    pieces = [piece for t in s.touches for piece in _ring(place.at(*t.at))]
    return [*pieces, *_placed(named, place, layout)]


def _placed(named: list[_Named], place: Place, layout: Layout) -> list[str]:
    """The words where there is room: tried in several orders, for those before take it from those after."""
    best: list[Candidate] = []
    for order in islice(permutations(range(4)), ORDERS):
        tried = replace(layout, words=list(layout.words), lines=list(layout.lines))
        turned = [named[k] for k in order] + named[4:]
        found = [tried.first_free(_around(place.at(*at), toward, words, cls)) for at, toward, words, cls in turned]
        placed = [candidate for candidate in found if candidate is not None]
        if len(placed) > len(best):
            best = placed
        if len(best) == len(named):
            break
    return [piece for candidate in best for piece in candidate.pieces]


def _ring(at: XY) -> list[str]:
    return [circle(at, 1.1, "red"), circle(at, 0.35, "red-dot")]


def _around(at: XY, toward: Point, words: Sequence[str], cls: str, ring: float = 0.0) -> Iterator[Candidate]:
    """Words round a place with a thin line to it: nearer ones first, then those that lie the way of `toward`, (z, r);
    shorter words where the longer ones find no room."""
    strong, ahead, gap = "strong" in cls, math.atan2(toward.y, toward.x), max(ring, 0.7)
    for said in words:
        for reach in (4.5, 7.0, 10.0, 14.0, 19.0, 25.0, 33.0):
            for k in range(17):
                a = ahead + math.radians(20) * ((k + 1) // 2) * (1 if k % 2 else -1)
                ux, uy = math.cos(a), -math.sin(a)
                start, end = ((at[0] + d * ux, at[1] + d * uy) for d in (gap, gap + reach))
                side: Anchor = "start" if ux >= 0 else "end"
                spots: list[tuple[Anchor, XY]] = [(side, (end[0] + (0.8 if ux >= 0 else -0.8), end[1]))]
                if abs(uy) > 0.6:  # a steep line may end at the middle of its words
                    spots.append(("middle", (end[0], end[1] + math.copysign(0.62 * SIZE, uy))))
                for anchor, spot in spots:
                    pieces = (line(start, end, "thin"), text(spot, said, SIZE, cls=cls, anchor=anchor))
                    room = box_of(text_box(spot, said, SIZE, anchor, strong=strong))
                    yield Candidate(pieces, room, ((start, end),))
