"""The job as a whole: part against stock, chuck, tools, slides and curve."""

import pytest
from tests.documents.jobs import NOTHING, Data, faults, only_fault, pin

from ovolo.documents.checks import tightest_hollow
from ovolo.documents.reading import job_from_data
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Point

BORE: Data = {
    "part.surface": "bore",
    "part.outline": [{"z": 0, "d": 20}, {"z": -5, "d": 10, "convex": 5}, {"z": -20, "d": 10}],
    "part.curve": [0, -5],
    "stock.diameter": 40,
    "stock.hole": 9,
    "tool.0.kind": "pointed",
    "tool.0.nose_radius": 0.4,
}


@pytest.mark.parametrize(
    ("changes", "where", "limit"),
    [
        ({"stock.diameter": 17.9}, "stock.diameter", "at least 18 mm"),
        ({"stock.stick_out": 23}, "stock.stick_out", "at least 24 mm"),
        ({"stock.hole": 5}, "stock.hole", "at most 0 mm"),
        ({"part.curve": [0, -25]}, "part.curve[1]", "from -24 mm to 0 mm"),
        ({"part.curve": [1, -9]}, "part.curve[0]", "from -24 mm to 0 mm"),
        ({"part.curve": [-5, -5]}, "part.curve[1]", ""),
        ({"finish.ridge": 0.0009}, "finish.ridge", "at least 0.001 mm"),
        ({"limits.bite": 0.005}, "limits.bite", "at least 0.01 mm"),
        ({**BORE, "stock.hole": NOTHING}, "stock.hole", "more than 0"),
        ({**BORE, "stock.hole": 10.1}, "stock.hole", "at most 10 mm"),
        ({**BORE, "stock.diameter": 19.9}, "stock.diameter", "at least 20 mm"),
        ({**BORE, "stock.hole": 40}, "stock.hole", "less than 40 mm"),
    ],
)
def test_what_does_not_fit_is_refused_with_what_would(changes: Data, where: str, limit: str) -> None:
    if changes.get("stock.hole") is NOTHING:
        changes = {**changes, "stock.hole": 0}
    fault = only_fault(changes)
    assert (fault.where, fault.limit) == (where, limit)
    assert fault.remedy


def test_a_job_that_fits_exactly_is_read() -> None:
    assert not faults(pin({"stock.diameter": 18, "stock.stick_out": 24, "stock.proud": 0, "part.curve": [0, -24]}))
    assert not faults(pin({**BORE, "stock.hole": 10}))


def test_several_misfits_are_reported_together() -> None:
    found = faults(pin({"stock.diameter": 10, "stock.stick_out": 10, "part.curve": [0, -99], "finish.ridge": 0.0001}))
    assert {fault.where for fault in found} == {"stock.diameter", "stock.stick_out", "part.curve[1]", "finish.ridge"}


def test_the_outline_may_not_begin_in_front_of_the_stock() -> None:
    points = [{"z": 1, "d": 0}, {"z": -8, "d": 18, "convex": 9}, {"z": -24, "d": 18}]
    fault = only_fault({"part.outline": points, "part.curve": [0, -8]})
    assert (fault.where, fault.limit) == ("stock.proud", "at least 1 mm")


def test_a_curve_may_be_written_either_way_round() -> None:
    assert job_from_data(pin({"part.curve": [-9, 0]})) == job_from_data(pin())


def test_a_curve_left_out_is_the_whole_outline_less_the_largest_nose() -> None:
    data = pin({"part.curve": NOTHING, "tool.1": {"name": "knife", "nose_radius": 0.4}})
    assert job_from_data(data).part.curve == (0, -21)


def test_a_part_shorter_than_its_nose_needs_a_curve() -> None:
    fault = only_fault({"part.curve": NOTHING, "part.outline.2.z": -10, "tool.0.nose_radius": 12})
    assert fault.where == "part.curve"
    assert "12 mm" in fault.says


def test_the_ridge_can_be_no_finer_than_a_tenth_of_the_coarser_step() -> None:
    """On a cross slide that reads diameters a count is half as much travel; a tenth of a step may still be kept."""
    slides = {"slide.cross": {"count": 0.02}, "slide.saddle": {"count": 0.005}}
    assert not faults(pin({**slides, "finish.ridge": 0.001}))
    radius = {"slide.cross": {"count": 0.02, "reads": "radius"}, "slide.saddle": {"count": 0.005}}
    assert only_fault({**radius, "finish.ridge": 0.001}).limit == "at least 0.002 mm"


