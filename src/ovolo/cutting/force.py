"""Load of a cut, spindle speed and feed: Kienzle's force law and what follows from it.

Lengths in mm, force in N, power in W, cutting speed in m/min, spindle speed in rev/min, specific cutting
force in N/mm^2, specific energy in W s/mm^3 (the same as J/mm^3). Published constants differ by 25 % between sources;
a blunt tool adds as much again. Take a force from here as a size, not as a measurement.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple

from ovolo.cutting.limits import above, at_least, between, within_limits
from ovolo.errors import Fault, FaultsFound

__all__ = [
    "HP_MIN_PER_CUBIC_INCH",
    "MOST_SLENDER",
    "THINNEST_FITTED",
    "THRUST_SHARE",
    "Chip",
    "Load",
    "SpindleChoice",
    "chip_of_edge",
    "chip_of_nose",
    "choose_spindle",
    "cut_load",
    "cutting_force",
    "cutting_power",
    "cutting_speed",
    "energy_from_force",
    "hand_feed",
    "slenderness",
    "thinnest_chip",
    "thrust",
    "unit_power",
    "wanted_speed",
    "widest_chip",
]

THINNEST_FITTED = 0.05
"""Thinnest chip for which Kienzle's straight line was fitted [mm] (common practice, no source); below it, a guess."""

THRUST_SHARE = 0.5
"""Force that pushes tool and work apart, as a share of the cutting force (common practice, no source: 0.3 to 1)."""

MOST_SLENDER = 100.0
"""Width over thickness of a chip above which a small lathe is apt to chatter (our estimate, no source)."""

HP_MIN_PER_CUBIC_INCH = 745.69987158227022 * 60 / 25.4**3
"""W s/mm^3 in one hp/(in^3/min): 2.7303."""


class Chip(NamedTuple):
    """Width along the edge and thickness square to it, before the chip is bent off [mm]."""

    width: float
    thickness: float


def chip_of_edge(bite: float, feed: float, edge_angle: float) -> Chip:
    """Chip of a straight edge: width a/sin k, thickness f sin k [mm].

    bite:       a, depth of cut across the feed [mm].
    feed:       f, mm a turn.
    edge_angle: k, cutting edge angle of ISO 3002-1 [rad], 0.02 to 3.12.
    Limits: the bite is larger than the nose radius.
    Source: Kienzle's geometry, as in the machining laboratory script of IFW Hannover, June 2011, p. 6.

    >>> chip_of_edge(1.0, 0.1, math.pi / 2)
    Chip(width=1.0, thickness=0.1)
    """
    within_limits(
        at_least("bite", bite, 0),
        at_least("feed", feed, 0),
        between("cutting edge angle", edge_angle, 0.02, 3.12),
    )
    return Chip(bite / math.sin(edge_angle), feed * math.sin(edge_angle))


def chip_of_nose(bite: float, feed: float, nose_radius: float) -> Chip:
    """Chip of a round nose: length of the arc in the metal, and the mean thickness a f/width [mm].

    bite: a, across the feed [mm], 0 to 2 r. feed: f, mm a turn. nose_radius: r [mm].
    A nose that stands with its lowest point on the finished surface meets the metal over r acos(1 - a/r).
    Limits: the feed is small against the nose. Source: derived (area of the chip is bite times feed).

    >>> chip = chip_of_nose(0.5, 0.1, 3.0)
    >>> round(chip.width, 3), round(chip.thickness, 4)
    (1.757, 0.0285)
    """
    within_limits(above("nose radius", nose_radius, 0), at_least("feed", feed, 0))
    within_limits(between("bite", bite, 0, 2 * nose_radius))
    # 2 asin(sqrt(a/2r)) is acos(1 - a/r), and keeps its digits for a thin cut.
    width = 2 * nose_radius * math.asin(math.sqrt(bite / (2 * nose_radius)))
    return Chip(width, bite * feed / width if width else 0.0)


def slenderness(chip: Chip) -> float:
    """Width over thickness of a chip [-]; above `MOST_SLENDER` take a narrower bite or more feed.

    >>> slenderness(Chip(3.0, 0.05))
    60.0
    """
    within_limits(at_least("chip width", chip.width, 0), above("chip thickness", chip.thickness, 0))
    return chip.width / chip.thickness


