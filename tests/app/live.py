"""A site served for real, on a port of its own, for as long as a test needs it."""

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import httpx
import uvicorn
from starlette.applications import Starlette

PHONE = "127.0.0.2"
"""An address of this machine that is not the one for itself: who comes to it counts as somebody on the network."""


@contextmanager
def live(site: Starlette, host: str = "127.0.0.1") -> Iterator[httpx.Client]:
    """A client of the site, served in a thread; host: where it listens."""
    with socket.socket() as listener:
        listener.bind((host, 0))
        listener.listen()  # who comes before the site is up waits
        config = uvicorn.Config(site, log_level="critical", lifespan="on", proxy_headers=False)
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        try:
            with httpx.Client(base_url=f"http://127.0.0.1:{listener.getsockname()[1]}", timeout=60) as client:
                yield client
        finally:
            server.should_exit = True
            thread.join()
