"""Forms that close the free end, or swell out of it: dome, elliptical end, ball, bell mouth."""

from __future__ import annotations

import math

from ovolo.geometry.bezier import Ellipse
from ovolo.geometry.fit import TOLERANCE, fit_curve
from ovolo.geometry.segments import Arc, Point
from ovolo.part.forms.chain import Chain, mm, positive, refuse
from ovolo.tolerances import SAME_PLACE


def dome(
    chain: Chain, *, diameter: float | None = None, radius: float | None = None, height: float | None = None
) -> Chain:
    """A domed end from the axis to `diameter`: whole (a hemisphere) or, by a radius or a height, flatter; mm.

    A whole dome needs its diameter or its radius only. Source: radius from chord and height, r = (c² + 4h²)/(8h),
    Machinery's Handbook 31st ed. p. 79.

    >>> dome(Chain(), diameter=18, height=3).end
    Point(x=-3.0, y=9.0)
    """
    chain, here = chain.began(0.0)
    if here.y > SAME_PLACE:
        says = f"a dome starts on the axis, but the form before it ends at a diameter of {mm(2 * here.y)}"
        refuse("form", "dome", says, "Put the dome first, or write a bead")
    d, rise = _dome_size(diameter, radius, height)
    size = (d * d + 4 * rise * rise) / (8 * rise)
    centre = Point(here.x - size, 0.0)
    return chain.then(Arc(Point(here.x, 0.0), Point(here.x - rise, d / 2), centre, ccw=True))


def _dome_size(diameter: float | None, radius: float | None, height: float | None) -> tuple[float, float]:
    """Diameter and height of a dome."""
    for name, value in {"diameter": diameter, "radius": radius, "height": height}.items():
        if value is not None:
            positive(name, value)
    if diameter is None and radius is None:
        refuse("diameter", None, "the size of the dome is not given", "Give its diameter, or its radius if it is whole")
    if diameter is None:
        assert radius is not None
        rise = radius if height is None else height
        _at_most("height", rise, radius, "a dome is no higher than its radius", "Write a ball for more")
        return 2 * math.sqrt(rise * (2 * radius - rise)), rise
    if radius is not None:
        if height is not None:
            refuse("height", height, "diameter, radius and height say too much", "Leave out one of radius and height")
        if radius < diameter / 2 - SAME_PLACE:
            says = f"a radius of {mm(radius)} spans no more than a diameter of {mm(2 * radius)}"
            refuse("radius", radius, says, f"Write {mm(diameter / 2)} for a whole dome", f"{mm(diameter / 2)} or more")
        return diameter, radius - math.sqrt(max(radius**2 - diameter**2 / 4, 0.0))
    rise = diameter / 2 if height is None else height
    _at_most("height", rise, diameter / 2, "a dome is no higher than half its diameter", "Write a ball, or an ellipse")
    return diameter, rise


def ellipse(
    chain: Chain,
    *,
    length: float,
    diameter: float | None = None,
    to_diameter: float,
    tolerance: float = TOLERANCE,
) -> Chain:
    """A quarter of an ellipse, square to the axis where it starts, along it where it ends, as tangent arcs; mm.

    From the axis it is an elliptical end, from a larger diameter an elliptical shoulder. Where it shrinks toward the
    chuck it is a flare. `tolerance`: how far the arcs may stray.

    >>> from ovolo.part.forms import ellipse
    >>> end = ellipse(Chain(), length=12, to_diameter=18)
    >>> len(end.segments) > 2, end.deviation <= 0.001
    (True, True)
    """
    positive("length", length)
    positive("to_diameter", to_diameter)
    positive("tolerance", tolerance)
    start = chain.diameter(diameter) if diameter is not None or chain.end is not None else 0.0
    chain, here = chain.began(start)
    rise = to_diameter / 2 - here.y
    if abs(rise) <= SAME_PLACE:
        refuse("to_diameter", to_diameter, "both ends have the same diameter", "Write a larger or a smaller one")
    curve = Ellipse(Point(here.x - length, here.y), Point(length, 0.0), Point(0.0, rise))
    fitted = fit_curve(curve, 0.0, math.pi / 2, tolerance)
    return chain.then(*fitted.segments, deviation=fitted.deviation)


def ball(chain: Chain, *, diameter: float, neck: float, start: float | None = None) -> Chain:
    """A ball of a diameter, ending on the far side at the diameter of its neck; mm.

    First in the chain it starts on the axis, or at a flat of `start` diameter; after other forms it starts where
    they ended, on its near side.

    >>> ball(Chain(), diameter=20, neck=12).end
    Point(x=-18.0, y=6.0)
    """
    size = positive("diameter", diameter) / 2
    positive("neck", neck)
    _below("neck", neck, diameter, "the neck is thinner than its ball")
    chain, here = chain.began(0.0 if start is None and chain.end is None else chain.diameter(start, "start"))
    if here.y > size - SAME_PLACE:
        says = f"the form before it ends at a diameter of {mm(2 * here.y)}, where no ball of {mm(diameter)} starts"
        refuse("diameter", diameter, says, f"Take a ball of more than {mm(2 * here.y)}", f"more than {mm(2 * here.y)}")
    centre = Point(here.x - math.sqrt(size**2 - here.y**2), 0.0)
    end = Point(centre.x - math.sqrt(size**2 - neck**2 / 4), neck / 2)
    return chain.then(Arc(here, end, centre, ccw=True))


def bell_mouth(
    chain: Chain,
    *,
    diameter: float,
    radius: float | None = None,
    length: float | None = None,
    mouth: float | None = None,
    tolerance: float = TOLERANCE,
) -> Chain:
    """The mouth at the free end that leads into a bore of `diameter` (outside: a flare down to it); mm.

    Round, by its radius, or a quarter of an ellipse, by its length and the diameter of its mouth.

    >>> bell = bell_mouth(Chain(surface="bore"), diameter=20, radius=4)
    >>> bell.start, bell.end
    (Point(x=0.0, y=14.0), Point(x=-4.0, y=10.0))
    """
    positive("diameter", diameter)
    if (radius is None) == (length is None or mouth is None):
        says = "a bell mouth is round, by its radius, or elliptical, by its length and its mouth"
        refuse("radius", radius, says, "Give radius alone, or length and mouth")
    if radius is None:
        assert length is not None
        assert mouth is not None
        if mouth <= diameter + SAME_PLACE:
            refuse("mouth", mouth, "it is no wider than what it leads into", "Widen it", f"more than {mm(diameter)}")
        if abs(positive("length", length) - (mouth - diameter) / 2) > SAME_PLACE:
            return ellipse(chain, length=length, diameter=mouth, to_diameter=diameter, tolerance=tolerance)
        radius = length
    positive("radius", radius)
    chain, here = chain.began(chain.diameter(diameter + 2 * radius))
    end = Point(here.x - radius, diameter / 2)
    return chain.then(Arc(here, end, Point(end.x, here.y), ccw=False))


def _at_most(field: str, value: float, limit: float, says: str, remedy: str) -> None:
    if value > limit + SAME_PLACE:
        refuse(field, value, says, remedy, f"at most {mm(limit)}")


def _below(field: str, value: float, limit: float, says: str) -> None:
    if value > limit - SAME_PLACE:
        refuse(field, value, says, "Make it smaller", f"less than {mm(limit)}")
