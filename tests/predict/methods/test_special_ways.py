"""Form tool, swinging fixture, files: what each can do, and how true."""

import math

import pytest
from tests.predict.methods.test_ways import ground
from tests.show.plans import planned

from ovolo.cutting.pace import Pace
from ovolo.cutting.swing import swung_ball
from ovolo.predict.forecast.outlook import forecast
from ovolo.predict.methods.special_ways import HEIGHT, SET_OVER, filing, fixture, form_tool
from ovolo.predict.methods.ways import Ground

BALL = [
    {"z": 0, "d": 0},
    {"z": -9, "d": 18, "convex": 9},
    {"z": -17, "d": 8.246, "convex": 9},
    {"z": -24, "d": 8.246},
]


@pytest.fixture(scope="module")
def dome() -> Ground:
    return ground()


def test_a_whole_dome_is_too_wide_for_a_form_tool(dome: Ground) -> None:
    found = form_tool(dome)
    assert not found.can
    width, allowed = found.why.lengths
    assert width == pytest.approx(9 * math.pi / 2, abs=1e-3)
    assert allowed < width


def test_a_small_radius_is_work_for_a_form_tool() -> None:
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 16.4}, {"z": -0.8, "d": 18, "convex": 0.8}, {"z": -24, "d": 18}]
    found = form_tool(ground({"part.outline": outline, "part.curve": [0, -0.8]}))
    assert found.can
    assert found.why.lengths[0] == pytest.approx(0.8 * math.pi / 2, abs=1e-3)
    assert found.first is not None
    assert found.each is not None
    assert found.first > found.each + 60  # it has to be ground once


def test_a_weak_motor_narrows_the_form_tool() -> None:
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 16.4}, {"z": -0.8, "d": 18, "convex": 0.8}, {"z": -24, "d": 18}]
    weak = form_tool(ground({"part.outline": outline, "part.curve": [0, -0.8], "lathe": {"motor_w": 5}}))
    assert not weak.can
    assert "power" in weak.why.text


def test_a_fixture_makes_a_dome_about_the_axis(dome: Ground) -> None:
    found = fixture(dome)
    assert found.can
    ball = swung_ball(9, SET_OVER, HEIGHT, 0)
    assert found.error is not None
    assert ball.off_round <= found.error < ball.off_round + 0.02
    assert found.shape[0].y == pytest.approx(math.hypot(SET_OVER, HEIGHT), abs=1e-9)
    assert found.shape[-1].y == pytest.approx(math.hypot(9 + SET_OVER, HEIGHT), abs=1e-4)
    first, again = found.minutes(1), found.minutes(2)
    assert first is not None
    assert again is not None
    assert again - first < first / 2


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"part.outline": [{"z": 0, "d": 10}, {"z": -4, "d": 18, "convex": 4}, {"z": -24, "d": 18}],
          "part.curve": [0, -4]}, "from the axis"),
        ({"part.outline": [{"z": 0, "d": 12}, {"z": -10, "d": 18, "concave": 12}, {"z": -24, "d": 18}],
          "part.curve": [0, -10], "tool.0.nose_radius": 1}, "not convex"),
        ({"part.outline": [{"z": 0, "d": 0}, {"z": -4, "d": 12, "convex": 6.5}, {"z": -9, "d": 17, "convex": 20},
                           {"z": -24, "d": 18}], "part.curve": [0, -9]}, "more than one radius"),
        ({"part.surface": "bore", "part.outline": [{"z": 0, "d": 14}, {"z": -10, "d": 10, "concave": 40},
                                                   {"z": -12, "d": 10}],
          "part.curve": [0, -10], "stock.diameter": 30, "stock.hole": 8, "tool.0.nose_radius": 1}, "in a bore"),
    ],
)  # fmt: skip
def test_a_fixture_cannot_do_what_is_no_ball(changes: dict[str, object], says: str) -> None:
    found = fixture(ground(changes))
    assert not found.can
    assert says in found.why.text


def test_a_ball_past_its_equator_has_to_clear_the_stem() -> None:
    changes: dict[str, object] = {"part.outline": BALL, "part.curve": [0, -15.4], "stock.stick_out": 45}
    found = fixture(ground(changes))
    assert found.can
    assert found.shape[-1].x == pytest.approx(-15.4, abs=0.01)


def test_filing_takes_what_finishing_would_have(dome: Ground) -> None:
    found = filing(dome)
    assert found.can
    assert found.first is not None
    assert found.first > dome.roughing
    assert found.settings == sum(move.stage == "rough" and move.cuts for move in dome.plan.moves)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"part.outline": [{"z": 0, "d": 12}, {"z": -4, "d": 18, "concave": 4.5}, {"z": -24, "d": 18}],
          "part.curve": [0, -4], "tool.0.nose_radius": 1}, "too tight for a file"),
        ({"part.surface": "bore", "part.outline": [{"z": 0, "d": 14}, {"z": -10, "d": 10, "concave": 40},
                                                   {"z": -12, "d": 10}],
          "part.curve": [0, -10], "stock.diameter": 30, "stock.hole": 8, "tool.0.nose_radius": 1}, "turning bore"),
    ],
)  # fmt: skip
def test_a_file_cannot_go_everywhere(changes: dict[str, object], says: str) -> None:
    found = filing(ground(changes))
    assert not found.can
    assert says in found.why.text


def test_neither_form_tool_nor_file_comes_under_a_lip() -> None:
    plan = planned("dish")
    dish = Ground(plan, forecast(plan, runs=200), Pace())
    for method in (form_tool(dish), filing(dish)):
        assert not method.can
        assert "leans over" in method.why.text
