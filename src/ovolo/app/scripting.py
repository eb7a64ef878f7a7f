"""The interface for those who script: a job comes in, nothing is kept, the answer goes out."""

from __future__ import annotations

import asyncio
import base64
import contextlib
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ovolo.app.answers import BadRequest, body_json, table_of
from ovolo.app.openapi import description
from ovolo.app.workers import Workers
from ovolo.errors import Fault
from ovolo.show.pages.convention import work_out

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


async def make_plan(request: Request) -> Response:
    """The plan of a job."""
    return await done(request, "plan", table_of(await body_json(request)))


async def preview(request: Request) -> Response:
    """Settings for another ridge, or for a number of them, without moves and sweep."""
    data = table_of(await body_json(request))
    asked = {name: _asked(data, name) for name in ("ridge", "stations", "near") if data.get(name) is not None}
    return await done(request, "preview", table_of(data.get("job"), "job"), asked)


def _asked(data: dict[str, Any], name: str) -> float | int:
    value, whole = data[name], name == "stations"
    good = isinstance(value, int) if whole else isinstance(value, int | float)
    if isinstance(value, bool) or not good or not 0 < value <= (400 if whole else 50):
        limit = "a whole number, 1 to 400" if whole else "mm, more than 0 and at most 50"
        raise BadRequest(422, Fault(name, value, limit, "no plan can be made for that", "Send another"))
    return float(value) if not whole else int(value)


async def trade(request: Request) -> Response:
    """What each number of settings leaves."""
    return await done(request, "trade", table_of(await body_json(request)))


async def part(request: Request) -> Response:
    """The part as it can be drawn, with its faults."""
    return await done(request, "part_view", table_of(await body_json(request)))


async def shop(request: Request) -> Response:
    """The shop as it can be drawn, with its faults."""
    return await done(request, "shop_view", table_of(await body_json(request)))


async def view(request: Request) -> Response:
    """The plan of a job as the page Plan shows it."""
    return await done(request, "plan_view", table_of(await body_json(request)))


async def further(request: Request) -> Response:
    """What else can be told of the plan of a job: the usual way beside it, the time, the speeds."""
    return await done(request, "plan_more", table_of(await body_json(request)))


async def worth(request: Request) -> Response:
    """How many settings are worth it: ridge against minutes, for every tool of the drawer."""
    return await done(request, "plan_worth", table_of(await body_json(request)))


async def methods(request: Request) -> Response:
    """The ways to turn the curve of a job, side by side."""
    return await done(request, "plan_methods", table_of(await body_json(request)))


async def unreached(request: Request) -> Response:
    """What no tool of a job reaches, as a drawing of so many mm."""
    data = table_of(await body_json(request))
    size = [_millimetres(data, name, least, most) for name, least, most in (("width", 60, 500), ("height", 60, 400))]
    return await done(request, "plan_unreached", table_of(data.get("job"), "job"), *size)


def _millimetres(data: dict[str, Any], name: str, least: int, most: int) -> float:
    """A size of the body, kept within what can be drawn on."""
    value = data.get(name)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadRequest(422, Fault(name, value, f"{least} to {most} mm", "that is no size", "Send a number"))
    return float(min(max(value, least), most))


async def convention(request: Request) -> Response:
    """How a slide reads, from what happened when it was wound."""
    data = table_of(await body_json(request))
    slide, wound = data.get("slide"), data.get("wound")
    if slide not in ("cross", "saddle", "top"):
        raise BadRequest(422, Fault("slide", slide, "cross, saddle, top", "there is no such slide", "Name one of them"))
    if wound not in ("away", "nearer"):
        raise BadRequest(422, Fault("wound", wound, "away, nearer", "that is no direction", "Name one of them"))
    found = work_out(slide, wound, *(data.get(name) for name in ("travel", "before", "after")))
    return JSONResponse({"reads": found.reads, "grows": found.grows, "says": found.says})


async def drawing(request: Request) -> Response:
    """The outline in a drawing file, with what was understood."""
    async with request.form(max_files=1, max_fields=10) as form:
        file = form.get("file")
        if file is None or isinstance(file, str):
            raise BadRequest(422, Fault("file", None, "", "there is no file", "Choose one, such as pin.dxf"))
        content, name = await file.read(), (file.filename or "drawing")[-80:]
        asked = {key: str(value) for key in ("unit", "surface", "axis", "free_end") if (value := form.get(key))}
    _check_asked(asked)
    return await done(request, "drawing", name, base64.b64encode(content).decode(), asked)


_CHOICES = {"unit": ("mm", "in"), "surface": ("outside", "bore"), "free_end": ("right", "left", "top", "bottom")}


def _check_asked(asked: dict[str, str]) -> None:
    for name, known in _CHOICES.items():
        if name in asked and asked[name] not in known:
            raise BadRequest(422, Fault(name, asked[name], ", ".join(known), "that is not known", "Send one of them"))


async def openapi(_: Request) -> Response:
    """The description of all this."""
    return JSONResponse(description())


ROUTES = [
    Route("/api/plan", make_plan, methods=["POST"]),
    Route("/api/plan/view", view, methods=["POST"]),
    Route("/api/plan/further", further, methods=["POST"]),
    Route("/api/plan/worth", worth, methods=["POST"]),
    Route("/api/plan/methods", methods, methods=["POST"]),
    Route("/api/plan/unreached", unreached, methods=["POST"]),
    Route("/api/preview", preview, methods=["POST"]),
    Route("/api/trade", trade, methods=["POST"]),
    Route("/api/part", part, methods=["POST"]),
    Route("/api/shop", shop, methods=["POST"]),
    Route("/api/convention", convention, methods=["POST"]),
    Route("/api/drawing", drawing, methods=["POST"]),
    Route("/api/openapi.json", openapi),
]
