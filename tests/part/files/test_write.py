"""Outlines written and read back: DXF, SVG, points, and the outline of a job."""

import math
from collections.abc import Callable
from io import StringIO

import pytest
from ezdxf.filemanagement import read as read_back

from ovolo.documents.reading import job_from_data
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.part.files import (
    Asked,
    outline_csv,
    outline_dxf,
    outline_points,
    outline_svg,
    read_dxf,
    read_points,
    read_svg,
)
from ovolo.part.forms import outline_from_forms
from ovolo.units import Unit

SHAPES: dict[str, list[dict[str, object]]] = {
    "bridge pin": [{"form": "dome", "diameter": 18}, {"form": "cylinder", "to": -24}],
    "winch lever": [
        {"form": "ball", "diameter": 25, "neck": 12},
        {"form": "taper", "length": 40, "to_diameter": 16},
        {"form": "fillet", "radius": 3},
        {"form": "face", "diameter": 24},
        {"form": "chamfer", "width": 1},
        {"form": "cylinder", "length": 10},
    ],
    "lamp finial": [
        {"form": "ball", "diameter": 20, "neck": 8},
        {"form": "cove", "length": 8, "to_diameter": 14, "depth": 2},
        {"form": "bead", "length": 6},
        {"form": "ogee", "length": 15, "to_diameter": 30},
        {"form": "cylinder", "length": 5},
    ],
    "handle": [
        {"form": "dome", "diameter": 16},
        {"form": "handle", "through": [[0, 16], [30, 24], [80, 14], [100, 18]]},
    ],
}


def _apart(one: Outline, other: Outline) -> float:
    assert [type(s) for s in one.segments] == [type(s) for s in other.segments]
    pairs = zip(one.segments, other.segments, strict=True)
    return max(
        math.dist(a.point(k * a.length), b.point(k * b.length)) for a, b in pairs for k in (0, 0.25, 0.5, 0.75, 1)
    )


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize(("write", "read"), [(outline_dxf, read_dxf), (outline_svg, read_svg)])
def test_a_round_trip_keeps_every_segment_within_a_tenth_of_a_micrometre(
    name: str, unit: Unit, write: Callable[..., str], read: Callable[..., object]
) -> None:
    outline = outline_from_forms(SHAPES[name], 1.0)
    drawing = read(write(outline, unit).encode())
    assert _apart(outline, drawing.outline) < 1e-4  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_outline_of_a_job_reads_back_to_the_same_outline(name: str, unit: Unit) -> None:
    outline = outline_from_forms(SHAPES[name], 1.0)
    job = {
        "title": name,
        "units": unit,
        "part": {"outline": outline_points(outline, "outside", unit)},
        "stock": {"diameter": 60 if unit == "mm" else 2.5},
        "tool": [{"name": "round", "kind": "round", "nose_radius": "0.5 mm"}],
    }
    assert _apart(outline, job_from_data(job).part.outline) < 1e-5


@pytest.mark.parametrize("name", SHAPES)
def test_points_read_back_within_their_chords(name: str) -> None:
    outline = outline_from_forms(SHAPES[name], 1.0)
    again = read_points(outline_csv(outline, sagitta=5e-4).encode(), Asked(unit="mm", tolerance=1e-3))
    assert again.deviation <= 1e-3
    assert again.outline.end == pytest.approx(outline.end, abs=1e-6)
    assert len(again.outline.segments) <= len(outline.segments) + 2


def test_a_dxf_has_real_dimensions_and_no_faults() -> None:
    outline = outline_from_forms(SHAPES["winch lever"], 1.0)
    document = read_back(StringIO(outline_dxf(outline)))
    assert not document.audit().errors
    found = list(document.modelspace().query("DIMENSION"))
    measured = sorted(round(float(d.get_measurement()), 3) for d in found)
    assert {12.5, 3.0, 12.0, 16.0, 24.0} <= set(measured) or len(measured) > 8
    assert 73.466 in measured
    assert 12.5 in measured
    assert {d.dxf.layer for d in found} == {"dimensions"}


def test_an_arc_of_more_than_half_a_turn_goes_through_a_third_point() -> None:
    long = Arc.from_radius(Point(0, 6), Point(-16, 6), 10, ccw=True, long=True)
    row = outline_points(Outline((long,)))[1]
    assert row["through"] == pytest.approx([-8, 2 * (6 + 6 + 10)])


def test_convex_and_concave_follow_the_metal() -> None:
    arc = Outline((Arc(Point(0, 14), Point(-4, 10), Point(-4, 14), ccw=False),))
    assert outline_points(arc, "bore")[1] == {"z": -4, "d": 20, "convex": 4}
    assert outline_points(arc, "outside")[1] == {"z": -4, "d": 20, "concave": 4}


def test_a_title_cannot_break_the_svg() -> None:
    text = outline_svg(Outline((Line(Point(0, 9), Point(-24, 9)),)), title="<b> & co")
    assert "&lt;b> &amp; co" in text


def test_rounded_figures_keep_the_arcs_and_few_decimals() -> None:
    """A tenth of a micrometre: radii get as many figures as move the middle of their arc by less than twice that."""
    outline = outline_from_forms(SHAPES["handle"], 1.0)
    rows = outline_points(outline, decimals=4)
    assert all(len(f"{row[key]}".partition(".")[2]) <= 4 for row in rows for key in row if key != "through")
    assert [row.get("convex") for row in rows[1:2]] == [8]
    job = job_from_data({"title": "Handle", "part": {"outline": rows}, "stock": {"diameter": 60},
                         "tool": [{"name": "round", "kind": "round", "nose_radius": 0.5}]})  # fmt: skip
    assert _apart(outline, job.part.outline) < 5e-4
