"""The metal while a plan is carried out."""

from itertools import pairwise

import pytest
from tests.show.plans import NAMES, planned

from ovolo.show.paper.cuts import Cuts, polygons


@pytest.mark.parametrize("name", NAMES)
def test_chips_are_what_the_planner_swept(name: str) -> None:
    plan = planned(name)
    for move, chip in zip(plan.moves, Cuts(plan).chips, strict=True):
        assert chip.area == pytest.approx(move.area, abs=1e-3)


@pytest.mark.parametrize("name", ["bridge-pin", "bush"])
def test_metal_is_lost_move_by_move_and_the_part_stays(name: str) -> None:
    cuts = Cuts(planned(name))
    areas = [cuts.after(n).area for n in range(len(cuts.plan.moves) + 1)]
    assert areas[0] == pytest.approx(cuts.blank.area)
    assert all(after <= before + 1e-9 for before, after in pairwise(areas))
    assert cuts.left.intersection(cuts.part).area == pytest.approx(cuts.part.area, abs=1e-3)
    assert cuts.to_go(cuts.left).area == pytest.approx(cuts.left.area - cuts.part.area, abs=1e-3)


def test_regions_of_a_bore_lie_at_their_radii() -> None:
    cuts = Cuts(planned("bush"))
    assert cuts.bore
    _, low, _, high = cuts.part.bounds
    assert [low, high] == pytest.approx([10, 25], abs=1e-3)


def test_hairs_are_no_pieces() -> None:
    cuts = Cuts(planned("bridge-pin"))
    assert len(polygons(cuts.part)) == 1
    assert polygons(cuts.part.intersection(cuts.part.boundary)) == []
