"""The whole of a run's page as data: ready for JSON, everything in it."""

import json

import pytest
from tests.show.plans import NAMES, planned

from ovolo.documents.plan.document import plan_as_data
from ovolo.show.turn.view import turn_view


@pytest.mark.parametrize("name", [*NAMES, "jig-dowel"])
def test_everything_is_in_it(name: str) -> None:
    plan = planned(name)
    view = turn_view(plan, plan_as_data(plan), "abc")
    again = json.loads(json.dumps(view, allow_nan=False))
    assert len(again["moves"]) == len(plan.moves)
    assert all(move["drawn"].startswith("<path") for move in again["moves"])
    assert len(again["pictures"]) == len(again["tools"]) == len(plan.tools)
    assert all({"figure", "begins", "other_figure", "tool"} <= set(move) for move in again["moves"])
    assert {move["slide"] for move in again["moves"]} <= set(again["slides"])
