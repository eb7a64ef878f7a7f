"""The top slide, parallel to the axis: it finishes where the saddle has no fine dial.

In roughing the saddle moves the tool. Then it brings the tool to the curve and stays put, and the top slide does the
rest, within its travel. Where both can't be wound to the same place exactly, the saddle stops where they can.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from ovolo.errors import Fault
from ovolo.geometry.segments import Point
from ovolo.plan.move import Before, Move
from ovolo.plan.steps import STILL, Step
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool
from ovolo.tolerances import SAME_PLACE

#: How many of the saddle's figures to either side are tried.
TRIED = 200


def brought(frame: Frame, steps: Sequence[Step]) -> list[Step]:
    """The moves of one tool with the saddle, where it may move, bringing it to where its top slide begins."""
    shop = frame.job.shop
    first = next((i for i, step in enumerate(steps) if step.slide == "top"), None)
    if shop.top is None or not shop.saddle_moves or first is None:
        return list(steps)
    step = steps[first]
    stop = Point(_stop(frame, step.tool, step.end.x), step.start.y)
    saddle = step._replace(slide="saddle", end=stop, station=None, exact=False)
    rest = step._replace(start=stop, enters=False)
    parts = [s for s in (saddle, rest) if abs(s.end.x - s.start.x) > STILL]
    return [*steps[:first], *parts, *steps[first + 1 :]]


def _stop(frame: Frame, tool: Tool, x: float) -> float:
    """The figure of the saddle nearest to x that is one of the top slide too."""
    coarse, fine = frame.coarse_lattice(tool), frame.lattice(tool)
    near = coarse.column_at(x, True)
    for away in range(TRIED):
        for column in (near - away, near + away):
            place = coarse.x(column)
            if abs(place - fine.x_up(place)) < SAME_PLACE:
                return place
    return coarse.x(0)  # the finished end: both count from it


def runs_of_top(moves: Sequence[Move]) -> Iterator[list[Move]]:
    """The moves of the top slide, those of one tool together."""
    for _, group in groupby(moves, key=lambda m: m.tool):
        found = [m for m in group if m.slide == "top"]
        if found:
            yield found


def _range(run: Sequence[Move]) -> tuple[float, float]:
    ends = [x for m in run for x in (m.start.x, m.end.x)]
    return min(ends), max(ends)


def top_faults(frame: Frame, moves: Sequence[Move]) -> list[Fault]:
    """A curve that is longer than the top slide can go."""
    top, (unit, name) = frame.job.shop.top, frame.job.measure
    used = max((high - low for low, high in map(_range, runs_of_top(moves))), default=0.0)
    if top is None or top.travel is None or used <= top.travel + SAME_PLACE:
        return []
    says = f"the plan needs {used / unit:.4g} {name} of its travel, and the saddle stays put while it moves"
    remedy = "Shorten the curve that is finished in one setting, or finish with the saddle"
    return [Fault("slide.top.travel", round(top.travel / unit, 4), f"at least {used / unit:.4g} {name}", says, remedy)]


def about_top(frame: Frame, moves: Sequence[Move]) -> list[Before]:
    """How the top slide has to stand when a tool is set, and what to do where it takes over."""
    if frame.job.shop.top is None:
        return []
    out = []
    firsts = {m.tool: m.n for m in reversed(moves)}
    for run in runs_of_top(moves):
        out.append(Before(firsts[run[0].tool], "say", _room(frame, run)))
        if frame.job.shop.saddle_moves:
            out.append(Before(run[0].n, "say", _takes_over(frame, run[0])))
    return out


def _room(frame: Frame, run: Sequence[Move]) -> str:
    (unit, name), (low, high), start = frame.job.measure, _range(run), run[0].start.x
    ways = f"{(start - low) / unit:.4g} {name} toward the chuck and {(high - start) / unit:.4g} {name} away from it"
    return f"Set the top slide parallel to the axis, wind it to where it can still go {ways}, and leave it there"


def _takes_over(frame: Frame, move: Move) -> str:
    top = frame.job.shop.fine
    tool = next(t for t in frame.job.shop.tools if t.name == move.tool)
    figure = top.text(frame.figure(top, tool, move.start.x, 0.0))
    return (
        "Lock the saddle: it stays put, and the top slide goes along the axis instead. "
        f"Set its figure to {figure} where it stands, measure one length, and correct the figure by what is found"
    )
