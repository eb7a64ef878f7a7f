"""What is kept: jobs and shops, over HTTP. Every change names the revision that it was made to."""

from __future__ import annotations

import asyncio
import json
import re
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ovolo.app.answers import BadRequest, body_json, body_text, kept_as_data, number_of, table_of
from ovolo.app.interface import TO_KEEP
from ovolo.app.scripting import done
from ovolo.app.toml import document_as_toml, document_from_toml
from ovolo.app.workers import Workers
from ovolo.errors import Fault, JobFaults, OvoloError
from ovolo.show.formats import FORMATS, MEDIA
from ovolo.store import Changed, Kept, Store
from ovolo.store.records import Kind

__all__ = ["ROUTES", "started"]

REMEMBERED = 200
"""So many new jobs are known by what was asked for."""

LONGEST_READINGS = 100_000
"""A thousand readings take less, characters."""

KINDS: dict[str, Kind] = {"jobs": "job", "shops": "shop"}


def _store(request: Request) -> Store:
    store: Store = request.app.state.store
    return store


def _kind(request: Request) -> Kind:
    return KINDS[request.path_params["kind"]]


async def _kept(request: Request) -> Kept:
    return await run_in_threadpool(_store(request).get, request.path_params["id"])


def _answer(kept: Kept, status: int = 200) -> Response:
    return JSONResponse(kept_as_data(kept), status, headers={"cache-control": "no-store"})


async def listed(request: Request) -> Response:
    """What is kept, the one last changed first; with ?deleted=1 what was deleted."""
    gone = request.query_params.get("deleted") == "1"
    found = await run_in_threadpool(_store(request).listed, _kind(request), deleted=gone)
    lines = [{"id": s.id, "title": s.title, "changed": s.changed.isoformat()} for s in found]
    return JSONResponse({"items": lines}, headers={"cache-control": "no-store"})


async def add(request: Request) -> Response:
    """Keep a new one: JSON, or the text of a job.toml."""
    kind = request.headers.get("content-type", "").split(";")[0].strip().lower()
    if kind in ("application/toml", "text/plain"):
        document = document_from_toml(await body_text(request))
    else:
        document = table_of(await body_json(request))
    return _answer(await run_in_threadpool(_store(request).add, _kind(request), document), 201)


async def start(request: Request) -> Response:
    """Keep a new job, started from a form or around an outline."""
    return _answer(await started(request, table_of(await body_json(request))), 201)


async def started(request: Request, asked: dict[str, Any]) -> Kept:
    """The job that is asked for. Asked again with the same `once` it is the one made before: a button pressed twice
    makes one."""
    made: dict[str, asyncio.Task[Kept]] = request.app.state.started
    once = json.dumps(asked, sort_keys=True)
    if not asked.get("once") or once not in made:
        if len(made) > REMEMBERED:
            made.clear()
        made[once] = asyncio.ensure_future(_begun(request, asked))
    try:
        return await asyncio.shield(made[once])
    except OvoloError:
        made.pop(once, None)
        raise


async def _begun(request: Request, asked: dict[str, Any]) -> Kept:
    store, shop = _store(request), asked.get("shop")
    tables = (await run_in_threadpool(store.get, shop)).document if isinstance(shop, str) and shop else None
    if tables is not None and tables.get("units", "mm") != asked.get("units", "mm"):
        says, remedy = "this shop counts in another unit", "Choose its unit, or the usual drawer"
        raise JobFaults([Fault("shop", asked.get("units"), str(tables.get("units", "mm")), says, remedy)])
    workers: Workers = request.app.state.workers
    document = json.loads(await workers.do("begin", {**asked, "shop": tables}))
    return await run_in_threadpool(store.add, "job", document, "started")


async def thumbnail(request: Request) -> Response:
    """The part of a kept job as a small picture, for the list."""
    answer = await done(request, "sketch", (await _kept(request)).document, kind=MEDIA["svg"])
    answer.headers["cache-control"] = "max-age=31536000, immutable"  # its address names when it was last changed
    return answer


async def get(request: Request) -> Response:
    """One as it stands."""
    return _answer(await _kept(request))


async def save(request: Request) -> Response:
    """A new version of it. Sent twice, as a page does that is left while it saves, it is one version and no clash."""
    data = table_of(await body_json(request))
    document, revision = table_of(data.get("document"), "document"), number_of(data, "revision")
    said = data.get("said")
    words = said if isinstance(said, str) and said else "changed"
    try:
        made = await run_in_threadpool(_store(request).save, request.path_params["id"], revision, document, words)
    except Changed as wrong:
        if wrong.current.document != document:
            raise
        made = wrong.current
    return _answer(made)


