"""The kept drawings: each is read as what it was drawn to be, or refused for the reason that it was made for."""

import importlib.util
import math
from pathlib import Path
from types import ModuleType

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc
from ovolo.part.files import Asked, read_drawing
from ovolo.part.forms import outline_from_forms

FOLDER = Path(__file__).parents[2] / "drawings"

PIN = [{"form": "dome", "diameter": 18}, {"form": "cylinder", "to": -24}]
LEVER = [
    {"form": "ball", "diameter": 25, "neck": 12},
    {"form": "taper", "to": -52.5, "to_diameter": 16},
    {"form": "face", "diameter": 24},
    {"form": "cylinder", "to": -62.5},
]
FINIAL = [
    {"form": "ball", "diameter": 20, "neck": 12},
    {"form": "cove", "length": 8, "radius": math.hypot(4.5, 4)},
    {"form": "face", "diameter": 24},
    {"form": "cylinder", "length": 14},
]
BUSH = [{"form": "bell mouth", "diameter": 20, "length": 6, "mouth": 30}, {"form": "cylinder", "to": -40}]
DOWEL = [
    {"form": "chamfer", "width": 0.04 * 25.4},
    {"form": "taper", "diameter": 0.5 * 25.4, "to_diameter": 0.56 * 25.4, "length": 1.46 * 25.4},
    {"form": "cylinder", "to": -2.2 * 25.4},
]
RIM = [
    {"form": "face", "diameter": 80},
    {"form": "crown", "length": 40, "radius": 200},
    {"form": "cylinder", "length": 20},
]


def _apart(one: Outline, other: Outline) -> float:
    """The greatest distance between points at the same share of two outlines, mm."""
    places = [k / 200 for k in range(201)]
    return max(math.dist(_at(one, k), _at(other, k)) for k in places)


def _at(outline: Outline, share: float) -> tuple[float, float]:
    s = share * outline.length
    for segment in outline.segments:
        if s <= segment.length:
            return segment.point(s)
        s -= segment.length
    return outline.end


def _flat(outline: Outline) -> list[float]:
    return [v for p in outline.nodes for v in p]


@pytest.mark.parametrize(
    ("name", "asked", "forms", "within"),
    [
        ("bridge-pin-half.dxf", Asked(), PIN, 1e-6),
        ("bridge-pin-r12.dxf", Asked(unit="mm"), PIN, 1e-6),
        ("bridge-pin.svg", Asked(), PIN, 1e-6),
        ("bridge-pin.csv", Asked(unit="mm"), PIN, 2e-6),
        ("winch-lever-whole.dxf", Asked(), LEVER, 1e-6),
        ("winch-lever-loose.dxf", Asked(), LEVER, 0.02),
        ("lamp-finial-block.dxf", Asked(axis="x=40"), FINIAL, 1e-6),
        ("bronze-bush.dxf", Asked(surface="bore"), BUSH, 2e-3),
        ("dowel-inch.dxf", Asked(), DOWEL, None),
    ],
)
def test_a_drawing_is_read_as_what_was_drawn(
    name: str, asked: Asked, forms: list[dict[str, object]], within: float | None
) -> None:
    drawing = read_drawing(FOLDER / name, asked)
    expected = outline_from_forms(forms, 1.0, asked.surface)
    assert drawing.outline.end == pytest.approx(expected.end, abs=1e-3)
    if within is not None:
        assert _apart(drawing.outline, expected) <= within
    assert drawing.deviation <= 1e-3


def test_doubled_and_overlapping_lines_leave_one_outline_and_a_note() -> None:
    drawing = read_drawing(FOLDER / "dowel-inch.dxf")
    assert drawing.unit == "in"
    assert [p.y / 25.4 for p in drawing.outline.nodes] == pytest.approx([0, 0.21, 0.25, 0.28, 0.28])
    assert any("lay on others" in note for note in drawing.notes)


def test_a_drawing_turned_by_thirty_degrees_is_read_along_its_centre_line() -> None:
    outline = read_drawing(FOLDER / "pulley-turned.dxf").outline
    crown = outline.segments[1]
    assert isinstance(crown, Arc)
    assert crown.radius == pytest.approx(200)
    assert _flat(outline) == pytest.approx([0, 36, 0, 40, -40, 40, -60, 40], abs=1e-6)


