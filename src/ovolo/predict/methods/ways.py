"""The ways to turn a curve with the slides alone: in steps, with both wound at once, in facets.

Every way is judged alike: what it leaves when everything is set as meant (`alone`), and with the usual errors of hand
and setting (`error`); how often something is set; minutes for the first part and for each further one; what has to be
owned; what can go wrong. Lengths in mm, times in minutes. The constants are our estimates or common practice without a
source, unless they say otherwise; the formulas behind them stand in their own modules.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from ovolo.cutting.facets import facet_corners, facet_error, facets_for
from ovolo.cutting.filing import ring_volume
from ovolo.cutting.hands import out_of_proportion
from ovolo.cutting.pace import Pace, WorkCounts, times
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.view.frame import Frame
from ovolo.predict.forecast.outlook import Forecast, setting_scatter, work_counts_of
from ovolo.predict.forecast.settings import Setting, settings_of
from ovolo.predict.loads.engaged import Engaged, engaged
from ovolo.predict.methods.curve import Piece, curve_length, curve_pieces
from ovolo.tolerances import LEVEL

__all__ = ["HANDS", "PRACTISED", "Ground", "Method", "Said", "both_slides", "cannot", "facets", "spread", "steps"]

HANDS, PRACTISED = 0.3, 0.1
"""How far one hand runs ahead of the other, as a share of its way: usual at first, and with practice (our estimate)."""

ANGLE = math.radians(0.25)
"""How closely a top slide is set by its graduation [rad] (common practice, no source)."""

ANGLE_MINUTES = 2.0
"""To set the top slide to an angle and touch off anew [min] (our estimate)."""

TOP_TURN = 1.5
"""Travel of a turn of a top slide's handle [mm] (common practice, no source)."""

_BETWEEN = 17
"""Places looked at between two settings."""


class Said(NamedTuple):
    """A sentence with {} where its lengths [mm] go, so that they can be given in any unit."""

    text: str
    lengths: tuple[float, ...] = ()


@dataclass(frozen=True)
class Method:
    """One way to turn the curve.

    can:      whether it can do this part at all; `why`: on what condition, or why not.
    alone:    what it leaves when all is set as meant: highest less deepest place [mm].
    error:    the same with the usual errors of hand and setting [mm]. gouge: of that, below the outline [mm].
    settings: how often a figure, an angle or a tool is set on each part.
    first:    minutes for the first part, with what has to be prepared once; each: for every further one.
    shape:    the surface that comes out, worst as usual, (z, r) from the free end toward the chuck.
    Where it can't, the figures are None and the shape is empty.
    """

    name: str
    can: bool
    why: Said
    owned: tuple[str, ...]
    risks: tuple[Said, ...]
    alone: float | None = None
    error: float | None = None
    gouge: float | None = None
    settings: int | None = None
    first: float | None = None
    each: float | None = None
    shape: tuple[Point, ...] = ()

    def minutes(self, parts: int) -> float | None:
        """Minutes for a number of parts.

        >>> Method("x", True, Said(""), (), (), first=40.0, each=5.0).minutes(3)
        50.0
        """
        if self.first is None or self.each is None:
            return None
        return self.first + (parts - 1) * self.each


@dataclass(frozen=True)
class Ground:
    """What all the methods are judged on: one plan, what is expected of it, one pace."""

    plan: Plan
    expected: Forecast
    pace: Pace

    @cached_property
    def frame(self) -> Frame:
        """The planner's view of the job."""
        return self.plan.frame

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The curve."""
        return curve_pieces(self.frame)

    @cached_property
    def bent(self) -> tuple[Piece, ...]:
        """The curve without its faces and cylinders, which every method turns alike."""
        return tuple(piece for piece in self.pieces if not piece.square)

    @cached_property
    def cuts(self) -> tuple[Engaged, ...]:
        """The cuts of the plan with the edge that is in the metal."""
        return engaged(self.plan)

    @cached_property
    def scatter(self) -> float:
        """Of one setting, standard uncertainty [mm]."""
        return setting_scatter(self.plan)

    @cached_property
    def roughing(self) -> float:
        """Minutes before the curve itself is begun, tools and measuring included [min]."""
        rough = tuple(move for move in self.plan.moves if move.stage == "rough")
        work_counts = work_counts_of(replace(self.plan, moves=rough), self.expected.loads)
        return times(work_counts._replace(filed=0.0), self.pace).minutes

    @property
    def bore(self) -> bool:
        """Whether the curve lies in a bore."""
        return self.plan.job.part.surface == "bore"

    def minutes(self, work_counts: WorkCounts) -> float:
        """Minutes at the user's pace [min]."""
        return times(work_counts, self.pace).minutes

    def place(self, points: Sequence[tuple[float, float]]) -> tuple[Point, ...]:
        """Points of the planner's frame as (z, r) [mm]."""
        return tuple(self.frame.place(x, y) for x, y in points)


