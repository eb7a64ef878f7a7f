"""Coarse metric threads, ISO 68-1 / ISO 724: one full chart and a chart of limits (seen; row M24 from memory)."""

import pytest

from ovolo.part.published import THREADS, thread

ROWS = [
    ("M3", 0.5, 2.675, 2.387, 2.459),
    ("M4", 0.7, 3.545, 3.141, 3.242),
    ("M5", 0.8, 4.480, 4.019, 4.134),
    ("M6", 1, 5.350, 4.773, 4.917),
    ("M8", 1.25, 7.188, 6.466, 6.647),
    ("M10", 1.5, 9.026, 8.160, 8.376),
    ("M12", 1.75, 10.863, 9.853, 10.106),
    ("M14", 2, 12.701, 11.546, 11.835),
    ("M16", 2, 14.701, 13.546, 13.835),
    ("M20", 2.5, 18.376, 16.933, 17.294),
    ("M24", 3, 22.051, 20.319, 20.752),
]


@pytest.mark.parametrize(("name", "pitch", "flank", "core", "hole"), ROWS)
def test_diameters(name: str, pitch: float, flank: float, core: float, hole: float) -> None:
    row = thread(name)
    assert row.pitch == pitch
    assert (row.flank_diameter, row.core_diameter, row.hole_diameter) == pytest.approx((flank, core, hole), abs=6e-4)
    assert row.diameter - 2 * row.depth == pytest.approx(row.core_diameter)


def test_no_row_is_missing() -> None:
    assert [row.name for row in THREADS] == [name for name, *_ in ROWS]


@pytest.mark.parametrize(
    ("name", "area"),
    [("M4", 8.78), ("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3), ("M16", 157), ("M20", 245), ("M24", 353)],
)
def test_stress_areas(name: str, area: float) -> None:
    assert thread(name).stress_area == pytest.approx(area, rel=3e-3)
