"""The store: what is kept, every version of it, and nothing lost when two people save at once."""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, Row, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from ovolo.errors import printable
from ovolo.store.checks import Checks
from ovolo.store.devices import Devices
from ovolo.store.opening import open_address, open_file
from ovolo.store.records import Changed, Damaged, Document, Kept, Kind, NotKept, Summary, Version
from ovolo.store.runs import Runs
from ovolo.store.tables import DOCUMENT, NOTE, VERSION

LONGEST_SAID = 200
UNTITLED = "Untitled"

NEVER = datetime.fromtimestamp(0, UTC)
"""The time of a row whose own cannot be read: it stays on the list, last."""


class Store:
    """Jobs and shops with their history. Every call is one transaction; when it returns, it is on the disk."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self.runs = Runs(engine)
        self.checks = Checks(engine)
        self.devices = Devices(engine)

    @classmethod
    def in_folder(cls, folder: Path) -> Store:
        """The store in a folder's own file."""
        return cls(open_file(folder))

    @classmethod
    def at(cls, address: str) -> Store:
        """The store at a database's address, such as postgresql://host/name."""
        return cls(open_address(address))

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    def add(self, kind: Kind, document: Document, said: str = "made") -> Kept:
        """Keep a new document."""
        name, now = secrets.token_hex(6), _now()
        row = {"kind": kind, "title": _title(document), "revision": 1, "version": 1, "latest": 1}
        with self._engine.begin() as connection:
            connection.execute(insert(DOCUMENT).values(id=name, changed=now, **row))
            connection.execute(_version(name, 1, None, document, said, now))
            return _kept(connection, name)

    def get(self, name: str) -> Kept:
        """A document as it stands, deleted or not. Raises NotKept."""
        with self._engine.connect() as connection:
            return _kept(connection, name)

    def listed(self, kind: Kind, *, deleted: bool = False) -> list[Summary]:
        """The documents of a kind, the one last changed first; those deleted instead, where wanted."""
        gone = DOCUMENT.c.deleted
        wanted = gone.is_not(None) if deleted else gone.is_(None)
        query = select(DOCUMENT).where(DOCUMENT.c.kind == kind, wanted).order_by(DOCUMENT.c.changed.desc())
        with self._engine.connect() as connection:
            return [
                Summary(r.id, r.kind, r.title, _when(r.changed) or NEVER, _when(r.deleted))
                for r in connection.execute(query)
            ]

    def save(self, name: str, revision: int, document: Document, said: str = "changed") -> Kept:
        """Keep a new version, made to `revision`. Raises Changed where that is no longer how it stands, NotKept."""
        with self._claimed(name, revision) as (connection, row):
            n, now = row.latest + 1, _now()
            connection.execute(_version(name, n, row.version, document, said, now))
            _set(connection, name, version=n, latest=n, title=_title(document), changed=now)
            return _kept(connection, name)

    def undo(self, name: str, revision: int) -> Kept:
        """Show the version that the one shown was made from; nothing happens where there is none."""
        with self._claimed(name, revision) as (connection, row):
            before = _parent(connection, name, row.version)
            return _shown(connection, name, before)

    def redo(self, name: str, revision: int) -> Kept:
        """Show the version last made from the one shown; nothing happens where there is none."""
        with self._claimed(name, revision) as (connection, row):
            return _shown(connection, name, _child(connection, name, row.version))

    def restore(self, name: str, revision: int, n: int) -> Kept:
        """Show version `n`, as a new version on top of all others. Raises NotKept where there is none such."""
        with self._claimed(name, revision) as (connection, row):
            content = _content(connection, name, n)
            fresh, now = row.latest + 1, _now()
            document = json.loads(content)
            connection.execute(_version(name, fresh, row.version, document, f"back to version {n}", now))
            _set(connection, name, version=fresh, latest=fresh, title=_title(document), changed=now)
            return _kept(connection, name)

    def delete(self, name: str) -> Kept:
        """Take it off the list; it can be brought back."""
        return self._mark(name, _now())

    def bring_back(self, name: str) -> Kept:
        """Put a deleted document back on the list."""
        return self._mark(name, None)

    def history(self, name: str) -> list[Version]:
        """Every version, the newest first. Raises NotKept."""
        query = select(VERSION).where(VERSION.c.document == name).order_by(VERSION.c.n.desc())
        with self._engine.connect() as connection:
            shown = _row(connection, name).version
            return [
                Version(r.n, r.parent, r.said, datetime.fromisoformat(r.made), r.n == shown)
                for r in connection.execute(query)
            ]

    def as_made(self, said: str) -> set[str]:
        """The names of the documents that stand as they were made, where that was said to be `said`."""
        query = select(DOCUMENT.c.id).join(VERSION, VERSION.c.document == DOCUMENT.c.id)
        with self._engine.connect() as connection:
            return set(connection.execute(query.where(DOCUMENT.c.latest == 1, VERSION.c.said == said)).scalars())

    def version(self, name: str, n: int) -> Document:
        """One version of a document. Raises NotKept."""
        with self._engine.connect() as connection:
            document: Document = json.loads(_content(connection, name, n))
            return document

    def once(self, name: str) -> bool:
        """True the first time that it is called with this name, ever: what is to be done once is then done."""
        with self._engine.begin() as connection:
            if connection.execute(select(NOTE.c.text).where(NOTE.c.name == name)).scalar() is not None:
                return False
        try:
            with self._engine.begin() as connection:
                connection.execute(insert(NOTE).values(name=name, text=_now()))
        except IntegrityError:  # another server was there first
            return False
        return True

    def _mark(self, name: str, deleted: str | None) -> Kept:
        with self._engine.begin() as connection:
            _set(connection, name, deleted=deleted, revision=DOCUMENT.c.revision + 1)
            return _kept(connection, name)

    @contextmanager
    def _claimed(self, name: str, revision: int) -> Iterator[tuple[Connection, Row[Any]]]:
        """A transaction that has the document for itself. The write comes first: it takes the lock, and of two who
        name the same revision only one finds it."""
        with self._engine.begin() as connection:
            mine = DOCUMENT.c.id == name, DOCUMENT.c.revision == revision
            if connection.execute(update(DOCUMENT).where(*mine).values(revision=revision + 1)).rowcount != 1:
                raise Changed(_kept(connection, name), revision)
            yield connection, _row(connection, name)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds")


