"""Form tools: where their nose centre and reference point lie, whatever origin they are told in."""

import pytest

from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.shop.edges.form_edge import FormEdge
from ovolo.shop.form_tools import LEAST, PAST, form_tool
from ovolo.shop.tools import Tool

CHAMFER: list[Segment] = [Line(Point(0, 2), Point(2, 0)), Line(Point(2, 0), Point(5, 0))]
SQUARE: list[Segment] = [Line(Point(0, 0), Point(3, 0))]


def _from(segments: list[Segment], z: float, r: float) -> list[Segment]:
    """The same outline in another origin."""
    return [
        Line(Point(s.start.x + z, s.start.y + r), Point(s.end.x + z, s.end.y + r)) if isinstance(s, Line) else s
        for s in segments
    ]


def test_a_half_round_is_a_round_nose() -> None:
    tool = form_tool("half round", [Arc(Point(0, 0), Point(6, 0), Point(3, 0), True)])
    nose = Tool("round nose", "round", 3.0)
    assert (tool.nose_radius, tool.edge.toward_end - tool.nose_radius, *tool.reference) == pytest.approx(
        (3.0, 0.0, *nose.reference)
    )
    assert (tool.half_width, tool.tightest) == pytest.approx((3.0, 3.0))


@pytest.mark.parametrize("outline", [CHAMFER, SQUARE])
def test_the_reference_point_is_left_of_it_and_below_it(outline: list[Segment]) -> None:
    tool = form_tool("tool", outline)
    assert isinstance(tool.edge, FormEdge)
    under = tool.edge.underside
    assert tool.reference == pytest.approx((under.left, under.low))


def test_on_the_axis_its_end_toward_the_chuck_is_past_it() -> None:
    """With the nose centre on the axis nothing is left in the middle: the end lies on the axis, a corner beyond it."""
    tool = form_tool("chamfer", CHAMFER)
    assert isinstance(tool.edge, FormEdge)
    assert tool.edge.underside.ends[0].y == pytest.approx(-PAST)


def test_a_tool_that_ends_at_its_lowest_place_is_given_some_height() -> None:
    assert form_tool("square", SQUARE).nose_radius == LEAST


@pytest.mark.parametrize(("z", "r"), [(0.0, 0.0), (-12.5, 3.25), (100.0, -40.0)])
def test_the_origin_does_not_matter(z: float, r: float) -> None:
    assert form_tool("chamfer", _from(CHAMFER, z, r)) == form_tool("chamfer", CHAMFER)


def test_told_about_its_own_nose_centre_it_is_the_same_tool() -> None:
    outline: list[Segment] = [Arc(Point(0, 1.1), Point(1.1, 0), Point(1.1, 1.1), True), *_from(CHAMFER[1:], -0.9, 0)]
    tool = form_tool("tool", outline)
    assert tool.outline is not None
    assert form_tool("tool", tool.outline) == tool