async def delete(request: Request) -> Response:
    """Take it off the list; it can be brought back."""
    return _answer(await run_in_threadpool(_store(request).delete, request.path_params["id"]))


async def bring_back(request: Request) -> Response:
    """Put it back on the list."""
    return _answer(await run_in_threadpool(_store(request).bring_back, request.path_params["id"]))


async def undo(request: Request) -> Response:
    """Show the version before."""
    revision = number_of(table_of(await body_json(request)), "revision")
    return _answer(await run_in_threadpool(_store(request).undo, request.path_params["id"], revision))


async def redo(request: Request) -> Response:
    """Show the version after."""
    revision = number_of(table_of(await body_json(request)), "revision")
    return _answer(await run_in_threadpool(_store(request).redo, request.path_params["id"], revision))


async def restore(request: Request) -> Response:
    """Show an older version again."""
    data = table_of(await body_json(request))
    revision, n = number_of(data, "revision"), number_of(data, "version")
    return _answer(await run_in_threadpool(_store(request).restore, request.path_params["id"], revision, n))


async def copy(request: Request) -> Response:
    """Keep a copy of it under a new name."""
    kept = await _kept(request)
    document = {**kept.document, "title": f"{kept.title}, copy"}
    return _answer(await run_in_threadpool(_store(request).add, kept.kind, document, f"a copy of {kept.title}"), 201)


async def history(request: Request) -> Response:
    """Every version, the newest first."""
    found = await run_in_threadpool(_store(request).history, request.path_params["id"])
    lines = [{"n": v.n, "said": v.said, "made": v.made.isoformat(), "shown": v.shown} for v in found]
    return JSONResponse({"items": lines}, headers={"cache-control": "no-store"})


async def checks(request: Request) -> Response:
    """How the part of a kept job was measured, the newest first."""
    kept = await _kept(request)
    found = await run_in_threadpool(_store(request).checks.listed, kept.id)
    return JSONResponse({"items": found}, headers={"cache-control": "no-store"})


async def add_check(request: Request) -> Response:
    """Keep a measurement with the part."""
    kept, data = await _kept(request), table_of(await body_json(request))
    texts = {name: data.get(name) for name in ("readings", "verdict", "says")}
    wrong = [name for name, text in texts.items() if not isinstance(text, str) or len(text) > LONGEST_READINGS]
    if wrong:
        says, remedy = "text is wanted", f"Send text of at most {LONGEST_READINGS} characters"
        raise JobFaults([Fault(name, None, "", says, remedy) for name in wrong])
    words = (str(texts[name]) for name in ("readings", "verdict", "says"))
    found = await run_in_threadpool(_store(request).checks.add, kept.id, *words)
    return JSONResponse({"items": found}, 201, headers={"cache-control": "no-store"})


async def plan_of(request: Request) -> Response:
    """The plan of a kept job, as the page Plan shows it."""
    return await done(request, "plan_view", (await _kept(request)).document)


async def file(request: Request) -> Response:
    """A file made from a kept job."""
    kept, name = await _kept(request), request.path_params["name"]
    how = "inline" if request.query_params.get("inline") == "1" else "attachment"
    where = {"content-disposition": f'{how}; filename="{_stem(kept.title)}-{name}"'}
    if name == "job.toml":
        text = await run_in_threadpool(document_as_toml, kept.document)
        where = {"content-disposition": f'attachment; filename="{_stem(kept.title)}.toml"'}
        return Response(text, media_type="application/toml", headers=where)
    if name not in FORMATS:
        known = ", ".join(("job.toml", *FORMATS))
        raise BadRequest(404, Fault("file", name[:60], known, "there is no such file", "Ask for one of them"))
    return await done(request, "file", kept.document, name, kind=MEDIA[name.partition(".")[2]], **where)


def _stem(title: str) -> str:
    """A file's name made of a title.

    >>> _stem("Bridge pin, domed end"), _stem("../../x"), _stem("螺")
    ('bridge-pin-domed-end', 'x', 'job')
    """
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:60] or "job"


ROUTES = [Route(entry.address, globals()[entry.does], methods=[entry.method]) for entry in TO_KEEP]
