"""The next of several equal parts: what it takes over, and what is refused of it."""

from typing import Any

import pytest

from ovolo.errors import FaultsFound
from ovolo.store import Store
from ovolo.store.series import next_of

PLAN = {"checksum": "abc", "moves": [{"n": 1}], "before": []}


def test_parts_are_counted_and_their_minutes_kept() -> None:
    second = next_of({}, {"parts": 3, "every": 2, "minutes": 34.04}, ("knife",))
    third = next_of(second, {"parts": 3, "minutes": 30, "rechucked": False}, ("knife",))
    assert (second["part"], third["part"]) == (2, 3)
    assert third["minutes"] == [34.0, 30.0]
    assert (second["every"], third["every"]) == (2, 1)
    assert (second["rechucked"], third["rechucked"]) == (True, False)


def test_shifts_are_carried() -> None:
    shift = {"tool": "knife", "slide": "cross", "by": -0.04}
    assert next_of({}, {"carried": [shift]}, ("knife",))["carried"] == [shift]


@pytest.mark.parametrize(
    ("sent", "where"),
    [
        ({"colour": 1}, "colour"),
        ({"parts": 0}, "parts"),
        ({"parts": True}, "parts"),
        ({"every": None}, "every"),
        ({"every": 1.5}, "every"),
        ({"minutes": -1}, "minutes"),
        ({"minutes": "x"}, "minutes"),
        ({"rechucked": 1}, "rechucked"),
        ({"carried": {}}, "carried"),
        ({"carried": [1]}, "carried[0]"),
        ({"carried": [{"tool": "other", "slide": "cross", "by": 1}]}, "carried[0]"),
        ({"carried": [{"tool": "knife", "slide": "x", "by": 1}]}, "carried[0]"),
        ({"carried": [{"tool": "knife", "slide": "cross", "by": float("nan")}]}, "carried[0]"),
    ],
)
def test_what_cannot_be_is_refused(sent: dict[str, Any], where: str) -> None:
    with pytest.raises(FaultsFound) as found:
        next_of({}, sent, ("knife",))
    assert [fault.where for fault in found.value.faults] == [where]


def test_a_run_keeps_what_it_takes_over(store: Store) -> None:
    first = store.runs.add(PLAN, "Pin")
    series = next_of({}, {"parts": 3}, ())
    second = store.runs.add(PLAN, "Pin", series=series)
    assert store.runs.series(first) == {}
    assert store.runs.series(second) == series
