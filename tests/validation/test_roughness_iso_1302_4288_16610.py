"""Roughness: grades of ISO 1302, cut-offs of ISO 4288:1996 (both seen via tables), Gaussian filter of ISO 16610-21.

The filter's weight is from memory, its 50 % at the cut-off was seen. The figures for Ra and Rq of arcs are computed and
derived, not published.
"""

import math

import pytest

from ovolo.cutting import roughness


def test_alpha() -> None:
    assert pytest.approx(0.4697186, abs=5e-8) == roughness.ALPHA


@pytest.mark.parametrize(
    ("wave", "passed"), [(1, 0.5), (1 / 2, 0.0625), (1 / 3, 0.001953), (2, 0.840896), (3, 0.925875)]
)
def test_transmission(wave: float, passed: float) -> None:
    assert roughness.transmission(wave * 0.8, 0.8) == pytest.approx(passed, abs=5e-7)


@pytest.mark.parametrize(
    ("grade", "ra", "micro_inch"),
    [
        ("N1", 0.025, 1), ("N2", 0.05, 2), ("N3", 0.1, 4), ("N4", 0.2, 8), ("N5", 0.4, 16), ("N6", 0.8, 32),
        ("N7", 1.6, 63), ("N8", 3.2, 125), ("N9", 6.3, 250), ("N10", 12.5, 500), ("N11", 25, 1000), ("N12", 50, 2000),
    ],
)  # fmt: skip
def test_grades_in_both_columns(grade: str, ra: float, micro_inch: float) -> None:
    """ISO 1302 via three tables (seen): Ra in µm and in µin, the second column rounded on its own to 2 %."""
    assert roughness.grade_for(ra) == grade
    assert roughness.grade_for(ra * 1.001) != grade if ra < 50 else True
    assert ra / 0.0254 == pytest.approx(micro_inch, rel=0.02)


def test_n9_is_6_3_and_neither_a_doubling_nor_a_known_misprint() -> None:
    assert roughness.grade_for(6.3) == "N9"
    assert roughness.grade_for(6.4) == "N10"
    assert 8.3 not in roughness.GRADES_UM.values()


@pytest.mark.parametrize(
    ("spacing", "cut_off", "length"),
    [
        (0.0131, 0.08, 0.4), (0.04, 0.08, 0.4), (0.0401, 0.25, 1.25), (0.13, 0.25, 1.25), (0.131, 0.8, 4),
        (0.2, 0.8, 4), (0.4, 0.8, 4), (0.41, 2.5, 12.5), (0.5, 2.5, 12.5), (1.0, 2.5, 12.5), (1.3, 2.5, 12.5),
        (1.31, 8, 40), (4, 8, 40),
    ],
)  # fmt: skip
def test_cut_offs_at_the_edges_of_their_ranges(spacing: float, cut_off: float, length: float) -> None:
    assert roughness.cut_off(spacing) == (cut_off, length)


@pytest.mark.parametrize("share", [0.01, 0.1, 0.3, 0.5, 2 / 3])
def test_ra_and_rq_of_arcs_stay_in_their_bands(share: float) -> None:
    # Computed by numerical integration for this project, not published: .0321 to .0328, .0373 to .0382, .2551 to .2566;
    # half a unit of the last digit is added. The limit for small spacings is derived in closed form below.
    marks = roughness.arc_texture(share, 1.0)
    assert 0.03205 <= marks.ra / share**2 <= 0.03285
    assert 0.03725 <= marks.rq / share**2 <= 0.03825
    assert 0.25505 <= marks.ra / marks.rt <= 0.25665


def test_parabolic_limits() -> None:
    small = roughness.texture_small(1.0, 1.0)
    assert small.ra == pytest.approx(0.0321, abs=5e-5)
    assert small.rq == pytest.approx(0.03727, abs=5e-6)
    assert small.ra / small.rt == pytest.approx(8 / (18 * math.sqrt(3)))
