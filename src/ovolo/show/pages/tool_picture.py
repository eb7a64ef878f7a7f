"""A tool drawn to scale, its numbers explained on the drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from ovolo.geometry.segments import Arc, Point, Segment
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.shop.lathe import Lathe
from ovolo.shop.tools import Tool
from ovolo.show.drawing.holding import carriers, standing_out
from ovolo.show.paper.cuts import Region
from ovolo.show.paper.shapes import Place, exact_path, outline_path
from ovolo.show.paper.svg import XY, Anchor, circle, line, path, polyline, scene, text
from ovolo.units import DEGREE, Unit, format_length

__all__ = ["tool_picture"]

WIDE, TALL = 240.0, 170.0
"""Size of the picture, in units of about a pixel."""

SIZE = 14.0
"""Type."""

_PAST = 1.35
"""So much of a tool is shown for all that stands out of its shank or bar."""


def tool_picture(tool: Tool, unit: Unit, lathe: Lathe | None = None) -> str:
    """The tool as it stands at the work, the chuck on the left: its outline, nose radius and angles as SVG.

    lathe: tells how thick the tool's boring bar is and where it ends.
    """
    bodies = carriers(tool, lathe or Lathe(), Point(0.0, 0.0), bore=False)
    radius = tool.nose_radius
    reach = _seen(tool, bodies)
    scale = 118.0 / reach
    middle = 0.36 if tool.kind == "pointed" and tool.hand == "right" else 0.64 if tool.kind == "pointed" else 0.5
    cx, cy = WIDE * middle - (tool.edge.toward_end - radius) / 2 * scale, 132.0 - radius * scale
    far = 2 * reach if tool.kind == "form" or bodies else reach  # of a form tool no place is the middle
    box = shapely.box(-far, -2 * radius, far, far)
    cut = shapely.intersection(standing_out(shapely.Polygon(tool_shape(tool)), bodies, bore=False), box)
    place = Place(cx, cy, scale)
    shape = exact_path(cut, place)
    body = [
        path(shape, "tool-fill"),
        path(shape, "tool"),
        *_held(bodies, place),
        *(_nose(tool, unit, place) if tool.kind != "form" else []),
        *(_blade(tool, unit, place, _below(bodies, place)) if tool.kind in ("grooving", "form") else []),
        *(_points(tool.outline, place) if tool.outline is not None else []),
        *(_angles(tool, place) if tool.kind == "pointed" else []),
    ]
    return scene((0, 0, WIDE, TALL), "tool-picture", _says(tool, unit), body)


def _held(bodies: Sequence[Region], place: Place) -> list[str]:
    """Shank and boring bar, thin, as far as the picture goes."""
    far = 2 * WIDE / place.scale
    shapes = [exact_path(shapely.clip_by_rect(body, -far, -far, far, far), place) for body in bodies]
    return [path(d, cls) for d in shapes for cls in ("tool-fill", "tool-thin")]


def _seen(tool: Tool, bodies: Sequence[Region]) -> float:
    """How much of the tool is shown, mm: with the beginning of what carries it."""
    held = max((body.bounds[1] + tool.nose_radius for body in bodies), default=0.0)
    if tool.kind == "pointed":
        return max(3.2 * tool.nose_radius, _PAST * held if bodies else min(6.0, 20 * tool.nose_radius))
    return max((1.6 if tool.kind == "form" else 3.6) * tool.nose_radius, 1.4 * _width(tool), _PAST * held)


def _points(outline: Sequence[Segment], place: Place) -> list[str]:
    """The points of a form tool's outline, numbered as they are told; where they crowd, some go without a number."""
    joints = [outline[0].start, *(segment.end for segment in outline)]
    marks = [place.at(*p) for p in joints]
    parts = [circle(mark, 2.5, "point") for mark in marks]
    written: list[XY] = []
    for n, (x, y) in enumerate(marks, 1):
        spot = x + (-9 if n == 1 else 9 if n == len(marks) else 0), y + (0 if n in (1, len(marks)) else 13)
        if all(math.dist(spot, other) > 12 for other in written) and spot[1] < TALL - 6:
            written.append(spot)
            parts.append(text(spot, str(n), SIZE, cls="faint", anchor="middle"))
    return parts


