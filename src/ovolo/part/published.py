"""Published shapes as data: Morse tapers, ball knobs, undercuts, centre holes, metric threads.

Only numbers and how to look them up; what is drawn from them is elsewhere. Lengths in mm unless a name ends in
`_in`. Each table says where it was read. `seen` is False on a row whose figures are from memory: hold it against the
standard before making a part that must fit another.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple, TypeVar

from ovolo.errors import Fault, FaultsFound

__all__ = [
    "BALL_KNOBS",
    "CENTRE_HOLES",
    "FATIGUE_UNDERCUTS",
    "MORSE_TAPERS",
    "RADIUS_CENTRE_HOLES",
    "THREADS",
    "UNDERCUTS",
    "UNDERCUT_CYLINDER_ANGLE",
    "UNDERCUT_FACE_ANGLE",
    "BallKnob",
    "CentreHole",
    "MorseTaper",
    "RadiusCentreHole",
    "Thread",
    "Undercut",
    "ball_knob",
    "centre_hole",
    "morse_taper",
    "radius_centre_hole",
    "thread",
    "undercut",
]

_MM = 25.4


class MorseTaper(NamedTuple):
    """A Morse taper, in inches as it was laid down: diameter at the gauge line, at the small end, length of plug."""

    number: int
    gauge_in: float
    small_in: float
    plug_in: float
    per_foot_in: float
    seen: bool

    @property
    def gauge(self) -> float:
        """Diameter at the gauge line [mm].

        >>> round(morse_taper(2).gauge, 3)
        17.78
        """
        return self.gauge_in * _MM

    @property
    def small(self) -> float:
        """Diameter at the small end of the plug [mm].

        >>> round(morse_taper(2).small, 3)
        14.529
        """
        return self.small_in * _MM

    @property
    def plug(self) -> float:
        """Length from the gauge line to the small end [mm]; a socket is shorter.

        >>> round(morse_taper(2).plug, 2)
        65.09
        """
        return self.plug_in * _MM

    @property
    def ratio(self) -> float:
        """x of the taper 1 : x on the diameter [-].

        >>> round(morse_taper(2).ratio, 2)
        20.02
        """
        return 12 / self.per_foot_in

    @property
    def half_angle(self) -> float:
        """Angle to the axis [rad], what the top slide is set to.

        >>> round(math.degrees(morse_taper(2).half_angle), 4)
        1.4307
        """
        return math.atan(self.per_foot_in / 24)


# Two shop tables for D, d and length, one for taper a foot (seen). No. 0, 5, 6: fifth digit of the taper from memory.
MORSE_TAPERS = (
    MorseTaper(0, 0.3561, 0.2520, 2.0, 0.62460, False),
    MorseTaper(1, 0.4750, 0.3690, 2.125, 0.59858, True),
    MorseTaper(2, 0.7000, 0.5720, 2.5625, 0.59941, True),
    MorseTaper(3, 0.9380, 0.7780, 3.1875, 0.60235, True),
    MorseTaper(4, 1.2310, 1.0200, 4.0625, 0.62326, True),
    MorseTaper(5, 1.7480, 1.4750, 5.1875, 0.63151, False),
    MorseTaper(6, 2.4940, 2.1160, 7.25, 0.62565, False),
)


class BallKnob(NamedTuple):
    """A ball knob of DIN 319: ball diameter, its thread, height over the flat, width of the flat [mm]."""

    ball: float
    thread: str
    height: float
    flat: float
    seen: bool

    @property
    def flat_from_height(self) -> float:
        """Width of the flat where a true ball is cut at the height [mm]; within 1 mm of the one in the table.

        >>> ball_knob(25).flat_from_height
        15.0
        """
        radius = self.ball / 2
        return 2 * math.sqrt(radius**2 - (self.height - radius) ** 2)


# DIN 319:2002-04; range of sizes and M4 on 12 mm seen on the standard's first page, the other figures from memory.
BALL_KNOBS = (
    BallKnob(12, "M4", 11.2, 6, False),
    BallKnob(16, "M4", 15, 8, False),
    BallKnob(20, "M5", 18, 12, False),
    BallKnob(25, "M6", 22.5, 15, False),
    BallKnob(32, "M8", 29, 18, False),
    BallKnob(40, "M10", 37, 22, False),
    BallKnob(50, "M12", 46, 28, False),
)


class Undercut(NamedTuple):
    """An undercut of DIN 509 [mm], forms E and F, named by radius × depth, never width × depth.

    up_to:      the largest diameter that the row is for.
    radius:     r of the corner. depth: t1 below the cylinder. width: f along the cylinder.
    face_width: g along the face (form F). face_depth: t2 into the face (form F).
    """

    up_to: float
    radius: float
    depth: float
    width: float
    face_width: float
    face_depth: float

    @property
    def name(self) -> str:
        """Radius × depth, as on a drawing.

        >>> undercut(20).name
        '0.6 × 0.3'
        """
        return f"{self.radius:g} × {self.depth:g}"


UNDERCUT_CYLINDER_ANGLE = math.radians(15)
"""Run-out of an undercut of DIN 509 to the cylinder [rad]; an allowance z to be ground off moves it by z/tan 15°."""

UNDERCUT_FACE_ANGLE = math.radians(8)
"""Run-out of an undercut of DIN 509 to the face [rad]."""

# DIN 509: an extract of the edition of 1998-06 and two pages with the later table (seen).
UNDERCUTS = (
    Undercut(1.6, 0.1, 0.1, 0.5, 0.8, 0.1),
    Undercut(3, 0.2, 0.1, 1.0, 0.9, 0.1),
    Undercut(10, 0.4, 0.2, 2.0, 1.1, 0.1),
    Undercut(18, 0.6, 0.2, 2.0, 1.4, 0.1),
    Undercut(80, 0.6, 0.3, 2.5, 2.1, 0.2),
    Undercut(math.inf, 1.0, 0.4, 4.0, 3.2, 0.3),
)

# For parts under alternating load; above 18 mm only.
FATIGUE_UNDERCUTS = (
    Undercut(50, 1.0, 0.2, 2.5, 1.8, 0.1),
    Undercut(80, 1.6, 0.3, 4.0, 3.1, 0.2),
    Undercut(125, 2.5, 0.4, 5.0, 4.8, 0.3),
    Undercut(math.inf, 4.0, 0.5, 7.0, 6.4, 0.4),
)
_FATIGUE_FROM = 18.0


class CentreHole(NamedTuple):
    """A 60° centre hole, forms A and B [mm]: pilot, mouth of the cone, mouth of the guarding cone, least depth."""

    pilot: float
    mouth: float
    guard: float
    depth: float

    @property
    def cone_depth(self) -> float:
        """Length of the 60° cone along the axis [mm].

        >>> round(centre_hole(2.5).cone_depth, 3)
        2.425
        """
        return (self.mouth - self.pilot) / (2 * math.tan(math.radians(30)))


# ISO 6411 / DIN 332-1, forms A and B, via an engineering office's table (seen).
CENTRE_HOLES = (
    CentreHole(1, 2.12, 3.15, 1.9),
    CentreHole(1.6, 3.35, 5, 2.9),
    CentreHole(2, 4.25, 6.3, 3.7),
    CentreHole(2.5, 5.3, 8, 4.6),
    CentreHole(3.15, 6.7, 10, 5.9),
    CentreHole(4, 8.5, 12.5, 7.4),
    CentreHole(6.3, 13.2, 18, 11.5),
    CentreHole(10, 21.2, 28, 18.4),
)


class RadiusCentreHole(NamedTuple):
    """A centre hole with a rounded flank, form R [mm]: pilot, mouth, least depth (None: not known), arc's radii."""

    pilot: float
    mouth: float
    depth: float | None
    radius_most: float
    radius_least: float
    seen: bool


