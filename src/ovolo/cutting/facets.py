"""An arc made of facets: the top slide set to a few computed angles instead of many settings of both slides.

Lengths in mm, angles in radians. A facet may only stand on the metal's free side: round a convex arc the facets are
tangents, and the corners between them stand proud; in a concave arc they are chords, and metal is left in mid-facet.
"""

import math

from ovolo.cutting.limits import above, at_least, between, within_limits

__all__ = ["facet_angles", "facet_corners", "facet_error", "facets_for"]


def facet_angles(sweep: float, facets: int, *, convex: bool = True) -> tuple[float, ...]:
    """Angles of the facets from the tangent at the arc's start, equal steps apart [rad].

    sweep:  angle of the arc, more than 0, to pi/2. facets: 1 or more.
    Convex: the surfaces before and behind the arc are tangents too, so the steps are sweep/(facets + 1).
    Source: derived (regular polygons).

    >>> [round(math.degrees(angle), 6) for angle in facet_angles(math.pi / 2, 3)]
    [22.5, 45.0, 67.5]
    """
    _facet_limits(sweep, facets)
    if convex:
        return tuple(sweep * k / (facets + 1) for k in range(1, facets + 1))
    return tuple(sweep * (k - 0.5) / facets for k in range(1, facets + 1))


def facet_error(radius: float, sweep: float, facets: int, *, convex: bool = True) -> float:
    """Most metal that the facets leave, square to the arc [mm].

    radius: R [mm]. Convex: R (1/cos(step/2) - 1) at the corners; concave: R (1 - cos(step/2)) in mid-facet.
    Limits: concave corners are as sharp as the tool; a nose leaves a fillet there. Source: derived.

    >>> round(facet_error(9, math.pi / 2, 3), 4)
    0.1763
    """
    _facet_limits(sweep, facets)
    within_limits(above("radius", radius, 0))
    half = _half_step(sweep, facets, convex=convex)
    # 1 - cos written as 2 sin^2, which keeps its digits for many facets.
    sag = 2 * math.sin(half / 2) ** 2
    return radius * sag / math.cos(half) if convex else radius * sag


def facets_for(error: float, radius: float, sweep: float, *, convex: bool = True) -> int:
    """Fewest facets that leave no more than this, square to the arc.

    error: more than 0 [mm]. Source: `facet_error` undone.

    >>> facets_for(0.05, 9, math.pi / 2)
    7
    """
    _facet_limits(sweep, 1)
    within_limits(above("error allowed", error, 0), above("radius", radius, 0))
    # cos(half) is R/(R + e), or 1 - e/R; by the half-angle sine, so that a tiny error keeps its digits.
    half = 2 * math.asin(min(math.sqrt(error / (2 * (radius + error if convex else radius))), 1.0))
    count = max(math.ceil(sweep / (2 * half)) - (1 if convex else 0), 1)
    # The quotient may have been rounded across a whole number, either way.
    while facet_error(radius, sweep, count, convex=convex) > error:
        count += 1
    while count > 1 and facet_error(radius, sweep, count - 1, convex=convex) <= error:
        count -= 1
    return count


def facet_corners(radius: float, sweep: float, facets: int, *, convex: bool = True) -> tuple[tuple[float, float], ...]:
    """Ends of the facets, about the arc's centre [mm]; the arc starts on the first axis and turns to the second.

    Source: derived (regular polygons).

    >>> [(round(x, 4), round(y, 4)) for x, y in facet_corners(10, math.pi / 2, 1)]
    [(10.0, 4.1421), (4.1421, 10.0)]
    """
    _facet_limits(sweep, facets)
    within_limits(above("radius", radius, 0))
    half = _half_step(sweep, facets, convex=convex)
    if convex:
        reach, turns = radius / math.cos(half), [half * (2 * k + 1) for k in range(facets + 1)]
    else:
        reach, turns = radius, [half * 2 * k for k in range(facets + 1)]
    return tuple((reach * math.cos(turn), reach * math.sin(turn)) for turn in turns)


def _half_step(sweep: float, facets: int, *, convex: bool) -> float:
    return sweep / (2 * (facets + 1 if convex else facets))


def _facet_limits(sweep: float, facets: int) -> None:
    within_limits(
        above("sweep", sweep, 0),
        between("sweep", sweep, 0, math.pi / 2),
        at_least("facets", facets, 1, "Cut one facet"),
    )
