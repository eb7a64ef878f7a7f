"""How far the work, or a boring bar, bends under the force of the cut.

Lengths in mm, forces in N, modulus of elasticity E in N/mm^2, deflection in mm toward the force. Limits of all
formulas: slender beams of Euler and Bernoulli, rigid chuck, rigid centres, elastic metal. Shear is left out: it
adds about 0.54 (d/L)^2 to a bar held at one end, 6 % at three diameters (derived). A real chuck gives way
too, so a short stiff bar bends more than computed here.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from ovolo.cutting.limits import above, at_least, between, finite, within_limits
from ovolo.errors import Fault, FaultsFound

__all__ = [
    "BAR_OVERHANG_LIMIT",
    "OVERHANG_LIMIT",
    "Section",
    "Support",
    "bar_bends",
    "bends_between_centres",
    "bends_chuck_and_tailstock",
    "bends_in_chuck",
    "boring_bar_bends",
    "end_moves",
    "most_between_chuck_and_tailstock",
    "overhang_ratio",
    "second_moment",
]

Support = Literal["chuck", "chuck and tailstock", "between centres"]
"""How the bar is held. All places along it are measured from the chuck, or from the headstock centre."""

OVERHANG_LIMIT = 3.0
"""Overhang in diameters up to which work is turned without a centre (common practice, no source; some say 4 to 5)."""

BAR_OVERHANG_LIMIT = {"steel": 4.0, "heavy tungsten alloy": 6.0, "carbide": 6.0}
"""Overhang of a boring bar in its own diameters, by what it is made of (common practice, no source)."""


def second_moment(diameter: float, hole: float = 0.0) -> float:
    """Second moment of area of a round bar, I = pi (D^4 - d^4)/64 [mm^4].

    diameter: D [mm], more than 0; hole: d [mm], less than D. Source: standard.

    >>> round(second_moment(20), 2)
    7853.98
    """
    within_limits(above("diameter", diameter, 0))
    within_limits(at_least("hole", hole, 0), above("diameter", diameter, hole, "Leave a wall round the hole"))
    return math.pi * (diameter**4 - hole**4) / 64


def bends_in_chuck(force: float, out: float, modulus: float, moment: float) -> float:
    """Bar held in the chuck only, at the force: W l^3/(3 E I) [mm].

    out: l, from the jaws to the force [mm]. modulus: E [N/mm^2]. moment: I [mm^4].
    Source: Machinery's Handbook 31st ed., Stresses and Deflections in Beams, case 11 (12 for a longer bar).

    >>> round(1000 * bends_in_chuck(100, 60, 210_000, second_moment(20)), 4)
    4.3654
    """
    _beam_limits(force, out, modulus, moment)
    return force * out**3 / (3 * modulus * moment)


def end_moves(force: float, out: float, beyond: float, modulus: float, moment: float) -> float:
    """Bar held in the chuck only, at its end beyond the force: W l^2 (2 l + 3 b)/(6 E I) [mm].

    out: l, jaws to force; beyond: b, force to end [mm].
    Source: Machinery's Handbook 31st ed., Stresses and Deflections in Beams, case 12.

    >>> round(1000 * end_moves(100, 60, 0, 210_000, second_moment(20)), 4)
    4.3654
    """
    _beam_limits(force, out, modulus, moment)
    within_limits(at_least("length beyond the force", beyond, 0))
    return force * out**2 * (2 * out + 3 * beyond) / (6 * modulus * moment)


def bends_between_centres(force: float, place: float, length: float, modulus: float, moment: float) -> float:
    """Bar between centres, at the force: W a^2 b^2/(3 E I l) [mm].

    place: a, from one centre to the force; length: l between the centres [mm]; b = l - a.
    Source: Machinery's Handbook 31st ed., Stresses and Deflections in Beams, cases 2 and 3.

    >>> round(1000 * bends_between_centres(100, 100, 200, 210_000, second_moment(20)), 3)
    10.105
    """
    _beam_limits(force, length, modulus, moment)
    within_limits(between("place of the force", place, 0, length))
    return force * place**2 * (length - place) ** 2 / (3 * modulus * moment * length)


def bends_chuck_and_tailstock(force: float, place: float, length: float, modulus: float, moment: float) -> float:
    """Bar in the chuck and on the tailstock centre, at the force: W a^3 b^2 (3 l + b)/(12 E I l^3) [mm].

    place: a, from the jaws to the force; length: l, jaws to centre [mm]; b = l - a.
    Source: Machinery's Handbook 31st ed., Stresses and Deflections in Beams, cases 13 and 14.

    >>> round(1000 * bends_chuck_and_tailstock(100, 150, 200, 210_000, second_moment(20)), 4)
    3.4638
    """
    _beam_limits(force, length, modulus, moment)
    within_limits(between("place of the force", place, 0, length))
    rest = length - place
    return force * place**3 * rest**2 * (3 * length + rest) / (12 * modulus * moment * length**3)


def most_between_chuck_and_tailstock(force: float, length: float, modulus: float, moment: float) -> tuple[float, float]:
    """Largest deflection with the force at mid-length, and how far from the centre it is [mm].

    W l^3/(48 sqrt 5 E I) at l/sqrt 5 from the tailstock centre (the book's 107.33 and .4472).
    Source: Machinery's Handbook 31st ed., Stresses and Deflections in Beams, case 13.

    >>> most, place = most_between_chuck_and_tailstock(100, 200, 210_000, second_moment(20))
    >>> round(1000 * most, 3), round(place, 2)
    (4.519, 89.44)
    """
    _beam_limits(force, length, modulus, moment)
    return force * length**3 / (48 * math.sqrt(5) * modulus * moment), length / math.sqrt(5)


def overhang_ratio(out: float, diameter: float) -> float:
    """Overhang in diameters [-]; above `OVERHANG_LIMIT` think of the tailstock.

    >>> overhang_ratio(60, 20)
    3.0
    """
    within_limits(at_least("overhang", out, 0), above("diameter", diameter, 0))
    return out / diameter


def boring_bar_bends(force: float, overhang: float, diameter: float, modulus: float) -> float:
    """Tip of a round boring bar, held rigidly: 64 F L^3/(3 pi E d^4) [mm].

    overhang: L, holder to tip; diameter: d of the bar [mm]. Source: case 11 of the handbook, as `bends_in_chuck`.

    >>> round(1000 * boring_bar_bends(50, 60, 12, 210_000), 2)
    16.84
    """
    return bends_in_chuck(force, overhang, modulus, second_moment(diameter))


class Section(NamedTuple):
    """A piece of a bar, seen from the chuck on: its length, and its diameter where it starts and where it ends [mm].

    hole: of a drilled bar [mm]. A cylinder with a hole is exact; a cone with a hole is taken as the solid bar
    that is as stiff at both its ends.
    """

    length: float
    start: float
    end: float
    hole: float = 0.0


class _Piece(NamedTuple):
    """Part of a section between two places along the bar, with the diameters of the equally stiff solid bar."""

    near: float
    far: float
    start: float
    end: float


def bar_bends(
    force: float,
    place: float,
    sections: Sequence[Section],
    modulus: float,
    support: Support = "chuck",
    read: float | None = None,
) -> float:
    """A bar whose diameter varies, held in any of the three ways: deflection at one place [mm].

    force:    W [N] at `place` [mm from the chuck].
    sections: from the chuck, or the headstock centre, to the free end or the tailstock centre.
    modulus:  E [N/mm^2].
    read:     the place of the deflection [mm]; left out: at the force.
    The bending moments of the force and of a unit force run straight along each piece, so the integral of M m/(E I)
    over a cylinder or a cone has a closed form, and nothing is approximated: with M, m at the ends 1 and 2 and
    d from a to b it is 64 L/(pi E) (M1 m1/(3 a^3 b) + (M1 m2 + M2 m1)/(6 a^2 b^2) + M2 m2/(3 a b^3)).
    Limits: diameters more than 0 (a dome's tip ends where the force is), mild changes of diameter; at a sharp
    shoulder the metal in the corner helps less than assumed.
    Source: unit-load method of the theory of structures; closed form for the cone derived here.

    >>> bar = [Section(60, 20, 20)]
    >>> round(1000 * bar_bends(100, 60, bar, 210_000), 4)
    4.3654
    """
    within_limits(above("modulus of elasticity", modulus, 0), finite("force", force))
    pieces = _pieces(sections, place, place if read is None else read)
    return force * _flexibility(pieces, place, place if read is None else read, support) / modulus


def _flexibility(pieces: Sequence[_Piece], place: float, read: float, support: Support) -> float:
    """Deflection at `read` for a unit force at `place`, times E [1/mm]."""
    length = pieces[-1].far
    if support == "between centres":
        return _work(pieces, _MomentBetweenCentres(place, length), _MomentBetweenCentres(read, length))
    at_place, at_read = _MomentInChuck(place), _MomentInChuck(read)
    free = _work(pieces, at_place, at_read)
    if support == "chuck":
        return free
    # The tailstock pushes back with just the force that keeps the end where it is.
    at_end = _MomentInChuck(length)
    return free - _work(pieces, at_place, at_end) * _work(pieces, at_end, at_read) / _work(pieces, at_end, at_end)


class _MomentInChuck(NamedTuple):
    """Bending moment of a unit force at `place` on a bar that only the chuck holds."""

    place: float

    def at(self, z: float) -> float:
        return max(self.place - z, 0.0)


class _MomentBetweenCentres(NamedTuple):
    """Bending moment of a unit force at `place` on a bar between centres."""

    place: float
    length: float

    def at(self, z: float) -> float:
        near, far = min(z, self.place), max(z, self.place)
        return near * (self.length - far) / self.length


_Moment = _MomentInChuck | _MomentBetweenCentres


def _work(pieces: Sequence[_Piece], one: _Moment, other: _Moment) -> float:
    """Integral of M m / I along the bar [1/mm]; exact, as both run straight along each piece."""
    return sum(_piece_work(piece, one, other) for piece in pieces) * 64 / math.pi


def _piece_work(piece: _Piece, one: _Moment, other: _Moment) -> float:
    a, b = piece.start, piece.end
    m1, m2 = one.at(piece.near), one.at(piece.far)
    n1, n2 = other.at(piece.near), other.at(piece.far)
    mixed = (m1 * n2 + m2 * n1) / (6 * a * a * b * b)
    return (piece.far - piece.near) * (m1 * n1 / (3 * a**3 * b) + mixed + m2 * n2 / (3 * a * b**3))


def _pieces(sections: Sequence[Section], *cuts: float) -> list[_Piece]:
    """The sections, cut where a force stands or a deflection is read."""
    _section_limits(sections)
    length = math.fsum(section.length for section in sections)
    within_limits(*(between("place along the bar", cut, 0, length) for cut in cuts))
    pieces, near = [], 0.0
    for section in sections:
        pieces += _cut(section, near, cuts)
        near += section.length
    return pieces


def _cut(section: Section, near: float, cuts: Sequence[float]) -> list[_Piece]:
    far = near + section.length
    places = sorted({near, far, *(cut for cut in cuts if near < cut < far)})
    start, end = _solid(section.start, section.hole), _solid(section.end, section.hole)

    def diameter(z: float) -> float:
        return start + (end - start) * (z - near) / section.length

    return [_Piece(one, other, diameter(one), diameter(other)) for one, other in pairwise(places)]


def _solid(diameter: float, hole: float) -> float:
    """The solid bar that is as stiff as one with a hole."""
    return float((diameter**4 - hole**4) ** 0.25) if hole else diameter


def _section_limits(sections: Sequence[Section]) -> None:
    if not sections:
        raise FaultsFound([Fault("bar", None, "one or more sections", "the bar has no section", "Describe the bar")])
    for n, section in enumerate(sections, 1):
        within_limits(
            above(f"length of section {n}", section.length, 0),
            at_least(f"hole of section {n}", section.hole, 0),
            above(f"start of section {n}", section.start, max(section.hole, 0)),
            above(f"end of section {n}", section.end, max(section.hole, 0)),
        )


def _beam_limits(force: float, length: float, modulus: float, moment: float) -> None:
    within_limits(
        finite("force", force),
        at_least("length", length, 0),
        above("modulus of elasticity", modulus, 0),
        above("second moment of area", moment, 0),
    )
