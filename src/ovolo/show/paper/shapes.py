"""From (z, r) in mm to paper: outlines with true arcs, regions, hatching, tools."""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point, Segment
from ovolo.shop.tools import Tool
from ovolo.show.paper.cuts import polygons
from ovolo.show.paper.svg import XY, closed, number, polyline

__all__ = [
    "HATCH",
    "Place",
    "break_line",
    "common",
    "exact_path",
    "hatching",
    "less",
    "nice_scale",
    "on_paper",
    "outline_path",
    "region_path",
    "scale_text",
    "solid",
    "tool_path",
]

HATCH = 1.9
"""Distance of two lines of hatching, mm on paper."""

SMOOTH = 0.004
"""A border may be off by so much on paper, mm, to keep files small."""

GRID = 1e-4
"""Regions are cut to this on paper, mm."""

_STEPS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)


class Place(NamedTuple):
    """Where z = 0, r = 0 lies on paper, mm, and how many mm of paper a mm of metal is; `up` -1 draws the other half.

    digits: the decimals of what is written; on a page, where a micron of metal can be looked at, more than on paper.
    """

    x0: float
    y0: float
    scale: float
    up: int = 1
    digits: int = 3

    def at(self, z: float, r: float) -> XY:
        """A point of the half-section on paper."""
        return self.x0 + self.scale * z, self.y0 - self.up * self.scale * r

    @property
    def other_half(self) -> "Place":
        """The half below the axis."""
        return self._replace(up=-self.up)


def nice_scale(most: float) -> float:
    """The largest scale of a drawing office that is not over `most`: one of `_STEPS` times a power of 10.

    >>> nice_scale(4.7), nice_scale(0.37), nice_scale(1000)
    (4.0, 0.3, 1000.0)
    """
    power = 10.0 ** math.floor(math.log10(most) + 1e-9)
    step = max(step for step in _STEPS if step * power <= most * (1 + 1e-9))
    return round(step * power, 9)


def scale_text(scale: float) -> str:
    """A scale as a title block has it (ISO 5455).

    >>> scale_text(5.0), scale_text(0.5), scale_text(1.0)
    ('5 : 1', '1 : 2', '1 : 1')
    """
    return f"{scale:.4g} : 1" if scale >= 1 else f"1 : {1 / scale:.3g}"


def on_paper(region: BaseGeometry, place: Place) -> BaseGeometry:
    """A region of (z, r) in mm on paper, as smooth as can be seen."""
    s = place.scale
    moved = affinity.affine_transform(region, [s, 0, 0, -place.up * s, place.x0, place.y0])
    return solid(shapely.simplify(moved, SMOOTH))


def solid(region: BaseGeometry) -> BaseGeometry:
    """Only what has an area: two regions that touch leave lines and points behind, which no other step can take."""
    return shapely.MultiPolygon(polygons(shapely.make_valid(region)))


