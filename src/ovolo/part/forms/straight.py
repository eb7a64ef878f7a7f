"""Straight forms: face, cylinder, taper."""

from __future__ import annotations

import math
from typing import Literal

from ovolo.geometry.segments import Line, Point
from ovolo.part.forms.chain import Chain, mm, positive, refuse, run
from ovolo.tolerances import SAME_PLACE

Way = Literal["growing", "shrinking"]


def face(chain: Chain, *, diameter: float) -> Chain:
    """A flat square to the axis, from where the last form ended (the axis, for the first) to a diameter, mm.

    >>> face(Chain(), diameter=18).end
    Point(x=0.0, y=9.0)
    """
    if diameter < 0 or not math.isfinite(diameter):
        refuse("diameter", diameter, "it is not a diameter", "Write where the face ends", "0 or more")
    chain, here = chain.began(0.0)
    if abs(2 * here.y - diameter) <= SAME_PLACE:
        refuse("diameter", diameter, "the form before it ends there already", "Leave the face out, or go farther")
    return chain.then(Line(here, Point(here.x, diameter / 2)))


def cylinder(
    chain: Chain, *, length: float | None = None, to: float | None = None, diameter: float | None = None
) -> Chain:
    """A plain stretch along the axis, by its length or by the z at which it ends, mm.

    >>> cylinder(Chain(), diameter=18, to=-24).end
    Point(x=-24.0, y=9.0)
    """
    chain, here = chain.began(chain.diameter(diameter))
    if here.y <= SAME_PLACE:
        refuse("diameter", 0.0, "the form before it ends on the axis", "Put a face before it")
    return chain.then(Line(here, Point(here.x - run(here, length, to), here.y)))


def taper(
    chain: Chain,
    *,
    diameter: float | None = None,
    to_diameter: float | None = None,
    length: float | None = None,
    to: float | None = None,
    half_angle: float | None = None,
    angle: float | None = None,
    ratio: float | None = None,
    per_foot: float | None = None,
    way: Way = "growing",
) -> Chain:
    """A taper, by two of: the diameter at its end, its length, its slope.

    The slope is one of `half_angle` (to the axis, rad), `angle` (included, rad), `ratio` (the x of 1:x, change of
    diameter to length), `per_foot` (inches of diameter in a foot of length). `way` says whether it grows toward the
    chuck, where `to_diameter` does not. Lengths in mm.

    >>> round(2 * taper(Chain(), diameter=20, length=50, ratio=10).end.y, 6)
    25.0
    """
    chain, here = chain.began(chain.diameter(diameter))
    slope = _slope(half_angle, angle, ratio, per_foot)
    sized = length is not None or to is not None
    if [slope is not None, sized, to_diameter is not None].count(True) != 2:
        says = "a taper follows from two of: the diameter at its end, its length, its slope"
        refuse(
            "to_diameter", to_diameter, says, "Give two of to_diameter, length and one slope, and leave the third out"
        )
    if to_diameter is not None:
        positive("to_diameter", to_diameter)
        if abs(to_diameter - 2 * here.y) <= SAME_PLACE:
            refuse("to_diameter", to_diameter, "both ends have the same diameter", "Write a cylinder instead")
    far = to_diameter if to_diameter is not None else 0.0
    if slope is None:
        reach = run(here, length, to)
    elif to_diameter is not None:
        reach = abs(to_diameter / 2 - here.y) / slope
    else:
        reach = run(here, length, to)
        far = 2 * (here.y + slope * reach * (1 if way == "growing" else -1))
        if far < -SAME_PLACE:
            says = f"it comes to a point after {mm(here.y / slope)}"
            refuse("length", reach, says, f"Write {mm(here.y / slope)} or less", f"at most {mm(here.y / slope)}")
    return chain.then(Line(here, Point(here.x - reach, max(far, 0.0) / 2)))


def _slope(half_angle: float | None, angle: float | None, ratio: float | None, per_foot: float | None) -> float | None:
    """Change of radius over length."""
    given = {"half_angle": half_angle, "angle": angle, "ratio": ratio, "per_foot": per_foot}
    found = {name: value for name, value in given.items() if value is not None}
    if len(found) > 1:
        names = " and ".join(found)
        refuse(next(iter(found)), next(iter(found.values())), f"{names} say the same thing twice", "Keep one of them")
    for name, value in found.items():
        positive(name, value)
        half = value / 2 if name == "angle" else value
        if name in ("angle", "half_angle") and half >= math.pi / 2 - 1e-9:
            refuse(name, math.degrees(value), "a taper is less steep than a face", "Write a face", "less than a face")
        return {"ratio": 1 / (2 * value), "per_foot": value / 24}.get(name, math.tan(half))
    return None
