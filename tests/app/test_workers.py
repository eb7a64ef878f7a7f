"""Workers: answers, faults, mistakes, tasks that are given up, processes that end."""

import asyncio
import json
from collections.abc import Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from ovolo.app import workers
from ovolo.app.workers import Busy, Mistake, Refused, Workers


def run(work: Callable[[Workers], Awaitable[Any]], many: int = 1) -> Any:
    async def all_of_it() -> Any:
        async with Workers(many) as ready:
            return await work(ready)

    # In a thread of its own: a test with a browser, in the same process before, leaves its loop in this one.
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, all_of_it()).result()


def test_a_task_is_done(pin: dict[str, Any]) -> None:
    answer = run(lambda ready: ready.do("preview", {"job": pin}))
    assert json.loads(answer)["stations"] == 16


def test_faults_come_through() -> None:
    with pytest.raises(Refused) as refused:
        run(lambda ready: ready.do("plan", {"title": "x"}))
    assert {fault.where for fault in refused.value.faults} >= {"part", "stock", "tool"}


def test_a_mistake_of_ours_is_said_and_the_worker_goes_on(pin: dict[str, Any]) -> None:
    async def work(ready: Workers) -> bytes:
        with pytest.raises(Mistake, match="KeyError"):
            await ready.do("nonsense")
        return await ready.do("preview", {"job": pin})

    assert run(work)


def test_a_task_given_up_early_leaves_its_worker_alone(pin: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers, "SPARE_TIME", 60.0)

    async def work(ready: Workers) -> None:
        before = set(ready._all)
        task = asyncio.ensure_future(ready.do("preview", {"job": pin}))
        await asyncio.sleep(0.01)
        task.cancel()
        with pytest.raises(asyncio.CancelledError):
            await task
        await ready.do("preview", {"job": pin})
        assert set(ready._all) == before

    run(work)


def test_a_task_that_takes_too_long_is_stopped_with_its_process(
    pin: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "SPARE_TIME", 0.0)

    async def work(ready: Workers) -> None:
        before = set(ready._all)
        task = asyncio.ensure_future(ready.do("trade", pin))
        await asyncio.sleep(0.05)
        task.cancel()
        with pytest.raises(asyncio.CancelledError):
            await task
        assert json.loads(await ready.do("preview", {"job": pin}))["stations"] == 16
        assert len(before & set(ready._all)) == len(before) - 1

    run(work)


def test_what_takes_too_long_is_refused_in_words(pin: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers, "LONGEST", 0.01)

    async def work(ready: Workers) -> None:
        with pytest.raises(Refused, match="takes too long"):
            await ready.do("trade", pin)

    run(work)


def test_a_process_that_ends_is_replaced(pin: dict[str, Any]) -> None:
    async def work(ready: Workers) -> None:
        for process in ready._all:
            process.kill()
        with pytest.raises(Mistake, match="ended"):
            await ready.do("preview", {"job": pin})
        assert json.loads(await ready.do("preview", {"job": pin}))["stations"] == 16

    run(work)


def test_two_workers_do_two_tasks(pin: dict[str, Any]) -> None:
    async def work(ready: Workers) -> list[bytes]:
        return await asyncio.gather(*(ready.do("preview", {"job": pin, "stations": n}) for n in (10, 12, 14)))

    counts = [json.loads(answer)["stations"] for answer in run(work, 2)]
    assert counts == [10, 12, 14]


def test_plans_that_take_long_do_not_hold_up_what_is_quick(
    pin: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "LONGEST_WAIT", 600.0)

    async def work(ready: Workers) -> list[str]:
        done: list[str] = []

        async def ask(name: str, *arguments: Any) -> None:
            await ready.do(name, *arguments)
            done.append(name)

        long = [asyncio.ensure_future(ask("trade", {**pin, "title": f"Pin {n}"})) for n in range(3)]
        await asyncio.sleep(0.05)
        await ask("part_view", pin)
        await asyncio.gather(*long)
        return done

    assert run(work)[0] == "part_view"


def test_a_full_queue_is_answered_at_once(pin: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers, "MOST_WAITING", 1)

    async def work(ready: Workers) -> None:
        long = [asyncio.ensure_future(ready.do("trade", pin)) for _ in range(2)]  # one is done, one waits
        await asyncio.sleep(0.05)
        with pytest.raises(Busy, match="Try again in a moment"):
            await ready.do("trade", pin)
        await asyncio.gather(*long)

    run(work)


def test_nobody_waits_for_ever(pin: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers, "LONGEST_WAIT", 0.01)

    async def work(ready: Workers) -> None:
        long = asyncio.ensure_future(ready.do("trade", pin))
        await asyncio.sleep(0.05)
        with pytest.raises(Busy):
            await ready.do("trade", pin)
        await long

    run(work)
