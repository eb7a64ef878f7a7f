"""The half-section of a plan as one SVG that a page can walk through: each cut is a shape of its own, under its move's
number, so that the metal can be seen to go.

Coordinates are mm, z to the right and r upward; the free end is on the right. Lines keep their weight at every scale
(the page says so for the class `scene`).
"""

from __future__ import annotations

from html import escape
from itertools import pairwise

import shapely

from ovolo.geometry.overhang import doubles_back, hidden_behind, seen_down_to
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.predict.forecast.settings import settings_of
from ovolo.show.drawing.holding import carriers, centre_points, standing_out
from ovolo.show.pages.paths import (
    at,
    below_the_axis,
    blank_path,
    face_paths,
    outline_path,
    points_path,
    region_path,
    rims_path,
    side_paths,
)
from ovolo.show.paper.cuts import Cuts, polygons

__all__ = ["Box", "box_of", "feet", "scene"]

Box = tuple[float, float, float, float]
"""Left, top, width and height of what is looked at, SVG way round, mm."""

BEHIND = 0.35
"""How much of the bar behind the part is shown, as a share of the part's length."""


def scene(cuts: Cuts) -> str:
    """The drawing of a plan: metal left, cuts, ridges, outline, blank, axis, settings and tools, in that order."""
    job = cuts.plan.job
    left, top, width, height = box_of(cuts.plan)
    title = f"Half-section of {job.title}"
    says = (
        f"The free end is on the right, the chuck on the left. {len(cuts.plan.moves)} moves take the metal away; "
        f"{cuts.plan.stations} settings form the curve."
    )
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="scene" role="img" '
        f'viewBox="{at(left)} {at(top)} {at(width)} {at(height)}">',
        f"<title>{escape(title)}</title><desc>{escape(says)}</desc>{_PATTERNS}",
        *_metal(cuts),
        *_chips(cuts),
        *_lines(cuts),
        *_centre(cuts),
        _axis(cuts.plan),
        *_settings(cuts.plan),
        *_tools(cuts),
        "</svg>",
    ]
    return "\n".join(part for part in parts if part)


_PATTERNS = (
    '<defs><pattern id="metal" width="1" height="1" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<line class="hatch" x1="0.5" y1="0" x2="0.5" y2="1"/></pattern>'
    '<pattern id="to-go" width="1" height="1" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">'
    '<rect class="to-go" width="1" height="1"/><line class="to-go-hatch" x1="0.5" y1="0" x2="0.5" y2="1"/>'
    "</pattern></defs>"
)


def box_of(plan: Plan) -> Box:
    """What to look at to see the whole part, its blank, and the tool at work."""
    outline, stock = plan.job.part.outline, plan.job.shop.stock
    nose = max(tool.nose_radius for tool in plan.tools)
    x0, _, x1, y1 = outline.bounds()
    top, front = max(y1, stock.widest), max(x1, stock.front)
    behind = max(3.0, min(BEHIND * (x1 - x0), 12.0))
    places = [place for move in plan.moves for place in (move.start, move.end)]
    most = front + 4 * nose + 0.1 * (front - x0)
    right = min(max(p.x for p in places) + 1.2 * nose, most) if places else most
    above = top + max(1.6 * nose, 0.2 * top)
    left = x0 - behind
    return left, -above, right - left, above + 1.12 * top


def _metal(cuts: Cuts) -> list[str]:
    plan = cuts.plan
    x0, top = plan.job.part.outline.end.x, plan.job.shop.stock
    behind = box_of(plan)[0] - 40.0
    bar = shapely.box(behind, top.hole / 2 if cuts.bore else 0.0, x0, top.radius)
    high, low = plan.job.part.curve
    above = shapely.intersection(cuts.to_go(cuts.left), shapely.box(low, -1e3, high + 2 * plan.job.part.ridge, 1e3))
    ridges = region_path(above, 5e-6)
    below = region_path(below_the_axis(shapely.union(cuts.part, bar))) if cuts.bore else ""
    return [
        f'<path class="metal" d="{region_path(shapely.union(cuts.left, bar))}"/>',
        f'<path class="metal" d="{below}"/>' if below else "",  # a hole is cut open in both halves
        f'<path class="ridges" d="{ridges}"/>' if ridges else "",
    ]


def _chips(cuts: Cuts) -> list[str]:
    """Each cut, the last one lowest, so that what is cut first lies on top."""
    shapes = [
        f'<path class="chip {move.stage}" data-n="{move.n}" d="{region_path(chip, 2e-4)}"/>'
        for move, chip in zip(cuts.plan.moves, cuts.chips, strict=True)
        if polygons(chip)
    ]
    return ['<g class="chips">', *shapes, "</g>", '<path class="swept" d=""/>']


