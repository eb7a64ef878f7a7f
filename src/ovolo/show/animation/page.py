"""The cut as an animation: one HTML page that needs nothing from anywhere, to be played, stopped and stepped through.

The metal that a move takes vanishes behind the tool as it goes. Where the reader has asked for reduced motion nothing
glides: playing shows move after move.
"""

import json
from dataclasses import dataclass
from typing import Any, NamedTuple

import shapely
from jinja2 import Environment, StrictUndefined
from shapely import affinity

from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.shop.tools import Tool
from ovolo.show.drawing.holding import before_carriers, carriers, draw_carriers, draw_centre
from ovolo.show.paper.cuts import Cuts, tool_of
from ovolo.show.paper.section import Section, section_of
from ovolo.show.paper.shapes import Place, hatching, on_paper, region_path, tool_path
from ovolo.show.paper.style import INKS, style
from ovolo.show.paper.svg import XY, line, number, path, typeset_minus
from ovolo.show.paper.typeset import template
from ovolo.show.words.figures import slide_name
from ovolo.show.words.table import moves_table

__all__ = [
    "HEIGHT",
    "WIDTH",
    "AnimationView",
    "Caption",
    "animation_as_html",
    "animation_view",
    "captions",
    "drawn_over",
    "drawn_under",
    "tools_drawn",
]

WIDTH = 240.0
HEIGHT = 150.0
_EDGE = 8.0
_TAIL = 10.0


@dataclass(frozen=True)
class AnimationView:
    """The plan as regions, and where it lies on the picture."""

    cuts: Cuts
    place: Place

    @property
    def plan(self) -> Plan:
        """The plan that is played."""
        return self.cuts.plan


class Caption(NamedTuple):
    """What is said of a move: the stage it belongs to, and what is wound to what figure."""

    stage: str
    says: str


def animation_view(plan: Plan) -> AnimationView:
    """The view of a plan, as large as the picture allows with room for the tool."""
    cuts = Cuts(plan)
    frame, radius = cuts.frame, plan.job.shop.stock.widest
    wide = max((move.end.x for move in plan.moves), default=0.0)
    right = max(frame.front, wide) + max(tool.extent for tool in plan.tools)
    above = radius + min(3 * max(tool.nose_radius for tool in plan.tools), radius)
    below = 0.12 * radius
    scale = min((WIDTH - 2 * _EDGE - _TAIL) / (right - frame.back), (HEIGHT - _EDGE) / (above + below))
    return AnimationView(cuts, Place(_EDGE + _TAIL - scale * frame.back, HEIGHT - scale * below, scale))


def animation_as_html(view: AnimationView) -> str:
    """The page."""
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    page = environment.from_string(template("animation.html"))
    return page.render(
        title=view.plan.job.title,
        width=number(WIDTH),
        height=number(HEIGHT),
        still="\n".join(drawn_under(view)),
        chips=[region_path(on_paper(chip, view.place)) for chip in view.cuts.chips],
        tools=tools_drawn(view),
        over="\n".join(drawn_over(view)),
        style=style("page"),
        inks={name: ink._asdict() for name, ink in INKS.items()},
        script=template("animation.js"),
        data=json.dumps(_data(view), ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c"),
        count=len(view.plan.moves),
    )


def drawn_under(view: AnimationView) -> list[str]:
    """What does not change: the metal that stays, and the ridges that are left on it."""
    kept = on_paper(shapely.union(shapely.intersection(view.cuts.left, view.cuts.part), _section(view).bar), view.place)
    ridges = on_paper(view.cuts.to_go(view.cuts.left), view.place)
    return [
        path(hatching(kept), "hatch"),
        path(region_path(ridges), "to-go"),
        path(region_path(ridges), "red"),
    ]


def _section(view: AnimationView) -> Section:
    job = view.plan.job
    return section_of(job.part, job.shop.stock, view.cuts.frame.back - 2 * _TAIL / view.place.scale)


def drawn_over(view: AnimationView) -> list[str]:
    """Outline, bar, centre and axis, over the metal."""
    axis = view.place.at(0, 0)[1]
    return [
        *(path(d, "edge") for d in _section(view).edges(view.place)),
        *draw_centre(view.cuts, view.place, WIDTH + _EDGE),
        line((0, axis), (WIDTH, axis), "axis"),
    ]


def tools_drawn(view: AnimationView) -> list[str]:
    """Each tool about its own nose centre at the origin of the picture: its outline, and what carries it."""
    return ["".join(_tool_drawn(view, tool, f"tool-{k}")) for k, tool in enumerate(view.plan.tools)]


def _tool_drawn(view: AnimationView, tool: Tool, key: str) -> list[str]:
    origin, long, bore = Place(0.0, 0.0, view.place.scale), 2 * HEIGHT / view.place.scale, view.cuts.bore
    bodies = carriers(tool, view.plan.job.shop.lathe, Point(0, 0), bore=bore)
    outline = tool_path(tool, Point(0, 0), origin, long, bore=bore)
    window = (-2 * WIDTH, -2 * HEIGHT, 4 * WIDTH, 4 * HEIGHT)
    edges = [path(outline + "Z", "tool-fill"), path(outline, "tool")]
    # The nose centre of a form tool is a place of ours that no one looks for on the tool.
    cross = [path("M-3 0H3M0 -3V3", "tool-thin")] if tool.outline is None else []
    return [*before_carriers(edges, bodies, origin, window, key, bore=bore), *draw_carriers(bodies, origin), *cross]


def captions(plan: Plan) -> list[Caption]:
    """What is said of every move, in order."""
    rows = [(section.heading, row) for section in moves_table(plan).sections for row in section.rows]
    said = []
    for move, (heading, row) in zip(plan.moves, rows, strict=True):
        words = typeset_minus(f"{slide_name(move.slide).capitalize()} {move.toward} to {move.shown}")
        said.append(Caption(heading, words + (f", setting {row.setting}" if row.setting else "")))
    return said


def _data(view: AnimationView) -> dict[str, Any]:
    names = [tool.name for tool in view.plan.tools]
    moves = [
        {
            "tool": names.index(tool_of(view.plan, move).name),
            "from": _pair(view.place.at(*move.start)),
            "to": _pair(view.place.at(*move.end)),
            "stage": caption.stage,
            "says": caption.says,
            "cuts": move.cuts,
        }
        for move, caption in zip(view.plan.moves, captions(view.plan), strict=True)
    ]
    return {"moves": moves, "shapes": [_shape(view, name) for name in names]}


def _pair(point: XY) -> list[float]:
    return [round(point[0], 3), round(point[1], 3)]


def _shape(view: AnimationView, name: str) -> list[list[float]]:
    """A tool's cutting outline as points about its nose centre, on paper."""
    polygon = shapely.Polygon(view.cuts.shapes[name])
    scale = view.place.scale
    flat = shapely.simplify(affinity.affine_transform(polygon, [scale, 0, 0, -scale, 0, 0]), 0.03)
    return [_pair((x, y)) for x, y in list(flat.exterior.coords)[:-1]]
