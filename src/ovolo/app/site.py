"""The site as one ASGI application: the routes, what stands before them, what starts and stops with them."""

from __future__ import annotations

from collections.abc import AsyncIterator, Collection
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware

from ovolo.app import devices, keeping, pages, runs, scripting
from ovolo.app.answers import HANDLERS
from ovolo.app.door import Door
from ovolo.app.guard import LARGEST_BODY, OWN_NAMES, Guard
from ovolo.app.network import Network
from ovolo.app.workers import Workers
from ovolo.store import Store

__all__ = ["make_site"]


def make_site(
    store: Store,
    *,
    names: Collection[str] = OWN_NAMES,
    largest: int = LARGEST_BODY,
    workers: int = 2,
    network: Network | None = None,
) -> Starlette:
    """The site over a store, which it does not close. names: what it answers to, besides the address that a request
    comes to; largest: body of a request, bytes; network: None where this machine alone is served."""

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        async with Workers(workers) as ready:
            app.state.workers = ready
            yield

    app = Starlette(
        routes=[*scripting.ROUTES, *keeping.ROUTES, *runs.ROUTES, *devices.ROUTES, *pages.ROUTES],
        middleware=[
            Middleware(Guard, names=names, largest=largest),
            Middleware(Door, store=store, network=network),
            Middleware(GZipMiddleware, minimum_size=800, compresslevel=5),
        ],
        exception_handlers=HANDLERS,
        lifespan=lifespan,
    )
    app.state.store, app.state.pages, app.state.started = store, runs.Pages(), {}
    app.state.catalogue, app.state.network = {}, network
    return app
