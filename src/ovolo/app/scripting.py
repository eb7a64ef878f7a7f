"""The interface for those who script: a job comes in, nothing is kept, the answer goes out."""

from __future__ import annotations

import asyncio
import base64
import contextlib
from collections.abc import Awaitable, Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ovolo.app.answers import BadRequest, body_json, table_of
from ovolo.app.interface import TASKS, Entry
from ovolo.app.workers import Workers
from ovolo.errors import Fault

__all__ = ["ROUTES", "done"]

JSON = "application/json"


async def done(request: Request, name: str, *arguments: Any, kind: str = JSON, **headers: str) -> Response:
    """Have a worker do a task; where whoever asked has gone, it is given up."""
    workers: Workers = request.app.state.workers
    task = asyncio.ensure_future(workers.do(name, *arguments))
    gone = asyncio.ensure_future(_gone(request))
    try:
        await asyncio.wait({task, gone}, return_when=asyncio.FIRST_COMPLETED)
        if not task.done():
            return Response(status_code=499)
        return Response(task.result(), media_type=kind, headers=headers)
    finally:
        for left in (task, gone):
            left.cancel()
            with contextlib.suppress(asyncio.CancelledError, Exception):
                await left


async def _gone(request: Request) -> None:
    while not await request.is_disconnected():
        await asyncio.sleep(0.1)


async def _uploaded(request: Request) -> dict[str, Any]:
    """A file and the fields that came with it, as a worker takes them."""
    async with request.form(max_files=1, max_fields=10) as form:
        file = form.get("file")
        if file is None or isinstance(file, str):
            raise BadRequest(422, Fault("file", None, "", "there is no file", "Choose one, such as pin.dxf"))
        fields = {key: str(value) for key, value in form.items() if key != "file"}
        content = base64.b64encode(await file.read()).decode()
        return {**fields, "name": (file.filename or "drawing")[-80:], "content": content}


async def _body(request: Request, entry: Entry) -> dict[str, Any]:
    if entry.takes is None:
        return {}
    return await _uploaded(request) if entry.does == "drawing" else table_of(await body_json(request))


def _handler(entry: Entry) -> Callable[[Request], Awaitable[Response]]:
    async def handle(request: Request) -> Response:
        return await done(request, entry.does, await _body(request, entry))

    return handle


ROUTES = [Route(entry.address, _handler(entry), methods=[entry.method]) for entry in TASKS]
