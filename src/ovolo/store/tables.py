"""The tables, and the numbered steps by which an older database becomes a newer one."""

from __future__ import annotations

from collections.abc import Callable

from sqlalchemy import (
    Column,
    Connection,
    ForeignKey,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
    insert,
    select,
    update,
)

METADATA = MetaData()

NOTE = Table("ovolo_note", METADATA, Column("name", String(40), primary_key=True), Column("text", Text, nullable=False))
"""Small facts about the database itself: how many steps were applied."""

DOCUMENT = Table(
    "ovolo_document",
    METADATA,
    Column("id", String(40), primary_key=True),
    Column("kind", String(10), nullable=False),
    Column("title", Text, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("version", Integer, nullable=False),
    Column("latest", Integer, nullable=False),
    Column("changed", String(40), nullable=False, index=True),
    Column("deleted", String(40)),
)

VERSION = Table(
    "ovolo_version",
    METADATA,
    Column("document", String(40), ForeignKey(DOCUMENT.c.id, ondelete="CASCADE"), primary_key=True),
    Column("n", Integer, primary_key=True),
    Column("parent", Integer),
    Column("content", Text, nullable=False),
    Column("said", Text, nullable=False),
    Column("made", String(40), nullable=False),
)


RUN = Table(
    "ovolo_run",
    METADATA,
    Column("id", String(40), primary_key=True),
    Column("job", String(40), index=True),
    Column("title", Text, nullable=False),
    Column("checksum", String(40), nullable=False),
    Column("moves", Integer, nullable=False),
    Column("plan", Text, nullable=False),
    Column("made", String(40), nullable=False, index=True),
    Column("ticks", Integer, nullable=False),
)
"""A plan as it was taken to the lathe; `job` is the kept one that it is of. `ticks` counts those kept."""

TICK = Table(
    "ovolo_tick",
    METADATA,
    Column("run", String(40), ForeignKey(RUN.c.id, ondelete="CASCADE"), primary_key=True),
    Column("n", Integer, primary_key=True),
    Column("key", String(64), nullable=False),
    Column("content", Text, nullable=False),
    Column("received", String(40), nullable=False),
    UniqueConstraint("run", "key"),
)


SERIES = Table(
    "ovolo_series",
    METADATA,
    Column("run", String(40), ForeignKey(RUN.c.id, ondelete="CASCADE"), primary_key=True),
    Column("content", Text, nullable=False),
)
"""What the run of one of several equal parts takes over from the one before."""

CHECK = Table(
    "ovolo_check",
    METADATA,
    Column("n", Integer, primary_key=True),
    Column("job", String(40), ForeignKey(DOCUMENT.c.id, ondelete="CASCADE"), nullable=False, index=True),
    Column("made", String(40), nullable=False),
    Column("readings", Text, nullable=False),
    Column("verdict", String(20), nullable=False),
    Column("says", Text, nullable=False),
)


DEVICE = Table(
    "ovolo_device",
    METADATA,
    Column("id", String(40), primary_key=True),
    Column("name", Text, nullable=False),
    Column("secret", String(64), nullable=False, unique=True),
    Column("made", String(40), nullable=False),
    Column("seen", String(40), nullable=False),
    Column("place", String(60), nullable=False),
    Column("everything", Integer, nullable=False),
)
"""A device that was paired. `secret` is the SHA-256 of what it holds, never that itself; `place` the address it was
last seen at; `everything` is 1 where it may see more than runs."""


def _first(connection: Connection) -> None:
    METADATA.create_all(connection, [DOCUMENT, VERSION])


def _runs(connection: Connection) -> None:
    METADATA.create_all(connection, [RUN, TICK])


def _checks(connection: Connection) -> None:
    METADATA.create_all(connection, [CHECK])


def _devices(connection: Connection) -> None:
    METADATA.create_all(connection, [DEVICE])


def _series(connection: Connection) -> None:
    METADATA.create_all(connection, [SERIES])


STEPS: tuple[Callable[[Connection], None], ...] = (_first, _runs, _checks, _devices, _series)
"""Each is applied once, in this order; a new one is added at the end, an old one is never changed."""


def bring_up_to_date(connection: Connection) -> int:
    """Apply the steps that this database has not seen; returns how many it has seen in all."""
    NOTE.create(connection, checkfirst=True)
    noted = connection.execute(select(NOTE.c.text).where(NOTE.c.name == "steps")).scalar()
    seen = int(noted or 0)
    for step in STEPS[seen:]:
        step(connection)
    now = max(seen, len(STEPS))
    if noted is None:
        connection.execute(insert(NOTE).values(name="steps", text=str(now)))
    elif now != seen:
        connection.execute(update(NOTE).where(NOTE.c.name == "steps").values(text=str(now)))
    return now
