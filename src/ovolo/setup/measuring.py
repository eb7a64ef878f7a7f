"""What is measured at a stop, and what the figures of the slides should be there.

The planner names the diameter: the tool has cut it for that. A length is measured where another tool has faced the end
and the coming one has left a shoulder: else it has no figure to correct.
"""

from dataclasses import replace

from ovolo.plan.model import Before, Plan, Reading
from ovolo.plan.report.measuring_stop import BLANK
from ovolo.setup.surfaces import Shoulder, Standing, standing
from ovolo.shop.slides import Slide
from ovolo.units import format_figure

__all__ = ["ahead_of"]


def ahead_of(plan: Plan) -> tuple[Before, ...]:
    """What happens ahead of moves, the lengths to be measured at its stops included."""
    return tuple(_with_length(plan, before) if before.measured is not None else before for before in plan.before)


def _with_length(plan: Plan, before: Before) -> Before:
    stands, along = standing(plan, before.move), plan.job.shop.fine
    shoulder = _shoulder(plan, before, stands)
    if shoulder is None:
        return before
    figure = along.figure(shoulder.z)
    length = Reading(along.name, figure, along.text(figure))
    text = f"{before.text}. {_length_text(plan, stands, shoulder)}"
    return replace(before, text=text, should=(*before.should, length))


def _shoulder(plan: Plan, before: Before, stands: Standing) -> Shoulder | None:
    """The shoulder to measure to; none where the tool has cut the end face itself: what it turns is as far from that
    face as its figures say. None either where the top slide will finish, which gets its own figure later."""
    tool, shop = plan.moves[before.move - 1].tool, plan.job.shop
    own_face = stands.faced is not None and stands.faced.tool == tool
    return None if own_face or shop.fine != shop.coarse else stands.shoulder(tool)


def _length_text(plan: Plan, stands: Standing, shoulder: Shoulder) -> str:
    along, unit = plan.job.shop.fine, plan.job.units
    places = (shoulder.z, stands.front - shoulder.z)
    z, length = (format_figure(mm, unit, 2 if unit == "mm" else 3) for mm in places)
    name = "saddle" if along.name == "saddle" else "top slide"
    return (
        f"Measure from the end face to the shoulder at z {z}: it should be {length}, it is {BLANK}. If it is more, "
        f"{_further(along, name)}; if less, the other way"
    )


def _further(along: Slide, name: str) -> str:
    way = "less" if along.factor > 0 else "more"
    if along.on_dial:
        return f"turn the collar of the {name}'s dial, the slide left where it is, until it shows that much {way}"
    return f"make the {name} show that much {way} where it is"
