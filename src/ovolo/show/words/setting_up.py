"""Setting up: what has to be right before the first move, with this job's own figures.

How tools are touched off is worded in `touching_off`. Shop rules without a source are common practice.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ovolo.plan.model import Plan
from ovolo.shop.shop import Stock
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool
from ovolo.show.words.clearance import clearance
from ovolo.show.words.figures import (
    decimals,
    dialled,
    division_text,
    figure_text,
    in_units,
    length_text,
    slide_name,
    unit_of_slide,
)
from ovolo.show.words.power_feed import power_feed
from ovolo.show.words.set_over import how_to_set_over
from ovolo.show.words.speeds import speeds
from ovolo.show.words.touching_off import standing_off, touching_off
from ovolo.units import DEGREE, INCH, Unit, format_figure

__all__ = ["Item", "SettingUp", "setting_up"]

OVERHANG = 3.0
"""A bar that stands out further than so many diameters wants support (common practice, no source)."""


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
    """The setting-up of a plan: bar, tools, speeds, clearance, slides, touching off, cautions."""
    job = plan.job
    return SettingUp(
        job.title,
        (
            Item(_work_title(plan), tuple(_bar(plan))),
            Item("The tools" if len(plan.tools) > 1 else "The tool", tuple(_tools(plan))),
            *(Item("Speed and feed to begin with", lines) for lines in (speeds(plan),) if lines),
            Item("Clearance, spindle stopped", tuple(clearance(plan))),
            *(Item(f"How the {slide_name(slide.name)} must read", tuple(_reading(slide))) for slide in _wound(plan)),
            *(Item("How the top slide must be set over", lines) for lines in (tuple(how_to_set_over(plan)),) if lines),
            *(Item(title, lines) for title, lines in touching_off(plan)),
            Item("To leave extra metal on", (standing_off(plan),)),
            *_past_the_middle(plan),
            *(Item("Power feed", lines) for lines in (power_feed(plan),) if lines),
            Item("Cautions", tuple(_cautions(plan))),
        ),
    )


def _cautions(plan: Plan) -> Iterator[str]:
    """The usual ones, and those for a hole."""
    *usual, last = _CAUTIONS
    yield from usual
    if plan.job.part.surface == "bore":
        yield from _IN_A_HOLE
    yield last


_IN_A_HOLE = (
    "No finger and no emery on a finger in a turning bore. Clear chips with the spindle stopped.",
    "What is polished out of a bore makes its diameter larger: cloth on a slotted stick, which the work may pull away.",
)

_CAUTIONS = (
    "Eye protection; no gloves, rings, loose sleeves or hair near the work; chuck key out before the spindle turns.",
    "Stop the spindle to measure, to clear chips and to touch with paper.",
    "Your lathe's manual, the rules of your workshop and a trained person's word come before this sheet.",
)


def _work_title(plan: Plan) -> str:
    """What the first item is about: in a bore the bar is the boring bar's."""
    if plan.job.shop.lathe.holding == "between centres":
        return "The work, between centres"
    return "The workpiece" if plan.job.part.surface == "bore" else "The bar"


