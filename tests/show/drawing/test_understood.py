"""The picture of what was understood: whole, well formed, and saying everything."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from ovolo.part.files import Asked, read_drawing
from ovolo.show.drawing.understood import understood_as_svg

FOLDER = Path(__file__).parents[2] / "drawings"


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("winch-lever-whole.dxf", Asked()),
        ("bronze-bush.dxf", Asked(surface="bore")),
        ("lamp-finial-block.dxf", Asked(axis="x=40")),
        ("handle-measured.csv", Asked(unit="mm", smooth=0.06)),
        ("dowel-inch.dxf", Asked()),
    ],
)
def test_both_halves_and_every_note_are_there(name: str, asked: Asked) -> None:
    drawing = read_drawing(FOLDER / name, asked)
    root = ElementTree.fromstring(understood_as_svg(drawing, name, drawing.unit))
    words = " ".join("".join(e.itertext()) for e in root.iter() if e.tag.endswith("text"))
    assert "In the file" in words
    assert "As understood" in words
    for note in drawing.notes:
        assert " ".join(note.split()[:5]) in words
    assert any(e.get("class") == "left-out" for e in root.iter()) == bool(drawing.dropped)


def test_everything_lies_on_the_page() -> None:
    root = ElementTree.fromstring(understood_as_svg(read_drawing(FOLDER / "winch-lever-whole.dxf"), "lever"))
    wide, tall = (float(v) for v in str(root.get("viewBox")).split()[2:])
    for e in root.iter():
        if e.tag.endswith("line") and e.get("class"):
            assert all(0 <= float(e.get(k, "0")) <= wide for k in ("x1", "x2"))
            assert all(0 <= float(e.get(k, "0")) <= tall for k in ("y1", "y2"))


def test_a_name_cannot_break_the_page() -> None:
    drawing = read_drawing(FOLDER / "bridge-pin.svg")
    ElementTree.fromstring(understood_as_svg(drawing, "<script>&\x07" + "x" * 300))
