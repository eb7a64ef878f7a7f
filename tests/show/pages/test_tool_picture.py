"""Tools are drawn to scale with their numbers."""

import math
import re
from xml.etree import ElementTree

import pytest

from ovolo.geometry.segments import Line, Point
from ovolo.shop.form_tools import form_tool
from ovolo.shop.lathe import Cutter, Lathe
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
    assert words == ["4.5", "1", "2", "3"]  # its width, and its points as they are told


def _held(picture: str) -> list[tuple[list[float], list[float]]]:
    """Across and down, the corners of what carries a tool."""
    thin = re.findall(r'<path class="tool-thin" d="M([^"]*)Z"', picture)
    corners = [[tuple(map(float, xy.split())) for xy in d.split("L")] for d in thin]
    return [([x for x, _ in ring], [y for _, y in ring]) for ring in corners]


def test_a_shank_and_a_boring_bar_carry_it_as_far_away_as_the_job_says() -> None:
    """Places are told by the width of the blade, 3 mm, and by the nose's lowest line."""
    picture = tool_picture(Tool("blade", "grooving", 0.2, width=3.0, stem=14.0, shank=12.0), "mm")
    [(across, down)] = _held(picture)
    cutting = re.findall(r'<path class="tool" d="M([^"]*)Z"', picture)[0]
    blade = [tuple(map(float, xy.split())) for xy in cutting.split("L")]
    scale = (max(x for x, _ in blade) - min(x for x, _ in blade)) / 3.0
    assert (max(across) - min(across)) / scale == pytest.approx(12, rel=1e-3)
    assert (max(y for _, y in blade) - max(down)) / scale == pytest.approx(14, abs=0.02)
    assert min(y for _, y in blade) == pytest.approx(max(down))  # the blade goes on behind it
    assert 0 < max(down) < TALL

    knife, lathe = Tool("knife", "pointed", 0.4, stands_out=3.0), Lathe(cutters=(Cutter("knife", bar_diameter=6.0),))
    [(_, down)] = _held(tool_picture(knife, "mm", lathe))
    [(_, longer)] = _held(tool_picture(knife, "mm"))
    assert max(down) == max(longer)
    assert min(down) > min(longer)  # as thick as it is told; otherwise out of the picture
    assert _held(tool_picture(Tool("knife", "pointed", 0.4), "mm")) == []


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
