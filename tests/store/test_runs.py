"""Runs: kept at once, numbered in order, never doubled; on SQLite and on PostgreSQL."""

import random
import threading
from typing import Any

import pytest
from sqlalchemy import text

from ovolo.errors import FaultsFound
from ovolo.store import NotKept, Store

AT = "2026-03-01T10:20:30.123Z"
PLAN: dict[str, Any] = {"checksum": "0123abcd", "before": [], "moves": [{}] * 40}


def tick(n: int, move: int, **more: Any) -> dict[str, Any]:
    return {"key": f"{n:016d}", "move": move, "at": AT, **more}


def test_a_run_keeps_its_plan_and_its_ticks(store: Store) -> None:
    name = store.runs.add(PLAN, "Pin")
    kept = store.runs.tick(name, [tick(1, 1), tick(2, 2)])
    assert kept.place == 3
    assert all(t["received"].endswith("Z") for t in kept.ticks)
    assert store.runs.get(name).plan == PLAN
    assert store.runs.get(name).ticks == kept.ticks
    assert store.runs.get(name, since=1).ticks == kept.ticks[1:]
    assert store.runs.get(name, since=1).plan is None
    assert [(r.title, r.place, r.moves) for r in store.runs.listed()] == [("Pin", 3, 40)]
    other = store.runs.add(PLAN, "Another", job="abc")
    assert [r.id for r in store.runs.listed()] == [other, name]
    assert [r.id for r in store.runs.listed("abc")] == [other]


def test_sent_twice_is_kept_once(store: Store) -> None:
    name = store.runs.add(PLAN, "Pin")
    first = store.runs.tick(name, [tick(1, 1), tick(1, 1), tick(2, 2, stopped_at=None)])
    again = store.runs.tick(name, [tick(2, 2), tick(1, 1)])
    assert again.ticks == first.ticks
    assert len(first.ticks) == 2


def test_a_key_with_two_ticks_is_refused_and_nothing_of_the_list_kept(store: Store) -> None:
    name = store.runs.add(PLAN, "Pin")
    store.runs.tick(name, [tick(1, 1)])
    for bad in ([tick(2, 2), tick(1, 5)], [tick(2, 2), tick(3, 41)], [tick(2, 2), {**tick(3, 3), "x": 1}]):
        with pytest.raises(FaultsFound):
            store.runs.tick(name, bad)
    assert len(store.runs.get(name).ticks) == 1


def test_what_is_not_there_is_said(store: Store) -> None:
    with pytest.raises(NotKept):
        store.runs.get("none")
    with pytest.raises(NotKept):
        store.runs.tick("none", [])


@pytest.mark.parametrize("seed", range(5))
def test_undo_and_retries_in_any_order_come_to_the_same(store: Store, seed: int) -> None:
    shuffled = random.Random(seed)
    sent = [tick(n, n) for n in range(1, 11)] + [tick(100 + n, n, undo=f"{n:016d}") for n in (4, 7)] + [tick(200, 4)]
    sent += shuffled.sample(sent, 8)
    shuffled.shuffle(sent)
    name = store.runs.add(PLAN, "Pin")
    while sent:
        part, sent = sent[:3], sent[3:]
        kept = store.runs.tick(name, part)
    assert kept.place == 7
    assert len(kept.ticks) == 13


def test_two_devices_at_once_lose_nothing_and_number_without_a_gap(store: Store) -> None:
    name = store.runs.add(PLAN, "Pin")

    def device(first: int) -> None:
        for n in range(first, 41, 2):
            store.runs.tick(name, [tick(n, n)])

    threads = [threading.Thread(target=device, args=(first,)) for first in (1, 2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    kept = store.runs.get(name)
    assert kept.place == 41
    assert {t["key"] for t in kept.ticks} == {f"{n:016d}" for n in range(1, 41)}
    for k in range(41):
        assert kept.ticks[k:] == store.runs.get(name, since=k).ticks


def test_a_database_of_before_gets_its_tables(store: Store) -> None:
    with store.runs._engine.begin() as connection:
        for table in ("ovolo_device", "ovolo_series", "ovolo_tick", "ovolo_run"):  # those that refer go first
            connection.execute(text(f"DROP TABLE {table}"))
        connection.execute(text("UPDATE ovolo_note SET text = '1' WHERE name = 'steps'"))
    url = store.runs._engine.url.render_as_string(hide_password=False)
    again = Store.at(url)
    assert again.runs.listed() == []
    again.close()
