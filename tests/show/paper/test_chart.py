"""The small chart."""

from xml.etree import ElementTree

import pytest

from ovolo.show.paper.chart import ChartView, Curve, Mark, chart_as_svg, draw_chart

VIEW = ChartView(
    "Settings",
    "settings",
    "left, mm",
    (Curve(((10, 0.12), (16, 0.05), (25, 0.02)), "dots"),),
    Mark((16, 0.05), "16 leave 0.05"),
)


def test_points_stand_where_the_axes_say() -> None:
    """Dots at a third and a half of the way on both axes."""
    view = ChartView("t", "x", "y", (Curve(((0, 0), (1, 1), (2, 2)), "dots"),))
    circles = [piece for piece in draw_chart(view, 0, 0, 100, 60) if piece.startswith("<circle")]
    places = [(float(e.get("cx", "")), float(e.get("cy", ""))) for e in map(ElementTree.fromstring, circles)]
    assert places[1][0] == pytest.approx((places[0][0] + places[2][0]) / 2, abs=1e-3)
    assert places[1][1] == pytest.approx((places[0][1] + places[2][1]) / 2, abs=1e-3)
    assert places[2][1] < places[0][1]


def test_what_matters_is_marked_and_said() -> None:
    svg = chart_as_svg(VIEW)
    assert 'class="red-dot"' in svg
    assert "16 leave 0.05" in svg
    assert "left, mm over settings; 16 leave 0.05" in svg


def test_words_that_do_not_fit_on_the_right_stand_on_the_left() -> None:
    edge = ChartView("t", "x", "y", (Curve(((0, 0), (10, 1))),), Mark((10, 1), "a long sentence about it"))
    assert 'text-anchor="end">a long sentence' in "".join(draw_chart(edge, 0, 0, 80, 50))


def test_steps_stay_level_until_the_next_point() -> None:
    view = ChartView("t", "x", "y", (Curve(((0, 0), (1, 1)), "steps", name="so many"),))
    drawn = "".join(draw_chart(view, 0, 0, 80, 50))
    assert drawn.count("L") >= 2
    assert "so many" in drawn


def test_a_single_point_is_still_a_chart() -> None:
    ElementTree.fromstring(chart_as_svg(ChartView("t", "x", "y", (Curve(((5, 0),)),))))
