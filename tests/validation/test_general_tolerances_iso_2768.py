"""ISO 2768-1:1989, tables 1-3 (four reproductions of DIN ISO 2768-1 seen, which agree), and two copies that don't."""

import math

import pytest

from ovolo.part.tolerances import general_angle, general_linear, general_radius

EDGES: tuple[float, ...] = (0.5, 3, 6, 30, 120, 400, 1000, 2000, 4000)
TABLE_1: dict[str, list[float | None]] = {
    "f": [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, None],
    "m": [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2],
    "c": [0.2, 0.3, 0.5, 0.8, 1.2, 2, 3, 4],
    "v": [None, 0.5, 1, 1.5, 2.5, 4, 6, 8],
}


@pytest.mark.parametrize("row", "fmcv")
def test_table_1_at_both_edges_of_every_range(row: str) -> None:
    for low, high, printed in zip(EDGES, EDGES[1:], TABLE_1[row], strict=False):
        if printed is None:
            continue
        first = low if low == 0.5 else math.nextafter(low, high)
        assert general_linear(first, row) == general_linear(high, row) == printed


def test_table_2() -> None:
    for row in "fm":
        assert [general_radius(size, row) for size in (0.5, 3, 3.01, 6, 6.01, 900)] == [0.2, 0.2, 0.5, 0.5, 1, 1]
    for row in "cv":
        assert [general_radius(size, row) for size in (0.5, 3, 3.01, 6, 6.01, 900)] == [0.4, 0.4, 1, 1, 2, 2]


@pytest.mark.parametrize(
    ("row", "minutes"),
    [
        ("f", (60, 30, 20, 10, 5)),
        ("m", (60, 30, 20, 10, 5)),
        ("c", (90, 60, 30, 15, 10)),
        ("v", (180, 120, 60, 30, 20)),
    ],
)
def test_table_3(row: str, minutes: tuple[float, ...]) -> None:
    for edges, printed in zip(((1, 10), (10.1, 50), (50.1, 120), (120.1, 400), (401, 999)), minutes, strict=True):
        assert [math.degrees(general_angle(leg, row)) * 60 for leg in edges] == pytest.approx([printed] * 2)


def test_not_the_misprinted_coarse_row_nor_v_with_the_angles_of_c() -> None:
    assert [general_linear(2, "c"), general_linear(5, "c")] != [0.15, 0.2]
    assert general_angle(5, "v") != general_angle(5, "c")
