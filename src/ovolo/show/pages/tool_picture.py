"""A tool drawn to scale, its numbers explained on the drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

import numpy as np
import shapely

from ovolo.geometry.segments import Point, Segment
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.shop.lathe import Lathe
from ovolo.shop.tools import Tool
from ovolo.show.drawing.holding import carriers, standing_out
from ovolo.show.pages.paths import at, points_path
from ovolo.show.paper.cuts import Region
from ovolo.units import DEGREE, Unit, format_length

__all__ = ["tool_picture"]

WIDE, TALL = 240.0, 170.0
"""Size of the picture, in units of about a pixel."""

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
    cx, cy = WIDE * middle - tool.flat / 2 * scale, 132.0 - radius * scale
    far = 2 * reach if tool.kind == "form" or bodies else reach  # of a form tool no place is the middle
    box = shapely.box(-far, -2 * radius, far, far)
    cut = shapely.intersection(standing_out(shapely.Polygon(tool_shape(tool)), bodies, bore=False), box)
    shape = _shape(cut, scale, cx, cy)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="tool-picture" role="img" viewBox="0 0 {at(WIDE)} {at(TALL)}">',
        f"<title>{escape(_says(tool, unit))}</title>",
        f'<path class="tool-fill" d="{shape}"/><path class="tool" d="{shape}"/>',
        *_held(bodies, scale, cx, cy),
        *(_nose(tool, unit, scale, cx, cy) if tool.kind != "form" else []),
        *(_blade(tool, unit, scale, cx, _below(bodies, scale, cy)) if tool.kind in ("grooving", "form") else []),
        *(_points(tool.outline, scale, cx, cy) if tool.outline is not None else []),
        *(_angles(tool, scale, cx, cy) if tool.kind == "pointed" else []),
        "</svg>",
    ]
    return "\n".join(parts)


def _shape(region: Region, scale: float, cx: float, cy: float) -> str:
    """The `d` of a region without holes, from mm about the nose centre."""
    ring = shapely.get_coordinates(region)[:-1] * np.array([scale, scale]) + np.array([cx, -cy])
    return points_path([(float(x), float(y)) for x, y in ring], close=True)


def _held(bodies: Sequence[Region], scale: float, cx: float, cy: float) -> list[str]:
    """Shank and boring bar, thin, as far as the picture goes."""
    far = 2 * WIDE / scale
    shapes = [_shape(shapely.clip_by_rect(body, -far, -far, far, far), scale, cx, cy) for body in bodies]
    return [f'<path class="{cls}" d="{d}"/>' for d in shapes for cls in ("tool-fill", "tool-thin")]


def _seen(tool: Tool, bodies: Sequence[Region]) -> float:
    """How much of the tool is shown, mm: with the beginning of what carries it."""
    held = max((body.bounds[1] + tool.nose_radius for body in bodies), default=0.0)
    if tool.kind == "pointed":
        return max(3.2 * tool.nose_radius, _PAST * held if bodies else min(6.0, 20 * tool.nose_radius))
    return max((1.6 if tool.kind == "form" else 3.6) * tool.nose_radius, 1.4 * _width(tool), _PAST * held)


def _points(outline: Sequence[Segment], scale: float, cx: float, cy: float) -> list[str]:
    """The points of a form tool's outline, numbered as they are told; where they crowd, some go without a number."""
    joints = [outline[0].start, *(segment.end for segment in outline)]
    marks = [(cx + p.x * scale, cy - p.y * scale) for p in joints]
    parts = [f'<circle class="point" cx="{at(x)}" cy="{at(y)}" r="2.5"/>' for x, y in marks]
    written: list[tuple[float, float]] = []
    for n, (x, y) in enumerate(marks, 1):
        spot = x + (-9 if n == 1 else 9 if n == len(marks) else 0), y + (4 if n in (1, len(marks)) else 17)
        if all(math.dist(spot, other) > 12 for other in written) and spot[1] < TALL - 2:
            written.append(spot)
            parts.append(f'<text class="faint" x="{at(spot[0])}" y="{at(spot[1])}" text-anchor="middle">{n}</text>')
    return parts


