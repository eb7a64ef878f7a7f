"""Jobs to measure with: a dome, and waves of as many segments and stations as one likes."""

import math
from typing import Any

from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Job

Data = dict[str, Any]

KNIFE = {"name": "knife", "nose_radius": 0.4}
SPACING = 2 * math.sqrt(2 * 0.4 * 0.02)
"""How far apart a nose of R 0.4 stands on a straight line for a ridge of 0.02, nearly, mm."""
FARTHER = 1.098
"""On the slopes of the waves it stands so many times farther apart: what it sweeps on its way in and out counts too."""


def dome(ridge: float = 0.05) -> Data:
    """The bridge pin: a whole half ball of R 9 on a bar of Ø 20, a round nose of R 3."""
    return {
        "title": "Bridge pin",
        "part": {"outline": [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}], "curve": [0, -9]},
        "stock": {"diameter": 20, "proud": 0.5, "stick_out": 60},
        "tool": [{"name": "round nose 6", "kind": "round", "nose_radius": 3}],
        "finish": {"ridge": ridge},
    }


def _long(outline: list[Data], back: float) -> Data:
    largest = max(p["d"] for p in outline)
    return {
        "title": "Turned rail",
        "part": {"outline": outline, "curve": [-0.01, back]},
        "stock": {"diameter": round(largest + 1, 3), "proud": 0.2},
        "tool": [KNIFE],
        "finish": {"ridge": 0.02},
        "limits": {"bite": 2},
    }


def waves(segments: int, stations: int = 1000) -> Data:
    """Arcs by turns convex and concave, tangent to each other, together about this many stations long.

    Fewer segments over the same length are taller waves, with more to rough.
    """
    half = 0.2  # the steepest slope, radians
    chord = FARTHER * SPACING * stations / segments * math.sin(half) / half
    radius = chord / (2 * math.sin(half))
    outline: list[Data] = [{"z": 0, "d": 0}, {"z": 0, "d": 30}]
    z, r = 0.0, 15.0
    for i in range(segments):
        # Up a hollow and over a round, down a round and through a hollow: the slope swings between both.
        rise = math.sin(half) * chord * (1 if i % 4 < 2 else -1)
        z, r = z - chord * math.cos(half), r + rise
        bend = "concave" if i % 4 in (0, 3) else "convex"
        outline.append({"z": round(z, 6), "d": round(2 * r, 6), bend: round(radius + 1e-5, 6)})
    outline.append({"z": round(z - 12, 6), "d": round(2 * r, 6)})
    return _long(outline, z)


def read(data: Data) -> Job:
    """The data as a job."""
    return job_from_data(data)
