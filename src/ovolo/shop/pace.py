"""The user's own pace: how long the few things take that are done again and again."""

import math
from dataclasses import dataclass

from ovolo.errors import Fault, FaultsFound

__all__ = ["Pace"]


@dataclass(frozen=True)
class Pace:
    """The user's own constants. Raises FaultsFound for a figure that is no time or no rate.

    turn:        to wind a handwheel once without cutting [s].
    setting:     to bring a slide to a figure and read it [s].
    lock:        to lock or to free a slide [s].
    tool_change: with finding the figures again [s].
    measuring:   to stop, measure and start [s].
    filing:      metal filed off [mm^3/min].

    The figures that stand here at first are our estimate, no source, for an unhurried amateur.
    """

    turn: float = 1.5
    setting: float = 8.0
    lock: float = 3.0
    tool_change: float = 120.0
    measuring: float = 60.0
    filing: float = 30.0

    def __post_init__(self) -> None:
        faults = [
            Fault(
                name,
                value,
                "more than 0" if name == "filing" else "0 or more",
                "no work takes such a time",
                "Correct it",
            )
            for name, value in vars(self).items()
            if not math.isfinite(value) or value < 0 or (name == "filing" and value == 0)
        ]
        if faults:
            raise FaultsFound(faults)
