"""Length with an edge that leans over its own nose: the line that the figures mean is then touched by nothing.

With a cutting edge angle under 90° the edge goes past the nose, on the side that leads. It skims a cone and not a face,
and a flat surface meets it somewhere up the edge. So it is brought against the corner of a parallel whose height over
the nose is known: how far the edge has gone there follows from nose radius and angle.
"""

import math
from dataclasses import replace

from ovolo.geometry.segments import Point
from ovolo.plan.sweep.jaws import reach_toward_chuck
from ovolo.shop.dials import dial_place
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool
from ovolo.show.words.figures import dialled, figure_text, length_text, set_to
from ovolo.units import DEGREE, INCH, Unit

__all__ = ["beyond_nose", "by_parallel", "leans_over"]

_OVER = 1.0
"""So far over the surface the nose is set, mm: it clears that."""

_UP = 2.0
"""The corner stands at least so far over the nose centre, mm: the straight edge meets it, not the nose."""

_LEAST = 1e-3
"""Angles that differ by less are the same, degrees."""


def leans_over(tool: Tool) -> bool:
    """Whether its edge goes past its nose on the side that leads.

    >>> [leans_over(Tool("knife", "pointed", 0.4, edge_angle=math.radians(angle))) for angle in (93, 90, 60)]
    [False, False, True]
    """
    return tool.kind == "pointed" and tool.edge_angle / DEGREE < 90 - _LEAST


def beyond_nose(tool: Tool, level: float) -> float:
    """How far past its reference line the edge is at a height over the nose centre, mm.

    A nose of R 1 with its edge at 45°: the edge is 1.41 from the nose centre, and comes 2 further in 2 mm of height.

    >>> round(beyond_nose(Tool("knife", "pointed", 1.0, edge_angle=math.radians(45)), 2.0), 3)
    2.414
    """
    return reach_toward_chuck(replace(tool, hand="right"), level) - tool.nose_radius


def by_parallel(tool: Tool, slides: tuple[Slide, Slide], place: Point, where: str, *, bore: bool, unit: Unit) -> str:
    """How the slide along the axis is told with the corner of a parallel.

    slides: across and along. place: z of the end face and radius of the surface that the parallel stands over, mm.
    where: that surface in words.
    """
    cross, along = slides
    out = -1 if bore else 1
    tip = cross.place(cross.figure(place.y + out * _OVER))
    height = _round_up(abs(tip - place.y) + tool.nose_radius + _UP, unit)
    beyond = beyond_nose(tool, height - abs(tip - place.y) - tool.nose_radius)
    left = tool.hand == "left"
    told = set_to(along, place.x - beyond if left else place.x + beyond)
    more = "" if left else f" and the parallel's measured thickness {'more' if along.factor > 0 else 'less'}"
    side, corner = ("from the chuck's side ", "that corner of it") if left else ("", "its outer corner there")
    wrong = length_text(0.1 / math.tan(tool.edge_angle), unit)
    over = length_text(height, unit)
    stands = f"reaches {over} into the hole from {where}" if bore else f"stands {over} over {where}"
    dial = f" (its dial at {dial_place(cross, cross.figure(tip)).division:g})" if dialled(cross) else ""
    return (
        "Length: the edge leans over the nose, past the line that the figures mean: it can neither face the end nor be "
        "laid against it. Stop the spindle, and see to it that it cannot start. Hold a parallel flat against the end "
        f"face so that it {stands}; measure that, for 0.10 mm of it "
        f"are {wrong} of length. Set the cross slide to {figure_text(cross, tip)}{dial}, bring the edge {side}against "
        f"{corner}, and {told}{more}. Take the parallel away before anything turns."
    )


def _round_up(mm: float, unit: Unit) -> float:
    """The next height that is easily set: whole millimetres, or tenths of an inch, mm."""
    step = 1.0 if unit == "mm" else 0.1 * INCH
    return math.ceil(mm / step - 1e-9) * step
