"""Counts of slides that are read on their dials: a figure is of use only where somebody can stop the dial at it."""

import math

from ovolo.shop.slides import Slide
from ovolo.tolerances import SAME_PLACE

_PARTS = (2, 4, 5, 10)
"""Divisions are read by eye to a half, a quarter, a fifth, a tenth (common practice, no source)."""


def division(slide: Slide) -> float:
    """What one division of a slide's dial changes its figure by, mm: twice the travel where it reads diameters.

    >>> division(Slide("cross", "diameter", "out", 0.01, per_turn=2.0, divisions=40))
    0.1
    """
    assert slide.per_turn is not None
    assert slide.divisions is not None
    return abs(slide.factor) * slide.per_turn / slide.divisions


def can_be_stopped_at(count: float, division: float) -> bool:
    """Whether figures that are whole counts lie on divisions, or on simple parts of them; both in one unit.

    >>> [can_be_stopped_at(count, 0.05) for count in (0.05, 0.1, 0.025, 0.005, 0.03, 0.02)]
    [True, True, True, True, False, False]
    """
    share = count / division
    return _whole(share) or any(abs(share * part - 1) < SAME_PLACE for part in _PARTS)


def better_counts(slide: Slide) -> list[float]:
    """The next finer and the next coarser count that its dial can be stopped at, mm; none where its own will do, or
    where it is not read on a dial.

    >>> better_counts(Slide("cross", "radius", "out", 0.03, per_turn=2.0, divisions=40))
    [0.025, 0.05]
    """
    if not slide.on_dial or slide.per_turn is None or can_be_stopped_at(slide.count, division(slide)):
        return []
    one = division(slide)
    times = slide.count / one
    fit = [one / part for part in _PARTS] + [one * n for n in (max(1, math.floor(times)), math.ceil(times))]
    finer = [count for count in fit if count < slide.count]
    return [*([max(finer)] if finer else []), min(count for count in fit if count > slide.count)]


def _whole(number: float) -> bool:
    return number > 0.5 and abs(number - round(number)) < SAME_PLACE * number
