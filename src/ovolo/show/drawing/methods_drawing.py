"""The ways to turn one curve, drawn side by side: what comes out over the true outline, every panel at the same scale.

What a method leaves is far too small to be seen beside the part itself; so its departure from the outline is drawn
larger, square to it, by one factor for all panels. The sheet states both.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.sweep.sweep import part_region
from ovolo.predict.methods.compare import Methods
from ovolo.show.drawing.half_section import Area
from ovolo.show.paper.lettering import breadth, wrapped
from ovolo.show.paper.shapes import Place, hatching, nice_scale, on_paper, region_path, scale_text
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import XY, closed, document, line, path, polyline, rect, text
from ovolo.show.paper.title_block import draw_title_block, shortened, title_block
from ovolo.show.words.methods import MethodCard, methods_view

__all__ = ["Departure", "MethodsDrawing", "Panel", "departures", "methods_as_svg", "methods_drawing", "panel_as_svg"]

COLUMNS, ROWS = 4, 2

SMALL = (88.0, 44.0)
"""A panel on a page, mm."""

SIZE = 3.5
"""Type of the figures, mm."""

HEAD = 15.0
"""What the words of a panel take, mm."""

SEEN = 6.0
"""The largest departure of all is drawn no larger than this, mm on paper."""

ROOM = 8.0
"""Kept free around the curve, mm on paper: for the departures and for what goes on beside it."""

LIKE = 1e-3
"""A surface nowhere further from the outline than this departs nowhere, mm."""

FAR = 1.5
"""What stands further off than the error of the method, by this factor, is no part of its curve: the bar behind."""

STEP = 0.01
"""The direction of the outline is taken over so much to either side, mm."""

OBLIQUE = 0.3
"""A place at an end of the outline that is less square to it than this lies past the end (cosine)."""

_FINE = 2e-4
"""The outline is followed this closely, mm."""


@dataclass(frozen=True)
class Departure:
    """A place of the outline, and the place of the surface that belongs to it, (z, r) in mm; `height` [mm] is above
    the outline where positive, below it where negative."""

    foot: Point
    place: Point
    height: float


@dataclass(frozen=True)
class Panel:
    """One method: its words, and where its surface departs from the curve.

    band: where the surface itself isn't known, half of the usual error, within which it lies [mm]; else 0.
    """

    card: MethodCard
    departures: tuple[Departure, ...]
    band: float


@dataclass(frozen=True)
class MethodsDrawing:
    """All panels, and the part that they share."""

    plan: Plan
    panels: tuple[Panel, ...]
    sentences: tuple[str, ...]

    @property
    def largest(self) -> float:
        """The largest departure of all, mm."""
        heights = (abs(one.height) for panel in self.panels for one in panel.departures)
        return max((*heights, *(panel.band for panel in self.panels)), default=0.0)


def methods_drawing(plan: Plan, found: Methods) -> MethodsDrawing:
    """The drawing of a comparison."""
    view = methods_view(plan, found)
    panels = []
    for card, method in zip(view.cards, found.methods, strict=True):
        seen = departures(plan, card.shape, FAR * max(method.error or 0.0, method.gouge or 0.0))
        known = any(abs(one.height) > LIKE for one in seen)
        panels.append(Panel(card, seen if known else (), 0.0 if known else (method.error or 0.0) / 2))
    return MethodsDrawing(plan, tuple(panels), view.sentences)


def departures(plan: Plan, shape: Sequence[Point], most: float) -> tuple[Departure, ...]:
    """Where a surface departs from the curve, along the curve; what lies further off than `most` [mm] is left out."""
    if len(shape) < 2:
        return ()
    outline, high, low = _outline(plan), max(plan.job.part.curve), min(plan.job.part.curve)
    side = 1 if plan.job.part.surface == "outside" else -1
    # Between its points a surface is followed closely too: a long facet has points at its ends only.
    fine = shapely.segmentize(shapely.LineString(shape), max(outline.length / 400, 10 * _FINE))
    out = []
    for z, r in shapely.get_coordinates(fine):
        along = outline.project(shapely.Point(z, r))
        foot = outline.interpolate(along)
        height = _height(outline, along, (float(z), float(r)))
        if height is not None and abs(height) <= most and low - LIKE <= foot.x <= high + LIKE:
            out.append((along, Departure(Point(foot.x, foot.y), Point(float(z), float(r)), side * height)))
    return tuple(one for _, one in sorted(out, key=lambda pair: pair[0]))


def _outline(plan: Plan) -> shapely.LineString:
    return shapely.LineString(plan.job.part.outline.flattened(_FINE))


def _height(outline: shapely.LineString, along: float, place: XY) -> float | None:
    """Distance from the outline, positive on its right as it is walked [mm]; None for what lies past its ends.

    An end off the axis is a corner, and what belongs to the corner belongs to no place of the curve.
    """
    foot = outline.interpolate(along)
    behind, ahead = outline.interpolate(max(along - STEP, 0.0)), outline.interpolate(min(along + STEP, outline.length))
    tz, tr, dz, dr = ahead.x - behind.x, ahead.y - behind.y, place[0] - foot.x, place[1] - foot.y
    far = math.hypot(dz, dr)
    oblique = abs(tz * dz + tr * dr) > OBLIQUE * math.hypot(tz, tr) * far
    at_end = not STEP < along < outline.length - STEP
    if at_end and far > LIKE and (oblique or foot.y > STEP):
        return None
    return math.copysign(far, tr * dz - tz * dr)


def methods_as_svg(view: MethodsDrawing, width: float = 297.0, height: float = 210.0, *, mode: Mode = "paper") -> str:
    """A whole sheet of so many mm: a panel for each method, what they add up to in words, the title block."""
    block = 30.0
    inner = Area(20.0, 10.0, width - 30.0, height - 20.0)
    low = inner.y + inner.height - block
    cells = _cells(Area(inner.x, inner.y, inner.width, inner.height - block))
    scale, times = _scales(view, _under_words(cells[0]))
    title_width = min(150.0, 0.55 * inner.width)
    body = [rect(0, 0, width, height, "ground")]
    for panel, cell in zip(view.panels, cells, strict=False):
        body += _panel(view, panel, cell, scale, times)
    body += [
        *_rules(cells),
        rect(*inner, "edge"),
        line((inner.x, low), (inner.x + inner.width, low), "edge"),
        *_foot(Area(inner.x, low, inner.width - title_width, block), times),
        *draw_title_block(
            title_block(view.plan), inner.x + inner.width - title_width, low, title_width, block, scale_text(scale)
        ),
    ]
    return document(width, height, f"{view.plan.job.title}: ways to turn the curve", _said(view), body, style(mode))


def _cells(area: Area) -> list[Area]:
    wide, tall = area.width / COLUMNS, area.height / ROWS
    return [
        Area(area.x + column * wide, area.y + row * tall, wide, tall)
        for row in range(ROWS)
        for column in range(COLUMNS)
    ]


def _rules(cells: Sequence[Area]) -> list[str]:
    upright = [line((cell.x, cell.y), (cell.x, cell.y + cell.height), "thin") for cell in cells if cell.x > cells[0].x]
    level = [line((cell.x, cell.y), (cell.x + cell.width, cell.y), "thin") for cell in cells if cell.y > cells[0].y]
    return [*upright, *level]


def _said(view: MethodsDrawing) -> str:
    return " ".join((*(f"{panel.card.name}: {panel.card.why}." for panel in view.panels), *view.sentences))


def _box(plan: Plan) -> tuple[float, float, float, float]:
    """(least z, least r, greatest z, greatest r) of the curve, mm; down to the axis where it begins there."""
    high, low = max(plan.job.part.curve), min(plan.job.part.curve)
    near = [p for p in plan.job.part.outline.flattened(0.01) if low - LIKE <= p.x <= high + LIKE]
    rs = [p.y for p in near]
    return low, min(rs), high, max(rs)


def _scales(view: MethodsDrawing, room: Area) -> tuple[float, float]:
    """Scale of the part, and how many times as large its departures are drawn."""
    left, low, right, high = _box(view.plan)
    scale = nice_scale(
        min((room.width - 2 * ROOM) / max(right - left, 1e-6), (room.height - 2 * ROOM) / max(high - low, 1e-6))
    )
    return scale, nice_scale(max(SEEN / (scale * view.largest), 1.0)) if view.largest else 1.0


def panel_as_svg(view: MethodsDrawing, panel: Panel) -> tuple[str, float]:
    """One method as a small picture for a page, which brings the style, and how many times as large its departures are
    drawn, alike in all; only the part where the method can't be used."""
    room = Area(0.0, 0.0, *SMALL)
    scale, times = _scales(view, room)
    says = f"{panel.card.name}: what comes out, over the outline"
    return document(*SMALL, says, panel.card.why, _shape(view, panel, room, scale, times), ""), times


