"""Power feed: which passes, and where it is knocked off; every figure below is worked out by hand."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest
from tests.documents.jobs import pin
from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, Plan
from ovolo.predict.loads.power_feed import FeedOff, feed_offs, overrun
from ovolo.shop.slides import SlideName

BORE = {
    "part": {"surface": "bore", "outline": [{"z": 0, "d": 36}, {"z": -30, "d": 20}]},
    "stock": {"diameter": 50, "hole": 18, "proud": 0.5},
    "tool": [{"name": "boring bar", "kind": "round", "nose_radius": 2}],
}
BLADE = {"tool": [{"name": "blade", "kind": "grooving", "nose_radius": 0.2, "width": 2}]}
BOTH = {"lathe": {"power_feed": ["saddle", "cross"]}}

LONG_PASS = (Point(4.5, 12.2), Point(-21.6, 12.2))
"""Along the bar of Ø 20 with a nose of R 3, 0.8 deep: there the saddle reads -21.6 - 3 = -24.6."""
FACING = (Point(3.2, 14.0), Point(3.2, 0.0))
"""Across its end, 0.3 of the 0.5 that stands proud, to the middle: there the nose is 3 past it."""


def cut(way: Sequence[Point], changes: Mapping[str, Any] | None = None, **more: Any) -> Plan:
    """A plan of one cutting move on the bridge pin."""
    job = job_from_data({**pin(), **BOTH, **(changes or {})})
    tool, (start, end) = job.shop.tools[0], way
    name: SlideName = "cross" if start.x == end.x else "saddle"
    side = 1 if job.part.surface == "bore" else -1
    at = end.y + side * tool.nose_radius if name == "cross" else end.x - tool.nose_radius
    slide = job.shop.slide(name)
    figure = slide.figure(at)
    told: dict[str, Any] = {"cuts": True, "area": 1.0, "bite": 0.5, "slide": name, **more}
    move = Move(1, "rough", tool.name, told.pop("slide"), start, end, figure, slide.text(figure), 0.1, **told)
    return replace(plan(), job=job, tools=job.shop.tools, moves=(move,))


def only(found: Plan) -> FeedOff | None:
    return feed_offs(found).get(1)


def off(way: Sequence[Point], changes: Mapping[str, Any] | None = None) -> tuple[float, str]:
    found = only(cut(way, changes))
    assert found is not None
    return found.figure, found.shown


def slides(**tables: Mapping[str, Any]) -> Mapping[str, Any]:
    return {"slide": tables}


def test_the_feed_is_knocked_off_a_millimetre_ahead_in_the_figures_of_the_slide() -> None:
    assert off(LONG_PASS) == (-23.6, "-23.6")
    assert off(LONG_PASS, slides(saddle={"grows": "toward"})) == (23.6, "23.6")
    assert off(FACING) == (-4.0, "Ø -4.0")  # a millimetre of travel is 2 on the diameter
    assert off(FACING, slides(cross={"reads": "radius"})) == (-2.0, "-2.0")
    assert off(FACING, slides(cross={"grows": "in"})) == (4.0, "Ø 4.0")


def test_the_figure_is_rounded_away_from_the_end_of_the_move() -> None:
    found = only(cut((LONG_PASS[0], Point(-21.63, 12.2))))  # ends at -24.63: a millimetre before is -23.63
    assert found is not None
    assert (found.figure, found.by_hand) == pytest.approx((-23.6, 1.03))
    assert off((Point(-21.6, 12.2), Point(4.43, 12.2)))[0] == 0.4  # the other way, ends at 1.43


def test_a_dial_is_told_in_turns_and_whole_divisions() -> None:
    dial = slides(saddle={"per_turn": 2.0, "divisions": 40, "count": 0.025})
    # From 1.5 down to -23.6: 0, -2, … -22 go by, and 0.4 before -24 is 8 of the 40 divisions of 0.05.
    assert off(LONG_PASS, dial) == (-23.6, "-23.60: past 0 12 times, stop at 8")
    end = Point(-21.625, 12.2)  # half a division further: the margin ends between two divisions
    assert off((LONG_PASS[0], end), dial) == (-23.6, "-23.60: past 0 12 times, stop at 8")


def test_an_inch_job_leaves_forty_thousandths() -> None:
    inches = {
        "units": "in",
        "part": {"outline": [{"z": 0, "d": 0}, {"z": "-9 mm", "d": "18 mm"}, {"z": "-24 mm", "d": "18 mm"}]},
        "stock": {"diameter": "20 mm", "proud": "0.5 mm"},
        "tool": [{"name": "round nose 6", "kind": "round", "nose_radius": "3 mm"}],
    }
    # -24.6 mm is -0.9685 in; 0.04 before that is -0.9285, and the next five thousandths -0.925.
    found = only(cut(LONG_PASS, inches))
    assert found is not None
    assert (found.figure, found.shown) == (-0.925, "-0.925")
    assert found.by_hand == pytest.approx(0.0435 * 25.4)


def test_in_a_bore_it_is_the_same_along_the_axis_and_outward_across_it() -> None:
    assert off((Point(3.0, 7.75), Point(-20.0, 7.75)), BORE) == (-21.0, "-21.0")
    assert off((Point(-1.8, 5.0), Point(-1.8, 15.0)), BORE) == (32.0, "Ø 32.0")  # ends at r 17: Ø 34, less 2


def test_a_fast_spindle_leaves_more_to_the_hand() -> None:
    assert overrun(0.1, 1500) == pytest.approx(0.1 * 25 + 0.1)
    assert overrun(0.1, 1500, late=0) == pytest.approx(0.1)
    part = {**pin()["part"], "material": "aluminium"}
    fast = {"part": part, "lathe": {"speeds": [1500]}, "tool": [{**pin()["tool"][0], "material": "carbide"}]}
    assert off(LONG_PASS, fast) == (-22.0, "-22.0")  # 25 turns in the second, and one more, of 0.1 each: 2.6


@pytest.mark.parametrize(("length", "marked"), [(6.5, True), (5.5, False)])
def test_a_cut_of_less_than_five_millimetres_before_the_hand_is_not_worth_it(length: float, marked: bool) -> None:
    # The nose meets the end of the bar, 0.5 proud, where it is 0.8 deep: √(3² - 2.2²) ahead of its centre.
    begins = 0.5 + math.sqrt(3.0**2 - 2.2**2)
    found = cut((Point(14.5, 12.2), Point(begins - length, 12.2)))
    assert (only(found) is not None) is marked  # however long the way through the air


def test_what_the_lathe_cannot_feed_is_left_to_the_hand() -> None:
    assert only(cut(FACING, {"lathe": {}})) is None  # a saddle is fed on any lathe, the cross slide where it is told
    assert only(cut(LONG_PASS, {"lathe": {}})) is not None
    assert only(cut(LONG_PASS, {"lathe": {"power_feed": ["cross"]}})) is None
    assert only(cut(LONG_PASS, {"lathe": {"power_feed": []}})) is None
    assert only(cut(LONG_PASS, slide="top")) is None
    assert only(cut(LONG_PASS, cuts=False)) is None


def test_a_blade_that_cuts_with_all_its_width_is_fed_by_hand() -> None:
    way = (Point(-10.0, 14.0), Point(-10.0, 3.0))
    assert only(cut(way, BLADE, bite=2.0)) is None
    assert only(cut(way, BLADE, bite=1.0)) is not None


@pytest.mark.parametrize("name", ["bridge-pin", "hinge-pin-dials", "winch-pin-inch", "bronze-bush", "winch-lever"])
def test_no_figure_lies_past_the_end_of_its_move_or_nearer_than_the_margin(name: str) -> None:
    found = planned(name)
    moves, offs = {move.n: move for move in found.moves}, feed_offs(found)
    assert offs
    for n, told in offs.items():
        slide = found.job.shop.slide(moves[n].slide)
        way = (told.figure - moves[n].figure) * slide.unit / slide.factor
        back = (moves[n].start.y - moves[n].end.y) if slide.name == "cross" else (moves[n].start.x - moves[n].end.x)
        assert way * back > 0
        assert 1.0 - 1e-9 <= abs(way) < abs(back) - 5.0
        assert abs(way) == pytest.approx(told.by_hand)
