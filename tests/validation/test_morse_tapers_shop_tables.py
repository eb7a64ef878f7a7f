"""Morse tapers: two shop tables (seen) for D, d and length, one for taper a foot; ISO 296's ratios from memory."""

import math

import pytest

from ovolo.part.published import MORSE_TAPERS, morse_taper

ROWS = [
    (0, 9.045, (1, 29, 27), 19.212),
    (1, 12.065, (1, 25, 43), 20.047),
    (2, 17.780, (1, 25, 50), 20.020),
    (3, 23.825, (1, 26, 16), 19.922),
    (4, 31.267, (1, 29, 15), 19.254),
    (5, 44.399, (1, 30, 26), 19.002),
    (6, 63.348, (1, 29, 36), 19.180),
]


@pytest.mark.parametrize("number", range(7))
def test_ends_and_length_give_the_taper_a_foot(number: int) -> None:
    row = morse_taper(number)
    assert (row.gauge_in - row.small_in) / row.plug_in * 12 == pytest.approx(row.per_foot_in, abs=1.1e-5)


@pytest.mark.parametrize(("number", "gauge", "angle", "ratio"), ROWS)
def test_metric_figures(number: int, gauge: float, angle: tuple[int, int, int], ratio: float) -> None:
    row = morse_taper(number)
    degrees, minutes, seconds = angle
    assert row.gauge == pytest.approx(gauge, abs=6e-4)
    assert math.degrees(row.half_angle) * 3600 == pytest.approx(degrees * 3600 + minutes * 60 + seconds, abs=1)
    assert row.ratio == pytest.approx(ratio, abs=6e-4)


def test_not_the_misprinted_number_0_nor_the_depth_of_sockets() -> None:
    assert morse_taper(0).gauge_in == 0.3561 != 0.36510
    assert all(row.plug_in not in (2.0625, 2.5) for row in MORSE_TAPERS)
