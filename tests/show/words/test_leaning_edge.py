"""An edge that leans over its own nose: where it meets the corner of a parallel, by plain trigonometry."""

import math

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.planner import make_plan
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool
from ovolo.show.words.leaning_edge import beyond_nose, by_parallel
from ovolo.show.words.touching_off import touching_off

CROSS = Slide("cross", "diameter", "out", 0.01)
SADDLE = Slide("saddle", "diameter", "away", 0.01)
WHERE = "the bar"


def _beyond(radius: float, degrees: float, level: float) -> float:
    """The edge touches the nose where its normal does, and goes on at the edge angle; from the foremost line."""
    edge = math.radians(degrees)
    foot = Point(-radius * math.sin(edge), -radius * math.cos(edge))
    return -(foot.x - (level - foot.y) / math.tan(edge)) - radius


@pytest.mark.parametrize("degrees", [45, 60, 75, 89])
@pytest.mark.parametrize("hand", ["right", "left"])
def test_how_far_the_edge_has_gone(degrees: float, hand: str) -> None:
    tool = Tool("knife", "pointed", 0.8, edge_angle=math.radians(degrees), point_angle=math.radians(50))
    assert beyond_nose(tool, 3.0) == pytest.approx(_beyond(0.8, degrees, 3.0), abs=1e-3)
    assert beyond_nose(tool, 3.0) == beyond_nose(Tool(**{**tool.__dict__, "hand": hand}), 3.0)


def test_a_right_hand_knife_comes_from_the_free_side() -> None:
    """R 0.8 at 60°: the nose is set 1 over a bar of Ø 25, the corner stands 4 over it, so 2.2 over the nose centre."""
    tool = Tool("knife", "pointed", 0.8, edge_angle=math.radians(60))
    text = by_parallel(tool, (CROSS, SADDLE), Point(0.5, 12.5), WHERE, bore=False, unit="mm")
    assert "stands 4.00 mm over the bar" in text
    assert "Set the cross slide to Ø 27.00" in text
    assert f"enter {0.5 + _beyond(0.8, 60, 2.2):.2f} and the parallel's measured thickness more" in text
    assert f"0.10 mm of it are {0.1 / math.tan(math.radians(60)):.2f} mm of length" in text
    toward = Slide("saddle", "diameter", "toward", 0.01)
    text = by_parallel(tool, (CROSS, toward), Point(0.5, 12.5), WHERE, bore=False, unit="mm")
    assert f"enter {-0.5 - _beyond(0.8, 60, 2.2):.2f} and the parallel's measured thickness less" in text


def test_a_left_hand_one_from_the_chuck_and_the_parallel_counts_not() -> None:
    tool = Tool("knife", "pointed", 0.8, "left", math.radians(60))
    text = by_parallel(tool, (CROSS, SADDLE), Point(0.5, 12.5), WHERE, bore=False, unit="mm")
    assert "from the chuck's side" in text
    assert f"enter {0.5 - _beyond(0.8, 60, 2.2):.2f}. Take the parallel away" in text


def test_in_a_hole_it_reaches_inward() -> None:
    tool = Tool("bar", "pointed", 0.8, edge_angle=math.radians(60))
    text = by_parallel(tool, (CROSS, SADDLE), Point(0.0, 10.0), "the hole", bore=True, unit="mm")
    assert "reaches 4.00 mm into the hole from the hole" in text
    assert "Set the cross slide to Ø 18.00" in text
    assert f"enter {_beyond(0.8, 60, 2.2):.2f} and" in text


def test_a_dial_is_told_by_its_division() -> None:
    """One over a bar of Ø 20 is 11 mm of radius: five turns of 2 and 1 mm, which is 20 divisions of 0.05."""
    cross = Slide("cross", "radius", "out", 0.025, per_turn=2.0, divisions=40)
    tool = Tool("knife", "pointed", 0.8, edge_angle=math.radians(60))
    text = by_parallel(tool, (cross, SADDLE), Point(0.0, 10.0), WHERE, bore=False, unit="mm")
    assert "to 11.000 (its dial at 20)" in text


def test_in_inches_the_height_is_a_tenth() -> None:
    cross, saddle = (Slide(s.name, s.reads, s.grows, 0.0254, 25.4) for s in (CROSS, SADDLE))
    tool = Tool("knife", "pointed", 0.8, edge_angle=math.radians(60))
    text = by_parallel(tool, (cross, saddle), Point(0.0, 12.7), WHERE, bore=False, unit="in")
    assert "stands 0.200 in over the bar" in text


@pytest.mark.parametrize("hand", ["right", "left"])
def test_such_a_tool_is_told_so_and_not_to_skim_the_face(hand: str) -> None:
    knife: Data = {"name": "chamfer", "hand": hand, "nose_radius": 0.8, "edge_angle": 60, "point_angle": 60}
    outline = [{"z": 0, "d": 22}, {"z": -8, "d": 20, "concave": 40}, {"z": -16, "d": 22, "concave": 40}]
    outline.append({"z": -30, "d": 22})
    job = {"tool.0": knife, "part.outline": outline, "part.curve": [-6, -10], "stock.diameter": 25}
    job |= {"stock.stick_out": 80}
    ((_, lines),) = touching_off(make_plan(job_from_data(pin(job))))
    text = " ".join(lines)
    assert "skim the end face" not in text
    assert "paper between tool and end face" not in text
    assert "the edge leans over the nose" in text
