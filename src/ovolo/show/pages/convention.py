"""How a slide reads, worked out from what happened when it was wound: nobody has to know the words for it.

Pure arithmetic: which way the figure went, and how many times the travel it went by.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ovolo.errors import Fault, JobFaults
from ovolo.shop.slides import Grows, Reads, SlideName
from ovolo.show.words.figures import slide_name

__all__ = ["Convention", "Wound", "work_out"]

Wound = Literal["away", "nearer"]
"""Which way a slide was wound: away from the work (out, or away from the chuck) or nearer."""

NEAR = 0.1
"""How far the ratio of figure to travel may be from 1 or 2: backlash and a rough look at the scale explain so much."""

MOST = 1e9
"""No slide shows a larger figure, in any unit."""


@dataclass(frozen=True)
class Convention:
    """What was found: the fields of the slide, and a sentence that says it again to be checked."""

    reads: Reads | None
    grows: Grows
    says: str


def work_out(slide: SlideName, wound: Wound, travel: object, before: object, after: object) -> Convention:
    """The convention of a slide that was wound by `travel` (more than 0), its figure going from `before` to `after`.

    All three are numbers, in the unit that the slide counts in; whatever else was typed is a fault.
    Raises JobFaults where the answers contradict one another, or fit no convention.

    >>> work_out("cross", "away", 1.0, 10.0, 12.0).reads
    'diameter'
    """
    named = (("travel", travel), ("before", before), ("after", after))
    faults = [_no_number(name, value) for name, value in named if _number(value) is None]
    if faults:
        raise JobFaults(faults)
    return _worked_out(slide, wound, *(number for _, value in named if (number := _number(value)) is not None))


def _worked_out(slide: SlideName, wound: Wound, travel: float, before: float, after: float) -> Convention:
    faults = []
    if travel <= 0:
        faults.append(Fault("travel", travel, "more than 0", "the slide has to move", "Wind it by a length you know"))
    if not faults and before == after:
        says = "the figure has not changed"
        faults.append(
            Fault("after", after, f"not {before}", says, "Wind until the slide really moves, past its backlash")
        )
    if faults:
        raise JobFaults(faults)
    rises = (after > before) == (wound == "away")
    ratio = abs(after - before) / travel
    return _cross(rises, ratio) if slide == "cross" else _along(slide_name(slide), rises, ratio)


def _number(value: object) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) <= MOST:
        return None
    return float(value)


def _no_number(name: str, value: object) -> Fault:
    return Fault(name, value, "a number", "it is no number that a slide shows", "Write the figure that it shows")


def _cross(rises: bool, ratio: float) -> Convention:
    grows: Literal["out", "in"] = "out" if rises else "in"
    way = "as the tool goes out, away from the axis" if rises else "as the tool goes in, toward the axis"
    if abs(ratio - 2) <= 2 * NEAR:
        return Convention("diameter", grows, f"It counts diameter: twice the travel. The figure rises {way}.")
    if abs(ratio - 1) <= NEAR:
        return Convention("radius", grows, f"It counts the travel itself: radius. The figure rises {way}.")
    raise _no_ratio("1 (radius) or 2 (diameter)", ratio)


def _along(name: str, rises: bool, ratio: float) -> Convention:
    """Of a slide that goes along the axis: it never counts double."""
    if abs(ratio - 1) > NEAR:
        raise _no_ratio("1", ratio)
    way = "away from the chuck" if rises else "toward the chuck"
    return Convention(None, "away" if rises else "toward", f"The figure rises as the {name} goes {way}.")


def _no_ratio(limit: str, ratio: float) -> JobFaults:
    says = f"the figure changed by {ratio:.2f} times the travel"
    remedy = "Measure the travel with a caliper or an indicator, close the backlash first, and check the unit"
    return JobFaults([Fault("after", round(ratio, 3), f"{limit} times the travel", says, remedy)])
