"""Walks: one slide at a time, none of no length, and never left on the open side of its backlash."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.steps import Slack, Walk, slack_of
from ovolo.shop.tools import Tool

TOOL = Tool("round nose", "round", 1)
DIALS = Slack(cross=0.4, saddle=0.6)

orders = st.lists(
    st.tuples(st.sampled_from(["saddle", "cross"]), st.integers(-20, 20), st.sampled_from([-1, 0, 1])), max_size=12
)


def _follow(walk: Walk, wishes: list[tuple[str, int, int]]) -> None:
    for slide, to, closing in wishes:
        (walk.saddle if slide == "saddle" else walk.cross)(float(to), closing)


@given(orders, st.sampled_from([Slack(), DIALS]))
def test_one_slide_at_a_time_from_where_it_stood(wishes: list[tuple[str, int, int]], slack: Slack) -> None:
    walk = Walk(TOOL, 30.0, 30.0, slack)
    _follow(walk, wishes)
    at = (30.0, 30.0)
    for step in walk.steps:
        assert step.start == at
        dx, dy = step.end.x - step.start.x, step.end.y - step.start.y
        assert (dx != 0, dy != 0) == ((True, False) if step.slide == "saddle" else (False, True))
        at = step.end
    assert (walk.x, walk.y) == at


@given(orders)
def test_a_readout_is_never_wound_past(wishes: list[tuple[str, int, int]]) -> None:
    """Neighbouring moves of one slide may turn, but only at places that were asked for."""
    walk = Walk(TOOL, 30.0, 30.0)
    _follow(walk, wishes)
    asked = {30.0} | {float(to) for _, to, _ in wishes}
    assert {step.end.x for step in walk.steps} | {step.end.y for step in walk.steps} <= asked


@given(orders)
def test_on_dials_each_figure_is_come_to_as_asked(wishes: list[tuple[str, int, int]]) -> None:
    """Whatever came before: the last way in which the slide went is the one that closes its backlash."""
    walk = Walk(TOOL, 30.0, 30.0, DIALS)
    for slide, to, closing in wishes:
        _follow(walk, [(slide, to, closing)])
        ways = [s.end.x - s.start.x + s.end.y - s.start.y for s in walk.steps if s.slide == slide]
        assert (walk.x if slide == "saddle" else walk.y) == to
        if closing and ways:
            assert (ways[-1] > 0) == (closing > 0)


@pytest.mark.parametrize(
    ("closing", "places"),
    [(0, [5.0]), (-1, [5.0]), (1, [4.4, 5.0])],
    ids=["either way", "as it goes", "against the way"],
)
def test_it_is_wound_past_only_where_it_must(closing: int, places: list[float]) -> None:
    walk = Walk(TOOL, 10.0, 10.0, DIALS)
    walk.saddle(5.0, closing)
    assert [step.end.x for step in walk.steps] == pytest.approx(places)


def test_a_slide_that_stands_right_but_open_is_closed() -> None:
    """It came to 5 from above; asked to stand there closed from below it goes past and back, and only once."""
    walk = Walk(TOOL, 10.0, 10.0, DIALS)
    walk.cross(5.0)
    walk.cross(5.0, 1)
    assert [step.end.y for step in walk.steps] == pytest.approx([5.0, 4.6, 5.0])
    walk.cross(5.0, 1)
    assert len(walk.steps) == 3


def test_a_station_is_marked_on_the_move_that_reaches_it() -> None:
    walk = Walk(TOOL, 10.0, 10.0)
    walk.saddle(5.0)
    walk.cross(4.0)
    walk.mark(7)
    assert [step.station for step in walk.steps] == [None, 7]
    assert all(a.tool is b.tool for a, b in itertools.pairwise(walk.steps))


def test_the_last_move_of_a_plain_pass_is_kept_exactly_without_a_number() -> None:
    walk = Walk(TOOL, 6.0, 15.0, stage="finish")
    walk.cross(12.0)
    walk.saddle(-4.0)
    walk.keep()
    assert [(step.station, step.exact) for step in walk.steps] == [(None, False), (None, True)]
    walk.saddle(-6.0)
    walk.mark(1)
    assert walk.steps[-1].station == 1
    assert walk.steps[-1].exact


@pytest.mark.parametrize(
    ("table", "past"),
    [
        ({}, 0.0),
        ({"per_turn": 2.5, "divisions": 125, "count": 0.02, "backlash": 0.2}, 0.36),
        ({"per_turn": 2.5, "divisions": 125, "count": 0.02}, None),
    ],
    ids=["readout", "backlash told", "not told"],
)
def test_a_dial_is_wound_past_by_more_than_its_backlash(table: Data, past: float | None) -> None:
    shop = job_from_data(pin({"slide.saddle": table})).shop
    slack = slack_of(shop, shop.fine)
    assert slack.cross == 0
    if past is None:
        assert slack.saddle > 0.25
        return
    assert slack.saddle == pytest.approx(past)
    assert slack.saddle / 0.02 == pytest.approx(round(slack.saddle / 0.02))


def test_nothing_is_wound_past_over_the_ceiling() -> None:
    """In the mouth of a bay there is only so much room."""
    for ceiling, moves in ((10.0, 2), (5.5, 1)):
        walk = Walk(TOOL, 0.0, 0.0, Slack(1.0, 0.0), ceiling=ceiling)
        walk.cross(5.0, -1)
        assert len(walk.steps) == moves
        assert walk.y == 5.0
