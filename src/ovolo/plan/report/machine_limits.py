"""Whether the machine has room for a plan: nothing runs into the chuck, every slide can go as far as it is asked."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from ovolo.errors import Fault
from ovolo.plan.move import Before, Move
from ovolo.plan.report.boring_bar import boring_faults
from ovolo.plan.sweep.jaws import FROM_JAWS, jaw_top, reach_toward_chuck
from ovolo.plan.toolpath.top_slide import top_faults
from ovolo.plan.view.frame import Frame
from ovolo.tolerances import SAME_PLACE

#: Lengths that a bar has to stand out are rounded up to these, mm or in.
ROUNDED = 0.01


class Nearest(NamedTuple):
    """Where a plan comes nearest to the chuck: the move, how far along the axis its tool then reaches, x, mm, and how
    far its nose does."""

    move: Move
    tool: float
    nose: float


def nearest_to_chuck(frame: Frame, moves: Sequence[Move]) -> Nearest:
    """Where a tool of a plan for outside work comes nearest to the chuck, as high as the jaws stand, less what the
    move may be off; where that height is not told its nose counts however high it is."""
    tools, top = {t.name: t for t in frame.job.shop.tools}, jaw_top(frame)

    told = frame.job.shop.lathe.jaws is not None

    def reaches(move: Move) -> float:
        tool = tools[move.tool]
        level = -math.inf if told else 0.0
        return min(p.x - reach_toward_chuck(tool, max(top - p.y, level)) for p in (move.start, move.end))

    move = min(moves, key=lambda m: reaches(m) - (m.within if told else 0.0))
    nose = min(move.start.x, move.end.x) - tools[move.tool].nose_radius
    return Nearest(move, reaches(move), nose)


def chuck_faults(frame: Frame, moves: Sequence[Move]) -> list[Fault]:
    """Moves that would run a tool into the chuck or a boring bar into its hole, and slides that can't go so far."""
    slides = [*_travel_faults(frame, moves), *top_faults(frame, moves)]
    return [*_jaw_faults(frame, moves), *boring_faults(frame, moves), *slides]


def _jaw_faults(frame: Frame, moves: Sequence[Move]) -> list[Fault]:
    """A tool that meets the jaws with its nose or, where it is told how far they stand over the bar, comes too near to
    them with anything. Inside a hole none does: they hold the outside of the piece."""
    out = frame.job.shop.stock.stick_out
    if out is None or frame.sign < 0:
        return []
    found, (unit, name) = nearest_to_chuck(frame, moves), frame.job.measure
    told = frame.job.shop.lathe.jaws is not None
    free = FROM_JAWS + found.move.within if told else 0.0
    if (free - found.tool if told else -found.nose) <= out + SAME_PLACE:
        return []
    least = f"{math.ceil((free - found.tool) / unit / ROUNDED - 1e-6) * ROUNDED:.6g} {name}"
    says = f"move {found.move.n} would run {found.move.tool} into the chuck jaws"
    if -found.tool <= out + SAME_PLACE:
        left = f"{(out + found.tool) / unit:.3g} {name}"
        says = f"move {found.move.n} would bring {found.move.tool} to {left} from the chuck jaws; {free / unit:.3g} "
        says += f"{name} have to stay free"
    remedy = f"Let the bar project at least {least}, or end the outline sooner"
    if free - found.nose <= out + SAME_PLACE:
        says += f": not its nose but its edge or shank, {(found.nose - found.tool) / unit:.3g} {name} nearer to them"
        remedy += f"; or take a tool that leans less over the bar. {_taken(frame)}"
    return [Fault("stock.stick_out", round(out / unit, 4), f"at least {least}", says, remedy)]


def about_jaws(frame: Frame, moves: Sequence[Move]) -> list[Before]:
    """A warning ahead of each tool's first move that may bring what stands over its nose to the jaws, where nobody has
    told how far they stand over the bar."""
    out, (unit, name) = frame.job.shop.stock.stick_out, frame.job.measure
    if out is None or frame.sign < 0 or frame.job.shop.lathe.jaws is not None:
        return []
    warned: dict[str, Before] = {}
    for move in moves:
        found = nearest_to_chuck(frame, [move])
        if -found.tool > out + SAME_PLACE and move.tool not in warned:
            says = (
                "From this move on the tool may meet the jaws: not its nose but its edge or shank, "
                f"{(found.nose - found.tool) / unit:.3g} {name} nearer to them. {_taken(frame)}. See with the spindle "
                "stopped that it clears, or let the bar project further"
            )
            warned[move.tool] = Before(move.n, "say", says)
    return list(warned.values())


def _taken(frame: Frame) -> str:
    """What is taken for granted about jaws and edges, for nobody has told it."""
    lathe, (unit, name) = frame.job.shop.lathe, frame.job.measure
    stand = f"the jaws stand {lathe.jaws_stand / unit:.3g} {name} over the bar"
    told = f"{stand} (lathe.jaws)" if lathe.jaws is not None else f"{stand} (write lathe.jaws if that is not so)"
    return f"It is taken that {told}, and that the tool's edges run on straight so far"


def _travel_faults(frame: Frame, moves: Sequence[Move]) -> list[Fault]:
    shop, (unit, name) = frame.job.shop, frame.job.measure
    faults = []
    for slide in (shop.cross, shop.saddle):
        ends = [m.end.x if slide.name == "saddle" else m.end.y for m in moves if m.slide != "top"]
        used = max(ends, default=0.0) - min(ends, default=0.0)
        if slide.travel is not None and used > slide.travel:
            faults.append(
                Fault(
                    f"slide.{slide.name}.travel",
                    round(slide.travel / unit, 4),
                    f"at least {used / unit:.4g} {name}",
                    f"the plan needs {used / unit:.4g} {name} of its travel",
                    "Shorten what is turned in one setting, or give the travel as it is",
                )
            )
    return faults
