"""The shape of a gauge."""

import math
from itertools import pairwise

import pytest
import shapely
from tests.show.plans import NAMES, planned

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc
from ovolo.show.cuts import Cuts
from ovolo.show.gauge_shape import FLAT, Side, plate, stretch_of, widened


@pytest.mark.parametrize("side", ["air", "part"])
@pytest.mark.parametrize("name", NAMES)
def test_a_plate_is_closed_and_on_its_own_side(name: str, side: Side) -> None:
    job = planned(name).job
    edge = stretch_of(job.part.outline, 0.0, job.part.outline.length)
    shape = plate(job.part, edge, side, 15.0)
    for one, other in pairwise((*shape.segments, shape.segments[0])):
        assert math.dist(one.end, other.start) < 1e-6
    region = shapely.Polygon(Outline(shape.segments).flattened(FLAT))
    assert region.is_valid
    inside = region.intersection(Cuts(planned(name)).part).area
    if side == "air":
        assert inside < 1e-3 * region.length
    elif job.part.surface == "outside":
        assert inside == pytest.approx(region.area, rel=1e-3)


def test_a_stretch_keeps_arcs_and_their_centres() -> None:
    outline = planned("bridge-pin").job.part.outline
    first, second = stretch_of(outline, 2.0, 20.0)
    assert isinstance(first, Arc)
    assert first.radius == pytest.approx(9.0)
    assert first.length + second.length == pytest.approx(18.0)


def test_the_kerf_lies_half_outside() -> None:
    job = planned("bridge-pin").job
    shape = plate(job.part, job.part.outline.segments, "part", 15.0)
    region = shapely.Polygon(Outline(shape.segments).flattened(FLAT))
    wide = widened(shape, 0.2)
    assert shapely.hausdorff_distance(wide.boundary, region.boundary) == pytest.approx(0.1, abs=2e-3)
    assert wide.contains(region)
