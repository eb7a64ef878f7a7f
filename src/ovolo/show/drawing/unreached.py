"""The drawing of a refusal: what no tool of the drawer reaches, and the nearest one standing as near as it gets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.metadata import version

import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.model import Job
from ovolo.plan.report.unreached import Unreached
from ovolo.show.drawing.dimensions import dimensions
from ovolo.show.drawing.half_section import Area, DrawingView, draw
from ovolo.show.drawing.holding import before_carriers, carriers, draw_carriers, draw_centre
from ovolo.show.drawing.unreached_marks import draw_labels, draw_numbers, draw_stretches, figure, long_text, short_text
from ovolo.show.paper.cuts import Piece, Region, hull_of
from ovolo.show.paper.layout import Layout
from ovolo.show.paper.lettering import wrapped
from ovolo.show.paper.section import Section, section_of
from ovolo.show.paper.shapes import (
    Place,
    common,
    hatching,
    nice_scale,
    on_paper,
    region_path,
    scale_text,
    tool_path,
)
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import clip, document, group, line, path, rect, text
from ovolo.show.paper.title_block import TitleBlock, draw_title_block, shortened
from ovolo.units import Unit

__all__ = ["UnreachedView", "draw_unreached", "unreached_as_svg", "unreached_view"]

SIZE = 3.8

HEAD = 7.0
"""Above a detail there is room for its name, mm of paper."""

AROUND = 0.22
"""What is seen round a stretch and its tool, as a share of their size."""

CLOSER = 1.5
"""A detail that is not so many times as large as the drawing shows nothing more."""

LOW = 42.0
"""A detail is at least so high with its name, mm of paper."""


@dataclass(frozen=True)
class UnreachedView:
    """The job with the stretches that no tool reaches, and what is said of them."""

    job: Job
    stretches: tuple[Unreached, ...]
    cuts: Piece
    said: tuple[str, ...]

    @property
    def unit(self) -> Unit:
        """The unit of every figure on it."""
        return self.job.units


def unreached_view(job: Job, stretches: Sequence[Unreached]) -> UnreachedView:
    """The view of a refusal; stretches: at least one."""
    return UnreachedView(job, tuple(stretches), Piece(job), tuple(_sentences(stretches, job.units)))


def _sentences(stretches: Sequence[Unreached], unit: Unit) -> Iterator[str]:
    if len(stretches) == 1:
        s = stretches[0]
        where = f"{_ends(s, unit)}, {long_text(s, unit)}"
        yield f"No tool of the drawer reaches the outline from {where}. {_nearest(s, unit)}"
        return
    yield f"No tool of the drawer reaches {len(stretches)} places of the outline."
    for k, s in enumerate(stretches, 1):
        yield f"{k}: {_ends(s, unit)}, {long_text(s, unit)}. {_nearest(s, unit)}"


def _ends(s: Unreached, unit: Unit) -> str:
    return " to ".join(
        f"z\N{NO-BREAK SPACE}{figure(p.x, unit)} (Ø\N{NO-BREAK SPACE}{figure(2 * p.y, unit)})" for p in (s.begin, s.end)
    )


def _nearest(s: Unreached, unit: Unit) -> str:
    """Which tool gets nearest, what stops it, how far off."""
    by = " and ".join(dict.fromkeys(f"its {t.by}" for t in s.touches))
    stops = f"is stopped by {by}" if by else "stops"
    return f"The nearest tool, {s.tool.name}, {stops} up to {short_text(s, unit)} of it."


def unreached_as_svg(
    view: UnreachedView, width: float = 297.0, height: float = 210.0, *, mode: Mode = "paper", key: str = "unreached"
) -> str:
    """A whole sheet of so many mm: border, drawing, what is out of reach in words, title block (ISO 7200)."""
    block_height, block_width = 30.0, 135.0
    inner = Area(20.0, 10.0, width - 30.0, height - 20.0)
    main = Area(inner.x + 4, inner.y + 4, inner.width - 8, inner.height - block_height - 8)
    pieces, scale = draw_unreached(view, main, key=key)
    low = inner.y + inner.height - block_height
    words = Area(inner.x, low, inner.width - block_width, block_height)
    body = [
        rect(0, 0, width, height, "ground"),
        *pieces,
        rect(*inner, "edge"),
        line((inner.x, low), (inner.x + inner.width, low), "edge"),
        *_said(view, words),
        *draw_title_block(_block(view), words.x + words.width, low, block_width, block_height, scale_text(scale)),
    ]
    return document(width, height, f"{view.job.title}: out of reach", " ".join(view.said), body, style(mode))


def _block(view: UnreachedView) -> TitleBlock:
    return TitleBlock(
        title=view.job.title,
        material=view.job.part.material,
        tools=", ".join(tool.name for tool in view.job.shop.tools),
        unit="millimetres" if view.unit == "mm" else "inches",
        plan="none",
        written_by=f"Ovolo {version('ovolo')}",
    )


def _said(view: UnreachedView, area: Area) -> list[str]:
    """The sentences, as large as there is room for; what still has none is only counted."""
    for size in (3.8, 3.5, 3.2, 2.9, 2.5):
        lines = [part for sentence in view.said for part in wrapped(sentence, size, area.width - 10)]
        most = int((area.height - 3) / (1.35 * size))
        if len(lines) <= most:
            break
    if len(lines) > most:
        lines = [*lines[: most - 1], "… and more, as listed with the refusal"]
    top = area.y + (area.height - len(lines) * size * 1.35) / 2 + 0.7 * size
    return [text((area.x + 4, top + k * size * 1.35), words, size) for k, words in enumerate(lines)]


# ---- the drawing and its details


def draw_unreached(view: UnreachedView, area: Area, *, key: str) -> tuple[list[str], float]:
    """The pieces in an area of paper, and the scale of the whole part: beside or above the details, or alone where
    these would be no larger."""
    whole, rooms = _rooms(area, len(view.stretches))
    shown = list(zip(view.stretches, rooms, strict=False))
    pieces, scale = _overview(view, whole, key, named=False)
    places = [_close_place(view, s, room) for s, room in shown]
    if len(view.stretches) == 1 and places[0].scale < CLOSER * scale and _stands_low(view):
        return _overview(view, area, key, named=True)
    for k, ((s, room), place) in enumerate(zip(shown, places, strict=True), 1):
        pieces += _close_up(view, s, k, room, place, f"{key}-{k}")
    return pieces, scale


def _stands_low(view: UnreachedView) -> bool:
    """Whether the nose is seen above the bar: the whole part leaves little room there."""
    s = view.stretches[0]
    return view.cuts.bore or s.nose.y - s.tool.nose_radius <= view.job.shop.stock.widest


def _rooms(area: Area, many: int) -> tuple[Area, list[Area]]:
    """Where the whole part goes, and where details do: beside it on broad paper, below it on narrow; as many as fit."""
    if area.width >= 1.3 * area.height:
        left = 0.46 * area.width
        rows = max(1, min(many, int(area.height // LOW)))
        columns = 1 if many <= rows else 2
        across, down = (area.width - left) / columns, area.height / rows
        grid = [(left + c * across, r * down) for r in range(rows) for c in range(columns)]
        whole = Area(area.x, area.y, left - 2, area.height)
    else:
        top = 0.4 * area.height
        columns = max(1, min(many, int(area.width // 80)))
        across, down = area.width / columns, area.height - top
        grid = [(c * across, top) for c in range(columns)]
        whole = Area(area.x, area.y, area.width, top)
    rooms = [Area(area.x + x + 2, area.y + y + HEAD, across - 4, down - HEAD - 2) for x, y in grid[:many]]
    return whole, rooms


def _overview(view: UnreachedView, area: Area, key: str, *, named: bool) -> tuple[list[str], float]:
    """The whole part with the tool of the first stretch; named: with figures at the ends, else with numbers alone."""
    first = view.stretches[0]

    def marks(place: Place, layout: Layout) -> list[str]:
        if named:
            return [
                *draw_stretches(view.stretches, place),
                *draw_labels(first, view.unit, place, layout, bore=view.cuts.bore),
            ]
        return [*draw_stretches(view.stretches, place), *draw_numbers(view.stretches, place, layout)]

    return draw(_drawing(view, first), area, key=key, magnify=False, sized=False, marks=marks)


def _drawing(view: UnreachedView, s: Unreached) -> DrawingView:
    metal = shapely.union_all([view.cuts.part, *(each.metal for each in view.stretches)])
    return DrawingView(
        cuts=view.cuts,
        n=0,
        metal=metal,
        tool=s.tool,
        nose=s.nose,
        moved_from=None,
        sizes=dimensions(view.job.part.outline, view.unit),
        magnified=None,
        settings=(),
        said=view.said,
    )


def _seen(view: UnreachedView, s: Unreached) -> Region:
    """What a detail has to show: the stretch, the end of the tool, where it meets metal."""
    inward = 1.0 if view.cuts.bore else -1.0
    tip = Point(s.nose.x, s.nose.y + inward * s.tool.nose_radius)
    border = [p for piece in s.pieces for p in piece.flattened(0.01)]
    near = [t.at for t in s.touches if math.dist(t.at, s.place) < 8 * max(s.length, s.tool.nose_radius)]
    return shapely.MultiPoint([*border, tip, *near])


def _close_place(view: UnreachedView, s: Unreached, room: Area) -> Place:
    z0, r0, z1, r1 = _seen(view, s).bounds
    grow = max(2 * AROUND * max(z1 - z0, r1 - r0), 0.3 * s.length)
    scale = nice_scale(min(room.width / (z1 - z0 + 2 * grow), room.height / (r1 - r0 + 2 * grow)))
    x, y = room.x + room.width / 2, room.y + room.height / 2
    return Place(x - scale * (z0 + z1) / 2, y + scale * (r0 + r1) / 2, scale)


def _close_up(view: UnreachedView, s: Unreached, k: int, room: Area, place: Place, key: str) -> list[str]:
    """A stretch from near with the tool at it, framed, with its number and scale above."""
    window = shapely.box(room.x, room.y, room.x + room.width, room.y + room.height)
    layout = Layout((room.x + 1, room.y + 1, room.x + room.width - 1, room.y + room.height - 1))
    bodies, blunt = _bodies(view, s), hull_of(view.cuts.shapes[s.tool.name], [s.nose])
    layout.add_region(shapely.intersection(on_paper(shapely.union_all([blunt, *bodies]), place), window))
    frame = view.cuts.frame
    for segments in (frame.end_face, frame.outline.segments, frame.bar[-1:]):
        points = [frame.place(*p) for segment in segments for p in segment.flattened(0.01)]
        if points:
            layout.add_line([place.at(*p) for p in points])
    layout.lines += [
        on_paper(view.cuts.blank, place).boundary,
        shapely.LineString([place.at(-1e3, 0), place.at(1e3, 0)]),
    ]
    section = section_of(view.job.part, view.job.shop.stock, frame.back - 4 * view.job.shop.stock.radius)
    inside = [
        *_metal(view, section, place, window),
        path(section.blank(place), "stock"),
        *(path(d, "edge") for d in section.edges(place)),
        line((room.x, place.y0), (room.x + room.width, place.y0), "axis"),
        *draw_centre(view.cuts, place, room.x + room.width),
        *_tool(view, s, place, room, key),
        *draw_stretches(view.stretches, place),
        *draw_labels(s, view.unit, place, layout, bore=view.cuts.bore),
    ]
    head = f"{k if len(view.stretches) > 1 else 'from near'} ({scale_text(place.scale)}): {s.tool.name}"
    return [
        clip(key, rect(*room, "")),
        rect(*room, "ground"),
        group(inside, clip_to=key, label=f"Out of reach, {head}"),
        rect(*room, "thin"),
        text((room.x, room.y - HEAD / 2), shortened(head, 4.2, room.width, strong=True), 4.2, cls="strong"),
    ]


def _metal(view: UnreachedView, section: Section, place: Place, window: Region) -> list[str]:
    """The part and the bar behind it hatched, what no tool takes in red."""
    solid = common(on_paper(shapely.union(view.cuts.part, section.bar), place), window)
    stays = common(on_paper(shapely.union_all([s.metal for s in view.stretches]), place), window)
    return [
        path(hatching(solid), "hatch"),
        path(region_path(stays), "to-go"),
        path(hatching(stays, 1.1, -45.0), "to-go-hatch"),
        path(region_path(stays), "red"),
    ]


def _bodies(view: UnreachedView, s: Unreached) -> list[Region]:
    return carriers(s.tool, view.job.shop.lathe, s.nose, bore=view.cuts.bore)


def _tool(view: UnreachedView, s: Unreached, place: Place, room: Area, key: str) -> list[str]:
    bore, bodies = view.cuts.bore, _bodies(view, s)
    outline = tool_path(s.tool, s.nose, place, 200.0, bore=bore)
    edges = [path(outline + "Z", "tool-fill"), path(outline, "tool")]
    return [*before_carriers(edges, bodies, place, room, f"{key}-edges", bore=bore), *draw_carriers(bodies, place)]
