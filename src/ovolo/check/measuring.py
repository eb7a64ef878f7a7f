"""What to measure: at which places, how many, with what is owned; and whether that can decide the tolerance at all.

Places are picked one after the other, each where it narrows most what is not known: what a reading brings is judged by
how each cause would change it, against how well it can be read there. A place on a slope counts for little where it is
not known well; the list says so rather than leave it out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ovolo.check.causes import Cause, applied
from ovolo.check.evidence import APART, LEAST_U, NEAR, Explained
from ovolo.check.jaws import Jaws
from ovolo.check.measured import Reading
from ovolo.check.positions import Positions, positions_of
from ovolo.check.profile import heights, near_surface, places
from ovolo.check.reach import Finish
from ovolo.check.settings_scatter import drawn
from ovolo.check.verdict import K
from ovolo.geometry.chain import Floats
from ovolo.part.targets import CurveLimits
from ovolo.plan.model import Plan
from ovolo.shop.instruments import UNNAMED, Instrument
from ovolo.shop.slides import Slide

__all__ = ["ON_READOUT", "Advice", "Place", "measuring_list", "reading_that_tells"]

ON_READOUT = 0.02
"""Standard uncertainty of a place that is read off the saddle's readout or set by a stop, mm."""

FEWEST, MOST = 8, 16
"""So many places are proposed."""

STEEP = np.sin(np.pi / 4)
"""Where the outline's normal lies nearer to the axis than this the place decides."""

DRAWS = 200

CANDIDATES = 50


@dataclass(frozen=True)
class Place:
    """A place to measure, mm: z, what the plan leaves there (radius), the instrument, the standard uncertainty square
    to the outline that it will have, and what it is for; `by_readout` where its place has to be known well."""

    z: float
    expected: float
    instrument: Instrument
    u: float
    brings: str
    by_readout: bool


@dataclass(frozen=True)
class Advice:
    """The list, in the order to measure in; whether it can decide the tolerance: the standard uncertainty that the
    curve will be known to at its worst, what that leaves of the limits, and the place that helps most beside them."""

    places: tuple[Place, ...]
    limits: CurveLimits
    u: float
    ridge: float
    can_prove: bool
    next_best: Place | None
    causes: tuple[tuple[str, str], ...]

    @property
    def least_above(self) -> float:
        """The least that may be allowed above for a part just as planned to be proved good, mm."""
        return self.ridge + K * self.u

    @property
    def least_below(self) -> float:
        """The same below."""
        return K * self.u


@dataclass(frozen=True)
class _Bench:
    """Every place that could be read, with each instrument, and what the causes would do there."""

    plan: Plan
    positions: Positions
    readings: tuple[Reading, ...]
    owned: tuple[Instrument, ...]

    @cached_property
    def jaws(self) -> Jaws:
        return Jaws.on(self.positions, self.readings, NEAR)

    @cached_property
    def causes(self) -> list[Cause]:
        noses = [Cause("nose_radius", tool.name) for tool in self.plan.tools if tool.edge.noses]
        return [Cause("cross_offset"), Cause("saddle_offset"), *noses, Cause("taper")]

    @cached_property
    def slopes(self) -> Floats:
        """What each cause does to each reading, (readings, causes); what a slide carries is blind to it."""
        return _slopes(self.jaws, self.positions, self.causes, blind=[r.relative for r in self.readings])

    @cached_property
    def variance(self) -> Floats:
        """Of each reading with its place and the settings' scatter, mm²."""
        own = np.array([max(r.u, LEAST_U) for r in self.readings]) ** 2 + self.jaws.from_place(self.positions)
        close = Jaws.on(self.positions, self.readings, 0.06)
        spread = close.at_place(drawn(self.positions, self.plan.job.shop.errors, DRAWS))
        return np.asarray(own + spread.var(axis=0, ddof=1))

    @cached_property
    def known(self) -> Floats:
        """What is known of the causes before, as the inverse of a covariance."""
        errors = self.plan.job.shop.errors
        sd = {
            "cross_offset": 10 * errors.touching_cross,
            "saddle_offset": 10 * errors.touching_saddle,
            "nose_radius": 10 * errors.nose,
            "taper": 0.005,
        }
        return np.diag([1 / sd[cause.name] ** 2 for cause in self.causes])