def _when(text: str | None) -> datetime | None:
    """A time as it was written; NEVER where it cannot be read."""
    try:
        return datetime.fromisoformat(text) if text else None
    except (TypeError, ValueError):
        return NEVER


def _title(document: Document) -> str:
    title = document.get("title")
    text = printable(title).strip() if isinstance(title, str) else ""
    return text[:LONGEST_SAID] or UNTITLED


def _version(name: str, n: int, parent: int | None, document: Document, said: str, now: str) -> Any:
    content = json.dumps(document, ensure_ascii=True, allow_nan=False)
    values = {"n": n, "parent": parent, "content": content, "said": said[:LONGEST_SAID], "made": now}
    return insert(VERSION).values(document=name, **values)


def _set(connection: Connection, name: str, **values: Any) -> None:
    connection.execute(update(DOCUMENT).where(DOCUMENT.c.id == name).values(**values))


def _row(connection: Connection, name: str) -> Row[Any]:
    row = connection.execute(select(DOCUMENT).where(DOCUMENT.c.id == name)).one_or_none()
    if row is None:
        raise NotKept(name)
    return row


def _content(connection: Connection, name: str, n: int) -> str:
    query = select(VERSION.c.content).where(VERSION.c.document == name, VERSION.c.n == n)
    content = connection.execute(query).scalar()
    if content is None:
        raise NotKept(f"{name}, version {n}")
    return str(content)


def _document(connection: Connection, name: str, row: Row[Any]) -> Document:
    """The version that is shown. Raises Damaged where it cannot be read."""
    try:
        document = json.loads(_content(connection, name, row.version))
    except ValueError:
        raise Damaged(name, row.title) from None
    if not isinstance(document, dict):
        raise Damaged(name, row.title)
    return document


def _parent(connection: Connection, name: str, n: int) -> int | None:
    query = select(VERSION.c.parent).where(VERSION.c.document == name, VERSION.c.n == n)
    return connection.execute(query).scalar()


def _child(connection: Connection, name: str, n: int) -> int | None:
    query = select(func.max(VERSION.c.n)).where(VERSION.c.document == name, VERSION.c.parent == n)
    return connection.execute(query).scalar()


def _shown(connection: Connection, name: str, n: int | None) -> Kept:
    if n is not None:
        document = json.loads(_content(connection, name, n))
        _set(connection, name, version=n, title=_title(document), changed=_now())
    return _kept(connection, name)


def _kept(connection: Connection, name: str) -> Kept:
    row = _row(connection, name)
    return Kept(
        id=row.id,
        kind=row.kind,
        title=row.title,
        revision=row.revision,
        version=row.version,
        document=_document(connection, name, row),
        can_undo=_parent(connection, name, row.version) is not None,
        can_redo=_child(connection, name, row.version) is not None,
        deleted=_when(row.deleted),
    )
