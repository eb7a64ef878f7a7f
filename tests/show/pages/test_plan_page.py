"""The page's data agree with the plan and go through JSON."""

import json

import pytest
from tests.show.pages.examples import NAMES, plan

from ovolo.documents.plan.document import plan_as_data
from ovolo.predict.loads.power_feed import feed_offs
from ovolo.show.pages.plan_page import plan_page


@pytest.mark.parametrize("name", NAMES)
def test_the_page_says_what_the_plan_says(name: str) -> None:
    made = plan(name)
    view = json.loads(json.dumps(plan_page(made), allow_nan=False))
    assert view["checksum"] == plan_as_data(made)["checksum"]
    assert view["stations"] == made.stations
    assert [move["shown"] for move in view["moves"]] == [move.shown for move in made.moves]
    assert [move["station"] for move in view["moves"]] == [move.station for move in made.moves]
    assert [tuple(move["to"]) for move in view["moves"]] == [(round(m.end.x, 5), round(m.end.y, 5)) for m in made.moves]
    rows = [row for section in view["sections"] for row in section["rows"]]
    assert [row["figure"] for row in rows] == [move.shown for move in made.moves]
    assert set(view["shapes"]) == {str(i) for i in range(len(made.tools))}


def test_it_is_said_where_power_feed_is_knocked_off() -> None:
    made = plan("bridge-pin")
    shown = plan_page(made)
    rows = [row for section in shown["sections"] for row in section["rows"]]
    assert {row["n"]: row["feed_off"] for row in rows if row["feed_off"]} == {
        n: off.shown for n, off in feed_offs(made).items()
    }
    assert shown["power"].startswith(f"{len(feed_offs(made))} of the ")


def test_what_equal_steps_cost_is_said_where_they_are_asked_for() -> None:
    """As the notes of the plan have it: so many more than the fewest."""
    made = plan("guide-pin")
    cost = plan_page(made)["steps_cost"]
    assert "are steps of 1.5 mm of the saddle" in cost
    assert f"of the {made.stations} settings" in cost
    assert f"{made.stations - made.fewest} more than the fewest" in cost
    assert plan_page(plan("bridge-pin"))["steps_cost"] == ""
