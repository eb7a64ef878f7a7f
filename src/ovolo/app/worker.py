"""The process in which plans are made: reads tasks from its standard input, writes answers to its standard output.

What they look like stands in `frames`.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
import threading
import time
import traceback
from importlib import import_module
from typing import Any, BinaryIO

from ovolo.app.frames import DONE, FAULTS, HEAD, MISTAKE, frame
from ovolo.app.tasks import TASKS
from ovolo.errors import Fault, OvoloError

__all__ = ["answer", "serve"]

MOST_MEMORY = 4 * 2**30
"""No task may take more, bytes of address space; plans of a thousand settings take a tenth of it."""

LOOKS = 0.25
"""How often it looks whether its server is still there, s."""

TOO_BIG = Fault(
    "job",
    None,
    f"{MOST_MEMORY // 2**30} GB",
    "it takes too much memory to plan this",
    "Allow a higher ridge, or shorten the curve (part.curve)",
)


def answer(task: bytes) -> tuple[bytes, bytes]:
    """Do a task; never raises."""
    try:
        name, arguments = json.loads(task)
        return DONE, TASKS[name](*arguments)
    except OvoloError as error:
        return FAULTS, json.dumps([fault.as_dict() for fault in error.faults]).encode()
    except MemoryError:
        return FAULTS, json.dumps([TOO_BIG.as_dict()]).encode()
    except Exception as error:
        place = traceback.extract_tb(error.__traceback__)[-1]
        text = f"{type(error).__name__}: {error} ({os.path.basename(place.filename)}, line {place.lineno})"
        return MISTAKE, text[:500].encode()


def serve(source: BinaryIO, sink: BinaryIO) -> None:
    """Answer tasks until there are no more."""
    while head := source.read(HEAD):
        task = source.read(int.from_bytes(head[1:], "big"))
        sink.write(frame(*answer(task)))
        sink.flush()


def main() -> None:
    """Serve the parent. What anything prints goes to standard error: standard output carries answers only."""
    _bound_memory()
    threading.Thread(target=_end_with, args=[os.getppid()], daemon=True).start()
    sink: Any = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    try:
        serve(sys.stdin.buffer, sink)
    except (BrokenPipeError, KeyboardInterrupt):
        os._exit(0)


def _bound_memory() -> None:
    """Let a task that asks for too much fail by itself, instead of the whole machine; where the system can do that."""
    with contextlib.suppress(ImportError, OSError, ValueError):
        resource: Any = import_module("resource")  # not there on Windows
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))


def _end_with(server: int) -> None:
    """End where the server has ended, whatever is being worked out; another process is then the parent."""
    while os.getppid() == server:
        time.sleep(LOOKS)
    os._exit(0)


if __name__ == "__main__":
    main()
