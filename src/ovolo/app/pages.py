"""The pages themselves: HTML that the modules beside it bring to life."""

from __future__ import annotations

import hashlib
import io
import json
import secrets
from collections.abc import Sequence
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path
from typing import Any

import font_source_sans_pro
import jinja2
from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from ovolo.app.answers import kept_as_data
from ovolo.app.examples import SAID as EXAMPLE
from ovolo.app.keeping import started
from ovolo.app.names import NAME
from ovolo.app.network import is_here
from ovolo.app.workers import Workers
from ovolo.documents.starts import STARTS
from ovolo.errors import FaultsFound
from ovolo.show.formats import FORMATS
from ovolo.show.paper.style import style
from ovolo.store import NotKept, Store

__all__ = ["ROUTES", "page_of"]

HERE = Path(__file__).parent
FONTS = Path(font_source_sans_pro.__file__).parent / "files"
CUTS = ("Regular", "Semibold")
"""The cuts of the face that the pages use."""

TABS = ("part", "shop", "plan", "turn", "check")


@lru_cache(maxsize=1)
def _templates() -> jinja2.Environment:
    loader = jinja2.FileSystemLoader(HERE / "templates")
    made = jinja2.Environment(loader=loader, autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True)
    made.globals.update(static=static, tabs=TABS, picture=picture)
    return made


@lru_cache(maxsize=1)
def _stamp() -> str:
    """Eight digits that change with any file served: what a browser has kept from an older copy is not used."""
    digest = hashlib.sha256()
    for file in sorted((HERE / "static").rglob("*")):
        if file.is_file():
            digest.update(file.read_bytes())
    return digest.hexdigest()[:8]


def static(name: str) -> str:
    """The address of a file that is served as it is."""
    return f"/static/{_stamp()}/{name}"


@cache
def picture(form: str) -> Markup:
    """The picture of a form to start from; docs/pictures/make.py draws them."""
    return Markup((HERE / "static" / "starts" / f"{form.replace(' ', '-')}.svg").read_text(encoding="utf-8"))


def page_of(template: str, status: int = 200, **shown: Any) -> Response:
    """A page that the modules beside it bring to life, never kept by a browser."""
    text = _templates().get_template(template).render(**shown)
    return HTMLResponse(text, status, headers={"cache-control": "no-store"})


def _store(request: Request) -> Store:
    store: Store = request.app.state.store
    return store


async def jobs(request: Request) -> Response:
    """The first screen: new jobs from a form, one's own jobs, the examples."""
    return await _first_screen(request)


async def new(request: Request) -> Response:
    """A new job, asked for by the form of a page without its script."""
    async with request.form(max_fields=20) as form:
        given = {name: str(value) for name, value in form.items()}
    sizes = {name.removeprefix("size."): value for name, value in given.items() if name.startswith("size.")}
    asked = {**{name: value for name, value in given.items() if not name.startswith("size.")}, "sizes": sizes}
    try:
        kept = await started(request, asked)
    except FaultsFound as wrong:
        return await _first_screen(request, 422, [str(fault) for fault in wrong.faults])
    return RedirectResponse(f"/jobs/{kept.id}/plan", 303)


async def _first_screen(request: Request, status: int = 200, faults: Sequence[str] = ()) -> Response:
    store = _store(request)
    found = await run_in_threadpool(store.listed, "job")
    gone = await run_in_threadpool(store.listed, "job", deleted=True)
    shops = await run_in_threadpool(store.listed, "shop")
    examples = await run_in_threadpool(store.as_made, EXAMPLE)
    shown = {
        "mine": [each for each in found if each.id not in examples],
        "examples": [each for each in found if each.id in examples],
        "deleted": gone,
        "shops": shops,
        "starts": STARTS,
        "labels": LABELS,
        "once": secrets.token_hex(8),
        "faults": faults,
    }
    return page_of("jobs.html", status, title="Jobs", **shown)


LABELS = {
    "diameter": "Diameter Ø",
    "to_diameter": "Far end Ø",
    "neck": "Neck Ø",
    "shoulder": "Shoulder Ø",
    "belly": "Belly Ø",
    "waist": "Waist Ø",
    "radius": "Radius R",
    "fillet": "Fillet R",
    ("handle", "end"): "End Ø",
}
"""What a size is called on the first screen, where not as in the form itself."""


