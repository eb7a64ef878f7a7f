"""The half-section of a plan as one SVG that a page can walk through: each cut is a shape of its own, under its move's
number, so that the metal can be seen to go.

Coordinates are mm, z to the right and r upward; the free end is on the right. Lines keep their weight at every scale
(the page says so for the class `scene`).
"""

from __future__ import annotations

import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.predict.forecast.settings import settings_of
from ovolo.show.drawing.holding import carriers, centre_points, standing_out
from ovolo.show.pages.paths import FAR, METAL, SCENE, TO_GO, axis, fine, section_lines
from ovolo.show.paper import svg
from ovolo.show.paper.cuts import Cuts, polygons
from ovolo.show.paper.section import Section, section_of
from ovolo.show.paper.svg import group, number, path, polyline

__all__ = ["Box", "box_of", "feet", "scene"]

Box = tuple[float, float, float, float]
"""Left, top, width and height of what is looked at, SVG way round, mm."""

BEHIND = 0.35
"""How much of the bar behind the part is shown, as a share of the part's length."""


def scene(cuts: Cuts) -> str:
    """The drawing of a plan: metal left, cuts, ridges, outline, blank, axis, settings and tools, in that order."""
    job = cuts.plan.job
    left, top, width, height = box_of(cuts.plan)
    says = (
        f"The free end is on the right, the chuck on the left. {len(cuts.plan.moves)} moves take the metal away; "
        f"{cuts.plan.stations} settings form the curve."
    )
    section = section_of(job.part, job.shop.stock, left - FAR)
    body = [
        f"<defs>{METAL}{TO_GO}</defs>",
        *_metal(cuts, section),
        *_chips(cuts),
        *section_lines(section),
        *_centre(cuts),
        axis(left, width),
        *_settings(cuts.plan),
        *_tools(cuts),
    ]
    return svg.scene((left, top, width, height), "scene", f"Half-section of {job.title}", body, says)


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


def _metal(cuts: Cuts, section: Section) -> list[str]:
    plan = cuts.plan
    high, low = plan.job.part.curve
    above = shapely.intersection(cuts.to_go(cuts.left), shapely.box(low, -1e3, high + 2 * plan.job.part.ridge, 1e3))
    # A hole is cut open in both halves.
    below = fine(shapely.union(cuts.part, section.bar), SCENE.other_half) if cuts.bore else ""
    shapes = (
        ("metal", fine(shapely.union(cuts.left, section.bar))),
        ("metal", below),
        ("ridges", fine(above, keep=5e-6)),
    )
    return [path(d, cls) for cls, d in shapes if d]


def _chips(cuts: Cuts) -> list[str]:
    """Each cut, the last one lowest, so that what is cut first lies on top."""
    shapes = [
        path(fine(chip, keep=2e-4), f"chip {move.stage}", data_n=str(move.n))
        for move, chip in zip(cuts.plan.moves, cuts.chips, strict=True)
        if polygons(chip)
    ]
    return [group(shapes, "chips"), path("", "swept")]


def _centre(cuts: Cuts) -> list[str]:
    """The tailstock's centre over the half that is cut open, with some of its body."""
    centre = cuts.frame.centre
    points = [] if centre is None else centre_points(cuts, centre.front + 2.5 * centre.body)
    if not points:
        return []
    d = polyline([SCENE.at(z, r) for z, r in (*points, (points[-1][0], 0.0))], SCENE.digits)
    return [group([path(d, "ground"), path(d, "thin")], "centre", label="The tailstock's centre")]


def feet(plan: Plan) -> list[tuple[int, float, float]]:
    """Each setting's number and where its nose touches the outline (z, r), mm."""
    numbers = {move.n: move.station for move in plan.moves if move.station is not None}
    sign = 1 if plan.job.part.surface == "outside" else -1
    return [(numbers[s.move], s.foot.x, sign * s.foot.y) for s in settings_of(plan) if s.move in numbers]


def _settings(plan: Plan) -> list[str]:
    marks = []
    for n, z, r in feet(plan):
        spot = f"M{number(z, SCENE.digits)} {number(-r, SCENE.digits)}h0"
        marks.append(group([path(spot, "mark-outer"), path(spot, "mark-inner")], "setting", data_setting=str(n)))
    return [group(marks, "settings")]


def _tools(cuts: Cuts) -> list[str]:
    """Each tool about its nose centre; the page puts it where it stands."""
    shapes = []
    for i, tool in enumerate(cuts.plan.tools):
        bodies = carriers(tool, cuts.plan.job.shop.lathe, Point(0.0, 0.0), bore=cuts.bore)
        edge = fine(standing_out(shapely.Polygon(cuts.shapes[tool.name]), bodies, bore=cuts.bore), keep=0.0)
        pieces = [path(edge, "tool-fill"), path(edge, "tool")]
        pieces += [path(fine(body), cls) for body in bodies for cls in ("tool-fill", "tool-thin")]
        if tool.outline is None:
            arm = min(0.4 * tool.nose_radius, 1.5)
            pieces.append(path(polyline([(-arm, 0), (arm, 0)]) + polyline([(0, -arm), (0, arm)]), "tool-thin"))
        shapes.append(group(pieces, "tool-at", data_tool=str(i), hidden=""))
    return shapes
