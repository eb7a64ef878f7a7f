"""The pages, from the server's side: from `ovolo open` to its first page, and what a change on a page waits for.

What a browser adds, drawing what has come, is a few milliseconds; the table of a thousand moves is drawn in one piece.
"""

import itertools
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from benchmarks.jobs import Data, dome, waves

OPEN = "import sys; from ovolo.cli import main; main(['open', '--no-browser', '--port', '0', '--data', sys.argv[1]])"

AIMS = {"drawing while dragging": 50, "preview of settings": 100, "plan after a changed field": 400}
"""From what is asked to its answer, ms; nineteen times out of twenty."""


def _opened(folder: Path) -> tuple[subprocess.Popen[str], str]:
    run = subprocess.Popen([sys.executable, "-c", OPEN, str(folder)], stdout=subprocess.PIPE, text=True)
    assert run.stdout is not None
    found = re.search(r"http://127\.0\.0\.1:\d+", run.stdout.readline())
    assert found
    return run, found[0]


def _ended(run: subprocess.Popen[str]) -> None:
    run.terminate()
    run.wait()
    if run.stdout is not None:
        run.stdout.close()


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Iterator[httpx.Client]:
    """A client of pages that have been looked at before: their workers are ready."""
    run, address = _opened(tmp_path_factory.mktemp("pages"))
    try:
        with httpx.Client(base_url=address, timeout=120) as client:
            for _ in range(4):
                _asked(client, "/api/plan/view", dome(0.06))
            yield client
    finally:
        _ended(run)


def _asked(client: httpx.Client, where: str, body: Data) -> Any:
    answer = client.post(where, json=body)
    answer.raise_for_status()
    return answer.json()


@pytest.mark.benchmark(group="from ovolo open to the first page")
def test_first_page(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    benchmark.extra_info["aim_ms"] = 1200
    folders = (tmp_path / str(n) for n in itertools.count())
    runs: list[subprocess.Popen[str]] = []

    def first_page() -> None:
        run, address = _opened(next(folders))
        runs.append(run)
        httpx.get(address, timeout=60).raise_for_status()

    try:
        benchmark.pedantic(first_page, rounds=5, warmup_rounds=1)  # type: ignore[no-untyped-call]
    finally:
        for run in runs:
            _ended(run)


BODIES: dict[str, tuple[str, Callable[[int], Data]]] = {
    "drawing while dragging": ("/api/part", lambda n: {**dome(), "stock": {"diameter": 20, "proud": 0.5 + n / 1000}}),
    "preview of settings": ("/api/preview", lambda n: {"job": dome(), "stations": 10 + n % 20, "near": 0.05}),
    "plan after a changed field": ("/api/plan/view", lambda n: dome(round(0.03 + n / 2000, 4))),
}


@pytest.mark.benchmark(group="what a change on a page waits for")
@pytest.mark.parametrize("what", BODIES)
def test_change(benchmark: BenchmarkFixture, pages: httpx.Client, what: str) -> None:
    benchmark.extra_info["aim_p95_ms"] = AIMS[what]
    where, body = BODIES[what]
    numbers = itertools.count()
    benchmark.pedantic(  # type: ignore[no-untyped-call]
        lambda: _asked(pages, where, body(next(numbers))), rounds=40, warmup_rounds=3
    )


@pytest.mark.benchmark(group="a plan of a thousand moves")
def test_thousand_moves(benchmark: BenchmarkFixture, pages: httpx.Client) -> None:
    """Opened again once it has been made: what the page shows of it, from asking to the last byte."""
    benchmark.extra_info["aim_ms"] = 500
    job = waves(40, 460)
    first = _asked(pages, "/api/plan/view", job)
    assert len(first["moves"]) > 900
    _asked(pages, "/api/plan/view", job)  # the other worker makes it too
    benchmark.pedantic(_asked, args=(pages, "/api/plan/view", job), rounds=10)  # type: ignore[no-untyped-call]
