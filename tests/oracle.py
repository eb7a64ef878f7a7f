"""A second opinion on plans: part, stock and tools rebuilt from the job's own figures, every move swept with shapely.

Shares no code with the program. Works on documents alone: a job in the shape of job.toml, a plan in the shape of
plan.json. Lengths in mm, in the half-plane (z, r). What it measures, and to what:

    depth    how deep any tool entered what must be kept, by the distance from its border
    height   the highest metal over the curve: corners of what is left, dropped onto the exact lines and arcs
    chips    area, extent across the feed and thickness of what each move took from what still stood
"""

import importlib.util
import json
import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import shapely
import tomlkit
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry.base import BaseGeometry

Data = dict[str, Any]
Floats = NDArray[np.float64]
Places = NDArray[np.complex128]

AGREE = 0.0015  # two computations may differ by this much, mm
PART_CHORD = 1e-5  # chordal error of the part, mm
NOSE_CHORD = 4e-5  # of a nose, half of it to either side, mm
EDGE = 70.0  # how far the edges of a tool are taken to run, mm
BAR = 300.0  # how far the bar behind the part is taken to run, mm
HAIR = 1e-4  # how far two borders of the same chip may lie apart on average, mm
HAIRLINE = 1e-5  # area that only rounding makes, mm²
SLIVER = 0.01  # half the width under which a sliver is no bite, mm
SPARE = (1.02, 0.02)  # a bite may be over its limit by this factor and this much, mm
CLOSE = 0.02  # edges are looked at this closely, mm

JUDGE = Path(__file__).parents[2] / "shared" / "verify_plan.py"


# ---- the part
class Piece(NamedTuple):
    """A line (`radius` 0, from `start` along `way`) or an arc round `start`, from angle `turn` over `size` radians."""

    start: complex
    way: complex
    radius: float
    turn: float
    size: float

    def places(self) -> list[complex]:
        """Its points from the first to the one before the last."""
        if not self.radius:
            return [self.start]
        step = 2 * math.acos(1 - PART_CHORD / max(self.radius, PART_CHORD))
        count = max(2, math.ceil(abs(self.size) / step))
        return [self.start + self.radius * _unit(self.turn + self.size * i / count) for i in range(count)]

    def feet(self, points: Places) -> Places:
        """The nearest places of the piece."""
        offset = points - self.start
        if not self.radius:
            along = np.clip((offset * np.conj(self.way)).real / self.size, 0, 1)
            return np.asarray(self.start + along * self.size * self.way)
        middle = self.turn + self.size / 2
        away = (np.angle(offset * np.exp(-1j * middle)) + math.pi) % (2 * math.pi) - math.pi
        half = abs(self.size) / 2
        return np.asarray(self.start + self.radius * np.exp(1j * (middle + np.clip(away, -half, half))))

    def above(self, share: Floats, height: float, side: int) -> Places:
        """Points `height` over the piece, at these shares of its length; `side` 1: the air is on the right."""
        if not self.radius:
            return np.asarray(self.start + share * self.size * self.way - height * side * self.way * 1j)
        out = side * math.copysign(1, self.size)  # counter-clockwise with the air on the right: it bulges
        spoke = np.exp(1j * (self.turn + share * self.size))
        return np.asarray(self.start + (self.radius + out * height) * spoke)


def _unit(angle: float) -> complex:
    return complex(math.cos(angle), math.sin(angle))


def _line(p: complex, q: complex) -> Piece:
    return Piece(p, (q - p) / abs(q - p), 0.0, 0.0, abs(q - p))


def _arc(p: complex, q: complex, radius: float, centre_on_left: bool) -> Piece:
    """The shorter arc; its centre on the left of the way from p to q where said."""
    half = abs(q - p) / 2
    side = 1j if centre_on_left else -1j
    centre = (p + q) / 2 + side * (q - p) / (2 * half) * math.sqrt(max(radius**2 - half**2, 0.0))
    size = 2 * math.asin(min(1.0, half / radius)) * (1 if centre_on_left else -1)
    first = p - centre
    return Piece(centre, 0j, abs(first), math.atan2(first.imag, first.real), size)


