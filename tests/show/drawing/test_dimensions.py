"""Dimensions that never touch one another."""

import re
from itertools import combinations, pairwise

import pytest
import shapely
from tests.show.plans import NAMES, planned

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.show.drawing.dimensions import MOST, dimensions, draw_dimensions, rows_height
from ovolo.show.drawing.half_section import drawing_view
from ovolo.show.drawing.holding import centre_points
from ovolo.show.paper.layout import Layout
from ovolo.show.paper.shapes import Place


def test_the_dome_has_its_three_sizes() -> None:
    sizes = dimensions(planned("bridge-pin").job.part.outline, "mm")
    assert [length.text for length in sizes.lengths] == ["9", "24"]
    assert [diameter.text for diameter in sizes.diameters] == ["Ø 18"]
    assert [radius.text for radius in sizes.radii] == ["R 9"]


def test_inches_are_written_in_inches() -> None:
    sizes = dimensions(planned("winch-pin-inch").job.part.outline, "in")
    assert [length.text for length in sizes.lengths] == ["0.1693", "0.9"]
    assert [radius.text for radius in sizes.radii] == ["R 0.5"]


def test_equal_radii_are_named_once() -> None:
    beads = Outline(
        (
            Arc(Point(0, 5), Point(-1, 6), Point(-1, 5), True),
            Line(Point(-1, 6), Point(-9, 6)),
            Arc(Point(-9, 6), Point(-10, 7), Point(-9, 7), False),
        )
    )
    assert [radius.text for radius in dimensions(beads, "mm").radii] == ["R 1 (2×)"]


def test_a_curve_of_a_hundred_pieces_is_not_dimensioned_joint_by_joint() -> None:
    steps = [Point(-k, 5 + 0.05 * k + 0.01 * (k % 2)) for k in range(101)]
    sizes = dimensions(Outline(tuple(Line(a, b) for a, b in pairwise(steps))), "mm")
    assert len(sizes.lengths) <= MOST
    assert any(length.text == "100" for length in sizes.lengths)
    assert rows_height(sizes) < 60


@pytest.mark.parametrize("scale", [0.7, 2.0, 6.0])
@pytest.mark.parametrize("name", NAMES)
def test_no_two_texts_overlap(name: str, scale: float) -> None:
    job = planned(name).job
    size = 30 / job.shop.stock.radius * scale
    layout, place = Layout((-600, -600, 900, 900)), Place(0, 0, size)
    sizes = dimensions(job.part.outline, job.units)
    edge = place.at(0.5, -job.shop.stock.radius)
    pieces, missing = draw_dimensions(sizes, place, layout, job.part.outline, edge)
    assert all(not one.intersects(other) for one, other in combinations(layout.words, 2))
    written = [re.sub("<[^>]*>", "", piece) for piece in pieces if "<text" in piece]
    every = [s.text for s in sizes.lengths] + [s.text for s in sizes.diameters] + [s.text for s in sizes.radii]
    assert sorted(written + missing) == sorted(every)
    assert not any(words.intersects(line) for words in layout.words for line in _drawn(pieces))


def test_no_dimension_crosses_the_centre() -> None:
    view = drawing_view(planned("winch-handle"))
    place = Place(0, 0, 2.5)
    edge, layout = place.at(1.0, -9.0), Layout((-300, -300, 300, 300))
    free, _ = draw_dimensions(view.sizes, place, layout, view.outline, edge)
    centre = shapely.Polygon([place.at(*point) for point in centre_points(view.cuts, 30.0)] + [place.at(30.0, 0.0)])
    inside = centre.buffer(-0.2)
    assert any(line.intersects(inside) for line in _drawn(free)), "without it the lines go past the axis"
    layout = Layout((-300, -300, 300, 300))
    layout.add_region(centre)
    kept, missing = draw_dimensions(view.sizes, place, layout, view.outline, edge)
    assert not any(line.intersects(inside) for line in _drawn(kept))
    assert not missing


def _drawn(pieces: list[str]) -> list[shapely.LineString]:
    """Dimension lines, extension lines and leaders as drawn."""
    lines = []
    for piece in pieces:
        if piece.startswith('<path class="thin"'):
            n = [float(x) for x in re.findall(r"-?[0-9.]+", piece.split(' d="')[1])]
            lines.append(shapely.LineString([(n[0], n[1]), (n[2], n[3])]))
    assert lines
    return lines
