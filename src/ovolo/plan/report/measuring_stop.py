"""The stop to measure: which cylinder, what it should be, and which way to correct where it is not."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ovolo.geometry.segments import Point
from ovolo.plan.move import Before, Measured, Move, Reading
from ovolo.plan.report.surfaces import levels
from ovolo.plan.view.frame import Frame
from ovolo.shop.slides import Slide
from ovolo.tolerances import WRITTEN
from ovolo.units import format_figure

#: Where the figure found is written, on paper.
BLANK = "________"
#: A cylinder shorter than this is not measured: the tips of a caliper's jaws find no hold on it, mm (common practice,
#: no source).
SHORTEST = 1.5


def stop_after(frame: Frame, moves: Sequence[Move], n: int, border: Sequence[Point]) -> tuple[Measured, int] | None:
    """What trial move `n` leaves to be measured, and the move ahead of which the tool first is anywhere else.

    `border` is that of the metal once the tool has gone back over its trial. None where other metal is in the way.
    """
    trial = moves[n - 1]
    tool = next(t for t in frame.job.shop.tools if t.name == trial.tool)
    height = frame.place(*trial.end).y + tool.reference[1]
    back = moves[n]
    ends = (trial.start.x, trial.end.x), (back.start.x, back.end.x) if back.slide != "cross" else (-math.inf, math.inf)
    low = max(map(min, ends)) + tool.edge.lowest[0]
    high = min(map(max, ends)) + tool.edge.lowest[1]
    found = [
        (min(near, high), max(far, low))
        for near, far, y in levels(border, frame.back, SHORTEST)
        if abs(y - height) < WRITTEN and far < high and near > low
    ]
    near, far = max(found, key=lambda ends: ends[0] - ends[1], default=(0.0, 0.0))
    if near - far < SHORTEST:
        return None
    return Measured(near, far, abs(height), n), n + 2


def stop(frame: Frame, n: int, found: Measured) -> Before:
    """The stop ahead of move `n` that measures a cylinder."""
    cross = frame.job.shop.cross
    figure = cross.figure(found.radius)
    should = Reading("cross", figure, cross.text(figure))
    return Before(n, "measure", _text(frame, found), should=(should,), measured=found)


def set_exactly(moves: Sequence[Move], before: Sequence[Before], step: float) -> tuple[Move, ...]:
    """The same moves, those that set what is measured no farther off than one `step` of the cross slide, mm."""
    out = list(moves)
    for found in (b.measured for b in before if b.measured is not None):
        at = next((i for i in range(found.after - 1, -1, -1) if out[i].slide == "cross"), None)
        if at is not None:
            out[at] = replace(out[at], within=min(out[at].within, step))
    return tuple(out)


def _text(frame: Frame, found: Measured) -> str:
    cross, unit = frame.job.shop.cross, frame.job.units
    near, far = (format_figure(z, unit, 2 if unit == "mm" else 3) for z in (found.near, found.far))
    size = format_figure(2 * found.radius, unit, 2 if unit == "mm" else 4)
    return (
        f"Stop the spindle, wind the tool clear. Measure the diameter between z {near} and {far}, as move "
        f"{found.after} has left it: it should be Ø {size}, it is {BLANK}. "
        f"If it is larger, {_larger(cross)}; if smaller, the other way"
    )


def _larger(cross: Slide) -> str:
    """What to do with the figures of the cross slide where the work is larger than they say."""
    share = "that much" if cross.reads == "diameter" else "half of that"
    way = "more" if cross.factor > 0 else "less"
    if cross.on_dial:
        return f"turn the collar of the cross slide's dial, the slide left where it is, until it shows {share} {way}"
    return f"make the cross slide show {share} {way} where it is"
