"""Runs: plans that were taken to the lathe, and the ticks that came back from it. What was answered is on the disk."""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, Engine, Row, insert, select, update

from ovolo.errors import Fault, FaultsFound
from ovolo.store.records import Document, KeptRun, NotKept, RunSummary
from ovolo.store.series import Series
from ovolo.store.tables import RUN, SERIES, TICK
from ovolo.store.ticks import place_of, tick_faults

LONGEST_TITLE = 200
MOST_LISTED = 50


class Runs:
    """The runs of a store. Every call is one transaction; when it returns, it is on the disk."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def add(self, plan: Document, title: str, job: str | None = None, series: Series | None = None) -> str:
        """Keep a plan (in the shape of plan.json) as a run of its own; gives its name. job: the kept job it is of;
        series: what it takes over, where it is one of several equal parts."""
        name = secrets.token_hex(6)
        content = json.dumps(plan, ensure_ascii=True, allow_nan=False)
        row = {"checksum": str(plan["checksum"]), "moves": len(plan["moves"]), "plan": content, "ticks": 0}
        with self._engine.begin() as connection:
            connection.execute(insert(RUN).values(id=name, job=job, title=title[:LONGEST_TITLE], made=_now(), **row))
            if series is not None:
                connection.execute(insert(SERIES).values(run=name, content=json.dumps(series, allow_nan=False)))
        return name

    def series(self, name: str) -> Series:
        """What a run takes over from the part before; {} for the first, or where there is no such run."""
        with self._engine.connect() as connection:
            text = connection.execute(select(SERIES.c.content).where(SERIES.c.run == name)).scalar()
        return {} if text is None else dict(json.loads(text))

    def of(self, name: str) -> tuple[str, str | None]:
        """The title of a run, and the kept job that it is of. Raises NotKept."""
        with self._engine.connect() as connection:
            row = _row(connection, name)
        return row.title, row.job

    def get(self, name: str, since: int | None = None) -> KeptRun:
        """A run with its ticks; with `since` only those after the first `since`, and no plan. Raises NotKept."""
        with self._engine.connect() as connection:
            row = _row(connection, name)
            ticks = _ticks(connection, name)
        plan = json.loads(row.plan) if since is None else None
        place = place_of(ticks, row.moves)
        return KeptRun(row.id, row.checksum, row.moves, tuple(ticks[since or 0 :]), place, plan)

    def tick(self, name: str, ticks: Any, since: int = 0) -> KeptRun:
        """Keep ticks; those that are kept already do no harm. Raises FaultsFound, and then keeps none; NotKept.

        since: the run is given back with the ticks after that many.
        """
        with self._engine.begin() as connection:
            # The write comes first: it takes the lock, so that ticks are numbered in the order in which they are kept.
            connection.execute(update(RUN).where(RUN.c.id == name).values(ticks=RUN.c.ticks))
            row = _row(connection, name)
            if found := tick_faults(ticks, row.moves, json.loads(row.plan)["before"]):
                raise FaultsFound(found)
            kept = _ticks(connection, name)
            fresh = _fresh(ticks, kept)
            _keep(connection, name, fresh, len(kept))
        whole = [*kept, *fresh]
        return KeptRun(row.id, row.checksum, row.moves, tuple(whole[since:]), place_of(whole, row.moves))

    def listed(self, job: str | None = None) -> list[RunSummary]:
        """The last runs, the one last made first; only those of a kept job, where one is named."""
        wanted = select(RUN) if job is None else select(RUN).where(RUN.c.job == job)
        query = wanted.order_by(RUN.c.made.desc()).limit(MOST_LISTED)
        with self._engine.connect() as connection:
            return [
                RunSummary(
                    row.id,
                    row.title,
                    row.checksum,
                    row.moves,
                    place_of(_ticks(connection, row.id), row.moves),
                    datetime.fromisoformat(row.made),
                )
                for row in connection.execute(query)
            ]


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _row(connection: Connection, name: str) -> Row[Any]:
    row = connection.execute(select(RUN).where(RUN.c.id == name)).one_or_none()
    if row is None:
        raise NotKept(name)
    return row


def _ticks(connection: Connection, name: str) -> list[Mapping[str, Any]]:
    query = select(TICK.c.content, TICK.c.received).where(TICK.c.run == name).order_by(TICK.c.n)
    return [{**json.loads(row.content), "received": row.received} for row in connection.execute(query)]


def _fresh(ticks: Sequence[Mapping[str, Any]], kept: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """The ticks not kept yet, each once, with the time. Raises FaultsFound where a key has come with another tick."""
    known = {tick["key"]: {name: value for name, value in tick.items() if name != "received"} for tick in kept}
    now, faults = _now(), []
    fresh: list[Mapping[str, Any]] = []
    for i, tick in enumerate(ticks):
        if tick["key"] not in known:
            known[tick["key"]] = dict(tick)
            fresh.append({**tick, "received": now})
        elif not _same(known[tick["key"]], tick):
            says = "another tick has come under this key"
            faults.append(Fault(f"[{i}].key", tick["key"], "a key for each tick", says, "Make up another one"))
    if faults:
        raise FaultsFound(faults)
    return fresh


def _same(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two ticks say the same; a field that is null is left out."""
    bare = [{name: value for name, value in tick.items() if value is not None} for tick in (one, other)]
    return bare[0] == bare[1]


def _keep(connection: Connection, name: str, fresh: Sequence[Mapping[str, Any]], after: int) -> None:
    if not fresh:
        return
    rows = [
        {
            "run": name,
            "n": after + i,
            "key": tick["key"],
            "content": json.dumps({k: v for k, v in tick.items() if k != "received"}, allow_nan=False),
            "received": tick["received"],
        }
        for i, tick in enumerate(fresh, 1)
    ]
    connection.execute(insert(TICK), rows)
    connection.execute(update(RUN).where(RUN.c.id == name).values(ticks=after + len(fresh)))
