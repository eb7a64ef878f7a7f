"""Devices on the network that were paired: what is known of each is the digest of a secret that the device holds."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine, Row, delete, insert, select, update

from ovolo.store.records import NotKept
from ovolo.store.tables import DEVICE

__all__ = ["Device", "Devices"]

LONGEST_NAME, LONGEST_PLACE = 60, 60
SEEN_EVERY = timedelta(minutes=1)
"""When a device was last seen is written down this often, not with every look."""


@dataclass(frozen=True)
class Device:
    """A paired device: when it was paired and last seen, from which address, and whether it sees more than runs."""

    id: str
    name: str
    made: datetime
    seen: datetime
    place: str
    everything: bool


class Devices:
    """The paired devices of a store. Every call is one transaction; when it returns, it is on the disk."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def pair(self, name: str, place: str) -> tuple[Device, str]:
        """A new device, and the secret (256 bits) that it is known by from now on; only its digest is kept."""
        secret, now = secrets.token_urlsafe(32), _now()
        row = {"id": secrets.token_hex(6), "name": name[:LONGEST_NAME], "place": place[:LONGEST_PLACE]}
        values = {**row, "secret": _digest(secret), "made": now, "seen": now, "everything": 0}
        with self._engine.begin() as connection:
            connection.execute(insert(DEVICE).values(**values))
            found = connection.execute(select(DEVICE).where(DEVICE.c.id == row["id"])).one()
        return _device(found), secret

    def known(self, secret: str, place: str) -> Device | None:
        """The device that holds a secret; None where there is none, or where it was struck off."""
        with self._engine.connect() as connection:
            row = connection.execute(select(DEVICE).where(DEVICE.c.secret == _digest(secret))).one_or_none()
        if row is None:
            return None
        device = _device(row)
        if datetime.now(UTC) - device.seen > SEEN_EVERY or device.place != place:
            self._change(device.id, seen=_now(), place=place[:LONGEST_PLACE])
        return device

    def listed(self) -> list[Device]:
        """All of them, the one paired last first."""
        with self._engine.connect() as connection:
            return [_device(row) for row in connection.execute(select(DEVICE).order_by(DEVICE.c.made.desc()))]

    def allow(self, name: str, *, everything: bool) -> None:
        """Let a device see jobs and plans as well, or runs alone again. Raises NotKept."""
        self._change(name, everything=int(everything))

    def strike_off(self, name: str) -> None:
        """Forget a device: from now on it is a stranger. Raises NotKept."""
        with self._engine.begin() as connection:
            if not connection.execute(delete(DEVICE).where(DEVICE.c.id == name)).rowcount:
                raise NotKept(name)

    def _change(self, name: str, **values: object) -> None:
        with self._engine.begin() as connection:
            if not connection.execute(update(DEVICE).where(DEVICE.c.id == name).values(**values)).rowcount:
                raise NotKept(name)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def _digest(secret: str) -> str:
    """The secret has 256 bits of chance in it: a plain digest cannot be turned back, and needs no salt."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _device(row: Row[tuple[object, ...]]) -> Device:
    made, seen = datetime.fromisoformat(row.made), datetime.fromisoformat(row.seen)
    return Device(row.id, row.name, made, seen, row.place, bool(row.everything))
