"""The page Shop shows what can be shown of whatever was typed."""

from typing import Any

import pytest
from tests.show.pages.examples import NAMES, document

from ovolo.shop.slides import Slide
from ovolo.show.pages.shop_page import shop_page, slide_in_words


@pytest.mark.parametrize("name", NAMES)
def test_every_tool_of_the_examples_is_drawn(name: str) -> None:
    view = shop_page(document(name))
    assert view["faults"] == []
    assert all(view["pictures"])
    assert set(view["slides"]) == {"cross", "saddle", *document(name).get("slide", {})}


@pytest.mark.parametrize("tools", [None, "x", [], [None], [{"name": "bent"}], [3]])
def test_tools_that_are_none_break_nothing(tools: Any) -> None:
    view = shop_page({**document(), "tool": tools})
    assert view["faults"]
    assert not any(view["pictures"])


def test_a_broken_slide_is_not_put_into_words_and_the_others_are() -> None:
    said = shop_page({**document(), "slide": {"cross": {"grows": "sideways"}, "top": {"grows": "toward"}}})["slides"]
    assert set(said) == {"saddle"}  # nothing is said of a top slide either before its travel is told
    assert shop_page({**document(), "slide": "x"})["slides"].keys() == {"cross", "saddle"}


@pytest.mark.parametrize("slides", [["saddle", "cross"], ["saddle", "cross", "top"], ["cross", "top"]])
def test_the_top_slide_is_put_into_words_whatever_it_is_used_for(slides: list[str]) -> None:
    top = {"travel": 60, "grows": "toward"}
    said = shop_page({**document(), "limits": {"slides": slides}, "slide": {"top": top}})["slides"]
    assert said["top"] == "Wind it away from the chuck by 1: its figure falls by 1."


def test_how_a_slide_reads_in_words() -> None:
    assert slide_in_words(Slide("cross", "radius", "in", 0.01)) == "Wind it out by 1: its figure falls by 1."
    assert slide_in_words(Slide("saddle", "radius", "away", 0.01)).startswith("Wind it away from the chuck by 1: its")
