"""Jobs for the tests: the bridge pin as data, changed at will, and random ones."""

import copy
import math
from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from ovolo.documents.reading import job_from_data
from ovolo.errors import Fault, JobFaults

Data = dict[str, Any]

PIN: Data = {
    "title": "Bridge pin",
    "part": {"outline": [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}], "curve": [0, -9]},
    "stock": {"diameter": 20, "proud": 0.5, "stick_out": 35},
    "tool": [{"name": "round nose 6", "kind": "round", "nose_radius": 3}],
}

NOTHING = object()


def pin(changes: Mapping[str, object] | None = None) -> Data:
    """The bridge pin, with values set at dotted places ("tool.0.name"); NOTHING takes one away.

    In inches its figures are odd ones, and meant so, unless a test says itself what is sure.
    """
    data = copy.deepcopy(PIN)
    if (changes or {}).get("units") == "in":
        data["sure"] = ["inches"]
    for place, value in (changes or {}).items():
        *steps, last = (int(step) if step.isdigit() else step for step in place.split("."))
        inner: Any = data
        for step in steps:
            inner = inner.setdefault(step, {}) if isinstance(inner, dict) else inner[step]
        if value is NOTHING:
            del inner[last]
        elif isinstance(inner, list) and last == len(inner):
            inner.append(copy.deepcopy(value))
        else:
            inner[last] = copy.deepcopy(value)
    return data


def faults(data: object) -> list[Fault]:
    """The faults of a job; none where it is read."""
    try:
        job_from_data(data)
    except JobFaults as found:
        return list(found.faults)
    return []


def only_fault(changes: Mapping[str, object]) -> Fault:
    """The one fault of the bridge pin so changed."""
    found = faults(pin(changes))
    assert len(found) == 1, found
    return found[0]


@st.composite
def jobs(draw: st.DrawFn) -> Data:
    """Random jobs that are right: lines and arcs toward the chuck, either unit, either surface, any slides."""
    unit = draw(st.sampled_from(["mm", "in"]))
    k = 1.0 if unit == "mm" else 0.04
    surface = draw(st.sampled_from(["outside", "bore"]))
    z, r = 0.0, draw(st.floats(3, 6))
    outline: list[Data] = [{"z": 0, "d": 2 * r * k}]
    for _ in range(draw(st.integers(1, 6))):
        dz, dr = -draw(st.floats(1, 6)), draw(st.floats(0, 1.5))
        chord = math.hypot(dz, dr)
        z, r = z + dz, r + dr
        point: Data = {"z": z * k, "d": 2 * r * k}
        bend = draw(st.sampled_from(["line", "convex", "concave", "through"]))
        if bend in ("convex", "concave"):
            point[bend] = chord * draw(st.floats(2.0, 30)) * k
        elif bend == "through":
            bulge = draw(st.floats(0.02, 0.06)) * draw(st.sampled_from([-1, 1]))
            point["through"] = [(z - dz / 2 + bulge * dr) * k, 2 * (r - dr / 2 - bulge * dz) * k]
        outline.append(point)
    radius = draw(st.floats(0.05, 0.5))
    data: Data = {
        "title": draw(st.sampled_from(["Lever", 'Bush 3/4"', "Lampenkopf Ø 20"])),
        "units": unit,
        "part": {"surface": surface, "outline": outline, "curve": [0, z * k]},
        "stock": {"diameter": (2 * r + draw(st.floats(4, 9))) * k, "proud": draw(st.floats(0.1, 1)) * k},
        "tool": [{"name": "knife", "nose_radius": radius * k, "hand": draw(st.sampled_from(["left", "right"]))}],
        "slide": {
            "cross": {
                "reads": draw(st.sampled_from(["radius", "diameter"])),
                "grows": draw(st.sampled_from(["in", "out"])),
            },
            "saddle": {"grows": draw(st.sampled_from(["away", "toward"])), "lock": draw(st.booleans())},
        },
    }
    data["tool"][0]["edge_angle"] = draw(st.floats(60, 95))
    if surface == "bore":
        data["stock"]["hole"] = k
    if draw(st.booleans()):
        turn, divisions = draw(st.floats(1, 5)) * k, draw(st.integers(50, 500))
        count = turn / divisions / draw(st.sampled_from([4, 5, 10]))  # what a dial can be stopped at
        count = max(count, 0.0005 if unit == "mm" else 0.00002)
        data["slide"]["saddle"] |= {"per_turn": turn, "divisions": divisions, "count": count}
    if draw(st.booleans()):
        data["pace"] = {"turn": draw(st.floats(0, 20)), "filing_mm3": draw(st.floats(0.1, 500))}
    if draw(st.booleans()):
        data["finish"] = {"ridge": draw(st.floats(0.03, 0.2)) * k, "allowance": draw(st.floats(0.1, 0.5)) * k}
    return data
