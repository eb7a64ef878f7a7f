"""One move seen from near: the tool where it starts and where it stops, the metal that goes, the part beside it."""

from dataclasses import dataclass

import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.model import Move
from ovolo.shop.tools import Tool
from ovolo.show.drawing.holding import before_carriers, carriers, draw_carriers, draw_centre
from ovolo.show.paper.cuts import Cuts, Region, polygons, tool_of
from ovolo.show.paper.shapes import Place, common, hatching, less, on_paper, outline_path, region_path, tool_path
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import arrow, clip, document, group, line, path, rect
from ovolo.show.words.figures import slide_name

__all__ = ["CloseUpView", "close_up_as_svg", "close_up_view", "draw_close_up"]

AROUND = 0.35
"""Air around what the move does, as a share of it."""

LEAST = 0.9
"""At least so many nose radii are seen across."""


@dataclass(frozen=True)
class CloseUpView:
    """A move with the metal before it and what it takes, regions of (z, r) in mm; `seen` is the window on them."""

    cuts: Cuts
    move: Move
    tool: Tool
    before: Region
    chip: Region
    seen: tuple[float, float, float, float]


def close_up_view(cuts: Cuts, n: int) -> CloseUpView:
    """The close-up of a move by its number."""
    move = cuts.plan.moves[n - 1]
    tool, chip = tool_of(cuts.plan, move), cuts.chips[n - 1]
    return CloseUpView(cuts, move, tool, cuts.after(n - 1), chip, _window(cuts, move, tool, chip))


def _window(cuts: Cuts, move: Move, tool: Tool, chip: Region) -> tuple[float, float, float, float]:
    """What has to be seen, (least z, least r, greatest z, greatest r): the chip and the end of the nose."""
    inward = -1.0 if not cuts.bore else 1.0
    tip = Point(move.end.x, move.end.y + inward * tool.nose_radius)
    pieces = polygons(chip)
    shown: Region = shapely.union_all([*pieces, shapely.Point(tip)]) if pieces else _path_of(move, inward, tool)
    z0, r0, z1, r1 = shown.bounds
    least = LEAST * tool.nose_radius
    grow = max(AROUND * max(z1 - z0, r1 - r0), least / 2)
    return z0 - grow, r0 - grow, z1 + grow, r1 + grow


def _path_of(move: Move, inward: float, tool: Tool) -> Region:
    ends = [(p.x, p.y + inward * tool.nose_radius) for p in (move.start, move.end)]
    return shapely.LineString(ends)


def close_up_as_svg(
    view: CloseUpView, width: float = 100.0, height: float = 56.0, *, mode: Mode = "paper", key: str = "close-up"
) -> str:
    """The close-up as a picture of its own; key: a word that no other drawing on the same page has."""
    move = view.move
    title = f"Move {move.n}: {slide_name(move.slide)} {move.toward} to {move.shown}"
    body = [rect(0, 0, width, height, "ground"), *draw_close_up(view, width, height, key)]
    return document(
        width, height, title, "The tool where the move starts, dashed, and where it stops", body, style(mode)
    )


def draw_close_up(view: CloseUpView, width: float, height: float, key: str) -> list[str]:
    """The pieces, in a rectangle at the origin."""
    place = _placed(view, width, height)
    window = shapely.box(0, 0, width, height)
    metal = common(on_paper(_with_bar(view), place), window)
    chip = common(on_paper(view.chip, place), window)
    kept = common(on_paper(view.cuts.part, place), window)
    to_go = less(metal, kept)
    long = 3 * (view.seen[3] - view.seen[1]) + 4 * view.tool.nose_radius + height / place.scale
    bore = view.cuts.bore
    stops = tool_path(view.tool, view.move.end, place, long, bore=bore)
    lathe, whole = view.cuts.plan.job.shop.lathe, (0.0, 0.0, width, height)
    bodies, before = (carriers(view.tool, lathe, p, bore=bore) for p in (view.move.end, view.move.start))
    ghost = [path(tool_path(view.tool, view.move.start, place, long, bore=bore), "ghost")]
    pieces = [
        path(hatching(metal), "hatch"),
        path(region_path(to_go), "thin"),
        path(outline_path(view.cuts.plan.job.part.outline, place), "edge"),
        line((0, place.y0), (width, place.y0), "axis"),
        *draw_centre(view.cuts, place, width + height),
        *before_carriers(ghost, before, place, whole, f"{key}-ghost", bore=bore),
        *before_carriers([path(stops + "Z", "tool-fill")], bodies, place, whole, f"{key}-fill", bore=bore),
        path(region_path(chip), "to-go"),
        path(hatching(chip, 1.1, -45.0), "to-go-hatch"),
        path(region_path(chip), "red"),
        *before_carriers([path(stops, "tool")], bodies, place, whole, f"{key}-edges", bore=bore),
        *draw_carriers(bodies, place),
        *_way(view, place, width, height),
    ]
    return [clip(key, rect(0, 0, width, height, "")), group(pieces, clip_to=key)]


def _with_bar(view: CloseUpView) -> Region:
    """The metal before the move, with the bar behind the part."""
    frame, stock = view.cuts.frame, view.cuts.plan.job.shop.stock
    low = stock.hole / 2 if view.cuts.bore else 0.0
    bar = shapely.box(frame.back - 2 * stock.radius, low, frame.back, stock.radius)
    return shapely.union(view.before, bar)


def _placed(view: CloseUpView, width: float, height: float) -> Place:
    z0, r0, z1, r1 = view.seen
    scale = min(width / (z1 - z0), height / (r1 - r0))
    return Place(width / 2 - scale * (z0 + z1) / 2, height / 2 + scale * (r0 + r1) / 2, scale)


def _way(view: CloseUpView, place: Place, width: float, height: float) -> list[str]:
    """An arrow inside the tool, the way it goes."""
    (x0, y0), (x1, y1) = place.at(*view.move.start), place.at(*view.move.end)
    size = max(abs(x1 - x0), abs(y1 - y0), 1e-9)
    ux, uy = (x1 - x0) / size, (y1 - y0) / size
    x, y = min(max(x1, 8), width - 8), min(max(y1, 8), height - 8)
    tail = (x - 6 * ux, y - 6 * uy)
    tip = (x + 3 * ux, y + 3 * uy)
    return [
        line(tail, (tip[0] - 2 * ux, tip[1] - 2 * uy), "tool"),
        arrow(tip, (ux, uy), 3.4).replace('"arrow"', '"way"'),
    ]
