"""How long it takes: the few things that are done again and again, each with the user's own time.

Times in seconds, filing in mm^3 a minute. The figures that stand here at first are our estimate, no source, for an
unhurried amateur: a recorded run corrects them.
"""

from dataclasses import dataclass
from typing import NamedTuple

from ovolo.predict.limits import above, at_least, within_limits

__all__ = ["Doings", "Pace", "Times", "calibrated", "feed_seconds", "times"]


@dataclass(frozen=True)
class Pace:
    """The user's own constants.

    turn:        to wind a handwheel once without cutting [s].
    setting:     to bring a slide to a figure and read it [s].
    lock:        to lock or to free a slide [s].
    tool_change: with finding the figures again [s].
    measuring:   to stop, measure and start [s].
    filing:      metal filed off [mm^3/min].
    """

    turn: float = 1.5
    setting: float = 8.0
    lock: float = 3.0
    tool_change: float = 120.0
    measuring: float = 60.0
    filing: float = 30.0

    def __post_init__(self) -> None:
        within_limits(
            *(at_least(name, value, 0) for name, value in vars(self).items() if name != "filing"),
            above("filing", self.filing, 0),
        )


class Doings(NamedTuple):
    """How much is to be done.

    turns: of the handwheels; settings, locks, tool_changes, measurings: how often; feed_seconds: of all cuts [s];
    filed: metal in the ridges [mm^3].
    """

    turns: float = 0.0
    settings: int = 0
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

    length: of the cut [mm]; feed: mm a turn; rpm: spindle [turns a minute]. Source: every textbook.

    >>> feed_seconds(30, 0.1, 600)
    30.0
    """
    within_limits(at_least("length", length, 0), above("feed", feed, 0), above("spindle speed", rpm, 0))
    return 60 * length / (feed * rpm)


def times(doings: Doings, pace: Pace) -> Times:
    """How long the doings take at a pace [s].

    >>> times(Doings(turns=10, settings=4), Pace(turn=2, setting=5)).total
    40.0
    """
    within_limits(*(at_least(name, value, 0) for name, value in doings._asdict().items()))
    return Times(
        doings.turns * pace.turn,
        doings.settings * pace.setting,
        doings.locks * pace.lock,
        doings.tool_changes * pace.tool_change,
        doings.measurings * pace.measuring,
        doings.feed_seconds,
        60 * doings.filed / pace.filing,
    )


def calibrated(pace: Pace, doings: Doings, seconds: float) -> Pace:
    """The pace that would have taken just the time of a recorded run: every constant by the same factor.

    seconds: the whole run, more than its feed alone takes. One run can't tell winding from reading, so their
    proportion stays; what the feed takes isn't the user's doing and stays too.

    >>> calibrated(Pace(turn=2, setting=5), Doings(turns=10, settings=4), 80).setting
    10.0
    """
    foreseen = times(doings, pace)
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
