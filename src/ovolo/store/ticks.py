"""Ticks of a run: what they may hold, what they amount to, and every fault of those that are none.

A tick says that a move is done, that something ahead of a move is, or what was typed at the lathe; an undo takes one
back, whatever order they arrive in. What a list of ticks amounts to does not depend on that order.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from ovolo.errors import Fault

__all__ = ["Tick", "live_ticks", "place_of", "seconds_of", "tick_faults"]

Tick = Mapping[str, Any]

SHORTEST_KEY, LONGEST_KEY = 16, 64
MOST_TICKS = 5000
"""This many may be sent at once; a plan of a thousand moves has fewer."""

LONGEST_NOTE = 2000
LARGEST = 1e5
"""No slide stands farther than this, in mm or in."""

SLIDES = ("cross", "saddle", "top")
FIELDS = (
    "key",
    "move",
    "at",
    "stopped_at",
    "undo",
    "before",
    "measured",
    "by",
    "typed",
    "note",
    "readings",
    "again",
    "back",
)
BY = ("readout", "figures")
_AT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}\d{0,3}(Z|\+00:00)")


def live_ticks(ticks: Sequence[Tick]) -> list[Tick]:
    """Those that were not taken back, undos aside, in their order.

    >>> live_ticks([{"key": "b", "move": 1, "undo": "a"}, {"key": "a", "move": 1}, {"key": "c", "move": 1}])
    [{'key': 'c', 'move': 1}]
    """
    gone = {tick["undo"] for tick in ticks if tick.get("undo") is not None}
    return [tick for tick in ticks if tick.get("undo") is None and tick["key"] not in gone]


def does(tick: Tick) -> bool:
    """Whether it ticks its move: not what is done ahead of one, noted or read."""
    return all(tick.get(name) is None for name in ("before", "note", "readings", "undo"))


def place_of(ticks: Sequence[Tick], moves: int) -> int:
    """The first move that is not done, one more than there are when all are.

    >>> place_of([{"key": "a", "move": 1}, {"key": "b", "move": 3}], 3)
    2
    """
    done = {tick["move"] for tick in live_ticks(ticks) if does(tick)}
    return next(n for n in range(1, moves + 2) if n not in done)


LONGEST_MOVE = 1800.0
"""A move that took longer was no move but a pause, s."""


def seconds_of(ticks: Sequence[Tick]) -> dict[int, float]:
    """How long moves took, s: from the tick of the move before to their own, both by the clock of the same device.

    Devices are recognised by what their keys begin with, up to the first hyphen. What was done twice counts as it was
    done last; a move with no tick just before it, with something typed on the way, or with a pause in it is left out.

    >>> at = "2026-03-01T10:20:{}.000Z".format
    >>> seconds_of([{"key": "a-1", "move": 1, "at": at(10)}, {"key": "a-2", "move": 2, "at": at(35)}])
    {2: 25.0}
    """
    last: dict[str, tuple[int, datetime]] = {}
    found: dict[int, float] = {}
    for tick in live_ticks(ticks):
        device, at = tick["key"].split("-")[0], datetime.fromisoformat(tick["at"].replace("Z", "+00:00"))
        if not does(tick):
            last.pop(device, None)
            continue
        n, before = tick["move"], last.get(device)
        if before is not None and before[0] == n - 1 and 0 < (at - before[1]).total_seconds() <= LONGEST_MOVE:
            found[n] = (at - before[1]).total_seconds()
        last[device] = n, at
    return dict(sorted(found.items()))


def tick_faults(ticks: Any, moves: int, befores: Sequence[Mapping[str, Any]]) -> list[Fault]:
    """Everything that is wrong with a list of ticks of a plan with that number of moves; `befores` is its `before`."""
    if not isinstance(ticks, list):
        return [Fault("body", None, "a list of ticks", "something else stands there", "Send a list")]
    if len(ticks) > MOST_TICKS:
        return [Fault("body", len(ticks), f"at most {MOST_TICKS}", "that is too many ticks", "Send them in parts")]
    return [fault for i, tick in enumerate(ticks) for fault in _faults(f"[{i}]", tick, moves, befores)]


def _faults(where: str, tick: Any, moves: int, befores: Sequence[Mapping[str, Any]]) -> Iterable[Fault]:
    if not isinstance(tick, dict):
        yield Fault(where, None, "an object", "something else stands where a tick is wanted", "Send key, move and at")
        return
    for name in tick:
        if name not in FIELDS:
            limit = ", ".join(FIELDS)
            yield Fault(f"{where}.{str(name)[:40]}", None, limit, "a tick has no such field", "Leave it out")
    yield from _key_faults(f"{where}.key", tick.get("key"))
    yield from _whole_faults(f"{where}.move", tick.get("move"), moves, "the plan has no such move")
    yield from _at_faults(f"{where}.at", tick.get("at"))
    if tick.get("stopped_at") is not None:
        yield from _figure_faults(f"{where}.stopped_at", tick["stopped_at"])
    if tick.get("undo") is not None:
        yield from _undo_faults(where, tick)
    if tick.get("before") is not None:
        yield from _before_faults(where, tick, befores)
    yield from _measured_faults(where, tick, befores)
    for name in ("typed", "readings"):
        if tick.get(name) is not None:
            yield from _figures_faults(f"{where}.{name}", tick[name], SLIDES)
    yield from _note_faults(f"{where}.note", tick.get("note"))
    if tick.get("back") is not None and (tick["back"] is not True or tick.get("stopped_at") is None):
        says = "back is said of a slide that stopped elsewhere and was brought to its figure"
        yield Fault(f"{where}.back", None, "true", says, "Send it with stopped_at")
    again = tick.get("again")
    if again is not None and (again is not True or _before(tick, befores).get("kind") != "touch"):
        says = "again is said of a tool that is touched off once more"
        yield Fault(f"{where}.again", None, "true", says, "Send it with the number of a touch as before")


def _key_faults(where: str, key: Any) -> Iterable[Fault]:
    good = isinstance(key, str) and SHORTEST_KEY <= len(key) <= LONGEST_KEY and key.isprintable() and " " not in key
    if not good:
        limit = f"{SHORTEST_KEY} to {LONGEST_KEY} characters, no spaces"
        value = key[:80] if isinstance(key, str) else None
        yield Fault(where, value, limit, "this is no key", "Make one up at random for each tick")


def _whole_faults(where: str, value: Any, most: int, says: str) -> Iterable[Fault]:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= most:
        shown = value if isinstance(value, int | float | str | None) else None
        yield Fault(where, shown, f"1 to {most}", says, "Send a number of the plan")


def _at_faults(where: str, at: Any) -> Iterable[Fault]:
    if isinstance(at, str) and _AT.fullmatch(at):
        try:
            datetime.fromisoformat(at)
            return
        except ValueError:
            pass
    limit = "ISO 8601 in UTC with milliseconds"
    value = at[:40] if isinstance(at, str) else None
    yield Fault(where, value, limit, "this is no time", "Send such as 2026-03-01T10:20:30.123Z")


def _figure_faults(where: str, value: Any) -> Iterable[Fault]:
    good = not isinstance(value, bool) and isinstance(value, int | float)
    if not good or not math.isfinite(value) or abs(value) > LARGEST:
        shown = value if good and math.isfinite(value) else None
        yield Fault(where, shown, f"-{LARGEST:g} to {LARGEST:g}", "no slide reads that", "Send a number")


def _undo_faults(where: str, tick: Tick) -> Iterable[Fault]:
    yield from _key_faults(f"{where}.undo", tick["undo"])
    if tick["undo"] is not None and tick["undo"] == tick.get("key"):
        yield Fault(f"{where}.undo", tick["undo"][:64], "another key", "a tick cannot take itself back", "Name another")
    for name in ("stopped_at", "measured", "by", "typed", "note", "readings"):
        if tick.get(name) is not None:
            says = "a tick that takes another one back says nothing else"
            yield Fault(f"{where}.{name}", None, "", says, "Leave it out")


def _before_faults(where: str, tick: Tick, befores: Sequence[Mapping[str, Any]]) -> Iterable[Fault]:
    found = list(_whole_faults(f"{where}.before", tick["before"], len(befores), "nothing stands there in plan.before"))
    yield from found
    if not found and befores[tick["before"] - 1]["move"] != tick.get("move"):
        due = befores[tick["before"] - 1]["move"]
        yield Fault(f"{where}.move", None, str(due), "that is done ahead of another move", f"Send move {due}")
    if tick.get("stopped_at") is not None:
        says = "nothing stops at a figure ahead of a move"
        yield Fault(f"{where}.stopped_at", None, "", says, "Leave it out")


def _before(tick: Tick, befores: Sequence[Mapping[str, Any]]) -> Mapping[str, Any]:
    """What is done ahead of a move, by the number in a tick; nothing where that is none."""
    n = tick.get("before")
    good = isinstance(n, int) and not isinstance(n, bool) and 1 <= n <= len(befores)
    return befores[n - 1] if good and n is not None else {}


def _measured_faults(where: str, tick: Tick, befores: Sequence[Mapping[str, Any]]) -> Iterable[Fault]:
    measured, by, before = tick.get("measured"), tick.get("by"), _before(tick, befores)
    if measured is None:
        if by is not None:
            yield Fault(f"{where}.by", None, "", "nothing was measured", "Send measured as well, or leave it out")
        return
    if by not in BY:
        shown = by if isinstance(by, str) else None
        says = "it is not said what is corrected"
        yield Fault(f"{where}.by", shown, " or ".join(BY), says, "Send one of the two")
    if before.get("kind") != "measure":
        says = "measured is said of a stop to measure"
        yield Fault(f"{where}.measured", None, "", says, "Send its number as before")
        return
    should = before.get("should") or {}
    yield from _figures_faults(f"{where}.measured", measured, tuple(should) or ("cross", "saddle"))
    if by == "figures" and not should:
        says = "the plan does not say what it should be, so figures cannot be changed by it"
        yield Fault(f"{where}.by", by, "readout", says, "Correct the readout")


def _figures_faults(where: str, value: Any, slides: Sequence[str]) -> Iterable[Fault]:
    if not isinstance(value, dict) or not value:
        yield Fault(where, None, ", ".join(slides), "a figure for each slide is wanted", 'Send such as {"cross": 18.4}')
        return
    for name, figure in value.items():
        if name not in slides:
            yield Fault(f"{where}.{str(name)[:40]}", None, ", ".join(slides), "there is no such slide", "Name another")
        else:
            yield from _figure_faults(f"{where}.{name}", figure)


def _note_faults(where: str, note: Any) -> Iterable[Fault]:
    if note is not None and (not isinstance(note, str) or len(note) > LONGEST_NOTE):
        yield Fault(where, None, f"at most {LONGEST_NOTE} characters", "this is no note", "Send less text")
