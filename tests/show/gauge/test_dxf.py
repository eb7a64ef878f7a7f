"""The gauge as DXF, read back and measured."""

from io import StringIO
from typing import Any

import pytest
import shapely
from ezdxf.filemanagement import read
from tests.show.plans import NAMES, planned

from ovolo.geometry.outline import Outline
from ovolo.show.gauge.dxf import gauge_as_dxf
from ovolo.show.gauge.shape import FLAT
from ovolo.show.gauge.template import gauge_view


def _read(text: str) -> Any:
    return read(StringIO(text))


def _points(entity: Any) -> list[tuple[float, float]]:
    if entity.dxftype() == "ARC":
        return [(p.x, p.y) for p in entity.flattening(1e-4)]
    if entity.dxftype() == "LINE":
        return [(entity.dxf.start.x, entity.dxf.start.y), (entity.dxf.end.x, entity.dxf.end.y)]
    return [(x, y) for x, y, *_ in entity.get_points()]


@pytest.mark.parametrize("name", NAMES)
def test_arcs_are_arcs_and_everything_is_true_to_a_hundredth(name: str) -> None:
    view = gauge_view(planned(name).job)
    document = _read(gauge_as_dxf(view))
    assert document.units == 4
    assert not document.audit().errors
    entities = list(document.modelspace().query('*[layer=="cut"]'))
    assert {entity.dxftype() for entity in entities} == {"LINE", "ARC"}
    true = shapely.LinearRing(Outline(view.plates[0].segments).flattened(FLAT))
    low = true.bounds[1]
    drawn = shapely.MultiLineString([[(x, y + low) for x, y in _points(entity)] for entity in entities])
    assert shapely.hausdorff_distance(drawn, true) < 0.01


def test_with_a_kerf_the_beam_leaves_the_plate_true() -> None:
    view = gauge_view(planned("bridge-pin").job, sides="part", kerf=0.2)
    (entity,) = _read(gauge_as_dxf(view)).modelspace().query('LWPOLYLINE[layer=="cut"]')
    cut = shapely.Polygon(_points(entity))
    plate = shapely.Polygon(Outline(view.plates[0].segments).flattened(FLAT))
    low = plate.bounds[1]
    left = shapely.affinity.translate(cut, 0, low).buffer(-0.1, quad_segs=64)
    assert shapely.hausdorff_distance(left.boundary, plate.boundary) < 0.01


def test_there_is_a_bar_of_2_inches_and_the_same_bytes() -> None:
    view = gauge_view(planned("winch-pin-inch").job, sides="both")
    text = gauge_as_dxf(view)
    lines = _read(text).modelspace().query('LINE[layer=="words"]')
    assert any(abs(line.dxf.start.x - line.dxf.end.x) == pytest.approx(50.8) for line in lines)
    assert text == gauge_as_dxf(view)
