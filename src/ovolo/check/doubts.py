"""Readings that cannot be right as they are written: asked about by name, used all the same, never dropped silently."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from ovolo.check.causes import Cause, applied
from ovolo.check.evidence import Bench
from ovolo.check.measured import Reading
from ovolo.check.reach import Against
from ovolo.geometry.chain import Floats

__all__ = ["Doubt", "disagreeing", "doubtful", "wholly_wrong"]

FAR_OFF = 6.0
"""A reading so many standard uncertainties from what all others say is asked about."""

LEAST = 0.03
"""Less than this is no misreading, mm."""

ONE_SPOT = 0.02
"""Readings this near to each other are at one place, mm."""

INCH = 25.4


class Doubt(NamedTuple):
    """A question about readings, by their numbers from 0. kind: what may have happened; meant: what it would then be
    in its column, mm; `other` the reading that it disagrees with."""

    rows: tuple[int, ...]
    kind: str
    meant: float | None = None


def wholly_wrong(bench: Bench) -> Doubt | None:
    """Whether all readings are radii taken for diameters, or the other way, or inches for millimetres."""
    expected = np.abs(bench.first_read)
    big = expected > 1.0
    if big.sum() < 3:
        return None
    ratio = np.array([r.r for r in bench.readings])[big] / expected[big]
    rows = tuple(range(bench.n))
    for factor, kind in ((0.5, "halved"), (2.0, "doubled"), (1 / INCH, "inches"), (INCH, "millimetres")):
        if np.all(np.abs(ratio / factor - 1) < 0.06) and abs(float(np.median(ratio)) / factor - 1) < 0.03:
            return Doubt(rows, kind)
    return None


def disagreeing(readings: Sequence[Reading], seen: Against) -> list[Doubt]:
    """Pairs of readings at one place that differ by more than both uncertainties allow."""
    found = []
    for one, other in itertools.combinations(range(len(readings)), 2):
        a, b = readings[one], readings[other]
        if abs(a.z - b.z) > ONE_SPOT or abs(a.over - b.over) > 1e-6:
            continue
        apart = abs(float(seen.deviation[one] - seen.deviation[other]))
        u = math.hypot(float(seen.u[one]), float(seen.u[other]))
        if apart > 3 * u and apart > LEAST / 2:
            found.append(Doubt((one, other), "disagree", apart))
    return found


def doubtful(bench: Bench) -> list[Doubt]:
    """The readings that are far from what all others say, with what each may have been."""
    off, u = _off_the_others(bench)
    return [_guess(bench, int(n), off) for n in np.flatnonzero((np.abs(off) > FAR_OFF * u) & (np.abs(off) > LEAST))]


def _off_the_others(bench: Bench) -> tuple[Floats, Floats]:
    """How far each reading is from the causes that explain most of the others, and its uncertainty, mm of radius."""
    causes = [Cause("cross_offset"), Cause("saddle_offset"), Cause("taper")]
    base, slopes = bench.first_read, []
    for cause in causes:
        up = bench.first.at_place(applied(bench.positions, [(cause, cause.unit)]))
        slopes.append((up - base) / cause.unit)
    weight = bench.weight(bench.positions)
    u = 1 / np.sqrt(np.diag(weight.inverse))
    left, design = bench.seen - base, np.stack(slopes, axis=1)
    held = np.array([2.0, 1.0, 1000.0])  # no cause is larger than a fraction of a mm without the readings' support
    share = np.ones(bench.n)
    for _ in range(40):
        w = share / u**2
        value = np.linalg.solve(design.T @ (w[:, None] * design) + np.diag(held), design.T @ (w * left))
        off = left - design @ value
        share = 1 / np.maximum(np.abs(off) / u, 1.0)
    return off, u


def _guess(bench: Bench, n: int, off: Floats) -> Doubt:
    """What a reading may have been: the simplest slip that brings it to where the others say."""
    reading = bench.readings[n]
    size = 2.0 if reading.column == "d" else 1.0
    sign = bench.positions.frame.sign
    wanted = reading.written - size * sign * float(off[n])
    close = max(size * 3 * float(np.hypot(reading.u, 0.02)), 0.02 * abs(wanted) if reading.u_z > 0.03 else 0.0)
    for kind, meant in _slips(reading.written):
        if abs(meant - wanted) <= close and abs(meant - wanted) < abs(reading.written - wanted) / 4:
            return Doubt((n,), kind, meant)
    return Doubt((n,), "far", wanted)


def _slips(written: float) -> Iterator[tuple[str, float]]:
    """What could have been meant by a figure."""
    yield "halved", 2 * written
    yield "doubled", written / 2
    yield "inches", INCH * written
    yield "millimetres", written / INCH
    text = f"{written:.3f}".rstrip("0") if written == round(written, 3) else f"{written:.4f}"
    for i, j in itertools.combinations([k for k, c in enumerate(text) if c != "."], 2):
        swapped = [*text]
        swapped[i], swapped[j] = swapped[j], swapped[i]
        if text[i] != text[j]:
            yield "swapped", float("".join(swapped))
    yield "point", written * 10
    yield "point", written / 10
    for i, digit in itertools.product([k for k, c in enumerate(text) if c != "."], "0123456789"):
        if text[i] != digit:
            yield "digit", float(text[:i] + digit + text[i + 1 :])
