"""The way back for somebody who is lost: which slide is wound first to be clear, and from which move to go on.

Outside the cross slide goes out beyond everything that turns, the saddle to where the move begins, the cross slide in
again; in a bore the saddle comes out in front of the hole first. A move done twice does no harm: it goes over what it
has cut. Lengths in mm. The tool is taken to be somewhere on the last move or on the one to come.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ovolo.geometry.chain import Floats
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.plan.sweep.sweep import body_shapes, tool_shape
from ovolo.plan.view.centre import FAR, SLOPE
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

__all__ = ["CLEAR", "WayBack", "obstacles", "tool_at", "ways_back"]

CLEAR = 1.0
"""So far from all that turns a tool is clear (as where a run starts), mm."""

GRAZE = 0.005
"""A tool may graze what it has just cut by this much, mm: what one setting scatters by."""

ASIDE = (0.0, 0.5, -0.5, 1.0, -1.0, 2.0, -2.0, 4.0, -4.0, 8.0, -8.0)
"""How far to the side a tool is wound at first, tried in this order, mm."""

_SAMPLES = 5
_BEHIND = 1000.0


class WayBack(NamedTuple):
    """Ahead of move `n`: the slide that leads out, the figure it is brought to, and the move to go on from.

    `aside` is how far the other slide has to be wound before that, so that the tool is off the shoulder that it has
    cut: outward or away from the chuck positive, mm of travel. `out` is None where neither leads out so: then the tool
    goes back the way it came.
    """

    n: int
    out: Literal["cross", "saddle"] | None
    aside: float
    clear: float
    go_on: int


def ways_back(plan: Plan) -> tuple[WayBack, ...]:
    """Ahead of each move, in order."""
    found: list[WayBack] = []
    standing = _standing(plan)
    restart: dict[str, int] = {}
    for i, move in enumerate(plan.moves):
        tool = _tool(plan, move)
        blocked = obstacles(plan, move.n - 1, standing)
        shapely.prepare(blocked)
        if move.tool not in restart or _free(tool, _way_in(plan, tool, move), blocked, plan):
            restart[move.tool] = move.n
        near = [m for m in plan.moves[max(i - 1, 0) : i + 1] if m.tool == move.tool]
        places = list(dict.fromkeys(p for m in near for p in _along(m)))
        aside = _aside(plan, tool, places, blocked, move)
        out: Literal["cross", "saddle"] = "cross" if _outside(plan) else "saddle"
        clear = _clear_figure(plan, tool)
        found.append(WayBack(move.n, None if aside is None else out, aside or 0.0, clear, restart[move.tool]))
    return tuple(found)


def _tool(plan: Plan, move: Move) -> Tool:
    return next(tool for tool in plan.tools if tool.name == move.tool)


def _along(move: Move) -> list[Point]:
    """Places on the way of a move, both ends with it."""
    shares = np.linspace(0.0, 1.0, _SAMPLES)
    return [Point(*(np.asarray(move.start) * (1 - s) + np.asarray(move.end) * s).tolist()) for s in shares]


def obstacles(plan: Plan, n: int, standing: BaseGeometry | None = None) -> BaseGeometry:
    """What a tool must not touch after move `n`, as a region of (z, r): metal, bar, jaws, centre."""
    return shapely.union(plan.swept.after(n), _standing(plan) if standing is None else standing)


def _standing(plan: Plan) -> BaseGeometry:
    """What stays where it is for the whole of a plan: bar, jaws, centre."""
    stock, frame = plan.job.shop.stock, plan.frame
    low = stock.hole / 2 if frame.sign < 0 else 0.0
    parts = [shapely.box(frame.back - _BEHIND, low, frame.back, stock.radius)]
    if stock.stick_out is not None:
        top = stock.widest + plan.job.shop.lathe.jaws_stand
        parts.append(shapely.box(-stock.stick_out - _BEHIND, low, -stock.stick_out, top))
    if frame.centre is not None:
        tip, shoulder = frame.centre.front - frame.centre.hole / SLOPE, frame.centre.front
        end = shoulder + (frame.centre.body - frame.centre.hole) / SLOPE
        body = [(tip, 0.0), (end, frame.centre.body), (end + FAR, frame.centre.body), (end + FAR, 0.0)]
        parts.append(shapely.Polygon(body))
    return shapely.union_all(parts)


def _outside(plan: Plan) -> bool:
    return plan.frame.sign > 0


def clear_place(plan: Plan, tool: Tool) -> float:
    """Where the nose centre is clear: its r outside the work, its z in front of a hole, mm; a figure of the slide."""
    frame, shop = plan.frame, plan.job.shop
    if _outside(plan):
        jaws = 0.0 if shop.stock.stick_out is None else shop.stock.widest + shop.lathe.jaws_stand
        body = 0.0 if frame.centre is None else frame.centre.body
        low = max(shop.stock.widest, jaws, body) + CLEAR + tool.nose_radius
        return _up(shop.cross, low - tool.nose_radius) + tool.nose_radius
    dz = tool.reference[0]
    return _up(shop.coarse, shop.stock.front + CLEAR + tool.extent + dz) - dz


def _up(slide: Slide, place: float) -> float:
    """The next place of the reference point farther out, or away from the chuck, that is a round figure."""
    step = max(slide.step, 0.5 * slide.unit / 25.4 if slide.unit != 1.0 else 0.5)
    return slide.place(slide.figure(float(np.ceil(place / step - 1e-9)) * step))


def _clear_figure(plan: Plan, tool: Tool) -> float:
    place, shop = clear_place(plan, tool), plan.job.shop
    if _outside(plan):
        return shop.cross.figure(place - tool.nose_radius)
    return shop.coarse.figure(place + tool.reference[0])


def _way_in(plan: Plan, tool: Tool, move: Move) -> tuple[Point, Point]:
    """From where it is clear to where a move begins."""
    place = clear_place(plan, tool)
    clear = Point(move.start.x, place) if _outside(plan) else Point(place, move.start.y)
    return clear, move.start


def way_out(plan: Plan, tool: Tool, place: Point, aside: float = 0.0) -> list[tuple[Point, Point]]:
    """From a place to where it is clear: a little to the side first, where that is needed."""
    clear = clear_place(plan, tool)
    if _outside(plan):
        off = Point(place.x + aside, place.y)
        return [(place, off), (off, Point(off.x, max(clear, place.y)))]
    off = Point(place.x, place.y + aside)
    return [(place, off), (off, Point(max(clear, place.x), off.y))]


def _aside(plan: Plan, tool: Tool, places: Sequence[Point], blocked: BaseGeometry, move: Move) -> float | None:
    """How far to the side the tool goes first, so that it comes out from wherever it may be; None where it does not.

    While the move cuts, the metal on its way is gone.
    """
    cut = blocked if not move.cuts else shapely.difference(blocked, _track(plan, tool, move))
    shapely.prepare(cut)
    for aside in ASIDE:
        ways = [way for place in places for way in way_out(plan, tool, place, aside)]
        if all(_free(tool, way, cut, plan) for way in ways):
            return aside
    return None


def _track(plan: Plan, tool: Tool, move: Move) -> BaseGeometry:
    shape = tool_shape(tool) * _turn(plan)
    return shapely.MultiPoint(np.vstack([shape + np.asarray(p) for p in (move.start, move.end)])).convex_hull


def _turn(plan: Plan) -> Floats:
    return np.array([1.0, float(plan.frame.sign)])


def _free(tool: Tool, way: tuple[Point, Point], blocked: BaseGeometry, plan: Plan) -> bool:
    """Whether a tool goes along a way and touches nothing."""
    return all(_depth(hull, blocked) <= GRAZE for hull in tool_at(plan, tool, way))


def tool_at(plan: Plan, tool: Tool, way: tuple[Point, Point]) -> Iterator[BaseGeometry]:
    """What the pieces of a tool pass over on a straight way: its cutting outline, shank and bar."""
    for shape in (tool_shape(tool), *body_shapes(tool)):
        points = np.vstack([shape * _turn(plan) + np.asarray(place) for place in way])
        yield shapely.MultiPoint(points).convex_hull


def _depth(hull: BaseGeometry, blocked: BaseGeometry) -> float:
    """How wide what a tool takes is, about, mm: the area over half its border."""
    if not shapely.intersects(hull, blocked):
        return 0.0
    taken = shapely.intersection(hull, blocked)
    return 2 * taken.area / taken.length if taken.length else 0.0
