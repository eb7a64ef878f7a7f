"""From points to an outline, and what can be wrong with the curve."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import Data, faults, only_fault, pin

from ovolo.documents.building import say
from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Arc, Line
from ovolo.units import Unit


def test_points_become_lines_and_arcs() -> None:
    dome, shank = job_from_data(pin()).part.outline.segments
    assert isinstance(dome, Arc)
    assert dome.ccw
    assert dome.centre == pytest.approx((-9, 0))
    assert shank == Line(dome.end, shank.end)


def test_an_arc_through_a_third_point_is_the_same_arc() -> None:
    half = 9 * math.sin(math.pi / 4)
    data = pin({"part.outline.1": {"z": -9, "d": 18, "through": [-9 + half, 2 * half]}})
    arc = job_from_data(data).part.outline.segments[0]
    assert isinstance(arc, Arc)
    assert arc.ccw
    assert arc.centre == pytest.approx((-9, 0))


def test_in_a_bore_convex_bulges_toward_the_axis() -> None:
    """Metal is on the right there: the mouth of a bell has its centre in the metal, outward."""
    data = pin({"part.surface": "bore", "stock.hole": 10, "stock.diameter": 40, "tool.0.nose_radius": 0.4})
    data["part"]["outline"] = [{"z": 0, "d": 20}, {"z": -5, "d": 10, "convex": 5}, {"z": -20, "d": 10}]
    data["part"]["curve"] = [0, -5]
    arc = job_from_data(data).part.outline.segments[0]
    assert isinstance(arc, Arc)
    assert arc.centre == pytest.approx((-5, 10))


def _outline(*points: Data) -> dict[str, object]:
    return {"part.outline": list(points), "part.curve": [0, -5], "stock.diameter": 60}


@pytest.mark.parametrize(
    ("points", "where", "says"),
    [
        (
            [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 3}, {"z": -24, "d": 18}],
            "part.outline[1].convex",
            "an arc of this radius cannot span the 12.7279 mm between its ends",
        ),
        (
            [{"z": 0, "d": 10}, {"z": -9, "d": 18, "through": [-4.5, 14]}],
            "part.outline[1].through",
            "the three points lie on one line, and no arc leads through them",
        ),
        (
            [{"z": 0, "d": 10}, {"z": -9, "d": 18, "through": [0, 10]}],
            "part.outline[1].through",
            "the third point is one of the arc's ends",
        ),
        ([{"z": 0, "d": 10}, {"z": 0, "d": 10}], "part.outline[1].z", "the point is the same as the one before it"),
        ([{"z": 0, "d": 10}, {"z": -9, "d": -18}], "part.outline[1].d", "the outline goes past the axis"),
        (
            [{"z": 0, "d": 2}, {"z": -20, "d": 2, "concave": 10.2}, {"z": -24, "d": 2}],
            "part.outline[1]",
            "the arc that leads here goes past the axis by 7.19 mm",
        ),
        (
            [{"z": 0, "d": 20}, {"z": -9, "d": 0}],
            "part.outline[1].d",
            "the outline reaches the axis behind its free end, where the part would come apart",
        ),
        (
            [{"z": -24, "d": 30}, {"z": -9, "d": 30}, {"z": 0, "d": 18}],
            "part.outline[2].z",
            "the outline ends nearer to the free end than it has been: 24 mm nearer",
        ),
        (
            [{"z": 0, "d": 18}, {"z": -20.3, "d": 18}, {"z": -20, "d": 30}],
            "part.outline[2].z",
            "the outline ends nearer to the free end than it has been: 0.3 mm nearer",
        ),
        (
            [{"z": 0, "d": 10}, {"z": 0, "d": 30}, {"z": 0, "d": 20}, {"z": -24, "d": 20}],
            "part.outline[2]",
            "the outline runs across or over itself: the piece that ends here meets the one that ends at point 1",
        ),
    ],
)
def test_a_curve_that_cannot_be_is_refused_at_its_place(points: list[Data], where: str, says: str) -> None:
    found = faults(pin(_outline(*points)))
    assert (where, says) in [(fault.where, fault.says) for fault in found]


def test_every_impossible_arc_is_named() -> None:
    points = [{"z": -9 * i, "d": 18, "convex": 1} for i in range(1, 4)]
    found = faults(pin(_outline({"z": 0, "d": 0}, *points)))
    assert [fault.where for fault in found] == [f"part.outline[{i}].convex" for i in (1, 2, 3)]


def test_the_limit_of_a_radius_is_half_the_distance() -> None:
    fault = only_fault({"part.outline.1.convex": 6})
    assert (fault.value, fault.limit) == (6, "at least 6.364 mm")


def test_an_outline_that_crosses_itself_is_found_as_well_as_its_false_end() -> None:
    points = [{"z": 0, "d": 10}, {"z": -20, "d": 30}, {"z": -20, "d": 10}, {"z": -5, "d": 30}]
    says = " ".join(fault.says for fault in faults(pin(_outline(*points))))
    assert "runs across or over itself" in says
    assert "ends nearer to the free end" in says


def test_an_outline_may_double_back() -> None:
    """Under a lip, as long as it ends behind all the rest; whether a tool reaches there is asked of the plan."""
    assert not faults(pin(_outline({"z": 0, "d": 0}, {"z": -9, "d": 18}, {"z": -8, "d": 12}, {"z": -24, "d": 12})))


def test_a_dome_whose_height_was_rounded_is_accepted() -> None:
    """R 12.7 on Ø 19.05 rises by 4.29969; written 4.299 its tip leans back by less than a nanometre."""
    points = [{"z": 0, "d": 0}, {"z": -4.299, "d": 19.05, "convex": 12.7}, {"z": -24, "d": 19.05}]
    assert not faults(pin({"part.outline": points, "part.curve": [0, -4.299]}))


@given(st.floats(5, 350), st.sampled_from(["mm", "in"]))
def test_whoever_writes_the_limit_is_within_it(chord: float, unit: Unit) -> None:
    """The radius asked for, typed in as it is printed, spans the ends."""
    points: list[Data] = [{"z": 0, "d": 2}, {"z": -chord, "d": 2.5, "convex": 1e-3}, {"z": -chord - 1, "d": 2.5}]
    limit = next(f.limit for f in faults(pin({"units": unit, "part.outline": points})) if f.where.endswith("convex"))
    points[1]["convex"] = float(limit.removeprefix("at least ").removesuffix(f" {unit}"))
    assert not any(f.where.endswith("convex") for f in faults(pin({"units": unit, "part.outline": points})))


def test_lengths_in_messages_are_in_the_unit_of_the_job() -> None:
    assert (say(12.7, "in"), say(-0.00001, "mm"), say(1e4 / 3, "mm")) == ("0.5 in", "0 mm", "3333.3333 mm")


def test_a_face_alone_is_no_outline() -> None:
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 10}]
    found = faults(pin({"part.outline": outline, "part.curve": [0, 0]}))
    assert any("no length along the axis" in fault.says for fault in found)
