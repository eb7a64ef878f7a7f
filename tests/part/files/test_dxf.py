"""DXF: entities, layers, line types, units, damage."""

import math
from collections.abc import Callable
from io import StringIO
from typing import Any

import pytest
from ezdxf.filemanagement import new

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc
from ovolo.part.files import Asked, Drawing, read_dxf

X = Asked(axis="x")


def _bytes(build: Callable[[Any, Any], object], units: int = 4) -> bytes:
    document = new("R2000", setup=True, units=units)
    build(document.modelspace(), document)
    out = StringIO()
    document.write(out)
    return out.getvalue().encode()


def _read(build: Callable[[Any, Any], object], asked: Asked = X, units: int = 4) -> Drawing:
    return read_dxf(_bytes(build, units), asked)


def _shank(space: Any, _: Any) -> None:
    space.add_line((0, 9), (-24, 9))


@pytest.mark.parametrize(("units", "mm"), [(1, 25.4), (4, 1), (5, 10), (6, 1000)])
def test_units_come_from_the_header(units: int, mm: float) -> None:
    drawing = _read(lambda space, _: space.add_line((0, 0.9), (-2.4, 0.9)), units=units)
    assert drawing.outline.end == pytest.approx((-2.4 * mm, 0.9 * mm))


def test_told_units_win_with_a_note() -> None:
    drawing = _read(_shank, Asked(axis="x", unit="in"))
    assert drawing.outline.end.y == pytest.approx(9 * 25.4)
    assert any("was given and is used" in note for note in drawing.notes)


def test_no_units_are_asked_for() -> None:
    with pytest.raises(JobFaults, match="mm or inches"):
        _read(_shank, units=0)


def test_every_kind_of_entity() -> None:
    def build(space: Any, document: Any) -> None:
        space.add_arc((-9, 0), 9, 0, 90)
        space.add_polyline2d([(-9, 9), (-12, 9, 0, 0, 0.3), (-20, 9), (-22, 9)], format="xyseb")
        space.add_lwpolyline([(-22, 9), (-22, 12), (-30, 12)])
        block = document.blocks.new("END")
        block.add_line((0, 0), (-5, 0))
        space.add_blockref("END", (-30, 12))
        space.add_ellipse((-35, 17), (10, 0), 0.5, math.pi, 1.5 * math.pi)
        space.add_spline([(-45, 17), (-50, 18), (-60, 17)])

    drawing = _read(build)
    assert drawing.outline.start == pytest.approx((0, 0))
    assert drawing.outline.end == pytest.approx((-60, 17))
    assert 0 < drawing.deviation <= 1e-3
    assert isinstance(drawing.outline.segments[0], Arc)


def test_a_mirrored_arc_and_a_mirrored_plane_are_the_same() -> None:
    def plain(space: Any, _: Any) -> None:
        space.add_arc((-9, 0), 9, 0, 90)
        space.add_line((-9, 9), (-24, 9))

    def from_behind(space: Any, _: Any) -> None:
        space.add_arc((9, 0), 9, 90, 180, dxfattribs={"extrusion": (0, 0, -1)})
        space.add_line((-9, 9), (-24, 9))

    one, other = _read(plain).outline, _read(from_behind).outline
    assert [tuple(round(v, 9) for v in p) for p in one.nodes] == [tuple(round(v, 9) for v in p) for p in other.nodes]
    arc = other.segments[0]
    assert isinstance(arc, Arc)
    assert arc.ccw


def test_what_is_not_geometry_is_counted() -> None:
    def build(space: Any, _: Any) -> None:
        _shank(space, _)
        space.add_text("pin")
        space.add_point((3, 4))
        space.add_linear_dim(base=(0, 20), p1=(0, 9), p2=(-24, 9)).render()

    assert any("1 DIMENSION, 1 POINT, 1 TEXT" in note for note in _read(build).notes)


@pytest.mark.parametrize(
    ("attributes", "why"),
    [
        ({"layer": "Dimensions"}, "layer Dimensions"),
        ({"layer": "hidden"}, "layer hidden"),
        ({"linetype": "DASHED"}, "line type DASHED"),
        ({"layer": "off"}, "layer off, which is off"),
        ({"layer": "by layer"}, "line type HIDDEN"),
    ],
)
def test_what_is_left_out_by_rule(attributes: dict[str, str], why: str) -> None:
    def build(space: Any, document: Any) -> None:
        document.layers.add("off").off()
        document.layers.add("by layer", linetype="HIDDEN")
        _shank(space, document)
        space.add_line((0, 9), (3, 30), dxfattribs=attributes)

    assert [d.why for d in _read(build).dropped] == [why]


def test_a_layer_that_was_reported_as_left_out_may_be_left_out_by_name() -> None:
    def drawn(space: Any, _: Any) -> None:
        space.add_line((0, 9), (-24, 9))
        space.add_line((0, 3), (-24, 3), dxfattribs={"layer": "Dimensions"})

    assert any("layer Dimensions" in note for note in _read(drawn, Asked(axis="x")).notes)
    again = _read(drawn, Asked(axis="x", without=("dimensions",)))
    assert again.outline == _read(drawn, Asked(axis="x")).outline
    with pytest.raises(JobFaults, match="no such layer"):
        _read(drawn, Asked(axis="x", without=("elsewhere",)))


def test_a_layer_asked_for_is_taken_whatever_its_name() -> None:
    drawing = _read(lambda space, _: space.add_line((0, 9), (-24, 9), dxfattribs={"layer": "hidden"}),
                    Asked(axis="x", layers=("hidden",)))  # fmt: skip
    assert drawing.outline.end == pytest.approx((-24, 9))


@pytest.mark.parametrize(
    ("build", "says"),
    [
        (lambda space, _: space.add_line((0, 0, 0), (1, 1, 1)), "one plane"),
        (lambda space, _: space.add_circle((0, 0), 5, dxfattribs={"extrusion": (0, 1, 1)}), "tilted"),
        (lambda space, _: space.add_text("nothing else"), "no line or curve"),
        (lambda space, _: space.add_circle((0, 0), -5), "no radius"),
        (lambda space, _: [space.add_line((k, 1), (k + 1, 2)) for k in range(21000)], "more in it than a turned part"),
    ],
)
def test_drawings_of_no_part_are_refused(build: Callable[[Any, Any], object], says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        _read(build)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"AC1027\0\0\0", "binary drawing"),
        (b"AutoCAD Binary DXF\r\n\x1a\0", "binary drawing"),
        (b"hello", "not a DXF"),
        (bytes(range(256)) * 4, "not a DXF"),
        (_bytes(_shank)[:4000], "breaks off"),
        (b"0\nSECTION\n2\nENTITIES\n" + b"0\nPOINT\n" * 70000 + b"0\nENDSEC\n0\nEOF\n", "more in it"),
        (b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nx\n0\nENDSEC\n0\nEOF\n", "damaged|no line"),
    ],
)
def test_damaged_files_are_refused(data: bytes, says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        read_dxf(data, Asked(unit="mm"))


def test_a_polyline_of_too_many_places_is_refused_before_it_is_parsed() -> None:
    body = "0\nLWPOLYLINE\n8\n0\n90\n70000\n70\n0\n" + "10\n-1\n20\n9\n" * 70000
    with pytest.raises(JobFaults, match="at most 60000 records"):
        read_dxf(f"0\nSECTION\n2\nENTITIES\n{body}0\nENDSEC\n0\nEOF\n".encode(), Asked(unit="mm"))