def _bar(plan: Plan) -> Iterator[str]:
    stock, unit, holding = plan.job.shop.stock, plan.job.units, plan.job.shop.lathe.holding
    facing, carrier = stock.front, holding == "between centres"
    what = _piece(stock, unit, bore=plan.job.part.surface == "bore")
    begin, jaws = (f"Set {what} between centres", "carrier") if carrier else (f"Chuck {what}", "jaws")
    if stock.stick_out is None:
        length = length_text(facing - plan.job.part.outline.bounds()[0], unit)
        yield (
            f"{begin}, with more than {length} in front of the {jaws} and room for the tool behind that. How much "
            f"projects is not in the job (stock.stick_out), so nothing is kept off the {jaws}."
        )
    else:
        out = stock.stick_out + facing
        allowance = f"of which {length_text(facing, unit)} are facing allowance, in front of the finished end (z = 0)"
        finished = "its end face is the finished end (z = 0)"
        side = "in front of the carrier" if carrier else "projecting from the jaws"
        yield (f"{begin}, with {length_text(out, unit)} {side}{', ' + allowance if facing > 0 else '; ' + finished}.")
    if carrier:
        yield "Clamp the carrier, lock the tailstock's quill, and see that driving plate and carrier clear all slides."
    elif holding == "chuck and centre":
        yield "Bring the tailstock's centre into its hole, and clamp the tailstock, before anything is touched off."
    elif stock.stick_out is not None and (out := stock.stick_out + facing) > OVERHANG * 2 * stock.radius:
        times = out / (2 * stock.radius)
        yield f"It projects {times:.1f} times its diameter: support it, or take lighter cuts (common practice)."


def _piece(stock: Stock, unit: Unit, *, bore: bool) -> str:
    bar, thing = f"Ø {length_text(2 * stock.radius, unit)}", "workpiece" if bore else "bar"
    if stock.outline is not None and stock.hole:
        taken = f"taken to be {bar}, for stock.diameter is not in the job" if stock.assumed else bar
        return f"the piece as it is, its hole shaped already, by its outside ({taken})"
    if stock.outline is not None:
        return f"the piece as it is, shaped already, by its end of {bar}"
    hole = f" with its hole of Ø {length_text(stock.hole, unit)}" if stock.hole else ""
    return f"the {thing} of {bar}{hole}"


def _tools(plan: Plan) -> Iterator[str]:
    unit = plan.job.units
    for tool in plan.tools:
        yield f"{tool.name}: {', '.join(_described(tool, unit))}."
    if plan.job.part.surface == "bore":
        yield (
            "There is no pip in a hole: bring the nose to the height of a centre's point in the tailstock, or try it "
            "on scrap first, then shim it so."
        )
        return
    faces = [tool for tool in plan.tools if tool.reference[0] < 0]
    if faces:
        it = "it" if len(plan.tools) == 1 else "each"
        yield f"Shim {it} to centre height until a facing cut leaves no pip in the middle."
    if len(faces) < len(plan.tools):
        yield "A left-hand tool faces nothing: bring its nose to the height of a centre's point in the tailstock."


def _described(tool: Tool, unit: Unit) -> Iterator[str]:
    radius = length_text(tool.nose_radius, unit)
    if tool.kind == "form":
        wide = "" if tool.width is None else f" {length_text(tool.width, unit)} wide"
        yield from (f"form tool{wide}", "square to the axis", "its figures mean its left end and its lowest place")
    elif tool.kind == "round":
        yield from ("round nose", f"nose radius {radius}", "square to the axis")
    elif tool.kind == "grooving":
        wide = "" if tool.width is None else f" {length_text(tool.width, unit)} wide over both corners"
        yield from (f"grooving blade{wide}", f"corner radius {radius}", "square to the axis")
    else:
        yield from (f"{tool.hand}-hand", f"nose radius {radius}")
        yield f"cutting edge angle {tool.edge_angle / DEGREE:g}°"
        yield f"included angle {tool.point_angle / DEGREE:g}°"
    if tool.stem is not None and tool.shank is not None:
        yield f"standing {length_text(tool.stem, unit)} out of a shank {length_text(tool.shank, unit)} wide"
    if tool.stands_out is not None:
        yield f"its nose {length_text(tool.stands_out, unit)} out of the side of the boring bar"


def _wound(plan: Plan) -> tuple[Slide, ...]:
    """The slides that a plan may move, those along the axis from coarse to fine."""
    shop = plan.job.shop
    top = () if shop.top is None else (shop.top,)
    return (shop.cross, *((shop.saddle,) if shop.saddle_moves else ()), *top)