def spread(settings: int, u: float) -> float:
    """How far the highest and the lowest of a number of settings lie apart on average [mm].

    settings: each off by a normal error with standard uncertainty u [mm].
    Limits: 2 or more; one setting has no spread. Source: Blom's approximation of the mean range of a normal sample,
    from memory; within 3 % of the tabled d2 (16 settings: 3.532).

    >>> round(spread(16, 1.0), 2), spread(1, 1.0)
    (3.54, 0.0)
    """
    if settings < 2:
        return 0.0
    return 2 * u * NormalDist().inv_cdf((settings - 0.375) / (settings + 0.25))


def steps(ground: Ground) -> Method:
    """The plan itself: single-slide moves from setting to setting, then the file."""
    plan, expected = ground.plan, ground.expected
    alone = plan.prediction.ridge_max + plan.prediction.gouge_max
    minutes = expected.times.minutes
    return Method(
        "single-slide steps",
        True,
        Said(f"{plan.stations} settings of the slides, as planned"),
        ("a readout or dials", " and ".join(tool.name for tool in plan.tools)),
        (Said("many figures to set: one read wrong shows on the part"), Said("ridges are left to file")),
        alone=alone,
        error=alone + spread(plan.stations, ground.scatter),
        gouge=spread(plan.stations, ground.scatter) / 2,
        settings=plan.stations,
        first=minutes,
        each=minutes,
        shape=plan.prediction.surface,
    )


def both_slides(ground: Ground) -> Method:
    """Both handwheels wound at once from each setting of the plan to the next."""
    if any(not tool.edge.noses for tool in ground.plan.tools):
        owned = ("a readout or dials", "two practised hands")
        return cannot(
            "both slides wound at once", Said("what is left on the way is known for a round nose only"), owned
        )
    settings = settings_of(ground.plan)
    alone, worst, practised = (_wound(ground, settings, ahead) for ahead in (0.0, HANDS, PRACTISED))
    scattered = spread(len(settings), ground.scatter)
    gouge = max((max(-low, 0.0) for _, low in worst.extremes), default=0.0)
    later = max((max(-low, 0.0) for _, low in practised.extremes), default=0.0)
    travel = sum(math.dist(one.centre, other.centre) for one, other in pairwise(settings))
    work_counts = WorkCounts(turns=travel / 2, settings=2 * len(settings), tool_changes=0)
    minutes = ground.roughing + ground.minutes(work_counts)
    return Method(
        "both slides wound at once",
        True,
        Said(f"between the same {len(settings)} settings"),
        ("a readout or dials", "two practised hands"),
        (
            Said("if the hands get out of step, the tool cuts in: {} at first, {} with practice", (gouge, later)),
            Said("neither slide can be locked under the cut"),
        ),
        alone=alone.band,
        error=worst.band + scattered,
        gouge=gouge + scattered / 2,
        settings=len(settings),
        first=minutes,
        each=minutes,
        shape=ground.place(worst.points),
    )


class _Wound(NamedTuple):
    """The surface between settings, in the planner's frame, and for each gap its highest and lowest place [mm]."""

    points: tuple[tuple[float, float], ...]
    extremes: tuple[tuple[float, float], ...]

    @property
    def band(self) -> float:
        if not self.extremes:
            return 0.0
        return max(0.0, *(high for high, _ in self.extremes)) - min(0.0, *(low for _, low in self.extremes))


