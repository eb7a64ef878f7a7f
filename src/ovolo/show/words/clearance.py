"""Clearance: where a tool comes nearest to the chuck, or deepest into a hole, and what to look at there."""

from collections.abc import Iterator

from ovolo.plan.model import Move, Plan
from ovolo.plan.report.boring_bar import depth_needed
from ovolo.plan.report.machine_limits import nearest_to_chuck
from ovolo.shop.slides import Slide
from ovolo.show.words.figures import figure_text, length_text, slide_name, slide_of

__all__ = ["clearance"]


def clearance(plan: Plan) -> Iterator[str]:
    """What to try with the spindle stopped, before the first cut."""
    yield "Before the first cut wind to the extreme positions by hand, and turn the chuck once by hand at each."
    if not plan.moves:
        return
    if plan.job.part.surface == "bore":
        yield _deepest(plan)
        yield "Look at the back of the boring bar too: it has to clear the hole at every depth."
    else:
        yield _nearest(plan)


def _nearest(plan: Plan) -> str:
    unit, shop, found = plan.job.units, plan.job.shop, nearest_to_chuck(plan.frame, plan.moves)
    driver = "carrier" if shop.lathe.holding == "between centres" else "chuck"
    begin = f"Nearest to the {driver} the {_reads(plan, found.move)}"
    if shop.stock.stick_out is None:
        return f"{begin}: check that tool, holder and slides clear the jaws there."
    gap, stand = found.tool + shop.stock.stick_out, length_text(shop.lathe.jaws_stand, unit)
    if gap < 0:
        nose = length_text(found.nose + shop.stock.stick_out, unit)
        return (
            f"{begin}: the nose of {found.move.tool} comes to {nose} from the jaws. Its edge or shank may meet jaws "
            f"that project {stand} over the bar. See with the spindle stopped that all clears."
        )
    return (
        f"{begin}: {found.move.tool} comes to {length_text(gap, unit)} from the jaws, provided they project no more "
        f"than {stand} over the bar. Check that holder and slides clear them."
    )


def _deepest(plan: Plan) -> str:
    unit, shop, frame = plan.job.units, plan.job.shop, plan.frame
    tools = {tool.name: tool for tool in plan.tools}
    move = min(plan.moves, key=lambda move: move.end.x - tools[move.tool].nose_radius)
    deep = depth_needed(frame, tools[move.tool], [move])
    begin = f"Deepest in the hole the {_reads(plan, move)}, the nose {length_text(deep, unit)} behind the front"
    overhang = shop.lathe.cutter(move.tool).overhang
    if overhang is None:
        return f"{begin}: the hole has to be that deep, and the boring bar has to project further from its holder."
    left = length_text(overhang - deep, unit)
    return f"{begin}: the hole has to be that deep, and its holder is then {left} from the front."


def _reads(plan: Plan, move: Move) -> str:
    """What the slide along the axis reads where a move stands."""
    tool = next(tool for tool in plan.tools if tool.name == move.tool)
    slide, x = _along_the_axis(plan, move), min(move.start.x, move.end.x)
    return f"{slide_name(slide.name)} reads {figure_text(slide, x + tool.reference[0])}"


def _along_the_axis(plan: Plan, move: Move) -> Slide:
    """The slide that has last moved the tool along the axis, a move done."""
    last = next((m for m in reversed(plan.moves[: move.n]) if m.slide != "cross"), None)
    return plan.job.shop.coarse if last is None else slide_of(plan.job, last)
