"""Where both slides are ahead of a move that begins anew, and which of them is brought there first.

Before the first move, after a change of tool and after a stop to measure nothing tells the operator where the tool is:
both figures are named, and the way there is free whichever metal is still on. Turned outside, the saddle is set first,
with the tool beyond the bar's diameter; in a bore the cross slide, in front of the piece.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np
import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.move import Before, Move, Reading, Stand
from ovolo.plan.sweep.sweep import body_shapes, tool_shape
from ovolo.plan.view.frame import Frame
from ovolo.shop.dials import dial_place
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool
from ovolo.tolerances import SAME_PLACE

#: A tool this far from metal, jaws and centre is clear of them, mm.
CLEAR = 1.0
#: Well outside the work, mm.
_FAR = 60.0


def stand_before(frame: Frame, move: Move, border: Sequence[Point] | None = None) -> Before | None:
    """Where the slides are ahead of a move; None where the way to its beginning is not sure to be free.

    `border` is that of the metal then, in the planner's frame; left out, the whole blank may still be there.
    """
    tool = next(t for t in frame.job.shop.tools if t.name == move.tool)
    first = _first(frame, tool, move) or _past_metal(frame, tool, move, border)
    if first is None:
        return None
    readings = tuple(_reading(frame, slide, tool, move) for slide in _slides(frame))
    return Before(move.n, "stand", _text(frame, first, readings), stand=Stand(first, readings))


def _first(frame: Frame, tool: Tool, move: Move) -> Literal["cross", "saddle"] | None:
    """The slide to set first: from above the work where the whole tool is over it, else from in front."""
    height = frame.sign * move.start.y - tool.nose_radius
    above = height >= frame.clear_of + CLEAR - SAME_PLACE
    in_front = frame.centre is None and move.start.x - tool.nose_radius >= frame.front + CLEAR - SAME_PLACE
    if above and frame.sign > 0:
        return "saddle"
    return "cross" if above or in_front else None


def _past_metal(
    frame: Frame, tool: Tool, move: Move, border: Sequence[Point] | None
) -> Literal["cross", "saddle"] | None:
    """The same where the tool begins within the height of the blank, but clear of what is left of it all the way."""
    if border is None or frame.centre is not None:
        return None
    x, y = frame.place(*move.start)
    out = (x, max(frame.clear_of, y) + _FAR) if frame.sign > 0 else (max(frame.front, x) + _FAR, y)
    behind = min(frame.back, border[-1].x) - _FAR
    metal = shapely.LineString([*border, (behind, frame.bar_top)])
    shapes = (tool_shape(tool), *body_shapes(tool))
    ways = [
        shapely.MultiPoint(np.vstack([shape + np.array(end) for end in ((x, y), out)])).convex_hull for shape in shapes
    ]
    free = all(shapely.distance(way, metal) >= CLEAR - SAME_PLACE for way in ways)
    return ("saddle" if frame.sign > 0 else "cross") if free else None


def _slides(frame: Frame) -> tuple[Slide, ...]:
    """The cross slide, the saddle, and the top slide where it moves the tool in the saddle's stead."""
    shop = frame.job.shop
    return (shop.cross, shop.saddle, *(() if shop.saddle_moves else (shop.coarse,)))


def _reading(frame: Frame, slide: Slide, tool: Tool, move: Move) -> Reading:
    place = frame.sign * move.start.y if slide.name == "cross" else move.start.x
    figure = frame.figure(slide, tool, place, place)
    return Reading(slide.name, figure, _shown(slide, figure))


def _shown(slide: Slide, figure: float) -> str:
    """As it is read: on a dial with the whole turns from the figure 0, and the division to stop at."""
    if not (slide.on_dial and slide.per_turn):
        return slide.text(figure)
    place = dial_place(slide, figure)
    return f"{slide.text(figure)}: turn {place.turns}, stop at {place.division:g}"


def _text(frame: Frame, first: Literal["cross", "saddle"], readings: tuple[Reading, ...]) -> str:
    shown = {reading.slide: reading.shown for reading in readings}
    along = frame.job.shop.coarse.name
    name = "saddle" if along == "saddle" else "top slide"
    toward = f"{name}, wound toward the chuck, to {shown[along]}"
    if first == "saddle":
        return f"Start from here: tool outside the bar's diameter, {toward}; then cross slide in to {shown['cross']}"
    way = "hole" if frame.sign < 0 else "piece"
    return f"Start from here: tool in front of the {way}, cross slide to {shown['cross']}; then {toward}"