def _wound(ground: Ground, settings: Sequence[Setting], ahead: float) -> _Wound:
    """The nose taken straight from centre to centre, bowed by what the hands are out of proportion.

    The bow goes to the worse side: half of the gaps out of the metal, half into it, in turn.
    """
    points: list[tuple[float, float]] = []
    extremes = []
    for k, (one, other) in enumerate(_bent_gaps(ground.frame, settings)):
        xy, height = _gap_wound(ground.frame, one, other, ahead * (-1) ** k)
        _, mirrored = _gap_wound(ground.frame, one, other, -ahead * (-1) ** k)
        points += xy
        extremes.append((float(max(height.max(), mirrored.max())), float(min(height.min(), mirrored.min()))))
    return _Wound(tuple(points), tuple(extremes))


def _bent_gaps(frame: Frame, settings: Sequence[Setting]) -> list[tuple[Setting, Setting]]:
    """What both slides have to follow between neighbours: faces and cylinders are turned with one.

    Where the nose can't stand, in the corner of a shoulder, both ways leave the same.
    """
    out = []
    for one, other in pairwise(settings):
        inside = [u for u in frame.chain.starts if one.place < u < other.place]
        places = [one.place, *(float(u) for u in inside), other.place]
        runs = [(a, b) for a, b in pairwise(places) if not _is_square(frame, (a + b) / 2)]
        joined: list[tuple[float, float]] = []
        for a, b in runs:
            if joined and a - joined[-1][1] < LEVEL:
                joined[-1] = (joined[-1][0], b)
            else:
                joined.append((a, b))
        out += [(_moved(frame, one, a), _moved(frame, other, b)) for a, b in joined]
    return [(one, other) for one, other in out if _stands(frame, one) and _stands(frame, other)]


def _is_square(frame: Frame, place: float) -> bool:
    """Whether one slide alone follows the outline there: a face, a cylinder, a sharp corner."""
    chain = frame.chain
    k = int(chain.locate(np.array([place]))[0][0])
    if chain.is_arc[k]:
        return bool(chain.radius[k] == 0)
    return bool(min(abs(chain.tx[k]), abs(chain.ty[k])) < LEVEL)


def _moved(frame: Frame, setting: Setting, place: float) -> Setting:
    """The nose of a setting at another place of the outline."""
    if abs(place - setting.place) < LEVEL:
        return setting
    x, y = frame.chain.points(np.array([place]), setting.nose_radius)
    return setting._replace(place=place, centre=Point(float(x[0]), float(y[0])))


def _stands(frame: Frame, setting: Setting) -> bool:
    """Whether the nose stands clear of the rest of the outline."""
    x, y = np.array([setting.centre.x]), np.array([setting.centre.y])
    _, away = frame.chain.project(x, y, 4 * frame.job.shop.stock.radius)
    return bool(away[0] > setting.nose_radius - 1e-3)


def _gap_wound(
    frame: Frame, one: Setting, other: Setting, ahead: float
) -> "tuple[list[tuple[float, float]], np.ndarray]":
    """Points of the surface between two settings, and their height over the outline [mm]."""
    share = np.linspace(0.0, 1.0, _BETWEEN)
    dx, dy = other.centre.x - one.centre.x, other.centre.y - one.centre.y
    size = math.hypot(dx, dy)
    bow = math.copysign(out_of_proportion(dx, dy, abs(ahead)), ahead) * 4 * share * (1 - share)
    x = one.centre.x + share * dx + (bow * dy / size if size else 0.0)
    y = one.centre.y + share * dy - (bow * dx / size if size else 0.0)
    order = np.argsort(x, kind="stable")
    place, away = np.empty_like(x), np.empty_like(x)
    place[order], away[order] = frame.chain.project(x[order], y[order], 4 * frame.job.shop.stock.radius)
    height = away - one.nose_radius
    foot_x, foot_y = frame.chain.points(place)
    grow = height / np.maximum(away, 1e-9)
    surface = zip(foot_x + (x - foot_x) * grow, foot_y + (y - foot_y) * grow, strict=True)
    return [(float(a), float(b)) for a, b in surface], height


