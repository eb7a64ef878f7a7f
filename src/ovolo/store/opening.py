"""Where the database is, and how it is opened."""

from __future__ import annotations

import os
import random
import sys
import time
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, create_engine, event, make_url
from sqlalchemy.exc import (
    ArgumentError,
    IntegrityError,
    NoSuchModuleError,
    OperationalError,
    ProgrammingError,
    SQLAlchemyError,
)

from ovolo.errors import Fault, JobFaults
from ovolo.store.tables import bring_up_to_date

TRIES = 30
"""How often a database is brought up to date that another server has in hand."""

PATIENCE = 10
"""How long a writer waits for another one, seconds."""


def data_folder() -> Path:
    """Where a person's own data belongs on this system."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA") or home / "AppData" / "Roaming") / "Ovolo"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "Ovolo"
    return Path(os.environ.get("XDG_DATA_HOME") or home / ".local" / "share") / "ovolo"


def open_file(folder: Path) -> Engine:
    """The database of a folder, which is made where it is not there. Raises JobFaults where it can't be."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as wrong:
        says = f"the folder cannot be made: {(wrong.strerror or str(wrong)).lower()}"
        raise JobFaults([Fault(str(folder), None, "", says, "Name another folder with --data")]) from None
    return open_address(f"sqlite+pysqlite:///{folder / 'ovolo.sqlite3'}")


def open_address(address: str) -> Engine:
    """The database at an address, brought up to date. Raises JobFaults where that cannot be done."""
    try:
        url = make_url(address)
        if url.drivername == "postgresql":
            url = url.set(drivername="postgresql+psycopg")
        lite = url.get_backend_name() == "sqlite"
        extra: dict[str, Any] = {"connect_args": {"timeout": PATIENCE}} if lite else {"pool_pre_ping": True}
        engine = create_engine(url, **extra)
    except (ArgumentError, NoSuchModuleError, ImportError, ValueError) as wrong:
        raise _unusable("--database", wrong) from None
    if lite:
        event.listen(engine, "connect", _safe_settings)
    try:
        _bring_up_to_date(engine)
    except SQLAlchemyError as wrong:
        engine.dispose()
        raise _unusable(url.render_as_string(hide_password=True), wrong) from None
    return engine


def _bring_up_to_date(engine: Engine) -> None:
    """The same as `bring_up_to_date`; where two servers do it at once, the one that comes second tries again."""
    for left in reversed(range(TRIES)):
        try:
            with engine.begin() as connection:
                bring_up_to_date(connection)
            return
        except (IntegrityError, OperationalError, ProgrammingError) as wrong:
            if left == 0 or not _passes(wrong):
                raise
            time.sleep(0.1 * random.uniform(1.0, 2.0))


def _passes(wrong: Exception) -> bool:
    """Whether another server's work is in the way, and will be done in a moment."""
    reason = str(getattr(wrong, "orig", None) or wrong).lower()
    return any(words in reason for words in ("locked", "busy", "already exists", "unique", "duplicate"))


_REMEDIES = (
    (("not a database", "malformed", "encrypted"), "Move the file aside and keep it: Ovolo then begins a new one. "
     "What is in it can most likely be recovered with SQLite's own tools. Nothing was written to it"),
    (("readonly", "read-only", "permission", "unable to open"), "Give yourself the right to write there, "
     "or name another folder with --data"),
    (("disk", "full"), "Make room on the disk"),
    (("locked", "busy"), "Another program keeps it: close that, or name another folder with --data"),
)  # fmt: skip
"""Words of a database -> what to do."""


def _unusable(where: str, wrong: Exception) -> JobFaults:
    reason = " ".join(str(getattr(wrong, "orig", None) or wrong).split())[:200]
    usual = "Check the address; PostgreSQL also needs the extra: pip install 'ovolo[postgres]'"
    remedy = next((then for words, then in _REMEDIES if any(word in reason.lower() for word in words)), usual)
    return JobFaults([Fault(where, None, "", f"the database cannot be opened: {reason}", remedy)])


def _safe_settings(connection: Any, _record: object) -> None:
    """Readers don't wait for writers; what was acknowledged is on the disk."""
    cursor = connection.cursor()
    for setting in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        cursor.execute(f"PRAGMA {setting}")
    cursor.close()
