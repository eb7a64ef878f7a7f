"""Passes that can run under power feed, each with the figure at which to knock the feed off.

Nothing stops a feed but the hand on its lever, and the hand is late. So the feed is knocked off ahead of every figure,
shoulder or not, and the rest is wound by hand. Lengths in mm. Limits: how a lever lets go is not known; it is tried in
the air first, and the manual of the lathe comes before any figure here.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from ovolo.cutting.limits import above, at_least, within_limits
from ovolo.plan.model import Move, Plan
from ovolo.predict.loads.engaged import engaged
from ovolo.predict.loads.spindle import FEEDS, Turning, turning_of, turnings
from ovolo.shop.dials import dial_words
from ovolo.shop.slides import Slide
from ovolo.tolerances import SAME_PLACE
from ovolo.units import INCH

__all__ = ["FEED", "LATE", "LEAST", "RPM", "WORTH", "FeedOff", "feed_offs", "overrun"]

FEED = FEEDS["rough"]
"""Power feed that the figures allow for, in finishing too [mm a turn]: a feed box is seldom reset between the two."""

RPM = 300.0
"""Spindle speed that they allow for where the job names no material (our assumption) [rev/min]."""

LATE = 1.0
"""So long after the figure shows the lever is down (our estimate, no source) [s]."""

LEAST = {"mm": 1.0, "in": 0.04 * INCH}
"""The least that is left to be wound by hand (common practice, no source) [mm]."""

WORTH = {"mm": 5.0, "in": 0.2 * INCH}
"""A cut that is shorter than this before the feed is knocked off is not worth the lever (common practice, no source)
[mm]."""

ROUND = {"mm": 0.1, "in": 0.005 * INCH}
"""A figure of a readout is a whole number of these, as it is caught in passing [mm of what it reads]."""

_ALL = 0.9
"""A plunge as wide as this share of the tool cuts with all of its edge, and the hand has to feel it."""


class FeedOff(NamedTuple):
    """Where to knock off the feed: `figure` and `shown` as the moving slide reads there, in its own unit.

    by_hand: what is left of the move from there [mm of travel].
    """

    figure: float
    shown: str
    by_hand: float


def overrun(feed: float, rpm: float, late: float = LATE) -> float:
    """How far a slide runs on before its feed is off: one turn, and what a late hand lets pass, f(1 + n t/60) [mm].

    feed: mm a turn; rpm: spindle [rev/min]; late: t [s]. Source: derived.

    >>> round(overrun(0.1, 600), 6)
    1.1
    """
    within_limits(above("feed", feed, 0), above("spindle speed", rpm, 0), at_least("late", late, 0))
    return feed * (1 + rpm * late / 60)


@lru_cache(maxsize=4)
def feed_offs(plan: Plan) -> Mapping[int, FeedOff]:
    """The moves of a plan that can run under power feed, by their numbers.

    Cutting moves of a slide that has power feed, `WORTH` or longer in metal before the feed is off. Plunges that cut
    with the whole width of a tool are left to the hand.
    """
    moves = [move for move in plan.moves if _may(plan, move)]
    if not moves:
        return {}
    cuts = engaged(plan)
    runs, length = turnings(plan, cuts), {cut.n: cut.length for cut in cuts}
    offs = {move.n: _off(plan.job.shop.slide(move.slide), move, _margin(plan, runs, move)) for move in moves}
    worth = WORTH[plan.job.units] - SAME_PLACE
    return {n: off for n, off in offs.items() if length.get(n, 0.0) - off.by_hand >= worth}


def _may(plan: Plan, move: Move) -> bool:
    """Whether the lathe can feed a move, and whether it is long enough to look at."""
    if not move.cuts or move.slide not in plan.job.shop.lathe.power_feed:
        return False
    tool = next(tool for tool in plan.job.shop.tools if tool.name == move.tool)
    plunge = move.slide == "cross" and move.bite >= _ALL * tool.edge.whole_width
    return not plunge and move.travel >= LEAST[plan.job.units] + WORTH[plan.job.units]


def _margin(plan: Plan, runs: Sequence[Turning], move: Move) -> float:
    """What has to be left to the hand at the least [mm]."""
    run = turning_of(runs, move)
    return max(LEAST[plan.job.units], overrun(FEED, RPM if run is None else run.rpm))


def _off(slide: Slide, move: Move, margin: float) -> FeedOff:
    """The last round figure that leaves the margin."""
    way = math.copysign(1, move.end.y - move.start.y if slide.name == "cross" else move.end.x - move.start.x)
    end = slide.place(move.figure)
    coarse = replace(slide, count=_readable(slide))
    counts = (end - way * margin) * slide.factor / coarse.count
    back = math.ceil(counts - SAME_PLACE) if way * slide.factor < 0 else math.floor(counts + SAME_PLACE)
    figure = round(back * coarse.count / slide.unit, 9) + 0.0
    shown = coarse.text(figure)
    if slide.on_dial and slide.per_turn:
        before = (end - way * move.travel) * slide.factor / slide.unit
        shown = f"{shown}: {dial_words(slide, before, figure)}"
    return FeedOff(figure, shown, abs(end - slide.place(figure)))


def _readable(slide: Slide) -> float:
    """The step of the figures that are easily caught: whole divisions of a dial, round figures of a readout [mm]."""
    if slide.divisions is not None and slide.per_turn is not None:
        return slide.per_turn / slide.divisions * abs(slide.factor)
    return slide.count * math.ceil(ROUND["in" if slide.unit == INCH else "mm"] / slide.count - SAME_PLACE)
