"""The gauge on paper: its geometry is measured in the PDF, to 0.01 mm."""

import ctypes
import math
import re
from xml.etree import ElementTree

import pypdfium2
import pypdfium2.raw as pdf
import pytest
import shapely
from tests.show.plans import NAMES, planned

from ovolo.documents.reading import job_from_data
from ovolo.errors import JobFaults
from ovolo.geometry.outline import Outline
from ovolo.show.gauge.shape import FLAT
from ovolo.show.gauge.template import Sides, gauge_as_pdf, gauge_as_svg, gauge_view

MM = 25.4 / 72


def _paths(made: bytes) -> list[list[tuple[float, float]]]:
    """Every path of the first page, flattened, in mm, y upward."""
    document = pypdfium2.PdfDocument(made)
    found: list[list[tuple[float, float]]] = []
    for item in document[0].get_objects(max_depth=15):
        if item.type == pdf.FPDF_PAGEOBJ_PATH:
            found.append(_points(item))
    return found


def _points(item: pypdfium2.PdfObject) -> list[tuple[float, float]]:
    matrix = item.get_matrix()
    container = item.container
    while container is not None:
        matrix = matrix.multiply(container.get_matrix())
        container = container.container
    out: list[tuple[float, float]] = []
    bends: list[tuple[float, float]] = []
    for k in range(pdf.FPDFPath_CountSegments(item)):
        segment = pdf.FPDFPath_GetPathSegment(item, k)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdf.FPDFPathSegment_GetPoint(segment, x, y)
        point = matrix.on_point(x.value, y.value)
        if pdf.FPDFPathSegment_GetType(segment) == pdf.FPDF_SEGMENT_BEZIERTO:
            bends.append(point)
            if len(bends) == 3:
                out += _bent(out[-1], *bends)
                bends = []
        else:
            out.append(point)
    return [(px * MM, py * MM) for px, py in out]


def _bent(*p: tuple[float, float]) -> list[tuple[float, float]]:
    out = []
    for k in range(1, 33):
        t = k / 32
        w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        out.append((sum(a * q[0] for a, q in zip(w, p, strict=True)), sum(a * q[1] for a, q in zip(w, p, strict=True))))
    return out


@pytest.mark.parametrize("sides", ["air", "part"])
@pytest.mark.parametrize("name", NAMES)
def test_the_plate_is_true_to_a_hundredth(name: str, sides: Sides) -> None:
    view = gauge_view(planned(name).job, sides=sides)
    true = shapely.LinearRing(Outline(view.plates[0].segments).flattened(FLAT))
    z0, r0, _, _ = true.bounds
    sized = [p for p in _paths(gauge_as_pdf(view)) if len(p) > 3]
    best = min((_distance(path, true, (z0, r0)) for path in sized), default=math.inf)
    assert best < 0.01


def _distance(path: list[tuple[float, float]], true: shapely.LinearRing, corner: tuple[float, float]) -> float:
    """The greatest distance between a path, moved to the same corner, and the true ring."""
    left, low = min(x for x, _ in path), min(y for _, y in path)
    moved = shapely.LineString([(x - left + corner[0], y - low + corner[1]) for x, y in path])
    there = max(true.distance(shapely.Point(p)) for p in moved.coords)
    back = max(moved.distance(shapely.Point(p)) for p in true.coords)
    return max(there, back)


@pytest.mark.parametrize(("name", "bar"), [("bridge-pin", 50.0), ("winch-pin-inch", 50.8)])
def test_both_bars_are_50_mm_or_2_inches(name: str, bar: float) -> None:
    spans = [
        (max(x for x, _ in p) - min(x for x, _ in p), max(y for _, y in p) - min(y for _, y in p))
        for p in _paths(gauge_as_pdf(gauge_view(planned(name).job)))
        if len(p) == 2
    ]
    assert any(wide == pytest.approx(bar, abs=0.005) and tall < 0.001 for wide, tall in spans)
    assert any(tall == pytest.approx(bar, abs=0.005) and wide < 0.001 for wide, tall in spans)


@pytest.mark.parametrize("name", ["winch-pin-inch", "sheave-inch"])
def test_the_gauge_of_an_inch_job_is_in_inches_everywhere(name: str) -> None:
    svg, _ = gauge_as_svg(gauge_view(planned(name).job))
    words = re.findall(r">([^<]+)<", svg)
    assert any("2 in" in said for said in words)
    assert not [said for said in words if re.search(r"\bmm", said)]


def test_the_same_gauge_gives_the_same_bytes() -> None:
    view = gauge_view(planned("bush").job, sides="both", kerf=0.15)
    assert gauge_as_pdf(view) == gauge_as_pdf(view)


def test_notes_say_how_to_use_it() -> None:
    view = gauge_view(planned("bridge-pin").job, kerf=0.2)
    notes = " ".join(view.notes)
    assert "R 9, the hollow side" in notes
    assert "0.1 mm outside the true edge: half the kerf" in notes
    # 1 mm thick at Ø 9: 4.5 - sqrt(4.5² - 0.5²) = 0.0279; derived
    assert "at Ø 9 it is off by 0.028 mm" in notes


def test_a_large_gauge_takes_a_large_page_and_a_larger_one_is_refused() -> None:
    def job(size: float) -> object:
        return {
            "version": 1,
            "title": "Pulley",
            "part": {
                "outline": [
                    {"z": 0, "d": 0},
                    {"z": -size, "d": 2 * size, "convex": size},
                    {"z": -size - 9, "d": 2 * size},
                ]
            },
            "stock": {"diameter": 2 * size + 2, "proud": 1},
            "tool": [{"name": "r", "kind": "round", "nose_radius": 4}],
        }

    _, page = gauge_as_svg(gauge_view(job_from_data(job(150))))
    assert page.width > 210
    with pytest.raises(JobFaults, match="larger than the largest page"):
        gauge_as_svg(gauge_view(job_from_data(job(600))))


@pytest.mark.parametrize("letter", [False, True])
def test_everything_written_lies_on_the_page(letter: bool) -> None:
    for name in NAMES:
        svg, page = gauge_as_svg(gauge_view(planned(name).job, sides="both"), letter=letter)
        for element in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text"):
            assert 0 < float(element.get("x", "-1")) < page.width
            assert 0 < float(element.get("y", "-1")) < page.height
