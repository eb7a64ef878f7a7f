"""Stations: the fewest by brute force over the points of a coarse grid, and one fewer really leaves more."""

import math
from collections.abc import Iterator

import numpy as np
import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.stations.choose_tools import reach_of
from ovolo.plan.stations.stations import REACHED, RIDGE_STEP, Chooser, column_rows, grid_settings
from ovolo.plan.view.frame import Frame

STEP = 2e-3


def _frame(radius: float, nose: float, count: float, ridge: float, deep: float | None = None) -> Frame:
    """A dome (or as much of one as reaches back `deep`), a round nose, one count for both slides."""
    deep = radius if deep is None else deep
    half = math.sqrt(radius**2 - (radius - deep) ** 2)
    return Frame(
        job_from_data(
            pin(
                {
                    "part.outline": [
                        {"z": 0, "d": 0},
                        {"z": -deep, "d": 2 * half, "convex": radius + 1e-9},
                        {"z": -deep - 8, "d": 2 * half},
                    ],
                    "part.curve": [0, -deep],
                    "stock.diameter": 2 * half + 0.01,
                    "tool.0.nose_radius": nose,
                    "finish.ridge": ridge,
                    "slide": {"cross": {"reads": "radius", "count": count}, "saddle": {"count": count}},
                }
            )
        )
    )


CASES = [
    (4.0, 1.0, 0.1, 0.1, None),
    (4.0, 2.0, 0.1, 0.06, None),
    (6.0, 1.0, 0.2, 0.15, None),
    (6.0, 3.0, 0.1, 0.08, 2.5),
    (9.0, 3.0, 0.2, 0.12, 4.0),
]


def _chooser(frame: Frame) -> Chooser:
    tool = frame.job.shop.tools[0]
    return reach_of(frame, tool, frame.job.part.ridge).chooser(frame, frame.stretch)


def _allowed(frame: Frame) -> Iterator[tuple[float, float]]:
    """Every point of the grid, near the dome, at which the nose stands clear of it: nothing chosen beforehand."""
    tool = frame.job.shop.tools[0]
    nose, step = tool.nose_radius, frame.job.shop.saddle.step
    dome, high = frame.job.part.outline.segments[0], frame.job.part.outline.end.y
    centre, radius = dome.centre, dome.radius  # type: ignore[union-attr]
    for i in range(-round(12 / step), round((nose + 1) / step)):
        for j in range(-round(nose / step), round((high + nose + 0.5) / step)):
            x, y = i * step + nose, j * step + nose
            clear = (
                math.dist((x, y), centre) >= radius + nose - 1e-9 if x > frame.job.part.curve[1] else y >= high + nose
            )
            if clear and y >= -1e-9:
                yield x, y


def _covered(frame: Frame, x: float, y: float, ridge: float) -> tuple[float, float] | None:
    """The stretch of the dome, as an angle's arc length, over which this setting leaves no more than the ridge.

    Inside the nose, straight above it (it comes in from above), or level toward the free end (it comes in from there).
    """
    nose, arc = frame.job.shop.tools[0].nose_radius, frame.job.part.outline.segments[0]
    centre, radius = arc.centre, arc.radius  # type: ignore[union-attr]
    if math.dist((x, y), centre) > radius + nose + ridge:
        return None
    u = np.arange(0, arc.length, STEP)
    z, r = centre.x + (radius + ridge) * np.cos(u / radius), centre.y + (radius + ridge) * np.sin(u / radius)
    inside = np.hypot(z - x, r - y) <= nose + 1e-7
    foot = int(np.argmin(np.hypot(z - x, r - y)))
    if not inside[foot]:
        return None
    inside |= ((np.abs(z - x) <= nose) & (r >= y)) | ((np.abs(r - y) <= nose) & (z >= x))
    gaps = np.flatnonzero(~inside)
    before, after = gaps[gaps < foot], gaps[gaps > foot]
    low = float(u[before[-1] + 1]) if len(before) else 0.0
    high = float(u[after[0] - 1]) if len(after) else arc.length
    return low, high


def _fewest(frame: Frame, ridge: float, slack: float) -> int | None:
    """A shortest path over all settings, those joined whose stretches meet within `slack`; the first at the axis."""
    every = [(c, y) for x, y in _allowed(frame) if (c := _covered(frame, x, y, ridge)) is not None]
    lowest = min(y for _, y in every)
    end = frame.job.part.outline.segments[0].length - slack
    starts = [c[1] for c, y in every if y < lowest + 1e-9 and c[0] <= slack]
    far, count = max(starts, default=-1.0), 1
    while far < end:
        following = max((high for (low, high), _ in every if low <= far + slack), default=-1.0)
        if following <= far:
            return None
        far, count = following, count + 1
    return count if far >= 0 else None