def _through(p: complex, m: complex, q: complex) -> Piece:
    rows = np.array([[(m - p).real, (m - p).imag], [(q - p).real, (q - p).imag]])
    x, y = np.linalg.solve(2 * rows, [abs(m - p) ** 2, abs(q - p) ** 2])
    centre = p + complex(x, y)
    left = ((m - p).conjugate() * (q - p)).imag > 0
    size = (np.angle(q - centre) - np.angle(p - centre)) % (2 * math.pi)
    first = p - centre
    return Piece(centre, 0j, abs(first), float(np.angle(first)), float(size if left else size - 2 * math.pi))


def _pieces(nodes: list[Data], k: float, bore: bool) -> list[Piece]:
    out, at = [], None
    for node in nodes:
        here = complex(node["z"], node["d"] / 2) * k
        if at is not None and abs(here - at) > 1e-9:
            if "through" in node:
                z, d = node["through"]
                out.append(_through(at, complex(z, d / 2) * k, here))
            elif "convex" in node:
                out.append(_arc(at, here, node["convex"] * k, not bore))
            elif "concave" in node:
                out.append(_arc(at, here, node["concave"] * k, bore))
            else:
                out.append(_line(at, here))
        at = here
    return out


# ---- the shop
@dataclass(frozen=True)
class Setup:
    """A job as this judge sees it; `keep` is part and bar, outside with their image beyond the axis."""

    k: float
    bore: bool
    pieces: list[Piece]
    part: BaseGeometry
    keep: BaseGeometry
    blank: BaseGeometry
    around: BaseGeometry
    curve: tuple[float, float]
    tools: dict[str, tuple[BaseGeometry, complex]]
    ridge: float
    bite: float
    slides: Data

    @property
    def side(self) -> int:
        """1 where the air is on the right of the outline's way, -1 in a bore."""
        return -1 if self.bore else 1

    @property
    def on_axis(self) -> bool:
        """Whether the outline starts on the axis."""
        return bool(abs(self.pieces[0].above(np.zeros(1), 0.0, 1)[0].imag) < 1e-9)


def set_up(job: Data) -> Setup:
    """Part, stock and tools of a job given by outline and bar."""
    k = 25.4 if job.get("units") == "in" else 1.0
    part, stock = job["part"], job["stock"]
    bore = part.get("surface") == "bore"
    pieces = _pieces(part["outline"], k, bore)
    last = part["outline"][-1]
    end = complex(last["z"], last["d"] / 2) * k
    path = [p for piece in pieces for p in piece.places()] + [end]
    outer, hole, proud = stock["diameter"] * k / 2, stock.get("hole", 0) * k / 2, stock.get("proud", 0) * k
    base = outer if bore else 0.0
    ring = [complex(path[0].real, base), *path, complex(end.real, base)]
    body = shapely.Polygon([(p.real, p.imag) for p in ring]).buffer(0)
    bar = shapely.box(end.real - BAR, hole if bore else 0, end.real, outer)
    blank = shapely.box(end.real, hole if bore else 0, proud, outer)
    keep, around = shapely.union(body, bar), shapely.union(blank, bar)
    tools = {t["name"]: _tool(t, k, bore) for t in job["tool"]}
    widest = max(_nose(t, k) for t in job["tool"])
    zs = [p.real for p in path]
    curve = sorted(c * k for c in part["curve"]) if "curve" in part else [min(zs) + widest, max(zs)]
    return Setup(
        k,
        bore,
        pieces,
        body,
        keep if bore else shapely.union(keep, _other_half(keep)),
        blank,
        around if bore else shapely.union(around, _other_half(around)),
        (curve[0], curve[1]),
        tools,
        job.get("finish", {}).get("ridge", 0.002 if k > 1 else 0.05) * k,
        job.get("limits", {}).get("bite", 0.04 if k > 1 else 1.0) * k,
        job.get("slide", {}),
    )


