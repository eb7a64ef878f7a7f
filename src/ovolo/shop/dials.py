"""Dials: a figure said as it is counted on a graduated handwheel."""

from __future__ import annotations

import math
from typing import NamedTuple

from ovolo.shop.slides import Slide


class DialPlace(NamedTuple):
    """Where a dial stands: whole turns from the figure 0, and the division it shows."""

    turns: int
    division: float


def dial_place(slide: Slide, figure: float) -> DialPlace:
    """The turn and division at which a slide read on its dial stands at a figure (in its own unit).

    The dial shows 0 where the figure is 0 and counts up as the figure grows. Needs `per_turn` and `divisions`.

    >>> dial_place(Slide("saddle", "radius", "away", 0.05, per_turn=2.0, divisions=40), -3.35)
    DialPlace(turns=-2, division=13.0)
    """
    assert slide.per_turn is not None
    assert slide.divisions is not None
    travel = figure * slide.unit / abs(slide.factor)
    turns = math.floor(travel / slide.per_turn + 1e-9)
    division = (travel / slide.per_turn - turns) * slide.divisions
    return DialPlace(turns, round(division, 3) % slide.divisions + 0.0)


def dial_words(slide: Slide, start: float, end: float) -> str:
    """How to wind a dial from one figure to another, in what the slide reads [mm], as people count it.

    >>> saddle = Slide("saddle", "radius", "away", 0.05, per_turn=2.0, divisions=40)
    >>> dial_words(saddle, 0.0, -3.35)
    'past 0 once, stop at 13'
    >>> dial_words(saddle, -3.35, -2.5)
    'stop at 30'
    """
    before, after = dial_place(slide, start), dial_place(slide, end)
    passed = after.turns - before.turns
    if passed < 0:  # going down, a start on 0 is not passed, an end on 0 is reached and not passed
        passed = -passed - (1 if before.division == 0 else 0)
    elif passed > 0 and after.division == 0:
        passed -= 1
    times = {0: "", 1: "past 0 once, ", 2: "past 0 twice, "}.get(passed, f"past 0 {passed} times, ")
    return f"{times}stop at {after.division:g}"
