"""The metal under lips, against the exact sweep of the same plans and against geometry."""

import numpy as np
import pytest
import shapely
from tests.show.plans import planned

from ovolo.predict.loads.engaged import engaged
from ovolo.predict.loads.under_overhangs import inside, roof_of


@pytest.mark.parametrize("name", ["lip", "dish"])
def test_cuts_under_a_lip_are_seen_as_the_sweep_takes_them(name: str) -> None:
    plan = planned(name)
    seen = {cut.n: cut.area for cut in engaged(plan)}
    cuts = [move for move in plan.moves if move.cuts and move.area > 0.03]
    for move in cuts:
        assert seen[move.n] == pytest.approx(move.area, rel=0.2, abs=0.03)


def test_only_what_doubles_back_needs_it() -> None:
    assert roof_of(planned("bridge-pin").frame, np.array([-5.0]), -1.0) is None


def test_the_roof_is_the_lip_and_not_its_hollow() -> None:
    found = roof_of(planned("lip").frame, np.array([-5.5, -4.0, -12.0, 3.0]), -1.0)
    assert found == pytest.approx([10, 10, 6, -1])


def test_places_in_and_out_of_metal() -> None:
    box = shapely.box(0, 0, 2, 1)
    assert inside(box, np.array([1.0, 3.0, 1.0]), np.array([0.5, 0.5, 2.0])).tolist() == [1.0, 0.0, 0.0]
