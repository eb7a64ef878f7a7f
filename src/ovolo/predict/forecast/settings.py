"""The settings of a plan as they lie along the outline: where each touches, and what stands between two of them.

Lengths in mm, angles in radians.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from ovolo.cutting.limits import above, within_limits
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.plan.toolpath.taper_passes import is_slant
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

__all__ = ["Setting", "apex", "gaps", "settings_along", "settings_of", "settings_of_noses"]


class Setting(NamedTuple):
    """One station: the move that completes it (0 where there is no move), its nose, and where that touches.

    A form tool has no nose: its nose radius is 0 here, and what holds for the arc of a nose does not hold for it.
    centre: of the nose, in the planner's frame. place: along the outline, as the `u` of the frame's chain.
    foot: in the planner's frame. normal: of the outline there, out of the metal, from +z toward +r [rad].
    """

    move: int
    centre: Point
    nose_radius: float
    place: float
    foot: Point
    normal: float


def settings_of(plan: Plan) -> tuple[Setting, ...]:
    """The stations of a plan, in the order in which they lie along the outline."""
    frame = plan.frame
    tools = {tool.name: tool for tool in plan.job.shop.tools}
    made = [move for move in plan.moves if move.station is not None]
    centres = [(move.n, _centre(frame, move, tools[move.tool]), tools[move.tool]) for move in made]
    return settings_of_noses(frame, centres)


def _centre(frame: Frame, move: Move, tool: Tool) -> Point:
    """The nose centre of a station; of a pass along a cone where it has gone along half of what it is nearest to."""
    start, end = (Point(p.x, frame.sign * p.y) for p in (move.start, move.end))
    if not is_slant(start, end):
        return end
    share = np.linspace(1.0, 0.0, _ALONG)
    x, y = start.x + share * (end.x - start.x), start.y + share * (end.y - start.y)
    order = np.argsort(x, kind="stable")
    far = 4 * frame.job.shop.stock.radius
    shifts = tool.edge.noses or (0.0,)
    away = np.min([frame.chain.project(x[order] + shift, y[order], far)[1] for shift in shifts], axis=0)
    near = order[away < away.min() + _TOUCHES]
    middle = near[np.argmin(np.abs(x[near] - x[near].mean()))]
    return Point(float(x[middle]), float(y[middle]))


_ALONG, _TOUCHES = 201, 1e-3
"""This many places of a pass along a taper are looked at; gaps that differ by less are alike, mm."""


def settings_of_noses(frame: Frame, noses: Sequence[tuple[int, Point, Tool]]) -> tuple[Setting, ...]:
    """Settings of tools (a number of its own each, nose centre, tool), in the outline's order [mm].

    Of the two corners of a grooving blade that which touches is taken.
    """
    formed = [item for item in noses if not item[2].edge.noses]
    noses = [item for item in noses if item[2].edge.noses]
    corners = [
        (number, Point(centre.x + shift, centre.y), tool.nose_radius)
        for number, centre, tool in noses
        for shift in tool.edge.noses
    ]
    found = (*_one_a_move(settings_along(frame, corners)), *_of_form_tools(frame, formed))
    return tuple(sorted(found, key=lambda setting: setting.place))


def _of_form_tools(frame: Frame, places: Sequence[tuple[int, Point, Tool]]) -> list[Setting]:
    """Settings of form tools, each with the place of the outline that is nearest to the tool's underside."""
    found = []
    for tool in dict.fromkeys(item[2] for item in places):
        mine = sorted((item for item in places if item[2] == tool), key=lambda item: item[1].x)
        x, y = np.array([centre for _, centre, _ in mine], dtype=np.float64).T
        place = tool.edge.touched(frame.chain, x, y, 2 * frame.job.shop.stock.radius)
        feet, out = frame.chain.points(place), frame.chain.normals(*frame.chain.locate(place))
        rows = np.column_stack([place, *feet, *out]).tolist()
        for (number, centre, _), (u, foot_x, foot_y, out_x, out_y) in zip(mine, rows, strict=True):
            normal = math.atan2(frame.sign * out_y, out_x)
            found.append(Setting(number, centre, 0.0, u, Point(foot_x, foot_y), normal))
    return found


