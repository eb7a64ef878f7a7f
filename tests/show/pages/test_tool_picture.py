"""Tools are drawn to scale with their numbers."""

import math
from xml.etree import ElementTree

import pytest

from ovolo.geometry.segments import Line, Point
from ovolo.shop.form_tools import form_tool
from ovolo.shop.tools import Tool
from ovolo.show.pages.tool_picture import TALL, WIDE, tool_picture

TOOLS = [
    Tool("round nose 6", "round", 3.0),
    Tool("knife", "pointed", 0.4),
    Tool("left-hand", "pointed", 0.8, "left"),
    Tool("fine", "pointed", 0.05, edge_angle=math.radians(107.5), point_angle=math.radians(35)),
    Tool("huge", "round", 25.0),
    Tool("blade", "grooving", 0.2, width=3.0),
]


FORM = form_tool("vee", [Line(Point(0, 4), Point(2, 0)), Line(Point(2, 0), Point(4.5, 5))])


def test_a_form_tool_is_drawn_with_its_width_and_no_radius() -> None:
    root = ElementTree.fromstring(tool_picture(FORM, "mm"))
    words = [e.text or "" for e in root.iter("{http://www.w3.org/2000/svg}text")]
    assert words == ["4.5"]


@pytest.mark.parametrize("tool", TOOLS, ids=lambda tool: str(tool.name))
def test_its_numbers_stand_beside_it(tool: Tool) -> None:
    root = ElementTree.fromstring(tool_picture(tool, "mm"))
    words = [e.text or "" for e in root.iter("{http://www.w3.org/2000/svg}text")]
    assert f"R {tool.nose_radius:g}" in words
    if tool.kind == "pointed":
        assert f"{math.degrees(tool.edge_angle):g}°" in words
        assert f"{math.degrees(tool.point_angle):g}°" in words
    for element in root.iter("{http://www.w3.org/2000/svg}text"):
        assert 0 <= float(element.attrib["x"]) <= WIDE
        assert 0 <= float(element.attrib["y"]) <= TALL


def test_inches_are_inches() -> None:
    assert "R 0.125" in tool_picture(Tool("quarter", "round", 3.175), "in")