@pytest.mark.parametrize("case", CASES, ids=str)
def test_as_few_as_any_path_over_the_grid(case: tuple[float, float, float, float, float | None]) -> None:
    """Bracketed, since the stretches by brute force are true to two steps: a hair more slack, a hair less."""
    frame = _frame(*case)
    found = _chooser(frame).cover(case[3])
    assert found is not None
    generous, strict = (_fewest(frame, case[3], slack) for slack in (3 * STEP, -3 * STEP))
    assert generous is not None
    assert generous <= len(found[1]) <= (strict or math.inf)
    assert strict is None or strict - generous <= 1


@pytest.mark.parametrize("case", CASES, ids=str)
def test_one_fewer_really_leaves_more(case: tuple[float, float, float, float, float | None]) -> None:
    frame, ridge = _frame(*case), case[3]
    chooser = _chooser(frame)
    choice = chooser.choose(ridge)
    assert choice is not None
    count = len(choice.passes)
    leaves = chooser.one_fewer(count, ridge)
    assert leaves is not None
    assert leaves > ridge
    # Just below what it says no path over the grid does it with one fewer; a little above one does.
    below, above = _fewest(frame, leaves - 0.003, -3 * STEP), _fewest(frame, leaves + 0.003, 3 * STEP)
    assert below is None or below >= count
    assert above is not None
    assert above <= count - 1


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_ridge_is_as_low_as_the_number_allows(case: tuple[float, float, float, float, float | None]) -> None:
    frame, ridge = _frame(*case), case[3]
    choice = _chooser(frame).choose(ridge)
    assert choice is not None
    assert choice.ridge <= ridge
    lower = _fewest(frame, choice.ridge - 0.003, -3 * STEP)
    assert lower is None or lower > len(choice.passes)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_settings_are_figures_and_clear_of_the_part(case: tuple[float, float, float, float, float | None]) -> None:
    frame = _frame(*case)
    tool, shop = frame.job.shop.tools[0], frame.job.shop
    settings = grid_settings(frame, tool, frame.stretch)
    for values, step, ref in ((settings.x, shop.saddle.step, 0), (settings.y, shop.cross.step, 1)):
        counts = (values + tool.reference[ref]) / step
        assert np.abs(counts - np.round(counts)).max() < 1e-6
    assert settings.gap.min() >= -1e-9
    assert settings.y.min() >= -1e-9


def test_the_first_setting_stands_on_the_axis() -> None:
    choice = _chooser(_frame(4.0, 1.0, 0.1, 0.1)).choose(0.1)
    assert choice is not None
    assert choice.passes[0].y == pytest.approx(0)


def test_rows_are_the_lowest_that_clear() -> None:
    frame = _frame(6.0, 1.0, 0.2, 0.15)
    tool = frame.job.shop.tools[0]
    lattice = frame.lattice(tool)
    columns, rows = column_rows(frame, tool, lattice, lattice.column_at(-5.5, True), lattice.column_at(0.5, True))
    for column, row in zip(columns, rows, strict=True):
        x = lattice.x(int(column))
        assert math.hypot(x + 6, lattice.y(int(row))) >= 7 - 1e-6
        below = lattice.y(int(row) - 1)
        assert below < 0 or math.hypot(x + 6, below) < 7


def test_a_ridge_that_no_setting_keeps_is_not_covered() -> None:
    assert _chooser(_frame(4.0, 1.0, 0.5, 0.05)).cover(0.001) is None


@pytest.mark.parametrize("case", CASES, ids=str)
def test_halving_step_by_step_finds_the_same_settings(case: tuple[float, float, float, float, float | None]) -> None:
    frame, ridge = _frame(*case), case[3]
    chooser = _chooser(frame)
    found = chooser.cover(ridge)
    assert found is not None
    count, low, high = len(found[1]), 0.0, ridge
    while high - low > RIDGE_STEP:
        middle = (low + high) / 2
        fits = chooser.cover(middle, count)
        low, high, found = (middle, high, found) if fits is None else (low, middle, fits)
    choice = chooser.least_ridge(count, ridge)
    assert choice is not None
    assert choice.ridge == high
    assert choice.passes == chooser.passes(*found)


def test_the_farthest_that_joins_up_is_taken_each_time() -> None:
    chooser = _chooser(_frame(6.0, 3.0, 0.1, 0.08, 2.5))
    covers, picked = chooser.cover(0.08) or pytest.fail("nothing covers the dome")
    at = float(covers.end[picked[0]])
    for i in picked[1:]:
        assert covers.end[i] == covers.end[covers.begin <= at + REACHED / 10].max()
        at = float(covers.end[i])
    assert at >= chooser.stretch[1] - REACHED
