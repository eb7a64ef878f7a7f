"""What jaws read, against jaws laid on the swept metal."""

import numpy as np
import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Wrong, make

from ovolo.check.jaws import Jaws
from ovolo.check.measured import Reading
from ovolo.check.positions import positions_of


@pytest.mark.parametrize("name", ["dome", "ball", "crown", "bore"])
@pytest.mark.parametrize("over", [0.0, 3.0])
def test_jaws_read_what_they_would_on_the_swept_metal(name: str, over: float) -> None:
    made = shape(name)
    metal = make(made.job, made.moves, Wrong(), 1, scatter=False)
    zs = [z for z in places(name, 8) if z + over / 2 < 0 and z - over / 2 > made.plan.job.part.curve[1]]
    at = positions_of(made.plan)
    read = np.abs(Jaws.on(at, [Reading(z, 0.0, 0.01, 0.02, over) for z in zs], 0.1).at_place(at))
    assert read == pytest.approx([metal.radius(z - over / 2, z + over / 2) for z in zs], abs=1.5e-3)


def test_on_a_slope_jaws_touch_at_their_uphill_edge() -> None:
    at = positions_of(shape("dome").plan)
    jaws = Jaws.on(at, [Reading(-3.0, 0.0, 0.01, 0.02, 3.0)], 0.1)
    assert jaws.touching(at) == pytest.approx([-4.5], abs=0.02)


def test_a_place_counts_where_the_outline_is_steep() -> None:
    at = positions_of(shape("dome").plan)
    jaws = Jaws.on(at, [Reading(z, 0.0, 0.01, 0.1) for z in (-0.6, -3.0, -15.0)], 0.1)
    spread = np.sqrt(jaws.from_place(at))
    # on a ball of radius 9 a place that is off by 0.1 mm counts 0.1 / tan f: 0.26 and 0.09 mm; nothing on a cylinder
    assert spread[0] == pytest.approx(0.26, rel=0.3)
    assert spread[1] == pytest.approx(0.09, rel=0.3)
    assert spread[2] < 1e-3