def _width(tool: Tool) -> float:
    return tool.width if tool.width is not None else 2 * tool.nose_radius


def _below(bodies: Sequence[Region], scale: float, cy: float) -> float:
    """How far down the picture its width is written: below what carries it."""
    return max((cy - body.bounds[1] * scale + 26.0 for body in bodies), default=62.0)


def _blade(tool: Tool, unit: Unit, scale: float, cx: float, y: float) -> list[str]:
    """The width over both corners, as a dimension above the middle of the blade."""
    left, right = cx - tool.nose_radius * scale, cx + (tool.flat + tool.nose_radius) * scale
    words, top = _bare(_width(tool), unit), at(y - 5)
    return [
        f'<path class="thin" d="M{at(left)} {at(y)}H{at(right)}M{at(left)} {top}v10M{at(right)} {top}v10"/>',
        f'<text x="{at((left + right) / 2)}" y="{at(y - 10)}" text-anchor="middle">{words}</text>',
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


def _nose(tool: Tool, unit: Unit, scale: float, cx: float, cy: float) -> list[str]:
    """The radius, as a leader from the centre through the nose to its figure below."""
    angle = math.radians(-64 if tool.kind == "round" or (tool.kind == "pointed" and tool.hand == "right") else -116)
    radius = tool.nose_radius * scale
    tip = cx + radius * math.cos(angle), cy - radius * math.sin(angle)
    figure = _bare(tool.nose_radius, unit)
    anchor, side = ("start", 1) if math.cos(angle) > 0 else ("end", -1)
    out = tip[0] + side * 16, min(tip[1] + 22, TALL - 8)
    return [
        f'<path class="thin" d="M{at(cx)} {at(cy)}L{at(tip[0])} {at(tip[1])}L{at(out[0])} {at(out[1])}h{side * 6}"/>',
        f'<path class="thin" d="M{at(cx - 4)} {at(cy)}h8M{at(cx)} {at(cy - 4)}v8"/>',
        f'<text x="{at(out[0] + side * 9)}" y="{at(out[1] + 4)}" text-anchor="{anchor}">R {figure}</text>',
    ]


def _angles(tool: Tool, scale: float, cx: float, cy: float) -> list[str]:
    """The included angle between the edges, and the cutting edge angle from the direction of feed."""
    lead, trail = tool.edges
    point, edge = (round(a / DEGREE, 1) for a in (tool.point_angle, tool.edge_angle))
    parts = [_arc(cx, cy, 62.0, trail, lead), _label(cx, cy, 74.0, (lead + trail) / 2, f"{point:g}°")]
    right = tool.hand == "right"
    near, flat = (lead, math.pi) if right else (trail, 0.0)
    parts.append(f'<path class="axis" d="M{at(cx)} {at(cy)}h{-74 if right else 74}"/>')
    parts.append(_arc(cx, cy, 40.0, min(near, flat), max(near, flat)))
    parts.append(_label(cx, cy, 60.0, (near + flat) / 2, f"{edge:g}°"))
    return parts


def _arc(cx: float, cy: float, radius: float, low: float, high: float) -> str:
    a = cx + radius * math.cos(low), cy - radius * math.sin(low)
    b = cx + radius * math.cos(high), cy - radius * math.sin(high)
    return f'<path class="thin" d="M{at(a[0])} {at(a[1])}A{at(radius)} {at(radius)} 0 0 0 {at(b[0])} {at(b[1])}"/>'


def _label(cx: float, cy: float, radius: float, angle: float, words: str) -> str:
    x, y = cx + radius * math.cos(angle), cy - radius * math.sin(angle)
    return f'<text x="{at(x)}" y="{at(y + 4)}" text-anchor="middle">{escape(words)}</text>'
