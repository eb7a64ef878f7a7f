"""SVG: sizes, transforms, arcs, Béziers, damage."""

import math

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc
from ovolo.part.files import Asked, Drawing, read_svg

PIN = '<path d="M 40 20 A 9 9 0 0 0 31 11 H 16"/>'
MM = 'width="50mm" height="30mm" viewBox="0 0 50 30"'


def _read(body: str, size: str = MM, asked: Asked = Asked(axis="y=20")) -> Drawing:  # noqa: B008
    return read_svg(f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'.encode(), asked)


@pytest.mark.parametrize(
    ("size", "asked", "mm"),
    [
        (MM, Asked(axis="y=20"), 1),
        ('width="5cm" viewBox="0 0 50 30"', Asked(axis="y=20"), 1),
        ('width="100mm" height="60mm" viewBox="0 0 50 30"', Asked(axis="y=20"), 2),
        ('width="2in" height="1.2in" viewBox="0 0 50 30"', Asked(axis="y=20"), 25.4 * 2 / 50),
        ('viewBox="0 0 50 30"', Asked(axis="y=20", unit="mm"), 1),
        ('width="500" height="300" viewBox="0 0 50 30"', Asked(axis="y=20", unit="in"), 25.4),
        ('width="50mm" height="30mm"', Asked(axis="y=20"), 25.4 / 96),
    ],
)
def test_the_size_says_what_a_unit_is(size: str, asked: Asked, mm: float) -> None:
    outline = _read(PIN, size, asked).outline
    assert [v for p in outline.nodes for v in p] == pytest.approx([v * mm for v in (0, 0, -9, 9, -24, 9)])
    assert isinstance(outline.segments[0], Arc)


@pytest.mark.parametrize(
    ("size", "says"), [("", "mm or inches"), ('width="50mm" height="60mm" viewBox="0 0 50 30"', "out of proportion")]
)
def test_a_size_that_does_not_say_is_asked_for(size: str, says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        _read(PIN, size)


@pytest.mark.parametrize(
    ("transform", "axis"),
    [
        ("translate(5 5)", "y=25"),
        ("rotate(90 20 20)", "x=20"),
        ("matrix(1 0 0 -1 0 0)", "y=-20"),
        ("scale(1)", "0,20 10,20"),
        ("rotate(180)", "y=-20"),
    ],
)
def test_transforms_keep_arcs(transform: str, axis: str) -> None:
    outline = _read(f'<g transform="{transform}">{PIN}</g>', asked=Asked(axis=axis)).outline
    assert [v for p in outline.nodes for v in p] == pytest.approx([0, 0, -9, 9, -24, 9])


def test_a_stretched_arc_becomes_an_ellipse() -> None:
    drawing = _read(f'<g transform="scale(1.5 1)">{PIN}</g>')
    assert 0 < drawing.deviation <= 1e-3
    for p in (q for s in drawing.outline.segments[:-1] for q in s.flattened(1e-3)):
        assert math.hypot((p.x + 13.5) / 13.5, p.y / 9) == pytest.approx(1, abs=4e-4)


@pytest.mark.parametrize(
    "shape",
    [
        '<polyline points="40,20 40,11 16,11"/>',
        '<path d="m40 20v-9h-24"/>',
        '<path d="M40,20L40 11,16 11"/>',
        '<line x1="40" y1="20" x2="40" y2="11"/><line x1="16" y1="11" x2="40" y2="11"/>',
        '<defs><path id="p" d="M0 0V-9H-24"/></defs><use href="#p" x="40" y="20"/>',
    ],
)
def test_one_outline_in_many_shapes(shape: str) -> None:
    assert [v for p in _read(shape).outline.nodes for v in p] == pytest.approx([0, 0, 0, 9, -24, 9])


def test_hidden_and_marked_shapes_are_left_out() -> None:
    extra = '<path style="display:none" d="M0 0L9 9"/><g id="dimensions"><path d="M40 20L50 20"/></g>'
    drawing = _read(PIN + extra)
    assert drawing.outline.end == pytest.approx((-24, 9))
    assert any(d.why == "marked dimensions" for d in drawing.dropped)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("<svg", "not whole"),
        ("<html/>", "not an SVG"),
        ("<!DOCTYPE svg><svg/>", "document type"),
        ("<!doctype svg><svg/>", "document type"),
        ("<svg>" + "<g>" * 200 + "</g>" * 200 + "</svg>", "too deep"),
        ('<svg><use href="#a"/><g id="a"><use href="#a"/></g></svg>', "holds itself"),
    ],
)
def test_damaged_files_are_refused(text: str, says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        read_svg(text.encode(), Asked(unit="mm"))


def test_other_encodings_cannot_smuggle_entities_in() -> None:
    bomb = '<?xml version="1.0" encoding="utf-16"?><!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>'
    with pytest.raises(JobFaults, match="UTF-8"):
        read_svg(bomb.encode("utf-16"), Asked(unit="mm"))


@pytest.mark.parametrize(
    "d", ["M 40 20 L", "M 40 20 L 3", "L 3 4 x", "M40 20 A 9 9 0 2 0 31 11", "M nan 3", "40 20", "M 1 2 C 3 4 5 6 7"]
)
def test_a_misspelt_path_is_refused_not_cut_short(d: str) -> None:
    with pytest.raises(JobFaults, match="breaks off or is misspelt"):
        _read(f'<path d="{d}"/>')


@pytest.mark.parametrize("shape", ['<circle cx="nan" cy="1" r="2"/>', '<circle cx="1" cy="1" r="x"/>'])
def test_a_shape_whose_size_is_no_number_is_refused(shape: str) -> None:
    with pytest.raises(JobFaults, match="is not a number"):
        _read(shape)


def test_a_huge_file_is_refused() -> None:
    with pytest.raises(JobFaults, match="at most 4 MB"):
        read_svg(b"<svg>" + b" " * 5_000_000 + b"</svg>", Asked(unit="mm"))


def test_a_curve_that_cannot_be_fitted_is_refused_for_that() -> None:
    with pytest.raises(JobFaults, match="a curve in it cannot be used: the tolerance is"):
        _read('<path d="M0 0C9 400 30 -400 40 9"/>', asked=Asked(axis="y=20", tolerance=1e-12))
