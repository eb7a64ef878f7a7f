"""Parts that never were: a plan's moves swept with tools that stand wrong, then measured. Shares no code with Check.

Moves are taken from the plan as a document, errors put on them, each track cut with shapely (the oracle's own
tools), and what is left is measured by jaws or points at places that are a little off.
"""

import copy
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
    """What is wrong with a part: mm, a taper in mm of radius for each mm toward the chuck.

    counts: how many mm of radius the cross slide goes for each that was meant, from the radius `about`. lag: how far a
    slide falls short where it comes to its figure the way that is named, "out" or "in" (the cross slide), "away" or
    "toward" (the saddle). at: the number of one move, from 0, whose slide was brought to another figure.
    """

    cross: float = 0.0
    saddle: float = 0.0
    nose: Mapping[str, float] | None = None
    taper: float = 0.0
    height: float = 0.0
    counts: float = 1.0
    about: float = 0.0
    lag: tuple[str, float] | None = None
    at: tuple[int, float] | None = None

    def r(self, r: float) -> float:
        """Where the reference point truly was, of a radius that was meant, mm."""
        return self.about + self.counts * (r - self.about)

    def short(self, slide: str, by: float) -> float:
        """How far a slide falls short that has come `by` mm to its figure, mm; along z or r."""
        if self.lag is None or abs(by) < 1e-9:
            return 0.0
        way, size = self.lag
        if slide != ("cross" if way in ("out", "in") else "saddle") or (by > 0) != (way in ("out", "away")):
            return 0.0
        return -size if by > 0 else size


@dataclass(frozen=True)
class Made:
    """A part that was made: the setup of its job and the metal left, in (z, r)."""

    setup: Setup
    rest: BaseGeometry

    def radius(self, low: float, high: float) -> float:
        """The largest radius between two places, in a bore the smallest; what jaws or a point would read, mm."""
        box = shapely.box(low, -1.0, max(high, low + 1e-7), 1e3)
        metal = shapely.intersection(self.rest, box)
        if metal.is_empty:
            return 0.0
        return float(metal.bounds[1] if self.setup.bore else metal.bounds[3])

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
    unit = 25.4 if job.get("units") == "in" else 1.0
    for tool in job["tool"]:
        if tool["name"] in noses:
            tool["nose_radius"] += noses[tool["name"]] / unit
    setup = set_up(job)
    rest = setup.blank if blank is None else blank
    for track in tracks_of(setup, _as_run(job, plan["moves"], wrong, noses, source, scatter)):
        rest = shapely.difference(rest, track)
    return Made(setup, _off_centre(rest, setup, wrong.height) if wrong.height else rest)


def _off_centre(rest: BaseGeometry, setup: Setup, height: float) -> BaseGeometry:
    """What a tool off centre height leaves: every radius that was cut is larger, and a core that it never reached.

    The pip that stands in front of the end breaks off, and is no matter of the curve.
    """
    fine = shapely.segmentize(rest, 0.02)
    grown = shapely.transform(fine, lambda at: np.c_[at[:, 0], np.hypot(at[:, 1], height)])
    core = shapely.box(-1e3, 0.0, 0.0, height)
    return shapely.intersection(shapely.union(shapely.make_valid(grown), core), setup.blank)


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
    unit = 25.4 if job.get("units") == "in" else 1.0
    off = {"cross": 0.0, "saddle": 0.0}
    tool, out = "", []

    def stand(place: Sequence[float], nose: float, entered: float, lead: int) -> list[float]:
        z, r = place[0], wrong.r(place[1] - side * entered) + side * entered
        r += wrong.taper * -z + wrong.cross + off["cross"] + side * nose
        return [z + wrong.saddle + off["saddle"] + lead * nose, r]

    for n, move in enumerate(moves):
        if move["tool"] != tool:
            tool = move["tool"]
            off = {name: size[name] * source.standard_normal() for name in off}
        nose = noses.get(tool, 0.0)
        entered = hands[tool].get("nose_radius", 0.0) * unit - nose
        pointed = hands[tool].get("kind", "pointed") == "pointed"
        lead = -1 if pointed and hands[tool].get("hand") == "left" else 1
        start = stand(move["from"], nose, entered, lead)
        slide = "cross" if move["slide"] == "cross" else "saddle"
        way = 1 if slide == "cross" else 0
        off[slide] = size[slide] * source.standard_normal()
        off[slide] += wrong.short(slide, move["to"][way] - move["from"][way])
        if wrong.at is not None and wrong.at[0] == n:
            off[slide] += wrong.at[1]
        out.append({**move, "from": start, "to": stand(move["to"], nose, entered, lead)})
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