def common(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """The area that two regions on paper share."""
    return solid(shapely.intersection(one, other, grid_size=GRID))


def less(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """The area of one region on paper without another's."""
    return solid(shapely.difference(one, other, grid_size=GRID))


def region_path(region: BaseGeometry, digits: int = 3) -> str:
    """The `d` of a region on paper, holes included; empty for hairs."""
    rings = [ring for part in polygons(region) for ring in (part.exterior, *part.interiors)]
    return "".join(closed(list(ring.coords)[:-1], digits) for ring in rings)


def exact_path(region: BaseGeometry, place: Place, keep: float = 0.0) -> str:
    """The `d` of a region of (z, r); every point of it, or thinned where that moves its border by less than `keep`."""
    s = place.scale
    thin = shapely.simplify(region, keep) if keep else region
    return region_path(affinity.affine_transform(thin, [s, 0, 0, -place.up * s, place.x0, place.y0]), place.digits)


def hatching(region: BaseGeometry, pitch: float = HATCH, angle: float = 45.0) -> str:
    """The `d` of lines that fill a region on paper, rising to the right at `angle` degrees.

    Lines of neighbouring regions meet: they are counted from the paper's corner.
    """
    flat = affinity.rotate(solid(region), angle, origin=(0, 0))
    if flat.is_empty:
        return ""
    left, low, right, high = flat.bounds
    rows = [k * pitch for k in range(math.ceil(low / pitch), math.floor(high / pitch) + 1)]
    lines = shapely.MultiLineString([[(left - 1, y), (right + 1, y)] for y in rows])
    # On a grid: a sliver that turning has folded over would let whole lines through.
    cut = shapely.intersection(lines, solid(flat), grid_size=GRID)
    pieces = [piece for piece in shapely.get_parts(cut) if piece.geom_type == "LineString" and piece.length > 0.05]
    back = (affinity.rotate(piece, -angle, origin=(0, 0)) for piece in pieces)
    return "".join(polyline([(x, y) for x, y in piece.coords]) for piece in back)


def break_line(top: XY, low: XY) -> str:
    """The `d` of a freehand line where something is broken off (ISO 128-2, continuous narrow freehand)."""
    (x, y0), y1 = top, low[1]
    n = max(2, 2 * round((y1 - y0) / 14))
    step = (y1 - y0) / n
    steps = [f"q{1.1 if k % 2 else -1.1:g} {step / 2:.3f} 0 {step:.3f}" for k in range(n)]
    return f"M{x:.3f} {y0:.3f}" + "".join(steps)


def outline_path(outline: Outline | Iterable[Segment], place: Place) -> str:
    """The `d` of an outline with its arcs as arcs."""
    segments = outline.segments if isinstance(outline, Outline) else tuple(outline)
    steps = ["M" + _xy(place, segments[0].start)] if segments else []
    return "".join(steps + [_step(segment, place) for segment in segments])


def _xy(place: Place, point: Point) -> str:
    x, y = place.at(*point)
    return f"{number(x, place.digits)} {number(y, place.digits)}"


def _step(segment: Segment, place: Place) -> str:
    if isinstance(segment, Line):
        return "L" + _xy(place, segment.end)
    radius = number(segment.radius * place.scale, place.digits)
    large, sweep = int(abs(segment.sweep) > math.pi), int(segment.ccw != (place.up > 0))
    return f"A{radius} {radius} 0 {large} {sweep} {_xy(place, segment.end)}"


def tool_path(tool: Tool, nose: Point, place: Place, length: float, *, bore: bool) -> str:
    """The `d` of a tool's cutting outline with its nose centre at `nose`: edge, nose, edge; open at the shank.

    length: how far the edges are drawn, mm of metal.
    """
    side = -1 if bore else 1
    if tool.outline is not None:
        return _form_path(tool.outline, nose, place, length, side)
    lead, trail = tool.edge.directions
    r, apart, (z, y) = tool.nose_radius, tool.edge.noses[-1], nose

    def at(dz: float, dr: float) -> str:
        return _xy(place, Point(z + dz, y + side * dr))

    def far(touch: tuple[float, float], angle: float) -> tuple[float, float]:
        return touch[0] + length * math.cos(angle), touch[1] + length * math.sin(angle)

    left = (-r * math.sin(lead), r * math.cos(lead))
    right = (apart + r * math.sin(trail), -r * math.cos(trail))
    sweep = 0 if side * place.up > 0 else 1
    bend = f"A{number(r * place.scale)} {number(r * place.scale)} 0 0 {sweep} "
    flat = f"{at(0, -r)}L{at(apart, -r)}{bend}" if apart else ""
    return f"M{at(*far(left, lead))}L{at(*left)}{bend}{flat}{at(*right)}L{at(*far(right, trail))}"


def _form_path(outline: Sequence[Segment], nose: Point, place: Place, length: float, side: int) -> str:
    """The same for a form tool: its outline between two flanks square to the axis."""

    def at(p: Point, up: float = 0.0) -> str:
        return _xy(place, Point(nose.x + p.x, nose.y + side * (p.y + up)))

    sweep = 0 if side * place.up > 0 else 1
    first, last = outline[0].start, outline[-1].end
    pieces = [f"M{at(first, length)}L{at(first)}"]
    for segment in outline:
        radius = "" if isinstance(segment, Line) else number(segment.radius * place.scale)
        pieces.append(f"A{radius} {radius} 0 0 {sweep} {at(segment.end)}" if radius else f"L{at(segment.end)}")
    return "".join([*pieces, f"L{at(last, length)}"])
