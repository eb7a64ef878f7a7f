"""Runs at the lathe over HTTP: a plan is taken there, ticks come back, and a page leads through it."""

from __future__ import annotations

import hashlib
import json
from collections import OrderedDict

import segno
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from ovolo.app.answers import BadRequest, body_json, table_of
from ovolo.app.interface import AT_THE_LATHE
from ovolo.app.names import NAME
from ovolo.app.policy import policy_of
from ovolo.app.workers import Workers
from ovolo.errors import Fault
from ovolo.store import KeptRun, Store
from ovolo.store.series import next_of
from ovolo.store.ticks import seconds_of

__all__ = ["ROUTES", "Pages"]

NO_STORE = {"cache-control": "no-store"}
KEPT_FOR = 86_400
"""The page opens from what the browser kept for so long, s, with the server gone."""

PAGES_HELD = 12


class Pages:
    """The last pages made, each with the digest that stands in its address."""

    def __init__(self) -> None:
        self._made: OrderedDict[str, tuple[str, bytes]] = OrderedDict()

    async def of(self, run: str, store: Store, workers: Workers) -> tuple[str, bytes]:
        """The digest and the page of a run. Raises NotKept."""
        if run not in self._made:
            kept = await run_in_threadpool(store.runs.get, run)
            series = await run_in_threadpool(store.runs.series, run)
            page = await workers.do("run_page", kept.plan, run, series)
            self._made[run] = hashlib.sha256(page).hexdigest()[:16], page
            if len(self._made) > PAGES_HELD:
                self._made.popitem(last=False)
        self._made.move_to_end(run)
        return self._made[run]


def _store(request: Request) -> Store:
    store: Store = request.app.state.store
    return store


def _answer(kept: KeptRun) -> Response:
    plan = {} if kept.plan is None else {"plan": kept.plan}
    return JSONResponse({"run": kept.id, **plan, "ticks": list(kept.ticks), "place": kept.place}, headers=NO_STORE)


async def take(request: Request) -> Response:
    """Take a plan to the lathe: that of a job, or one that was made before; ?of=ID names the kept job that it is of."""
    data = table_of(await body_json(request))
    if len(data) != 1 or not set(data) <= {"job", "plan"}:
        says = "a job or a plan is wanted, one of them and nothing else"
        raise BadRequest(422, Fault("body", ", ".join(map(str, data))[:80], "job or plan", says, "Send one of them"))
    (name,) = data
    workers: Workers = request.app.state.workers
    plan = json.loads(await workers.do("run_plan", name, table_of(data[name], name)))
    job = (request.query_params.get("of") or "")[:40] or None
    run = await run_in_threadpool(_store(request).runs.add, plan, plan["job"]["title"], job)
    return JSONResponse({"run": run, "page": f"/run/{run}"}, 201, headers=NO_STORE)


async def again(request: Request) -> Response:
    """The next of several equal parts: a run of the very same plan, with what is taken over from this one."""
    store, name = _store(request).runs, request.path_params["id"]
    sent = table_of(await body_json(request))
    kept = await run_in_threadpool(store.get, name)
    plan = kept.plan or {}
    series = next_of(await run_in_threadpool(store.series, name), sent, {move["tool"] for move in plan["moves"]})
    title, job = await run_in_threadpool(store.of, name)
    run = await run_in_threadpool(store.add, plan, title, job, series)
    return JSONResponse({"run": run, "page": f"/run/{run}"}, 201, headers=NO_STORE)


async def get_run(request: Request) -> Response:
    """A run as it is; with ?since=K only the ticks after the first K, and no plan."""
    return _answer(await run_in_threadpool(_store(request).runs.get, request.path_params["id"], _since(request)))


async def put_ticks(request: Request) -> Response:
    """Ticks of a run; when this answers, they are on the disk."""
    ticks, since = await body_json(request), _since(request)
    return _answer(await run_in_threadpool(_store(request).runs.tick, request.path_params["id"], ticks, since or 0))


def _since(request: Request) -> int | None:
    text = request.query_params.get("since")
    if text is None:
        return None
    if not (text.isascii() and text.isdigit() and len(text) < 9):
        raise BadRequest(422, Fault("since", text[:40], "0 or more", "that is no number of ticks", "Send a number"))
    return int(text)


async def runs(request: Request) -> Response:
    """The last runs, the one last made first; with ?of=ID those of a kept job."""
    found = await run_in_threadpool(_store(request).runs.listed, request.query_params.get("of"))
    lines = [{**vars(run), "made": run.made.isoformat(), "page": f"/run/{run.id}"} for run in found]
    return JSONResponse({"items": lines}, headers=NO_STORE)


async def _page(request: Request) -> tuple[str, bytes]:
    pages: Pages = request.app.state.pages
    return await pages.of(request.path_params["id"], _store(request), request.app.state.workers)


def _kept() -> dict[str, str]:
    return {"cache-control": f"max-age={KEPT_FOR}"}


async def open_run(request: Request) -> Response:
    """To the page of a run, at an address that changes with what is in it."""
    digest, _ = await _page(request)
    return RedirectResponse(f"/run/{request.path_params['id']}/{digest}", 307, headers=_kept())


async def page(request: Request) -> Response:
    """The page itself; an address of an older one leads to the one of now."""
    digest, text = await _page(request)
    if request.path_params["digest"] != digest:
        return RedirectResponse(f"/run/{request.path_params['id']}/{digest}", 307, headers=NO_STORE)
    headers = {**_kept(), "content-security-policy": policy_of(text)}
    return Response(text, media_type="text/html", headers=headers)


async def run_times(request: Request) -> Response:
    """How long the moves of a run took, as a recorded run that calibrates the pace."""
    kept = await run_in_threadpool(_store(request).runs.get, request.path_params["id"], 0)
    lines = ["move,seconds", *(f"{move},{seconds:.1f}" for move, seconds in seconds_of(kept.ticks).items())]
    where = {"content-disposition": f'attachment; filename="run-{kept.id}.csv"', **NO_STORE}
    return Response("\n".join(lines) + "\n", media_type="text/csv", headers=where)


async def code(request: Request) -> Response:
    """The address of a run's page as a QR code, in SVG."""
    await run_in_threadpool(_store(request).runs.get, request.path_params["id"], 0)
    address = f"{request.url.scheme}://{request.headers['host']}/run/{request.path_params['id']}"
    text = segno.make(address, error="m").svg_inline(scale=6, dark="#000", light="#fff", border=4)
    return Response(text.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1), media_type="image/svg+xml")


ROUTES = [
    *(Route(entry.address, globals()[entry.does], methods=[entry.method]) for entry in AT_THE_LATHE),
    Route(f"/run/{NAME}", open_run),
    Route(f"/run/{NAME}/{{digest}}", page),
]
