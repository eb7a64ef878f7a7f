"""What a list of ticks amounts to, in whatever order, and what is said of those that are none."""

import random
from typing import Any

import pytest

from ovolo.store.ticks import live_ticks, place_of, seconds_of, tick_faults

AT = "2026-03-01T10:20:30.123Z"
BEFORES = [
    {"move": 1, "kind": "touch", "text": "x"},
    {"move": 3, "kind": "measure", "text": "x", "should": {"cross": 18.4}},
    {"move": 4, "kind": "measure", "text": "an older plan"},
]


def tick(n: int, move: int = 1, **more: Any) -> dict[str, Any]:
    return {"key": f"{n:016d}", "move": move, "at": AT, **more}


def wrong(**changes: Any) -> list[str]:
    return [fault.where for fault in tick_faults([{**tick(1), **changes}], 5, BEFORES)]


def test_the_place_is_the_first_move_not_done_in_whatever_order_ticks_come() -> None:
    ticks = [tick(n, n) for n in (1, 2, 3, 5)] + [tick(20, 2, undo=f"{2:016d}"), tick(21, 2)]
    ticks += [tick(22, 3, undo=f"{3:016d}"), tick(23, 5, before=2), tick(24, 4, note="lunch")]
    for seed in range(50):
        random.Random(seed).shuffle(ticks)
        assert place_of(ticks, 5) == 3


def test_what_was_taken_back_never_comes_back() -> None:
    undo, again = tick(2, undo=f"{1:016d}"), tick(3, undo=f"{2:016d}")
    assert live_ticks([undo, again, tick(1)]) == []
    assert place_of([undo, tick(1), again], 5) == 1


def test_all_done_is_one_past_the_last() -> None:
    assert place_of([tick(n, n) for n in range(1, 6)], 5) == 6


@pytest.mark.parametrize(
    "good",
    [
        {"stopped_at": -3.37},
        {"stopped_at": None},
        {"stopped_at": -3.3, "back": True},
        {"undo": "x" * 64},
        {"before": 1, "typed": {"cross": 19.6}},
        {"move": 3, "before": 2, "measured": {"cross": 18.43}, "by": "figures"},
        {"move": 4, "before": 3, "measured": {"saddle": 1.0}, "by": "readout"},
        {"note": "to lunch"},
        {"before": 1, "again": True},
        {"readings": {"cross": 1, "saddle": 2.5}},
    ],
)
def test_what_a_tick_may_hold(good: dict[str, Any]) -> None:
    assert wrong(**good) == []


@pytest.mark.parametrize(
    ("bad", "where"),
    [
        ({"key": "short"}, "key"),
        ({"key": "x" * 65}, "key"),
        ({"key": 7}, "key"),
        ({"key": "with a space in it"}, "key"),
        ({"move": 0}, "move"),
        ({"move": 6}, "move"),
        ({"move": True}, "move"),
        ({"move": "1"}, "move"),
        ({"at": "yesterday"}, "at"),
        ({"at": "2026-13-01T10:20:30.123Z"}, "at"),
        ({"at": "2026-03-01T10:20:30"}, "at"),
        ({"stopped_at": "3"}, "stopped_at"),
        ({"stopped_at": float("nan")}, "stopped_at"),
        ({"stopped_at": 1e9}, "stopped_at"),
        ({"undo": "none"}, "undo"),
        ({"undo": f"{1:016d}"}, "undo"),
        ({"undo": "y" * 20, "stopped_at": 1.0}, "stopped_at"),
        ({"before": 0}, "before"),
        ({"before": 4}, "before"),
        ({"before": 2}, "move"),
        ({"before": 1, "stopped_at": 3}, "stopped_at"),
        ({"before": 1, "measured": {"cross": 1}, "by": "readout"}, "measured"),
        ({"move": 3, "before": 2, "measured": {"cross": 1}}, "by"),
        ({"move": 3, "before": 2, "measured": {"cross": 1}, "by": "guess"}, "by"),
        ({"move": 3, "before": 2, "measured": {}, "by": "readout"}, "measured"),
        ({"move": 3, "before": 2, "measured": {"saddle": 1}, "by": "readout"}, "measured.saddle"),
        ({"move": 4, "before": 3, "measured": {"cross": 1}, "by": "figures"}, "by"),
        ({"by": "readout"}, "by"),
        ({"typed": {"spindle": 3}}, "typed.spindle"),
        ({"note": 3}, "note"),
        ({"again": True}, "again"),
        ({"back": True}, "back"),
        ({"stopped_at": 1.0, "back": 1}, "back"),
        ({"before": 1, "again": 1}, "again"),
        ({"colour": "blue"}, "colour"),
    ],
)
def test_what_is_none_is_said_with_its_place(bad: dict[str, Any], where: str) -> None:
    assert f"[0].{where}" in wrong(**bad)


def test_all_faults_at_once_of_all_ticks() -> None:
    assert [f.where for f in tick_faults([{}, 3, tick(1)], 5, BEFORES)] == ["[0].key", "[0].move", "[0].at", "[1]"]
    assert [f.where for f in tick_faults({}, 5, BEFORES)] == ["body"]
    assert [f.where for f in tick_faults([{}] * 5001, 5, BEFORES)] == ["body"]


def at(n: int, move: int, seconds: int, **more: Any) -> dict[str, Any]:
    when = f"2026-03-01T10:{seconds // 60:02d}:{seconds % 60:02d}.500Z"
    return {"key": f"phone-{n:012d}", "move": move, "at": when, **more}


def test_how_long_moves_took_leaves_pauses_and_other_clocks_out() -> None:
    ticks = [at(1, 1, 0), at(2, 2, 20), at(3, 3, 50), at(4, 4, 60, before=1), at(5, 4, 90), at(6, 5, 95)]
    other = {**at(7, 6, 3000), "key": "tablet-00000000001"}
    again = [at(8, 7, 100), at(9, 8, 110), at(10, 8, 115, undo=f"phone-{9:012d}"), at(11, 8, 130)]
    assert seconds_of([*ticks, other, *again]) == {2: 20.0, 3: 30.0, 5: 5.0, 8: 30.0}