def _slopes(jaws: Jaws, positions: Positions, causes: Sequence[Cause], blind: Sequence[bool]) -> Floats:
    out = np.zeros((len(blind), len(causes)))
    for n, cause in enumerate(causes):
        up, down = (jaws.at_place(applied(positions, [(cause, sign * cause.unit)])) for sign in (1, -1))
        out[:, n] = (up - down) / (2 * cause.unit)
        if cause.name != "nose_radius":
            out[np.array(blind), n] = 0.0
    return out


def measuring_list(plan: Plan, limits: CurveLimits) -> Advice:
    """Which places to measure on the part that a plan makes, with what the job owns (else a caliper)."""
    positions = near_surface(positions_of(plan))
    owned = plan.job.shop.instruments or (UNNAMED,)
    readings, tools = _candidates(plan, positions, owned)
    bench = _Bench(plan, positions, tuple(readings), tuple(tools))
    picked = _picked(bench, MOST + 1)
    rows, extra = picked[:MOST], picked[MOST : MOST + 1]
    made = sorted((_place(bench, n) for n in rows), key=lambda place: -place.z)
    u = _worst(bench, rows)
    ridge = plan.prediction.ridge_max
    proves = ridge + K * u <= limits.above and K * u <= limits.below
    best = _place(bench, extra[0]) if extra else None
    return Advice(tuple(made), limits, u, ridge, proves, best, tuple(_confounded(bench, rows)))


def _candidates(
    plan: Plan, positions: Positions, owned: Sequence[Instrument]
) -> tuple[list[Reading], list[Instrument]]:
    """Places at round figures along the curve and the metal finished beside it, with each instrument that reaches."""
    frame, unit = positions.frame, plan.job.shop.unit
    step = _round_step((frame.front_of_part - frame.back) / CANDIDATES, unit)
    first, last = int(np.ceil(frame.back / step)), int(np.floor(frame.front_of_part / step))
    finish = Finish(positions, plan.job.part.ridge)
    found: list[Reading] = []
    tools: list[Instrument] = []
    for tool in owned:
        for n in range(last, first - 1, -1):
            place = min(tool.u_z, ON_READOUT) if _readout(plan.job.shop.saddle) else tool.u_z
            u = tool.u / 2 if tool.kind in ("caliper", "micrometer") else tool.u
            reading = Reading(n * step, 0.0, u, place, tool.over, relative=not tool.absolute)
            if finish.unused_because(reading) is None:
                found.append(reading)
                tools.append(tool)
    if not found:  # nothing that is owned fits anywhere: a point in the middle of the curve is better than no list
        high, low = plan.job.part.curve
        point = Instrument.usual("caliper", "knife edges of a caliper", over=0.0)
        for z in np.linspace(high, low, 12)[1:-1]:
            found.append(Reading(round(float(z), 2), 0.0, point.u / 2, point.u_z, 0.0))
            tools.append(point)
    return found, tools


def _readout(slide: Slide) -> bool:
    return not slide.on_dial


def _round_step(wish: float, unit: float) -> float:
    """A round figure near a wish, in mm or tenths of an inch."""
    bare = wish / unit
    power = 10 ** np.floor(np.log10(bare))
    return float(min((m * power for m in (1, 2, 5, 10)), key=lambda s: abs(np.log(s / bare))) * unit)


def _picked(bench: _Bench, most: int) -> list[int]:
    """Places, the one that narrows most first; no place twice, and no two closer than they can be told apart."""
    information = bench.known.copy()
    out: list[int] = []
    left = set(range(len(bench.readings)))
    while left and len(out) < most:
        inverse = np.linalg.inv(information)
        rows = np.array(sorted(left))
        a = bench.slopes[rows]
        gain = np.einsum("ij,jk,ik->i", a, inverse, a) / bench.variance[rows]
        best = int(rows[int(np.argmax(gain))])
        out.append(best)
        information = information + np.outer(bench.slopes[best], bench.slopes[best]) / bench.variance[best]
        z = bench.readings[best].z
        left = {n for n in left if abs(bench.readings[n].z - z) > 1e-9}
    return out


