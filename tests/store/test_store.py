"""What is kept stays kept: versions, undo, deletion, two writers at once, a process that is killed."""

import json
import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ovolo.store import Changed, Kept, NotKept, Store

PIN = {"title": "Bridge pin", "part": {"outline": [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}]}}
KILLS = int(os.environ.get("OVOLO_KILLS", "3"))


def titled(title: str) -> dict[str, Any]:
    return {**PIN, "title": title}


def test_what_goes_in_comes_out(store: Store) -> None:
    kept = store.add("job", PIN)
    assert store.get(kept.id) == kept
    assert kept.document == PIN
    assert (kept.title, kept.revision, kept.version, kept.can_undo, kept.can_redo) == ("Bridge pin", 1, 1, False, False)


@given(
    document=st.dictionaries(
        st.text(max_size=8),
        st.recursive(
            st.none()
            | st.booleans()
            | st.integers(-(2**60), 2**60)
            | st.floats(allow_nan=False, allow_infinity=False)
            | st.text(max_size=20),
            lambda inner: st.lists(inner, max_size=3),
            max_leaves=5,
        ),
        max_size=5,
    )
)
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_document_comes_back_as_it_was_typed(store: Store, document: Mapping[str, Any]) -> None:
    assert store.get(store.add("job", document).id).document == document


def test_a_document_without_a_title_is_listed(store: Store) -> None:
    store.add("job", {"title": 5})
    assert [s.title for s in store.listed("job")] == ["Untitled"]


def test_each_save_is_a_version(store: Store) -> None:
    kept = store.add("job", PIN)
    kept = store.save(kept.id, kept.revision, titled("Pin 2"), "title")
    assert (kept.title, kept.version, kept.revision) == ("Pin 2", 2, 2)
    history = store.history(kept.id)
    assert [(v.n, v.parent, v.said, v.shown) for v in history] == [(2, 1, "title", True), (1, None, "made", False)]
    assert store.version(kept.id, 1) == PIN


def test_undo_and_redo_walk_the_versions(store: Store) -> None:
    kept = store.add("job", titled("a"))
    for title in "bc":
        kept = store.save(kept.id, kept.revision, titled(title))
    seen = []
    for step in (store.undo, store.undo, store.undo, store.redo, store.redo, store.redo):
        kept = step(kept.id, kept.revision)
        seen.append(kept.title)
    assert seen == ["b", "a", "a", "b", "c", "c"]


def test_a_change_after_undo_loses_nothing(store: Store) -> None:
    kept = store.add("job", titled("a"))
    kept = store.save(kept.id, kept.revision, titled("b"))
    kept = store.undo(kept.id, kept.revision)
    kept = store.save(kept.id, kept.revision, titled("c"))
    assert {store.version(kept.id, v.n)["title"] for v in store.history(kept.id)} == {"a", "b", "c"}
    kept = store.restore(kept.id, kept.revision, 2)
    assert kept.title == "b"
    assert store.undo(kept.id, kept.revision).title == "c"


def test_a_change_to_what_no_longer_stands_is_refused(store: Store) -> None:
    kept = store.add("job", titled("a"))
    store.save(kept.id, kept.revision, titled("first"))
    with pytest.raises(Changed, match="both are kept") as refused:
        store.save(kept.id, kept.revision, titled("second"))
    assert refused.value.current.title == "first"
    assert store.get(kept.id).title == "first"
    for step in (store.undo, store.redo):
        with pytest.raises(Changed):
            step(kept.id, kept.revision)


