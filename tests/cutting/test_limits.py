import math

import pytest

from ovolo.cutting.limits import above, at_least, between, finite, within_limits
from ovolo.errors import FaultsFound


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, -math.inf])
def test_above_refuses_what_is_not_more_and_what_is_no_number(bad: float) -> None:
    assert above("x", bad, 0) is not None


@pytest.mark.parametrize("good", [0.0, 1.0])
def test_the_ends_of_a_range_are_allowed(good: float) -> None:
    assert between("x", good, 0, 1) is None
    assert at_least("x", good, 0) is None


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_no_formula_works_on_what_is_no_number(bad: float) -> None:
    assert finite("x", bad) is not None
    assert finite("x", -1e9) is None


def test_all_faults_are_reported_at_once_with_value_and_limit() -> None:
    with pytest.raises(FaultsFound) as caught:
        within_limits(above("nose radius", -3, 0), at_least("spacing", 1, 0), between("angle", 9, 0, 2))
    assert [fault.where for fault in caught.value.faults] == ["nose radius", "angle"]
    assert "given: -3; allowed: more than 0" in str(caught.value)