@pytest.mark.parametrize(
    ("edge", "point", "fits"), [(93, 55, True), (120, 60, False), (125, 55, False), (93, 86, True)]
)
def test_both_edges_of_a_tool_must_clear_the_work(edge: float, point: float, fits: bool) -> None:
    tool = {"name": "knife", "nose_radius": 0.4, "edge_angle": edge, "point_angle": point}
    found = faults(pin({"tool.1": tool}))
    assert [fault.where for fault in found] == ([] if fits else ["tool[1].point_angle"])


COVE = [{"z": 0, "d": 10}, {"z": -4, "d": 18, "concave": 4}, {"z": -24, "d": 18}]


def test_the_smallest_nose_must_fit_the_tightest_hollow() -> None:
    changes: Data = {"part.outline": COVE, "part.curve": [0, -4], "tool.0.nose_radius": 4.5}
    fault = only_fault(changes)
    assert (fault.where, fault.limit) == ("tool[0].nose_radius", "at most 4 mm")
    assert not faults(pin({**changes, "tool.1": {"name": "knife", "nose_radius": 4}}))


def test_a_hollow_outside_the_curve_does_not_bind() -> None:
    assert not faults(pin({"part.outline": COVE, "part.curve": [-5, -20], "tool.0.nose_radius": 4.5}))


def test_in_a_bore_the_hollows_are_those_whose_centre_lies_inward() -> None:
    hollow = Arc.from_radius(Point(0, 10), Point(-5, 5), 5, ccw=True)
    assert tightest_hollow(Outline((hollow,)), "bore", (0, -5)) == hollow
    assert tightest_hollow(Outline((hollow,)), "outside", (0, -5)) is None


@pytest.mark.parametrize(
    ("points", "where"),
    [
        ([{"z": 0.5, "d": 20}, {"z": -30, "d": 20}], None),
        ([{"z": 0.5, "d": 12}, {"z": -30, "d": 20}], "stock.outline"),
        ([{"z": -1, "d": 20}, {"z": -30, "d": 20}], "stock.outline"),
        ([{"z": 0.5, "d": 30}, {"z": -9, "d": 30}, {"z": -7, "d": 22}, {"z": -30, "d": 22}], "stock.outline"),
    ],
)
def test_stock_already_shaped_has_to_hold_the_part(points: list[Data], where: str | None) -> None:
    data = pin({"stock.outline": points, "stock.diameter": NOTHING, "stock.proud": NOTHING})
    assert [fault.where for fault in faults(data)] == ([where] if where else [])


CORED = {
    "part.surface": "bore",
    "part.outline": [{"z": 0, "d": 40}, {"z": -10, "d": 20, "convex": 10}, {"z": -30, "d": 20}],
    "part.curve": [0, -10],
    "stock": {"outline": [{"z": 0.3, "d": 36}, {"z": -9, "d": 19, "convex": 12}, {"z": -30, "d": 19}]},
    "tool.0": {"name": "boring bar", "nose_radius": 0.4},
}


@pytest.mark.parametrize(
    ("stock", "where", "limit"),
    [
        ({}, None, ""),
        ({"stock.diameter": 50}, None, ""),
        ({"stock.hole": 19}, None, ""),
        ({"stock.hole": 12}, "stock.hole", "19 mm"),
        ({"stock.diameter": 40}, "stock.diameter", "more than 40 mm"),
        ({"stock.proud": 0.3}, "stock.proud", ""),
        ({"stock.outline.2.d": 20.4}, "stock.outline", "at most 20 mm"),
        ({"stock.outline.0.z": -0.2}, "stock.outline", "at most 40 mm"),  # in front of it there is no metal
        ({"stock.outline.2.d": 0}, "stock.outline", ""),
    ],
)
def test_a_hole_already_shaped_is_open_and_inside_the_bore(stock: Data, where: str | None, limit: str) -> None:
    found = faults(pin({**CORED, **stock}))
    assert [(fault.where, fault.limit) for fault in found] == ([(where, limit)] if where else [])


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"tool.0.kind": "grooving"}, "tool[0].width"),
        ({"tool.0.width": 6}, "tool[0].width"),
        ({"tool.0.kind": "grooving", "tool.0.width": 5}, "tool[0].width"),
        ({"tool.0.stem": 10}, "tool[0].shank"),
        ({"tool.0.shank": 10}, "tool[0].stem"),
    ],
)
def test_blades_and_shanks_are_told_whole(changes: Data, where: str) -> None:
    assert only_fault(changes).where == where


