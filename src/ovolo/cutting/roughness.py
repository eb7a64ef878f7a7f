"""Surface texture of what is turned: the filter that a roughness tester applies, Ra and Rq of feed marks, grades.

Lengths in mm, except roughness in um where a name says so. Feed marks here are the ideal ones, of a sharp round
nose; torn metal, chatter and a built-up edge come on top, and rule below about 0.05 mm of feed in steel (common
practice, no source).
"""

import math
from typing import TYPE_CHECKING, NamedTuple

from ovolo.cutting.limits import above, at_least, between, finite, within_limits
from ovolo.errors import Fault, FaultsFound

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = [
    "ALPHA",
    "GRADES_UM",
    "CutOff",
    "Texture",
    "arc_texture",
    "cut_off",
    "gaussian_weight",
    "grade_for",
    "mean_line",
    "texture_small",
    "transmission",
]

ALPHA = math.sqrt(math.log(2) / math.pi)
"""Constant of the Gaussian filter of ISO 16610-21:2011, 0.4697: half of a wave as long as the cut-off passes."""

GRADES_UM = {
    "N1": 0.025, "N2": 0.05, "N3": 0.1, "N4": 0.2, "N5": 0.4, "N6": 0.8,
    "N7": 1.6, "N8": 3.2, "N9": 6.3, "N10": 12.5, "N11": 25.0, "N12": 50.0,
}  # fmt: skip
"""Roughness grades of ISO 1302:1992/2002, Ra in um (seen in three tables; ISO 21920 no longer has them)."""

# Series of 1 - sqrt(1 - x^2) = sum of c x^(2 k), k = 1, 2, ...: for flat arcs, where the closed form loses its digits.
_SERIES = tuple(math.comb(2 * k, k) / (4**k * (2 * k - 1)) for k in range(1, 13))
_FLAT = 0.2


def gaussian_weight(x: float, cut_off_length: float) -> float:
    """Weight of the Gaussian profile filter at a distance [1/mm]: exp(-pi (x/(a l))^2)/(a l).

    x: distance [mm]; cut_off_length: l [mm]. Source: ISO 16610-21:2011 (from memory; cut-off at 50 % seen).

    >>> round(gaussian_weight(0, 0.8), 4)
    2.6612
    """
    within_limits(above("cut-off", cut_off_length, 0), finite("distance", x))
    width = ALPHA * cut_off_length
    return math.exp(-math.pi * (x / width) ** 2) / width


def transmission(wavelength: float, cut_off_length: float) -> float:
    """Share of a sine wave that stays in the mean line (waviness) [-]; the roughness gets the rest.

    exp(-pi (a l/w)^2) = 2^-((l/w)^2). Source: ISO 16610-21:2011 (from memory).

    >>> [transmission(w, 0.8) for w in (0.8, 0.4)]
    [0.5, 0.0625]
    """
    within_limits(above("wavelength", wavelength, 0), above("cut-off", cut_off_length, 0))
    return float(2.0 ** -((cut_off_length / wavelength) ** 2))


def mean_line(heights: "Floats", step: float, cut_off_length: float) -> "Floats":
    """Gaussian mean line of a profile; heights less it are the roughness profile (same unit as heights).

    heights: at equal distances; step: that distance [mm], at most a tenth of the cut-off.
    Near the ends the weights that fall on the profile are scaled to 1; drop half a cut-off there before judging.
    Source: ISO 16610-21:2011 (from memory).

    >>> import numpy as np
    >>> bool(np.allclose(mean_line(np.ones(100), 0.01, 0.25), 1))
    True
    """
    import numpy as np

    within_limits(above("cut-off", cut_off_length, 0), above("step", step, 0), at_least("heights", len(heights), 2))
    within_limits(between("step", step, 0, cut_off_length / 10, "Sample the profile more finely"))
    # One cut-off to either side: what lies beyond weighs less than 1e-6 of the whole.
    count = min(math.ceil(cut_off_length / step), len(heights) - 1)
    distances = np.arange(-count, count + 1) * step / (ALPHA * cut_off_length)
    weights = np.exp(-math.pi * distances**2)
    within = slice(count, count + len(heights))
    total = np.convolve(np.ones(len(heights)), weights)[within]
    return np.asarray(np.convolve(heights, weights)[within] / total, dtype=np.float64)


class Texture(NamedTuple):
    """Arithmetic mean Ra, root mean square Rq and height Rt of a profile [mm]."""

    ra: float
    rq: float
    rt: float


