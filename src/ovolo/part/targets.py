"""What a tolerance on the drawing lets stand: the ridge that a general tolerance or a grade allows on a curve."""

import re

from ovolo.errors import Fault, FaultsFound
from ovolo.part.tolerances import general_linear, grade_width

__all__ = ["KNOWN", "allowed_ridge"]

KNOWN = "ISO 2768-f, -m, -c or -v; or IT5 to IT14"

_GENERAL = re.compile(r"(?:ISO\s*)?2768\s*-?\s*([fmcv])[a-z]?", re.IGNORECASE)
_GRADE = re.compile(r"IT\s*(\d{1,2})", re.IGNORECASE)


def allowed_ridge(tolerance: str, diameter: float, where: str = "finish.tolerance") -> float:
    """The most metal that may stand on a curve of this largest diameter [mm], square to it [mm].

    A ridge of height h makes the diameter 2 h larger. A general tolerance allows plus t: h = t / 2. A grade of width T
    is taken to lie half above the outline and half below it: h = T / 4. Raises FaultsFound for an unknown tolerance, or
    a size that its table does not hold. Sources: ISO 2768-1:1989, table 1; ISO 286-1, standard tolerances.

    >>> allowed_ridge("ISO 2768-m", 18), allowed_ridge("IT9", 18)
    (0.1, 0.01075)
    """
    general, grade = _GENERAL.fullmatch(tolerance.strip()), _GRADE.fullmatch(tolerance.strip())
    if general:
        return general_linear(diameter, general[1].lower(), where) / 2
    if grade:
        return grade_width(diameter, f"IT{int(grade[1])}", where) / 4
    says = "this tolerance is not known"
    raise FaultsFound([Fault(where, tolerance, KNOWN, says, "Write a class of ISO 2768-1 or a grade of ISO 286-1")])
