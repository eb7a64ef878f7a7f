"""Typesetting."""

import struct

import pytest
import typst

from ovolo.show.paper.svg import document, rect
from ovolo.show.paper.typeset import svg_as_png, template, typeset


def test_an_image_has_its_size_in_dots() -> None:
    png = svg_as_png(document(50.8, 25.4, "t", "d", [rect(0, 0, 10, 10, "")], ""), ppi=100)
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    assert struct.unpack(">II", png[16:24]) == (200, 100)


def test_the_same_parts_give_the_same_bytes() -> None:
    parts = {"main.typ": '#set document(title: "t", date: none)\n#read("words.txt")', "words.txt": "Ø #strong[not set]"}
    assert typeset(parts, "pdf", accessible=True) == typeset(parts, "pdf", accessible=True)


def test_data_is_never_taken_for_markup() -> None:
    parts = {"main.typ": '#set document(title: "t", date: none)\n#json("d.json").at(0)', "d.json": '["#panic()"]'}
    assert typeset(parts, "pdf").startswith(b"%PDF")


def test_a_wrong_template_is_a_mistake_of_ours() -> None:
    with pytest.raises(typst.TypstError):
        typeset({"main.typ": "#nothing()"}, "pdf")


def test_templates_come_with_the_package() -> None:
    assert "title block" in template("sheet.typ")
