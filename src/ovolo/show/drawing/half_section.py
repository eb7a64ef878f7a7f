"""The drawing of a plan: half-section, the piece as it was, the tool at a setting, dimensions, ridges magnified."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import shapely

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.shop.tools import Tool
from ovolo.show.drawing.detail import Detail, detail, draw_detail, draw_where, touches
from ovolo.show.drawing.dimensions import FIRST, ROW, Dimensions, dimensions, draw_dimensions, rows_height
from ovolo.show.drawing.holding import before_carriers, carriers, centre_end, draw_carriers, draw_centre
from ovolo.show.paper.cuts import Cuts, Piece, Region, hull_of, tool_of
from ovolo.show.paper.layout import Layout, box_of
from ovolo.show.paper.lettering import breadth, wrapped
from ovolo.show.paper.section import Section, section_of
from ovolo.show.paper.shapes import (
    Place,
    break_line,
    hatching,
    nice_scale,
    on_paper,
    region_path,
    scale_text,
    tool_path,
)
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import XY, Anchor, circle, clip, document, group, line, path, rect, text, text_box
from ovolo.show.paper.title_block import draw_title_block, shortened, title_block
from ovolo.show.words.figures import plain_size
from ovolo.show.words.table import left
from ovolo.units import Unit

__all__ = ["Area", "DrawingView", "draw", "drawing_as_svg", "drawing_view", "station_move"]

DETAIL = 24.0
"""Radius of the circle with the ridges, mm."""

ABOVE_BORE = 8.0
"""Over a bore there are only words, mm of paper."""

KEY_FROM = 104.0
"""A drawing lower than this has no room to say what its lines mean, mm."""

TAIL = 9.0
"""How much of the bar behind is drawn, mm of paper."""

ABOVE = 15.0
"""What the tool is given above the bar, mm of paper."""

SIZE = 3.8

_CLEAR = 1.5
"""From words to the tool, mm of paper."""


class Area(NamedTuple):
    """A rectangle of paper, mm."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class DrawingView:
    """What a drawing shows: the metal as it stands after a move, with the tool where that move has brought it.

    `n` is that move, 0 before the first; `metal` the region in (z, r) mm; `moved_from` where the nose came from.
    A refusal has no `plan`, and nothing `magnified`.
    """

    cuts: Piece
    n: int
    metal: Region
    tool: Tool
    nose: Point
    moved_from: Point | None
    sizes: Dimensions
    magnified: Detail | None
    settings: tuple[Point, ...]
    said: tuple[str, ...]
    plan: Plan | None = None

    @property
    def outline(self) -> Outline:
        """The finished outline."""
        return self.cuts.job.part.outline

    @property
    def unit(self) -> Unit:
        """The unit of every figure on it."""
        return self.cuts.job.units


def drawing_view(plan: Plan, move: int | None = None, cuts: Cuts | None = None) -> DrawingView:
    """The view of a plan after a move, by its number; by default at a setting in the middle of the curve."""
    cuts = cuts or Cuts(plan)
    n = station_move(plan) if move is None else move
    last = plan.moves[max(n, 1) - 1]
    nose = last.start if n == 0 else last.end
    said = left(plan).sentences[:2]
    return DrawingView(
        cuts=cuts,
        n=n,
        metal=cuts.after(n),
        tool=tool_of(plan, last),
        nose=nose,
        moved_from=None if n == 0 else last.start,
        sizes=dimensions(plan.job.part.outline, plan.job.units),
        magnified=detail(cuts),
        settings=tuple(touches(cuts)),
        said=said,
        plan=plan,
    )