def _panel(view: MethodsDrawing, panel: Panel, cell: Area, scale: float, times: float) -> list[str]:
    pieces = _words(panel.card, cell)
    if not panel.card.can:
        return [*pieces, *_reason(panel.card, cell)]
    return [*pieces, *_shape(view, panel, _under_words(cell), scale, times)]


def _under_words(cell: Area) -> Area:
    return Area(cell.x, cell.y + HEAD, cell.width, cell.height - HEAD)


def _shape(view: MethodsDrawing, panel: Panel, room: Area, scale: float, times: float) -> list[str]:
    """The part, and what comes out over it."""
    left, low, right, high = _box(view.plan)
    middle = room.x + room.width / 2, room.y + room.height / 2
    place = Place(middle[0] - scale * (left + right) / 2, middle[1] + scale * (low + high) / 2, scale)
    frame = shapely.box(room.x + 2, room.y, room.x + room.width - 2, room.y + room.height - 2)
    return [
        *_part(view.plan, place, frame),
        *_axis(place, frame),
        *_apart(panel, place, times),
        *_band(view.plan, panel, place, times),
    ]


def _words(card: MethodCard, cell: Area) -> list[str]:
    """Name, form error, minutes."""
    room = cell.width - 6
    if not card.can:
        figures = "not for this part"
    else:
        figures = f"form error {card.error} usual, {card.alone} set right; {card.first}"
    size = SIZE
    while size > 2.5 and breadth(figures, size) > room:
        size -= 0.25
    return [
        text((cell.x + 3, cell.y + 5), shortened(card.name, 4.2, room, strong=True), 4.2, cls="strong"),
        text((cell.x + 3, cell.y + 10.5), shortened(figures, size, room), size, cls="" if card.can else "strong"),
    ]