# DIN 332-1:1986 form R, depths in part from a poor scan (seen); radii of ISO 2541 from memory, so no row is `seen`.
RADIUS_CENTRE_HOLES = (
    RadiusCentreHole(1, 2.12, 1.9, 3.15, 2.5, False),
    RadiusCentreHole(1.6, 3.35, 2.9, 5, 4, False),
    RadiusCentreHole(2, 4.25, 3.7, 6.3, 5, False),
    RadiusCentreHole(2.5, 5.3, None, 8, 6.3, False),
    RadiusCentreHole(3.15, 6.7, None, 10, 8, False),
    RadiusCentreHole(4, 8.5, None, 12.5, 10, False),
    RadiusCentreHole(6.3, 13.2, None, 20, 16, False),
)


class Thread(NamedTuple):
    """A coarse metric thread of ISO 68-1 and ISO 724: nominal diameter and pitch [mm]; the rest follows."""

    diameter: float
    pitch: float

    @property
    def name(self) -> str:
        """As on a drawing.

        >>> thread("M8").name
        'M8'
        """
        return f"M{self.diameter:g}"

    @property
    def triangle(self) -> float:
        """H, height of the sharp triangle, sqrt(3)/2 P [mm].

        >>> round(thread("M8").triangle, 4)
        1.0825
        """
        return math.sqrt(3) / 2 * self.pitch

    @property
    def flank_diameter(self) -> float:
        """d2 = d - 0.75 H [mm].

        >>> round(thread("M8").flank_diameter, 3)
        7.188
        """
        return self.diameter - 0.75 * self.triangle

    @property
    def core_diameter(self) -> float:
        """d3 = d - 17/12 H, core of the bolt with its rounded root [mm].

        >>> round(thread("M8").core_diameter, 3)
        6.466
        """
        return self.diameter - 17 / 12 * self.triangle

    @property
    def hole_diameter(self) -> float:
        """D1 = d - 1.25 H, core of the nut [mm].

        >>> round(thread("M8").hole_diameter, 3)
        6.647
        """
        return self.diameter - 1.25 * self.triangle

    @property
    def depth(self) -> float:
        """h3 = 17/24 H, depth of the bolt's thread [mm].

        >>> round(thread("M8").depth, 3)
        0.767
        """
        return 17 / 24 * self.triangle

    @property
    def root_radius(self) -> float:
        """H/6 [mm].

        >>> round(thread("M8").root_radius, 3)
        0.18
        """
        return self.triangle / 6

    @property
    def stress_area(self) -> float:
        """pi/4 ((d2 + d3)/2)^2 [mm^2].

        >>> round(thread("M8").stress_area, 1)
        36.6
        """
        return math.pi / 4 * ((self.flank_diameter + self.core_diameter) / 2) ** 2


