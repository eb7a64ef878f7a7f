"""Chains: each form knows where the last ended, and says how far it is from fitting."""

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Point
from ovolo.part.forms import Chain, cylinder, dome, end_radius, face, fillet
from ovolo.part.forms.chain import mm, run


def test_a_form_starts_where_the_last_ended() -> None:
    chain = cylinder(dome(Chain(), diameter=18), length=15)
    assert chain.outline().nodes == (Point(0, 0), Point(-9, 9), Point(-24, 9))


def test_a_misfit_says_by_how_much_and_what_would_fit() -> None:
    with pytest.raises(JobFaults) as refused:
        cylinder(dome(Chain(), diameter=18), length=15, diameter=20)
    (fault,) = refused.value.faults
    assert fault.where == "diameter"
    assert "2 mm apart" in fault.says
    assert "Write 18 mm" in fault.remedy
    assert "a face to 20 mm" in fault.remedy


def test_the_first_form_needs_its_diameter() -> None:
    with pytest.raises(JobFaults, match="does not know at which diameter"):
        cylinder(Chain(), length=5)


def test_nothing_and_a_corner_that_waits_make_no_outline() -> None:
    with pytest.raises(JobFaults, match="no form has been drawn"):
        Chain().outline()
    with pytest.raises(JobFaults, match="nothing follows"):
        fillet(cylinder(Chain(), diameter=9, length=5), radius=1).outline()


def test_two_corners_cannot_stand_together() -> None:
    with pytest.raises(JobFaults, match="right before it"):
        end_radius(end_radius(Chain(), radius=1), radius=2)


def test_a_bore_leaves_out_the_face_before_its_first_corner() -> None:
    outside = cylinder(end_radius(Chain(), radius=2), diameter=20, length=9).outline()
    bore = cylinder(end_radius(Chain(surface="bore"), radius=2), diameter=20, length=9).outline()
    assert outside.start == pytest.approx((0, 0))
    assert bore.start == pytest.approx((0, 12))
    assert bore.end == outside.end


def test_a_chain_is_never_changed() -> None:
    start = dome(Chain(), diameter=18)
    cylinder(start, length=5)
    face(start, diameter=30)
    assert len(start.segments) == 1


@pytest.mark.parametrize(("length", "to", "says"), [(None, None, "neither"), (3, -4, "both"), (None, 1, "starts at z")])
def test_a_stretch_is_given_by_its_length_or_its_end(length: float | None, to: float | None, says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        run(Point(0, 9), length, to)


def test_lengths_in_messages_are_short() -> None:
    assert [mm(v) for v in (18.0, 0.5, -0.0001, 1.23456)] == ["18 mm", "0.5 mm", "0 mm", "1.235 mm"]


def test_there_is_no_corner_on_the_axis() -> None:
    with pytest.raises(JobFaults, match="starts on the axis"):
        face(fillet(Chain(), radius=1), diameter=9)
