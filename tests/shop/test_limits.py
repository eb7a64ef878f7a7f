"""What binds which cut: the table of limits, tool by tool."""

import pytest

from ovolo.shop.limits import limit_of, thickest
from ovolo.shop.shop import Shop, Stock
from ovolo.shop.slides import Slide, SlideName
from ovolo.shop.tools import Tool

CROSS, SADDLE = Slide("cross", "diameter", "out", 0.01), Slide("saddle", "radius", "away", 0.01)
SHOP = Shop(Stock(10), (), CROSS, SADDLE, bite=1.0, plunge=2.5)
ROUND, KNIFE, SHARP = Tool("round", "round", 3), Tool("knife", "pointed", 0.8), Tool("sharp", "pointed", 0.2)
BLUNT, BLADE = Tool("blunt", "pointed", 2.0), Tool("blade", "grooving", 0.2, width=3.0)


@pytest.mark.parametrize(
    ("tool", "slide", "rough", "widest"),
    [
        (KNIFE, "cross", True, 1.0),
        (KNIFE, "saddle", True, 1.0),
        (KNIFE, "cross", False, 1.6),
        (KNIFE, "saddle", False, 1.6),
        (SHARP, "saddle", False, 1.0),
        (BLUNT, "saddle", False, 2.5),
        (ROUND, "cross", True, 2.5),
        (ROUND, "saddle", True, 1.0),
        (ROUND, "cross", False, 2.5),
        (ROUND, "saddle", False, 2.5),
        (BLADE, "cross", True, 3.0),
        (BLADE, "saddle", True, 0.2),
        (BLADE, "cross", False, 3.0),
        (BLADE, "saddle", False, 0.2),
    ],
)
def test_the_table_of_what_binds(tool: Tool, slide: SlideName, rough: bool, widest: float) -> None:
    assert limit_of(SHOP, tool, slide, rough=rough).widest == widest


def test_a_tool_of_its_own_plunge_keeps_that() -> None:
    own = Tool("round", "round", 3, plunge=1.5)
    assert limit_of(SHOP, own, "cross", rough=True).widest == 1.5
    assert SHOP.plunge_of(Tool("blade", "grooving", 0.2, width=3.0, plunge=4.0)) == 3.0


def test_no_finishing_chip_is_thicker_than_the_bite_but_of_a_plunge() -> None:
    assert thickest(SHOP, ROUND, "saddle") == thickest(SHOP, KNIFE, "cross") == 1.0
    assert thickest(SHOP, ROUND, "cross") == 2.5
    assert thickest(SHOP, BLADE, "cross") == 3.0
