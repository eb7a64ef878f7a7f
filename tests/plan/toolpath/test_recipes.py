"""Recipes: every order, alone and after tools that only rough; estimates."""

import math

from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.stations.choose_tools import Work
from ovolo.plan.toolpath.clearing.leave import Leave
from ovolo.plan.toolpath.recipes import Yard, finishes, recipes
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

FRAME = Frame(job_from_data(pin()))
TOOLS = [Tool(name, "pointed", 0.4) for name in ("a", "b", "c", "d")]


def _works(*names: str) -> list[Work]:
    return [Work(t, (), (), 0.0) for t in TOOLS if t.name in names]


def test_every_order_and_each_after_tools_that_only_rough() -> None:
    found = {tuple(turn.work.tool.name for turn in recipe) for recipe in recipes(_works("a", "b"), TOOLS)}
    assert found >= {("a", "b"), ("b", "a"), ("c", "a", "b"), ("d", "b", "a"), ("c", "d", "a", "b")}
    assert all({"a", "b"} <= set(order) for order in found)


def test_an_estimate_that_is_over_the_most_is_given_up() -> None:
    tools = FRAME.job.shop.tools
    yard, works = Yard(FRAME, tools), [Work(tools[0], (), (), 0.0)]
    alone = recipes(works, tools)[0]
    full = yard.estimate(alone, Leave())
    assert 0 < full < math.inf
    assert yard.estimate(alone, Leave(), full / 2) == math.inf
    assert not finishes(works[0])
