"""A form tool from the outline that it was ground to, from any origin.

The planner knows every tool by its nose centre, and the readout by the reference point, `nose_radius` below it and as
far toward the chuck. A form tool has no nose, so any place serves; this one is chosen so that the reference point is
what it is for a round nose, where the lines meet that touch it from below and from the side toward the chuck, and so
that with the nose centre on the axis the tool's end toward the chuck reaches the axis: facing then leaves no pip.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.geometry.underside import Underside
from ovolo.shop.tools import Tool

#: How far an end with a corner is taken past the axis, mm: more than a count of any slide, for a corner that stops
#: just short of it leaves a pip as long as what it cut off.
PAST = 0.05
#: The nose centre lies at least so high over the lowest place, mm: it is what steps and ridges are measured by.
LEAST = 0.2
#: A shift smaller than this is none, mm: what was written about its own nose centre reads back the same.
STILL = 1e-7
#: Its figures are kept to this many decimals of a millimetre.
DECIMALS = 9


def form_tool(
    name: str,
    outline: Sequence[Segment],
    *,
    stem: float | None = None,
    shank: float | None = None,
    stands_out: float | None = None,
) -> Tool:
    """A form tool by its cutting outline, walked from its end toward the chuck along its underside; mm.

    The outline must be convex and head for the free end throughout.

    >>> tool = form_tool("chamfer 45", [Line(Point(0, 2), Point(2, 0)), Line(Point(2, 0), Point(5, 0))])
    >>> round(tool.nose_radius, 6), tool.width, round(tool.lowest[0], 6)
    (2.05, 5.0, -0.05)
    """
    under = Underside.of(outline)
    end = under.ends[0]
    high = end.y - under.low + (0.0 if under.runs_into_left_flank else PAST)
    radius = round(max(high, LEAST), DECIMALS)
    shift = Point(-radius - under.left, -radius - under.low)
    shift = shift if max(map(abs, shift)) > STILL else Point(0.0, 0.0)
    return Tool(
        name,
        "form",
        radius,
        width=round(under.right - under.left, DECIMALS),
        stem=stem,
        shank=shank,
        stands_out=stands_out,
        outline=tuple(_moved(segment, shift) for segment in outline),
    )


def _moved(segment: Segment, by: Point) -> Segment:
    """A piece about the nose centre, in figures that a job can carry and that lead to the same piece again."""

    def at(p: Point) -> Point:
        return Point(round(p.x + by.x, DECIMALS), round(p.y + by.y, DECIMALS))

    start, end = at(segment.start), at(segment.end)
    if isinstance(segment, Line):
        return Line(start, end)
    radius = max(round(segment.radius, DECIMALS), math.dist(start, end) / 2)
    return Arc.from_radius(start, end, radius, ccw=True)
