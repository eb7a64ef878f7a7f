"""Tools: directions of their edges and where their figures look."""

import math

import pytest

from ovolo.shop.tools import Tool


def _degrees(tool: Tool) -> list[float]:
    return [round(math.degrees(angle), 6) for angle in tool.edges]


def test_a_round_nose_stands_between_square_flanks() -> None:
    assert _degrees(Tool("round", "round", 3)) == [90, 90]


@pytest.mark.parametrize(
    ("edge", "point", "right"), [(93, 55, [87, 32]), (95, 80, [85, 5]), (90, 60, [90, 30]), (62.5, 55, [117.5, 62.5])]
)
def test_a_left_hand_knife_is_the_mirror_image(edge: float, point: float, right: list[float]) -> None:
    """ISO 3002-1: the cutting edge angle of the leading edge, the included angle between both."""
    angles = math.radians(edge), math.radians(point)
    assert _degrees(Tool("knife", "pointed", 0.4, "right", *angles)) == right
    assert _degrees(Tool("knife", "pointed", 0.4, "left", *angles)) == [180 - a for a in reversed(right)]


@pytest.mark.parametrize(
    ("tool", "reference"),
    [
        (Tool("round", "round", 3), (-3, -3)),
        (Tool("round", "round", 3, "left"), (-3, -3)),
        (Tool("knife", "pointed", 0.4), (-0.4, -0.4)),
        (Tool("knife", "pointed", 0.4, "left"), (0.4, -0.4)),
    ],
)
def test_the_reference_point_lies_where_the_leading_tangents_meet(tool: Tool, reference: tuple[float, float]) -> None:
    assert tool.reference == reference


def test_a_blade_is_a_nose_drawn_out() -> None:
    assert Tool("blade", "grooving", 0.2, width=3.0).edge.noses == pytest.approx((0.0, 2.6))
    assert Tool("knife", "pointed", 0.4).edge.noses == (0.0,)