def test_clones_and_inches_in_an_svg() -> None:
    outline = read_drawing(FOLDER / "winch-lever-inch.svg").outline
    assert _flat(outline) == pytest.approx([0, 0, -22.86, 7.62, -22.86, 5.08, -50.8, 6.35], abs=1e-6)


def test_beziers_become_tangent_arcs_within_a_micrometre() -> None:
    drawing = read_drawing(FOLDER / "lamp-finial.svg")
    assert 0 < drawing.deviation <= 1e-3
    smooth = [
        abs(math.sin(math.atan2(*reversed(a.tangent(a.length))) - math.atan2(*reversed(b.tangent(0)))))
        for a, b in zip(drawing.outline.segments, drawing.outline.segments[1:], strict=False)
    ]
    # The path has one corner, where its curve ends on a line; all else runs on.
    assert sum(turn > 1e-6 for turn in smooth) <= 2


def test_a_spline_below_the_axis_with_its_free_end_on_the_left() -> None:
    drawing = read_drawing(FOLDER / "handle-spline.dxf")
    assert drawing.outline.start == pytest.approx((0, 0), abs=1e-9)
    assert drawing.outline.end == pytest.approx((-100, 10), abs=1e-6)
    assert any("left" in note for note in drawing.notes)


def test_points_that_scatter_are_refused_or_smoothed_by_choice() -> None:
    path = FOLDER / "handle-measured.csv"
    with pytest.raises(JobFaults, match="scatter by about 0\\.0"):
        read_drawing(path, Asked(unit="mm"))
    smoothed = read_drawing(path, Asked(unit="mm", smooth=0.06))
    assert smoothed.deviation <= 0.06
    assert len(smoothed.outline.segments) < 15


def test_the_hand_made_file_and_the_written_one_give_the_same_outline() -> None:
    one = read_drawing(FOLDER / "bridge-pin-half.dxf").outline
    other = read_drawing(FOLDER / "bridge-pin-r12.dxf", Asked(unit="mm")).outline
    assert [type(s) for s in one.segments] == [type(s) for s in other.segments]
    assert _flat(one) == pytest.approx(_flat(other), abs=1e-9)


@pytest.mark.parametrize(
    ("name", "asked", "says"),
    [
        ("bridge-pin-r12.dxf", Asked(), "does not say whether it is in mm or inches"),
        ("bridge-pin.csv", Asked(), "does not say whether it is in mm or inches"),
        ("lamp-finial-block.dxf", Asked(), "the axis is not certain"),
        ("bad-crossing.dxf", Asked(), "crosses itself"),
        ("bad-touching.dxf", Asked(), "touches the axis at z = -12.000 mm"),
        ("bad-tilted.dxf", Asked(), "one plane"),
        ("bad-cyclic-blocks.dxf", Asked(), "holds itself"),
        ("bad-unfolding-blocks.dxf", Asked(), "blocks unfolded"),
        ("bad-not-a-number.dxf", Asked(unit="mm"), "not a number"),
        ("bad-entities.svg", Asked(), "document type"),
        ("bad-clones.svg", Asked(), "more in it than a turned part can have"),
    ],
)
def test_a_bad_drawing_is_refused_for_what_is_wrong_with_it(name: str, asked: Asked, says: str) -> None:
    with pytest.raises(JobFaults, match=says) as refused:
        read_drawing(FOLDER / name, asked)
    assert all(fault.remedy for fault in refused.value.faults)


def _script() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_drawings", FOLDER / "make.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_script_makes_what_is_kept() -> None:
    files = _script().FILES
    kept = {path.name for path in FOLDER.iterdir() if path.suffix in (".dxf", ".svg", ".csv")}
    assert set(files) == kept
    for name in ("bridge-pin.svg", "bridge-pin-r12.dxf", "handle-measured.csv", "winch-lever-inch.svg"):
        assert files[name]() == (FOLDER / name).read_text(encoding="utf-8")
