"""What forms are added to: a chain that knows where its last form ended, and what waits to be done to a corner.

Places are (z, r) in mm; a chain starts at z = 0, the finished end face, and runs toward the chuck. Forms take
diameters and lengths as a drawing gives them. A form that does not fit raises JobFaults with one fault, named
after the field at fault.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NoReturn

from ovolo.errors import Fault, JobFaults
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point, Segment
from ovolo.part.part import Surface
from ovolo.tolerances import SAME_PLACE

#: What is done to a corner once both of its sides are known: (before, after, surface) -> the segments in their place.
Corner = Callable[[Segment, Segment, Surface], tuple[Segment, ...]]


class CornerFaults(JobFaults):
    """What is wrong belongs to the corner form before the one that was being drawn."""


@dataclass(frozen=True)
class Chain:
    """Forms drawn so far; start one with `Chain()`, or `Chain(surface="bore")`.

    >>> from ovolo.part.forms import cylinder, dome
    >>> pin = cylinder(dome(Chain(), diameter=18), length=15).outline()
    >>> pin.start, pin.end
    (Point(x=0.0, y=0.0), Point(x=-24.0, y=9.0))
    """

    surface: Surface = "outside"
    segments: tuple[Segment, ...] = ()
    start: Point | None = None
    corner: Corner | None = None
    deviation: float = 0.0

    @property
    def end(self) -> Point | None:
        """Where the last form ended (z, r); None before the first [mm]."""
        return self.segments[-1].end if self.segments else self.start

    def diameter(self, given: float | None, field: str = "diameter") -> float:
        """The diameter at which the next form starts: where the last one ended, or as given for the first [mm].

        Raises JobFaults where the two disagree, or where neither is known.
        """
        if given is not None:
            positive(field, given)
        here = self.end
        if here is None:
            if given is None:
                refuse(field, None, "the first form does not know at which diameter it starts", f"Give it a {field}")
            return given
        if given is not None and abs(given - 2 * here.y) > SAME_PLACE:
            gap = abs(given - 2 * here.y)
            says = f"it starts at a diameter of {mm(given)} where the form before it ends at {mm(2 * here.y)}"
            remedy = f"Write {mm(2 * here.y)} or leave it out, or put a face to {mm(given)} before it"
            refuse(field, given, f"{says}: {mm(gap)} apart", remedy)
        return 2 * here.y

    def began(self, diameter: float) -> tuple[Chain, Point]:
        """The chain with a first point, and the place where the next form starts [mm]."""
        if self.end is not None:
            return self, self.end
        here = Point(0.0, diameter / 2)
        return replace(self, start=here), here

    def then(self, *segments: Segment, deviation: float = 0.0) -> Chain:
        """The chain with more segments; a corner that waits is worked in first."""
        added = tuple(s for s in segments if s.length > SAME_PLACE / 10)
        if not added:
            return self
        low = min((p.y for s in added for p in s.flattened(1e-3)), default=0.0)
        if low < -SAME_PLACE:
            says = f"it would reach {mm(-low)} past the axis"
            refuse("", None, says, "Take a smaller depth, or start from a larger diameter")
        before, last = self._before_corner(added[0])
        done = self.segments[:-1] if self.segments and last else self.segments
        middle: tuple[Segment, ...] = added[:1]
        if self.corner and last:
            middle = self._cornered(last, added[0])[0 if before else 1 :]
        elif last:
            middle = (last, added[0])
        kept = tuple(s for s in (*done, *middle, *added[1:]) if s.length > SAME_PLACE / 10)
        return replace(self, segments=kept, corner=None, start=kept[0].start, deviation=max(self.deviation, deviation))

    def _cornered(self, before: Segment, after: Segment) -> tuple[Segment, ...]:
        assert self.corner is not None
        if before.length <= SAME_PLACE:
            says = "the form after it starts on the axis, where the end face has no corner"
            raise CornerFaults([Fault("form", None, "", says, "Put it between the two forms that make the corner")])
        try:
            return self.corner(before, after, self.surface)
        except JobFaults as wrong:
            raise CornerFaults(wrong.faults) from None

    def _before_corner(self, first: Segment) -> tuple[bool, Segment | None]:
        """Whether the segment before the next one belongs to the outline, and that segment.

        A corner that is treated at the free end has the end face before it: part of the outline outside, not in a
        bore, where only the bore itself is wanted.
        """
        if self.segments:
            return True, self.segments[-1]
        if self.corner is None:
            return True, None
        here = first.start
        if self.surface == "bore":
            return False, Line(Point(here.x, here.y + 1000.0), here)
        return True, Line(Point(here.x, 0.0), here)

    def waiting(self, corner: Corner) -> Chain:
        """The chain with something to be done at the corner to the next form."""
        if self.corner is not None:
            refuse("", None, "another corner form stands right before it", "Put a face, a cylinder or a taper between")
        return replace(self, corner=corner)

    def outline(self) -> Outline:
        """What has been drawn. Raises JobFaults where that is nothing, or where a corner still waits."""
        if not self.segments:
            refuse("", None, "no form has been drawn", "Add a form, such as a dome of 18 mm diameter")
        if self.corner is not None:
            refuse("", None, "the last form rounds or breaks a corner, but nothing follows it", "Add the next form")
        return Outline(self.segments)


def refuse(field: str, value: object, says: str, remedy: str, limit: str = "") -> NoReturn:
    """Raise JobFaults with the one fault."""
    raise JobFaults([Fault(field, value, limit, says, remedy)])


def positive(field: str, value: float) -> float:
    """The value, where it is a finite length of more than 0; JobFaults where not [mm]."""
    if not math.isfinite(value) or value <= 0:
        refuse(field, value, "it is not a length", "Write how long it is", "more than 0")
    return value


def mm(value: float) -> str:
    """A length in a message, to a micrometre, without empty decimals.

    >>> mm(18.0), mm(2.34567)
    ('18 mm', '2.346 mm')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return f"{'0' if text in ('-0', '') else text} mm"


def run(here: Point, length: float | None, to: float | None) -> float:
    """How far a form goes along the axis [mm], from its `length` or from the z at which it ends.

    Raises JobFaults where both or neither is given, and where it would not go toward the chuck.
    """
    if (length is None) == (to is None):
        says = "both a length and an end are given" if length is not None else "neither a length nor an end is given"
        refuse("length", length, says, "Give length, or to (the z at which it ends)")
    if length is not None:
        return positive("length", length)
    assert to is not None
    if not to < here.x - SAME_PLACE:
        refuse("to", to, f"it starts at z = {mm(here.x)}", "Write the z at which it ends", f"less than {mm(here.x)}")
    return here.x - to
