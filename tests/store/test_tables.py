"""The steps from an older database to a newer one."""

from sqlalchemy import create_engine, text

from ovolo.store import tables
from ovolo.store.tables import STEPS, bring_up_to_date


def test_steps_are_applied_once() -> None:
    engine = create_engine("sqlite://")
    with engine.begin() as connection:
        assert bring_up_to_date(connection) == len(STEPS)
        assert bring_up_to_date(connection) == len(STEPS)
    engine.dispose()


def test_a_newer_step_is_applied_to_an_older_database(monkeypatch: object) -> None:
    engine = create_engine("sqlite://")
    with engine.begin() as connection:
        bring_up_to_date(connection)
        calls: list[str] = []
        more = (*STEPS, lambda c: calls.append(str(c.execute(text("SELECT 1")).scalar())))
        old, tables.STEPS = tables.STEPS, more
        try:
            bring_up_to_date(connection)
            bring_up_to_date(connection)
        finally:
            tables.STEPS = old
    engine.dispose()
    assert calls == ["1"]