def station_move(plan: Plan) -> int:
    """The number of the move that best shows the tool at work: a setting in the middle of the curve, late."""
    places = sorted((move for move in plan.moves if move.station is not None), key=_along)
    if not places:
        return len(plan.moves)
    middle = places[len(places) // 3 : 1 + (2 * len(places)) // 3]
    return max(middle, key=lambda move: move.n).n


def _along(move: Move) -> float:
    return move.end.x - move.end.y


def drawing_as_svg(
    view: DrawingView, width: float = 297.0, height: float = 210.0, *, mode: Mode = "paper", key: str = "drawing"
) -> str:
    """A whole sheet of so many mm: border, drawing, what will be left in words, title block (ISO 7200).

    key: a word that no other drawing on the same page has.
    """
    assert view.plan is not None  # a refusal has a sheet of its own
    block = title_block(view.plan)
    block_height = 30.0
    inner = Area(20.0, 10.0, width - 30.0, height - 20.0)
    main = Area(inner.x + 5, inner.y + 4, inner.width - 10, inner.height - block_height - 6)
    pieces, scale = draw(view, main, key=key)
    low = inner.y + inner.height - block_height
    block_width = min(180.0, 0.6 * inner.width)
    words = Area(inner.x, low, inner.width - block_width, block_height)
    body = [
        rect(0, 0, width, height, "ground"),
        *pieces,
        rect(*inner, "edge"),
        line((inner.x, low), (inner.x + inner.width, low), "edge"),
        *_said(view, words),
        *draw_title_block(block, words.x + words.width, low, block_width, block_height, scale_text(scale)),
    ]
    return document(width, height, view.cuts.job.title, _described(view), body, style(mode))


def _said(view: DrawingView, area: Area) -> list[str]:
    """What will be left, in plain sentences, as large as there is room for."""
    for size in (4.2, 3.8, 3.5, 3.2, 2.9, 2.5):
        lines = [part for sentence in view.said for part in wrapped(sentence, size, area.width - 16)]
        if len(lines) * size * 1.4 <= area.height - 4:
            break
    top = area.y + (area.height - len(lines) * size * 1.4) / 2 + 0.7 * size
    return [text((area.x + 4, top + k * size * 1.4), words, size) for k, words in enumerate(lines)]


def _described(view: DrawingView) -> str:
    return f"Half-section of the part with the tool after move {view.n}. {' '.join(view.said)}"


Marks = Callable[[Place, Layout], list[str]]
"""Draws something of its own on a drawing, where there is room."""


def draw(
    view: DrawingView,
    area: Area,
    *,
    key: str,
    magnify: bool = True,
    sized: bool = True,
    marks: Marks | None = None,
) -> tuple[list[str], float]:
    """The pieces of the drawing in an area of paper, and its scale; without the detail or the dimensions if wished.

    marks: what else is drawn, before the dimensions.
    """
    beside = 2 * DETAIL + 10 if magnify and area.width > 150 else 0.0
    room = Area(area.x, area.y, area.width - beside, area.height)
    place = _placed(view, room, sized)
    layout = Layout((room.x, room.y, room.x + room.width, room.y + room.height))
    metal = [*_metal(view, place), *_lines(view, place, layout)]
    held = draw_centre(view.cuts, place, layout.area[2], layout)
    pieces = [*metal, *held, *_tool(view, place, room, layout, key)]
    pieces += [] if marks is None else marks(place, layout)
    missing: list[str] = []
    if sized:
        edge = place.at(_right(view), -view.cuts.job.shop.stock.widest)
        sizes, missing = draw_dimensions(view.sizes, place, layout, view.outline, edge)
        pieces += sizes
    if beside and view.magnified is not None:
        centre = (area.x + area.width - DETAIL - 4, area.y + DETAIL + 14)
        pieces += draw_where(view.magnified, place, DETAIL, layout)
        pieces += draw_detail(view.magnified, centre, DETAIL, key)
        if area.height >= KEY_FROM:
            pieces += _in_words(view, missing, centre[0] - DETAIL - 8, area.y + area.height - 4)
    return pieces, place.scale


def _placed(view: DrawingView, room: Area, sized: bool) -> Place:
    """The largest scale of a drawing office at which everything fits, and the drawing in the middle of its room."""
    frame, job = view.cuts.frame, view.cuts.job
    right = max(_right(view), _tool_right(view))
    wide, tall = right - frame.back, 2 * job.shop.stock.widest
    columns = FIRST + ROW * sum(d.to is None for d in view.sizes.diameters) if sized else 0.0
    rows = rows_height(view.sizes) if sized else 4.0
    above = ABOVE_BORE if view.cuts.bore else ABOVE
    most = min((room.width - TAIL - 4 - columns) / wide, (room.height - above - rows - 4) / tall)
    scale = nice_scale(most)
    spare = (room.width - TAIL - columns - scale * wide, room.height - above - rows - scale * tall)
    return Place(
        room.x + TAIL + spare[0] / 2 - scale * frame.back,
        room.y + above + spare[1] / 2 + scale * tall / 2,
        scale,
    )


def _right(view: DrawingView) -> float:
    """The front of blank and part, whichever stands farther out, z."""
    return max(view.cuts.frame.front, view.cuts.frame.front_of_part)


def _tool_right(view: DrawingView) -> float:
    """How far the tool reaches away from the chuck near the work, z."""
    return view.nose.x + view.tool.edge.toward_end + (0 if view.tool.edge.cuts_both_ways else view.tool.nose_radius)


def _section(view: DrawingView, place: Place) -> Section:
    """The part with the stretch of bar that is drawn behind it."""
    job = view.cuts.job
    return section_of(job.part, job.shop.stock, view.cuts.frame.back - TAIL / place.scale)


def _metal(view: DrawingView, place: Place) -> list[str]:
    """Hatching where the part is cut through, red pencil where metal has to go."""
    kept = shapely.union(shapely.intersection(view.metal, view.cuts.part), _section(view, place).bar)
    to_go = on_paper(view.cuts.to_go(view.metal), place)
    solid = on_paper(kept, place)
    pieces = [path(hatching(solid), "hatch")]
    if view.cuts.bore:
        whole = shapely.union(view.cuts.part, _section(view, place).bar)
        pieces.append(path(hatching(on_paper(whole, place.other_half)), "hatch"))
    if region_path(to_go):
        inside = [
            path(region_path(to_go), "to-go"),
            path(hatching(to_go, 1.1, -45.0), "to-go-hatch"),
            path(region_path(to_go), "red"),
        ]
        pieces.append(group(inside, label="Metal that still has to go"))
    return pieces


def _lines(view: DrawingView, place: Place, layout: Layout) -> list[str]:
    """Edges, axis, the piece as it was, the bar broken off behind."""
    stock, back, right = view.cuts.job.shop.stock, view.cuts.frame.back, _right(view)
    section = _section(view, place)
    end, pieces = section.end, []
    for half in (place, place.other_half):
        pieces += [path(d, "edge") for d in section.edges(half)]
        pieces += [path(d, "unseen") for d in section.unseen(half)]
        pieces.append(path(section.blank(half), "stock"))
    held = place.at(centre_end(view.cuts, place, layout.area[2]), 0)[0]
    axis = (place.at(end, 0)[0] - 4, max(place.at(right, 0)[0] + 6, held + 4))
    top, low = place.at(end, stock.radius), place.at(end, -stock.radius)
    pieces += [
        line((axis[0], place.y0), (axis[1], place.y0), "axis"),
        path(break_line(top, low), "thin"),
        *(circle(place.at(*p), 0.55, "mark") for p in view.settings),
        *_stock_name(view, place, layout),
    ]
    below = place.other_half
    for p in section.corners:
        layout.add_line([below.at(p.x, 0), below.at(*p)])
    layout.add_line([below.at(*p) for p in view.outline.flattened(0.01)])
    layout.add_line([(axis[0], place.y0), (axis[1], place.y0)])
    layout.add_line([below.at(end, stock.radius), below.at(back, stock.radius)])
    layout.add_line([(top[0], top[1]), (low[0], low[1])])
    for half in (place, below):
        layout.add_line([half.at(*p) for p in section.blank_points])
    layout.add_line([place.at(*p) for p in view.outline.flattened(0.01)])
    return pieces


def _stock_name(view: DrawingView, place: Place, layout: Layout) -> list[str]:
    """The size of bar or piece in words, on its line."""
    stock = view.cuts.job.shop.stock
    level = stock.radius
    what = "bar" if stock.outline is None else "piece"
    words = f"{what} Ø {plain_size(2 * level, view.unit)}"
    x, y = place.at(view.cuts.frame.back - TAIL / place.scale, level)
    at, anchor = _beside_the_tool(view, place, (x + 2, y - 3), breadth(words, SIZE))
    layout.add_words(box_of(text_box(at, words, SIZE, anchor)))
    return [text(at, words, SIZE, cls="halo", anchor=anchor)]


def _beside_the_tool(view: DrawingView, place: Place, at: XY, wide: float) -> tuple[XY, Anchor]:
    """Words that begin at `at`, or end before the tool where it stands over them; it fills what is above the bar."""
    stands = [view.nose, *([view.moved_from] if view.moved_from is not None else [])]
    if view.cuts.bore:
        return at, "start"
    band = shapely.box(-1e4, at[1] - SIZE / 2, 1e4, at[1] + SIZE / 2)
    tools = [on_paper(hull_of(view.cuts.shapes[view.tool.name], stands), place)]
    bodies = [on_paper(body, place) for nose in stands for body in _bodies(view, nose)]
    left, _, right, _ = shapely.intersection(shapely.union_all(tools + bodies), band).bounds
    if not (left - _CLEAR < at[0] + wide and right + _CLEAR > at[0]):
        return at, "start"
    return ((left - _CLEAR, at[1]), "end") if left - _CLEAR > wide else ((right + _CLEAR, at[1]), "start")


def _tool(view: DrawingView, place: Place, room: Area, layout: Layout, key: str) -> list[str]:
    """The tool in blue pencil, where it came from dashed, the nose centre as a cross."""
    bore = view.cuts.bore
    long = 200.0
    low = place.y0 - 0.5 if bore else room.y + room.height
    name = f"{key}-tool"
    window = (room.x, room.y, room.width, room.height)
    outline = tool_path(view.tool, view.nose, place, long, bore=bore)
    bodies = _bodies(view, view.nose)
    edges = [path(outline + "Z", "tool-fill"), path(outline, "tool")]
    inside = [*before_carriers(edges, bodies, place, window, f"{name}-edges", bore=bore), *draw_carriers(bodies, place)]
    if view.moved_from is not None:
        ghost = [path(tool_path(view.tool, view.moved_from, place, long, bore=bore), "ghost")]
        left_behind = _bodies(view, view.moved_from)
        inside = [*before_carriers(ghost, left_behind, place, window, f"{name}-ghost", bore=bore), *inside]
    seen = shapely.intersection(
        on_paper(shapely.union_all([hull_of(view.cuts.shapes[view.tool.name], [view.nose]), *bodies]), place),
        shapely.box(room.x, room.y, room.x + room.width, low),
    )
    layout.add_region(seen)
    x, y = place.at(*view.nose)
    # The nose centre of a form tool is a place of ours that no one looks for on the tool.
    arm = min(3.0, 0.6 * view.tool.nose_radius * place.scale) if view.tool.outline is None else 0.0
    arms = [line((x - arm, y), (x + arm, y), "tool-thin"), line((x, y - arm), (x, y + arm), "tool-thin")]
    cross = arms if arm else []
    return [
        clip(name, rect(room.x, room.y, room.width, low - room.y, "")),
        group([*inside, *cross], clip_to=name, label=f"The tool: {view.tool.name}"),
    ]


def _bodies(view: DrawingView, nose: Point) -> list[Region]:
    return carriers(view.tool, view.cuts.job.shop.lathe, nose, bore=view.cuts.bore)


def _in_words(view: DrawingView, missing: list[str], x: float, low: float) -> list[str]:
    """What the lines mean, from `low` upward."""
    when = f"After move {view.n} of {len(view.plan.moves)}" if view.n and view.plan else "Before the first move"
    room = 2 * DETAIL + 8
    rows = (
        *([("", shortened(f"no room for {', '.join(missing)}", SIZE, room))] if missing else []),
        ("", when),
        ("tool", shortened(view.tool.name, SIZE, room - 12)),
        ("to-go", "metal still to go"),
        ("stock", "the piece as it was"),
        ("mark", "where the nose touches"),
    )
    pieces = []
    for k, (cls, words) in enumerate(reversed(rows)):
        y = low - 6.0 * k
        pieces += [*_swatch(cls, x, y), text((x + (12 if cls else 0), y), words, SIZE)]
    return pieces


def _swatch(cls: str, x: float, y: float) -> list[str]:
    """A short piece of a line or of a filling."""
    if not cls:
        return []
    if cls == "mark":
        return [circle((x + 4.5, y), 0.55, cls)]
    if cls == "stock":
        return [line((x, y), (x + 9.5, y), cls)]
    box = shapely.box(x, y - 1.6, x + 9, y + 1.6)
    if cls == "tool":
        return [path(region_path(box), "tool-fill"), path(region_path(box), cls)]
    return [path(region_path(box), cls), path(hatching(box, 1.1, -45.0), "to-go-hatch"), path(region_path(box), "red")]
