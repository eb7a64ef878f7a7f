"""Who is let in: this machine to everything, a paired device to runs, a stranger to the page that pairs him.

It stands behind the guard, so a name that is not ours, or a write from another site's page, never comes here.
"""

from __future__ import annotations

import re
from collections import OrderedDict
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from ovolo.app.guard import refused
from ovolo.app.network import Network, is_here
from ovolo.app.strangers import not_paired, too_soon
from ovolo.store import Device, Store

__all__ = ["COOKIE", "Door", "device_of"]

COOKIE = "ovolo_device"

LARGEST_OF_STRANGERS = 1000
"""A stranger sends a code and nothing longer, bytes."""

MOST_REMEMBERED = 200

_ONE = "[A-Za-z0-9_-]{1,40}"
RUNS = (
    ("GET", re.compile("/runs")),
    ("GET", re.compile(f"/run/{_ONE}(/[0-9a-f]{{1,64}})?")),
    ("GET", re.compile(f"/api/runs/{_ONE}(/times.csv)?")),
    ("PUT", re.compile(f"/api/runs/{_ONE}/ticks")),
    ("POST", re.compile(f"/api/runs/{_ONE}/again")),
)
"""What a paired device may ask for."""

STRANGERS = (("GET", re.compile("/pair")), ("POST", re.compile("/api/pair")))
"""What anybody may ask for."""

HERE_ONLY = re.compile("/(devices|api/devices|api/pairing)(/.*)?")
"""Who may look on is decided at this machine, whatever else a device is allowed."""


class Door:
    """ASGI middleware; see the module. Without a network nobody but this machine is let in."""

    def __init__(self, app: ASGIApp, store: Store, network: Network | None) -> None:
        self.app, self.store, self.network = app, store, network
        self._good: OrderedDict[str, None] = OrderedDict()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan" or is_here(scope):
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        refusal = await self._refusal(scope)
        await (self.app if refusal is None else refusal)(scope, receive, send)

    async def _refusal(self, scope: Scope) -> Response | None:
        """What somebody who is not let in is answered; None where he is. The device is noted in the scope."""
        method, path, headers = scope["method"], scope["path"], Headers(scope=scope)
        if self.network is None:
            return refused(403, "address", None, "this computer", "the network is not served", "Start with --lan")
        if method not in ("GET", "HEAD", "OPTIONS") and headers.get("origin") is None:
            says = "a change that does not say which page it comes from"
            return refused(403, "origin", None, "our own pages", says, "Make the change on our own page")
        secret = Request(scope).cookies.get(COOKIE)
        if secret and (wait := self._wait(scope, secret)):
            return too_soon(wait)
        device = await run_in_threadpool(self.store.devices.known, secret, _address(scope)) if secret else None
        scope["ovolo_device"] = device
        if device is not None and secret is not None:
            self._remember(secret)
        if _among(STRANGERS, method, path):
            return None if device or _small(headers) else _too_much()
        if device is None:
            return self._stranger(scope, secret)
        if HERE_ONLY.fullmatch(path) or not (device.everything or _among(RUNS, method, path)):
            return _not_his(method, path)
        return None

    def _wait(self, scope: Scope, secret: str) -> float:
        """How long somebody with a secret has to wait, s: not at all with one that was good before."""
        assert self.network is not None
        return 0.0 if secret in self._good else self.network.pairing.guesses.wait(_address(scope))

    def _remember(self, secret: str) -> None:
        """A device that was let in before does not wait for what others at its address have guessed."""
        self._good[secret] = None
        self._good.move_to_end(secret)
        if len(self._good) > MOST_REMEMBERED:
            self._good.popitem(last=False)

    def _stranger(self, scope: Scope, secret: str | None) -> Response:
        """A stranger's answer. One who comes with a secret that nobody has guesses, or was struck off: he is asked to
        forget it, and waits like any who guess."""
        assert self.network is not None
        if secret is not None:
            self.network.pairing.guesses.wrong(_address(scope), "a secret that no paired device has")
            self._good.pop(secret, None)
        answer = not_paired(api=scope["path"].startswith("/api/"))
        if secret is not None:
            answer.delete_cookie(COOKIE)
        return answer


def device_of(scope: Scope) -> Device | None:
    """The paired device that a request comes from; None for this machine and for strangers."""
    found: Device | None = scope.get("ovolo_device")
    return found


def _address(scope: Scope) -> str:
    return str((scope.get("client") or ("", 0))[0])


def _among(allowed: tuple[tuple[str, re.Pattern[str]], ...], method: str, path: str) -> bool:
    asked = "GET" if method == "HEAD" else method
    return any(asked == one and pattern.fullmatch(path) for one, pattern in allowed)


def _small(headers: Headers) -> bool:
    length: Any = headers.get("content-length", "0")
    return "transfer-encoding" not in headers and length.isdigit() and int(length) <= LARGEST_OF_STRANGERS


def _too_much() -> Response:
    says = "that is too much for a pairing code"
    return refused(413, "body", None, f"{LARGEST_OF_STRANGERS} bytes", says, "Send the code alone")


def _not_his(method: str, path: str) -> Response:
    if method == "GET" and path == "/":
        return RedirectResponse("/runs", 303)
    says = "this device sees runs at the lathe only"
    return refused(403, "address", path[:100], "runs", says, "More is allowed at the computer, on the page Devices")
