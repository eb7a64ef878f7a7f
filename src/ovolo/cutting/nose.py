"""What a round nose leaves: feed marks, ridges between settings, and the error of a nose that is ignored.

All lengths in mm, angles in radians. The nose is a full circle of radius r; only the nose cuts, so a
spacing may not be wider than the nose. Every ridge is measured square to the outline.
"""

import math
from typing import NamedTuple

from ovolo.cutting.limits import above, at_least, between, within_limits

__all__ = [
    "GrooveNose",
    "IgnoredNose",
    "TipOffset",
    "feed_mark",
    "feed_mark_small",
    "ignored_nose_on_arc",
    "ignored_nose_on_taper",
    "nose_from_groove",
    "ridge_concave",
    "ridge_convex",
    "ridge_small",
    "spacing_concave",
    "spacing_convex",
    "spacing_flat",
    "tip_offset",
]


def feed_mark(spacing: float, nose_radius: float) -> float:
    """Height of the mark that a round nose leaves on a cylinder, face or taper [mm].

    R_t = r - sqrt(r^2 - s^2/4), written without the difference of nearly equal numbers.

    spacing:     s, feed per turn, or distance of two settings along the surface [mm], 0 to 2 r.
    nose_radius: r [mm], more than 0.
    Source: derived (two equal circles and their common tangent).

    >>> round(1000 * feed_mark(0.2, 0.8), 4)
    6.2746
    """
    _nose_limits(spacing, nose_radius)
    return _sagitta(spacing / 2, nose_radius)


def feed_mark_small(spacing: float, nose_radius: float) -> float:
    """The well-known s^2/(8 r), a little less than `feed_mark` [mm].

    Low by less than 1.6 % while s/r is 0.5 or less (Qu & Shih, Mach. Sci. Technol. 7(2), 2003, abstract).
    Source: classical (Boothroyd & Knight; Shaw), from memory.

    >>> round(1000 * feed_mark_small(0.2, 0.8), 4)
    6.25
    """
    _nose_limits(spacing, nose_radius)
    return spacing**2 / (8 * nose_radius)


def spacing_flat(ridge: float, nose_radius: float) -> float:
    """The spacing that leaves just this ridge on a straight surface [mm]; undoes `feed_mark`.

    ridge: 0 to r [mm]. Source: derived, s = 2 sqrt(2 r h - h^2).

    >>> round(spacing_flat(0.05, 3.0), 4)
    1.0909
    """
    within_limits(above("nose radius", nose_radius, 0), between("ridge", ridge, 0, nose_radius))
    return 2 * math.sqrt(ridge * (2 * nose_radius - ridge))


def ridge_convex(spacing: float, nose_radius: float, part_radius: float) -> float:
    """Ridge on a convex arc between two settings of a nose that touches it [mm].

    h = (R + r) cos p - sqrt(r^2 - (R + r)^2 sin^2 p) - R with p = s/(2 R).

    spacing:     s, measured along the part's arc [mm]; the two noses must meet: sin p at most r/(R + r).
    part_radius: R, convex [mm], more than 0.
    Source: derived; checked against intersected circles.

    >>> round(1000 * ridge_convex(0.4, 0.8, 10.0), 3)
    27.548
    """
    within_limits(above("nose radius", nose_radius, 0), above("part radius", part_radius, 0))
    widest = 2 * part_radius * math.asin(nose_radius / (part_radius + nose_radius))
    within_limits(between("spacing", spacing, 0, widest, "Set closer, or take a larger nose"))
    centres, half = part_radius + nose_radius, spacing / (2 * part_radius)
    return _sagitta(centres * math.sin(half), nose_radius) - _sagitta(centres * math.sin(half), centres)


def ridge_concave(spacing: float, nose_radius: float, part_radius: float) -> float:
    """Ridge in a concave arc between two settings of a nose that touches it [mm].

    h = R - (R - r) cos p - sqrt(r^2 - (R - r)^2 sin^2 p) with p = s/(2 R).

    part_radius: R, concave [mm], r or more: a larger nose does not fit. R = r leaves nothing.
    spacing:     s along the part's arc [mm]; the noses must meet and p stay within a quarter turn.
    Source: derived; checked against intersected circles.

    >>> round(1000 * ridge_concave(0.4, 0.8, 10.0), 3)
    23.285
    """
    within_limits(
        above("nose radius", nose_radius, 0),
        at_least("part radius", part_radius, nose_radius, "Take a smaller nose: it has to fit into the hollow"),
    )
    centres = part_radius - nose_radius
    most = math.asin(nose_radius / centres) if nose_radius < centres else math.pi / 2
    within_limits(between("spacing", spacing, 0, 2 * part_radius * most, "Set closer, or take a larger nose"))
    across = centres * math.sin(spacing / (2 * part_radius))
    return _sagitta(across, nose_radius) + (_sagitta(across, centres) if centres else 0.0)


