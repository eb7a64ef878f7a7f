"""Diameters to check by."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.show.plans import NAMES, planned

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point
from ovolo.show.gauge.measuring import STEEP, diameters_at, measuring_table

DOME = Outline((Arc(Point(0, 0), Point(-9, 9), Point(-9, 0), True), Line(Point(-9, 9), Point(-24, 9))))


@given(st.floats(-24, 0))
def test_a_diameter_is_that_of_the_outline(z: float) -> None:
    true = math.sqrt(max(81 - (z + 9) ** 2, 0)) if z > -9 else 9.0
    for r, slope in diameters_at(DOME, z):
        assert r == pytest.approx(true, abs=1e-6)
        assert abs(slope) <= STEEP


def test_steep_places_are_left_out() -> None:
    assert not list(diameters_at(DOME, -0.1))
    assert not list(diameters_at(DOME, 5.0))
    assert list(diameters_at(DOME, -5.0))


@pytest.mark.parametrize("name", NAMES)
def test_every_job_has_a_few_rows_in_order(name: str) -> None:
    table = measuring_table(planned(name))
    assert 2 <= len(table.rows) <= 20
    places = [float(row.z) for row in table.rows]
    assert places == sorted(places, reverse=True)


def test_the_ridge_is_on_the_metal_s_side() -> None:
    for name, more in (("bridge-pin", True), ("bush", False)):
        rows = [row for row in measuring_table(planned(name)).rows if row.limit]
        assert rows
        assert all((float(row.limit) > float(row.d)) == more for row in rows)


def test_figures_on_the_dome_known_from_the_circle() -> None:
    """R 9 at z = -4: the diameter is 2 sqrt(81 - 25); derived."""
    rows = {row.z: row for row in measuring_table(planned("bridge-pin")).rows}
    assert rows["-4.00"].d == f"{2 * math.sqrt(81 - 25):.2f}"
    assert rows["-4.00"].slip == f"{2 * 5 / math.sqrt(56) * 0.1:.2f}"


def test_under_a_lip_what_a_micrometer_touches_is_told_and_said_so() -> None:
    assert list(diameters_at(planned("lip").job.part.outline, -5.5)) == [(10.0, 0.0)]
    assert "leans over" in measuring_table(planned("lip")).note
    assert measuring_table(planned("bridge-pin")).note == ""


def test_in_a_bore_the_smallest_is_met_first() -> None:
    recess = [Line(Point(0, 8), Point(-5, 8)), Line(Point(-5, 8), Point(-4, 9)), Line(Point(-4, 9), Point(-20, 9))]
    assert list(diameters_at(Outline(tuple(recess)), -4.5, bore=True)) == [(8.0, 0.0)]
    assert list(diameters_at(Outline(tuple(recess)), -4.5)) == [(9.0, 0.0)]
