"""The network that the pages are served on, where somebody has asked for that: addresses, names, what it means."""

from __future__ import annotations

import contextlib
import socket
from collections.abc import Callable, Sequence

from starlette.types import Scope

from ovolo.app.pairing import Pairing

__all__ = ["ALL", "HERE", "MEANS", "Network", "is_here"]

HERE = "127.0.0.1"
"""This machine only."""

ALL = "0.0.0.0"
"""Every network that this machine is on."""

MEANS = (
    "Everyone on this network can reach these pages; only devices that you pair are let in.",
    "A paired device sees runs at the lathe, and ticks them. It sees nothing else unless you allow it.",
    "Nothing is encrypted: who can listen to this network reads along, can act as a paired device, and can change "
    "what a phone shows, the figures too. Do this only on a network whose users you trust.",
    "Without --lan only this computer is served. A run kept as one file needs no network at all.",
)
"""What serving on the network means, a sentence or two each; the terminal and the page of devices say the same."""


class Network:
    """Serving on the network at a port; own: finds the addresses of this machine."""

    def __init__(
        self, port: int, pairing: Pairing | None = None, own: Callable[[], Sequence[str]] | None = None
    ) -> None:
        self.port = port
        self.pairing = pairing or Pairing()
        self.own = own or own_addresses

    def addresses(self) -> list[str]:
        """Where other devices reach this machine now, the likeliest first; none where it is on no network."""
        return [f"http://{address}:{self.port}" for address in self.own()]


def own_names() -> frozenset[str]:
    """What other devices may call this machine; the addresses that they arrive at are known with each request."""
    name = socket.gethostname().lower().strip(".")
    return frozenset({name, f"{name.split('.')[0]}.local"} if name else ())


def is_here(scope: Scope) -> bool:
    """Whether a request was made on this very machine: it came from a loopback address to the loopback address.

    Nobody outside can do that: what comes from outside with such an address is dropped by the system.
    """
    client, server = scope.get("client") or ("", 0), scope.get("server") or ("", 0)
    return str(client[0]).startswith("127.") and server[0] == HERE


def own_addresses() -> list[str]:
    """The addresses of this machine on networks, the one that it speaks from first."""
    found = [_outgoing()]
    with contextlib.suppress(OSError):
        found += [str(info[4][0]) for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)]
    return list(dict.fromkeys(address for address in found if address and not address.startswith("127.")))


def _outgoing() -> str:
    """The address that this machine speaks from when it speaks to others; nothing is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(("192.0.2.1", 9))  # RFC 5737: an address for documents, nobody's
        except OSError:
            return ""
        return str(asking.getsockname()[0])
