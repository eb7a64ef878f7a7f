"""The same tests on SQLite and, where OVOLO_TEST_DATABASE names one, on PostgreSQL."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from ovolo.store import Store

POSTGRES = os.environ.get("OVOLO_TEST_DATABASE", "")
ADDRESSES = ["a file", *(["a server"] if POSTGRES else [])]


def fresh_address(which: str, folder: Path) -> str:
    """The address of an empty database."""
    if which == "a file":
        return f"sqlite+pysqlite:///{folder / 'ovolo.sqlite3'}"
    engine = create_engine(POSTGRES.replace("postgresql://", "postgresql+psycopg://"))
    with engine.begin() as connection:
        for table in ("ovolo_version", "ovolo_document", "ovolo_note"):
            connection.execute(text(f"DROP TABLE IF EXISTS {table} CASCADE"))
    engine.dispose()
    return POSTGRES


@pytest.fixture(params=ADDRESSES)
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    return fresh_address(request.param, tmp_path)


@pytest.fixture
def store(address: str) -> Iterator[Store]:
    opened = Store.at(address)
    yield opened
    opened.close()