def _other_half(region: BaseGeometry) -> BaseGeometry:
    return affinity.scale(region, 1, -1, origin=(0, 0))


def _tool(tool: Data, k: float, bore: bool) -> tuple[BaseGeometry, complex]:
    """The outline about the nose centre, and the reference point seen from there."""
    if tool.get("kind") == "form":
        return _form_tool(tool, k, bore)
    rho = tool["nose_radius"] * k
    blade = tool["width"] * k - 2 * rho if tool.get("kind") == "grooving" else 0.0
    round_nose = tool.get("kind") in ("round", "grooving")
    lead = math.pi / 2 if round_nose else math.pi - math.radians(tool.get("edge_angle", 93))
    trail = math.pi / 2 if round_nose else lead - math.radians(tool.get("point_angle", 55))
    quarter = max(16, math.ceil(math.pi / 2 / (2 * math.acos(1 - NOSE_CHORD / rho))))
    fat = rho + min(NOSE_CHORD, rho / 100) / 2  # the chords cut off as much as the corners add
    nose = [fat * _unit(math.pi / 2 * i / quarter) for i in range(4 * quarter)]
    flanks = [rho * _unit(lead + math.pi / 2), rho * _unit(trail - math.pi / 2)]
    far = [flanks[0] + EDGE * _unit(lead), flanks[1] + EDGE * _unit(trail)]
    left = not round_nose and tool.get("hand", "right") == "left"
    corners = [*nose, flanks[0], far[0], *(p + blade for p in (*nose, flanks[1], far[1]))]
    shape = shapely.MultiPoint([(p.real, p.imag) for p in corners]).convex_hull
    flip_z, flip_r = (-1 if left else 1), (-1 if bore else 1)
    return affinity.scale(shape, flip_z, flip_r, origin=(0, 0)), complex(-rho * flip_z, -rho * flip_r)


def _nose(tool: Data, k: float) -> float:
    """The nose radius, mm; of a form tool how high its nose centre lies over its lowest place."""
    return _form(tool, k)[1] if tool.get("kind") == "form" else float(tool["nose_radius"] * k)


def _form_tool(tool: Data, k: float, bore: bool) -> tuple[BaseGeometry, complex]:
    """The same for a form tool: under its outline it ends, over it it is metal all the way up."""
    under, rho = _form(tool, k)
    low = complex(under.real.min() + rho, under.imag.min() + rho)
    under = under - low
    corners = [*under, under[-1] + EDGE * 1j, under[0] + EDGE * 1j]
    shape = shapely.Polygon([(p.real, -p.imag if bore else p.imag) for p in corners])
    return shape.buffer(0), complex(-rho, rho if bore else -rho)


def _form(tool: Data, k: float) -> tuple[Places, float]:
    """Places along the outline of a form tool as it is written, mm, and its nose radius.

    By agreement that is the height of the end toward the chuck over the lowest place, 0.05 mm more where the outline
    has a corner of more than a degree there, and 0.2 mm or more."""
    points: list[complex] = []
    leaves: list[complex] = []  # the direction in which each piece leaves its first point
    for node in tool["outline"]:
        here = complex(node["z"], node["r"]) * k
        if "through" in node:
            piece = _through(points[-1], complex(*node["through"]) * k, here)
        elif "convex" in node:
            piece = _arc(points[-1], here, node["convex"] * k, True)
        else:
            leaves += [(here - points[-1])] if points else []
            points.append(here)
            continue
        leaves.append((points[-1] - piece.start) * 1j)
        turns = max(2, math.ceil(abs(piece.size) / (2 * math.acos(1 - NOSE_CHORD / 2 / piece.radius))))
        points += [piece.start + piece.radius * _unit(piece.turn + piece.size * i / turns) for i in range(1, turns)]
        points.append(here)
    under = np.array(points)
    first = int(np.flatnonzero(under.real < under.real.min() + 1e-9)[-1])
    way = leaves[0] if first == 0 else leaves[1]  # a first piece straight down is flank already
    round_end = math.atan2(way.real, -way.imag) < math.radians(1)
    return under, max(under[first].imag - under.imag.min() + (0.0 if round_end else 0.05), 0.2)


