"""What is done to a corner between two forms: fillet, end radius, chamfer, undercut.

They stand between the two forms that make the corner, whose lengths count to the sharp corner, as on a drawing.
First in the chain they work on the corner of the end face.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from ovolo.geometry.meet import largest_rounding, rounded, turn_between
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.forms.chain import Chain, mm, positive, refuse
from ovolo.part.part import Surface
from ovolo.part.published import UNDERCUT_CYLINDER_ANGLE, UNDERCUT_FACE_ANGLE
from ovolo.tolerances import SAME_PLACE


def fillet(chain: Chain, *, radius: float) -> Chain:
    """The hollow corner to the next form rounded, mm: at a shoulder, between a cylinder and a face.

    >>> from ovolo.part.forms import cylinder, face
    >>> pin = face(fillet(cylinder(Chain(), diameter=18, length=20), radius=3), diameter=30)
    >>> [type(s).__name__ for s in pin.segments], pin.segments[0].end
    (['Line', 'Arc', 'Line'], Point(x=-17.0, y=9.0))
    """
    return chain.waiting(_Rounding(positive("radius", radius), hollow=True))


def end_radius(chain: Chain, *, radius: float) -> Chain:
    """The standing corner to the next form rounded, mm; first in the chain, the corner of the end face.

    >>> from ovolo.part.forms import cylinder
    >>> bar = cylinder(end_radius(Chain(), radius=3), diameter=18, length=20)
    >>> [s.end for s in bar.segments]
    [Point(x=0.0, y=6.0), Point(x=-3.0, y=9.0), Point(x=-20.0, y=9.0)]
    """
    return chain.waiting(_Rounding(positive("radius", radius), hollow=False))


class _Rounding:
    """A radius at a corner."""

    def __init__(self, radius: float, *, hollow: bool) -> None:
        self.radius, self.hollow = radius, hollow

    def __call__(self, before: Segment, after: Segment, surface: Surface) -> tuple[Segment, ...]:
        _check_sense(before, after, surface, hollow=self.hollow)
        found = rounded(before, after, self.radius)
        if found is None:
            most = largest_rounding(before, after)
            says = f"it needs more room than its neighbours leave: the largest that fits is {mm(most)}"
            refuse(
                "radius",
                self.radius,
                says,
                f"Write {mm(most)} or less, or make its neighbours longer",
                f"at most {mm(most)}",
            )
        return found


def _check_sense(before: Segment, after: Segment, surface: Surface, *, hollow: bool) -> None:
    turn = turn_between(before, after) * (1 if surface == "outside" else -1)
    if abs(turn) < 1e-6:
        refuse("radius", None, "its neighbours run into each other without a corner", "Leave it out")
    if (turn < 0) != hollow:
        kind, other = ("standing", "an end radius") if hollow else ("hollow", "a fillet")
        says = f"the corner between its neighbours is {kind}, turning by {abs(math.degrees(turn)):.1f}°"
        refuse("form", None, says, f"Write {other}")


def chamfer(chain: Chain, *, width: float, angle: float = math.pi / 4) -> Chain:
    """The corner to the next form broken; first in the chain, the corner of the end face.

    width: along the axis, mm; angle: between the chamfer and the axis, rad (45° unless given).

    >>> from ovolo.part.forms import cylinder
    >>> [s.end for s in cylinder(chamfer(Chain(), width=1), diameter=18, length=20).segments]
    [Point(x=0.0, y=8.0), Point(x=-1.0, y=9.0), Point(x=-20.0, y=9.0)]
    """
    positive("width", width)
    if not 0 < angle < math.pi / 2:
        refuse("angle", math.degrees(angle), "it is not a chamfer", "Write 45 if in doubt", "between 0° and 90°")

    def broken(before: Segment, after: Segment, surface: Surface) -> tuple[Segment, ...]:
        if not (isinstance(before, Line) and isinstance(after, Line)):
            refuse("form", "chamfer", "it breaks the corner of two straight forms, and one is curved", "Write a radius")
        _check_sense(before, after, surface, hollow=False)
        one, two = (_cut_back(s, width, width * math.tan(angle)) for s in (before, after))
        for needed, side in ((one, before), (two, after)):
            if needed > side.length + SAME_PLACE:
                says = f"it takes {mm(needed)} of a neighbour that is {mm(side.length)} long"
                most = width * side.length / needed
                refuse("width", width, says, f"Write {mm(most)} or less", f"at most {mm(most)}")
        start, end = before.point(before.length - one), after.point(two)
        return replace(before, end=start), Line(start, end), replace(after, start=end)

    return chain.waiting(broken)


def _cut_back(side: Line, width: float, height: float) -> float:
    """How much of a side a chamfer takes: `width` of it counted along the axis, `height` where it is a face."""
    t = side.tangent(0)
    return height if abs(t.x) < 1e-9 else width / abs(t.x)


def undercut(
    chain: Chain,
    *,
    kind: Literal["E", "F"],
    radius: float,
    depth: float,
    width: float,
    face_depth: float | None = None,
) -> Chain:
    """An undercut to DIN 509 at a shoulder: E clears the cylinder, F the face as well. Stands between the two.

    radius r1, depth t1, width f1 of the run-out, for F the depth t2 in the face; mm. Run-outs rise at 15° (cylinder)
    and 8° (face), so that the height g of the run-out in the face follows.
    Source: DIN 509 (extract of 1998-06 and two later tables). That g counts from the bottom is not in those tables;
    taken so, the geometry gives nine of their ten g to 0.05 mm. For 4 × 0.5 it gives 7.13 where 6.4 is printed, which
    would follow from t2 = 0.3 instead of 0.4: hold that row against the standard.
    """
    for name, value in {"radius": radius, "depth": depth, "width": width}.items():
        positive(name, value)
    if (kind == "F") != (face_depth is not None):
        refuse("face_depth", face_depth, "form F clears the face, form E does not", "Give face_depth with F only")
    deep = 0.0 if face_depth is None else positive("face_depth", face_depth)
    least = depth / math.tan(UNDERCUT_CYLINDER_ANGLE) + radius * (1 + math.tan(UNDERCUT_CYLINDER_ANGLE / 2))
    if width < least - SAME_PLACE:
        says = f"a run-out of 15° and a radius of {mm(radius)} take {mm(least)}"
        refuse("width", width, says, f"Write {mm(least)} or more", f"{mm(least)} or more")

    def cleared(before: Segment, after: Segment, surface: Surface) -> tuple[Segment, ...]:
        if not _is_shoulder(before, after, surface):
            says = "an undercut clears the corner of a cylinder and a face at a shoulder"
            refuse("form", "undercut", says, "Put a cylinder before it and a larger face after it")
        room, tall = before.length, after.length
        _has_room("width", width, room)
        out = 1.0 if surface == "outside" else -1.0
        corner = before.end
        bottom = corner.y - out * depth
        enter = Point(corner.x + width, corner.y)
        down = Line(enter, Point(enter.x - depth / math.tan(UNDERCUT_CYLINDER_ANGLE), bottom))
        top = _rise(Point(corner.x - deep + radius, bottom), radius, out, corner.x if kind == "F" else None)
        _has_room("radius", abs(top[-1].end.y - corner.y), tall)
        floor = Line(down.end, top[0].start)
        blend = rounded(down, floor, radius) or (down, floor)
        # By its ends and radius, as a job writes it, so that it comes back to the last bit.
        exact = [s if isinstance(s, Line) else Arc.from_radius(s.start, s.end, radius, ccw=s.ccw) for s in blend]
        return (replace(before, end=enter), *exact, *top, replace(after, start=top[-1].end))

    return chain.waiting(cleared)


def _rise(start: Point, radius: float, out: float, face: float | None) -> tuple[Segment, ...]:
    """From the bottom up the shoulder: a quarter round, and for form F on to the face at 8°."""
    centre = Point(start.x, start.y + out * radius)
    if face is None:
        return (Arc(start, Point(centre.x - radius, centre.y), centre, ccw=out < 0),)
    c, s = math.cos(UNDERCUT_FACE_ANGLE), math.sin(UNDERCUT_FACE_ANGLE)
    leave = Point(centre.x - radius * c, centre.y + out * radius * s)
    far = Point(face, leave.y + out * (face - leave.x) * c / s)
    return Arc(start, leave, centre, ccw=out < 0), Line(leave, far)


def _is_shoulder(before: Segment, after: Segment, surface: Surface) -> bool:
    if not (isinstance(before, Line) and isinstance(after, Line)):
        return False
    out = 1 if surface == "outside" else -1
    return before.tangent(0).x < -1 + 1e-9 and after.tangent(0).y * out > 1 - 1e-9


def _has_room(field: str, needed: float, room: float) -> None:
    if needed > room + SAME_PLACE:
        says = f"it takes {mm(needed)} of a neighbour that is {mm(room)} long"
        refuse(field, needed, says, "Make the neighbour longer", f"at most {mm(room)}")
