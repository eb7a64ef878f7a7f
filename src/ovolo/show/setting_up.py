"""Setting up: what has to be right before the first move, with this job's own figures.

How a tool is touched off follows from its reference point: the lines that touch the nose, one square to the axis on
the side that leads, one parallel to it. A surface that the nose has just cut lies on one of these lines, so the figure
to enter there is the size of that surface, whatever the nose radius. Shop rules without a source are common practice.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain
from textwrap import wrap

from ovolo.documents.resolved import unit_of
from ovolo.plan.model import Move, Plan
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool
from ovolo.show.figures import decimals, figure_text, in_units, length_text, slide_name, unit_of_slide
from ovolo.units import DEGREE, INCH, Unit, format_figure

__all__ = ["Item", "SettingUp", "setting_up", "setting_up_as_text"]

OVERHANG = 3.0
"""A bar that stands out further than so many diameters wants support (common practice, no source)."""

SKIM = 0.2
"""Less to spare than this on the bar's diameter, mm, and it is not skimmed to find its size."""

_WIDTH = 96


@dataclass(frozen=True)
class Item:
    """One thing to set up: what it is about, and what to do, a sentence or two a line."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class SettingUp:
    """Everything ahead of the first move, in the order in which it is done."""

    title: str
    items: tuple[Item, ...]


def setting_up(plan: Plan) -> SettingUp:
    """The setting-up of a plan: bar, tools, clearance, slides, touching off, the stop after roughing, cautions."""
    job = plan.job
    return SettingUp(
        job.title,
        (
            Item("The bar", tuple(_bar(plan))),
            Item("The tools" if len(plan.tools) > 1 else "The tool", tuple(_tools(plan))),
            Item("Clearance, spindle stopped", tuple(_clearance(plan))),
            Item("How the cross slide must read", tuple(_reading(job.shop.cross))),
            Item("How the saddle must read", tuple(_reading(job.shop.saddle))),
            *_touching_off(plan),
            *_past_the_middle(plan),
            *_after_roughing(plan),
            Item("Cautions", _CAUTIONS),
        ),
    )


def setting_up_as_text(view: SettingUp) -> str:
    """The same for a terminal, numbered, wrapped at 100 columns."""
    lines = [view.title, "=" * len(view.title), "", "Setting up", ""]
    for n, item in enumerate(view.items, 1):
        lines.append(f"{n:2}. {item.title}")
        lines += chain.from_iterable(_wrapped(line) for line in item.lines)
    return "\n".join([*lines, ""])


def _wrapped(line: str) -> list[str]:
    """A figure stays on one line with its sign and its unit."""
    tied = _TIED.sub("\N{NO-BREAK SPACE}", line)
    parts = wrap(tied, _WIDTH, initial_indent="    ", subsequent_indent="    ", break_on_hyphens=False)
    return [part.replace("\N{NO-BREAK SPACE}", " ") for part in parts]


_TIED = re.compile(r"(?<=[ØR]) (?=[-0-9])|(?<=[0-9]) (?=mm\b|in\b)")

_CAUTIONS = (
    "Eye protection; no gloves, rings, loose sleeves or hair near the work; chuck key out before the spindle turns.",
    "Stop the spindle to measure, to clear chips and to touch with paper.",
    "Your lathe's manual, the rules of your workshop and a trained person's word come before this sheet.",
)


def _bar(plan: Plan) -> Iterator[str]:
    stock, unit = plan.job.shop.stock, unit_of(plan.job)
    hole = f" with its hole of Ø {length_text(stock.hole, unit)}" if stock.hole else ""
    bar = f"the bar of Ø {length_text(2 * stock.radius, unit)}{hole}"
    if stock.stick_out is None:
        length = length_text(stock.proud - plan.job.part.outline.bounds()[0], unit)
        yield (
            f"Chuck {bar}. How far it sticks out is not in the job (stock.stick_out), so the chuck is not checked: "
            f"leave more than {length} in front of the jaws, and room for the tool behind that."
        )
        return
    out = stock.stick_out + stock.proud
    yield (
        f"Chuck {bar} so that {length_text(out, unit)} stand in front of the jaws, of which "
        f"{length_text(stock.proud, unit)} stand proud of the finished end (z = 0)."
    )
    if out > OVERHANG * 2 * stock.radius:
        times = out / (2 * stock.radius)
        yield f"It stands out {times:.1f} times its diameter: support it, or take lighter cuts (common practice)."


def _tools(plan: Plan) -> Iterator[str]:
    unit = unit_of(plan.job)
    for tool in plan.tools:
        yield f"{tool.name}: {_described(tool, unit)}."
    yield "Shim it to centre height until a facing cut leaves no pip in the middle."


def _described(tool: Tool, unit: Unit) -> str:
    nose = f"nose radius {length_text(tool.nose_radius, unit)}"
    if tool.kind == "round":
        return f"round nose, {nose}, square to the axis"
    edge, point = tool.edge_angle / DEGREE, tool.point_angle / DEGREE
    return f"{tool.hand}-hand, {nose}, cutting edge angle {edge:g}°, included angle {point:g}°"


def _clearance(plan: Plan) -> Iterator[str]:
    yield "Wind through the extreme positions by hand before the first cut, and turn the chuck once by hand at each."
    if not plan.moves:
        return
    unit, tools = unit_of(plan.job), {tool.name: tool for tool in plan.tools}
    saddle = plan.job.shop.saddle
    move = min(plan.moves, key=lambda move: move.end.x - tools[move.tool].nose_radius)
    tool = tools[move.tool]
    reads = figure_text(saddle, move.end.x + tool.reference[0])
    nearest = move.end.x - tool.nose_radius
    if plan.job.shop.stock.stick_out is None:
        yield f"Nearest to the chuck the saddle reads {reads}: check that tool, holder and slides clear the jaws there."
    else:
        gap = length_text(nearest + plan.job.shop.stock.stick_out, unit)
        yield (
            f"Nearest to the chuck the saddle reads {reads}, the nose {gap} from the jaws: check that holder and "
            "slides clear."
        )


def _reading(slide: Slide) -> Iterator[str]:
    name, unit = slide_name(slide.name), unit_of_slide(slide)
    way = "out" if slide.name == "cross" else "away from the chuck"
    rises = "rise" if slide.factor > 0 else "fall"
    count = format_figure(slide.count, unit, decimals(slide))
    kind = f"a {slide.reads}" if slide.name == "cross" else "a length"
    grows = {"out": "outward", "in": "inward", "away": "away from the chuck", "toward": "toward the chuck"}[slide.grows]
    yield f"It reads {kind} in {in_units(unit)}, grows {grows}, and can be set to {count}."
    check = f"Check: wind the {name} {way} one turn: the figure must {rises} by"
    if slide.per_turn is not None:
        yield f"{check} {format_figure(slide.per_turn * abs(slide.factor), unit, decimals(slide))}."
    else:
        turn = 2.0 if unit == "mm" else 0.1 * INCH
        by = format_figure(turn * abs(slide.factor), unit, decimals(slide))
        times = "twice what" if abs(slide.factor) == 2 else "what"
        yield f"{check} {times} a turn moves the slide, such as {by} for a turn of {length_text(turn, unit)}."
    if slide.backlash and slide.on_dial:
        lost = length_text(slide.backlash, unit)
        yield f"Its screw has {lost} of lost motion: come to every figure from the same side."


def _touching_off(plan: Plan) -> Iterator[Item]:
    for tool in plan.tools:
        name = f" with {tool.name}" if len(plan.tools) > 1 else ""
        yield Item(f"Touch off{name}", tuple(chain(_diameter(plan, tool), _face(plan, tool))))


def _entered(slide: Slide) -> str:
    """A measured diameter, as the cross slide would show it."""
    size = "the diameter as measured" if slide.reads == "diameter" else "half the diameter as measured"
    return size if slide.factor > 0 else f"{size}, with a minus sign"


def _diameter(plan: Plan, tool: Tool) -> Iterator[str]:
    stock, cross, unit = plan.job.shop.stock, plan.job.shop.cross, unit_of(plan.job)
    bore = plan.job.part.surface == "bore"
    radius = stock.hole / 2 if bore else stock.radius
    sign = -1 if bore else 1
    bounds = plan.job.part.outline.bounds()
    spare = 2 * (bounds[1] - stock.hole / 2) if bore else 2 * (stock.radius - bounds[3])
    surface = "hole" if bore else "bar"
    if spare >= SKIM:
        trial = radius - sign * min(spare / 4, SKIM)
        yield (
            f"Diameter: skim a short length of the {surface} with this very tool, stop the spindle, measure it, and "
            f"without moving the cross slide enter {_entered(cross)}. A skim that measures "
            f"Ø {length_text(2 * trial, unit)} is entered as {figure_text(cross, trial)}."
        )
    else:
        yield f"Diameter: the {surface} is at its finished size already, so do not skim it."
    rank = "Second best" if spare >= SKIM else "Instead"
    yield f"{rank}: paper between tool and {surface}, spindle stopped; {_paper(cross, radius, sign, unit)}."


def _paper(cross: Slide, radius: float, sign: int, unit: Unit) -> str:
    """What to enter where measured paper just drags on the bar or in the hole."""
    twice = "twice the paper's measured thickness" if cross.reads == "diameter" else "the paper's measured thickness"
    more = "more" if cross.factor * sign > 0 else "less"
    return f"where Ø {length_text(2 * radius, unit)} is measured, enter {figure_text(cross, radius)} and {twice} {more}"


def _face(plan: Plan, tool: Tool) -> Iterator[str]:
    stock, saddle = plan.job.shop.stock, plan.job.shop.saddle
    figure = figure_text(saddle, stock.proud)
    if tool.reference[0] > 0:
        yield (
            "Length: this hand cannot face the end. Spindle stopped, hold a parallel flat against the end face so that "
            f"it overhangs, bring the tool against it from the chuck's side, and enter {figure}."
        )
    elif stock.proud > 0:
        yield (
            "Length: skim the end face with this very tool until it is just clean, and without moving the saddle enter "
            f"{figure}: so far the skimmed face stands from the finished end."
        )
    else:
        yield "Length: the end face is finished already, so do not skim it."
    if tool.reference[0] < 0:
        more = "more" if saddle.factor > 0 else "less"
        rank = "Second best" if stock.proud > 0 else "Instead"
        yield (
            f"{rank}: paper between tool and end face, spindle stopped; enter {figure} and the paper's measured "
            f"thickness {more}."
        )


def _past_the_middle(plan: Plan) -> Iterator[Item]:
    """Only where the nose passes the axis with its own lower side."""
    past = [
        tool
        for tool in plan.tools
        if plan.job.part.surface == "outside"
        and any(move.tool == tool.name and move.end.y < tool.nose_radius - 1e-9 for move in plan.moves)
    ]
    if past:
        yield Item("Figures past the middle", tuple(_why_past(plan, tool) for tool in past))


def _why_past(plan: Plan, tool: Tool) -> str:
    radius, reads = _bare(tool, unit_of(plan.job)), figure_text(plan.job.shop.cross, -tool.nose_radius)
    return (
        f"The figures look at the lowest line of the nose. With the centre of a nose of R {radius} on the axis, that "
        f"line lies {radius} past it, so the cross slide reads {reads}: this is right, the nose just reaches the "
        "middle."
    )


def _bare(tool: Tool, unit: Unit) -> str:
    text = format_figure(tool.nose_radius, unit, 4)
    return text.rstrip("0").rstrip(".")


def _after_roughing(plan: Plan) -> Iterator[Item]:
    passes = [move for move in plan.moves if move.stage == "rough" and move.cuts and move.slide == "saddle"]
    finishing = next((move for move in plan.moves if move.stage == "finish"), None)
    if not passes or finishing is None:
        return
    longest = max(passes, key=lambda move: move.travel)
    yield Item(f"Stop after roughing, before move {finishing.n}", tuple(_correction(plan, longest)))


def _correction(plan: Plan, move: Move) -> Iterator[str]:
    cross, saddle, unit = plan.job.shop.cross, plan.job.shop.saddle, unit_of(plan.job)
    tool = next(tool for tool in plan.tools if tool.name == move.tool)
    bore = plan.job.part.surface == "bore"
    radius = move.end.y + (tool.nose_radius if bore else -tool.nose_radius)
    share = "that much" if cross.reads == "diameter" else "half of that"
    more = "more" if cross.factor > 0 else "less"
    yield (
        f"Measure the diameter that move {move.n} has left, near its end at the chuck: it should be "
        f"Ø {length_text(2 * radius, unit)}. If it is larger, make the cross slide show {share} {more} where it "
        "stands; if smaller, the other way."
    )
    further = "less" if saddle.factor > 0 else "more"
    yield (
        "Measure one length too. Where a shoulder stands nearer to the chuck than its figure says, make the saddle "
        f"show that much {further} where it stands; if further from it, the other way."
    )