def _width(tool: Tool) -> float:
    return tool.width if tool.width is not None else 2 * tool.nose_radius


def _below(bodies: Sequence[Region], place: Place) -> float:
    """How far down the picture its width is written: below what carries it."""
    return max((place.at(0, body.bounds[1])[1] + 26.0 for body in bodies), default=62.0)


def _blade(tool: Tool, unit: Unit, place: Place, y: float) -> list[str]:
    """The width over both corners, as a dimension above the middle of the blade."""
    ends = [place.at(z, 0)[0] for z in (-tool.nose_radius, tool.edge.toward_end)]
    return [
        line((ends[0], y), (ends[1], y), "thin"),
        *(line((x, y - 5), (x, y + 5), "thin") for x in ends),
        text((sum(ends) / 2, y - 14), _bare(_width(tool), unit), SIZE, anchor="middle"),
    ]


def _bare(mm: float, unit: Unit) -> str:
    return format_length(mm, unit, 2 if unit == "mm" else 4).split()[0].rstrip("0").rstrip(".")


def _says(tool: Tool, unit: Unit) -> str:
    nose = format_length(tool.nose_radius, unit, 2 if unit == "mm" else 4)
    if tool.kind == "grooving":
        return f"{tool.name}: a blade {_bare(_width(tool), unit)} wide, its corners rounded with {nose}"
    if tool.kind == "form":
        return f"{tool.name}: a form tool {_bare(_width(tool), unit)} wide, its outline as the job gives it"
    if tool.kind == "round":
        return f"{tool.name}: a full radius of {nose} between two flanks square to the axis"
    edge, point = round(tool.edge_angle / DEGREE, 1), round(tool.point_angle / DEGREE, 1)
    return f"{tool.name}: nose radius {nose}, cutting edge angle {edge:g}°, included angle {point:g}°"


def _nose(tool: Tool, unit: Unit, place: Place) -> list[str]:
    """The radius, as a leader from the centre through the nose to its figure below."""
    angle = math.radians(-64 if tool.kind == "round" or (tool.kind == "pointed" and tool.hand == "right") else -116)
    side: int
    anchor: Anchor
    anchor, side = ("start", 1) if math.cos(angle) > 0 else ("end", -1)
    (cx, cy), tip = place.at(0, 0), place.at(*_around(tool.nose_radius, angle))
    out = tip[0] + side * 16, min(tip[1] + 22, TALL - 8)
    return [
        path(polyline([(cx, cy), tip, out, (out[0] + side * 6, out[1])]), "thin"),
        line((cx - 4, cy), (cx + 4, cy), "thin"),
        line((cx, cy - 4), (cx, cy + 4), "thin"),
        text((out[0] + side * 9, out[1]), f"R {_bare(tool.nose_radius, unit)}", SIZE, anchor=anchor),
    ]


def _angles(tool: Tool, place: Place) -> list[str]:
    """The included angle between the edges, and the cutting edge angle from the direction of feed."""
    lead, trail = tool.edge.directions
    point, edge = (round(a / DEGREE, 1) for a in (tool.point_angle, tool.edge_angle))
    right, (cx, cy) = tool.hand == "right", place.at(0, 0)
    near, flat = (lead, math.pi) if right else (trail, 0.0)
    here = Place(cx, cy, 1.0)
    return [
        _arc(here, 62.0, trail, lead),
        _label(here, 74.0, (lead + trail) / 2, f"{point:g}°"),
        line((cx, cy), (cx + (-74 if right else 74), cy), "axis"),
        _arc(here, 40.0, min(near, flat), max(near, flat)),
        _label(here, 60.0, (near + flat) / 2, f"{edge:g}°"),
    ]


def _around(radius: float, angle: float) -> Point:
    return Point(radius * math.cos(angle), radius * math.sin(angle))


def _arc(here: Place, radius: float, low: float, high: float) -> str:
    ends = _around(radius, low), _around(radius, high)
    return path(outline_path([Arc(*ends, Point(0.0, 0.0), True)], here), "thin")


def _label(here: Place, radius: float, angle: float, words: str) -> str:
    return text(here.at(*_around(radius, angle)), words, SIZE, anchor="middle")
