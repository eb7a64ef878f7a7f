"""Seconds of moves: what a setting, a turn, a lock, a change and a cut cost."""

from dataclasses import replace

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import SlideName, Stage
from ovolo.plan.steps import Step
from ovolo.plan.toolpath.minutes import PREFERRED_LINE, Price
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

FRAME = Frame(job_from_data(pin()))
PRICE = Price.of(FRAME)
NOSE, BLADE = Tool("nose", "round", 3.0), Tool("blade", "grooving", 0.2, width=3.0)


def _step(slide: SlideName, length: float, stage: Stage = "rough", tool: Tool = NOSE) -> Step:
    end = Point(length, 0.0) if slide == "saddle" else Point(0.0, length)
    return Step(stage, tool, slide, Point(0.0, 0.0), end)


def test_a_cut_is_set_with_care_and_takes_its_length_at_the_feed() -> None:
    assert PRICE.seconds([_step("saddle", 10.0)], [True]) == pytest.approx(8 + 600 / (0.1 * PRICE.rpm))


def test_finishing_feeds_half_as_fast_and_a_blade_slower_still() -> None:
    rough = PRICE.feeding(NOSE, 10.0)
    assert PRICE.feeding(NOSE, 10.0, finish=True) == pytest.approx(2 * rough)
    assert PRICE.feeding(BLADE, 10.0) == pytest.approx(5 * rough)


def test_winding_counts_turns_of_the_handwheel() -> None:
    assert PRICE.seconds([_step("cross", 4.0)], [False]) == pytest.approx(3.0)
    assert PRICE.seconds([_step("saddle", 40.0)], [False]) == pytest.approx(3.0)


def test_a_slide_is_set_with_care_where_the_next_cut_is_made_at_its_place() -> None:
    both = [_step("saddle", 0.0), _step("cross", 1.0)]
    assert PRICE.seconds(both, [False, True]) - PRICE.seconds(both[1:], [True]) == pytest.approx(8.0)


def test_another_tool_costs_its_change_and_a_standing_slide_its_lock() -> None:
    one = [_step("saddle", 1.0), _step("saddle", 1.0, tool=BLADE)]
    assert PRICE.seconds(one, [False, False]) == pytest.approx(120 + 0.15)
    finish = [_step("cross", 0.0, "finish"), _step("saddle", 1.0, "finish")]
    alone = PRICE.seconds(finish[1:], [True])
    assert PRICE.seconds(finish, [False, True]) == pytest.approx(alone + 8 + 3)


def test_fewer_moves_may_be_preferred() -> None:
    shop = replace(FRAME.job.shop, prefer="moves")
    assert Price.of(Frame(replace(FRAME.job, shop=shop))).line == PREFERRED_LINE
