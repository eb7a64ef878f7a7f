"""A tool that is not at the height of the spindle axis cuts another radius than the slide shows.

The tip stands h above or below the axis and x to its side; it is the distance sqrt(x^2 + h^2) from the axis
that turns into a radius. All lengths in mm; the sign of h does not matter to the radius. Limits: the plane of the
slide is square to the spindle, and the tip is a point seen along the axis. What the changed tool angles do is not here.
"""

import math
from typing import NamedTuple

from ovolo.cutting.limits import above, at_least, finite, within_limits

__all__ = ["TaperCut", "diameter_cut", "height_for", "pip_diameter", "radius_cut", "smallest_diameter", "taper_cut"]


def radius_cut(slide_radius: float, height_error: float) -> float:
    """The radius that is cut: rho = sqrt(x^2 + h^2) [mm].

    slide_radius: x, what the cross slide shows as radius [mm]; past the axis is allowed (negative).
    height_error: h [mm], above or below.
    Source: right triangle of height error, slide position and cutting radius.

    >>> round(radius_cut(1.0, 0.25), 6)
    1.030776
    """
    within_limits(finite("slide radius", slide_radius), finite("height error", height_error))
    return math.hypot(slide_radius, height_error)


def diameter_cut(slide_diameter: float, height_error: float) -> float:
    """The diameter that is cut when the slide shows a diameter [mm]; about 2 h^2/d more than shown.

    >>> [round(diameter_cut(d, 0.1), 5) for d in (3, 6, 10)]
    [3.00666, 6.00333, 10.002]
    """
    return 2 * radius_cut(slide_diameter / 2, height_error)


def pip_diameter(height_error: float) -> float:
    """Diameter of the pip that facing leaves at the axis [mm]: no radius below abs(h) can be reached.

    Source: geometry; in the shop it is the usual way to find the height.

    >>> pip_diameter(-0.1)
    0.2
    """
    within_limits(finite("height error", height_error))
    return 2 * abs(height_error)


def smallest_diameter(height_error: float, too_large: float) -> float:
    """The diameter below which the height error makes the work too large by more than is allowed [mm].

    too_large: the error allowed on the diameter [mm], more than 0.
    Source: derived, (d + e)^2 = d^2 + 4 h^2 solved for the slide's d; 0 where the pip itself is small enough.

    >>> round(smallest_diameter(0.1, 0.00666), 2)
    3.0
    """
    within_limits(above("error allowed", too_large, 0), finite("height error", height_error))
    return max((4 * height_error**2 - too_large**2) / (2 * too_large), 0.0)


def height_for(slide_diameter: float, too_large: float) -> float:
    """How far the tool may be off centre before the diameter is too large by a given error [mm].

    >>> round(height_for(3.0, 0.00665557), 4)
    0.1
    """
    within_limits(at_least("diameter", slide_diameter, 0), at_least("error allowed", too_large, 0))
    return math.sqrt(too_large * (2 * slide_diameter + too_large)) / 2


class TaperCut(NamedTuple):
    """A taper as it comes out: both end diameters, and how far the middle is hollow on the radius [mm]."""

    small: float
    large: float
    hollow: float


def taper_cut(small: float, large: float, height_error: float) -> TaperCut:
    """A taper turned off centre height: a little less taper, and hollow in the middle [mm].

    small, large: end diameters that the slides follow [mm], 0 or more.
    Both ends grow, the small one more, and the straight line becomes a hyperbola (rho^2 = x^2 + h^2), so the
    middle lies below the straight line between the ends as cut.
    Source: "Turning and Boring Tapers", 1902, and Rose, "Modern Machine-Shop Practice", say the taper gets less;
    hollow derived.

    >>> cut = taper_cut(2.0, 6.0, 0.5)
    >>> [round(value, 4) for value in cut]
    [2.2361, 6.0828, 0.0182]
    """
    within_limits(at_least("small diameter", small, 0), at_least("large diameter", large, 0))
    ends = diameter_cut(small, height_error), diameter_cut(large, height_error)
    middle = diameter_cut((small + large) / 2, height_error)
    return TaperCut(ends[0], ends[1], (sum(ends) / 2 - middle) / 2)
