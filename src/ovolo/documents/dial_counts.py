"""Counts of slides that are read on their dials: a figure is of use only where somebody can stop the dial at it."""

import math
from collections.abc import Iterator, Sequence

from ovolo.documents.building import say
from ovolo.documents.faults import fault_at
from ovolo.errors import Fault
from ovolo.shop.slides import Slide
from ovolo.units import Unit

_PARTS = (2, 4, 5, 10)
"""Divisions are told apart by eye to a half, a quarter, a fifth, a tenth (common practice, no source)."""

_SAME = 1e-6
"""Counts that differ by less than this share are the same."""


def division(slide: Slide) -> float:
    """What one division of a slide's dial changes its figure by, mm: twice the travel where it reads diameters.

    >>> division(Slide("cross", "diameter", "out", 0.01, per_turn=2.0, divisions=40))
    0.1
    """
    assert slide.per_turn is not None
    assert slide.divisions is not None
    return abs(slide.factor) * slide.per_turn / slide.divisions


def can_be_stopped_at(count: float, division: float) -> bool:
    """Whether figures that are whole counts lie on divisions, or on simple parts of them.

    >>> [can_be_stopped_at(count, 0.05) for count in (0.05, 0.1, 0.025, 0.005, 0.03, 0.02)]
    [True, True, True, True, False, False]
    """
    share = count / division
    return _whole(share) or any(abs(share * part - 1) < _SAME for part in _PARTS)


def dial_faults(data: object, slides: Sequence[Slide], unit: Unit) -> Iterator[Fault]:
    """Slides whose counts no dial can be stopped at."""
    for slide in slides:
        if not slide.on_dial or slide.per_turn is None or can_be_stopped_at(slide.count, division(slide)):
            continue
        one, near = division(slide), " or ".join(f"{say(count, unit).split()[0]}" for count in _nearest(slide))
        says = (
            f"the dial of this slide cannot be stopped at figures of {say(slide.count, unit)}: one division is "
            f"{say(one, unit)} of what it reads"
        )
        limit = "a whole number of divisions, or 1/2, 1/4, 1/5 or 1/10 of one"
        yield fault_at(data, ("slide", slide.name, "count"), says, f"Write count = {near}", limit)


def _nearest(slide: Slide) -> list[float]:
    """The next finer and the next coarser count that will do, mm."""
    one = division(slide)
    times = slide.count / one
    fit = [one / part for part in _PARTS] + [one * n for n in (max(1, math.floor(times)), math.ceil(times))]
    finer = [count for count in fit if count < slide.count]
    return [*([max(finer)] if finer else []), min(count for count in fit if count > slide.count)]


def _whole(number: float) -> bool:
    return number > 0.5 and abs(number - round(number)) < _SAME * number
