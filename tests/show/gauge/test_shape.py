"""The shape of a gauge."""

import math
from itertools import pairwise

import pytest
import shapely
from shapely import affinity
from tests.show.plans import NAMES, planned

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc
from ovolo.plan.sweep.sweep import part_region
from ovolo.plan.view.frame import Frame
from ovolo.show.gauge.shape import FLAT, Plate, Side, held, plate, widened
from ovolo.show.paper.cuts import Cuts


@pytest.mark.parametrize("side", ["air", "part"])
@pytest.mark.parametrize("name", NAMES)
def test_a_plate_is_closed_and_on_its_own_side(name: str, side: Side) -> None:
    job = planned(name).job
    edge = job.part.outline.stretch(0.0, job.part.outline.length)
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
    first, second = outline.stretch(2.0, 20.0)
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


def _solid(shape: Plate) -> shapely.Polygon:
    return shapely.Polygon(Outline(shape.segments).flattened(FLAT))


def _metal(name: str) -> shapely.Geometry:
    return part_region(Frame(planned(name).job))


def test_no_plate_has_to_pass_a_lip() -> None:
    """Moved off square to the axis, the plate over a lip and its hollow meets no metal on its way."""
    part = planned("lip").job.part
    shape = held(part, 0.0, part.outline.length, "air")
    assert shape.way == "side"
    ((greater, lesser),) = shape.left_out
    assert greater == pytest.approx(-5.17, abs=0.005)
    assert lesser == pytest.approx(-6.0)
    solid = _solid(plate(part, shape.edge, "air", 5.0))
    assert solid.is_valid
    for off in (0.0, 0.5, 2.0, 6.0):
        assert affinity.translate(solid, 0, off).intersection(_metal("lip")).area < 1e-3


def test_the_plate_of_a_dish_slides_on_along_the_axis() -> None:
    part = planned("dish").job.part
    shape = held(part, 0.0, part.outline.length, "air")
    assert shape.way == "end"
    assert not shape.left_out
    solid = _solid(plate(part, shape.edge, "air", 5.0))
    assert solid.is_valid
    for off in (0.0, 0.5, 2.0, 6.0):
        assert affinity.translate(solid, off, 0).intersection(_metal("dish")).area < 1e-3


def test_a_plate_of_the_part_s_own_form_has_the_hollow_too() -> None:
    part = planned("lip").job.part
    shape = held(part, 8.0, 14.0, "part")  # to the middle of the hollow: carried on until its ends stand clear
    solid = _solid(plate(part, shape.edge, "part", 4.0))
    assert solid.is_valid
    assert solid.difference(_metal("lip")).area < 1e-3
