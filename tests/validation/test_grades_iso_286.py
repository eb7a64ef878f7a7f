"""ISO 286-1 standard tolerances: two tables (seen) that agree, and the formula of annex A (IS 919-1:1993, seen).

The formula does not give the table: 51 of the 100 cells differ. 25 H7 is +21/0, h6 0/-13.
"""

import math
from itertools import pairwise

import pytest

from ovolo.part.tolerances import GRADES, grade_width, hole_basis, shaft_basis

EDGES = (0, 3, 6, 10, 18, 30, 50, 80, 120, 180, 250)
# By rows of size, the way the standard prints it; the module keeps columns of grade.
PRINTED = """
4 6 10 14 25 40 60 100 140 250
5 8 12 18 30 48 75 120 180 300
6 9 15 22 36 58 90 150 220 360
8 11 18 27 43 70 110 180 270 430
9 13 21 33 52 84 130 210 330 520
11 16 25 39 62 100 160 250 390 620
13 19 30 46 74 120 190 300 460 740
15 22 35 54 87 140 220 350 540 870
18 25 40 63 100 160 250 400 630 1000
20 29 46 72 115 185 290 460 720 1150
"""
STEPS = (7, 10, 16, 25, 40, 64, 100, 160, 250, 400)


def _formula(low: float, high: float, step: int) -> float:
    size = math.sqrt(max(low, 1) * high)
    return step * (0.45 * math.cbrt(size) + 0.001 * size)


def test_every_cell_at_both_edges_of_its_range() -> None:
    for n, row in enumerate(PRINTED.strip().splitlines()):
        for grade, printed in zip(GRADES, row.split(), strict=True):
            first, last = math.nextafter(EDGES[n], 999), EDGES[n + 1]
            assert grade_width(first, grade) == grade_width(last, grade) == pytest.approx(int(printed) / 1000)


def test_the_formula_is_near_but_not_the_table() -> None:
    differ = 0
    for n, (low, high) in enumerate(pairwise(EDGES)):
        for grade, step in zip(GRADES, STEPS, strict=True):
            formula, printed = _formula(low, high, step), GRADES[grade][n]
            assert formula == pytest.approx(printed, rel=0.14)
            differ += round(formula) != printed
    assert differ == 51


def test_25_h7_and_h6() -> None:
    assert hole_basis(25, "IT7") == pytest.approx((0.021, 0))
    assert shaft_basis(25, "IT6") == pytest.approx((0, -0.013))
