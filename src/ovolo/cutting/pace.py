"""How long it takes: the few things that are done again and again, each with the user's own time.

Times in seconds, filing in mm^3 a minute. The figures that stand here at first are our estimate, no source, for an
unhurried amateur: a recorded run corrects them.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from ovolo.cutting.limits import above, at_least, within_limits
from ovolo.shop.pace import Pace

__all__ = ["Fit", "Pace", "Times", "WorkCounts", "calibrated", "feed_seconds", "fitted", "times"]

BY_HAND = {
    "turn": "turns",
    "setting": "settings",
    "lock": "locks",
    "tool_change": "tool_changes",
    "measuring": "measurings",
}
"""Each constant that a recorded move can show, and the work that it is the time of."""


class WorkCounts(NamedTuple):
    """How much is to be done.

    turns: of the handwheels; settings, locks, tool_changes, measurings: how often, a setting without care a part of
    one; feed_seconds: of all cuts [s]; filed: metal in the ridges [mm^3].
    """

    turns: float = 0.0
    settings: float = 0
    locks: int = 0
    tool_changes: int = 0
    measurings: int = 0
    feed_seconds: float = 0.0
    filed: float = 0.0


class Times(NamedTuple):
    """Where the time goes [s]."""

    winding: float
    setting: float
    locking: float
    tools: float
    measuring: float
    feeding: float
    filing: float

    @property
    def total(self) -> float:
        """All of it [s].

        >>> Times(1, 2, 3, 4, 5, 6, 7).total
        28
        """
        return sum(self)

    @property
    def minutes(self) -> float:
        """All of it [min].

        >>> Times(60, 0, 0, 0, 0, 30, 0).minutes
        1.5
        """
        return self.total / 60


def feed_seconds(length: float, feed: float, rpm: float) -> float:
    """Time of a cut: 60 l/(f n) [s].

    length: of the cut [mm]; feed: mm a turn; rpm: spindle [rev/min]. Source: every textbook.

    >>> feed_seconds(30, 0.1, 600)
    30.0
    """
    within_limits(at_least("length", length, 0), above("feed", feed, 0), above("spindle speed", rpm, 0))
    return 60 * length / (feed * rpm)


def times(work_counts: WorkCounts, pace: Pace) -> Times:
    """How long the work takes at a pace [s].

    >>> times(WorkCounts(turns=10, settings=4), Pace(turn=2, setting=5)).total
    40.0
    """
    within_limits(*(at_least(name, value, 0) for name, value in work_counts._asdict().items()))
    return Times(
        work_counts.turns * pace.turn,
        work_counts.settings * pace.setting,
        work_counts.locks * pace.lock,
        work_counts.tool_changes * pace.tool_change,
        work_counts.measurings * pace.measuring,
        work_counts.feed_seconds,
        60 * work_counts.filed / pace.filing,
    )


def calibrated(pace: Pace, work_counts: WorkCounts, seconds: float) -> Pace:
    """The pace that would have taken just the time of a recorded run: every constant by the same factor.

    seconds: the whole run, more than its feed alone takes. One run can't separate winding from reading, so their
    proportion stays; what the feed takes isn't the user's doing and stays too. Moves recorded one by one show more
    (`fitted`).

    >>> calibrated(Pace(turn=2, setting=5), WorkCounts(turns=10, settings=4), 80).setting
    10.0
    """
    foreseen = times(work_counts, pace)
    by_hand = foreseen.total - foreseen.feeding
    within_limits(
        above("seconds", seconds, foreseen.feeding, "Record the whole run, from the first move to the last"),
        above("work by hand", by_hand, 0, "Record a run with moves in it"),
    )
    factor = (seconds - foreseen.feeding) / by_hand
    return Pace(
        pace.turn * factor,
        pace.setting * factor,
        pace.lock * factor,
        pace.tool_change * factor,
        pace.measuring * factor,
        pace.filing / factor,
    )


class Fit(NamedTuple):
    """A pace found from recorded moves, and how well it fits them.

    told: the constants that the moves could show; the others are as before. moves: how many were recorded.
    recorded: their time; foreseen: the same by the pace before, found: by the new one [s].
    off_before, off: root mean square of what one move is off, by the pace before and by the new one [s].
    """

    pace: Pace
    told: tuple[str, ...]
    moves: int
    recorded: float
    foreseen: float
    found: float
    off_before: float
    off: float


def fitted(pace: Pace, work_counts: Sequence[WorkCounts], seconds: Sequence[float]) -> Fit:
    """The pace that fits recorded moves best, each by its own work and the seconds that it took.

    Least squares, no constant below 0. What the moves can't separate keeps the proportion of `pace`: each constant is
    drawn toward that of `calibrated`, with the weight of one move that is off as that pace is on average. A constant
    that no move has work for stays as it is, and so does filing, which belongs to no move. One that was 0 is sought
    from the usual one on.

    >>> run = [WorkCounts(turns=2, settings=1), WorkCounts(turns=6, settings=1), WorkCounts(turns=1, settings=2)]
    >>> found = fitted(Pace(), run, [14, 22, 22])
    >>> round(found.pace.turn, 1), round(found.pace.setting, 1), found.told
    (2.0, 10.0, ('turn', 'setting'))
    """
    from scipy.optimize import nnls

    whole = WorkCounts(*(sum(values) for values in zip(*work_counts, strict=True)))._replace(filed=0.0)
    usual = {name: getattr(Pace, name) for name in BY_HAND if not getattr(pace, name)}
    start = calibrated(replace(pace, **usual), whole, sum(seconds))
    counted = {name: float(getattr(whole, each)) for name, each in BY_HAND.items()}
    told = tuple(name for name in BY_HAND if counted[name] > 0)
    table = np.array([[float(getattr(one, BY_HAND[name])) for name in told] for one in work_counts])
    guess = np.array([getattr(start, name) for name in told])
    fixed = np.array([times(one._replace(filed=0.0), start).total for one in work_counts]) - table @ guess
    wanted = np.array(seconds) - fixed
    drawn = max(_off(wanted - table @ guess), 1e-9)
    scaled, _ = nnls(
        np.vstack([table * guess, drawn * np.eye(len(told))]), np.concatenate([wanted, np.full(len(told), drawn)])
    )
    found = replace(
        pace, **{name: float(share * value) for name, share, value in zip(told, scaled, guess, strict=True)}
    )
    before, after = ([times(one._replace(filed=0.0), each).total for one in work_counts] for each in (pace, found))
    return Fit(
        found,
        told,
        len(work_counts),
        float(sum(seconds)),
        sum(before),
        sum(after),
        _off(np.array(before) - np.array(seconds)),
        _off(np.array(after) - np.array(seconds)),
    )


def _off(differences: "np.ndarray") -> float:
    return math.sqrt(float(np.mean(differences**2)))
