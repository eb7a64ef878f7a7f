"""A few worker processes, and a queue in front of them: the pages never wait for a plan.

A task that is given up is stopped by ending its process once it has run for a while; another takes its place.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import sys
from asyncio.subprocess import PIPE, Process
from typing import Any

from ovolo.app.frames import DONE, FAULTS, HEAD, frame
from ovolo.errors import Fault, FaultsFound

SPARE_TIME = 1.0
"""A task given up after less than this, s, is let to its end: starting a process anew costs about as much."""

LONGEST = 120.0
"""No task may take longer, s."""


_TOO_LONG = Fault(
    "job",
    None,
    f"{LONGEST:.0f} s",
    "it takes too long to plan this",
    "Allow a higher ridge, or have a shorter stretch finished in steps",
)


class Mistake(Exception):
    """A worker met something that it should not: a mistake of ours."""


class Refused(FaultsFound):
    """What a worker refused, with every fault."""


class Workers:
    """Worker processes; use it as an asynchronous context."""

    def __init__(self, many: int = 2) -> None:
        self.many = many
        self._free: asyncio.Queue[Process] = asyncio.Queue()
        self._all: set[Process] = set()
        self._later: set[asyncio.Task[None]] = set()

    async def __aenter__(self) -> Workers:
        for _ in range(self.many):
            await self._start()
        return self

    async def __aexit__(self, *_: object) -> None:
        for task in list(self._later):
            task.cancel()
        for process in list(self._all):
            await self._end(process)

    async def do(self, name: str, *arguments: Any) -> bytes:
        """Do a task in the next free worker. Raises Refused with its faults, Mistake; stops where it is cancelled."""
        process = await self._free.get()
        started = asyncio.get_running_loop().time()
        asked = asyncio.ensure_future(self._ask(process, frame(DONE, json.dumps([name, arguments]).encode())))
        try:
            kind, body = await asyncio.wait_for(asyncio.shield(asked), LONGEST)
        except TimeoutError:
            self._give_up(process, asked, LONGEST)
            raise Refused([_TOO_LONG]) from None
        except asyncio.CancelledError:
            self._give_up(process, asked, asyncio.get_running_loop().time() - started)
            raise
        except (asyncio.IncompleteReadError, ConnectionError):
            await self._replace(process)
            raise Mistake("a worker process has ended in the middle of its task") from None
        self._free.put_nowait(process)
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

    def _give_up(self, process: Process, asked: asyncio.Future[Any], ran: float) -> None:
        async def settle() -> None:
            with contextlib.suppress(Exception):
                await asyncio.wait_for(asked, max(0.0, SPARE_TIME - ran))
                self._free.put_nowait(process)
                return
            await self._replace(process)

        task = asyncio.ensure_future(settle())
        self._later.add(task)
        task.add_done_callback(self._later.discard)

    async def _replace(self, process: Process) -> None:
        await self._end(process)
        await self._start()

    async def _start(self) -> None:
        process = await asyncio.create_subprocess_exec(
            sys.executable, "-m", "ovolo.app.worker", stdin=PIPE, stdout=PIPE, limit=2**20
        )
        self._all.add(process)
        self._free.put_nowait(process)

    async def _end(self, process: Process) -> None:
        self._all.discard(process)
        with contextlib.suppress(ProcessLookupError):
            process.kill()
        await process.wait()
        if process.stdin is not None:
            process.stdin.close()
