"""The stop to measure: which cylinder, what it should be, and which way to correct where it is not."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from ovolo.geometry.overhang import places_at
from ovolo.geometry.segments import Point
from ovolo.plan.move import Before, Measured, Move, Reading
from ovolo.plan.report.surfaces import Cylinder, standing_on
from ovolo.plan.view.frame import Frame
from ovolo.shop.slides import Slide
from ovolo.tolerances import WRITTEN
from ovolo.units import Unit, format_figure

#: Where the figure found is written, on paper.
BLANK = "________"
#: Less metal than this over the outline leaves a correction too little, mm.
ROOM = 0.05


def stop_before(
    frame: Frame, moves: Sequence[Move], n: int, border_after: Callable[[int], Sequence[Point]]
) -> Before | None:
    """The stop ahead of move `n`, with which a tool begins to finish; `border_after` gives the border of the metal.

    It measures the longest cylinder that this very tool has cut and gone back over at the same figure, with metal over
    the outline still on. None where there is none.
    """
    tools = {tool.name: tool for tool in frame.job.shop.tools}
    stands = standing_on(frame, tools, moves, n, border_after(n - 1))
    of_it = [c for c in stands.cylinders if _will_do(frame, c, moves, moves[n - 1].tool)]
    if not of_it:
        return None
    cylinder = max(of_it, key=lambda c: c.near - c.far)
    assert cylinder.move is not None
    found = Measured(cylinder.near, cylinder.far, cylinder.radius, cylinder.move.n)
    cross = frame.job.shop.cross
    figure = cross.figure(found.radius)
    should = Reading("cross", figure, cross.text(figure))
    return Before(n, "measure", _text(frame, found), should=(should,), measured=found)


def _will_do(frame: Frame, cylinder: Cylinder, moves: Sequence[Move], tool: str) -> bool:
    """Whether the coming tool has cut it, has gone back over it, and metal is left between it and the outline."""
    cut = cylinder.move
    if cut is None or cut.tool != tool or cut.n >= len(moves):
        return False
    back = moves[cut.n]
    over = (
        min(back.start.x, back.end.x) - WRITTEN <= cylinder.far
        and cylinder.near <= max(back.start.x, back.end.x) + WRITTEN
    )
    again = (back.tool, back.slide) == (tool, cut.slide) and abs(back.end.y - cut.end.y) < WRITTEN
    return again and over and _room(frame, cylinder) >= ROOM


def _room(frame: Frame, cylinder: Cylinder) -> float:
    """How far a cylinder stands over the outline, mm; in a bore, how far inside it."""
    places = np.linspace(cylinder.far, cylinder.near, 50)
    heights = [frame.sign * place.y for x in places for place, _ in places_at(frame.job.part.outline, float(x))]
    return frame.sign * cylinder.radius - max(heights, default=-math.inf)


def set_exactly(moves: Sequence[Move], before: Sequence[Before], step: float) -> tuple[Move, ...]:
    """The same moves, those that set what is measured no farther off than one `step` of the cross slide, mm."""
    out = list(moves)
    for found in (b.measured for b in before if b.measured is not None):
        at = next((i for i in range(found.after - 1, -1, -1) if out[i].slide == "cross"), None)
        if at is not None:
            out[at] = replace(out[at], within=min(out[at].within, step))
    return tuple(out)


def _text(frame: Frame, found: Measured) -> str:
    cross, unit = frame.job.shop.cross, unit_of(frame)
    near, far = (format_figure(z, unit, 2 if unit == "mm" else 3) for z in (found.near, found.far))
    size = format_figure(2 * found.radius, unit, 2 if unit == "mm" else 4)
    return (
        f"Stop the spindle. Measure the diameter between z {near} and {far}, as move {found.after} has left it: it "
        f"should be Ø {size}, it is {BLANK}. "
        f"If it is larger, {_larger(cross)}; if smaller, the other way"
    )


def _larger(cross: Slide) -> str:
    """What to do with the figures of the cross slide where the work is larger than they say."""
    share = "that much" if cross.reads == "diameter" else "half of that"
    way = "more" if cross.factor > 0 else "less"
    if cross.on_dial:
        return f"turn the collar of the cross slide's dial, the slide left where it is, until it shows {share} {way}"
    return f"make the cross slide show {share} {way} where it is"


def unit_of(frame: Frame) -> Unit:
    """The unit of the job."""
    return frame.job.units
