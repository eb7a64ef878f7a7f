"""Both slides wound at once from station to station: what the hands do to the surface.

Lengths in mm. Two hands never keep exactly in proportion. The model: one slide runs ahead of the other by a share p
of its own way at the middle of the move, and is right again at both ends, as the stations are read off. p of 0.1 is
practised, 0.3 is usual at first (our estimate, no source): anyone can find his own by winding along a known taper.
"""

import math
from typing import NamedTuple

from ovolo.cutting.limits import above, at_least, between, within_limits

__all__ = ["BothSlides", "out_of_proportion", "wound_along_arc"]


def out_of_proportion(along: float, across: float, ahead: float) -> float:
    """Farthest the tool gets off the straight line between two stations [mm].

    along, across: ways of the two slides [mm, either sign]; ahead: p [-], 0 to 1.
    p abs(dz dr)/sqrt(dz^2 + dr^2): nothing where one slide stands still, the most at 45 degrees.
    Source: derived from the model above.

    >>> round(out_of_proportion(0.5, 0.5, 0.2), 4)
    0.0707
    """
    within_limits(between("share ahead", ahead, 0, 1))
    way = math.hypot(along, across)
    within_limits(at_least("way", way, 0))
    return ahead * abs(along) * (abs(across) / way) if way else 0.0


class BothSlides(NamedTuple):
    """What winding both slides between two stations takes below the outline, and leaves above it [mm]."""

    gouge: float
    left: float


def wound_along_arc(
    spacing: float, nose_radius: float, part_radius: float, slope: float, ahead: float, *, convex: bool
) -> BothSlides:
    """Gouge and metal left when both slides are wound along an arc from one station to the next [mm].

    spacing:     of the stations along the part's arc [mm], at most a quarter turn of it.
    part_radius: R [mm]; nose_radius: r [mm], concave less than R.
    slope:       of the arc there to the axis [rad]; ahead: p of `out_of_proportion`, either hand.
    The straight way between two stations cuts a convex outline by (R + r)(1 - cos(s/2R)) and leaves as much with
    R - r in a concave one; the hands add and subtract. Limits: few degrees between stations. Source: derived.

    >>> both = wound_along_arc(1.0, 3.0, 9.0, math.pi / 4, 0.2, convex=True)
    >>> round(both.gouge, 3), round(both.left, 3)
    (0.152, 0.115)
    """
    within_limits(above("nose radius", nose_radius, 0), above("part radius", part_radius, 0 if convex else nose_radius))
    within_limits(between("spacing", spacing, 0, part_radius * math.pi / 2), between("slope", slope, 0, math.pi / 2))
    centres = part_radius + nose_radius if convex else part_radius - nose_radius
    quarter = spacing / (4 * part_radius)
    sag, chord = 2 * centres * math.sin(quarter) ** 2, 2 * centres * math.sin(2 * quarter)
    off = out_of_proportion(chord * math.cos(slope), chord * math.sin(slope), ahead)
    below, above_it = (off + sag, off - sag) if convex else (off - sag, off + sag)
    return BothSlides(max(below, 0.0), max(above_it, 0.0))
