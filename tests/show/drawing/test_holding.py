"""What holds the work and carries the nose, against sizes by hand."""

import math
from functools import cache
from xml.etree import ElementTree

import pytest
from tests.show.plans import BUSH, planned

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.planner import make_plan
from ovolo.shop.lathe import Cutter, Lathe
from ovolo.shop.tools import Tool
from ovolo.show.drawing.close_up import close_up_as_svg, close_up_view
from ovolo.show.drawing.half_section import drawing_as_svg, drawing_view
from ovolo.show.drawing.holding import (
    BODY,
    before_carriers,
    carriers,
    centre_end,
    centre_points,
    draw_carriers,
    draw_centre,
)
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.layout import Layout
from ovolo.show.paper.shapes import Place

PLACE = Place(100.0, 100.0, 2.5)


@cache
def _handle() -> Cuts:
    """The winch handle: 1 mm proud, its centre hole 4 mm across, the centre's body 17.8 mm."""
    return Cuts(planned("winch-handle"))


def test_the_point_of_60_degrees_touches_the_mouth_of_its_hole() -> None:
    tip, shoulder, end = centre_points(_handle(), 30.0)
    assert tip == pytest.approx((1 - 2 / math.tan(math.radians(30)), 0.0))
    assert shoulder == pytest.approx((tip[0] + 8.9 / math.tan(math.radians(30)), 8.9))
    assert end == pytest.approx((30.0, 8.9))
    (_, half_way) = centre_points(_handle(), 1.0 + 3.0)
    assert half_way[1] == pytest.approx(2 + 3 * math.tan(math.radians(30)))


def test_it_is_drawn_with_some_of_its_body_as_far_as_there_is_room() -> None:
    shoulder = 1 + (8.9 - 2) / math.tan(math.radians(30))
    assert centre_end(_handle(), PLACE, 1000.0) == pytest.approx(shoulder + BODY / 2.5)
    assert centre_end(_handle(), PLACE, 110.0) == pytest.approx(4.0)
    assert draw_centre(_handle(), PLACE, 101.0) == []


def test_without_a_centre_nothing_is_drawn() -> None:
    cuts = Cuts(planned("bridge-pin"))
    assert centre_points(cuts, 30.0) == []
    assert draw_centre(cuts, PLACE, 1000.0) == []


def test_it_is_named_where_the_name_has_room_and_words_keep_off_it() -> None:
    layout = Layout((0, 0, 300, 200))
    (drawn,) = draw_centre(_handle(), PLACE, 1000.0, layout)
    assert ">centre</text>" in drawn
    assert len(layout.words) == len(layout.lines) == 1
    assert layout.lines[0].contains(layout.words[0])
    (small,) = draw_centre(_handle(), PLACE, 110.0, Layout((0, 0, 300, 200)))
    assert "<text" not in small
    assert "<title>The tailstock's centre</title>" in small


@pytest.mark.parametrize("name", ["winch-handle", "bridge-pin"])
def test_the_drawing_and_the_close_ups_show_it(name: str) -> None:
    cuts = Cuts(planned(name))
    near = close_up_as_svg(close_up_view(cuts, 2))
    for svg in (drawing_as_svg(drawing_view(cuts.plan)), near):
        titles = [element.text for element in ElementTree.fromstring(svg).iter() if element.tag.endswith("title")]
        assert ("The tailstock's centre" in titles) == (name == "winch-handle")


def test_a_shank_stands_evenly_over_the_middle_of_a_blade() -> None:
    """A blade of 3 with corners of R 0.2, 10 out of a shank of 12: the middle is 1.3 off the first corner's centre."""
    blade = Tool("blade", "grooving", 0.2, width=3.0, stem=10.0, shank=12.0)
    (body,) = carriers(blade, Lathe(), Point(-20.0, 5.0), bore=False)
    left, low, right, high = body.bounds
    assert (left, right) == pytest.approx((-20 + 1.3 - 6, -20 + 1.3 + 6))
    assert low == pytest.approx(5 - 0.2 + 10, abs=2e-3)
    assert high > low + 30


def test_a_boring_bar_has_its_diameter_and_ends_at_the_holder() -> None:
    bar = Tool("bar", "pointed", 0.8, stands_out=3.0)
    lathe = Lathe(cutters=(Cutter("bar", bar_diameter=12.0, overhang=30.0),))
    (body,) = carriers(bar, lathe, Point(-4.0, 11.0), bore=True)
    left, low, right, high = body.bounds
    assert (left, right) == (-4.0, 26.0)
    assert high == pytest.approx(11 + 0.8 - 3, abs=2e-3)
    assert high - low == pytest.approx(12)
    assert carriers(Tool("bar", "pointed", 0.8), lathe, Point(0.0, 0.0), bore=True) == []


def test_edges_are_seen_as_far_as_they_stand_out() -> None:
    """The nose of R 2 at r 8 stands 6 out of its shank, so 4 over its centre: at 2.5 : 1 30 mm over the axis."""
    tool = Tool("round", "round", 2.0, stem=6.0, shank=9.0)
    bodies = carriers(tool, Lathe(), Point(0.0, 8.0), bore=False)
    shown = before_carriers(["<path/>"], bodies, PLACE, (0.0, 0.0, 200.0, 180.0), "edges", bore=False)
    rect = ElementTree.fromstring(shown[0]).find("rect")
    assert rect is not None
    assert float(rect.get("y", "")) == pytest.approx(100 - 2.5 * 12, abs=0.01)
    assert float(rect.get("height", "")) == pytest.approx(180 - 70, abs=0.01)
    assert 'clip-path="url(#edges)"' in shown[1]
    assert before_carriers(["<path/>"], [], PLACE, (0.0, 0.0, 200.0, 180.0), "edges", bore=False) == ["<path/>"]
    assert [line.split('"')[1] for line in draw_carriers(bodies, PLACE)] == ["ground", "tool-fill", "tool-thin"]


def test_in_a_bore_they_are_seen_from_the_bar_outward() -> None:
    bar = {"name": "bar", "nose_radius": 0.8, "stands_out": 3, "bar_diameter": 9, "overhang": 40}
    plan = make_plan(job_from_data({**BUSH, "tool": [bar]}))
    svg = drawing_as_svg(drawing_view(plan))
    view = drawing_view(plan)
    (body,) = carriers(view.tool, plan.job.shop.lathe, view.nose, bore=True)
    assert body.bounds[3] == pytest.approx(view.nose.y + 0.8 - 3, abs=2e-3)
    assert 'id="drawing-tool-edges"' in svg
    assert 'id="drawing-tool-edges"' not in drawing_as_svg(drawing_view(planned("bush")))
