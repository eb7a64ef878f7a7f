"""Where to stop and measure before the finishing cuts, and which figure to correct by what is found.

Only a surface that still stands tells something, and only one that the finishing tool itself has cut: what another tool
left says nothing about this one's figures.
"""

from collections.abc import Iterator

from ovolo.documents.resolved import unit_of
from ovolo.plan.model import Move, Plan
from ovolo.setup.surfaces import Cylinder, Standing, standing
from ovolo.shop.slides import Slide
from ovolo.show.words.figures import dialled, division_text, length_text, slide_name
from ovolo.units import Unit, format_figure

__all__ = ["stops"]


def stops(plan: Plan) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each stop's title and what to do there, tool after tool."""
    measured = {before.move for before in plan.before if before.kind == "measure"}
    for tool in plan.tools:
        moves = [move for move in plan.moves if move.tool == tool.name]
        stop = [move.n for move in moves if move.n in measured]
        for n in stop:
            yield f"Stop after roughing, before move {n}", tuple(_after_roughing(plan, tool.name, standing(plan, n)))
        if not stop and any(move.stage == "finish" for move in moves) and all(move.stage == "finish" for move in moves):
            yield f"Measure what {tool.name} cuts first", tuple(_first_pass(plan, tool.name, moves))


def _after_roughing(plan: Plan, tool: str, stands: Standing) -> Iterator[str]:
    cylinder = stands.longest(tool)
    if cylinder is None or cylinder.move is None:
        yield f"No cylinder that {tool} has cut stands now: leave the cross slide's figures as they were touched off."
    else:
        yield from _diameter(plan, cylinder, cylinder.move)
    yield _length(plan, tool, stands)


def _first_pass(plan: Plan, tool: str, moves: list[Move]) -> Iterator[str]:
    """For a tool that takes no roughing cut."""
    yield "It takes no roughing cut, and what another tool has left says nothing about its figures."
    for move in moves:
        if move.slide != "cross" and move.cuts:
            cylinder = standing(plan, move.n + 1).longest(tool)
            if cylinder is not None and cylinder.move is not None:
                yield f"Stop the spindle after move {move.n}."
                yield from _diameter(plan, cylinder, cylinder.move)
                return
    yield "None of its cuts leaves a cylinder long enough to measure: touch it off twice, and see that both agree."


def _diameter(plan: Plan, cylinder: Cylinder, move: Move) -> Iterator[str]:
    cross, unit = plan.job.shop.cross, unit_of(plan.job)
    share = "that much" if cross.reads == "diameter" else "half of that"
    size = length_text(2 * cylinder.radius, unit)
    yield (
        f"Measure the diameter between z {_z(cylinder.near, unit)} and {_z(cylinder.far, unit)}, as move {move.n} has "
        f"left it: it should be Ø {size}. If it is larger, {_show(cross, share, cross.factor > 0)}; if smaller, the "
        "other way."
    )


def _show(slide: Slide, share: str, more: bool) -> str:
    """How to shift a slide's figures where it stands."""
    way = "more" if more else "less"
    if not dialled(slide):
        return f"make the {slide_name(slide.name)} show {share} {way} where it stands"
    return (
        f"turn the collar of the {slide_name(slide.name)}, where it stands, until it shows {share} {way} (a division "
        f"is {division_text(slide)} of travel)"
    )


def _length(plan: Plan, tool: str, stands: Standing) -> str:
    along, unit = plan.job.shop.fine, unit_of(plan.job)
    if along != plan.job.shop.coarse:
        return (
            f"The length is measured later, when the {slide_name(along.name)} has been told its figure beside the "
            f"locked {slide_name(plan.job.shop.coarse.name)}, and corrects the figures of the {slide_name(along.name)}."
        )
    if stands.faced is not None and stands.faced.tool == tool:
        return (
            "The length needs no correction: this tool has cut the end face too, and whatever it turns is as far from "
            "that face as the figures say."
        )
    shoulder = stands.shoulder(tool)
    if shoulder is None:
        return (
            "No shoulder stands yet that a depth gauge could rest on: leave the figures of the "
            f"{slide_name(along.name)} as they were touched off."
        )
    return (
        f"Measure from the end face to the shoulder at z {_z(shoulder.z, unit)}: it should be "
        f"{length_text(stands.front - shoulder.z, unit)}. If it is more, "
        f"{_show(along, 'that much', along.factor < 0)}; if less, the other way."
    )


def _z(mm: float, unit: Unit) -> str:
    return format_figure(mm, unit, 2 if unit == "mm" else 3)
