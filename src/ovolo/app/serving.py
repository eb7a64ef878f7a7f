"""Serving the pages on this machine until stopped."""

from __future__ import annotations

import os
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable
from typing import Any

from ovolo.app.examples import add_examples
from ovolo.app.guard import OWN_NAMES
from ovolo.app.network import ALL, HERE, MEANS, Network, own_names
from ovolo.app.site import make_site
from ovolo.errors import Fault, JobFaults
from ovolo.store import Store

__all__ = ["serve"]

USUAL_PORT = 8451
"""Tried first; another free one is taken where it is not free."""


def serve(store: Store, port: int | None, say: Callable[[str], None], *, browser: bool, lan: bool = False) -> None:
    """Serve until interrupted; lan: to paired devices on the network too. Raises JobFaults where the port cannot be
    had."""
    import uvicorn

    add_examples(store)
    listener = listening(port, ALL if lan else HERE)
    served_at = listener.getsockname()[1]
    address = f"http://{HERE}:{served_at}/"
    say(f"Ovolo is open at {address}  (stop it with Ctrl+C)")
    network = Network(served_at) if lan else None
    for line in [] if network is None else network_lines(network, address):
        say(line)
    if browser and _has_screen():
        threading.Timer(0.7, webbrowser.open, [address]).start()
    site = make_site(store, network=network, names=OWN_NAMES | own_names() if lan else OWN_NAMES)
    # What a client says of a proxy before it is not believed: who is here and who is not is told by the connection.
    options: dict[str, Any] = {
        "log_level": "warning",
        "access_log": False,
        "server_header": False,
        "proxy_headers": False,
    }
    try:
        uvicorn.Server(uvicorn.Config(site, lifespan="on", **options)).run(sockets=[listener])
    finally:
        listener.close()


def network_lines(network: Network, here: str) -> list[str]:
    """What is said where the network is served: where, what that means, where devices are paired."""
    where = ", ".join(f"{address}/" for address in network.addresses())
    first = f"On the network: {where}" if where else "On the network: this computer has no address on any just now."
    means = [f"  {line}" for line in MEANS]
    return ["", first, *means, f"Pair devices, and strike them off, at this computer: {here}devices"]


def _has_screen() -> bool:
    """Whether a browser window can open here at all; where not, saying the address has to do."""
    return sys.platform in ("win32", "darwin") or any(os.environ.get(n) for n in ("DISPLAY", "WAYLAND_DISPLAY"))


def listening(port: int | None, host: str = HERE) -> socket.socket:
    """A socket at the port asked for (0: any), or at the usual one or any other where none is asked for."""
    for tried in (USUAL_PORT, 0) if port is None else (port,):
        # Named as TCP: only then does the loop send each answer at once. Else every one waits 40 ms for a receipt.
        listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((host, tried))
            listener.listen(128)
            return listener
        except OSError as wrong:
            listener.close()
            reason = wrong.strerror or str(wrong)
    says = f"the port cannot be had: {reason.lower()}"
    raise JobFaults([Fault("--port", port, "", says, "Leave it out, and a free one is found")])
