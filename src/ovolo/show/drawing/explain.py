"""A picture for teaching, with the plan's own figures: the nose counts, what two settings leave, one slide at a time.

Three panels on one sheet; each shows one idea and says it in a few sentences.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from ovolo.errors import CannotPlan, Fault
from ovolo.geometry.chain import Chain
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.predict.forecast.settings import Setting, apex, gaps, settings_of
from ovolo.shop.tools import Tool
from ovolo.show.drawing.half_section import Area
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.layout import Candidate, Layout, box_of
from ovolo.show.paper.lettering import wrapped
from ovolo.show.paper.shapes import Place, common, hatching, less, on_paper, outline_path, region_path, tool_path
from ovolo.show.paper.style import Mode, style
from ovolo.show.paper.svg import XY, arrow, circle, clip, document, group, line, path, rect, text, text_box
from ovolo.show.words.figures import figure_text, ridge_text, slide_name
from ovolo.units import format_figure

__all__ = ["ExplainView", "explain_as_svg", "explain_view"]

SIZE = 3.6
_HEAD = 5.0
_PICTURE = 74.0
_SMOOTH = 0.9999
"""Pieces whose directions have at least this cosine between them join smoothly."""


@dataclass(frozen=True)
class ExplainView:
    """What the picture is drawn from: two neighbouring settings, and the moves of a few.

    `stray` is what is left (more than 0) or cut too deep (less) where the figures of a point are set with this nose;
    `spacing` and `ridge` belong to the two settings; lengths in mm.
    """

    cuts: Cuts
    tool: Tool
    one: Setting
    other: Setting
    ridge: float
    spacing: float
    stray: float
    steps: tuple[Move, ...]


def explain_view(plan: Plan) -> ExplainView:
    """The view of a plan. Raises CannotPlan where it has fewer than two settings made with one nose."""
    cuts = Cuts(plan)
    settings, heights = settings_of(plan), gaps(cuts.frame, settings_of(plan))
    tools = {move.n: move.tool for move in plan.moves}
    pairs = [
        (abs(math.cos(2 * one.normal)), one, other, height)
        for (one, other), height in zip(pairwise(settings), heights, strict=True)
        if tools.get(one.move) == tools.get(other.move) and other.place - one.place > 1e-6 and one.nose_radius > 0
    ]
    if not pairs:
        says = "there are not two settings side by side, made with a nose, to explain anything by"
        remedy = "Ask for a lower ridge, or use a tool with a nose"
        raise CannotPlan([Fault("finish.ridge", len(settings), "2 or more", says, remedy)])
    smooth = [pair for pair in pairs if _on_one_stretch(cuts.frame.chain, pair[1], pair[2])]
    _, one, other, ridge = min(smooth or pairs, key=lambda pair: pair[0])
    tool = next(tool for tool in plan.tools if tool.name == tools[one.move])
    return ExplainView(
        cuts,
        tool,
        one,
        other,
        ridge,
        math.dist(one.foot, other.foot),
        _stray(cuts, tool, one),
        _steps(plan, one, other),
    )


def _on_one_stretch(chain: Chain, one: Setting, other: Setting) -> bool:
    """Whether no corner lies between two settings: across a rim there is no ridge that this picture could explain."""
    (first, last), _ = chain.locate(np.array([one.place, other.place]))
    if np.any(chain.is_arc[first : last + 1] & (chain.radius[first : last + 1] == 0.0)):
        return False
    k = np.arange(first, last)
    before, after = chain.normals(k, chain.size[k]), chain.normals(k + 1, np.zeros(len(k)))
    return bool(np.all(before[0] * after[0] + before[1] * after[1] > _SMOOTH))


def _stray(cuts: Cuts, tool: Tool, setting: Setting) -> float:
    """How far the nose ends up from the outline when its reference point is brought onto it."""
    reference_x, reference_y = tool.reference
    centre = Point(setting.foot.x - reference_x, setting.foot.y - reference_y)
    border = shapely.LineString(cuts.frame.outline.flattened(1e-4))
    return float(border.distance(shapely.Point(centre))) - tool.nose_radius


def _steps(plan: Plan, one: Setting, other: Setting) -> tuple[Move, ...]:
    """The last move of the earlier setting and what follows, three settings in all."""
    first = min(one.move, other.move)
    after = [move for move in plan.moves if move.n > first]
    marks = [k for k, move in enumerate(after) if move.station is not None][:3]
    return tuple(after[: marks[-1] + 1][:6]) if marks else ()


def explain_as_svg(view: ExplainView, *, mode: Mode = "paper", key: str = "explain") -> str:
    """The picture, 297 mm by 150 mm; key: a word that no other drawing on the same page has."""
    width, height = 297.0, 150.0
    panels = (_nose, _ridges, _stepping)
    third = (width - 20) / 3
    body = [rect(0, 0, width, height, "ground")]
    for k, panel in enumerate(panels):
        area = Area(10 + k * third + (2 if k else 0), 10, third - 6, height - 20)
        body += panel(view, area, f"{key}-{k}")
        if k:
            body.append(line((area.x - 5, 10), (area.x - 5, height - 10), "hair"))
    title = f"How {view.cuts.plan.job.title} is stepped"
    says = "Why the nose counts, what two settings leave, and how one slide at a time leads from setting to setting"
    return document(width, height, title, says, body, style(mode))


def _panel(area: Area, head: str, sentences: Sequence[str], picture: Sequence[str], name: str) -> list[str]:
    """A heading, the picture in its frame, the sentences below."""
    top = area.y + 9
    pieces = [
        text((area.x, area.y + 2), head, _HEAD, cls="strong"),
        clip(name, rect(area.x, top, area.width, _PICTURE, "")),
        group(picture, clip_to=name, label=head),
        rect(area.x, top, area.width, _PICTURE, "hair"),
    ]
    y = top + _PICTURE + 6
    for sentence in sentences:
        for words in wrapped(sentence, SIZE, area.width):
            pieces.append(text((area.x, y), words, SIZE))
            y += SIZE * 1.35
        y += 1.4
    return pieces


def _at(view: ExplainView, point: Point) -> Point:
    """A point of the planner's frame as (z, r)."""
    return view.cuts.frame.place(*point)


