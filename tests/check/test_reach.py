"""Which readings count, and how far they are from the outline."""

import numpy as np
import pytest
from tests.check.parts import shape

from ovolo.check.measured import Reading
from ovolo.check.positions import positions_of
from ovolo.check.reach import Finish, against, deviation_of


def test_deviation_is_square_to_the_outline() -> None:
    frame = shape("dome").plan.frame
    # Ø 13.52 at z -3 of a ball of radius 9 about z -9: hypot(6, 6.76) - 9 = 0.0387
    found, _ = deviation_of(frame, np.array([-3.0, -15.0]), np.array([6.76, 8.9]))
    assert found == pytest.approx([0.0387, -0.1], abs=1e-4)


def test_readings_that_say_nothing() -> None:
    plan = shape("dome").plan
    finish = Finish(positions_of(plan), plan.job.part.ridge)
    assert finish.unused_because(Reading(-3.0, 0.0, 0.01, 0.02, 3.0)) is None
    assert "end" in str(finish.unused_because(Reading(-1.0, 0.0, 0.01, 0.02, 3.0)))
    assert "bar" in str(finish.unused_because(Reading(-23.5, 0.0, 0.01, 0.02, 3.0)))
    assert "off" in str(finish.unused_because(Reading(4.0, 0.0, 0.01, 0.02)))


def test_the_uncertainty_of_the_place_counts_where_it_is_steep() -> None:
    plan = shape("dome").plan
    at = positions_of(plan)
    seen = against(at, [Reading(-0.6, 3.23, 0.005, 0.1), Reading(-15.0, 9.0, 0.005, 0.1)], at)
    assert seen.u == pytest.approx([0.093, 0.005], abs=0.003)
