"""The drawing of a refusal: what no tool of the drawer reaches, and the nearest one standing as near as it gets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from importlib.metadata import version
from itertools import islice, permutations

import shapely
from shapely.ops import substring

from ovolo.documents.resolved import unit_of
from ovolo.geometry.segments import Point, Segment
from ovolo.plan.model import Job, Plan, Prediction, Proof
from ovolo.plan.unreached import Unreached
from ovolo.show.cuts import Cuts, Region, hull_of
from ovolo.show.detail import Detail
from ovolo.show.dimensions import dimensions
from ovolo.show.drawing import Area, DrawingView, draw, stock_line
from ovolo.show.holding import before_carriers, carriers, draw_carriers, draw_centre
from ovolo.show.layout import Candidate, Layout, box_of
from ovolo.show.lettering import wrapped
from ovolo.show.shapes import (
    Place,
    common,
    hatching,
    nice_scale,
    on_paper,
    outline_path,
    region_path,
    scale_text,
    tool_path,
)
from ovolo.show.style import Mode, style
from ovolo.show.svg import XY, Anchor, circle, clip, document, group, line, path, rect, text, text_box
from ovolo.show.title_block import TitleBlock, draw_title_block, shortened
from ovolo.units import Unit, from_mm

__all__ = ["UnreachedView", "draw_unreached", "unreached_as_svg", "unreached_view"]

SIZE = 3.8

HEAD = 7.0
"""Above a detail there is room for its name, mm of paper."""

AROUND = 0.22
"""What is seen round a stretch and its tool, as a share of their size."""

CLOSER = 1.5
"""A detail that is not so many times as large as the drawing shows nothing more."""

ORDERS = 8
"""In so many orders the words of a stretch are tried."""

LOW = 42.0
"""A detail is at least so high with its name, mm of paper."""

SMALL = 5.0
"""A stretch shorter than this on paper gets a ring round it, mm."""


@dataclass(frozen=True)
class UnreachedView:
    """The job with the stretches that no tool reaches, and what is said of them."""

    job: Job
    stretches: tuple[Unreached, ...]
    cuts: Cuts
    said: tuple[str, ...]

    @property
    def unit(self) -> Unit:
        """The unit of every figure on it."""
        return unit_of(self.job)


def unreached_view(job: Job, stretches: Sequence[Unreached]) -> UnreachedView:
    """The view of a refusal; stretches: at least one."""
    nothing = Prediction(0.0, Point(0.0, 0.0), 0.0, ())
    none = Plan(job, job.shop.tools, (), (), 0, 0, Proof(0, None), nothing)  # a plan of no moves: the piece as it is
    return UnreachedView(job, tuple(stretches), Cuts(none), tuple(_sentences(stretches, unit_of(job))))


def _sentences(stretches: Sequence[Unreached], unit: Unit) -> Iterator[str]:
    if len(stretches) == 1:
        s = stretches[0]
        yield f"No tool of the drawer reaches the outline from {_ends(s, unit)}, {_long(s, unit)}. {_nearest(s, unit)}"
        return
    yield f"No tool of the drawer reaches {len(stretches)} places of the outline."
    for k, s in enumerate(stretches, 1):
        yield f"{k}: {_ends(s, unit)}, {_long(s, unit)}. {_nearest(s, unit)}"


def _ends(s: Unreached, unit: Unit) -> str:
    return " to ".join(
        f"z\N{NO-BREAK SPACE}{_figure(p.x, unit)} (Ø\N{NO-BREAK SPACE}{_figure(2 * p.y, unit)})"
        for p in (s.begin, s.end)
    )


def _long(s: Unreached, unit: Unit) -> str:
    return f"{_figure(s.length, unit, 3)} {unit} long"


def _short(s: Unreached, unit: Unit) -> str:
    return f"{_figure(s.short, unit, 3)} {unit} short"


def _nearest(s: Unreached, unit: Unit) -> str:
    """Which tool gets nearest, what stops it, how far off."""
    by = " and ".join(dict.fromkeys(f"its {t.by}" for t in s.touches))
    return f"The nearest tool, {s.tool.name}, {f'is stopped by {by}' if by else 'stops'} up to {_short(s, unit)} of it."


def _figure(mm: float, unit: Unit, digits: int = 4) -> str:
    return f"{from_mm(mm, unit):.{digits}g}"


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
            return [*_stretches(view, place), *_labels(view, first, place, layout)]
        return [*_stretches(view, place), *_numbers(view, place, layout)]

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
        magnified=Detail(view.cuts, s.place, s.length, ""),
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
    inside = [
        *_metal(view, place, window),
        path(stock_line(_drawing(view, s), place), "stock"),
        *(path(d, "edge") for d in _edges(view, place)),
        line((room.x, place.y0), (room.x + room.width, place.y0), "axis"),
        *draw_centre(view.cuts, place, room.x + room.width),
        *_tool(view, s, place, room, key),
        *_stretches(view, place),
        *_labels(view, s, place, layout),
    ]
    head = f"{k if len(view.stretches) > 1 else 'from near'} ({scale_text(place.scale)}): {s.tool.name}"
    return [
        clip(key, rect(*room, "")),
        rect(*room, "ground"),
        group(inside, clip_to=key, label=f"Out of reach, {head}"),
        rect(*room, "thin"),
        text((room.x, room.y - HEAD / 2), shortened(head, 4.2, room.width, strong=True), 4.2, cls="strong"),
    ]


def _metal(view: UnreachedView, place: Place, window: Region) -> list[str]:
    """The part and the bar behind it hatched, what no tool takes in red."""
    frame, stock = view.cuts.frame, view.job.shop.stock
    low = stock.hole / 2 if view.cuts.bore else 0.0
    bar = shapely.box(frame.back - 4 * stock.radius, low, frame.back, stock.radius)
    solid = common(on_paper(shapely.union(view.cuts.part, bar), place), window)
    stays = common(on_paper(shapely.union_all([s.metal for s in view.stretches]), place), window)
    return [
        path(hatching(solid), "hatch"),
        path(region_path(stays), "to-go"),
        path(hatching(stays, 1.1, -45.0), "to-go-hatch"),
        path(region_path(stays), "red"),
    ]


def _edges(view: UnreachedView, place: Place) -> list[str]:
    """Outline, end face and the bar behind."""
    frame = view.cuts.frame

    def real(segments: Sequence[Segment]) -> Sequence[Segment]:
        return [s.mirrored() for s in segments] if view.cuts.bore else segments

    pieces = (real(frame.end_face), view.job.part.outline.segments, real(frame.bar))
    return [outline_path(piece, place) for piece in pieces if piece]


def _bodies(view: UnreachedView, s: Unreached) -> list[Region]:
    return carriers(s.tool, view.job.shop.lathe, s.nose, bore=view.cuts.bore)


def _tool(view: UnreachedView, s: Unreached, place: Place, room: Area, key: str) -> list[str]:
    bore, bodies = view.cuts.bore, _bodies(view, s)
    outline = tool_path(s.tool, s.nose, place, 200.0, bore=bore)
    edges = [path(outline + "Z", "tool-fill"), path(outline, "tool")]
    return [*before_carriers(edges, bodies, place, room, f"{key}-edges", bore=bore), *draw_carriers(bodies, place)]


# ---- marks and words


def _stretches(view: UnreachedView, place: Place) -> list[str]:
    """Every stretch as a broad red line; with a bar across at either end, where it is not small."""
    pieces = []
    for s in view.stretches:
        pieces.append(path(outline_path(s.pieces, place), "unreached"))
        ends = ((s.pieces[0], 0.0), (s.pieces[-1], s.pieces[-1].length))
        for piece, at in ends if s.length * place.scale >= SMALL else ():
            (x, y), n = place.at(*piece.point(at)), piece.normal(at)
            nx, ny = 1.6 * n.x, -place.up * 1.6 * n.y
            pieces.append(line((x - nx, y - ny), (x + nx, y + ny), "red"))
    return pieces


def _middle(s: Unreached) -> tuple[Point, Point]:
    """The place half-way along a stretch, and the way into the metal there."""
    left, piece = s.length / 2, s.pieces[0]
    for piece in s.pieces:
        if left <= piece.length:
            break
        left -= piece.length
    n = piece.normal(left)
    return piece.point(left), Point(-n.x, -n.y)


def _numbers(view: UnreachedView, place: Place, layout: Layout) -> list[str]:
    """A number at every stretch, and a ring round the small ones."""
    pieces = []
    for k, s in enumerate(view.stretches, 1):
        middle, inward = _middle(s)
        ring = SMALL / 2 if s.length * place.scale < SMALL else 0.0
        pieces += [circle(place.at(*middle), ring, "thin")] if ring else []
        words = str(k) if len(view.stretches) > 1 else "out of reach"
        found = layout.first_free(_around(place.at(*middle), inward, (words,), "strong halo red", ring))
        pieces += found.pieces if found else ()
    return pieces


_Named = tuple[Point, Point, tuple[str, ...], str]
"""A place, the way in which its words should lie, the words from long to short, and how they look."""


def _labels(view: UnreachedView, s: Unreached, place: Place, layout: Layout) -> list[str]:
    """Both ends by z and Ø, how long it is, how far off the tool stops; where the tool is stopped, and by what."""
    unit, (middle, inward) = view.unit, _middle(s)
    layout.lines.append(on_paper(s.metal, place))
    layout.regions.append(shapely.buffer(on_paper(s.metal, place), -0.4))
    border = shapely.LineString([place.at(*p) for piece in s.pieces for p in piece.flattened(0.01)])
    layout.regions.append(substring(border, 0.04, 0.96, normalized=True))  # only a line from its end may meet it
    along, short = _long(s, unit), _short(s, unit)
    named: list[_Named] = []
    for p in (s.begin, s.end):
        off = Point(p.x - middle.x, p.y - middle.y)
        size = math.hypot(*off) or 1.0
        toward = Point(inward.x + 0.8 * off.x / size, inward.y + 0.8 * off.y / size)
        named.append((p, toward, (f"z {_figure(p.x, unit)}, Ø {_figure(2 * p.y, unit)}",), "halo"))
    named.append((middle, inward, (f"out of reach: {along}", along), "strong halo red"))
    named.append((s.place, inward, (f"the tool stops {short}", short), "halo red"))
    deeper = Point(0.0, 1.0 if view.cuts.bore else -1.0)
    named += [(t.at, deeper, (f"its {t.by} is stopped here", t.by), "halo blue") for t in s.touches[:2]]
    pieces = [piece for t in s.touches for piece in _ring(place.at(*t.at))]
    return [*pieces, *_placed(named, place, layout)]


def _placed(named: list[_Named], place: Place, layout: Layout) -> list[str]:
    """The words where there is room: tried in several orders, for those before take it from those after."""
    best: list[Candidate] = []
    for order in islice(permutations(range(4)), ORDERS):
        tried = replace(layout, words=list(layout.words), lines=list(layout.lines))
        turned = [named[k] for k in order] + named[4:]
        found = [tried.first_free(_around(place.at(*at), toward, words, cls)) for at, toward, words, cls in turned]
        placed = [candidate for candidate in found if candidate is not None]
        if len(placed) > len(best):
            best = placed
        if len(best) == len(named):
            break
    return [piece for candidate in best for piece in candidate.pieces]


def _ring(at: XY) -> list[str]:
    return [circle(at, 1.1, "red"), circle(at, 0.35, "red-dot")]


def _around(at: XY, toward: Point, words: Sequence[str], cls: str, ring: float = 0.0) -> Iterator[Candidate]:
    """Words round a place with a thin line to it: nearer ones first, then those that lie the way of `toward`, (z, r);
    shorter words where the longer ones find no room."""
    strong, ahead, gap = "strong" in cls, math.atan2(toward.y, toward.x), max(ring, 0.7)
    for said in words:
        for reach in (4.5, 7.0, 10.0, 14.0, 19.0, 25.0, 33.0):
            for k in range(17):
                a = ahead + math.radians(20) * ((k + 1) // 2) * (1 if k % 2 else -1)
                ux, uy = math.cos(a), -math.sin(a)
                start, end = ((at[0] + d * ux, at[1] + d * uy) for d in (gap, gap + reach))
                side: Anchor = "start" if ux >= 0 else "end"
                spots: list[tuple[Anchor, XY]] = [(side, (end[0] + (0.8 if ux >= 0 else -0.8), end[1]))]
                if abs(uy) > 0.6:  # a steep line may end at the middle of its words
                    spots.append(("middle", (end[0], end[1] + math.copysign(0.62 * SIZE, uy))))
                for anchor, spot in spots:
                    pieces = (line(start, end, "thin"), text(spot, said, SIZE, cls=cls, anchor=anchor))
                    room = box_of(text_box(spot, said, SIZE, anchor, strong=strong))
                    yield Candidate(pieces, room, ((start, end),))
