"""The shop and its stock: what stands where nothing is said."""

import dataclasses

import pytest

from ovolo.shop.shop import Shop, Stock
from ovolo.shop.slides import Slide
from ovolo.shop.tools import Tool

SHOP = Shop(
    Stock(10),
    (Tool("round nose", "round", 3),),
    Slide("cross", "diameter", "out", 0.01),
    Slide("saddle", "radius", "away", 0.01),
)


def test_a_plain_bar_stands_flush_without_a_hole() -> None:
    stock = SHOP.stock
    assert (stock.hole, stock.proud, stock.stick_out) == (0, 0, None)


def test_limits_where_nothing_is_said() -> None:
    assert (SHOP.bite, SHOP.allowance, SHOP.unit) == (1.0, 0.2, 1.0)
    assert SHOP.lathe.holding == "chuck"


def test_it_passes_between_rooms_unchanged() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        SHOP.bite = 2.0  # type: ignore[misc]
