"""The writer of SVG."""

from xml.etree import ElementTree

import pytest

from ovolo.show.paper.svg import arrow, clip, document, group, line, number, text, text_box, typeset_minus

SPACE = "{http://www.w3.org/2000/svg}"


def test_what_comes_from_outside_is_escaped() -> None:
    made = document(10, 10, '<b>"&', "a\x00b\x1b<", [text((1, 1), "<script>&", 3), group([], label="<i>")], "")
    root = ElementTree.fromstring(made)
    assert root.findtext(f"{SPACE}title") == '<b>"&'
    assert root.findtext(f"{SPACE}desc") == "ab<"
    assert root.findtext(f"{SPACE}text") == "<script>&"


def test_a_document_has_its_size_in_mm_and_is_an_image_to_a_screen_reader() -> None:
    root = ElementTree.fromstring(document(297, 210.5, "t", "d", [line((0, 0), (1, 1), "thin")], ""))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("297mm", "210.5mm", "0 0 297 210.5")
    assert root.get("role") == "img"


@pytest.mark.parametrize(
    ("value", "written"), [(0.0, "0"), (-0.0004, "0"), (1.0, "1"), (12.3456, "12.346"), (100, "100")]
)
def test_numbers_are_short(value: float, written: str) -> None:
    assert number(value) == written


def test_an_arrowhead_has_its_tip_where_it_points() -> None:
    assert 'd="M10 5L7.4' in arrow((10, 5), (1, 0))
    assert 'd="M10 5L' in arrow((10, 5), (0, 0))


def test_minus_signs_are_those_of_figures_only() -> None:
    assert typeset_minus("half-section -0.5 x-3 (-2)") == "half-section −0.5 x-3 (−2)"


def test_boxes_lie_as_the_text_is_anchored() -> None:
    left, middle, right = (text_box((10, 10), "18", 3.5, anchor) for anchor in ("start", "middle", "end"))
    assert left[0] == 10
    assert right[2] == pytest.approx(10)
    assert middle[0] + middle[2] == pytest.approx(20)
    assert clip("a", "") == '<clipPath id="a"></clipPath>'


def test_the_ground_is_cleared_behind_a_text_where_asked() -> None:
    made = text((10, 10), "R 8", 3.5, cls="strong halo", turn=-90)
    assert made.startswith('<rect class="ground"')
    assert made.count('transform="rotate(-90 10 10)"') == 2
    assert 'class="strong"' in made
    assert "<rect" not in text((10, 10), "R 8", 3.5)