def _metal(view: ExplainView, place: Place, area: Area) -> list[str]:
    window = shapely.box(area.x, area.y, area.x + area.width, area.y + area.height)
    part = common(on_paper(view.cuts.part, place), window)
    return [path(hatching(part), "hatch"), path(outline_path(view.cuts.plan.job.part.outline, place), "edge")]


def _centred(middle: Point, across: float, area: Area, down: float = 0.5) -> Place:
    """A place that shows `across` mm of metal, with `middle` in the middle (`down` of the picture's height)."""
    scale = area.width / across
    x, y = area.x + area.width / 2, area.y + 9 + down * _PICTURE
    return Place(x - scale * middle.x, y + scale * middle.y, scale)


def _nose(view: ExplainView, area: Area, name: str) -> list[str]:
    """The nose where it belongs, and where the figures of a point would put it."""
    tool, bore = view.tool, view.cuts.bore
    r, foot, centre = tool.nose_radius, _at(view, view.one.foot), _at(view, view.one.centre)
    side = -1 if bore else 1
    reference = Point(centre.x + tool.reference[0], centre.y + side * tool.reference[1])
    wrong = Point(foot.x - tool.reference[0], foot.y - side * tool.reference[1])
    place = _centred(foot, 6.2 * r, area, 0.56 if not bore else 0.44)
    long = 6 * r
    at, tip, corner = place.at(*centre), place.at(*foot), place.at(*reference)
    shape = tool_path(tool, centre, place, long, bore=bore)
    picture = [
        *_metal(view, place, area),
        path(tool_path(tool, wrong, place, long, bore=bore), "ghost"),
        path(shape + "Z", "tool-fill"),
        path(shape, "tool"),
        line(at, tip, "tool-thin"),
        line((corner[0], corner[1] - side * 1.25 * r * place.scale), corner, "tool-thin"),
        line(corner, (corner[0] + math.copysign(1.25 * r * place.scale, -tool.reference[0]), corner[1]), "tool-thin"),
        circle(at, 0.7, "way"),
        circle(tip, 0.9, "mark"),
        circle(corner, 0.9, "red-dot"),
    ]
    job, unit = view.cuts.plan.job, view.cuts.plan.job.units
    fine = job.shop.fine
    cross, along = figure_text(job.shop.cross, reference.y), figure_text(fine, reference.x)
    off = ridge_text(abs(view.stray), unit)
    stray = f"leaves {off} standing" if view.stray > 0 else f"cuts {off} too deep"
    sentences = (
        f"The figures refer to the corner (dot) of the two lines that touch the nose, not at the place where it cuts "
        f"(ring). To touch at z {_short(view, foot.x)}, Ø {_short(view, 2 * foot.y)} the "
        f"{slide_name(fine.name)} reads {along}, the cross slide {cross}.",
        f"Setting that place itself, as for a tool without a nose (dashed), {stray} here.",
    )
    return _panel(area, "1  The nose counts", sentences, picture, name)


def _short(view: ExplainView, mm: float) -> str:
    unit = view.cuts.plan.job.units
    return format_figure(mm, unit, 2 if unit == "mm" else 3)


