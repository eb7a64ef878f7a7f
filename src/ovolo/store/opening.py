"""Where the database is, and how it is opened."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError, SQLAlchemyError

from ovolo.errors import Fault, JobFaults
from ovolo.store.tables import bring_up_to_date

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
        with engine.begin() as connection:
            bring_up_to_date(connection)
    except SQLAlchemyError as wrong:
        engine.dispose()
        raise _unusable(url.render_as_string(hide_password=True), wrong) from None
    return engine


def _unusable(where: str, wrong: Exception) -> JobFaults:
    reason = " ".join(str(getattr(wrong, "orig", None) or wrong).split())[:200]
    remedy = "Check the address; PostgreSQL also needs the extra: pip install 'ovolo[postgres]'"
    return JobFaults([Fault(where, None, "", f"the database cannot be opened: {reason}", remedy)])


def _safe_settings(connection: Any, _record: object) -> None:
    """Readers don't wait for writers; what was acknowledged is on the disk."""
    cursor = connection.cursor()
    for setting in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        cursor.execute(f"PRAGMA {setting}")
    cursor.close()
