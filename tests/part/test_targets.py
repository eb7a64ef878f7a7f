"""What a tolerance on the drawing lets stand, by the tables of ISO 2768-1:1989 and ISO 286-1."""

import pytest

from ovolo.errors import FaultsFound
from ovolo.part.targets import allowed_ridge, curve_limits, with_unit


@pytest.mark.parametrize(
    ("tolerance", "diameter", "ridge"),
    [
        ("ISO 2768-m", 6, 0.05),  # table 1: over 3 to 6, ±0.1
        ("ISO 2768-m", 6.1, 0.1),  # over 6 to 30, ±0.2
        ("2768-f", 30, 0.05),  # over 6 to 30, ±0.1
        ("ISO 2768-mK", 120, 0.15),  # the second letter is for geometry; over 30 to 120, ±0.3
        ("IT7", 25, 0.021 / 4),  # over 18 to 30, 21 µm
        ("it 9", 18, 0.043 / 4),  # over 10 to 18, 43 µm
    ],
)
def test_half_of_plus_and_a_quarter_of_a_grade(tolerance: str, diameter: float, ridge: float) -> None:
    assert allowed_ridge(tolerance, diameter) == pytest.approx(ridge)


@pytest.mark.parametrize(
    ("tolerance", "diameter"), [("fine", 18), ("IT4", 18), ("ISO 2768-v", 2), ("ISO 2768-m", 0.2), ("IT9", 400)]
)
def test_what_no_table_holds_is_refused_with_its_place(tolerance: str, diameter: float) -> None:
    with pytest.raises(FaultsFound) as found:
        allowed_ridge(tolerance, diameter)
    assert found.value.faults[0].where == "finish.tolerance"


def test_a_profile_of_a_line_reaches_half_its_width_to_either_side() -> None:
    assert allowed_ridge("profile 0.1 mm", 18) == 0.05
    assert allowed_ridge("profile 0.004 in", 18) == pytest.approx(0.0508)
    with pytest.raises(FaultsFound, match="zone"):
        allowed_ridge("profile 0 mm", 18)


def test_limits_follow_the_tolerance_or_the_ridge() -> None:
    assert curve_limits("IT9", 18, 0.05) == (0.01075, 0.01075)
    assert curve_limits(None, 18, 0.03) == (0.08, 0.05)
    assert curve_limits(None, 18, 0.0508, "in") == pytest.approx((0.1016, 0.0508))


def test_a_width_gets_the_unit_of_its_job() -> None:
    assert with_unit("profile 0.004", "in") == "profile 0.004 in"
    assert with_unit("profile 0.1 mm", "in") == "profile 0.1 mm"
    assert with_unit("ISO 2768-m", "in") == "ISO 2768-m"
