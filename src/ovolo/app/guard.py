"""What stands in front of every page: whose name it answers to, who may write, how much, and what a page may load.

A page on another host can make a person's browser send requests here; so writes must come from our own pages (or from
no page at all), and the name in the request must be one of ours, which also stops names that are pointed at this
machine from outside.
"""

from __future__ import annotations

from collections.abc import Collection

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

OWN_NAMES = frozenset({"127.0.0.1", "localhost", "[::1]"})
LARGEST_BODY = 8_000_000
"""No drawing of a turned part is larger, bytes."""

RUNS = ("/run/", "/runs", "/api/runs", "/pair", "/api/pair")
"""What may be asked for under a name that is reserved for tests too (RFC 6761: nobody can have a name under .test)."""

_READS = frozenset({"GET", "HEAD", "OPTIONS"})

HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "referrer-policy": "same-origin",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
}


class TooLarge(Exception):
    """The body went past the limit while it was read."""


class Guard:
    """ASGI middleware; see the module."""

    def __init__(self, app: ASGIApp, names: Collection[str] = OWN_NAMES, largest: int = LARGEST_BODY) -> None:
        self.app, self.names, self.largest = app, frozenset(names), largest

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        guarded = _with_headers(send, bare=scope["path"].startswith(RUNS))
        refusal = self._refusal(scope["method"], scope["path"], Headers(scope=scope), _arrived_at(scope))
        if refusal is not None:
            await refusal(scope, receive, guarded)
            return
        started = False

        async def watched(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await guarded(message)

        try:
            await self.app(scope, self._limited(receive), watched)
        except TooLarge:
            if started:
                raise
            await self._too_large("more than the limit")(scope, receive, guarded)

    def _refusal(self, method: str, path: str, headers: Headers, arrived_at: str) -> JSONResponse | None:
        host = headers.get("host", "")
        name = host_name(host)
        if name not in self.names and name != arrived_at and not (name.endswith(".test") and path.startswith(RUNS)):
            names = ", ".join(sorted(self.names))
            return refused(421, "host", host, names, "this address is not served under that name", f"Open {names}")
        if method in _READS:
            return None
        site, origin = headers.get("sec-fetch-site"), headers.get("origin")
        if site not in (None, "same-origin", "none") or (origin is not None and origin != f"http://{host}"):
            says = "a page of another site has tried to make a change"
            return refused(403, "origin", origin or site, f"http://{host}", says, "Make the change on our own page")
        length = headers.get("content-length")
        if length is not None and (not length.isdigit() or int(length) > self.largest):
            return self._too_large(length)
        return None

    def _too_large(self, length: str) -> JSONResponse:
        limit = f"{self.largest // 1_000_000} MB" if self.largest >= 1_000_000 else f"{self.largest} bytes"
        return refused(413, "body", length[:40], limit, "that is too much to send", "Send only the outline")

    def _limited(self, receive: Receive) -> Receive:
        read = 0

        async def limited() -> Message:
            nonlocal read
            message = await receive()
            read += len(message.get("body", b""))
            if read > self.largest:
                raise TooLarge
            return message

        return limited


def _arrived_at(scope: Scope) -> str:
    """The address that a request came to: an address is no name that could have been pointed here from outside."""
    return str((scope.get("server") or ("",))[0])


def host_name(host: str) -> str:
    """The name in a Host header, its port aside.

    >>> host_name("localhost:8000"), host_name("[::1]:80"), host_name("::1")
    ('localhost', '[::1]', '::1')
    """
    name, colon, port = host.rpartition(":")
    return name.lower() if colon and port.isdigit() and (":" not in name or name.endswith("]")) else host.lower()


def refused(status: int, where: str, value: object, limit: str, says: str, remedy: str) -> JSONResponse:
    """An answer that carries one fault."""
    fault = {"where": where, "value": value, "limit": limit, "says": says, "remedy": remedy}
    return JSONResponse({"faults": [fault]}, status)


def _with_headers(send: Send, *, bare: bool) -> Send:
    """bare: without the header that puts an error on the console of a page that came over plain http from a phone's
    point of view."""

    async def guarded(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                if not (bare and name == "cross-origin-opener-policy"):
                    headers.setdefault(name, value)
        await send(message)

    return guarded