# ---- the judgement
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
    _sweep(setup, plan["moves"], verdict)
    looks = ((0.0, CLOSE), (CLOSE, CLOSE), (0.0, CLOSE / 8))
    heights = [standing(setup, verdict.rest, short, close) for short, close in looks]
    least, verdict.ridge = min(heights), max(heights)
    said = plan["prediction"]
    verdict.say(verdict.gouge <= AGREE, f"gouges {verdict.gouge:.5f}")
    verdict.say(verdict.ridge <= setup.ridge + AGREE, f"leaves {verdict.ridge:.5f}, asked for {setup.ridge:.5f}")
    for name, low, high in (("ridge_max", least, verdict.ridge), ("gouge_max", verdict.gouge, verdict.gouge)):
        near = low - AGREE <= said[name] <= high + AGREE
        verdict.say(near, f"{name}: predicts {said[name]:.5f}, measured {low:.5f} to {high:.5f}")
    _check_surface(said["surface"], verdict)
    _check_stations(job, plan, setup, verdict)
    return verdict


def _check_figures(setup: Setup, moves: list[Data], verdict: Verdict) -> None:
    """One slide a move, on its grid, from where the tool stood."""
    stood: dict[str, complex] = {}
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
        known = slide in ("saddle", "cross") or (slide == "top" and "top" in setup.slides)
        verdict.say(known and abs(still) < 1e-9, f"{tag}moves more than the {slide}")
        verdict.say(abs(moved) > 1e-9, f"{tag}goes nowhere")
        want, count = _figure(setup, slide, q + reference)
        verdict.say(abs(want - move["set"]) < 0.02 * count, f"{tag}says {move['set']}, stands at {want:.5f}")
        off = abs(move["set"] / count - round(move["set"] / count))
        verdict.say(off < 1e-5, f"{tag}{move['set']} is no whole count of {count}")
        verdict.say(move["within"] > 0, f"{tag}may be off by {move['within']}")


ALONG = ("saddle", "top")
"""The slides that go along the axis; the top slide only where the job has one."""


def _figure(setup: Setup, slide: str, place: complex) -> tuple[float, float]:
    """What a slide reads with the reference point there, and its count, in the job's units."""
    table = setup.slides.get(slide, {})
    count = table.get("count", 0.0005 if setup.k > 1 else 0.01)
    if slide in ALONG:
        return place.real / setup.k * (-1 if table.get("grows") == "toward" else 1), count
    size = 1 if table.get("reads") == "radius" else 2
    return place.imag / setup.k * size * (-1 if table.get("grows") == "in" else 1), count


def _sweep(setup: Setup, moves: list[Data], verdict: Verdict) -> None:
    rest = setup.blank
    shapely.prepare(setup.keep)
    core = setup.keep.buffer(-AGREE / 5)
    shapely.prepare(core)
    chips = []
    for n, (move, track) in enumerate(zip(moves, _tracks(setup, moves), strict=True), 1):
        if shapely.intersects(core, track):
            verdict.gouge = max(verdict.gouge, _depth(shapely.intersection(track, setup.keep), setup.keep))
        chip = shapely.intersection(track, rest)
        chips.append((n, move, chip))
        if chip.area > 0:
            rest = shapely.difference(rest, track)
    verdict.rest = rest
    _check_chips(setup, chips, verdict)


