"""What holds the work and what carries the nose: the tailstock's centre, the shank of a tool, its boring bar.

They are drawn thin beside the edges of the part, and are not hatched where the part is cut open, as shafts and bolts
are not.
"""

import math

import numpy as np
import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.sweep.sweep import body_shapes
from ovolo.plan.view.centre import SLOPE
from ovolo.shop.lathe import Lathe
from ovolo.shop.tools import Tool
from ovolo.show.paper.cuts import Piece, Region
from ovolo.show.paper.layout import Layout, box_of
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.shapes import Place, break_line, on_paper, region_path
from ovolo.show.paper.svg import clip, group, path, polyline, rect, text, text_box

__all__ = [
    "BODY",
    "before_carriers",
    "carriers",
    "centre_end",
    "centre_points",
    "draw_carriers",
    "draw_centre",
    "standing_out",
]

BODY = 7.0
"""So much of the centre's body is drawn behind its point, mm of paper."""

_AXIS = 0.2
"""Fillings stay so far from the axis, mm of paper: its line lies free."""

_SIZE = 3.8


def centre_points(cuts: Piece, end: float) -> list[tuple[float, float]]:
    """The upper half of the tailstock's centre from the tip of its point to z = `end`, (z, r) in mm; [] where the job
    has none or doesn't say how large it is."""
    centre = cuts.frame.centre
    if centre is None:
        return []
    tip = centre.front - centre.hole / SLOPE
    shoulder = tip + centre.body / SLOPE
    if end <= centre.front:
        return []
    if end <= shoulder:
        return [(tip, 0.0), (end, (end - tip) * SLOPE)]
    return [(tip, 0.0), (shoulder, centre.body), (end, centre.body)]


def centre_end(cuts: Piece, place: Place, most: float) -> float:
    """How far along z the centre is drawn: its point and some of its body, but not past `most` on paper; -inf without
    one."""
    centre = cuts.frame.centre
    if centre is None:
        return -math.inf
    whole = centre.front + (centre.body - centre.hole) / SLOPE + BODY / place.scale
    return min(whole, (most - place.x0) / place.scale)


def draw_centre(cuts: Piece, place: Place, most: float, layout: Layout | None = None) -> list[str]:
    """The centre over the cut half, as far as `most` on paper, broken off behind; named where the name has room."""
    points = centre_points(cuts, centre_end(cuts, place, most))
    if not points:
        return []
    end, top = points[-1]
    region = on_paper(shapely.Polygon([*points, (end, 0.0)]), place)
    x0, y0, x1, y1 = region.bounds
    free = shapely.intersection(region, shapely.box(x0, y0, x1, y1 - _AXIS))
    pieces = [
        path(region_path(free), "ground"),
        path(polyline([place.at(*point) for point in points]), "thin"),
        path(break_line(place.at(end, top), place.at(end, 0.0)), "thin"),
        *_name(region, layout),
    ]
    if layout is not None:
        layout.add_region(region)
    return [group(pieces, label="The tailstock's centre")]


def _name(region: Region, layout: Layout | None) -> list[str]:
    _, y0, x1, y1 = region.bounds
    for words in ("tailstock's centre", "centre") if layout is not None else ():
        at = (x1 - 2.5 - breadth(words, _SIZE), y0 + 0.42 * (y1 - y0))
        room = box_of(text_box(at, words, _SIZE, "start"))
        if layout is not None and region.contains(room.buffer(1.0)):
            layout.add_words(room)
            return [text(at, words, _SIZE)]
    return []


def carriers(tool: Tool, lathe: Lathe, nose: Point, *, bore: bool) -> list[Region]:
    """The shank and the boring bar of a tool with its nose centre at `nose`, (z, r) in mm, as far as the job tells of
    them; in a bore they lie toward the axis.

    A boring bar ends at the holder, where its overhang is told, and is as thick as its diameter.
    """
    cutter, turn = lathe.cutter(tool.name), np.array([1.0, -1.0 if bore else 1.0])
    bodies: list[Region] = []
    for shape in body_shapes(tool):
        left, low, right, high = shapely.MultiPoint(shape).bounds
        if tool.stands_out is not None and left == 0.0:
            right = right if cutter.overhang is None else cutter.overhang
            high = high if cutter.bar_diameter is None else low + cutter.bar_diameter
        corners = np.array(shapely.box(left, low, right, high).exterior.coords)
        bodies.append(shapely.Polygon(corners * turn + np.asarray(nose)))
    return bodies


def before_carriers(
    pieces: list[str],
    bodies: list[Region],
    place: Place,
    window: tuple[float, float, float, float],
    key: str,
    *,
    bore: bool,
) -> list[str]:
    """Pieces of the cutting outline as far as it stands out of shank or boring bar; all of it where there is neither.

    bodies: where they stand, (z, r). window: left, top, width and height of what is drawn; key: a word that no other
    clip on the page has.
    """
    if not bodies:
        return pieces
    left, top, width, height = window
    level = max(body.bounds[3] for body in bodies) if bore else min(body.bounds[1] for body in bodies)
    y = place.at(0.0, level)[1]
    shown = (
        rect(left, top, width, max(y - top, 0.0), "") if bore else rect(left, y, width, max(top + height - y, 0.0), "")
    )
    return [clip(key, shown), group(pieces, clip_to=key)]


def standing_out(shape: Region, bodies: list[Region], *, bore: bool) -> Region:
    """A tool's cutting outline as far as it stands out of shank or boring bar; all of it where there is neither."""
    if not bodies:
        return shape
    low, high = min(body.bounds[1] for body in bodies), max(body.bounds[3] for body in bodies)
    return shapely.clip_by_rect(shape, -1e3, high if bore else -1e3, 1e3, 1e3 if bore else low)


def draw_carriers(bodies: list[Region], place: Place) -> list[str]:
    """Shank and boring bar where they stand, as thin outlines over the edges that run on behind them."""
    shapes = [region_path(on_paper(body, place)) for body in bodies]
    return [path(d, cls) for d in shapes for cls in ("ground", "tool-fill", "tool-thin")]