def ridge_small(spacing: float, nose_radius: float, curvature: float) -> float:
    """Small-step law for a ridge, h = s^2/8 (1/r + k) [mm].

    curvature: k of the part [1/mm]: 1/R convex, -1/R concave, 0 straight; -1/r or more.
    Limits: for s/r of 0.5 the exact value is 2 % higher (convex) and 1 % higher (concave, R 10, r 0.8).
    Source: the usual scallop law (Lin & Koren 1996; Suresh & Yang 1994), from memory; derived again.

    >>> [round(1000 * ridge_small(0.4, 0.8, k), 2) for k in (0.1, 0.0, -0.1)]
    [27.0, 25.0, 23.0]
    """
    _nose_limits(spacing, nose_radius)
    within_limits(at_least("curvature", curvature, -1 / nose_radius, "Take a smaller nose: it has to fit"))
    return spacing**2 / 8 * (1 / nose_radius + curvature)


def spacing_convex(ridge: float, nose_radius: float, part_radius: float) -> float:
    """The spacing along a convex arc that leaves just this ridge [mm]; undoes `ridge_convex`.

    ridge: 0 to sqrt(R^2 + 2 R r) - R [mm], the most that two touching noses can leave.
    Source: derived, law of cosines on the triangle R + r, R + h, r, in half-angle form.

    >>> round(spacing_convex(0.02754780, 0.8, 10.0), 5)
    0.4
    """
    within_limits(above("nose radius", nose_radius, 0), above("part radius", part_radius, 0))
    most = math.sqrt(part_radius * (part_radius + 2 * nose_radius)) - part_radius
    within_limits(between("ridge", ridge, 0, most))
    return 2 * part_radius * _angle_opposite(nose_radius, part_radius + nose_radius, part_radius + ridge)


def spacing_concave(ridge: float, nose_radius: float, part_radius: float) -> float:
    """The spacing along a concave arc that leaves just this ridge [mm]; undoes `ridge_concave`.

    ridge: 0 [mm] to what the widest spacing leaves. part_radius: more than r (at R = r one setting does it all).
    Source: derived, law of cosines on the triangle R - r, R - h, r, in half-angle form.

    >>> round(spacing_concave(0.02328454, 0.8, 10.0), 5)
    0.4
    """
    remedy = "Take a smaller nose, or turn the hollow with one setting"
    within_limits(above("nose radius", nose_radius, 0), above("part radius", part_radius, nose_radius, remedy))
    centres = part_radius - nose_radius
    # The farthest meeting point is where the noses only just touch, or a quarter turn away, whichever is nearer.
    reach_sq = (centres - nose_radius) * part_radius if nose_radius < centres else nose_radius**2 - centres**2
    within_limits(between("ridge", ridge, 0, part_radius - math.sqrt(reach_sq)))
    return 2 * part_radius * _angle_opposite(nose_radius, centres, part_radius - ridge)


def ignored_nose_on_taper(angle: float, nose_radius: float) -> float:
    """Metal left on a taper, square to it, when the figures are worked out as if the tool had a point [mm].

    angle: of the taper to the axis [rad], 0 (cylinder) to pi/2 (face); both of these come out right.
    Source: derived, r (cos a + sin a - 1); the most, r (sqrt 2 - 1), at 45 degrees.

    >>> round(ignored_nose_on_taper(math.pi / 4, 1.0), 5)
    0.41421
    """
    within_limits(above("nose radius", nose_radius, 0), between("angle", angle, 0, math.pi / 2))
    # cos a + sin a - 1 = 2 sin(a/2) (cos(a/2) - sin(a/2)): nothing is lost near 0.
    return 2 * nose_radius * math.sin(angle / 2) * (math.cos(angle / 2) - math.sin(angle / 2))