def _tracks(setup: Setup, moves: list[Data]) -> Iterator[BaseGeometry]:
    """What each move sweeps; outside, with its image beyond the axis, since the work turns."""
    shapes = {name: shapely.get_coordinates(shape) for name, (shape, _) in setup.tools.items()}
    for move in moves:
        shape = shapes[move["tool"]]
        track = shapely.MultiPoint(np.vstack([shape + move["from"], shape + move["to"]])).convex_hull
        if not setup.bore and track.bounds[1] < 0:
            track = shapely.union(track, _other_half(track))
        yield track


def _depth(region: BaseGeometry, keep: BaseGeometry) -> float:
    corners = shapely.get_coordinates(shapely.segmentize(region, CLOSE))
    return float(shapely.distance(shapely.points(corners), keep.boundary).max(initial=0.0))


def _check_chips(setup: Setup, chips: list[tuple[int, Data, BaseGeometry]], verdict: Verdict) -> None:
    most = setup.bite * SPARE[0] + SPARE[1]
    verdict.roughed = max((c.area for _, m, c in chips if m["stage"] == "rough"), default=0.0)
    nothing_roughed = verdict.roughed < 1e-3
    for n, move, chip in chips:
        tag, area = f"move {n} ({move['stage']}, {move['slide']}): ", chip.area
        verdict.say(move["cuts"] or area < 2e-3, f"{tag}is said to cut nothing, takes {area:.4f} mm²")
        promised = move["removes_mm2"]
        near = 1e-3 + 0.005 * area + HAIR * chip.length  # either computation flattens the border of the chip
        verdict.say(abs(area - promised) < near, f"{tag}promises {promised:.4f} mm², takes {area:.4f}")
        if area < HAIRLINE:
            continue
        if move["stage"] == "rough" or nothing_roughed:
            bite = _extent(chip, move["slide"])
            verdict.bite = max(verdict.bite, bite)
            verdict.say(bite <= most, f"{tag}bites {bite:.4f}, the limit is {setup.bite:.4f}")
        if move["stage"] != "rough":
            verdict.finished = max(verdict.finished, area)
            heavy = not nothing_roughed and area > verdict.roughed + 1e-3
            verdict.say(not heavy, f"{tag}takes {area:.4f} mm², the heaviest roughing move {verdict.roughed:.4f}")
            verdict.say(chip.buffer(-most / 2).is_empty, f"{tag}takes a chip thicker than {setup.bite:.4f}")


def _extent(chip: BaseGeometry, slide: str) -> float:
    """The widest piece of a chip across the feed, slivers aside."""
    low, high = (1, 3) if slide in ALONG else (0, 2)
    solid = shapely.get_parts(chip.buffer(-SLIVER).buffer(SLIVER))
    bounds = shapely.bounds(solid[~shapely.is_empty(solid)])
    return float((bounds[:, high] - bounds[:, low]).max(initial=0.0))


def standing(setup: Setup, rest: BaseGeometry, short: float = 0.0, close: float = CLOSE) -> float:
    """The highest metal over the curve, square to the outline, mm, looked at every `close` mm.

    Where the curve ends on the flank of a ridge it matters how near to the end one looks: up to `short` mm before it.
    """
    above = shapely.difference(rest, setup.part)
    solid = [g for g in shapely.get_parts(above) if g.area > 1e-6 * g.length]
    if not solid:
        return 0.0
    corners = shapely.get_coordinates(shapely.segmentize(shapely.multipolygons(solid), close))
    height, foot, place = drop(setup, corners[:, 0] + 1j * corners[:, 1])
    low, high = setup.curve
    over = (foot.real >= low + short - 1e-6) & (foot.real <= high - short + 1e-6)
    # What has its foot on the very ends stands beside the outline, unless that begins on the axis.
    over &= (place < len(setup.pieces) - 1e-9) & ((place > 1e-9) | setup.on_axis)
    over &= ~_over_the_face(setup, corners, height)
    return max(float(height[over].max(initial=0.0)), _at_ends(setup, rest, short), _buried(setup, rest))


