"""Codes that let a device in once, and guesses at them, slowed and logged. All of it is gone with the program.

A code has 128 bits of chance in it and lasts a few minutes: what is slowed here is noise rather than a danger.
"""

from __future__ import annotations

import hashlib
import logging
import secrets
import time
from collections import OrderedDict, deque
from collections.abc import Callable
from datetime import UTC, datetime
from typing import NamedTuple

__all__ = ["LASTS", "Guesses", "Pairing", "Refusal"]

LASTS = 300.0
"""So long a code counts, s."""

MOST_CODES = 50
BITS = 128

FIRST_WAIT, LONGEST_WAIT = 1.0, 60.0
"""After a wrong guess an address waits this long, twice as long after each further one, s."""

FORGOTTEN = 900.0
"""An address that guessed nothing for so long begins anew, s."""

MOST_ADDRESSES = 1000
MOST_LOGGED = 50

LOG = logging.getLogger("ovolo.network")

Clock = Callable[[], float]


class Refusal(NamedTuple):
    """One line of the log: when, from which address, what was wrong."""

    at: datetime
    address: str
    says: str


class Guesses:
    """Who has guessed wrongly, how often, and how long he waits for it."""

    def __init__(self, clock: Clock = time.monotonic) -> None:
        self._clock = clock
        self._wrong: OrderedDict[str, tuple[int, float]] = OrderedDict()
        self.logged: deque[Refusal] = deque(maxlen=MOST_LOGGED)

    def wait(self, address: str) -> float:
        """How long an address still has to wait before its next guess is looked at, s; 0 where it need not."""
        many, last = self._wrong.get(address, (0, 0.0))
        if many == 0:
            return 0.0
        due = last + min(FIRST_WAIT * 2.0 ** (many - 1), LONGEST_WAIT)
        return max(0.0, due - self._clock())

    def wrong(self, address: str, says: str) -> None:
        """An address has guessed wrongly: it is logged, and waits longer than before."""
        now = self._clock()
        many, last = self._wrong.pop(address, (0, now))
        self._wrong[address] = (1 if now - last > FORGOTTEN else min(many + 1, 30)), now
        if len(self._wrong) > MOST_ADDRESSES:
            self._wrong.popitem(last=False)
        self.logged.append(Refusal(datetime.now(UTC), address, says))
        LOG.warning("Refused %s: %s (%d in a row)", address, says, self._wrong[address][0])

    def right(self, address: str) -> None:
        """An address was let in: what it guessed before is forgotten."""
        self._wrong.pop(address, None)


class Pairing:
    """The codes that are out, by their digests, each good once and for `LASTS`."""

    def __init__(self, clock: Clock = time.monotonic) -> None:
        self._clock = clock
        self._out: OrderedDict[str, float] = OrderedDict()
        self.guesses = Guesses(clock)

    def new(self) -> str:
        """A new code."""
        code = secrets.token_urlsafe(BITS // 8)
        self._out[_digest(code)] = self._clock() + LASTS
        while len(self._out) > MOST_CODES:
            self._out.popitem(last=False)
        return code

    def take(self, code: str) -> bool:
        """Whether a code is good; from now on it no longer is."""
        until = self._out.pop(_digest(code), None)
        return until is not None and self._clock() <= until


def _digest(code: str) -> str:
    """What is compared is a digest: how long that takes says nothing about the code."""
    return hashlib.sha256(code.encode()).hexdigest()
