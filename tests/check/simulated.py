"""Parts that never were: a plan's moves swept with tools that stand wrong, then measured. Shares no code with Check.

Moves are taken from the plan as a document, errors put on them, each track cut with shapely (the oracle's own
tools), and what is left is measured by jaws or points at places that are a little off.
"""

import copy
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry
from tests.oracle import Data, Setup, set_up, standing, tracks_of

SETTING = {"cross": 0.005, "saddle": 0.01}
"""What settings scatter by where a job says nothing, mm of travel."""


@dataclass(frozen=True)
class Wrong:
    """What is wrong with a part: mm, a taper in mm of radius for each mm toward the chuck."""

    cross: float = 0.0
    saddle: float = 0.0
    nose: Mapping[str, float] | None = None
    taper: float = 0.0
    height: float = 0.0


@dataclass(frozen=True)
class Made:
    """A part that was made: the setup of its job and the metal left, in (z, r)."""

    setup: Setup
    rest: BaseGeometry
    height: float = 0.0

    def radius(self, low: float, high: float) -> float:
        """The largest radius between two places, in a bore the smallest; what jaws or a point would read, mm."""
        box = shapely.box(low, -1.0, max(high, low + 1e-7), 1e3)
        metal = shapely.intersection(self.rest, box)
        if metal.is_empty:
            return 0.0
        r = metal.bounds[1] if self.setup.bore else metal.bounds[3]
        return math.hypot(r, self.height)

    def above(self) -> float:
        """The most metal over the curve, mm."""
        return standing(self.setup, self.rest)

    def below(self) -> float:
        """The most metal that is missing along the curve, mm: how deep its places lie in the air."""
        low, high = self.setup.curve
        places = [p for piece in self.setup.pieces for p in piece.above(np.linspace(0, 1, 400), 0.0, 1)]
        on = [(p.real, p.imag) for p in places if low <= p.real <= high]
        whole = shapely.union(self.rest, shapely.box(-1e3, -1e3, 1e3, 0.0)) if not self.setup.bore else self.rest
        return float(shapely.distance(shapely.points(on), whole).max())


def errors_of(job: Data) -> dict[str, float]:
    """What settings scatter by, mm."""
    return {**SETTING, **job.get("errors", {}).get("setting", {})}


def make(
    job: Data, plan: Data, wrong: Wrong, seed: int, *, blank: BaseGeometry | None = None, scatter: bool = True
) -> Made:
    """Run a plan on a lathe that has something wrong with it; on a piece already there, where one is given."""
    source = np.random.default_rng(seed)
    noses = wrong.nose or {}
    job = copy.deepcopy(job)
    for tool in job["tool"]:
        tool["nose_radius"] += noses.get(tool["name"], 0.0)
    setup = set_up(job)
    rest = setup.blank if blank is None else blank
    for track in tracks_of(setup, _as_run(job, plan["moves"], wrong, noses, source, scatter)):
        rest = shapely.difference(rest, track)
    return Made(setup, rest, wrong.height)


def _as_run(
    job: Data,
    moves: Sequence[Data],
    wrong: Wrong,
    noses: Mapping[str, float],
    source: np.random.Generator,
    by: bool,
) -> list[Data]:
    size = errors_of(job) if by else {"cross": 0.0, "saddle": 0.0}
    side = -1 if job["part"].get("surface") == "bore" else 1
    hands = {t["name"]: t for t in job["tool"]}
    off = {"cross": 0.0, "saddle": 0.0}
    tool, out = "", []

    def stand(place: Sequence[float], nose: float, lead: int) -> list[float]:
        z, r = place
        r += wrong.taper * -z + wrong.cross + off["cross"] + side * nose
        return [z + wrong.saddle + off["saddle"] + lead * nose, r]

    for move in moves:
        if move["tool"] != tool:
            tool = move["tool"]
            off = {name: size[name] * source.standard_normal() for name in off}
        nose = noses.get(tool, 0.0)
        pointed = hands[tool].get("kind", "pointed") == "pointed"
        lead = -1 if pointed and hands[tool].get("hand") == "left" else 1
        start = stand(move["from"], nose, lead)
        slide = "cross" if move["slide"] == "cross" else "saddle"
        off[slide] = size[slide] * source.standard_normal()
        out.append({**move, "from": start, "to": stand(move["to"], nose, lead)})
    return out


def measure(
    made: Made, places: Sequence[float], seed: int, *, u: float = 0.01, u_z: float = 0.02, over: float = 0.0
) -> list[tuple[float, float]]:
    """(z, diameter) as read: `u` of the diameter, `u_z` of the place, jaws of `over`."""
    source = np.random.default_rng(seed)
    out = []
    for z in places:
        at = z + u_z * source.standard_normal()
        d = 2 * made.radius(at - over / 2, at + over / 2) + u * source.standard_normal()
        out.append((z, round(max(d, 0.0), 3)))
    return out


def as_csv(readings: Sequence[tuple[float, float]], *, u: float, u_z: float, over: float = 0.0) -> str:
    """The same as the text of a file of readings."""
    rows = [f"{z},{d},{u},{u_z},{over}" for z, d in readings]
    return "\n".join(["z,d,u,u_z,over", *rows]) + "\n"