def _over_the_face(setup: Setup, points: Floats, height: Floats) -> NDArray[np.bool_]:
    """What stands over the end face in front of the outline, nearer than over the outline: no part of the curve."""
    first = setup.pieces[0].above(np.zeros(1), 0.0, 1)[0]
    ahead = points[:, 0] - first.real
    beside = points[:, 1] >= first.imag if setup.bore else points[:, 1] <= first.imag
    return np.asarray((ahead >= 0) & beside & (ahead < height))


def drop(setup: Setup, points: Places) -> tuple[Floats, Places, Floats]:
    """Distance to the outline, nearest place on it, and that place as number of the piece and share of its length."""
    height = np.full(len(points), np.inf)
    foot, place = np.zeros(len(points), dtype=complex), np.zeros(len(points))
    for i, piece in enumerate(setup.pieces):
        feet = piece.feet(points)
        gap = np.abs(points - feet)
        nearer = gap < height - 1e-12
        height, foot = np.where(nearer, gap, height), np.where(nearer, feet, foot)
        place = np.where(nearer, i + _share(piece, feet), place)
    return height, foot, place


def _share(piece: Piece, feet: Places) -> Floats:
    first = piece.above(np.zeros(1), 0.0, 1)[0]
    last = piece.above(np.ones(1), 0.0, 1)[0]
    if not piece.radius:
        return np.asarray(np.abs(feet - first) / piece.size)
    turned = np.angle((feet - piece.start) * np.exp(-1j * piece.turn)) * math.copysign(1, piece.size)
    share = np.mod(turned, 2 * math.pi) / abs(piece.size)
    share = np.where(np.abs(feet - first) < 1e-9, 0.0, share)
    return np.where(np.abs(feet - last) < 1e-9, 1.0, np.clip(share, 0, 1))


def _at_ends(setup: Setup, rest: BaseGeometry, short: float) -> float:
    """The height just inside the ends of the curve: on the flank of a ridge no corner stands there."""
    highest = 0.0
    for i, piece in enumerate(setup.pieces):
        for limit in (min(setup.curve) + short, max(setup.curve) - short):
            share = _crossing(piece, limit)
            if share is None and i == 0 and not setup.on_axis and short == 0:
                share = _at_start(piece, limit)
            if share is None:
                continue
            foot, far = (piece.above(np.array([share]), h, setup.side)[0] for h in (1e-6, 3.0))
            ray = shapely.LineString([(foot.real, foot.imag), (far.real, far.imag)])
            for part in shapely.get_parts(shapely.intersection(ray, rest)):
                if part.distance(shapely.Point(ray.coords[0])) >= 1e-9:
                    continue
                top = np.array([foot + (far - foot) / abs(far - foot) * part.length])
                if drop(setup, top)[0][0] > part.length - 1e-4:  # else it stands over another place, in a hollow
                    highest = max(highest, float(part.length))
    return highest


def _at_start(piece: Piece, limit: float) -> float | None:
    """A place just inside the first piece, where the curve begins with the outline."""
    first = piece.above(np.zeros(1), 0.0, 1).real[0]
    return 1e-5 if abs(first - limit) < 1e-6 else None


def _crossing(piece: Piece, limit: float) -> float | None:
    """The share of a piece's length at which it passes a z, if it does inside."""
    low, high = 0.0, 1.0
    ends = piece.above(np.array([low, high]), 0.0, 1).real - limit
    if ends[0] * ends[1] >= 0 or np.abs(ends).min() < 1e-6:
        return None
    for _ in range(50):
        middle = (low + high) / 2
        passed = (piece.above(np.array([middle]), 0.0, 1).real[0] - limit) * ends[0] < 0
        low, high = (low, middle) if passed else (middle, high)
    return low