def test_a_constant_amount_is_something_that_its_slide_can_be_moved_by() -> None:
    fault = only_fault({"finish.by": {"slide": "saddle", "amount": 0.995}, "slide.saddle": {"count": 0.02}})
    assert fault.where == "finish.by.amount"
    assert fault.limit == "a whole multiple of 0.02 mm"
    assert "1 mm" in fault.remedy
    assert only_fault({"finish.by": {"slide": "cross", "amount": 0.001}}).where == "finish.by.amount"
    assert not faults(pin({"finish.by": {"slide": "saddle", "amount": 1.0}, "slide.saddle": {"count": 0.02}}))


def test_hole_and_body_of_a_centre_are_told_together() -> None:
    fault = only_fault({"lathe": {"holding": "chuck and centre", "centre_hole": 4}})
    assert fault.where == "lathe.centre_body"
    assert "together" in fault.says


@pytest.mark.parametrize(
    ("lathe", "where"),
    [
        ({"holding": "chuck", "centre_hole": 4, "centre_body": 18}, "lathe.holding"),
        ({"holding": "chuck and centre", "centre_hole": 4, "centre_body": 3}, "lathe.centre_body"),
        ({"holding": "between centres", "centre_hole": 20, "centre_body": 25}, "lathe.centre_hole"),
    ],
)
def test_a_centre_that_cannot_be(lathe: Data, where: str) -> None:
    assert only_fault({"lathe": lathe}).where == where


def test_no_centre_in_the_mouth_of_a_bore() -> None:
    bore = {"part.surface": "bore", "stock.diameter": 40, "stock.hole": 10}
    outline = [{"z": 0, "d": 20}, {"z": -5, "d": 12, "concave": 8}, {"z": -20, "d": 12}]
    changes = bore | {"part.outline": outline, "part.curve": [0, -5]}
    lathe = {"holding": "chuck and centre", "centre_hole": 4, "centre_body": 18}
    assert not [f for f in faults(pin(changes)) if f.where.startswith("lathe")]
    assert [f.where for f in faults(pin(changes | {"lathe": lathe})) if "lathe" in f.where] == ["lathe.holding"]


def test_the_top_slide_is_told_of_where_it_is_used() -> None:
    fault = only_fault({"limits.slides": ["cross", "top"]})
    assert fault.where == "slide.top"
    assert only_fault({"limits.slides": ["cross", "top"], "slide.top": {"count": 0.02}}).where == "slide.top.travel"
    assert not faults(pin({"limits.slides": ["cross", "top"], "slide.top": {"travel": 60}}))
    assert [f.where for f in faults(pin({"limits.slides": ["cross"]}))] == ["limits.slides"]


def test_a_top_slide_at_an_angle_is_no_saddle() -> None:
    turned = {"limits.slides": ["saddle", "cross", "top"], "slide.top": {"travel": 60, "angle": 29.5}}
    assert not faults(pin(turned))  # whether the curve has that angle is the planner's to say
    assert only_fault(turned | {"limits.slides": ["cross", "top"]}).where == "limits.slides"
    assert not faults(pin(turned | {"limits.slides": ["saddle", "cross"]}))  # then it does not matter
    assert only_fault({"slide.top": {"travel": 60, "angle": 90}}).where == "slide.top.angle"


def test_equal_steps_of_a_slide_that_does_not_finish() -> None:
    changes = {"finish.by": {"slide": "saddle", "amount": 1}, "slide.top": {"travel": 60}}
    assert only_fault(changes | {"limits.slides": ["saddle", "cross", "top"]}).where == "finish.by.slide"


FACE = [{"z": 0, "d": 0}, {"z": 0, "d": 30}, {"z": -10, "d": 30}, {"z": -10, "d": 31}]


@pytest.mark.parametrize("z", [0, -10])
def test_a_face_is_a_curve_too(z: float) -> None:
    job = pin({"part.outline": FACE, "part.curve": [z, z], "stock.diameter": 32})
    assert faults(job) == []


def test_where_no_face_stands_the_curve_has_to_end_somewhere() -> None:
    (fault,) = faults(pin({"part.outline": FACE, "part.curve": [-5, -5], "stock.diameter": 32}))
    assert fault.where == "part.curve[1]"
    assert "no face stands there" in fault.says