def _reason(card: MethodCard, cell: Area) -> list[str]:
    rows = wrapped(f"{card.why[:1].upper()}{card.why[1:]}.", SIZE, cell.width - 12)
    top = cell.y + HEAD + 6
    return [text((cell.x + 3, top + k * 1.4 * SIZE), row, SIZE, cls="faint") for k, row in enumerate(rows)]


def _part(plan: Plan, place: Place, frame: shapely.Polygon) -> list[str]:
    """The part as it is meant to be, hatched, as far as the panel goes."""
    region = part_region(plan.frame)
    sign = 1 if plan.job.part.surface == "outside" else -1
    metal = on_paper(shapely.transform(region, lambda xy: xy * [1, sign]), place)
    visible = shapely.intersection(metal, frame)
    edge = shapely.LineString([place.at(*p) for p in plan.job.part.outline.flattened(0.001)])
    lines = [part for part in shapely.get_parts(shapely.intersection(edge, frame)) if part.geom_type == "LineString"]
    return [
        path(hatching(visible), "hatch"),
        *(path(polyline([(x, y) for x, y in part.coords]), "thin") for part in lines),
    ]


def _axis(place: Place, frame: shapely.Polygon) -> list[str]:
    left, top, right, low = frame.bounds
    return [line((left, place.y0), (right, place.y0), "axis")] if top <= place.y0 <= low else []


def _drawn(one: Departure, place: Place, times: float) -> XY:
    (z, r), foot = one.place, one.foot
    return place.at(foot.x + times * (z - foot.x), foot.y + times * (r - foot.y))


def _apart(panel: Panel, place: Place, times: float) -> list[str]:
    """What stands above the outline in red pencil, what goes below it in blue, and the surface as a line."""
    if len(panel.departures) < 2:
        return []
    pieces = []
    for above, run in groupby(pairwise(panel.departures), key=lambda pair: pair[0].height + pair[1].height > 0):
        pairs = list(run)
        ones = [pairs[0][0], *(pair[1] for pair in pairs)]
        ring = [*(place.at(*one.foot) for one in ones), *(_drawn(one, place, times) for one in reversed(ones))]
        pieces.append(path(closed(ring), "to-go" if above else "tool-fill"))
    surface = [_drawn(one, place, times) for one in panel.departures]
    return [*pieces, path(polyline(surface), "tool-thin")]


def _band(plan: Plan, panel: Panel, place: Place, times: float) -> list[str]:
    """Where a surface isn't known: the lines between which it lies."""
    if not panel.band:
        return []
    high, low = max(plan.job.part.curve), min(plan.job.part.curve)
    near = [p for p in plan.job.part.outline.flattened(0.001) if low - LIKE <= p.x <= high + LIKE]
    curve = shapely.LineString([place.at(*p) for p in near])
    away = panel.band * times * place.scale
    lines = []
    for side in (away, -away):
        beside = shapely.offset_curve(curve, side)
        lines += [part for part in shapely.get_parts(beside) if part.geom_type == "LineString" and not part.is_empty]
    return [path(polyline([(x, y) for x, y in part.coords]), "ghost") for part in lines]


def _foot(area: Area, times: float) -> list[str]:
    """What the lines mean, and by how much the departures are drawn larger."""
    rows = (
        ("thin", "the outline as meant"),
        ("tool-thin", "what comes out"),
        ("to-go", "left above the outline"),
        ("tool-fill", "cut below the outline"),
        ("ghost", "comes out between these"),
    )
    pieces = []
    top, half = area.y + 4.5, area.width / 2
    for k, (cls, words) in enumerate(rows):
        at = (area.x + 4 + half * (k // 3), top + 5.6 * (k % 3))
        pieces += [*_swatch(cls, at), text((at[0] + 11, at[1]), shortened(words, 3.2, half - 14), 3.2)]
    size = (
        f"Departures are drawn {times:g} times as large, square to the outline, alike in every panel; the scatter of "
        "settings is not drawn."
    )
    for k, row in enumerate(wrapped(size, 3.2, area.width - 8)):
        pieces.append(text((area.x + 4, top + 17.5 + 4.6 * k), row, 3.2, cls="strong"))
    return pieces


def _swatch(cls: str, at: XY) -> list[str]:
    x, y = at
    if cls in ("to-go", "tool-fill"):
        return [path(region_path(shapely.box(x, y - 1.4, x + 8, y + 1.4)), cls)]
    return [line((x, y), (x + 8, y), cls)]