def _buried(setup: Setup, rest: BaseGeometry) -> float:
    """The height asked for and more, where metal stands there: a hollow left full shows no border near its floor."""
    asked = setup.ridge + 2 * AGREE
    low, high = setup.curve
    for piece in setup.pieces:
        length = piece.size if not piece.radius else abs(piece.size) * piece.radius
        share = np.linspace(0, 1, max(5, math.ceil(length / 0.05)))[1:-1]
        foot, probe = piece.above(share, 0.0, setup.side), piece.above(share, asked, setup.side)
        over = (foot.real > low) & (foot.real < high) & (probe.imag > 0)
        probe = probe[over]
        if len(probe):
            free = drop(setup, probe)[0] > setup.ridge + AGREE
            if (free & shapely.contains_xy(rest, probe.real, probe.imag)).any():
                return asked
    return 0.0


def _check_surface(surface: list[list[float]], verdict: Verdict) -> None:
    points = np.asarray(surface)
    off = np.asarray(shapely.distance(shapely.points(points), verdict.rest.boundary))
    wrong = off > AGREE / _sharpness(points)
    verdict.say(not wrong.any(), f"a point of the predicted surface is {off[wrong].max(initial=0):.5f} mm off")


def _sharpness(points: Floats) -> Floats:
    """How sharp the line is at each of its points: 1, or the sine of an acute angle, but no less than a fifteenth.

    Where two cuts meet at such an angle, what either is off by moves the tip by so much more.
    """
    out = np.ones(len(points))
    back, on = points[:-2] - points[1:-1], points[2:] - points[1:-1]
    size = np.maximum(np.hypot(*back.T) * np.hypot(*on.T), 1e-12)
    turn = np.abs(np.arctan2(back[:, 0] * on[:, 1] - back[:, 1] * on[:, 0], (back * on).sum(axis=1)))
    out[1:-1] = np.where((turn < math.pi / 2) & (size > 1e-12), np.maximum(np.sin(turn), 1 / 15), 1.0)
    return out


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


# ---- whether a tool can reach at all
def out_of_reach(
    job: Data, between: tuple[complex, complex] | None = None, samples: int = 160, on_grid: bool = True
) -> float:
    """The share of the curve above which no tool of the drawer can come within the ridge asked for.

    `between` two places of the outline only (z + i·d, in the job's unit), where they are given.

    A tool that stands clear of part and bar and takes the point `height` over the outline must have its nose centre
    among the points from which it covers that point, less those from which it would cut: the part grown by the
    tool turned half round. On the grid such a place has to hold a whole count of both slides.
    """
    setup = set_up(job)
    wanted = _wanted(setup, between, samples)
    reached = np.zeros(len(wanted), dtype=bool)
    for shape, reference in setup.tools.values():
        forbidden = _grown(setup.keep, shape)
        turned = affinity.scale(shape, -1, -1, origin=(0, 0))
        for i in np.flatnonzero(~reached):
            spot = affinity.translate(turned, wanted[i].real, wanted[i].imag)
            room = shapely.difference(spot, forbidden)
            reached[i] = _has_setting(setup, room, reference) if on_grid else room.area > 1e-12
    return float(1 - reached.mean()) if len(wanted) else 0.0


def _wanted(setup: Setup, between: tuple[complex, complex] | None, samples: int) -> Places:
    """Points at the height asked for, over the curve or a part of it."""
    span = (0.0, float(len(setup.pieces)))
    if between is not None:
        ends = np.array([complex(p.real, p.imag / 2) * setup.k for p in between])
        _, _, place = drop(setup, ends)
        span = (float(place.min()), float(place.max()))
    low, high = setup.curve
    points: list[complex] = []
    for i, piece in enumerate(setup.pieces):
        first, last = max(span[0] - i, 0.0), min(span[1] - i, 1.0)
        if last > first:
            share = np.union1d(first + (last - first) * (np.arange(samples) + 0.5) / samples, _beside_ends(piece))
            share = share[(share > first) & (share < last)]
            foot, probe = piece.above(share, 0.0, setup.side), piece.above(share, setup.ridge, setup.side)
            points += list(probe[(foot.real > low) & (foot.real < high)])
    wanted = np.asarray(points, dtype=complex)
    level = shapely.buffer(setup.part, setup.ridge, quad_segs=256).boundary
    wanted = np.concatenate([wanted, _in_hollow_corners(setup, level, span)])
    # Over a hollow corner a probe lies nearer to the other side; the nearest place so high over both is meant then.
    near = np.flatnonzero(drop(setup, wanted)[0] < setup.ridge * 0.999)
    if len(near):
        along = shapely.line_locate_point(level, shapely.points(wanted[near].real, wanted[near].imag))
        spots = shapely.get_coordinates(shapely.line_interpolate_point(level, along))
        wanted[near] = spots[:, 0] + 1j * spots[:, 1]
    return wanted