def cutting_force(chip: Chip, k11: float, m: float) -> float:
    """Cutting force by Kienzle: F = b h^(1 - m) k11 [N].

    k11: specific cutting force of a chip of 1 mm by 1 mm [N/mm^2]; m: its exponent [-], 0 to less than 1.
    Limits: h from `THINNEST_FITTED` to about 2.5 mm (common practice, no source); `cut_load` says when it is not.
    Source: IFW Hannover, June 2011, p. 6.

    >>> round(cutting_force(Chip(1.0, 0.1), 1990, 0.26))
    362
    """
    within_limits(
        at_least("chip width", chip.width, 0),
        at_least("chip thickness", chip.thickness, 0),
        above("k_c1.1", k11, 0),
        between("m_c", m, 0, 0.99),
    )
    return float(chip.width * chip.thickness ** (1 - m) * k11)


def cutting_power(force: float, speed: float) -> float:
    """Power at the edge: P = F v/60 [W]; force [N], speed [m/min].

    Source: IFW Hannover, June 2011, p. 6.

    >>> round(cutting_power(362.1, 60), 1)
    362.1
    """
    within_limits(at_least("force", force, 0), at_least("cutting speed", speed, 0))
    return force * speed / 60


class Load(NamedTuple):
    """What one cut takes of the lathe: force along the speed [N], power at the edge [W]; `guess` outside the fit."""

    force: float
    power: float
    guess: bool


def cut_load(chip: Chip, k11: float, m: float, speed: float) -> Load:
    """Force [N] and power [W] of a cut, and whether the chip is thinner than the force law was fitted for.

    chip: width and thickness [mm]. k11: k_c1.1 [N/mm²]. m: its exponent [-]. speed: cutting speed [m/min]. Raises
    FaultsFound where one of them is out of range. Limits as `cutting_force`.

    >>> cut_load(Chip(1.0, 0.02), 1990, 0.26, 60).guess
    True
    """
    force = cutting_force(chip, k11, m)
    return Load(force, cutting_power(force, speed), chip.thickness < THINNEST_FITTED)


def widest_chip(force: float, thickness: float, k11: float, m: float) -> float:
    """How wide a chip of this thickness may be for a given force [mm]; undoes `cutting_force`.

    force [N]: what bending or the motor allows (power times 60 / speed). Limits as `cutting_force`.

    >>> round(widest_chip(362.13, 0.1, 1990, 0.26), 3)
    1.0
    """
    within_limits(at_least("force", force, 0), above("chip thickness", thickness, 0))
    return force / cutting_force(Chip(1.0, thickness), k11, m)


def thrust(force: float, share: float = THRUST_SHARE) -> float:
    """Force that bends the work away from the tool, as a share of the cutting force [N].

    share: 0.3 (sharp, edge angle 90 degrees) to 1 (round nose, thin chip, blunt); common practice, no source.

    >>> thrust(100.0)
    50.0
    """
    within_limits(at_least("force", force, 0), between("share", share, 0, 3))
    return force * share


def thinnest_chip(edge_radius: float, share: float) -> float:
    """The chip below which the edge rubs and smears instead of cutting [mm].

    edge_radius: of the cutting edge itself, not of the nose [mm]; honed high-speed steel about 0.005 to 0.01,
                 coated carbide 0.02 to 0.05 (common practice, no source).
    share:       of the edge radius [-], from the materials table.

    >>> round(thinnest_chip(0.03, 0.4), 4)
    0.012
    """
    within_limits(at_least("edge radius", edge_radius, 0), between("share", share, 0, 1))
    return edge_radius * share


def energy_from_force(specific_force: float) -> float:
    """Specific energy [W s/mm^3] of a specific cutting force [N/mm^2]: 1000 N/mm^2 are 1 W s/mm^3.

    >>> energy_from_force(2500)
    2.5
    """
    within_limits(at_least("specific force", specific_force, 0))
    return specific_force / 1000


