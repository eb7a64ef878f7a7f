"""A boring bar in its hole: whether it passes through, and whether it stands out far enough of its holder.

The bar lies along the axis from its nose to the mouth, on centre height, and its nose stands out of the side that cuts.
So bar and nose have to fit across the hole that is there already, wherever the nose is drawn back in it; and the holder
has to stay in front of the end face when the nose is deepest. Lengths in mm, in the planner's frame: the wall that is
cut is below, the far wall above.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ovolo.errors import Fault
from ovolo.plan.move import Move
from ovolo.plan.view.frame import Frame
from ovolo.shop.lathe import Cutter
from ovolo.shop.tools import Tool
from ovolo.tolerances import SAME_PLACE

#: Limits are rounded to these, mm or in.
ROUNDED = 0.01


def boring_faults(frame: Frame, moves: Sequence[Move]) -> list[Fault]:
    """Bars too thick for the hole, or standing out too little; none in outside work and where neither is told."""
    if frame.sign > 0:
        return []
    faults = []
    for i, tool in enumerate(frame.job.shop.tools):
        mine = [move for move in moves if move.tool == tool.name]
        cutter = frame.job.shop.lathe.cutter(tool.name)
        if mine and cutter.bar_diameter is not None:
            faults += _too_thick(frame, (f"tool[{i}].bar_diameter", tool, cutter.bar_diameter), mine)
        if mine and cutter.overhang is not None:
            faults += _too_short(frame, (f"tool[{i}].overhang", tool, cutter), mine)
    return faults


def depth_needed(frame: Frame, tool: Tool, moves: Sequence[Move]) -> float:
    """How deep behind the front of the piece the nose of a tool goes in these moves, mm."""
    return frame.front - min(x for m in moves for x in (m.start.x, m.end.x)) + tool.nose_radius


def _too_thick(frame: Frame, bar: tuple[str, Tool, float], moves: Sequence[Move]) -> list[Fault]:
    where, tool, diameter = bar
    inside = [(frame.sign * p.y, m.n) for m in moves for p in (m.start, m.end) if p.x < frame.front]
    if not inside:
        return []
    y, n = max(inside)
    wall, tip, out = -frame.top, y - tool.nose_radius, tool.stands_out or 0.0
    room, across = wall - tip, diameter + out
    if across <= room + SAME_PLACE:
        return []
    (unit, name), drawn_back = frame.job.measure, 2 * wall - room
    what = f"bar and nose are {across / unit:.4g} {name} across"
    if tool.stands_out is None:
        what = f"the bar alone is {across / unit:.4g} {name} across, its nose not counted (stands_out is not given)"
    says = (
        f"it does not pass through the hole of Ø {2 * wall / unit:.4g} {name}: {what}, and with the nose drawn back "
        f"{drawn_back / unit:.3g} {name} from the wall (move {n}) there is room for {room / unit:.4g} {name}"
    )
    most = math.floor((room - out) / unit / ROUNDED + SAME_PLACE) * ROUNDED
    limit = f"at most {most:.6g} {name}" if most > 0 else f"a nose that projects less than {room / unit:.4g} {name}"
    thinner = "Take a thinner bar" if most > 0 else "Take a bar whose nose projects less"
    wider, narrowest = across + drawn_back, -2 * frame.outline.bounds()[3]
    drill = f", or drill the hole to Ø {wider / unit:.4g} {name} first" if wider < narrowest else ""
    return [Fault(where, round(diameter / unit, 4), limit, says, f"{thinner}{drill}")]


def _too_short(frame: Frame, bar: tuple[str, Tool, Cutter], moves: Sequence[Move]) -> list[Fault]:
    where, tool, cutter = bar
    needed, (unit, name) = depth_needed(frame, tool, moves), frame.job.measure
    assert cutter.overhang is not None
    if cutter.overhang > needed + SAME_PLACE:
        return []
    least = f"more than {math.ceil(needed / unit / ROUNDED - SAME_PLACE) * ROUNDED:.6g} {name}"
    says = f"the nose of {tool.name} goes {needed / unit:.4g} {name} deep: its holder would run into the end face"
    remedy = (
        "Let the boring bar project further from its holder and give that overhang (it will deflect more), "
        "or end the outline sooner"
    )
    return [Fault(where, round(cutter.overhang / unit, 4), least, says, remedy)]
