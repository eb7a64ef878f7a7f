"""Ridges by the planner's own sweep of two settings, against closed forms.

Feed mark r - √(r² - s²/4) = (8 - 3√7)/10 mm for s 0.2, r 0.8: exact. Ridges at R 10, r 0.8, step 0.4 along the part:
27.548 µm convex, 25.403 flat, 23.284 concave: derived, recomputed by intersecting circles (the small-step law
s²/8·(1/r ± 1/R) of Lin & Koren, ASME J. Eng. Ind. 118 (1996) 20, from memory, gives 27, 25, 23).
"""

import itertools
import math

import numpy as np
import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.steps import Step
from ovolo.plan.sweep.remaining import left_standing
from ovolo.plan.sweep.sweep import sweep
from ovolo.plan.view.frame import Frame
from ovolo.shop.edges.nosed import NOSE_CHORD

BEHIND = {"z": -40, "d": 30}
CONVEX: Data = {
    "part.outline": [{"z": 0, "d": 10}, {"z": -10, "d": 30, "convex": 10}, BEHIND],
    "part.curve": [0, -10],
}
FLAT: Data = {"part.outline": [{"z": 0, "d": 30}, BEHIND], "part.curve": [0, -30]}
CONCAVE: Data = {
    "part.outline": [{"z": 0, "d": 10}, {"z": -10, "d": 30, "concave": 10}, BEHIND],
    "part.curve": [0, -10],
}
SHAPES = {"convex": CONVEX, "flat": FLAT, "concave": CONCAVE}


def _left(shape: str, nose: float, places: list[float]) -> float:
    """The highest metal between settings of a round nose at these places along the outline, fed straight in."""
    frame = Frame(
        job_from_data(
            pin({**SHAPES[shape], "stock": {"diameter": 32}, "tool.0.nose_radius": nose, "finish.ridge": 0.05})
        )
    )
    x, y = frame.chain.points(np.array(places), nose)
    way = [Point(6, 25)]
    for a, b in zip(x, y, strict=True):
        way += [Point(float(a), 25), Point(float(a), float(b)), Point(float(a), 25)]
    steps = [
        Step("finish", frame.job.shop.tools[0], "saddle" if a.y == b.y else "cross", a, b)
        for a, b in itertools.pairwise(way)
        if a != b
    ]
    swept = sweep(frame, steps)
    assert swept.gouge < 2e-5
    u, height, _ = left_standing(frame, swept.rest)
    # Beside the slots that the nose was fed in by, the blank still stands, higher than half the nose.
    return float(height[(u > places[0]) & (u < places[-1]) & (height < nose / 2)].max())


# A nose flattened between points on it leaves a little more, never less.
@pytest.mark.parametrize(("shape", "ridge_um"), [("convex", 27.548), ("flat", 25.403), ("concave", 23.2845)])
def test_two_settings_0_4_apart_at_r_10_and_nose_0_8(shape: str, ridge_um: float) -> None:
    start = 3.0 if shape == "flat" else 10 * math.pi / 4 - 0.2
    left = 1000 * _left(shape, 0.8, [start, start + 0.4])
    assert ridge_um - 0.02 <= left <= ridge_um + 1000 * NOSE_CHORD * 1.2


@pytest.mark.parametrize(("step", "nose"), [(0.2, 0.8), (0.1, 0.4), (0.5, 0.8)])
def test_the_exact_feed_mark(step: float, nose: float) -> None:
    left = _left("flat", nose, [3 + step * k for k in range(4)])
    exact = nose - math.sqrt(nose**2 - step**2 / 4)
    assert exact - 1e-6 <= left <= exact + NOSE_CHORD * 1.2
    if (step, nose) == (0.2, 0.8):
        assert exact == pytest.approx((8 - 3 * math.sqrt(7)) / 10, abs=1e-15)


def test_convex_is_worse_than_flat_and_concave_better() -> None:
    middle = 10 * math.pi / 4
    convex, flat, concave = (_left(shape, 2.0, [middle - 0.4, middle + 0.4]) for shape in SHAPES)
    assert convex > flat > concave