def unit_power(hp_per_cubic_inch_a_minute: float) -> float:
    """Specific energy [W s/mm^3] of a unit power in hp/(in^3/min), as American tables print it.

    Source: definition of the horsepower (550 ft lbf/s) and the inch.

    >>> round(unit_power(0.63), 2)
    1.72
    """
    within_limits(at_least("unit power", hp_per_cubic_inch_a_minute, 0))
    return hp_per_cubic_inch_a_minute * HP_MIN_PER_CUBIC_INCH


def wanted_speed(speed: float, diameter: float) -> float:
    """Spindle speed for a cutting speed at a diameter: n = 1000 v/(pi D) [rev/min].

    speed: v [m/min]; diameter: D, the largest one cut [mm], more than 0. Source: every textbook.

    >>> round(wanted_speed(30, 25), 2)
    381.97
    """
    within_limits(above("cutting speed", speed, 0), above("diameter", diameter, 0))
    return 1000 * speed / (math.pi * diameter)


def cutting_speed(rpm: float, diameter: float) -> float:
    """Cutting speed at a diameter: v = pi D n/1000 [m/min].

    >>> round(cutting_speed(382, 25), 1)
    30.0
    """
    within_limits(at_least("spindle speed", rpm, 0), at_least("diameter", diameter, 0))
    return math.pi * diameter * rpm / 1000


class SpindleChoice(NamedTuple):
    """A spindle speed of the lathe [rev/min], the cutting speed it gives [m/min], and why this one."""

    rpm: float
    speed: float
    why: str


def choose_spindle(speed: float, diameter: float, speeds: Iterable[float], limit: float | None = None) -> SpindleChoice:
    """The lathe's fastest speed that exceeds neither the speed wanted nor the limit of chuck or work.

    speed: wanted at `diameter` [m/min]; diameter: the largest one cut [mm].
    speeds: what the lathe has [rev/min]; limit: of the chuck, as marked on it [rev/min].
    Where even the slowest is too fast for the tool, the slowest is taken, and `why` says so. A limit is never
    exceeded: raises `FaultsFound` if the slowest speed does.

    >>> choose_spindle(30, 25, (70, 200, 360, 600, 1000))
    SpindleChoice(rpm=360, speed=28.274333882308138, why='next below 382 rev/min')
    >>> choose_spindle(30, 2, (70, 200, 360, 600, 1000), limit=800).why
    'the limit of 800 rev/min'
    """
    listed = sorted(set(speeds))
    _check_speeds(listed, limit)
    allowed = [n for n in listed if limit is None or n <= limit]
    wanted = wanted_speed(speed, diameter)
    rpm = max((n for n in allowed if n <= wanted), default=allowed[0])
    return SpindleChoice(rpm, cutting_speed(rpm, diameter), _why(rpm, wanted, allowed, listed, limit))


def hand_feed(feed: float, rpm: float, travel_per_turn: float) -> float:
    """How fast to wind a handwheel for a feed [turns/min].

    feed: mm of the slide a turn of the work; rpm: of the spindle;
    travel_per_turn: mm of slide a turn of the handwheel (half of a diameter dial's figure).

    >>> hand_feed(0.1, 600, 2.0)
    30.0
    """
    within_limits(
        at_least("feed", feed, 0), at_least("spindle speed", rpm, 0), above("travel a turn", travel_per_turn, 0)
    )
    return feed * rpm / travel_per_turn


def _check_speeds(listed: list[float], limit: float | None) -> None:
    if not listed:
        raise FaultsFound([Fault("spindle speeds", None, "one or more", "no speed is listed", "List the lathe's own")])
    within_limits(above("spindle speeds", listed[0], 0), above("spindle speeds", listed[-1], 0))
    if limit is not None:
        within_limits(
            above("speed limit", limit, 0),
            between("slowest speed", listed[0], 0, limit, "Take a chuck for this speed, or a slower gear"),
        )


def _why(rpm: float, wanted: float, allowed: list[float], listed: list[float], limit: float | None) -> str:
    if rpm > wanted:
        return f"the slowest; {wanted:.0f} rev/min would suit the tool"
    if rpm < allowed[-1]:
        return f"next below {wanted:.0f} rev/min"
    if limit is not None and listed[-1] > limit and wanted > limit:
        return f"the limit of {limit:g} rev/min"
    return f"the fastest; {wanted:.0f} rev/min would suit the tool"