# ISO 68-1 / ISO 724, one full chart and a chart of limits (seen; pitch of M24 from memory).
THREADS = tuple(
    Thread(diameter, pitch)
    for diameter, pitch in (
        (3, 0.5), (4, 0.7), (5, 0.8), (6, 1), (8, 1.25), (10, 1.5), (12, 1.75), (14, 2), (16, 2), (20, 2.5), (24, 3),
    )
)  # fmt: skip


def morse_taper(number: int, where: str = "morse taper") -> MorseTaper:
    """The Morse taper of a number, 0 to 6; raises `FaultsFound` for another.

    >>> morse_taper(3).gauge_in
    0.938
    """
    return _row(MORSE_TAPERS, [row.number for row in MORSE_TAPERS], number, where)


def ball_knob(ball: float, where: str = "ball knob") -> BallKnob:
    """The ball knob of DIN 319 with this ball [mm]; raises `FaultsFound` for a size that isn't there.

    >>> ball_knob(25).thread
    'M6'
    """
    return _row(BALL_KNOBS, [row.ball for row in BALL_KNOBS], ball, where)


def centre_hole(pilot: float, where: str = "centre hole") -> CentreHole:
    """The centre hole, forms A and B, with this pilot [mm]; raises `FaultsFound` for a size that isn't there.

    >>> centre_hole(4).mouth
    8.5
    """
    return _row(CENTRE_HOLES, [row.pilot for row in CENTRE_HOLES], pilot, where)


def radius_centre_hole(pilot: float, where: str = "centre hole") -> RadiusCentreHole:
    """The centre hole, form R, with this pilot [mm]; raises `FaultsFound` for a size that isn't there.

    >>> radius_centre_hole(2).radius_most
    6.3
    """
    return _row(RADIUS_CENTRE_HOLES, [row.pilot for row in RADIUS_CENTRE_HOLES], pilot, where)


def thread(name: str, where: str = "thread") -> Thread:
    """The coarse metric thread of a name such as "M8"; raises `FaultsFound` for another.

    >>> thread("m10").pitch
    1.5
    """
    wanted = name.strip().upper() if isinstance(name, str) else name
    return _row(THREADS, [row.name for row in THREADS], wanted, where)


def undercut(diameter: float, *, fatigue: bool = False, where: str = "undercut") -> Undercut:
    """The undercut of DIN 509 for a diameter [mm]; a diameter on an edge belongs to the smaller range.

    fatigue: the row for alternating load, for diameters over 18 mm. Raises FaultsFound for a diameter that has none.

    >>> undercut(18).name, undercut(18.1).name, undercut(40, fatigue=True).name
    ('0.6 × 0.2', '0.6 × 0.3', '1 × 0.2')
    """
    least = _FATIGUE_FROM if fatigue else 0.0
    if not (math.isfinite(diameter) and diameter > least):
        remedy = "Take the undercut for usual load" if fatigue else "Give the diameter of the seat"
        limit = f"more than {least:g} mm"
        raise FaultsFound([Fault(where, diameter, limit, "DIN 509 has no undercut for this diameter", remedy)])
    return next(row for row in (FATIGUE_UNDERCUTS if fatigue else UNDERCUTS) if diameter <= row.up_to)


_Row = TypeVar("_Row")
_Key = TypeVar("_Key", str, float)


def _row(rows: tuple[_Row, ...], keys: Iterable[_Key], wanted: _Key, where: str) -> _Row:
    known = dict(zip(keys, rows, strict=True))
    if wanted not in known:
        listed = ", ".join(f"{key:g}" if isinstance(key, int | float) else key for key in known)
        raise FaultsFound([Fault(where, wanted, listed, "the table has no such size", "Take one that is in it")])
    return known[wanted]
