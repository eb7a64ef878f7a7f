"""Close-ups of every move, light enough to travel together: regions as whole tenths of a pixel, hatched by the page.

They show what `drawing.close_up` shows: the metal, what goes, the tool where it starts, dashed, and where it stops.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
import shapely
import shapely.ops
from shapely import affinity

from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.shop.tools import Tool
from ovolo.show.drawing.close_up import CloseUpView, close_up_view
from ovolo.show.drawing.holding import carriers, centre_points, standing_out
from ovolo.show.paper.cuts import Cuts, Region, polygons
from ovolo.show.paper.shapes import Place

__all__ = ["HIGH", "WIDE", "close_up_pieces", "path_of", "picture_of"]

WIDE, HIGH = 3600, 1200
"""Size of a close-up, tenths of a pixel on a phone."""

_SMOOTH = 2.0
_LEAST = 60.0
"""A border may be off by so much, and smaller specks are not drawn, tenths of a pixel and their squares."""

_SPREAD = 2500.0
"""So far past the window a tool is drawn at most: the window cuts it off."""


def close_up_pieces(cuts: Cuts, n: int) -> str:
    """The inside of the SVG of a move's close-up, `WIDE` by `HIGH`; its classes: m metal, g goes, o outline, a axis,
    c centre, s tool where it starts, t where it stops, w way."""
    view = close_up_view(cuts, n)
    place = _placed(_seen(view))
    return _pieces(cuts, place, view.before, view.chip, _tools(view), (view.move.start, view.move.end))


def _seen(view: CloseUpView) -> tuple[float, float, float, float]:
    """The window of a close-up; of a move that cuts nothing with the metal nearest to the nose in it."""
    if not view.chip.is_empty:
        return view.seen
    inward = 1.0 if view.cuts.bore else -1.0
    tips = [shapely.Point(p.x, p.y + inward * view.tool.nose_radius) for p in (view.move.start, view.move.end)]
    near = [shapely.ops.nearest_points(_with_bar(view.cuts, view.before), tip)[0] for tip in tips]
    z0, r0, z1, r1 = shapely.union_all([*tips, *near]).bounds
    air = max(0.25 * max(z1 - z0, r1 - r0), 0.6 * view.tool.nose_radius)
    return z0 - air, r0 - air, z1 + air, r1 + air


def picture_of(
    cuts: Cuts,
    seen: tuple[float, float, float, float],
    metal: Region,
    tool: Tool | None = None,
    nose: Point | None = None,
    way: tuple[Point, Point] | None = None,
) -> str:
    """The same for a place of the piece, ahead of a move: the metal as it is then, and the tool with its nose there.

    seen: window on it, (least z, least r, greatest z, greatest r), mm.
    """
    shape = [] if tool is None or nose is None else [("t", _tool_region(cuts.plan, tool, nose, cuts.bore))]
    return _pieces(cuts, _placed(seen), metal, shapely.Polygon(), shape, way)


def _placed(seen: tuple[float, float, float, float]) -> Place:
    z0, r0, z1, r1 = seen
    scale = min(WIDE / (z1 - z0), HIGH / (r1 - r0))
    return Place(WIDE / 2 - scale * (z0 + z1) / 2, HIGH / 2 + scale * (r0 + r1) / 2, scale)


def _tools(view: CloseUpView) -> list[tuple[str, Region]]:
    plan, bore, move = view.cuts.plan, view.cuts.bore, view.move
    return [
        ("s", _tool_region(plan, view.tool, move.start, bore)),
        ("t", _tool_region(plan, view.tool, move.end, bore)),
    ]


def _tool_region(plan: Plan, tool: Tool, nose: Point, bore: bool) -> Region:
    """A tool's cutting outline with shank or bar, where its nose centre is at `nose`."""
    turn = np.array([1.0, -1.0 if bore else 1.0])
    bodies = carriers(tool, plan.job.shop.lathe, nose, bore=bore)
    cutting = shapely.Polygon(tool_shape(tool) * turn + np.asarray(nose))
    return shapely.union_all([standing_out(cutting, bodies, bore=bore), *bodies])