class IgnoredNose(NamedTuple):
    """The arc that comes out when a quarter round is set out for a sharp point [mm]."""

    radius: float
    shift: float
    left_at_45: float


def ignored_nose_on_arc(part_radius: float, nose_radius: float, *, convex: bool) -> IgnoredNose:
    """The arc cut by a nose whose radius is ignored; it leaves metal on, and never gouges [mm].

    A convex quarter round of R comes out as R - r, a concave one as R + r, its centre shifted by r along both
    axes; at 45 degrees r (sqrt 2 - 1) is left, however many settings are taken.
    Limits: convex needs R above r. Source: derived; checked against the swept circle.

    >>> round(ignored_nose_on_arc(10.0, 0.8, convex=True).left_at_45, 5)
    0.33137
    """
    within_limits(above("nose radius", nose_radius, 0), above("part radius", part_radius, nose_radius if convex else 0))
    radius = part_radius - nose_radius if convex else part_radius + nose_radius
    return IgnoredNose(radius, nose_radius, nose_radius * (math.sqrt(2) - 1))


class TipOffset(NamedTuple):
    """How far to shift the figures of a reference point so that the nose touches a taper [mm]."""

    length: float
    diameter: float


def tip_offset(angle: float, nose_radius: float) -> TipOffset:
    """Shift along the axis, or on the diameter, that makes up for the nose on a taper [mm].

    Either one of the two does it: length r (1 - tan(a/2)) or diameter 2 r (1 - tan(45 deg - a/2)).

    angle: of the taper to the axis [rad], more than 0 and less than pi/2.
    Source: derived from `ignored_nose_on_taper`.

    >>> offset = tip_offset(math.radians(45), 0.8)
    >>> round(offset.length, 5), round(offset.diameter, 5)
    (0.46863, 0.93726)
    """
    within_limits(above("nose radius", nose_radius, 0), between("angle", angle, 0, math.pi / 2))
    length = nose_radius * (1 - math.tan(angle / 2))
    return TipOffset(length, 2 * nose_radius * (1 - math.tan(math.pi / 4 - angle / 2)))


class GrooveNose(NamedTuple):
    """A nose radius measured from a groove, and its standard uncertainty [mm]."""

    radius: float
    u: float


def nose_from_groove(width: float, depth: float, u_width: float = 0.0, u_depth: float = 0.0) -> GrooveNose:
    """Nose radius from a groove plunged into scrap: r = (w^2/4 + t^2)/(2 t) [mm].

    width: w across the groove at the surface [mm]; on a cylinder measured along the axis.
    depth: t, how far the tool went in [mm]; at most w/2, or the flanks have cut and the width says nothing.
    u_width, u_depth: standard uncertainties [mm], propagated to first order.
    Source: chord and rise of an arc, r = (c^2 + 4 h^2)/(8 h), Machinery's Handbook 31st ed. p. 79.

    >>> round(nose_from_groove(16, 6).radius, 6)
    8.333333
    """
    within_limits(
        above("groove width", width, 0),
        above("groove depth", depth, 0),
        at_least("u of width", u_width, 0),
        at_least("u of depth", u_depth, 0),
    )
    within_limits(between("groove depth", depth, 0, width / 2, "Plunge less deep: the nose alone may cut"))
    by_width, by_depth = width / (4 * depth), 0.5 - width**2 / (8 * depth**2)
    radius = (width**2 / 4 + depth**2) / (2 * depth)
    return GrooveNose(radius, math.hypot(by_width * u_width, by_depth * u_depth))


def _nose_limits(spacing: float, nose_radius: float) -> None:
    within_limits(above("nose radius", nose_radius, 0))
    within_limits(between("spacing", spacing, 0, 2 * nose_radius, "Set closer, or take a larger nose"))


def _sagitta(half_chord: float, radius: float) -> float:
    """r - sqrt(r^2 - a^2) without cancellation; a rounding error past the radius is taken as the radius."""
    rest = max(radius * radius - half_chord * half_chord, 0.0)
    return half_chord * half_chord / (radius + math.sqrt(rest))


def _angle_opposite(opposite: float, one: float, other: float) -> float:
    """Angle of a triangle opposite to a side, by the half-angle sine: exact where the angle is small."""
    square = (opposite - one + other) * (opposite + one - other) / (4 * one * other)
    return 2 * math.asin(math.sqrt(max(square, 0.0)))
