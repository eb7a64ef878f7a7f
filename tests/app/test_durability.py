"""The server is killed while a job is edited a hundred times: nothing that it has acknowledged is lost."""

import os
import random
import re
import signal
import subprocess
import sys
import threading
from pathlib import Path

import httpx
import pytest

from ovolo.store import Store

START = "import sys; from ovolo.cli import main; main(sys.argv[1:])"
KILLS = int(os.environ.get("OVOLO_KILLS", "2"))


def _serve(data: Path) -> tuple[subprocess.Popen[str], str]:
    command = [sys.executable, "-c", START, "open", "--no-browser", "--port", "0", "--data", str(data)]
    run = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert run.stdout is not None
    found = re.search(r"http://[\d.:]+", run.stdout.readline())
    assert found
    return run, found[0]


def _edit(address: str, kill_after: float, kill: threading.Event) -> tuple[str, int]:
    """Edit a job up to a hundred times; gives its name and the last revision acknowledged."""
    with httpx.Client(base_url=address, timeout=20) as client:
        name, revision = client.post("/api/jobs", json={"title": "edit 0"}).json()["id"], 1
        try:
            for i in range(1, 101):
                document = {"title": f"edit {i}", "fill": "x" * 1500}
                answer = client.put(f"/api/jobs/{name}", json={"revision": revision, "document": document})
                revision = answer.json()["revision"]
                if i >= kill_after:
                    kill.set()
        except httpx.HTTPError:
            pass
        return name, revision


@pytest.mark.parametrize("seed", range(KILLS))
def test_nothing_acknowledged_is_lost(tmp_path: Path, seed: int) -> None:
    run, address = _serve(tmp_path)
    kill = threading.Event()

    def killer() -> None:
        kill.wait(60)
        run.send_signal(signal.SIGKILL)

    thread = threading.Thread(target=killer)
    thread.start()
    name, acknowledged = _edit(address, random.Random(seed).randrange(1, 95), kill)
    kill.set()
    thread.join()
    run.wait(20)
    assert run.stdout is not None
    run.stdout.close()
    assert acknowledged > 1
    store = Store.in_folder(tmp_path)
    kept = store.get(name)
    assert kept.revision in (acknowledged, acknowledged + 1)
    assert kept.document["title"] == f"edit {kept.revision - 1}"
    assert {v.n for v in store.history(name)} == set(range(1, kept.revision + 1))
    store.close()
