"""Part, stock and tools of a job as the second opinion sees them: shapely regions built from the job's own figures."""

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from tests.oracle.outline import Data, Piece, Places, arc_between, arc_through, pieces_of, unit

NOSE_CHORD = 4e-5  # chordal error of a nose, half of it to either side, mm
EDGE = 70.0  # how far the edges of a tool are taken to run, mm
THICK = 1.5  # the outside of a piece whose hole is shaped, where not told: so many times its widest place
BAR = 300.0  # how far the bar behind the part is taken to run, mm


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
    def over(self) -> complex | None:
        """One mm of a top slide that is set over, toward the chuck; None where it lies parallel to the axis."""
        angle = math.radians(self.slides.get("top", {}).get("angle", 0))
        return complex(-math.cos(angle), math.sin(angle)) if angle else None

    @property
    def side(self) -> int:
        """1 where the air is on the right of the outline's way, -1 in a bore."""
        return -1 if self.bore else 1

    @property
    def on_axis(self) -> bool:
        """Whether the outline starts on the axis."""
        return bool(abs(self.pieces[0].above(np.zeros(1), 0.0, 1)[0].imag) < 1e-9)


def set_up(job: Data, pared: float = 0.0) -> Setup:
    """Part, stock and tools of a job given by outline and bar, or by the outline of a piece already shaped; noses
    smaller by `pared` mm, where given."""
    k = 25.4 if job.get("units") == "in" else 1.0
    part, stock = job["part"], job["stock"]
    bore = part.get("surface") == "bore"
    pieces = pieces_of(part["outline"], k, bore)
    last = part["outline"][-1]
    end = complex(last["z"], last["d"] / 2) * k
    path = [p for piece in pieces for p in piece.places()] + [end]
    shaped = _shaped(stock["outline"], k, bore) if "outline" in stock else None
    if shaped is None:
        outer, hole, proud = stock["diameter"] * k / 2, stock.get("hole", 0) * k / 2, stock.get("proud", 0) * k
    else:  # the bar goes on behind as wide, or as hollow, as the piece is at its end
        last_r = shaped[-1].imag
        thick = THICK * max(p.imag for p in (*path, *shaped))
        outside = stock["diameter"] * k / 2 if "diameter" in stock else thick
        outer, hole, proud = (outside if bore else last_r), last_r, shaped[0].real
    base = outer if bore else 0.0
    ring = [complex(path[0].real, base), *path, complex(end.real, base)]
    body = shapely.Polygon([(p.real, p.imag) for p in ring]).buffer(0)
    bar = shapely.box(end.real - BAR, hole if bore else 0, end.real, outer)
    blank: BaseGeometry = shapely.box(end.real, hole if bore else 0, proud, outer)
    if shaped is not None:
        ring = [complex(proud, base), *shaped, complex(shaped[-1].real, base)]
        cast = shapely.Polygon([(p.real, p.imag) for p in ring]).buffer(0)
        behind = shapely.box(end.real, hole if bore else 0, max(shaped[-1].real, end.real), outer)
        blank = shapely.union(shapely.intersection(cast, shapely.box(end.real, -BAR, proud, BAR)), behind)
    keep, around = shapely.union(body, bar), shapely.union(blank, bar)
    tools = {t["name"]: _tool(t, k, bore, pared) for t in job["tool"]}
    widest = max(_nose(t, k) for t in job["tool"])
    zs = [p.real for p in path]
    curve = sorted(c * k for c in part["curve"]) if "curve" in part else [min(zs) + widest, max(zs)]
    return Setup(
        k,
        bore,
        pieces,
        body,
        keep if bore else shapely.union(keep, other_half(keep)),
        blank,
        around if bore else shapely.union(around, other_half(around)),
        (curve[0], curve[1]),
        tools,
        job.get("finish", {}).get("ridge", 0.002 if k > 1 else 0.05) * k,
        job.get("limits", {}).get("bite", 0.04 if k > 1 else 1.0) * k,
        job.get("slide", {}),
    )


def _shaped(nodes: list[Data], k: float, bore: bool) -> list[complex]:
    """Places along the outline of a piece already shaped, free end first."""
    last = complex(nodes[-1]["z"], nodes[-1]["d"] / 2) * k
    return [p for piece in pieces_of(nodes, k, bore) for p in piece.places()] + [last]


def other_half(region: BaseGeometry) -> BaseGeometry:
    return affinity.scale(region, 1, -1, origin=(0, 0))


