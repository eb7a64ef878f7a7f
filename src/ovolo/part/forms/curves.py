"""Curved forms between two diameters: bead, cove, crown, ogee, handle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from ovolo.geometry.bezier import smooth_through
from ovolo.geometry.fit import arc_leaving, fit_curve
from ovolo.geometry.segments import Arc, Point
from ovolo.part.forms.chain import Chain, mm, positive, refuse, run
from ovolo.tolerances import SAME_PLACE

#: How far the arcs of a handle may stray from the smooth curve, mm: far less than a hand can feel.
HANDLE_TOLERANCE = 0.01


def bead(
    chain: Chain,
    *,
    length: float | None = None,
    to: float | None = None,
    diameter: float | None = None,
    to_diameter: float | None = None,
    radius: float | None = None,
    height: float | None = None,
) -> Chain:
    """One convex arc over a length, back to the diameter where it started or to another one; mm.

    Without a radius or a height (of the arc over its chord) it is half a round.

    >>> round(bead(Chain(), diameter=20, length=6).outline().bounds()[3], 3)
    13.0
    """
    return _swell(chain, length, to, diameter, to_diameter, radius, height, convex=True)


def cove(
    chain: Chain,
    *,
    length: float | None = None,
    to: float | None = None,
    diameter: float | None = None,
    to_diameter: float | None = None,
    radius: float | None = None,
    depth: float | None = None,
) -> Chain:
    """One concave arc over a length, back to the diameter where it started or to another one; mm.

    Without a radius or a depth (of the arc under its chord) it is half a round.

    >>> cove(Chain(), diameter=20, length=6, depth=1).segments[0].radius
    5.0
    """
    return _swell(chain, length, to, diameter, to_diameter, radius, depth, convex=False)


def crown(
    chain: Chain,
    *,
    length: float | None = None,
    to: float | None = None,
    diameter: float | None = None,
    rise: float | None = None,
    radius: float | None = None,
) -> Chain:
    """The crown of a pulley: one convex arc over its width, by its rise above the edges or by its radius; mm.

    `diameter` is that of the edges.

    >>> round(crown(Chain(), diameter=80, length=40, rise=1).segments[0].radius, 6)
    200.5
    """
    if (rise is None) == (radius is None):
        refuse("rise", rise, "a crown follows from its rise or from its radius", "Give one of rise and radius")
    return _swell(chain, length, to, diameter, None, radius, rise, convex=True, named=("radius", "rise"))


def _swell(
    chain: Chain,
    length: float | None,
    to: float | None,
    diameter: float | None,
    to_diameter: float | None,
    radius: float | None,
    height: float | None,
    *,
    convex: bool,
    named: tuple[str, str] | None = None,
) -> Chain:
    name = named or ("radius", "height" if convex else "depth")
    chain, here = chain.began(chain.diameter(diameter))
    far = 2 * here.y if to_diameter is None else to_diameter
    if far < 0 or not math.isfinite(far):
        refuse("to_diameter", to_diameter, "it is not a diameter", "Write where it ends", "0 or more")
    end = Point(here.x - run(here, length, to), far / 2)
    half = math.dist(here, end) / 2
    if radius is not None and height is not None:
        refuse(name[0], radius, f"{name[0]} and {name[1]} say the same thing twice", "Keep one of them")
    if height is not None and positive(name[1], height) > half + SAME_PLACE:
        says = f"over a chord of {mm(2 * half)} an arc rises no more than half of it"
        refuse(name[1], height, says, f"Write {mm(half)} or less, or make it longer", f"at most {mm(half)}")
    size = half if radius is None else positive(name[0], radius)
    if height is not None:
        size = (half * half + height * height) / (2 * height)
    if size < half - SAME_PLACE:
        says = f"an arc of this radius spans {mm(2 * size)}, and its ends are {mm(2 * half)} apart"
        refuse(name[0], radius, says, f"Write {mm(half)} or more, or make it shorter", f"{mm(half)} or more")
    ccw = convex == (chain.surface == "outside")
    return chain.then(Arc.from_radius(here, end, max(size, half), ccw=ccw))


def ogee(
    chain: Chain,
    *,
    to_diameter: float,
    length: float | None = None,
    to: float | None = None,
    diameter: float | None = None,
    ends: Literal["along", "across"] = "along",
    share: float = 0.5,
) -> Chain:
    """Two arcs, one hollow and one round, tangent where they meet: an S between two diameters; mm.

    ends: both ends run "along" the axis, or square to it ("across").
    share: the part of the S that the first arc takes, between 0 and 1.
    Source: derived: the arcs meet on the chord, and each radius is its share of c²/(2h), c the chord, h its rise
    square to the ends.

    >>> [round(s.radius, 6) for s in ogee(Chain(), diameter=20, to_diameter=30, length=15).segments]
    [12.5, 12.5]
    """
    positive("to_diameter", to_diameter)
    chain, here = chain.began(chain.diameter(diameter))
    if not 0 < share < 1:
        refuse("share", share, "both arcs need a share", "Write 0.5 for equal arcs", "between 0 and 1")
    if abs(to_diameter - 2 * here.y) <= SAME_PLACE:
        refuse("to_diameter", to_diameter, "both ends have the same diameter", "Write a bead or a cove instead")
    end = Point(here.x - run(here, length, to), to_diameter / 2)
    outward = math.copysign(1.0, end.y - here.y)
    heading = Point(-1.0, 0.0) if ends == "along" else Point(0.0, outward)
    joint = Point(here.x + share * (end.x - here.x), here.y + share * (end.y - here.y))
    second = arc_leaving(end, Point(-heading.x, -heading.y), joint).reversed()
    return chain.then(arc_leaving(here, heading, joint), second)


def handle(chain: Chain, *, through: Sequence[Sequence[float]], tolerance: float = HANDLE_TOLERANCE) -> Chain:
    """A smooth handle through given diameters, as tangent arcs.

    through: [distance from the start of the handle, diameter] of each, mm; the first distance is 0.
    tolerance: how far the arcs may stray from the smooth curve, mm; at the given diameters they meet it.
    The curve is the natural cubic spline through them: it bends no more than it must.

    >>> grip = handle(Chain(), through=[[0, 12], [20, 18], [60, 14], [80, 20]])
    >>> grip.end, grip.deviation <= 0.01
    (Point(x=-80.0, y=10.0), True)
    """
    rows = _handle_rows(through)
    positive("tolerance", tolerance)
    first = chain.diameter(rows[0][1], "through[0]") if rows[0][1] > 0 or chain.end is not None else 0.0
    chain, here = chain.began(first)
    points = [Point(here.x - along, d / 2) for along, d in rows]
    curve, at = smooth_through([here, *points[1:]])
    fitted = fit_curve(curve, at[0], at[-1], tolerance, at[1:-1])
    low = min(p.y for s in fitted.segments for p in s.flattened(1e-3))
    if low < -SAME_PLACE:
        says = f"the smooth curve through these diameters swings {mm(-low)} past the axis"
        refuse("through", None, says, "Give one more diameter where it runs thin")
    return chain.then(*fitted.segments, deviation=fitted.deviation)


def _handle_rows(through: Sequence[Sequence[float]]) -> list[tuple[float, float]]:
    """Distances and diameters, checked."""
    if not 2 <= len(through) <= 200:
        refuse(
            "through", len(through), "a smooth handle runs through given diameters", "Give 2 to 200 of them", "2 to 200"
        )
    rows: list[tuple[float, float]] = []
    for i, row in enumerate(through):
        if len(row) != 2 or not all(math.isfinite(v) for v in row) or row[1] < 0:
            says = "it is not a distance and a diameter"
            refuse(f"through[{i}]", list(row), says, "Write [distance from the start, diameter], both 0 or more")
        rows.append((float(row[0]), float(row[1])))
        if i == 0 and row[0] != 0:
            refuse("through[0]", row[0], "the distances count from the start of the handle", "Begin with [0, diameter]")
        if i and row[0] <= rows[i - 1][0] + 1e-3:
            says = f"the distances do not grow: {mm(row[0])} comes after {mm(rows[i - 1][0])}"
            refuse(f"through[{i}]", row[0], says, "Sort them from the free end", f"more than {mm(rows[i - 1][0])}")
    return rows
