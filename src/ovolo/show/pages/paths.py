"""Shapes as the `d` of an SVG path, in mm with z to the right and r upward, fine enough to look at a micron."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.outline import Outline
from ovolo.geometry.overhang import doubles_back, line_of_sight, seen_from_the_side
from ovolo.geometry.segments import Arc, Point, Segment
from ovolo.shop.shop import Stock
from ovolo.show.paper.cuts import polygons

__all__ = [
    "at",
    "below_the_axis",
    "blank_path",
    "face_paths",
    "outline_path",
    "points_path",
    "region_path",
    "rims_path",
    "segments_path",
    "side_paths",
]


def at(value: float) -> str:
    """A coordinate to 10 nm, without idle zeros.

    >>> at(-12.34), at(-0.0), at(3.0)
    ('-12.34', '0', '3')
    """
    return f"{value:z.5f}".rstrip("0").rstrip(".")


def _xy(x: float, y: float) -> str:
    return f"{at(x)} {at(-y)}"


def points_path(points: Iterable[Sequence[float]], *, close: bool = False) -> str:
    """Straight lines through points (z, r).

    >>> points_path([(0, 0), (-9, 9)])
    'M0 0L-9 -9'
    """
    return "M" + "L".join(_xy(p[0], p[1]) for p in points) + ("Z" if close else "")


def region_path(region: BaseGeometry, keep: float = 2e-5) -> str:
    """A region, thinned where that moves its border by less than `keep` mm."""
    parts = []
    for piece in polygons(shapely.simplify(region, keep)):
        parts += [
            points_path(shapely.get_coordinates(ring)[:-1], close=True) for ring in (piece.exterior, *piece.interiors)
        ]
    return "".join(parts)


def below_the_axis(region: BaseGeometry) -> BaseGeometry:
    """A region's image in the half below the axis."""
    return shapely.transform(region, lambda points: points * np.array([1.0, -1.0]))


def blank_path(stock: Stock, back: float, *, bore: bool) -> str:
    """The piece as it was, from its bar behind z = `back` on, in both halves; a hole already shaped as well.

    >>> blank_path(Stock(radius=10.0, proud=0.5), 0.0, bore=False)
    'M-300 -10L0.5 -10L0.5 10L-300 10'
    """
    behind, front = back - _FAR_BEHIND, stock.front
    shaped = [] if stock.outline is None else [(p.x, p.y) for p in stock.outline.flattened(_CHORD)][::-1]
    level = stock.hole / 2 if bore else stock.radius
    line = [(behind, level), *([(back, level)] if shaped and shaped[0][0] > back else []), *shaped]
    if bore or not shaped:
        outside = points_path(
            [(behind, stock.radius), (front, stock.radius), (front, -stock.radius), (behind, -stock.radius)]
        )
        return outside + ("".join(points_path([(z, side * r) for z, r in line]) for side in (1, -1)) if shaped else "")
    return points_path([*line, *((z, -r) for z, r in reversed(line))])


_FAR_BEHIND = 300.0
_CHORD = 1e-3
"""How far the bar behind is drawn, and the chordal error of a piece already shaped, mm."""


def face_paths(start: Point, outer: float) -> str:
    """The end face of a hollow piece, from its mouth at `start` to its outside, in both halves.

    >>> face_paths(Point(0.0, 9.0), 20.0)
    'M0 -9L0 -20M0 9L0 20'
    """
    return "".join(points_path([(start.x, side * start.y), (start.x, side * outer)]) for side in (1, -1))


def segments_path(segments: Sequence[Segment]) -> str:
    """Segments that join end to end, arcs as arcs."""
    parts = [f"M{_xy(*segments[0].start)}"]
    for segment in segments:
        parts.append(_arc(segment) if isinstance(segment, Arc) else f"L{_xy(*segment.end)}")
    return "".join(parts)


def _arc(arc: Arc) -> str:
    large, radius = int(abs(arc.sweep) > math.pi), at(arc.radius)
    # Seen with y downward, counter-clockwise in (z, r) stays counter-clockwise to the eye: sweep flag 0.
    return f"A{radius} {radius} 0 {large} {int(not arc.ccw)} {_xy(*arc.end)}"


def outline_path(outline: Outline, *, mirrored: bool = False) -> str:
    """An outline, or its image on the other side of the axis."""
    return segments_path((outline.mirrored() if mirrored else outline).segments)


def side_paths(outline: Outline, *, bore: bool) -> tuple[str, str]:
    """The half that is not cut open: what is seen of it, and what a lip hides (nothing in a bore, that is cut open)."""
    if bore or not doubles_back(outline):
        return outline_path(outline, mirrored=True), ""
    pieces = [(piece.mirrored(), seen) for piece, seen in seen_from_the_side(outline)]
    seen, hidden = ("".join(segments_path([p]) for p, shows in pieces if shows is want) for want in (True, False))
    return seen, hidden


def rims_path(outline: Outline, *, bore: bool) -> str:
    """The rims of overhangs: seen beyond the plane in which the part is cut, and across the other half."""
    rims = line_of_sight(outline) if not bore else ()
    return "".join(
        points_path([rim.below, rim.edge]) + points_path([(rim.edge.x, -rim.edge.y), (rim.edge.x, 0.0)]) for rim in rims
    )