def _one_a_move(settings: Sequence[Setting]) -> tuple[Setting, ...]:
    """Of the two corners of a grooving blade that which touches."""
    nearest: dict[int, Setting] = {}
    for setting in settings:
        known = nearest.get(setting.move)
        if known is None or _gap(setting) < _gap(known):
            nearest[setting.move] = setting
    return tuple(sorted(nearest.values(), key=lambda setting: setting.place))


def _gap(setting: Setting) -> float:
    return math.dist(setting.centre, setting.foot) - setting.nose_radius


def settings_along(frame: Frame, centres: Sequence[tuple[int, Point, float]]) -> tuple[Setting, ...]:
    """Nose centres (move, centre, nose radius) with the places where they touch, in the outline's order."""
    if not centres:
        return ()
    rising = sorted(centres, key=lambda item: item[1].x)
    x, y = np.array([item[1] for item in rising], dtype=np.float64).T
    place, _ = frame.chain.project(x, y, 4 * frame.job.shop.stock.radius)
    foot_x, foot_y = frame.chain.points(place)
    # The normal leads from the foot to the centre: at a sharp corner the outline itself has none.
    out_x, out_y = x - foot_x, y - foot_y
    found = [
        Setting(
            *rising[i],
            float(place[i]),
            Point(float(foot_x[i]), float(foot_y[i])),
            math.atan2(frame.sign * float(out_y[i]), float(out_x[i])),
        )
        for i in range(len(rising))
    ]
    return tuple(sorted(found, key=lambda setting: setting.place))


def gaps(frame: Frame, settings: Sequence[Setting]) -> tuple[float, ...]:
    """Height of the ridge between each two neighbours, square to the outline [mm].

    Where two noses don't meet, or the plan takes the nose along between them, the true ridge may be lower. Next to a
    setting of a form tool no formula gives it: inf, and the caller's own limit holds.
    """
    pairs = list(pairwise(settings))
    nosed = [min(one.nose_radius, other.nose_radius) > 0 for one, other in pairs]
    tops = [
        apex(one.centre, one.nose_radius, other.centre, other.nose_radius) if nose else one.foot
        for (one, other), nose in zip(pairs, nosed, strict=True)
    ]
    points = np.array(tops, dtype=np.float64).reshape(-1, 2)
    order = np.argsort(points[:, 0], kind="stable")
    height = np.zeros(len(points))
    _, height[order] = frame.chain.project(points[order, 0], points[order, 1], 4 * frame.job.shop.stock.radius)
    return tuple(float(h) if nose else math.inf for h, nose in zip(height, nosed, strict=True))


def apex(one: Point, one_radius: float, other: Point, other_radius: float) -> Point:
    """The place nearest to the metal that two noses leave between them: where their circles meet below [mm].

    `one` lies nearer the free end, the metal on the left of the way from it to `other`; where the circles don't meet,
    the middle of the gap is taken. Source: intersection of two circles, derived.

    >>> place = apex(Point(0.2, 0.8), 0.8, Point(-0.2, 0.8), 0.8)
    >>> round(place.y, 6), round(abs(place.x), 9)  # the feed mark of f 0.4, r 0.8
    (0.025403, 0.0)
    """
    within_limits(above("nose radius", one_radius, 0), above("nose radius", other_radius, 0))
    apart = math.dist(one, other)
    if apart < 1e-9:
        return Point(one.x, one.y - one_radius)
    along_x, along_y = (other.x - one.x) / apart, (other.y - one.y) / apart
    share = (apart**2 + one_radius**2 - other_radius**2) / (2 * apart)
    down = math.sqrt(max(one_radius**2 - share**2, 0.0))
    return Point(one.x + share * along_x - down * along_y, one.y + share * along_y + down * along_x)
