"""Everything that a plan must hold, measured anew."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from tests.oracle.heights import AGREE, standing
from tests.oracle.limits import at_once, kind_of, shortfalls, widest
from tests.oracle.outline import Data
from tests.oracle.shop import ALONG, NOSE_CHORD, Setup, figure_of, other_half, set_up

HAIRLINE = 1e-5  # area that only rounding makes, mm²
FLATTENED = 2e-4  # a program's chords may lie so far inside a true nose, mm
ROUNDED = 5e-5  # what several places written to 1e-5 may differ by, mm
WRITTEN = (1e-5, 1e-4)  # places and areas in a plan are written to this, mm and mm²
CLOSE = 0.02  # borders of gouges are looked at this closely, mm
SLIVER = 0.01  # half the width under which a sliver is no bite, mm
SPARE = (1.02, 0.02)  # a bite may be over its limit by this factor and this much, mm


Chip = tuple[int, Data, BaseGeometry]
"""The number of a move, the move, and what it took."""


@dataclass
class Verdict:
    """What was measured, mm and mm², and what falls short, in words."""

    faults: list[str] = field(default_factory=list)
    gouge: float = 0.0
    ridge: float = 0.0
    bite: float = 0.0
    roughed: float = 0.0
    finished: float = 0.0
    rest: BaseGeometry = field(default_factory=shapely.Polygon)

    def say(self, unless: bool, fault: str) -> None:
        """Note a fault unless all is well."""
        if not unless:
            self.faults.append(fault)


def judge(job: Data, plan: Data) -> Verdict:
    """Everything that a plan must hold, measured anew."""
    setup, verdict = set_up(job), Verdict()
    _check_figures(setup, plan["moves"], verdict)
    chips = sweep(setup, plan["moves"], verdict)
    bounds = cache(lambda: bounds_of(job, plan["moves"]))
    _check_chips(job, setup, chips, verdict, bounds)
    if "limits" in plan.get("job", {}) and "outline" in job["part"]:
        verdict.faults.extend(shortfalls(job, setup, plan["moves"], [chip for _, _, chip in chips]))
    verdict.ridge = standing(setup, verdict.rest)
    said = plan["prediction"]
    verdict.say(verdict.gouge <= AGREE, f"gouges {verdict.gouge:.5f}")
    verdict.say(verdict.ridge <= setup.ridge + AGREE, f"leaves {verdict.ridge:.5f}, asked for {setup.ridge:.5f}")
    for name, measured in (("ridge_max", verdict.ridge), ("gouge_max", verdict.gouge)):
        verdict.say(abs(said[name] - measured) <= AGREE, f"{name}: predicts {said[name]:.5f}, measured {measured:.5f}")
    check_surface(said["surface"], verdict, bounds)
    _check_stations(job, plan, setup, verdict)
    return verdict


def _check_figures(setup: Setup, moves: list[Data], verdict: Verdict) -> None:
    """One slide a move, on its grid, from where the tool stood."""
    stood: dict[str, complex] = {}
    slid = 0.0  # how far a top slide that is set over has gone from its 0, toward the chuck
    for n, move in enumerate(moves, 1):
        tag = f"move {n}: "
        shape, reference = setup.tools[move["tool"]]
        p, q = complex(*move["from"]), complex(*move["to"])
        before = stood.get(move["tool"])
        if before is None:
            inside = affinity.translate(shape, p.real, p.imag).intersection(setup.around).area
            verdict.say(inside < 1e-6, f"{tag}the first of its tool starts in metal, {inside:.4f} mm²")
        else:
            verdict.say(abs(before - p) < 1e-6, f"{tag}starts {abs(before - p):.5f} mm from where its tool stood")
        stood[move["tool"]] = q
        slide = move["slide"]
        moved, still = (q - p).real, (q - p).imag
        moved, still = (moved, still) if slide in ALONG else (still, moved)
        if slide == "top" and setup.over is not None:
            slid += ((q - p) / setup.over).real
            still = 0.0 if abs(((q - p) / setup.over).imag) < ROUNDED else still
            verdict.say(abs(still) < 1e-9, f"{tag}leaves the way of the top slide")
            still, place = 0.0, complex(-slid)
        else:
            verdict.say(abs(slid) < ROUNDED, f"{tag}moves the {slide}, with the top slide {slid:.5f} from its 0")
            slid, place = 0.0, q + reference
        known = slide in ("saddle", "cross") or (slide == "top" and "top" in setup.slides)
        verdict.say(known and abs(still) < 1e-9, f"{tag}moves more than the {slide}")
        verdict.say(abs(moved) > 1e-9, f"{tag}goes nowhere")
        want, count = figure_of(setup, slide, place)
        verdict.say(abs(want - move["set"]) < 0.02 * count, f"{tag}says {move['set']}, stands at {want:.5f}")
        off = abs(move["set"] / count - round(move["set"] / count))
        verdict.say(off < 1e-5, f"{tag}{move['set']} is no whole count of {count}")
        verdict.say(move["within"] > 0, f"{tag}may be off by {move['within']}")


def sweep(setup: Setup, moves: list[Data], verdict: Verdict) -> list[Chip]:
    rest = setup.blank
    shapely.prepare(setup.keep)
    core = setup.keep.buffer(-AGREE / 5)
    shapely.prepare(core)
    chips = []
    for n, (move, track) in enumerate(zip(moves, tracks_of(setup, moves), strict=True), 1):
        if shapely.intersects(core, track):
            verdict.gouge = max(verdict.gouge, _depth(shapely.intersection(track, setup.keep), setup.keep))
        chip = shapely.intersection(track, rest)
        chips.append((n, move, chip))
        if chip.area > 0:
            rest = shapely.difference(rest, track)
    verdict.rest = rest
    return chips


def tracks_of(setup: Setup, moves: list[Data]) -> Iterator[BaseGeometry]:
    """What each move sweeps; outside, with its image beyond the axis, since the work turns."""
    shapes = {name: shapely.get_coordinates(shape) for name, (shape, _) in setup.tools.items()}
    for move in moves:
        shape = shapes[move["tool"]]
        track = shapely.MultiPoint(np.vstack([shape + move["from"], shape + move["to"]])).convex_hull
        if not setup.bore and track.bounds[1] < 0:
            track = shapely.union(track, other_half(track))
        yield track


@dataclass(frozen=True)
class Bounds:
    """What noses anywhere between a true one and one flattened as coarsely as allowed take and leave.

    A program that flattens its noses between points that lie on them cuts with less than the true tool and with more
    than one that is smaller all round. So its metal lies between what these two leave, and what each of its moves takes
    between what the smaller takes from the least metal and what the larger takes from the most.
    """

    areas: list[tuple[float, float]]
    least: BaseGeometry
    most: BaseGeometry

    def hold(self, n: int, area: float) -> bool:
        """Whether move n may take so much."""
        low, high = self.areas[n - 1]
        return low - WRITTEN[1] <= area <= high + WRITTEN[1]

    def between(self, points: NDArray[np.object_]) -> NDArray[np.bool_]:
        """Whether points may lie on the border of what is left."""
        inside = shapely.distance(points, self.most) <= WRITTEN[0]
        deep = shapely.contains(self.least, points) & (shapely.distance(points, self.least.boundary) > WRITTEN[0])
        return np.asarray(inside & ~deep)


def bounds_of(job: Data, moves: list[Data]) -> Bounds:
    full, pared = set_up(job, pared=-NOSE_CHORD / 2), set_up(job, pared=FLATTENED + NOSE_CHORD / 2)
    least, most, areas = full.blank, full.blank, []
    for large, small in zip(tracks_of(full, moves), tracks_of(pared, moves), strict=True):
        areas.append((shapely.intersection(small, least).area, shapely.intersection(large, most).area))
        least, most = shapely.difference(least, large), shapely.difference(most, small)
    return Bounds(areas, least, most)


def _depth(region: BaseGeometry, keep: BaseGeometry) -> float:
    corners = shapely.get_coordinates(shapely.segmentize(region, CLOSE))
    return float(shapely.distance(shapely.points(corners), keep.boundary).max(initial=0.0))


def _check_chips(job: Data, setup: Setup, chips: list[Chip], verdict: Verdict, bounds: Callable[[], Bounds]) -> None:
    verdict.roughed = max((c.area for _, m, c in chips if m["stage"] == "rough"), default=0.0)
    nothing_roughed = verdict.roughed < 1e-3
    for n, move, chip in chips:
        tag, area = f"move {n} ({move['stage']}, {move['slide']}): ", chip.area
        verdict.say(move["cuts"] or area < 2e-3, f"{tag}is said to cut nothing, takes {area:.4f} mm²")
        promised = move["removes_mm2"]
        near = abs(area - promised) < 1e-3 + 0.005 * area or bounds().hold(n, promised)
        verdict.say(near, f"{tag}promises {promised:.4f} mm², takes {area:.4f}")
        if area < HAIRLINE:
            continue
        limit = widest(job, setup.bite, move, not nothing_roughed)
        if move["stage"] == "rough" or nothing_roughed:
            bite = _extent(_levelled(chip, move), move["slide"])
            if bite > limit * SPARE[0] + SPARE[1]:  # where its own last tenth is what makes it wide, that is aside
                bite = _at_once(setup, move, chip)
            verdict.bite = max(verdict.bite, bite)
            verdict.say(bite <= limit * SPARE[0] + SPARE[1], f"{tag}bites {bite:.4f}, the limit is {limit:.4f}")
        if move["stage"] != "rough":
            verdict.finished = max(verdict.finished, area)
            heavy = not nothing_roughed and area > verdict.roughed + 1e-3
            verdict.say(not heavy, f"{tag}takes {area:.4f} mm², the heaviest roughing move {verdict.roughed:.4f}")
            plunges = move["slide"] == "cross" and kind_of(job, move) != "pointed"
            thick = (limit if plunges else setup.bite) * SPARE[0] + SPARE[1]
            verdict.say(chip.buffer(-thick / 2).is_empty, f"{tag}takes a chip thicker than {thick:.4f}")


def _at_once(setup: Setup, move: Data, chip: BaseGeometry) -> float:
    """The widest that an edge takes at once; of a slanted move what its whole chip measures."""
    (z0, r0), (z1, r1) = move["from"], move["to"]
    if z0 != z1 and r0 != r1:
        return _extent(_levelled(chip, move), move["slide"])
    return at_once(shapely.get_coordinates(setup.tools[move["tool"]][0].convex_hull), move, chip)


def _levelled(chip: BaseGeometry, move: Data) -> BaseGeometry:
    """A chip turned so that its move goes along the axis, where it went at an angle."""
    (z0, r0), (z1, r1) = move["from"], move["to"]
    if z0 == z1 or r0 == r1:
        return chip
    return affinity.rotate(chip, -math.atan((r1 - r0) / (z1 - z0)), origin=(0, 0), use_radians=True)


def _extent(chip: BaseGeometry, slide: str) -> float:
    """The widest piece of a chip across the feed, slivers aside."""
    low, high = (1, 3) if slide in ALONG else (0, 2)
    solid = shapely.get_parts(chip.buffer(-SLIVER).buffer(SLIVER))
    bounds = shapely.bounds(solid[~shapely.is_empty(solid)])
    return float((bounds[:, high] - bounds[:, low]).max(initial=0.0))


def check_surface(surface: list[list[float]], verdict: Verdict, bounds: Callable[[], Bounds]) -> None:
    points = np.asarray(shapely.points(np.asarray(surface)))
    off = np.asarray(shapely.distance(points, verdict.rest.boundary))
    wrong = off > AGREE
    if wrong.any():
        wrong[wrong] = ~bounds().between(points[wrong])
    verdict.say(not wrong.any(), f"a point of the predicted surface is {off[wrong].max(initial=0):.5f} mm off")


def _check_stations(job: Data, plan: Data, setup: Setup, verdict: Verdict) -> None:
    numbers = [m["station"] for m in plan["moves"] if m.get("station") is not None]
    stations, fewest, proof = plan["stations"], plan["fewest"], plan["proof"]
    verdict.say(numbers == list(range(1, stations + 1)), f"numbers its stations {numbers}")
    # Where the job asks for equal steps of one slide, that may cost stations; nothing else may.
    enough = stations >= fewest if "by" in job.get("finish", {}) else stations == fewest
    verdict.say(enough, f"{stations} stations, {fewest} would do")
    verdict.say(proof["fewer"] == fewest - 1, f"proves {proof['fewer']} too few, not {fewest - 1}")
    leaves = proof["leaves"]
    verdict.say(leaves is None or leaves > setup.ridge, f"one fewer would leave {leaves}, which is allowed")
