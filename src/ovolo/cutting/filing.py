"""The blend: how much metal stands in the ridges, what filing it away does to the size, and how it is done safely.

Lengths in mm, areas in mm^2, volumes in mm^3.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from ovolo.cutting.limits import above, at_least, between, within_limits

__all__ = ["Lowering", "blend_steps", "lowering", "revolved_volume", "ridge_area", "ridges_volume", "ring_volume"]


def ring_volume(area: float, centroid_radius: float) -> float:
    """Volume of a ring: area times the way of its centroid, V = 2 pi r A [mm^3].

    area: of the section [mm^2]; centroid_radius: of the section's centroid from the axis [mm].
    Limits: the section doesn't cross the axis. Source: Pappus' second theorem.

    >>> round(ring_volume(math.pi * 0.75**2, 2.5), 4)
    27.7583
    """
    within_limits(at_least("area", area, 0), at_least("radius of the centroid", centroid_radius, 0))
    return 2 * math.pi * centroid_radius * area


def revolved_volume(ring: Sequence[tuple[float, float]]) -> float:
    """Volume swept by a polygon that turns about the axis r = 0 [mm^3]; exact for its straight sides.

    ring: corners (z, r) [mm], in order, either way round; the first need not be repeated; r 0 or more.
    Source: Pappus' second theorem with area and centroid of the polygon, in one sum:
    V = pi/3 abs(sum of (z2 - z1)(r1^2 + r1 r2 + r2^2)).

    >>> round(revolved_volume([(0, 0), (3, 0), (0, 1)]), 6) == round(math.pi, 6)  # a cone, 3 high
    True
    """
    within_limits(at_least("corners", len(ring), 3), *(at_least("r of a corner", r, 0) for _, r in ring))
    sides = pairwise([*ring, ring[0]])
    return abs(math.fsum((z2 - z1) * (r1 * r1 + r1 * r2 + r2 * r2) for (z1, r1), (z2, r2) in sides)) * math.pi / 3


def ridge_area(spacing: float, nose_radius: float) -> float:
    """Section of one ridge between two settings of a round nose on a straight surface [mm^2].

    A = r s - (s/2) sqrt(r^2 - s^2/4) - r^2 asin(s/(2 r)); about a third of spacing times height.
    spacing: s [mm], 0 to 2 r; nose_radius: r [mm].
    Limits: straight; on a curve of radius R the error is of the order r/R. Source: derived.

    >>> round(ridge_area(0.4, 0.8), 6)
    0.003365
    """
    within_limits(above("nose radius", nose_radius, 0))
    within_limits(between("spacing", spacing, 0, 2 * nose_radius))
    share = spacing / (2 * nose_radius)
    # For thin ridges the terms cancel: there the series of the same expression keeps its digits.
    if share < 0.02:
        return nose_radius**2 * share**3 * (1 / 3 + share**2 / 20 + share**4 / 56)
    return nose_radius**2 * (2 * share - share * math.sqrt(1 - share**2) - math.asin(share))


def ridges_volume(spacing: float, nose_radius: float, length: float, mean_radius: float) -> float:
    """Metal in all the ridges of a stretch: as many as fit its length, each a ring [mm^3].

    spacing: s [mm]; nose_radius: r [mm]; length: of the stretch along the surface [mm];
    mean_radius: of the stretch from the axis [mm].
    Limits: equal spacing, ridges small against the part. Where the swept section is known, `revolved_volume` of it
    is exact. Source: derived, Pappus.

    >>> round(ridges_volume(0.4, 0.8, 20, 9), 2)
    9.52
    """
    within_limits(above("spacing", spacing, 0), at_least("length", length, 0))
    return ring_volume(ridge_area(spacing, nose_radius) * length / spacing, mean_radius)


class Lowering(NamedTuple):
    """How much smaller the diameter gets by the blend [mm]: over the ridges, on average, and in the valleys."""

    ridges: float
    mean: float
    valleys: float


def lowering(ridge: float, polish: float = 0.0) -> Lowering:
    """What it does to the diameter to file until the blue just leaves the valleys, and polish after [mm].

    ridge:  height, square to the surface [mm]; polish: further metal that emery takes, on the radius [mm].
    On a surface parallel to the axis; on a slope a to the axis the diameter changes by 1/cos a as much.
    The mean height of a ridge is a third of the highest (parabola). Source: derived.

    >>> [round(value, 4) for value in lowering(0.05, 0.002)]
    [0.104, 0.0373, 0.004]
    """
    within_limits(at_least("ridge", ridge, 0), at_least("polish", polish, 0))
    return Lowering(2 * (ridge + polish), 2 * (ridge / 3 + polish), 2 * polish)


def blend_steps() -> tuple[str, ...]:
    """How ridges are filed and polished away on a turning part, a sentence each, the cautions first.

    Source: common practice, no source. The machine's manual, local rules and the person in charge of the workshop
    come first.

    >>> len(blend_steps())
    13
    """
    return _CAUTIONS + _STEPS


_CAUTIONS = (
    "Follow the machine's manual and the rules of your workshop where they say otherwise; "
    "if filing in the lathe is new to you, have it shown by someone trained for it.",
    "Wear eye protection; no gloves, no loose sleeves, rings or neckwear, long hair tied back.",
    "Take the tool out of its holder or move it well clear, and take the key out of the chuck.",
    "Use a file with a sound, tight handle, never a bare tang.",
    "Hold the handle in your left hand and the tip in your right, "
    "so that neither arm reaches over the turning chuck; keep the chuck guard down.",
    "Never hold a rag, cotton waste or a glove against turning work.",
    "Never wrap emery cloth round the work or round your fingers: lay a short strip on a file or a flat stick, "
    "or hold it by its ends with both hands on your side, so that it is let go and not wound in.",
    "Stop the spindle to measure, to blue, to clean the file and to feel the surface.",
)

_STEPS = (
    "Blue the stepped surface thinly and let it dry.",
    "Run at a moderate speed, slower than for turning, and file with long light strokes that follow the curve, "
    "letting the work make a few turns in each stroke.",
    "File until the blue just leaves the valleys, and stop: what is filed after that is metal of the finished part.",
    "Try the gauge before the last of the blue has gone.",
    "Cover the bed against grit, polish with a finer and finer strip, then clean the slides.",
)