async def _catalogue(request: Request) -> dict[str, Any]:
    """What the pages offer to choose from; the worker that knows it is asked once."""
    known: dict[str, Any] = request.app.state.catalogue
    if not known:
        workers: Workers = request.app.state.workers
        known.update(json.loads(await workers.do("catalogue", {})))
    return known


async def job(request: Request) -> Response:
    """A tab of one job's sheet."""
    tab = request.path_params["tab"]
    if tab not in TABS:
        raise HTTPException(404)
    try:
        kept = await run_in_threadpool(_store(request).get, request.path_params["id"])
    except NotKept:
        return page_of("missing.html", 404, title="Not here", id=request.path_params["id"])
    offers = await _catalogue(request)
    served = request.app.state.network is not None and is_here(request.scope)
    facts = {"kept": kept_as_data(kept), "forms": offers["forms"] if tab == "part" else [], "network": served}
    materials = [(name, name) for name in offers["materials"]]
    files = [(group, list(formats)) for group, formats in groupby(FORMATS.values(), key=lambda each: each.group)]
    offered: dict[str, Any] = {"materials": materials, "files": files, "paces": offers["paces"]}
    return page_of(f"{tab}.html", title=kept.title, tab=tab, id=kept.id, facts=facts, **offered)


async def plain(request: Request) -> Response:
    """Drawing, set-up and moves of a job as a page without any script."""
    kept = await run_in_threadpool(_store(request).get, request.path_params["id"])
    workers: Workers = request.app.state.workers
    try:
        view = json.loads(await workers.do("plan_view", kept.document))
    except FaultsFound as wrong:
        return page_of("plain.html", 422, title=kept.title, id=kept.id, view=None, faults=wrong.faults)
    return page_of("plain.html", title=kept.title, id=kept.id, view=view, faults=[])


async def first_tab(request: Request) -> Response:
    """A job is opened at its plan."""
    return RedirectResponse(f"/jobs/{request.path_params['id']}/plan", 307)


async def font(request: Request) -> Response:
    """A cut of the face that the pages are set in."""
    cut = request.path_params["cut"]
    if cut not in CUTS:
        raise HTTPException(404)
    letters = await run_in_threadpool(_face, cut)
    return Response(letters, media_type="font/ttf", headers={"cache-control": "max-age=31536000, immutable"})


LETTERS = (
    range(0x20, 0x180),
    range(0x2000, 0x2070),
    range(0x2190, 0x2194),
    range(0x2200, 0x2270),
    range(0x25A0, 0x2600),
)
"""What pages and titles are written with: Latin letters, punctuation, arrows, signs, the mark of a caution."""


@cache
def _face(cut: str) -> bytes:
    """A cut of the face with those letters only: a seventh of the file."""
    from fontTools import subset
    from fontTools.ttLib import TTFont

    options = subset.Options(hinting=False, layout_features=["kern", "tnum", "lnum", "ccmp", "locl", "mark"])
    chosen, made = subset.Subsetter(options), io.BytesIO()
    chosen.populate(unicodes=[code for letters in LETTERS for code in letters])
    with TTFont(FONTS / f"SourceSansPro-{cut}.ttf", lazy=True) as font:
        chosen.subset(font)
        font.save(made)
    return made.getvalue()


async def drawing_styles(_: Request) -> Response:
    """What the classes of the drawings mean."""
    return Response(style("page"), media_type="text/css", headers={"cache-control": "no-cache"})


class Files(StaticFiles):
    """Files served as they are, for long: their address changes with them."""

    async def get_response(self, path: str, scope: Any) -> Response:
        _, _, name = path.partition("/")
        answer = await super().get_response(name, scope)
        answer.headers["cache-control"] = "max-age=31536000, immutable"
        return answer


ROUTES = [
    Route("/", jobs),
    Route("/new", new, methods=["POST"]),
    Route(f"/jobs/{NAME}", first_tab),
    Route(f"/jobs/{NAME}/plain", plain),
    Route(f"/jobs/{NAME}/{{tab}}", job),
    Route("/fonts/{cut}.ttf", font),
    Route("/drawings.css", drawing_styles),
    Mount("/static", Files(directory=HERE / "static")),
]
