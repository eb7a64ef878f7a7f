import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.errors import FaultsFound
from ovolo.part import tolerances as tol


@given(size=st.floats(0.5, 2000), more=st.floats(0, 2000), row=st.sampled_from("mc"))
def test_a_larger_size_never_has_a_smaller_tolerance(size: float, more: float, row: str) -> None:
    assert tol.general_linear(size, row) <= tol.general_linear(min(size + more, 4000), row)


@given(size=st.floats(3.01, 2000))
def test_classes_are_in_order(size: float) -> None:
    fine, medium, coarse, very = (tol.general_linear(size, row) for row in tol.CLASSES)
    assert fine <= medium < coarse < very


@given(leg=st.floats(0.1, 1000), row=st.sampled_from("fmcv"))
def test_a_longer_leg_never_has_a_larger_angle(leg: float, row: str) -> None:
    assert tol.general_angle(leg * 2, row) <= tol.general_angle(leg, row)


@given(size=st.floats(0.1, 250))
def test_grades_are_in_order(size: float) -> None:
    widths = [tol.grade_width(size, grade) for grade in tol.GRADES]
    assert widths == sorted(set(widths))


def test_hole_and_shaft_meet_at_the_nominal_size() -> None:
    assert tol.hole_basis(25, "IT7").lower == tol.shaft_basis(25, "IT6").upper == 0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: tol.general_linear(0.4), "allowed: 0.5 to 4000 mm"),
        (lambda: tol.general_linear(4001), "given: 4001"),
        (lambda: tol.general_linear(math.nan), "no such size"),
        (lambda: tol.general_linear(2500, "f"), "class f has no value"),
        (lambda: tol.general_linear(2, "v"), "class v has no value"),
        (lambda: tol.general_linear(2, "x"), "f, m, c, v"),
        (lambda: tol.general_radius(math.inf), "no such size"),
        (lambda: tol.general_angle(0), "more than 0"),
        (lambda: tol.grade_width(251, "IT7"), "more than 0 to 250 mm"),
        (lambda: tol.grade_width(25, "IT4"), "IT5, IT6"),
    ],
)
def test_what_the_tables_lack_is_refused(call: object, says: str) -> None:
    with pytest.raises(FaultsFound, match=says):
        call()  # type: ignore[operator]
