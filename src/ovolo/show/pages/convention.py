"""How a slide reads, worked out from what happened when it was wound: nobody has to know the words for it.

Pure arithmetic: which way the figure went, and how many times the travel it went by.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ovolo.errors import Fault, JobFaults
from ovolo.shop.slides import SlideName
from ovolo.show.figures import slide_name

__all__ = ["Convention", "work_out"]

NEAR = 0.1
"""How far the ratio of figure to travel may be from 1 or 2: backlash and a rough look at the scale explain so much."""


@dataclass(frozen=True)
class Convention:
    """What was found: the fields of the slide, and a sentence that says it again to be checked."""

    reads: Literal["diameter", "radius"] | None
    grows: Literal["out", "in", "away", "toward"]
    says: str


def work_out(
    slide: SlideName, wound: Literal["away", "nearer"], travel: float, before: float, after: float
) -> Convention:
    """The convention of a slide that was wound by `travel` (more than 0), its figure going from `before` to `after`.

    wound: `away` from the work: out, or away from the chuck. All three lengths in the unit that the slide counts in.
    Raises JobFaults where the answers contradict one another, or fit no convention.

    >>> work_out("cross", "away", 1.0, 10.0, 12.0).reads
    'diameter'
    """
    faults = [
        fault
        for name, value in (("travel", travel), ("before", before), ("after", after))
        for fault in _number(name, value)
    ]
    if not faults and travel <= 0:
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


def _number(name: str, value: float) -> list[Fault]:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return [Fault(name, value, "a number", "it is not a number", "Write the figure that it shows")]
    return []


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