def facets(ground: Ground) -> Method:
    """The top slide set to a few angles, as many as keep the ridge specified on every arc."""
    name, owned = "facets with the top slide", ("a top slide with a graduation that can be trusted",)
    cut = [_Facets.of(piece, ground.plan.job.part.ridge) for piece in ground.bent]
    if not cut:
        return cannot(name, Said("nothing of the curve leans"), owned)
    count = sum(facet.many for facet in cut)
    alone = max(facet.error for facet in cut)
    tilt = max(facet.longest for facet in cut) * math.tan(ANGLE) / 2
    scattered = spread(count, 2 * ground.scatter)
    length = curve_length(ground.bent)
    work_counts = WorkCounts(
        settings=2 * count,
        turns=length / TOP_TURN,
        feed_seconds=_cutting(ground, length),
        filed=sum(ring_volume(facet.proud, abs(facet.piece.middle.y)) for facet in cut),
    )
    minutes = ground.roughing + ground.minutes(work_counts) + ANGLE_MINUTES * count
    return Method(
        name,
        True,
        Said(f"{count} computed angles"),
        owned,
        (
            Said("each angle shifts the tool: it has to be touched off anew"),
            Said("a quarter of a degree tilts the longest facet by {} at its ends", (tilt,)),
        ),
        alone=alone,
        error=alone + 2 * tilt + scattered,
        gouge=tilt + scattered / 2,
        settings=count,
        first=minutes,
        each=minutes,
        shape=ground.place([point for facet in cut for point in facet.corners]),
    )


class _Facets(NamedTuple):
    """The facets of one piece: how many, the metal that they leave at most, the longest of them [mm], the section of
    what they leave [mm^2], and their corners in the planner's frame."""

    piece: Piece
    many: int
    error: float
    longest: float
    proud: float
    corners: tuple[tuple[float, float], ...]

    @classmethod
    def of(cls, piece: Piece, ridge: float) -> "_Facets":
        if not piece.radius:
            return cls(piece, 1, 0.0, piece.length, 0.0, (piece.starts, piece.ends))
        parts = math.ceil(piece.sweep / (math.pi / 2) - 1e-9)  # each facet formula is good for a quarter turn
        sweep = min(piece.sweep / parts, math.pi / 2)
        count = facets_for(min(ridge, 0.2 * piece.radius), piece.radius, sweep, convex=piece.convex)
        error = facet_error(piece.radius, sweep, count, convex=piece.convex)
        half = sweep / (2 * (count + 1 if piece.convex else count))
        local = facet_corners(piece.radius, sweep, count, convex=piece.convex)
        ways = [piece.begins + piece.turns * part * sweep for part in range(parts)]
        corners = tuple(_about(piece, way, corner) for way in ways for corner in local)
        longest = 2 * piece.radius * (math.tan(half) if piece.convex else math.sin(half))
        return cls(piece, parts * count, error, longest, error * piece.length / 3, (piece.starts, *corners, piece.ends))


def _about(piece: Piece, way: float, corner: tuple[float, float]) -> tuple[float, float]:
    """A corner of an arc that starts on the first axis, brought to where the piece has it."""
    along, across = corner[0], piece.turns * corner[1]
    cos, sin = math.cos(way), math.sin(way)
    return piece.centre.x + along * cos - across * sin, piece.centre.y + along * sin + across * cos


def cannot(name: str, why: Said, owned: tuple[str, ...]) -> Method:
    """A method that can't do the part, and why not."""
    return Method(name, False, why, owned, ())


def _cutting(ground: Ground, length: float) -> float:
    """Seconds to cut along a length at the plan's finishing feed."""
    runs = [run for run in ground.expected.loads.turnings if run.stage == "finish"]
    rate = runs[0].feed * runs[0].rpm if runs else 15.0
    return 60 * length / rate
