"""A few worker processes, and two queues in front of them: the pages never wait for a plan.

What is quick (the page Part, a preview) has a process of its own, so that plans do not hold it up. A queue is bounded,
and so is the time in it: who would wait too long is told at once. A task that is given up is stopped by ending its
process once it has run for a while; another takes its place.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import sys
from asyncio.subprocess import PIPE, Process
from typing import Any

from ovolo.app.frames import DONE, FAULTS, HEAD, frame
from ovolo.app.interface import QUICK
from ovolo.errors import Fault, FaultsFound, OvoloError

SPARE_TIME = 1.0
"""A task given up after less than this, s, is let to its end: starting a process anew costs about as much."""

LONGEST = 120.0
"""No task may take longer, s."""

MOST_WAITING = 24
"""So many tasks may wait in one queue: a few pages open at once ask for half of that."""

LONGEST_WAIT = 60.0
"""Nobody waits longer for a free worker, s."""


_TOO_LONG = Fault(
    "job",
    None,
    f"{LONGEST:.0f} s",
    "it takes too long to plan this",
    "Allow a higher ridge, or shorten the curve (part.curve)",
)


class Mistake(Exception):
    """A worker met something that it should not: a mistake of ours."""


class Refused(FaultsFound):
    """What a worker refused, with every fault."""


class Busy(OvoloError):
    """Too much is asked for at once; nothing was done."""

    def __init__(self, waiting: int) -> None:
        says, remedy = "too much is being worked out just now", "Try again in a moment"
        self.faults = (Fault("", waiting, f"{MOST_WAITING} waiting", says, remedy),)
        super().__init__(str(self.faults[0]))


class _Lane:
    """The free processes for one kind of task, and how many tasks wait for one."""

    def __init__(self) -> None:
        self.free: asyncio.Queue[Process] = asyncio.Queue()
        self.waiting = 0

    async def next_free(self) -> Process:
        """The next process that is free. Raises Busy."""
        if not self.waiting and not self.free.empty():
            return self.free.get_nowait()
        if self.waiting >= MOST_WAITING:
            raise Busy(self.waiting)
        self.waiting += 1
        try:
            return await asyncio.wait_for(self.free.get(), LONGEST_WAIT)
        except TimeoutError:
            raise Busy(self.waiting) from None
        finally:
            self.waiting -= 1


class Workers:
    """Worker processes, `many` for plans and one for what is quick; use it as an asynchronous context."""

    def __init__(self, many: int = 2) -> None:
        self.many = many
        self._quick, self._slow = _Lane(), _Lane()
        self._all: set[Process] = set()
        self._later: set[asyncio.Task[None]] = set()

    async def __aenter__(self) -> Workers:
        for lane in (self._quick, *[self._slow] * self.many):
            await self._start(lane)
        return self

    async def __aexit__(self, *_: object) -> None:
        for task in list(self._later):
            task.cancel()
        for process in list(self._all):
            await self._end(process)

    async def do(self, name: str, *arguments: Any) -> bytes:
        """Do a task in the next free worker. Raises Refused with its faults, Busy, Mistake; stops where cancelled."""
        lane = self._quick if name in QUICK else self._slow
        process = await lane.next_free()
        started = asyncio.get_running_loop().time()
        asked = asyncio.ensure_future(self._ask(process, frame(DONE, json.dumps([name, arguments]).encode())))
        try:
            kind, body = await asyncio.wait_for(asyncio.shield(asked), LONGEST)
        except TimeoutError:
            self._give_up(lane, process, asked, LONGEST)
            raise Refused([_TOO_LONG]) from None
        except asyncio.CancelledError:
            self._give_up(lane, process, asked, asyncio.get_running_loop().time() - started)
            raise
        except (asyncio.IncompleteReadError, ConnectionError):
            await self._replace(lane, process)
            raise Mistake("a worker process has ended in the middle of its task") from None
        lane.free.put_nowait(process)
        if kind == DONE:
            return body
        if kind == FAULTS:
            raise Refused([Fault(**fault) for fault in json.loads(body)])
        raise Mistake(body.decode())

    async def _ask(self, process: Process, task: bytes) -> tuple[bytes, bytes]:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(task)
        await process.stdin.drain()
        head = await process.stdout.readexactly(HEAD)
        return head[:1], await process.stdout.readexactly(int.from_bytes(head[1:], "big"))

    def _give_up(self, lane: _Lane, process: Process, asked: asyncio.Future[Any], ran: float) -> None:
        async def settle() -> None:
            with contextlib.suppress(Exception):
                await asyncio.wait_for(asked, max(0.0, SPARE_TIME - ran))
                lane.free.put_nowait(process)
                return
            await self._replace(lane, process)

        task = asyncio.ensure_future(settle())
        self._later.add(task)
        task.add_done_callback(self._later.discard)

    async def _replace(self, lane: _Lane, process: Process) -> None:
        await self._end(process)
        await self._start(lane)

    async def _start(self, lane: _Lane) -> None:
        process = await asyncio.create_subprocess_exec(
            sys.executable, "-m", "ovolo.app.worker", stdin=PIPE, stdout=PIPE, limit=2**20
        )
        self._all.add(process)
        lane.free.put_nowait(process)

    async def _end(self, process: Process) -> None:
        self._all.discard(process)
        with contextlib.suppress(ProcessLookupError):
            process.kill()
        await process.wait()
        if process.stdin is not None:
            process.stdin.close()
