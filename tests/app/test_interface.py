"""Each entry of the interface is done by something, once."""

import inspect

from ovolo.app import keeping, tasks
from ovolo.app.interface import CODES, TASKS, TO_KEEP


def test_each_entry_is_done_by_a_function() -> None:
    assert all(callable(tasks.TASKS[entry.does]) for entry in TASKS)
    assert all(inspect.iscoroutinefunction(getattr(keeping, entry.does)) for entry in TO_KEEP)


def test_no_address_takes_a_method_twice() -> None:
    asked = [(entry.method, entry.address) for entry in (*TASKS, *TO_KEEP)]
    assert len(set(asked)) == len(asked)


def test_what_can_go_wrong_is_known() -> None:
    assert {code for entry in (*TASKS, *TO_KEEP) for code in entry.more} <= set(CODES)