def _in_hollow_corners(setup: Setup, level: Any, span: tuple[float, float]) -> Places:
    """The points so high over both sides of each hollow corner of the curve: the hardest places to come to."""
    low, high = setup.curve
    found = []
    for i, piece in enumerate(setup.pieces[1:], 1):
        node = piece.above(np.zeros(1), 0.0, 1)[0]
        corner = shapely.Point(node.real, node.imag)
        inside = low < node.real < high and span[0] <= i <= span[1]
        if inside and level.distance(corner) > setup.ridge * 1.001:
            spot = shapely.line_interpolate_point(level, shapely.line_locate_point(level, corner))
            found.append(complex(*shapely.get_coordinates(spot)[0]))
    return np.asarray(found, dtype=complex)


def _beside_ends(piece: Piece) -> Floats:
    """Shares of a piece's length close beside its ends: in a hollow corner it is there that a nose may not fit."""
    size = abs(piece.size) * (piece.radius or 1.0)
    beside = np.geomspace(2e-4, 0.1, 28) / max(size, 1e-9)
    return np.concatenate([beside, 1 - beside])


def _grown(region: BaseGeometry, shape: BaseGeometry) -> BaseGeometry:
    """The nose centres from which a tool would cut a region: its border swept by the tool turned half round."""
    turned = -shapely.get_coordinates(shapely.simplify(shape, 2e-5))
    coarse = shapely.simplify(region, 2e-5)
    hulls = []
    for ring in shapely.get_rings(coarse):
        at = shapely.get_coordinates(ring)
        hulls += [shapely.MultiPoint(np.vstack([turned + a, turned + b])).convex_hull for a, b in pairwise(at)]
    return shapely.union_all([coarse, *hulls])


def _has_setting(setup: Setup, room: BaseGeometry, reference: complex) -> bool:
    """Whether a region of nose centres holds a point of the grid."""
    if room.is_empty:
        return False
    steps = []
    for slide, unit in (("saddle", 1), ("cross", 1j)):
        figure, count = _figure(setup, slide, complex(unit) * setup.k)
        steps.append(count * setup.k / abs(figure))
    left, bottom, right, top = room.bounds
    first = math.ceil((left + reference.real) / steps[0]) * steps[0] - reference.real
    columns = np.arange(first, right, steps[0])
    if len(columns) > 400:
        columns = columns[:: len(columns) // 400]
    for x in columns:
        slot = shapely.intersection(room, shapely.LineString([(x, bottom - 1), (x, top + 1)]))
        for part in shapely.get_parts(slot):
            a, b = part.bounds[1] + reference.imag, part.bounds[3] + reference.imag
            if math.floor(b / steps[1] + 1e-6) >= math.ceil(a / steps[1] - 1e-6):
                return True
    return False


# ---- the other judge
def other_judge(job: Data, plan: Data, folder: Path) -> list[str] | None:
    """What the judge beside the repository says, where there is one; None where there is none."""
    if not JUDGE.is_file():
        return None
    spec = importlib.util.spec_from_file_location("other_judge", JUDGE)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    job_file, plan_file = folder / "job.toml", folder / "plan.json"
    job_file.write_text(tomlkit.dumps(job), encoding="utf-8")
    plan_file.write_text(json.dumps(plan), encoding="utf-8")
    found: list[str] = module.judge(job_file, plan_file)[0]
    return found
