"""Forms to start from: every size has a usual value in either unit, and makes an outline."""

import pytest

from ovolo.documents.starting import form_outline, sizes_told
from ovolo.documents.starts import STARTS, usual_size
from ovolo.geometry.segments import Line
from ovolo.units import Unit


@pytest.mark.parametrize("name", STARTS)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_usual_sizes_make_an_outline_that_ends_in_a_cylinder(name: str, unit: Unit) -> None:
    start = STARTS[name]
    forms, outline = form_outline(start, sizes_told(start, {}, unit), start.surface, unit)
    assert len(forms) >= 2
    last = outline.segments[-1]
    assert isinstance(last, Line)
    assert last.start.y == pytest.approx(last.end.y), "to be gripped or cut off there"


def test_a_dome_is_whole_unless_its_height_is_given() -> None:
    assert usual_size(STARTS["dome"], "height", "mm", {"diameter": "30"}) == "15.000000 mm"
    assert usual_size(STARTS["dome"], "diameter", "in", {}) == "0.75"


def test_the_corner_of_a_neck_is_rounded() -> None:
    start = STARTS["ball"]
    _, outline = form_outline(start, sizes_told(start, {"fillet": "4"}, "mm"), "outside", "mm")
    assert [round(s.radius, 6) for s in outline.segments if not isinstance(s, Line)] == [12.5, 4.0]
