"""The frames between a worker and its parent."""

import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from ovolo.app.frames import DONE, FAULTS, MISTAKE, frame
from ovolo.app.tasks import TASKS
from ovolo.app.worker import answer, serve


def test_frames_are_answered_in_turn() -> None:
    tasks = frame(DONE, json.dumps(["plan", [{}]]).encode()) + frame(DONE, b"nonsense")
    sink = io.BytesIO()
    serve(io.BytesIO(tasks), sink)
    first, rest = sink.getvalue(), []
    while first:
        size = int.from_bytes(first[1:9], "big")
        rest.append((first[:1], first[9 : 9 + size]))
        first = first[9 + size :]
    assert [kind for kind, _ in rest] == [FAULTS, MISTAKE]
    assert all(fault["says"] for fault in json.loads(rest[0][1]))


def test_a_mistake_tells_no_path() -> None:
    kind, text = answer(json.dumps(["part_view", []]).encode())
    assert kind == MISTAKE
    assert b"/" not in text


def test_too_much_memory_is_a_fault_of_the_job_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    def greedy() -> bytes:
        raise MemoryError

    monkeypatch.setitem(TASKS, "greedy", greedy)
    kind, body = answer(b'["greedy", []]')
    assert kind == FAULTS
    assert "too much memory" in json.loads(body)[0]["says"]


@pytest.mark.skipif(sys.platform == "win32", reason="a process has no parent to look for there")
def test_a_worker_ends_with_its_server_even_in_the_middle_of_a_task() -> None:
    """The server is killed with -9: nobody is left to tell the worker."""
    script = (
        "import subprocess, sys\n"
        "code = 'import os, threading, time; from ovolo.app import worker; '\n"
        "code += 'threading.Thread(target=worker._end_with, args=[os.getppid()], daemon=True).start(); '\n"
        "code += 'print(os.getpid(), flush=True); time.sleep(60)'\n"
        "subprocess.run([sys.executable, '-c', code])\n"
    )
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE) as server:
        assert server.stdout is not None
        child = int(server.stdout.readline())
        server.send_signal(signal.SIGKILL)
        server.wait()
    for _ in range(200):
        if not _lives(child):
            return
        time.sleep(0.05)
    pytest.fail("the worker lives on")


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{process}/stat")
    return not (state.exists() and state.read_text().rpartition(")")[2].split()[0] == "Z")
