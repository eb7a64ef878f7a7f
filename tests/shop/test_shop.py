"""The shop and its stock: what stands where nothing is said."""

import dataclasses

import pytest

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point
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


def test_a_piece_already_shaped_is_as_wide_and_as_proud_as_its_outline() -> None:
    corner = Point(1.5, 12.0)
    stock = Stock(8.0, outline=Outline((Line(Point(1.5, 4.0), corner), Line(corner, Point(-20.0, 8.0)))))
    assert (stock.front, stock.widest) == (1.5, 12)
    assert (Stock(8.0, proud=0.5).front, Stock(8.0).widest) == (0.5, 8)