def _pieces(
    cuts: Cuts,
    place: Place,
    metal: Region,
    chip: Region,
    tools: Sequence[tuple[str, Region]],
    way: tuple[Point, Point] | None,
) -> str:
    window = shapely.box(-20, -20, WIDE + 20, HIGH + 20)
    solid = _with_bar(cuts, metal)
    if place.y0 < HIGH:  # where the axis is seen, the other half is too
        solid = shapely.union(solid, affinity.scale(solid, 1, -1, origin=(0, 0)))
    whole = _drawn(solid, place, window)
    parts = [("m", path_of(whole)), ("g", path_of(_drawn(chip, place, window)))]
    parts.append(("o", _outline(cuts, place, window)))
    centre = centre_points(cuts, (WIDE + 20 - place.x0) / place.scale)
    if centre:
        parts.append(("c", path_of(_drawn(shapely.Polygon([*centre, (centre[-1][0], 0.0)]), place, window))))
    if 0 < place.y0 < HIGH:
        parts.append(("a", f"M0 {place.y0:.0f}h{WIDE}"))
    parts += [(name, path_of(_drawn(region, place, _around(window)))) for name, region in tools]
    if way is not None:
        parts.append(("w", _way(place, *way)))
    return "".join(f'<path class="{name}" d="{d}"/>' for name, d in parts if d)


def _around(window: Region) -> Region:
    return shapely.buffer(window, _SPREAD / 100, join_style="mitre")


def _with_bar(cuts: Cuts, metal: Region) -> Region:
    """The metal with the bar behind the part, as far as is ever seen."""
    frame, stock = cuts.frame, cuts.plan.job.shop.stock
    low = stock.hole / 2 if cuts.bore else 0.0
    bar = shapely.box(frame.back - 8 * stock.radius, low, frame.back, stock.radius)
    return shapely.union(metal, bar)


def _drawn(region: Region, place: Place, window: Region) -> Region:
    s = place.scale
    moved = affinity.affine_transform(region, [s, 0, 0, -s, place.x0, place.y0])
    cut = shapely.intersection(shapely.make_valid(moved), window)
    return shapely.simplify(cut, _SMOOTH)


def _outline(cuts: Cuts, place: Place, window: Region) -> str:
    """The finished outline, as lines inside the window."""
    chain = shapely.LineString([place.at(*p) for p in cuts.plan.job.part.outline.flattened(0.2 / place.scale)])
    seen = shapely.simplify(shapely.intersection(chain, window), _SMOOTH)
    return "".join(
        _line(part.coords) for part in shapely.get_parts(seen) if part.geom_type == "LineString" and not part.is_empty
    )


def path_of(region: Region) -> str:
    """The `d` of a region in whole units, specks aside.

    >>> import shapely
    >>> path_of(shapely.box(0, 0, 100, 50))
    'M100 0v50h-100v-50z'
    """
    rings = [ring for part in polygons(region) if part.area > _LEAST for ring in (part.exterior, *part.interiors)]
    return "".join(f"{_line(ring.coords[:-1])}z" for ring in rings)


def _line(points: Iterable[tuple[float, ...]]) -> str:
    """The `d` of a line through points: whole units, each told from the one before."""
    whole = [(round(p[0]), round(p[1])) for p in points]
    steps = [f"M{whole[0][0]} {whole[0][1]}"]
    for (x0, y0), (x1, y1) in pairwise(whole):
        dx, dy = x1 - x0, y1 - y0
        if dx and dy:
            steps.append(f"l{dx} {dy}" if dy >= 0 else f"l{dx}{dy}")
        elif dx or dy:
            steps.append(f"h{dx}" if dx else f"v{dy}")
    return "".join(steps)


def _way(place: Place, start: Point, end: Point) -> str:
    """An arrow, the way the tool goes, inside the window."""
    (x0, y0), (x1, y1) = place.at(*start), place.at(*end)
    size = max(abs(x1 - x0), abs(y1 - y0), 1e-9)
    ux, uy = (x1 - x0) / size, (y1 - y0) / size
    x, y = min(max(x1, 400), WIDE - 400) + 80 * ux, min(max(y1, 420), HIGH - 120) + 80 * uy
    outline = ((380, -18), (110, -18), (110, -62), (0, 0), (110, 62), (110, 18), (380, 18))
    return _line([(x - back * ux + aside * uy, y - back * uy + aside * ux) for back, aside in outline]) + "z"
