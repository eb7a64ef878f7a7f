"""Serving the pages on this machine until stopped."""

from __future__ import annotations

import os
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable

from ovolo.app.examples import add_examples
from ovolo.app.site import make_site
from ovolo.errors import Fault, JobFaults
from ovolo.store import Store

__all__ = ["HOST", "serve"]

HOST = "127.0.0.1"
"""This machine only: nobody else on the network can open the pages."""

USUAL_PORT = 8451
"""Tried first; another free one is taken where it is not free."""


def serve(store: Store, port: int | None, say: Callable[[str], None], *, browser: bool) -> None:
    """Serve until interrupted. Raises JobFaults where the port cannot be had."""
    import uvicorn

    add_examples(store)
    listener = listening(port)
    address = f"http://{HOST}:{listener.getsockname()[1]}/"
    say(f"Ovolo is open at {address}  (stop it with Ctrl+C)")
    if browser and _has_screen():
        threading.Timer(0.7, webbrowser.open, [address]).start()
    config = uvicorn.Config(make_site(store), log_level="warning", access_log=False, lifespan="on", server_header=False)
    try:
        uvicorn.Server(config).run(sockets=[listener])
    finally:
        listener.close()


def _has_screen() -> bool:
    """Whether a browser window can open here at all; where not, saying the address has to do."""
    return sys.platform in ("win32", "darwin") or any(os.environ.get(n) for n in ("DISPLAY", "WAYLAND_DISPLAY"))


def listening(port: int | None) -> socket.socket:
    """A socket at the port asked for (0: any), or at the usual one or any other where none is asked for."""
    for tried in (USUAL_PORT, 0) if port is None else (port,):
        listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((HOST, tried))
            listener.listen(128)
            return listener
        except OSError as wrong:
            listener.close()
            reason = wrong.strerror or str(wrong)
    says = f"the port cannot be had: {reason.lower()}"
    raise JobFaults([Fault("--port", port, "", says, "Leave it out, and a free one is found")])