def arc_texture(spacing: float, nose_radius: float) -> Texture:
    """Texture of the feed marks of a round nose, exact, measured from their own mean line [mm].

    spacing: feed a turn, or distance of the settings [mm], more than 0, at most 2 r. nose_radius: r [mm].
    Limits: unfiltered; a spacing beyond a third of the cut-off is partly taken for waviness.
    Source: derived (integrals of the arc); Qu & Shih 2003 give closed forms too (not read).

    >>> marks = arc_texture(0.2, 0.8)
    >>> [round(1000 * value, 3) for value in marks]
    [1.609, 1.87, 6.275]
    """
    within_limits(above("nose radius", nose_radius, 0))
    within_limits(above("spacing", spacing, 0), between("spacing", spacing, 0, 2 * nose_radius))
    end = spacing / (2 * nose_radius)
    mean = _area(end) / end
    crossing = math.sqrt(mean * (2 - mean))
    ra = 2 * (mean * crossing - _area(crossing)) / end
    rq = math.sqrt(max(_square(end) / end - mean**2, 0.0))
    rt = end**2 / (1 + math.sqrt(1 - end**2))
    return Texture(nose_radius * ra, nose_radius * rq, nose_radius * rt)


def texture_small(spacing: float, nose_radius: float) -> Texture:
    """The same for a spacing that is small against the nose: f^2/(18 sqrt3 r), f^2/(12 sqrt5 r), f^2/(8 r) [mm].

    Limits: Ra and Rq are 2.5 % low at f/r 0.67. Source: derived (parabola).

    >>> [round(1000 * value, 3) for value in texture_small(0.2, 0.8)]
    [1.604, 1.863, 6.25]
    """
    within_limits(above("nose radius", nose_radius, 0))
    within_limits(between("spacing", spacing, 0, 2 * nose_radius))
    square = spacing**2 / nose_radius
    return Texture(square / (18 * math.sqrt(3)), square / (12 * math.sqrt(5)), square / 8)


def grade_for(ra_um: float) -> str:
    """The finest grade that a surface of this Ra keeps: the smallest of `GRADES_UM` that is Ra or more.

    ra_um: Ra [µm], 0 to 50. Raises FaultsFound outside that.

    >>> grade_for(1.61), grade_for(1.6)
    ('N8', 'N7')
    """
    within_limits(between("Ra", ra_um, 0, 50, "Rougher than N12 has no grade"))
    return next(name for name, most in GRADES_UM.items() if ra_um <= most)


class CutOff(NamedTuple):
    """Cut-off and evaluation length of a roughness tester [mm]."""

    cut_off: float
    length: float


_CUT_OFFS = (
    (0.04, CutOff(0.08, 0.4)),
    (0.13, CutOff(0.25, 1.25)),
    (0.4, CutOff(0.8, 4.0)),
    (1.3, CutOff(2.5, 12.5)),
    (4.0, CutOff(8.0, 40.0)),
)


def cut_off(spacing: float) -> CutOff:
    """Cut-off for a periodic profile, as turned ones are, by its mean spacing.

    spacing: RSm, here the feed a turn or the distance of settings [mm], above 0.013 to 4; an upper limit belongs to
    the range below it. Raises FaultsFound outside that. Source: ISO 4288:1996, via an instrument manual and a book's
    table.

    >>> cut_off(0.2)
    CutOff(cut_off=0.8, length=4.0)
    """
    if not 0.013 < spacing <= 4:
        says = f"a spacing of {spacing:g} mm has no standard cut-off"
        raise FaultsFound([Fault("spacing", spacing, "above 0.013 to 4", says, "Judge it by its ridges instead")])
    return next(choice for most, choice in _CUT_OFFS if spacing <= most)


def _area(x: float) -> float:
    """Integral of 1 - sqrt(1 - t^2) from 0 to x."""
    if x < _FLAT:
        return math.fsum(c * x ** (2 * k + 1) / (2 * k + 1) for k, c in enumerate(_SERIES, 1))
    return x - (x * math.sqrt(1 - x * x) + math.asin(x)) / 2


def _square(x: float) -> float:
    """Integral of (1 - sqrt(1 - t^2))^2, which is 2 (1 - sqrt(1 - t^2)) - t^2, from 0 to x."""
    if x < _FLAT:
        return math.fsum(2 * c * x ** (2 * k + 1) / (2 * k + 1) for k, c in enumerate(_SERIES, 1) if k > 1)
    return 2 * _area(x) - x**3 / 3
