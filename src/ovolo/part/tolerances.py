"""Published tolerances as tables: ISO 2768-1 for sizes without their own, ISO 286-1 grades.

Sizes and tolerances in mm, angles in radians. A size on the edge between two ranges belongs to the smaller one
("over 3 up to 6"). Read in reproductions of the standards (four of DIN ISO 2768-1, two of ISO 286-1) that agree;
the standards themselves were not at hand.
"""

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from ovolo.errors import Fault, FaultsFound

__all__ = [
    "CLASSES",
    "GRADES",
    "Limits",
    "general_angle",
    "general_linear",
    "general_radius",
    "grade_width",
    "hole_basis",
    "shaft_basis",
]

CLASSES = {"f": "fine", "m": "medium", "c": "coarse", "v": "very coarse"}
"""Tolerance classes of ISO 2768-1."""

_NONE = math.nan

# ISO 2768-1:1989, table 1; upper end of each range, then plus and minus, all in mm. The first range starts at 0.5.
_LINEAR_TO = (3, 6, 30, 120, 400, 1000, 2000, 4000)
_LINEAR = {
    "f": (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, _NONE),
    "m": (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2),
    "c": (0.2, 0.3, 0.5, 0.8, 1.2, 2, 3, 4),
    "v": (_NONE, 0.5, 1, 1.5, 2.5, 4, 6, 8),
}

# Table 2, external radii and heights of chamfers, from 0.5.
_RADIUS_TO = (3, 6, math.inf)
_RADIUS = {"f": (0.2, 0.5, 1.0), "m": (0.2, 0.5, 1.0), "c": (0.4, 1.0, 2.0), "v": (0.4, 1.0, 2.0)}

# Table 3, by the shorter leg of the angle; minutes of arc.
_ANGLE_TO = (10, 50, 120, 400, math.inf)
_ANGLE = {"f": (60, 30, 20, 10, 5), "m": (60, 30, 20, 10, 5), "c": (90, 60, 30, 15, 10), "v": (180, 120, 60, 30, 20)}

# ISO 286-1, standard tolerances in um. The formula of its annex A disagrees with half the table by up to 13 %.
_GRADE_TO = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250)
GRADES: Mapping[str, tuple[int, ...]] = {
    "IT5": (4, 5, 6, 8, 9, 11, 13, 15, 18, 20),
    "IT6": (6, 8, 9, 11, 13, 16, 19, 22, 25, 29),
    "IT7": (10, 12, 15, 18, 21, 25, 30, 35, 40, 46),
    "IT8": (14, 18, 22, 27, 33, 39, 46, 54, 63, 72),
    "IT9": (25, 30, 36, 43, 52, 62, 74, 87, 100, 115),
    "IT10": (40, 48, 58, 70, 84, 100, 120, 140, 160, 185),
    "IT11": (60, 75, 90, 110, 130, 160, 190, 220, 250, 290),
    "IT12": (100, 120, 150, 180, 210, 250, 300, 350, 400, 460),
    "IT13": (140, 180, 220, 270, 330, 390, 460, 540, 630, 720),
    "IT14": (250, 300, 360, 430, 520, 620, 740, 870, 1000, 1150),
}
"""Width of the standard tolerances of ISO 286-1 [um], for sizes up to 3, 6, 10, 18, 30, 50, 80, 120, 180, 250 mm."""


def general_linear(size: float, tolerance_class: str = "m", where: str = "size") -> float:
    """Plus and minus for a length or diameter without a tolerance of its own [mm].

    size: 0.5 to 4000 [mm]. tolerance_class: "f", "m", "c" or "v"; raises `FaultsFound` where the table is empty.
    Source: ISO 2768-1:1989, table 1.

    >>> general_linear(30), general_linear(30.1), general_linear(25, "f")
    (0.2, 0.3, 0.1)
    """
    return _look_up(size, tolerance_class, _LINEAR_TO, _LINEAR, where, 0.5)


def general_radius(size: float, tolerance_class: str = "m", where: str = "radius") -> float:
    """Plus and minus for an external radius or the height of a chamfer [mm].

    size: 0.5 or more [mm]. Source: ISO 2768-1:1989, table 2.

    >>> general_radius(9), general_radius(3, "c")
    (1.0, 0.4)
    """
    return _look_up(size, tolerance_class, _RADIUS_TO, _RADIUS, where, 0.5)


def general_angle(shorter_leg: float, tolerance_class: str = "m", where: str = "angle") -> float:
    """Plus and minus for an angle [rad], by the length of its shorter leg.

    shorter_leg: more than 0 [mm]. Source: ISO 2768-1:1989, table 3.

    >>> round(math.degrees(general_angle(30)), 3)
    0.5
    """
    return math.radians(_look_up(shorter_leg, tolerance_class, _ANGLE_TO, _ANGLE, where, 0.0) / 60)


def grade_width(size: float, grade: str, where: str = "size") -> float:
    """Width of a standard tolerance [mm].

    size: more than 0, to 250 [mm]. grade: "IT5" to "IT14". Source: ISO 286-1, table of standard tolerances.

    >>> grade_width(25, "IT7")
    0.021
    """
    return _look_up(size, grade, _GRADE_TO, GRADES, where, 0.0) / 1000


class Limits(NamedTuple):
    """Upper and lower deviation from a nominal size [mm]."""

    upper: float
    lower: float


def hole_basis(size: float, grade: str) -> Limits:
    """Deviations of a hole H: from 0 up [mm]. Source: ISO 286-1.

    >>> hole_basis(25, "IT7")
    Limits(upper=0.021, lower=0.0)
    """
    return Limits(grade_width(size, grade), 0.0)


def shaft_basis(size: float, grade: str) -> Limits:
    """Deviations of a shaft h: from 0 down [mm]. Source: ISO 286-1.

    >>> shaft_basis(25, "IT6")
    Limits(upper=0.0, lower=-0.013)
    """
    return Limits(0.0, -grade_width(size, grade))


def _look_up(
    size: float, row: str, ends: Sequence[float], table: Mapping[str, Sequence[float]], where: str, least: float
) -> float:
    """The cell of a row in the range that the size falls into."""
    if row not in table:
        rows = ", ".join(table)
        raise FaultsFound(
            [Fault(where, row, rows, "this tolerance class or grade is not in the table", f"Take one of {rows}")]
        )
    if not (0 < size < math.inf and least <= size <= ends[-1]):
        limit = f"{f'{least:g}' if least else 'more than 0'} to {ends[-1]:g} mm"
        raise FaultsFound([Fault(where, size, limit, "the table has no such size", "State a tolerance of its own")])
    found = table[row][bisect_left(ends, size)]
    if math.isnan(found):
        says = f"class {row} has no value for this size"
        raise FaultsFound([Fault(where, size, "a size that the class covers", says, "Take another class")])
    return found