def _ridges(view: ExplainView, area: Area, name: str) -> list[str]:
    """Two settings side by side, and the metal between them."""
    bore = view.cuts.bore
    centres = [_at(view, setting.centre) for setting in (view.one, view.other)]
    feet = [_at(view, setting.foot) for setting in (view.one, view.other)]
    top = _at(view, apex(view.one.centre, view.one.nose_radius, view.other.centre, view.other.nose_radius))
    middle = Point((feet[0].x + feet[1].x) / 2, (feet[0].y + feet[1].y) / 2)
    place = _centred(middle, 2.2 * view.spacing, area)
    window = shapely.box(area.x, area.y + 9, area.x + area.width, area.y + 9 + _PICTURE)
    left = common(on_paper(view.cuts.left, place), window)
    ridges = less(left, common(on_paper(view.cuts.part, place), window))
    tools = [tool_path(view.tool, centre, place, 8 * view.tool.nose_radius, bore=bore) for centre in centres]
    picture = [
        *_metal(view, place, area),
        *(path(shape + "Z", "tool-fill") for shape in tools),
        path(region_path(ridges), "to-go"),
        path(hatching(ridges, 0.8, -45.0), "to-go-hatch"),
        path(region_path(ridges), "red"),
        path(outline_path(view.cuts.plan.job.part.outline, place), "edge"),
        path(tools[0], "tool"),
        path(tools[1], "tool"),
        *(circle(place.at(*foot), 0.9, "mark") for foot in feet),
        circle(place.at(*top), 0.9, "red-dot"),
    ]
    unit = view.cuts.plan.job.units
    sentences = (
        f"Two settings of this nose, {_short(view, view.spacing)} {unit} apart along the curve, leave a ridge of "
        f"{ridge_text(view.ridge, unit)} between them (dot), measured square to the outline.",
        "Twice as many settings would leave about a quarter of it. The file takes it away; what a nose has cut too "
        "deep nothing brings back.",
    )
    return _panel(area, "2  What two settings leave", sentences, picture, name)


def _stepping(view: ExplainView, area: Area, name: str) -> list[str]:
    """The nose on its way from setting to setting, one slide after the other."""
    moves = view.steps
    places = [move.end for move in moves] + [moves[0].start] if moves else [_at(view, view.one.centre)]
    z, r = [p.x for p in places], [p.y for p in places]
    reach = max(max(z) - min(z), max(r) - min(r), view.spacing)
    inward = 1 if view.cuts.bore else -1
    shift = 0.5 * view.tool.nose_radius * inward
    middle = Point((min(z) + max(z)) / 2 - 0.3 * view.tool.nose_radius, (min(r) + max(r)) / 2 + shift)
    place = _centred(middle, 1.5 * reach + 1.9 * view.tool.nose_radius, area)
    radius = view.tool.nose_radius * place.scale
    last = tool_path(view.tool, moves[-1].end, place, 8 * view.tool.nose_radius, bore=view.cuts.bore) if moves else ""
    picture = [*_metal(view, place, area)]
    picture += [circle(place.at(*move.start), radius, "ghost") for move in moves if move.cuts]
    picture += [path(last + "Z", "tool-fill"), path(last, "tool")] if moves else []
    layout = Layout((area.x, area.y + 9, area.x + area.width, area.y + 9 + _PICTURE))
    for k, move in enumerate(moves, 1):
        picture += _step(move, k, place, layout)
    sentences = [
        f"{k}  {slide_name(move.slide).capitalize()} {move.toward} to {_figure(move)}"
        for k, move in enumerate(moves, 1)
    ]
    sentences.append("Only one slide is wound at a time; the dots are the nose's middle.")
    return _panel(area, "3  One slide at a time", sentences, picture, name)


def _figure(move: Move) -> str:
    """The figure alone, where a dial says more."""
    return move.shown.split(": ")[0]


def _step(move: Move, k: int, place: Place, layout: Layout) -> list[str]:
    """A step of the nose's middle with its number, where there is room for it."""
    a, b = place.at(*move.start), place.at(*move.end)
    size = math.dist(a, b) or 1.0
    ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size
    head = arrow(b, (ux, uy), min(2.6, 0.6 * size)).replace('"arrow"', '"way"')
    layout.add_line([a, b])
    found = layout.first_free(_number(a, b, str(k)))
    return [line(a, b, "tool"), head, circle(a, 0.5, "mark"), *(found.pieces if found else ())]


def _number(a: XY, b: XY, words: str) -> Iterator[Candidate]:
    """Beside the step: level ones above or below, upright ones right or left, nearer first."""
    level = abs(b[0] - a[0]) > abs(b[1] - a[1])
    for reach in (2.6, 3.4, 4.6, 6.0):
        for share in (0.5, 0.3, 0.7, 0.0, 1.0):
            for side in (1, -1):
                x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
                at = (x, y - side * reach) if level else (x + side * reach, y)
                piece = text(at, words, 3.0, cls="strong halo", anchor="middle")
                yield Candidate((piece,), box_of(text_box(at, words, 3.0, "middle", strong=True)))