def _place(bench: _Bench, n: int) -> Place:
    reading, frame = bench.readings[n], bench.positions.frame
    at = float(bench.jaws.at_place(bench.positions)[n])
    x = np.array([reading.z])
    u, _ = frame.chain.project(x, np.array([at]), 1e3)
    _, ny = frame.chain.normals(*frame.chain.locate(u))
    steep = abs(float(ny[0])) < STEEP
    u_square = float(np.sqrt(bench.variance[n])) * abs(float(ny[0]))
    high, low = bench.plan.job.part.curve
    on_curve = low - 1e-6 <= reading.z <= high + 1e-6
    brings = "separates the saddle from the nose" if steep else "diameter of the curve"
    if not on_curve:
        brings = "separates the cross slide from a taper"
    readout = steep and reading.u_z <= ON_READOUT
    return Place(reading.z, abs(at), bench.owned[n], u_square, brings, readout)


def _worst(bench: _Bench, rows: Sequence[int]) -> float:
    """How well the curve is known at its worst once these are read, mm: settings that nobody read scatter too."""
    a, w = bench.slopes[rows], 1 / bench.variance[rows]
    covariance = np.linalg.inv(bench.known + a.T @ (w[:, None] * a))
    frame = bench.positions.frame
    start, end = frame.curve_ends
    x, _ = frame.chain.points(np.linspace(start, end, 120)[1:-1])
    spots = places(bench.positions, x, 0.1)
    base = heights(bench.positions, spots)
    spread = heights(drawn(bench.positions, bench.plan.job.shop.errors, DRAWS), spots).std(axis=0, ddof=1)
    rise = np.stack(
        [(heights(applied(bench.positions, [(c, c.unit)]), spots) - base) / c.unit for c in bench.causes],
        axis=1,
    )
    u, _ = _sorted_project(bench.positions, x, base)
    _, ny = frame.chain.normals(*frame.chain.locate(u))
    along = np.sqrt(np.einsum("ij,jk,ik->i", rise, covariance, rise) + spread**2)
    return float(np.quantile(np.abs(ny) * along, 0.9))


def _sorted_project(positions: Positions, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    order = np.argsort(x)
    u, away = np.empty_like(x), np.empty_like(x)
    u[order], away[order] = positions.frame.chain.project(x[order], y[order], 5.0)
    return u, away


def _confounded(bench: _Bench, rows: Sequence[int]) -> list[tuple[str, str]]:
    """Pairs of causes of 0.1 mm (a taper of 0.002) that these readings would leave undecided."""
    a, w, names = bench.slopes[rows], 1 / bench.variance[rows], [c.name for c in bench.causes]
    size = [0.002 if name == "taper" else 0.1 for name in names]
    found: list[tuple[str, str]] = []
    for i in range(len(names)):
        for j in range(i + 1, len(names)):
            one, other = a[:, i] * size[i], a[:, j]
            own = float(other @ (w * other))
            rest = one - other * float(other @ (w * one)) / own if own > 0 else one
            if float(rest @ (w * rest)) < 4 * APART:
                found.append((names[i], names[j]))
    return found


def reading_that_tells(plan: Plan, one: Explained, other: Explained, like: Reading) -> Reading | None:
    """The place where one more reading, as well read as another and its place known by the readout, would best tell two
    explanations apart; None where none would."""
    positions = near_surface(positions_of(plan))
    finish, (high, low) = Finish(positions, plan.job.part.ridge), plan.job.part.curve
    tried = [replace(like, z=round(float(z), 2), u_z=ON_READOUT) for z in np.linspace(high, low, CANDIDATES)]
    readings = [reading for reading in tried if finish.unused_because(reading) is None]
    if not readings:
        return None
    jaws = Jaws.on(positions, readings, 0.06)
    a, b = (Jaws.on(each.at, readings, 0.1).at_place(each.at) for each in (one, other))
    own = np.array([r.u for r in readings]) ** 2 + jaws.from_place(positions)
    close = Jaws.on(positions, readings, 0.06)
    spread = close.at_place(drawn(positions, plan.job.shop.errors, DRAWS)).var(axis=0, ddof=1)
    apart = (a - b) ** 2 / (own + spread)
    best = int(np.argmax(apart))
    return readings[best] if apart[best] > 1.0 else None
