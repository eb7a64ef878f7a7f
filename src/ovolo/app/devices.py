"""Pairing over HTTP, and the page of the devices that may look on."""

from __future__ import annotations

import asyncio
import re
from datetime import UTC, datetime, timedelta
from typing import Any

import segno
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ovolo.app.answers import BadRequest, body_json, table_of
from ovolo.app.door import COOKIE, device_of
from ovolo.app.interface import ON_THE_NETWORK
from ovolo.app.network import MEANS, Network
from ovolo.app.pages import page_of
from ovolo.app.pairing import LASTS
from ovolo.app.strangers import standing_alone, too_soon
from ovolo.errors import Fault
from ovolo.store import Device, Store

__all__ = ["ROUTES", "device_name"]

NO_STORE = {"cache-control": "no-store"}
KNOWN_FOR = 180 * 86_400
"""A device stays paired this long, s, unless it is struck off."""

HELD_BACK = 0.5
"""A wrong code is answered this much later, s."""

_NAMES = (
    ("iPad", "Tablet, iPad"),
    ("iPhone", "Phone, iPhone"),
    ("Android.*Mobile", "Phone, Android"),
    ("Android", "Tablet, Android"),
    ("Windows", "Computer, Windows"),
    ("Macintosh", "Computer, Mac"),
    ("Linux", "Computer, Linux"),
)


def _store(request: Request) -> Store:
    store: Store = request.app.state.store
    return store


def _network(request: Request) -> Network:
    """The network served. Raises BadRequest where there is none."""
    network: Network | None = request.app.state.network
    if network is None:
        says, remedy = "the network is not served", "Stop Ovolo and start it with: ovolo open --lan"
        raise BadRequest(409, Fault("network", None, "--lan", says, remedy))
    return network


def device_name(agent: str) -> str:
    """What a device calls itself, in two words.

    >>> device_name("Mozilla/5.0 (Linux; Android 14; K) AppleWebKit/537.36 Mobile Safari/537.36"), device_name("x")
    ('Phone, Android', 'Device')
    """
    return next((name for pattern, name in _NAMES if re.search(pattern, agent)), "Device")


async def pair_page(_: Request) -> Response:
    """The page that a code leads to: the code stands in the fragment, which no browser sends, and goes away at once."""
    return standing_alone("pair.html")


async def pair(request: Request) -> Response:
    """Let a device in by a code; from then on a cookie says who it is."""
    guesses = _network(request).pairing.guesses
    address = str(request.client.host) if request.client else ""
    data = table_of(await body_json(request))
    if wait := guesses.wait(address):
        return too_soon(wait)
    code, known = data.get("code"), device_of(request.scope)
    if not isinstance(code, str) or not _network(request).pairing.take(code):
        if known is not None:  # it is let in anyway: an old code of its own is no guess
            return JSONResponse({"device": known.id}, 201, headers=NO_STORE)
        guesses.wrong(address, "a pairing code that does not count")
        await asyncio.sleep(HELD_BACK)
        says = "this code does not count: it was used, or is older than five minutes"
        raise BadRequest(403, Fault("code", None, "", says, "Have a new one shown at the computer"))
    guesses.right(address)
    if known is not None:
        return JSONResponse({"device": known.id}, 201, headers=NO_STORE)
    name = device_name(request.headers.get("user-agent", ""))
    device, secret = await run_in_threadpool(_store(request).devices.pair, name, address)
    answer = JSONResponse({"device": device.id}, 201, headers=NO_STORE)
    answer.set_cookie(COOKIE, secret, max_age=KNOWN_FOR, path="/", httponly=True, samesite="lax")
    return answer


async def devices_page(request: Request) -> Response:
    """Who is paired, a code for another device, who guessed."""
    network: Network | None = request.app.state.network
    facts = await _facts(request)
    return page_of("devices.html", title="Devices", served=network is not None, means=MEANS, facts=facts)


async def runs_page(request: Request) -> Response:
    """The runs at the lathe, for a device that sees nothing else."""
    found = await run_in_threadpool(_store(request).runs.listed)
    return standing_alone("runs.html", runs=found)


async def _facts(request: Request) -> dict[str, Any]:
    network: Network | None = request.app.state.network
    found = await run_in_threadpool(_store(request).devices.listed)
    refusals = [] if network is None else list(network.pairing.guesses.logged)
    return {
        "served": network is not None,
        "addresses": [] if network is None else network.addresses(),
        "items": [_line(device) for device in found],
        "refused": [{**each._asdict(), "at": each.at.isoformat(timespec="seconds")} for each in reversed(refusals)],
    }


def _line(device: Device) -> dict[str, Any]:
    times = {"made": device.made.isoformat(timespec="minutes"), "seen": device.seen.isoformat(timespec="minutes")}
    return {**vars(device), **times}


async def devices(request: Request) -> Response:
    """The same as data."""
    return JSONResponse(await _facts(request), headers=NO_STORE)


async def new_code(request: Request) -> Response:
    """A code for one device, as an address and as a QR code; with a run the device then goes to that."""
    network, run = _network(request), table_of(await body_json(request)).get("run")
    if run is not None:
        await run_in_threadpool(_store(request).runs.get, str(run)[:40], 0)
    where = next(iter(network.addresses()), None)
    if where is None:
        says = "this computer has no address on a network just now"
        raise BadRequest(409, Fault("network", None, "", says, "Connect it to the network that the device is on"))
    address = f"{where}/pair#{network.pairing.new()}{f'.{run}' if run else ''}"
    until = datetime.now(UTC) + timedelta(seconds=LASTS)
    svg = segno.make(address, error="m").svg_inline(scale=6, dark="#000", light="#fff", border=4)
    shown = svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    found = {"address": address, "svg": shown, "until": until.isoformat(timespec="seconds")}
    return JSONResponse(found, 201, headers=NO_STORE)


async def allow(request: Request) -> Response:
    """Let a device see jobs and plans too, or runs alone again."""
    everything = table_of(await body_json(request)).get("everything")
    if not isinstance(everything, bool):
        raise BadRequest(422, Fault("everything", None, "true or false", "neither stands there", "Send one of them"))
    await run_in_threadpool(_store(request).devices.allow, request.path_params["id"], everything=everything)
    return await devices(request)


async def strike_off(request: Request) -> Response:
    """Forget a device."""
    await run_in_threadpool(_store(request).devices.strike_off, request.path_params["id"])
    return await devices(request)


ROUTES = [
    *(Route(entry.address, globals()[entry.does], methods=[entry.method]) for entry in ON_THE_NETWORK),
    Route("/pair", pair_page),
    Route("/devices", devices_page),
    Route("/runs", runs_page),
]
