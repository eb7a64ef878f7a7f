"""Plans made by the planner for the tests of what is shown: small ones, each made once."""

from functools import cache
from pathlib import Path
from typing import Any

from ovolo.documents.reading import job_from_data, read_job
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan

EXAMPLES = Path(__file__).parents[2] / "examples"

BUSH: dict[str, Any] = {
    "version": 1,
    "title": "Bell-mouthed bush of the winch house",
    "part": {
        "surface": "bore",
        "material": "bronze",
        "outline": [{"z": 0, "d": 36}, {"z": -8, "d": 20, "convex": 8}, {"z": -30, "d": 20}],
        "curve": [0, -8],
    },
    "stock": {"diameter": 50, "hole": 18, "proud": 0.5, "stick_out": 45},
    "tool": [{"name": "boring bar, round", "kind": "round", "nose_radius": 2}],
    "finish": {"ridge": 0.05},
}

CORED: dict[str, Any] = {
    **BUSH,
    "title": "The same bush from a casting, cored",
    "part": {**BUSH["part"], "outline": [{"z": 0, "d": 32}, {"z": -6, "d": 20, "convex": 6}, {"z": -26, "d": 20}]},
    "stock": {"diameter": 44, "outline": [{"z": 1, "d": 28}, {"z": -5, "d": 18, "convex": 7}, {"z": -26, "d": 16}]},
}

PIVOT: dict[str, Any] = {
    "version": 1,
    "title": "Tiny pivot",
    "part": {"material": "brass", "outline": [{"z": 0, "d": 0}, {"z": -0.5, "d": 1, "convex": 0.5}, {"z": -2, "d": 1}]},
    "stock": {"diameter": 1.2, "proud": 0.1},
    "tool": [{"name": "round nose 0.4", "kind": "round", "nose_radius": 0.2}],
    "finish": {"ridge": 0.02},
}

HANDLE: dict[str, Any] = {
    "version": 1,
    "title": "Winch handle <with> & a title as long as any that a careful restorer of bridges may think of, and longer",
    "part": {
        "material": "mild steel",
        "outline": [
            {"z": 0, "d": 0},
            {"z": -8, "d": 16, "convex": 8},
            {"z": -10, "d": 16},
            {"z": -30, "d": 12, "concave": 60},
            {"z": -50, "d": 18, "concave": 50},
            {"z": -55, "d": 24, "concave": 6},
            {"z": -58, "d": 30},
            {"z": -60, "d": 30},
        ],
    },
    "stock": {"diameter": 32, "proud": 0.5},
    "tool": [{"name": "round nose 4", "kind": "round", "nose_radius": 2}],
    "finish": {"ridge": 0.1},
}

LEANING: dict[str, Any] = {
    "kind": "pointed", "nose_radius": 0.4, "edge_angle": 110, "point_angle": 35
}  # fmt: skip

LIP: dict[str, Any] = {
    "version": 1,
    "title": "Knob with a hollow back",
    "part": {
        "material": "brass",
        "outline": [
            {"z": 0, "d": 14},
            {"z": -3, "d": 20, "convex": 3},
            {"z": -6, "d": 20},
            {"z": -5.1864, "d": 13.4914},
            {"z": -5.7687, "d": 12, "concave": 0.6},
            {"z": -20, "d": 12},
        ],
        "curve": [0, -18],
    },
    "stock": {"diameter": 22, "proud": 0.5, "stick_out": 40},
    "tool": [
        {"name": "right-hand knife", "kind": "pointed", "nose_radius": 0.4, "hand": "right"},
        {"name": "left-hand knife", "hand": "left", **LEANING},
    ],
    "finish": {"ridge": 0.05},
}
"""An outline that doubles back: under its lip nothing is seen from the side."""

DISH: dict[str, Any] = {
    "version": 1,
    "title": "Dished end of a buffer",
    "part": {
        "material": "mild steel",
        "outline": [{"z": -1.5, "d": 0}, {"z": 0, "d": 16, "concave": 22.083}, {"z": 0, "d": 18}, {"z": -12, "d": 18}],
        "curve": [0, -10],
    },
    "stock": {"diameter": 20, "proud": 0.5, "stick_out": 40},
    "tool": [{"name": "knife", **LEANING, "hand": "right", "nose_radius": 0.8, "edge_angle": 125}],
    "finish": {"ridge": 0.05},
}
"""An outline whose foremost place is not its first."""

JOBS = {"bush": BUSH, "cored": CORED, "pivot": PIVOT, "handle": HANDLE, "lip": LIP, "dish": DISH}
NAMES = ("bridge-pin", "corner-radius", "winch-pin-inch", "bush", "cored", "pivot", "handle", "lip", "dish")


@cache
def planned(name: str) -> Plan:
    """The plan of an example, or of one of the jobs above."""
    job = job_from_data(JOBS[name]) if name in JOBS else read_job(EXAMPLES / f"{name}.toml")
    return make_plan(job)
