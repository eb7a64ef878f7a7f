"""One protocol for every cutting edge: what each kind answers, and which files a new kind would touch."""

import math
import re
from pathlib import Path

import numpy as np
import pytest
import shapely

from ovolo.geometry.chain import Chain
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.shop.edges import EDGES
from ovolo.shop.form_tools import form_tool
from ovolo.shop.tools import Tool

SRC = Path(__file__).parents[3] / "src" / "ovolo"

ROUND = Tool("round nose", "round", 3.0)
RIGHT = Tool("right-hand knife", "pointed", 0.4)
LEFT = Tool("left-hand knife", "pointed", 0.4, "left")
BLADE = Tool("blade", "grooving", 0.2, width=3.0)
CHAMFER = form_tool("chamfer", [Line(Point(0, 4), Point(4, 0)), Line(Point(4, 0), Point(6, 0))])
TOOLS = [ROUND, RIGHT, LEFT, BLADE, CHAMFER]

#: A step down and a hollow, from the free end toward the chuck.
OUTLINE = Chain(
    (
        Line(Point(0, 0), Point(0, 5)),
        Line(Point(0, 5), Point(-8, 5)),
        Arc.from_radius(Point(-8, 5), Point(-16, 9), 12.0, ccw=False),
        Line(Point(-16, 9), Point(-40, 9)),
    )
)


@pytest.mark.parametrize("tool", TOOLS, ids=lambda t: t.name)
def test_the_underside_is_that_of_the_shape(tool: Tool) -> None:
    border = shapely.Polygon(tool.edge.shape()).exterior
    dx = np.linspace(-tool.edge.toward_chuck + 0.01, tool.edge.toward_end - 0.01, 41)
    places = shapely.points(dx, tool.edge.over(dx))
    assert shapely.distance(border, places).max() < 3e-4


@pytest.mark.parametrize("tool", TOOLS, ids=lambda t: t.name)
def test_the_lowest_place_is_one_nose_radius_down_and_on_the_reference_line(tool: Tool) -> None:
    edge = tool.edge
    assert edge.over(np.array(edge.lowest)) == pytest.approx([-tool.nose_radius] * 2, abs=1e-4)
    assert edge.reference[1] == -tool.nose_radius
    assert abs(edge.reference[0]) == tool.nose_radius


@pytest.mark.parametrize("tool", TOOLS, ids=lambda t: t.name)
def test_it_stands_clear_of_an_outline_and_no_higher_than_it_must(tool: Tool) -> None:
    x = np.arange(-20.0, 4.0, 0.005)
    height = tool.edge.clear_of(OUTLINE, x, 0.0)
    border = np.column_stack(OUTLINE.points(np.linspace(0, OUTLINE.length, 9001)))
    metal = shapely.make_valid(shapely.Polygon(np.vstack([border, [[-40, 0]]])))
    shape = tool.edge.shape()
    for i in np.flatnonzero(np.isfinite(height))[::400]:
        stands = shapely.Polygon(shape + np.array([x[i], height[i]]))
        assert shapely.intersection(stands, metal).area < 1e-3
        lower = shapely.Polygon(shape + np.array([x[i], height[i] - 0.01]))
        assert shapely.intersection(lower, metal).area > 0


@pytest.mark.parametrize("tool", TOOLS, ids=lambda t: t.name)
def test_on_a_level_way_every_place_is_passed_as_low_as_by_standing_everywhere(tool: Tool) -> None:
    x = np.linspace(-8, 8, 321)
    found = tool.edge.over_way(x, -2.0, 1.5)
    stands = np.min([tool.edge.over(x - at) for at in np.linspace(-2.0, 1.5, 1401)], axis=0)
    near = np.isfinite(found) & np.isfinite(stands) & (stands < 5)
    assert found[near] == pytest.approx(stands[near], abs=5e-3)


@pytest.mark.parametrize("tool", TOOLS, ids=lambda t: t.name)
def test_it_stretches_as_far_beside_it_as_its_shape_does(tool: Tool) -> None:
    left, right = tool.edge.beside(5.0)
    shape = tool.edge.shape()
    low = shape[shape[:, 1] <= 5.0 - tool.nose_radius + 1e-9]
    assert low[:, 0].min() >= -left - 1e-9
    assert low[:, 0].max() <= right + 1e-9


def test_who_cuts_which_way() -> None:
    assert [tool.edge.cuts_both_ways for tool in TOOLS] == [True, False, False, True, True]
    assert [tool.edge.cuts_away for tool in TOOLS] == [False, False, True, False, False]
    assert [len(tool.edge.noses) for tool in TOOLS] == [1, 1, 1, 2, 0]


def test_only_a_knife_works_from_the_side_of_a_bay_and_only_of_the_right_hand() -> None:
    leaning = Tool("leaning", "pointed", 0.4, edge_angle=math.radians(110), point_angle=math.radians(35))
    assert [tool.edge.turned(1) is None for tool in TOOLS] == [True, False, True, True, True]
    turned = leaning.edge.turned(1)
    assert turned is not None
    assert turned.cuts_away
    assert leaning.edge.turned(-1) is None


def test_what_binds_a_cut() -> None:
    assert ROUND.edge.limit(1.0, 3.0, inward=False, rough=True) == (1.0, "bite")
    assert ROUND.edge.limit(1.0, 3.0, inward=True, rough=True) == (3.0, "plunge")
    assert BLADE.edge.limit(1.0, 3.0, inward=False, rough=True) == (0.2, "corner of the blade")
    assert BLADE.edge.plunge(None, 2.5) == pytest.approx(3.0)
    assert RIGHT.edge.limit(0.5, 3.0, inward=True, rough=False) == (0.8, "nose")


# ---- which files a new kind would touch

A_NEW_KIND = {
    "shop/edges/": "its own module, and one row of EDGES",
    "shop/tools.py": "its name among the kinds, its figures among the fields",
    "documents/": "reading and writing it",
    "cli/new_job.py": "writing it",
    "show/words/": "its name in words, how it is touched off",
    "show/pages/tool_picture.py": "what is written on its picture",
    "plan/report/": "its name in words",
}
OTHER_TOOLS = ("check/",)
"""There a tool is what one measures with."""

ASKS = re.compile(r"\b(?:tool|t|each)\.kind\b|(?<!geometry)\.underside\b|tool\.flat\b")


def test_nothing_else_asks_for_the_kind_of_a_tool() -> None:
    asking = [
        name
        for path in sorted(SRC.rglob("*.py"))
        if ASKS.search(path.read_text(encoding="utf-8"))
        and not (name := str(path.relative_to(SRC))).startswith((*A_NEW_KIND, *OTHER_TOOLS))
    ]
    assert asking == []


def test_every_kind_that_can_be_told_has_an_edge() -> None:
    assert set(EDGES) == {tool.kind for tool in TOOLS}
    assert all(tool.edge == EDGES[tool.kind](tool) for tool in TOOLS)
