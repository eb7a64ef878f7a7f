"""What a tolerance on the drawing lets stand, by the tables of ISO 2768-1:1989 and ISO 286-1."""

import pytest

from ovolo.errors import FaultsFound
from ovolo.part.targets import allowed_ridge


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
