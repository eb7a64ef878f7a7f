"""The outline of a part as lines and arcs, built from the nodes of a job alone. Lengths in mm, places as z + i·r."""

import math
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Data = dict[str, Any]
Floats = NDArray[np.float64]
Places = NDArray[np.complex128]

PART_CHORD = 1e-5  # chordal error of the part, mm


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
        return [self.start + self.radius * unit(self.turn + self.size * i / count) for i in range(count)]

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

    def length(self) -> float:
        """Its length, mm."""
        return abs(self.size) * (self.radius or 1.0)

    def stretch(self, first: float, last: float) -> "Piece":
        """The part of it between two shares of its length."""
        size = (last - first) * self.size
        if not self.radius:
            return self._replace(start=self.start + first * self.size * self.way, size=size)
        return self._replace(turn=self.turn + first * self.size, size=size)

    def passes(self, z: float) -> list[float]:
        """The shares of its length at which it crosses a plane square to the axis, its ends aside."""
        if not self.radius:
            run = self.way.real * self.size
            shares = [(z - self.start.real) / run] if abs(run) > 1e-9 else []
        else:
            lean = (z - self.start.real) / self.radius
            angle = math.acos(lean) if abs(lean) < 1 else math.nan
            ahead = math.copysign(1, self.size)
            shares = [(a - self.turn) * ahead % (2 * math.pi) / abs(self.size) for a in (angle, -angle)]
        return [s for s in shares if 1e-9 < s < 1 - 1e-9]


def unit(angle: float) -> complex:
    return complex(math.cos(angle), math.sin(angle))


def line_between(p: complex, q: complex) -> Piece:
    return Piece(p, (q - p) / abs(q - p), 0.0, 0.0, abs(q - p))


def arc_between(p: complex, q: complex, radius: float, centre_on_left: bool) -> Piece:
    """The shorter arc; its centre on the left of the way from p to q where said."""
    half = abs(q - p) / 2
    side = 1j if centre_on_left else -1j
    centre = (p + q) / 2 + side * (q - p) / (2 * half) * math.sqrt(max(radius**2 - half**2, 0.0))
    size = 2 * math.asin(min(1.0, half / radius)) * (1 if centre_on_left else -1)
    first = p - centre
    return Piece(centre, 0j, abs(first), math.atan2(first.imag, first.real), size)


def arc_through(p: complex, m: complex, q: complex) -> Piece:
    rows = np.array([[(m - p).real, (m - p).imag], [(q - p).real, (q - p).imag]])
    x, y = np.linalg.solve(2 * rows, [abs(m - p) ** 2, abs(q - p) ** 2])
    centre = p + complex(x, y)
    left = ((m - p).conjugate() * (q - p)).imag > 0
    size = (np.angle(q - centre) - np.angle(p - centre)) % (2 * math.pi)
    first = p - centre
    return Piece(centre, 0j, abs(first), float(np.angle(first)), float(size if left else size - 2 * math.pi))


def pieces_of(nodes: list[Data], k: float, bore: bool) -> list[Piece]:
    out, at = [], None
    for node in nodes:
        here = complex(node["z"], node["d"] / 2) * k
        if at is not None and abs(here - at) > 1e-9:
            if "through" in node:
                z, d = node["through"]
                out.append(arc_through(at, complex(z, d / 2) * k, here))
            elif "convex" in node:
                out.append(arc_between(at, here, node["convex"] * k, not bore))
            elif "concave" in node:
                out.append(arc_between(at, here, node["concave"] * k, bore))
            else:
                out.append(line_between(at, here))
        at = here
    return out
