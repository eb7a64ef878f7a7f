"""How the part of a job was measured, time after time: the readings, the verdict, and what was to be done."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import Engine, insert, select

from ovolo.store.tables import CHECK

__all__ = ["Checks"]

MOST_LISTED = 100


class Checks:
    """The measurements of a store. Every call is one transaction; when it returns, it is on the disk."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def add(self, job: str, readings: str, verdict: str, says: str) -> list[dict[str, str]]:
        """Keep a measurement of the part of a kept job; gives them all."""
        made = datetime.now(UTC).isoformat(timespec="seconds")
        row = {"job": job, "made": made, "readings": readings, "verdict": verdict[:20], "says": says}
        with self._engine.begin() as connection:
            connection.execute(insert(CHECK).values(**row))
        return self.listed(job)

    def listed(self, job: str) -> list[dict[str, str]]:
        """The measurements of the part of a kept job, the newest first."""
        wanted = select(CHECK).where(CHECK.c.job == job).order_by(CHECK.c.n.desc()).limit(MOST_LISTED)
        with self._engine.connect() as connection:
            rows = connection.execute(wanted).all()
        return [{"made": r.made, "readings": r.readings, "verdict": r.verdict, "says": r.says} for r in rows]