def test_of_many_who_save_at_once_one_wins(store: Store) -> None:
    kept = store.add("job", titled("start"))
    outcomes: list[object] = []

    def save(i: int) -> None:
        try:
            outcomes.append(store.save(kept.id, kept.revision, titled(f"writer {i}")).title)
        except Changed as refused:
            outcomes.append(refused)

    threads = [threading.Thread(target=save, args=(i,)) for i in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    winners = [o for o in outcomes if isinstance(o, str)]
    assert len(outcomes) == 8
    assert winners == [store.get(kept.id).title]
    assert len(store.history(kept.id)) == 2


def test_a_deleted_job_comes_back(store: Store) -> None:
    kept = store.add("job", PIN)
    store.delete(kept.id)
    assert store.listed("job") == []
    assert [s.id for s in store.listed("job", deleted=True)] == [kept.id]
    assert store.get(kept.id).deleted is not None
    assert store.bring_back(kept.id).document == PIN
    assert [s.id for s in store.listed("job")] == [kept.id]


def test_the_list_shows_one_kind_last_changed_first(store: Store) -> None:
    first, second = store.add("job", titled("first")), store.add("job", titled("second"))
    store.add("shop", {"title": "The bench"})
    store.save(first.id, first.revision, titled("first again"))
    assert [s.id for s in store.listed("job")] == [first.id, second.id]
    assert [s.title for s in store.listed("shop")] == ["The bench"]


@pytest.mark.parametrize("name", ["", "nothing", "../../etc/passwd", "x" * 500, "a'; DROP TABLE ovolo_document"])
def test_what_is_not_kept_is_said(store: Store, name: str) -> None:
    calls = (store.get, store.history, store.delete, store.bring_back, lambda n: store.version(n, 1))
    for call in calls:
        with pytest.raises(NotKept, match="nothing kept under"):
            call(name)
    with pytest.raises(NotKept):
        store.save(name, 1, PIN)
    kept = store.add("job", PIN)
    with pytest.raises(NotKept):
        store.restore(kept.id, kept.revision, 7)
    assert store.get(kept.id).revision == 1


def test_once_is_once(store: Store, address: str) -> None:
    assert store.once("examples")
    again = Store.at(address)
    assert not again.once("examples")
    assert again.once("something else")
    again.close()


WRITER = """
import sys
from ovolo.store import Store
store = Store.at(sys.argv[1])
kept = store.get(sys.argv[2])
for i in range(1, 101):
    kept = store.save(kept.id, kept.revision, {"title": f"edit {i}", "fill": "x" * 2000})
    print(kept.version, flush=True)
"""


def _settled(store: Store, name: str) -> Kept:
    """How it stands once a server has finished what the killed process had already sent."""
    now = store.get(name)
    while True:
        time.sleep(0.2)
        before, now = now, store.get(name)
        if now == before:
            return now


@pytest.mark.parametrize("seed", range(KILLS))
def test_nothing_acknowledged_is_lost_when_the_process_is_killed(store: Store, address: str, seed: int) -> None:
    kept = store.add("job", PIN)
    lines = random.Random(seed).randrange(1, 99)
    run = subprocess.Popen([sys.executable, "-c", WRITER, address, kept.id], stdout=subprocess.PIPE, text=True)
    assert run.stdout is not None
    acknowledged = 1
    for _ in range(lines):
        acknowledged = int(run.stdout.readline())
    time.sleep(random.Random(seed).random() * 0.003)
    run.send_signal(signal.SIGKILL)
    acknowledged = max([acknowledged, *(int(line) for line in run.stdout.read().split())])
    run.stdout.close()
    run.wait()
    again = _settled(store, kept.id)
    versions = {v.n for v in store.history(kept.id)}
    assert versions >= set(range(1, acknowledged + 1))
    assert again.version >= acknowledged
    assert all(json.dumps(store.version(kept.id, n)) for n in versions)
    assert store.save(kept.id, again.revision, titled("afterwards")).title == "afterwards"


def test_what_stands_as_it_was_made_is_known(store: Store) -> None:
    first = store.add("job", {"title": "a"}, "an example")
    second = store.add("job", {"title": "b"}, "an example")
    store.add("job", {"title": "c"}, "made")
    store.save(second.id, second.revision, {"title": "b2"})
    assert store.as_made("an example") & {first.id, second.id} == {first.id}
