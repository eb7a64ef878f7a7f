"""What a tolerance on the drawing allows a curve: the ridge that may be left, and what may be missing."""

import re
from typing import NamedTuple

from ovolo.errors import Fault, FaultsFound
from ovolo.part.tolerances import general_linear, grade_width
from ovolo.units import INCH, Unit, parse_length

__all__ = ["KNOWN", "CurveLimits", "allowed_ridge", "curve_limits", "with_unit"]

KNOWN = "ISO 2768-f, -m, -c or -v; IT5 to IT14; or profile and a width, as profile 0.1"

_GENERAL = re.compile(r"(?:ISO\s*)?2768\s*-?\s*([fmcv])[a-z]?", re.IGNORECASE)
_GRADE = re.compile(r"IT\s*(\d{1,2})", re.IGNORECASE)
_PROFILE = re.compile(r"profile\s+(\S.*)", re.IGNORECASE)

BESIDE: dict[Unit, float] = {"mm": 0.05, "in": 0.002 * INCH}
"""What may be missing, and what may be left over the ridge specified, where the drawing says nothing, mm (ours)."""


class CurveLimits(NamedTuple):
    """What may be left above the outline, and what may be missing below it, square to it, mm."""

    above: float
    below: float


def allowed_ridge(tolerance: str, diameter: float, where: str = "finish.tolerance") -> float:
    """The most metal that may stand on a curve of this largest diameter [mm], square to it [mm].

    A ridge of height h makes the diameter 2 h larger. A general tolerance allows plus t: h = t / 2. A grade of width T
    is taken to lie half above the outline and half below it: h = T / 4. A profile of a line of width t reaches t / 2 to
    either side. Raises FaultsFound for an unknown tolerance, or a size that its table does not hold. Sources: ISO
    2768-1:1989, table 1; ISO 286-1, standard tolerances; ISO 1101, profile of a line.

    >>> allowed_ridge("ISO 2768-m", 18), allowed_ridge("IT9", 18), allowed_ridge("profile 0.1 mm", 18)
    (0.1, 0.01075, 0.05)
    """
    text = tolerance.strip()
    general, grade, profile = (kind.fullmatch(text) for kind in (_GENERAL, _GRADE, _PROFILE))
    if general:
        return general_linear(diameter, general[1].lower(), where) / 2
    if grade:
        return grade_width(diameter, f"IT{int(grade[1])}", where) / 4
    if profile:
        return _zone(profile[1], where) / 2
    says = "this tolerance is not known"
    remedy = "Write a class of ISO 2768-1, a grade of ISO 286-1, or the width of a profile of a line of ISO 1101"
    raise FaultsFound([Fault(where, tolerance, KNOWN, says, remedy)])


def curve_limits(tolerance: str | None, diameter: float, ridge: float, unit: Unit = "mm") -> CurveLimits:
    """What may be left on a curve of this largest diameter [mm] and what may be missing [mm].

    From the tolerance where there is one; else 0.05 mm (0.002 in) below, and as much over the `ridge` specified.

    >>> curve_limits("profile 0.1 mm", 18, 0.03), curve_limits(None, 18, 0.05)
    (CurveLimits(above=0.05, below=0.05), CurveLimits(above=0.1, below=0.05))
    """
    if tolerance is None:
        return CurveLimits(ridge + BESIDE[unit], BESIDE[unit])
    allowed = allowed_ridge(tolerance, diameter)
    return CurveLimits(allowed, allowed)


def with_unit(tolerance: str, unit: Unit) -> str:
    """The width of a profile's zone with its unit, where it has none; any other tolerance as it is.

    >>> with_unit("profile 0.004", "in"), with_unit("IT9", "in")
    ('profile 0.004 in', 'IT9')
    """
    profile = _PROFILE.fullmatch(tolerance.strip())
    bare = profile is not None and re.fullmatch(r"[0-9.,]+", profile[1].strip()) is not None
    return f"{tolerance.strip()} {unit}" if bare else tolerance


def _zone(text: str, where: str) -> float:
    """The width of a zone, mm."""
    width = parse_length(text, "mm", where)
    if not 0 < width <= 10:
        raise FaultsFound(
            [Fault(where, text, "more than 0, at most 10 mm", "no profile has such a zone", "Write its width t")]
        )
    return width
