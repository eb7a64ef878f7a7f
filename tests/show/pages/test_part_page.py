"""The page Part shows whatever was typed: the part where it can be drawn, the faults where they are."""

import json
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.show.pages.examples import NAMES, document

from ovolo.show.pages.part_page import part_page


@pytest.mark.parametrize("name", NAMES)
def test_every_example_is_drawn_without_a_fault(name: str) -> None:
    view = part_page(document(name))
    assert view["faults"] == []
    ElementTree.fromstring(view["scene"])
    assert view["dimensions"]
    json.dumps(view, allow_nan=False)


@pytest.mark.parametrize(("name", "halves"), [("bronze-bush", 2), ("bridge-pin", 1)])
def test_a_hole_is_cut_open_in_both_halves(name: str, halves: int) -> None:
    assert part_page(document(name))["scene"].count('class="metal"') == halves


def test_a_wrong_bar_does_not_hide_the_part() -> None:
    view = part_page({**document(), "stock": {"diameter": 3}, "tool": []})
    assert {fault["where"] for fault in view["faults"]} >= {"tool"}
    assert view["scene"]


def test_a_wrong_part_has_faults_and_no_drawing() -> None:
    view = part_page({**document(), "part": {"form": [{"form": "dome", "diameter": -2}]}})
    assert view["faults"]
    assert "scene" not in view


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=6),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


@given(
    part=ANYTHING, stock=ANYTHING, more=st.dictionaries(st.sampled_from(["title", "units", "tool", "finish"]), ANYTHING)
)
@settings(max_examples=60)
def test_nothing_that_is_typed_breaks_the_page(part: Any, stock: Any, more: dict[str, Any]) -> None:
    view = part_page({"part": part, "stock": stock, **more})
    assert view["faults"] or view["scene"]