def _tool(tool: Data, k: float, bore: bool, pared: float) -> tuple[BaseGeometry, complex]:
    """The outline about the nose centre, and the reference point seen from there."""
    if tool.get("kind") == "form":
        return _form_tool(tool, k, bore, pared)
    rho = tool["nose_radius"] * k
    blade = tool["width"] * k - 2 * rho if tool.get("kind") == "grooving" else 0.0
    round_nose = tool.get("kind") in ("round", "grooving")
    lead = math.pi / 2 if round_nose else math.pi - math.radians(tool.get("edge_angle", 93))
    trail = math.pi / 2 if round_nose else lead - math.radians(tool.get("point_angle", 55))
    quarter = max(16, math.ceil(math.pi / 2 / (2 * math.acos(1 - NOSE_CHORD / rho))))
    fat = rho + min(NOSE_CHORD, rho / 100) / 2  # the chords cut off as much as the corners add
    fat -= pared
    nose = [fat * unit(math.pi / 2 * i / quarter) for i in range(4 * quarter)]
    flanks = [rho * unit(lead + math.pi / 2), rho * unit(trail - math.pi / 2)]
    far = [flanks[0] + EDGE * unit(lead), flanks[1] + EDGE * unit(trail)]
    left = not round_nose and tool.get("hand", "right") == "left"
    corners = [*nose, flanks[0], far[0], *(p + blade for p in (*nose, flanks[1], far[1]))]
    shape = shapely.MultiPoint([(p.real, p.imag) for p in corners]).convex_hull
    flip_z, flip_r = (-1 if left else 1), (-1 if bore else 1)
    return affinity.scale(shape, flip_z, flip_r, origin=(0, 0)), complex(-rho * flip_z, -rho * flip_r)


def _nose(tool: Data, k: float) -> float:
    """The nose radius, mm; of a form tool how high its nose centre lies over its lowest place."""
    return _form(tool, k)[1] if tool.get("kind") == "form" else float(tool["nose_radius"] * k)


def _form_tool(tool: Data, k: float, bore: bool, pared: float) -> tuple[BaseGeometry, complex]:
    """The same for a form tool: under its outline it ends, over it it is metal all the way up.

    Its corners cut, so it is flattened to 0.02 µm by whoever sweeps it, and pared by no more than two such chords.
    """
    under, rho = _form(tool, k)
    low = complex(under.real.min() + rho, under.imag.min() + rho)
    under = under - low
    corners = [*under, under[-1] + EDGE * 1j, under[0] + EDGE * 1j]
    shape = shapely.Polygon([(p.real, -p.imag if bore else p.imag) for p in corners])
    return shape.buffer(-min(pared, NOSE_CHORD), join_style="mitre"), complex(-rho, rho if bore else -rho)


def _form(tool: Data, k: float) -> tuple[Places, float]:
    """Places along the outline of a form tool as it is written, mm, and its nose radius.

    By agreement that is the height of the end toward the chuck over the lowest place, 0.05 mm more where the outline
    has a corner of more than a degree there, and 0.2 mm or more."""
    points: list[complex] = []
    leaves: list[complex] = []  # the direction in which each piece leaves its first point
    for node in tool["outline"]:
        here = complex(node["z"], node["r"]) * k
        if "through" in node:
            piece = arc_through(points[-1], complex(*node["through"]) * k, here)
        elif "convex" in node:
            piece = arc_between(points[-1], here, node["convex"] * k, True)
        else:
            leaves += [(here - points[-1])] if points else []
            points.append(here)
            continue
        leaves.append((points[-1] - piece.start) * 1j)
        turns = max(2, math.ceil(abs(piece.size) / (2 * math.acos(1 - NOSE_CHORD / 2 / piece.radius))))
        points += [piece.start + piece.radius * unit(piece.turn + piece.size * i / turns) for i in range(1, turns)]
        points.append(here)
    under = np.array(points)
    first = int(np.flatnonzero(under.real < under.real.min() + 1e-9)[-1])
    way = leaves[0] if first == 0 else leaves[1]  # a first piece straight down is flank already
    round_end = math.atan2(way.real, -way.imag) < math.radians(1)
    return under, max(under[first].imag - under.imag.min() + (0.0 if round_end else 0.05), 0.2)


ALONG = ("saddle", "top")
"""The slides that go along the axis; the top slide only where the job has one."""


def figure_of(setup: Setup, slide: str, place: complex) -> tuple[float, float]:
    """What a slide reads with the reference point there, and its count, in the job's units."""
    table = setup.slides.get(slide, {})
    count = table.get("count", 0.0005 if setup.k > 1 else 0.01)
    if slide in ALONG:
        return place.real / setup.k * (-1 if table.get("grows") == "toward" else 1), count
    size = 1 if table.get("reads") == "radius" else 2
    return place.imag / setup.k * size * (-1 if table.get("grows") == "in" else 1), count
