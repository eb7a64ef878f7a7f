"""The half-section's lines, for paper and pages alike: what is seen, what a lip hides, the piece as it was.

The upper half is cut open; a bore is cut open in both. Every line is the `d` of a path at a `Place`.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.outline import Outline
from ovolo.geometry.overhang import doubles_back, hidden_behind, line_of_sight, seen_down_to, seen_from_the_side
from ovolo.geometry.segments import Line, Point
from ovolo.part.part import Part
from ovolo.shop.shop import Stock
from ovolo.show.paper.shapes import Place, outline_path

__all__ = ["Section", "section_of"]

_STOCK_CHORD = 1e-2
"""Chordal error of the line of a piece already shaped, mm."""

SHARP = 0.02
"""Two pieces that meet at more than this (sine) have an edge that is seen."""


@dataclass(frozen=True)
class Section:
    """A part in its piece, with the bar behind it drawn as far as z = `end`."""

    outline: Outline
    stock: Stock
    bore: bool
    end: float

    @property
    def back(self) -> float:
        """Where the outline ends and the bar goes on, z."""
        return self.outline.end.x

    @property
    def behind(self) -> float:
        """The radius that the bar behind the part begins at: its own, or its hole's where that is what is turned."""
        return self.stock.hole / 2 if self.bore else self.stock.radius

    @property
    def bar(self) -> BaseGeometry:
        """The stretch of bar behind the part."""
        return shapely.box(self.end, self.stock.hole / 2 if self.bore else 0.0, self.back, self.stock.radius)

    @cached_property
    def _lips(self) -> bool:
        return doubles_back(self.outline)

    @cached_property
    def corners(self) -> list[Point]:
        """Joints that are sharp: seen as an edge from the side."""
        turns = [(a.end, a.tangent(a.length), b.tangent(0.0)) for a, b in pairwise(self.outline.segments)]
        return [p for p, a, b in turns if abs(a.x * b.y - a.y * b.x) > SHARP]

    def edges(self, half: Place) -> list[str]:
        """Visible edges in one half: outline, end face, the bar behind, corners seen from the side."""
        first, last = self.outline.start, self.outline.end
        whole = [outline_path(self.outline, half)]
        lines = whole if self._cut_open(half) else self._side(half, seen=True)
        lines.append(_through(half, last, Point(last.x, self.behind), Point(self.end, self.behind)))
        if self.bore:
            outer = self.stock.radius
            lines.append(_through(half, first, Point(first.x, outer), Point(self.end, outer)))
        elif first.y > 1e-9 and (self._cut_open(half) or not hidden_behind(self.outline, first)):
            lines.append(_through(half, Point(first.x, 0.0), first))
        return [d for d in (*lines, *self._rounds(half)) if d]

    def unseen(self, half: Place) -> list[str]:
        """What a lip hides in the half that is not cut open."""
        if self._cut_open(half):
            return []
        first, hidden = self.outline.start, self._side(half, seen=False)
        if first.y > 1e-9 and hidden_behind(self.outline, first):
            hidden.append(_through(half, Point(first.x, 0.0), first))
        return hidden

    def blank(self, half: Place) -> str:
        """The piece as it was: its surface and its front, where they are not the part's own."""
        return _through(half, *self.blank_points)

    @property
    def blank_points(self) -> list[Point]:
        """The line of the piece as it was, from the bar behind to its front."""
        stock, foot = self.stock, Point(self.stock.front, self.stock.radius if self.bore else 0.0)
        if stock.outline is None:
            return [Point(self.back, self.behind), Point(stock.front, self.behind), foot]
        shaped = stock.outline.flattened(_STOCK_CHORD)[::-1]
        behind = [Point(self.back, self.behind)] if shaped[0].x > self.back + 1e-9 else []
        return list(dict.fromkeys([*behind, *shaped, foot]))

    def _cut_open(self, half: Place) -> bool:
        """Whether the part is cut through in this half, so that nothing of its outline is hidden."""
        return half.up > 0 or self.bore or not self._lips

    def _side(self, half: Place, *, seen: bool) -> list[str]:
        return [outline_path([piece], half) for piece, shows in seen_from_the_side(self.outline) if shows is seen]

    def _rounds(self, half: Place) -> list[str]:
        """Edges that run round the part: seen across what is not cut open, in a bore and over the air under a lip."""
        outline = self.outline
        if self.bore:
            edges = [*self.corners, outline.start, outline.end]
            lows = [seen_down_to(outline, p) if self._lips else 0.0 for p in edges]
            return [_through(half, Point(p.x, low), p) for p, low in zip(edges, lows, strict=True) if low is not None]
        if half.up < 0:
            return [_through(half, Point(p.x, 0.0), p) for p in self.corners if not hidden_behind(outline, p)]
        return [_through(half, rim.below, rim.edge) for rim in line_of_sight(outline)]


def section_of(part: Part, stock: Stock, end: float) -> Section:
    """The section of a part in its piece."""
    return Section(part.outline, stock, part.surface == "bore", end)


def _through(half: Place, *points: Point) -> str:
    return outline_path([Line(a, b) for a, b in pairwise(points) if a != b], half)
