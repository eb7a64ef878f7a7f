"""A nose whose radius is ignored, by sweep: derived, and recomputed here with an envelope of settings.

Set as if it were a point, a nose of radius r leaves r(√2 - 1) square to a quarter round at 45°, and cuts an arc of
R - r where the round is convex, R + r where it is hollow, about a centre shifted by (r, r); on a taper it leaves
r(cos θ + sin θ - 1).
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

QUARTERS: dict[str, Data] = {
    kind: {
        "part.outline": [{"z": 0, "d": 10}, {"z": -10, "d": 30, kind: 10}, {"z": -40, "d": 30}],
        "part.curve": [0, -10],
        "stock": {"diameter": 30.01},
    }
    for kind in ("convex", "concave")
}


def _cone(degrees: float) -> Data:
    rise = 12 * math.tan(math.radians(degrees))
    end = {"z": -12, "d": 10 + 2 * rise}
    return {
        "part.outline": [{"z": 0, "d": 10}, end, {**end, "z": -40}],
        "part.curve": [-1, -11],
        "stock": {"diameter": 10.01 + 2 * rise},
    }


def _swept(shape: Data, nose: float, count: int = 400) -> tuple[Frame, np.ndarray, np.ndarray, np.ndarray]:
    """Many settings at which the reference point, not the nose, lies on the outline."""
    frame = Frame(job_from_data(pin({**shape, "tool.0.nose_radius": nose, "finish.ridge": 0.05})))
    x, y = frame.chain.points(np.linspace(*frame.stretch, count))
    top = frame.top + 8
    way = [Point(8, top)]
    for a, b in zip(x + nose, y + nose, strict=True):
        way += [Point(way[-1].x, float(b)), Point(float(a), float(b))]  # out first, then toward the chuck
    way.append(Point(way[-1].x, top))
    steps = [
        Step("finish", frame.job.shop.tools[0], "saddle" if a.y == b.y else "cross", a, b)
        for a, b in itertools.pairwise(way)
        if a != b
    ]
    swept = sweep(frame, steps)
    assert swept.gouge < 1e-4  # both leave metal on, neither cuts into the part
    u, height, points = left_standing(frame, swept.rest)
    cut = height > 0.02  # the border of what stands, but for the outline that it stands on
    return frame, u[cut], height[cut], points[cut]


@pytest.mark.parametrize("nose", [0.8, 3.0])
@pytest.mark.parametrize("kind", QUARTERS)
def test_a_quarter_round(kind: str, nose: float) -> None:
    _, u, height, points = _swept(QUARTERS[kind], nose)
    # Heights over the middle: the tops of the fine steps stand over the envelope by a few µm.
    middle = 10 * math.pi / 4
    near = np.abs(u - middle) < 0.1
    assert height[near].min() == pytest.approx(nose * (math.sqrt(2) - 1), abs=2e-3)
    # The envelope is an arc of R - r or R + r: the lowest places lie on it.
    convex = kind == "convex"
    centre = np.array([-10 + nose, 5 + nose]) if convex else np.array([nose, 15 + nose])
    radius = 10 - nose if convex else 10 + nose
    away = np.abs(np.hypot(*(points[near] - centre).T) - radius)
    assert away.min() < 2e-3
    if nose == 0.8:  # as printed in the table of check values
        at_45 = 10 + height[near].min() if convex else 10 - height[near].min()
        assert at_45 == pytest.approx(10.3314 if convex else 9.6686, abs=2e-3)


@pytest.mark.parametrize(("degrees", "share"), [(15, 0.22474), (30, 0.36603), (45, 0.41421), (60, 0.36603)])
def test_a_taper(degrees: float, share: float) -> None:
    frame, u, height, _ = _swept(_cone(degrees), 0.8, 1500)
    middle = sum(frame.stretch) / 2
    near = np.abs(u - middle) < 1
    assert height[near].min() == pytest.approx(0.8 * share, abs=1.5e-3)
