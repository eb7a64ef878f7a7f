"""The same tests on SQLite and, where OVOLO_TEST_DATABASE names one, on PostgreSQL."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, make_url, text

from ovolo.store import Store

POSTGRES = os.environ.get("OVOLO_TEST_DATABASE", "")
ADDRESSES = ["a file", *(["a server"] if POSTGRES else [])]


def fresh_address(which: str, folder: Path) -> str:
    """The address of an empty database; on a server a schema for each worker."""
    if which == "a file":
        return f"sqlite+pysqlite:///{folder / 'ovolo.sqlite3'}"
    schema = os.environ.get("PYTEST_XDIST_WORKER", "alone")
    engine = create_engine(POSTGRES.replace("postgresql://", "postgresql+psycopg://"))
    with engine.begin() as connection:
        connection.execute(text(f"DROP SCHEMA IF EXISTS {schema} CASCADE"))
        connection.execute(text(f"CREATE SCHEMA {schema}"))
    engine.dispose()
    url = make_url(POSTGRES).update_query_dict({"options": f"-csearch_path={schema}"})
    return url.render_as_string(hide_password=False)


@pytest.fixture(params=ADDRESSES)
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    return fresh_address(request.param, tmp_path)


@pytest.fixture
def store(address: str) -> Iterator[Store]:
    opened = Store.at(address)
    yield opened
    opened.close()