def _reading(slide: Slide) -> Iterator[str]:
    if slide.name == "top":
        yield (
            "It lies parallel to the axis: an indicator on it, wound along a straight bar that runs true in the chuck, "
            "must stand still."
        )
    unit = unit_of_slide(slide)
    count = format_figure(slide.count, unit, decimals(slide))
    kind = f"a {slide.reads}" if slide.name == "cross" else "a length"
    grows = {"out": "outward", "in": "inward", "away": "away from the chuck", "toward": "toward the chuck"}[slide.grows]
    counts = f"{kind} in {in_units(unit)}, grows {grows}, and can be set to {count}."
    yield from _dial(slide, counts) if dialled(slide) else _readout(slide, counts)
    toward = {"out": "out", "in": "in", "away": "away from the chuck", "toward": "toward the chuck"}
    if slide.clockwise is not None:
        yield f"Its handwheel turned clockwise winds it {toward[slide.clockwise]}; the table says so for each move."


def _readout(slide: Slide, counts: str) -> Iterator[str]:
    unit = unit_of_slide(slide)
    yield f"It reads {counts}"
    check = f"Check: wind the {_outward(slide)} one turn: the figure must {'rise' if slide.factor > 0 else 'fall'} by"
    if slide.per_turn is not None:
        yield f"{check} {format_figure(slide.per_turn * abs(slide.factor), unit, decimals(slide))}."
    else:
        turn = 2.0 if unit == "mm" else 0.1 * INCH
        by = format_figure(turn * abs(slide.factor), unit, decimals(slide))
        times = "twice what" if abs(slide.factor) == 2 else "what"
        yield f"{check} {times} a turn moves the slide, such as {by} for a turn of {length_text(turn, unit)}."


def _dial(slide: Slide, counts: str) -> Iterator[str]:
    assert slide.per_turn is not None
    turn = length_text(slide.per_turn, unit_of_slide(slide))
    yield (
        f"It is read on its dial: {slide.divisions} divisions of {division_text(slide)}, {turn} a turn. Its figure is "
        f"{counts}"
    )
    if abs(slide.factor) == 2:
        part = division_text(replace(slide, per_turn=2 * slide.per_turn))
        yield f"One division is {part} of that figure: a diameter changes by twice what the slide travels."
    where = "the nose's lowest line on the axis" if slide.name == "cross" else "the nose at the finished end"
    yield f"The dial shows 0 at the figure 0 ({where}), and again after every turn: whole turns have to be counted."
    up = "up" if slide.factor > 0 else "down"
    yield f"Check: wind the {_outward(slide)} one turn: the slide must go {turn}, and the dial counts {up}."
    if slide.backlash:
        lost = length_text(slide.backlash, unit_of_slide(slide))
        yield (
            f"Its screw has {lost} of lost motion: come to every figure from the same side. Where the table winds past "
            "a figure and back, it does so for this."
        )


def _outward(slide: Slide) -> str:
    return f"{slide_name(slide.name)} {'out' if slide.name == 'cross' else 'away from the chuck'}"


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
    if tool.kind == "form":
        lowest = min(abs(move.end.y) for move in plan.moves if move.tool == tool.name) - tool.nose_radius
        reads = figure_text(plan.job.shop.cross, lowest)
        return (
            f"The figures of {tool.name} refer to its lowest place. When its end toward the chuck reaches the middle, "
            f"that place is past it, and the cross slide reads {reads}: this is right."
        )
    radius, reads = _bare(tool, plan.job.units), figure_text(plan.job.shop.cross, -tool.nose_radius)
    return (
        f"The figures refer to the lowest line of the nose. With the centre of a nose of R {radius} on the axis, that "
        f"line is {radius} past the axis, and the cross slide reads {reads}. This is right: the nose just reaches the "
        "middle."
    )


def _bare(tool: Tool, unit: Unit) -> str:
    text = format_figure(tool.nose_radius, unit, 4)
    return text.rstrip("0").rstrip(".")
