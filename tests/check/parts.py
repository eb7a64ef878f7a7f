"""Shapes to be simulated: jobs as data, planned once, and where each is measured."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import job_as_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan

Data = dict[str, Any]

ROUND = {"name": "round nose 6", "kind": "round", "nose_radius": 3}

SHAPES: dict[str, Data] = {
    # a dome at the end of a pin: one flank only
    "dome": {
        "title": "Pin",
        "part": {
            "outline": [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}],
            "curve": [0, -22],
        },
        "stock": {"diameter": 20, "proud": 0.5, "stick_out": 45},
        "tool": [ROUND],
    },
    # a ball on a neck: both flanks
    "ball": {
        "title": "Knob",
        "part": {
            "outline": [
                {"z": 0, "d": 0},
                {"z": -10, "d": 20, "convex": 10},
                {"z": -18.66, "d": 10, "convex": 10},
                {"z": -34, "d": 10},
            ],
            "curve": [0, -17.5],
        },
        "stock": {"diameter": 22, "proud": 0.5, "stick_out": 60},
        "tool": [{"name": "round nose 4", "kind": "round", "nose_radius": 2}],
    },
    # a crown: slopes under 6 degrees
    "crown": {
        "title": "Roller",
        "part": {"outline": [{"z": 0, "d": 38}, {"z": -40, "d": 38, "convex": 200}], "curve": [0, -36]},
        "stock": {"diameter": 42, "proud": 0.5, "stick_out": 70},
        "finish": {"ridge": 0.02},
        "tool": [ROUND],
    },
    # a hollow in a bore
    "bore": {
        "title": "Bush",
        "part": {
            "surface": "bore",
            "outline": [{"z": 0, "d": 30}, {"z": -10, "d": 24, "concave": 25}, {"z": -24, "d": 24}],
            "curve": [0, -22],
        },
        "stock": {"diameter": 45, "hole": 20, "stick_out": 60},
        "tool": [{"name": "boring tool", "kind": "round", "nose_radius": 1.5}],
    },
}

DIALS = {
    "cross": {"reads": "diameter", "count": 0.02, "per_turn": 2, "divisions": 100, "backlash": 0},
    "saddle": {"count": 0.02, "per_turn": 2, "divisions": 100, "backlash": 0},
}
KNIVES = [
    {"name": "right-hand knife", "nose_radius": 0.4, "edge_angle": 93, "point_angle": 55},
    {"name": "left-hand knife", "hand": "left", "nose_radius": 0.4, "edge_angle": 93, "point_angle": 55},
]

MORE: dict[str, Data] = {
    # a fillet at a shoulder
    "fillet": {
        "title": "Pawl pin",
        "part": {
            "outline": [
                {"z": 0, "d": 20},
                {"z": -26, "d": 20},
                {"z": -30, "d": 28, "concave": 4},
                {"z": -30, "d": 40},
                {"z": -38, "d": 40},
            ],
            "curve": [0, -30],
        },
        "stock": {"diameter": 40, "stick_out": 50},
        "tool": [*KNIVES, ROUND],
    },
    # convex, concave and convex again
    "handle": {
        "title": "Handle of the winch",
        "part": {
            "outline": [
                {"z": 0, "d": 0},
                {"z": -2.3, "d": 8, "convex": 4.6},
                {"z": -14, "d": 11, "convex": 40},
                {"z": -36, "d": 8, "concave": 90},
                {"z": -46, "d": 9, "concave": 60},
                {"z": -52, "d": 9},
            ],
            "curve": [0, -46],
        },
        "stock": {"diameter": 12, "proud": 0.5, "stick_out": 65},
        "tool": [{"name": "round nose 4", "kind": "round", "nose_radius": 2}],
    },
    # a cove in inches
    "cove": {
        "units": "in",
        "title": "Sheave",
        "part": {
            "outline": [
                {"z": 0, "d": 2},
                {"z": -0.25, "d": 2},
                {"z": -0.4, "d": 1.75, "concave": 0.1525},
                {"z": -0.55, "d": 2, "concave": 0.1525},
                {"z": -0.9, "d": 2},
            ],
            "curve": [0, -0.8],
        },
        "stock": {"diameter": 2.1, "stick_out": 1.5},
        "tool": [{"name": "round nose", "kind": "round", "nose_radius": 0.0625}],
    },
    # a dome set by its handwheels, whose backlash nobody entered
    "dials": {**SHAPES["dome"], "title": "Pin, on dials", "slide": DIALS},
    # a ball on a neck set by its handwheels
    "ball on dials": {**SHAPES["ball"], "title": "Knob, on dials", "slide": DIALS},
}
"""Further shapes, for single causes."""


@dataclass(frozen=True)
class Shape:
    """A shape with its plan, both as documents too."""

    plan: Plan
    job: Data
    moves: Data

    @property
    def tool(self) -> str:
        """The tool that finishes."""
        return next(move.tool for move in self.plan.moves if move.station is not None)


@lru_cache(maxsize=16)
def shape(name: str) -> Shape:
    """One of the shapes, planned."""
    plan = make_plan(job_from_data((SHAPES | MORE)[name]))
    return Shape(plan, job_as_data(plan.job), plan_as_data(plan))


def places(name: str, many: int = 14) -> list[float]:
    """Where to measure: more of them near the free end, where a dome is steep."""
    high, low = shape(name).plan.job.part.curve
    share = np.linspace(0.0, 1.0, many + 2)[1:-1] ** 1.3
    return [round(float(high + (low - high) * s), 2) for s in share]
