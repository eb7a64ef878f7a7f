"""What somebody does at the lathe with the page of a run, step by step."""

import tomllib
from pathlib import Path
from typing import Any

import httpx
from playwright.sync_api import Page, expect

EXAMPLES = Path(__file__).parents[2] / "examples"
APART = 320
"""Two taps nearer than 300 ms are one, ms."""


def job_of(name: str) -> dict[str, Any]:
    """An example by its name; `one on another` is the one on the slides of the other."""
    name, _, other = name.partition(" on ")
    job = tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    return {**job, "slide": job_of(other)["slide"]} if other else job


_PLANS: dict[str, Any] = {}


def take(address: str, name: str = "bridge-pin") -> str:
    """Take the plan of an example to the lathe; gives the run's name. Each is planned once."""
    sent = {"plan": _PLANS[name]} if name in _PLANS else {"job": job_of(name)}
    answer = httpx.post(f"{address}/api/runs", json=sent, timeout=120)
    assert answer.status_code == 201, answer.text
    run = str(answer.json()["run"])
    if name not in _PLANS:
        _PLANS[name] = kept(address, run)["plan"]
    return run


def kept(address: str, run: str) -> dict[str, Any]:
    """The run as the computer has it."""
    answer: dict[str, Any] = httpx.get(f"{address}/api/runs/{run}", timeout=20).json()
    return answer


def no_secure_context(address: str) -> str:
    """The same server under a name of which a browser thinks as little as of a computer in the workshop."""
    return address.replace("127.0.0.1", "bench.test")


def open_run(page: Page, address: str, run: str) -> None:
    page.goto(f"{no_secure_context(address)}/run/{run}", timeout=90_000)  # the page is made when it is first opened
    expect(page.locator("#move")).not_to_be_empty()


def done(page: Page) -> None:
    """One Done, by touch where there is touch."""
    page.wait_for_timeout(APART)
    page.get_by_role("button", name="Done", exact=True).click()


def to_figure(page: Page) -> int:
    """Done through all that has to be done ahead; gives the number of the move whose figure shows."""
    for _ in range(40):
        if page.locator("#figure").is_visible():
            return number(page)
        done(page)
    raise AssertionError("no figure after forty times Done")


def number(page: Page) -> int:
    return int(page.locator("#move").inner_text())


def figure(page: Page) -> str:
    return page.locator("#figure").inner_text()


def settled(page: Page, address: str, run: str, place: int) -> dict[str, Any]:
    """Wait until the computer knows that it is at this place."""
    for _ in range(100):
        found = kept(address, run)
        if found["place"] == place:
            return found
        page.wait_for_timeout(100)
    raise AssertionError(f"the computer is at {found['place']}, not at {place}")
