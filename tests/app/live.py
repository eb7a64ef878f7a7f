"""A site served for real, on a port of its own, for as long as a test needs it."""

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import httpx
import uvicorn
from starlette.applications import Starlette


@contextmanager
def live(site: Starlette) -> Iterator[httpx.Client]:
    """A client of the site, served in a thread."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        config = uvicorn.Config(site, log_level="critical", lifespan="on")
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        try:
            with httpx.Client(base_url=f"http://127.0.0.1:{listener.getsockname()[1]}", timeout=60) as client:
                yield client
        finally:
            server.should_exit = True
            thread.join()
