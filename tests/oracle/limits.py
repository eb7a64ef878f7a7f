"""How wide a move cuts and how near it comes to the jaws, and what it may: worked out from the job's own tables."""

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry
from tests.oracle.outline import Data
from tests.oracle.shop import Setup

PLACES = 50  # at which the edge of a wide cut is looked at along its way
OVER = (1.03, 0.02)  # a cut may be over its limit by this factor and this much, mm
SEEN = 1e-6  # a piece of less area is rounding, mm²
FROM_JAWS = 0.5  # has to stay free of told jaws over what a move may be off, mm
FAR = 1e4
SLIVER = 0.01  # half the width under which a sliver is no bite, mm

SOFT = ("brass", "aluminium", "aluminum", "aged aluminium")
USUAL = ("mild steel", "free-cutting steel", "cast iron", "bronze")


def plunge_of(job: Data) -> float:
    """The widest plunge of a job, mm."""
    k, limits, part = (25.4 if job.get("units") == "in" else 1.0), job.get("limits", {}), job["part"]
    if "plunge" in limits:
        return float(limits["plunge"]) * k
    name = part.get("material")
    usual = 3.0 if name in SOFT else 2.5 if name in USUAL or name is None else 1.5
    return min(usual, limits.get("bite", 0.04 if k > 1 else 1.0) * k) if part.get("surface") == "bore" else usual


def kind_of(job: Data, move: Data) -> str:
    """The kind of the tool of a move."""
    return str(next(t for t in job["tool"] if t["name"] == move["tool"]).get("kind", "pointed"))


def widest(job: Data, bite: float, move: Data, roughed: bool) -> float:
    """The widest that a move may cut, mm."""
    tool = next(t for t in job["tool"] if t["name"] == move["tool"])
    k, rough, inward = (25.4 if job.get("units") == "in" else 1.0), move["stage"] == "rough", move["slide"] == "cross"
    plunge, kind = tool.get("plunge", 0) * k or plunge_of(job), tool.get("kind", "pointed")
    if kind == "grooving":
        return float(tool["width"] if inward else tool["nose_radius"]) * k
    if kind == "pointed":
        return bite if rough or not roughed else max(bite, min(2 * tool["nose_radius"] * k, plunge))
    return bite if rough and not inward else plunge


def at_once(shape: np.ndarray, move: Data, chip: BaseGeometry) -> float:
    """The widest that the edge takes at once across the feed, the last tenth of its cutting way aside, mm."""
    spots = np.linspace(move["from"], move["to"], PLACES + 1)
    axis, wide = (0 if move["slide"] == "cross" else 1), []
    for here, there in pairwise(spots):
        hull = shapely.MultiPoint(np.vstack([shape + here, shape + there])).convex_hull
        fresh = hull.intersection(chip).difference(shapely.Polygon(shape + here))
        pieces = [g.bounds for g in getattr(fresh, "geoms", [fresh]) if g.area > SEEN]
        wide.append(max((b[2 + axis] - b[axis] for b in pieces), default=0.0))
    cutting = [i for i, w in enumerate(wide) if w > 0]
    last = cutting[0] + 0.9 * (cutting[-1] + 1 - cutting[0]) if cutting else 0
    return max((wide[i] for i in cutting if i < last), default=0.0)


def shortfalls(job: Data, setup: Setup, moves: list[Data], chips: list[BaseGeometry]) -> Iterator[str]:
    """Cuts too wide, and tools too near to told jaws, in words."""
    roughed = any(m["stage"] == "rough" for m in moves)
    for n, (move, chip) in enumerate(zip(moves, chips, strict=True), 1):
        straight = move["from"][0] == move["to"][0] or move["from"][1] == move["to"][1]
        most = widest(job, setup.bite, move, roughed) * OVER[0] + OVER[1]
        shape = shapely.get_coordinates(setup.tools[move["tool"]][0].convex_hull)
        axis = 0 if move["slide"] == "cross" else 1
        core = chip.buffer(-SLIVER).buffer(SLIVER)
        if straight and any(g.bounds[2 + axis] - g.bounds[axis] > most for g in shapely.get_parts(core)):
            wide = at_once(shape, move, chip)
            if wide > most:
                yield f"move {n} ({move['stage']}, {move['slide']}): cuts {wide:.4f} mm at once, {most:.4f} is the most"
        free = free_of_jaws(job, setup, shape, move)
        if free < move["within"] + FROM_JAWS - 1e-6:
            yield f"move {n}: {free:.4f} mm from the jaws"


def free_of_jaws(job: Data, setup: Setup, shape: np.ndarray, move: Data) -> float:
    """What stays free between a tool and told jaws, mm."""
    out, stands, stock = job["stock"].get("stick_out"), job.get("lathe", {}).get("jaws"), job["stock"]
    if out is None or stands is None or setup.bore:
        return math.inf
    side = stock["diameter"] / 2 if "diameter" in stock else stock["outline"][-1]["d"] / 2
    hull = shapely.MultiPoint(np.vstack([shape + move["from"], shape + move["to"]])).convex_hull
    low = hull.intersection(shapely.box(-FAR, -FAR, FAR, (side + stands) * setup.k))
    return math.inf if low.is_empty else low.bounds[0] + out * setup.k