def _lines(cuts: Cuts) -> list[str]:
    plan = cuts.plan
    outline, stock = plan.job.part.outline, plan.job.shop.stock
    ends = "".join(_across(cuts, p) for p in _corners(plan))
    seen, hidden = side_paths(outline, bore=cuts.bore)
    rims = rims_path(outline, bore=cuts.bore)
    return [
        f'<path class="stock" d="{blank_path(stock, outline.end.x, bore=cuts.bore)}"/>',
        f'<path class="thin" d="{ends}"/>' if ends else "",
        f'<path class="edge" d="{outline_path(outline)}"/>',
        f'<path class="edge" d="{seen}"/>',
        f'<path class="edge" d="{face_paths(outline.start, stock.radius)}"/>' if cuts.bore else "",
        f'<path class="unseen" d="{hidden}"/>' if hidden else "",
        f'<path class="thin" d="{rims}"/>' if rims else "",
    ]


def _axis(plan: Plan) -> str:
    left, _, width, _ = box_of(plan)
    return f'<path class="axis" d="{points_path([(left - 300, 0), (left + width + 300, 0)])}"/>'


def _across(cuts: Cuts, p: Point) -> str:
    """The line of one such edge, as far as nothing stands before it."""
    outline = cuts.plan.job.part.outline
    if not cuts.bore:
        return "" if hidden_behind(outline, p) else points_path([(p.x, -p.y), (p.x, 0.0)])
    low = seen_down_to(outline, p) if doubles_back(outline) else 0.0
    if low is None:
        return ""
    return "".join(points_path([(p.x, side * low), (p.x, side * p.y)]) for side in (-1, 1))


def _corners(plan: Plan) -> list[Point]:
    """Where an edge runs round the part: it shows as a line across the half that is not cut open."""
    segments = plan.job.part.outline.segments
    first, found = segments[0].start, []
    for a, b in pairwise(segments):
        one, other = a.tangent(a.length), b.tangent(0.0)
        if abs(one.x * other.y - one.y * other.x) > 0.02:
            found.append(a.end)
    ends = [first, *found, segments[-1].end] if first.y > 1e-9 else [*found, segments[-1].end]
    return [Point(p.x, p.y) for p in ends]


def _centre(cuts: Cuts) -> list[str]:
    """The tailstock's centre over the half that is cut open, with some of its body."""
    centre = cuts.frame.centre
    points = [] if centre is None else centre_points(cuts, centre.front + 2.5 * centre.body)
    if not points:
        return []
    d = points_path([*points, (points[-1][0], 0.0)])
    return [
        '<g class="centre"><title>The tailstock\'s centre</title>'
        f'<path class="ground" d="{d}"/><path class="thin" d="{d}"/></g>'
    ]


def feet(plan: Plan) -> list[tuple[int, float, float]]:
    """Each setting's number and where its nose touches the outline (z, r), mm."""
    numbers = {move.n: move.station for move in plan.moves if move.station is not None}
    sign = 1 if plan.job.part.surface == "outside" else -1
    return [(numbers[s.move], s.foot.x, sign * s.foot.y) for s in settings_of(plan) if s.move in numbers]


def _settings(plan: Plan) -> list[str]:
    marks = "".join(
        f'<g class="setting" data-setting="{n}"><path class="mark-outer" d="M{at(z)} {at(-r)}h0"/>'
        f'<path class="mark-inner" d="M{at(z)} {at(-r)}h0"/></g>'
        for n, z, r in feet(plan)
    )
    return [f'<g class="settings">{marks}</g>']


def _tools(cuts: Cuts) -> list[str]:
    """Each tool about its nose centre; the page puts it where it stands."""
    shapes = []
    for i, tool in enumerate(cuts.plan.tools):
        bodies = carriers(tool, cuts.plan.job.shop.lathe, Point(0.0, 0.0), bore=cuts.bore)
        d = region_path(standing_out(shapely.Polygon(cuts.shapes[tool.name]), bodies, bore=cuts.bore), 0.0)
        bodily = [region_path(body) for body in bodies]
        held = "".join(f'<path class="{cls}" d="{path}"/>' for path in bodily for cls in ("tool-fill", "tool-thin"))
        cross = at(min(0.4 * tool.nose_radius, 1.5))
        centre = f'<path class="tool-thin" d="M-{cross} 0H{cross}M0 -{cross}V{cross}"/>' if tool.outline is None else ""
        shapes.append(
            f'<g class="tool-at" data-tool="{i}" hidden="">'
            f'<path class="tool-fill" d="{d}"/><path class="tool" d="{d}"/>'
            f"{held}{centre}</g>"
        )
    return shapes
