"""The process in which plans are made: reads tasks from its standard input, writes answers to its standard output.

What they look like stands in `frames`.
"""

from __future__ import annotations

import json
import os
import sys
import traceback
from typing import Any, BinaryIO

from ovolo.app.frames import DONE, FAULTS, HEAD, MISTAKE, frame
from ovolo.app.tasks import TASKS
from ovolo.errors import OvoloError

__all__ = ["answer", "serve"]


def answer(task: bytes) -> tuple[bytes, bytes]:
    """Do a task; never raises."""
    try:
        name, arguments = json.loads(task)
        return DONE, TASKS[name](*arguments)
    except OvoloError as error:
        return FAULTS, json.dumps([fault.as_dict() for fault in error.faults]).encode()
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
    sink: Any = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    try:
        serve(sys.stdin.buffer, sink)
    except (BrokenPipeError, KeyboardInterrupt):
        os._exit(0)


if __name__ == "__main__":
    main()
