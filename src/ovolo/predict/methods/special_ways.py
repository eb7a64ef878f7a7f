"""The ways to turn a curve that need something of their own: a form tool, a swinging fixture, files and a gauge.

Judged like the others (`ways`). Lengths in mm, times in minutes. The constants are our estimates or common practice
without a source, unless they say otherwise.
"""

import math

import numpy as np

from ovolo.cutting.filing import ring_volume
from ovolo.cutting.form_tool import Stands, widest_form_tool
from ovolo.cutting.materials import material
from ovolo.cutting.pace import WorkCounts
from ovolo.cutting.swing import swing_needed, swung_ball, swung_point
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.view.undercuts import bays
from ovolo.predict.loads.load import DRIVE, gives_way
from ovolo.predict.methods.curve import curve_length, curve_pieces
from ovolo.predict.methods.ways import Ground, Method, Said, cannot, spread

__all__ = ["HEIGHT", "SET_OVER", "SWINGS", "filing", "fixture", "form_tool", "may_be_filed"]

SET_OVER, HEIGHT = 0.02, 0.05
"""How closely a fixture's axis is brought over the spindle's, and its tool to height [mm] (common practice)."""

SWINGS = math.radians(150)
"""How far a fixture swings before it meets stem or chuck [rad] (common practice, no source)."""

FORM_FEED = 0.03
"""Feed of a form tool [mm a turn] (common practice, no source)."""

MOTOR = 400.0
"""Power of a small lathe's motor where the job names none [W] (our assumption)."""

FILED_RADIUS = 5.0
"""Tightest hollow that a half-round file gets into on turning work [mm] (our estimate)."""

GROUND = 0.05
"""How closely a form tool is ground and stoned to a gauge [mm] (common practice, no source)."""

BY_LIGHT, BY_FILE = 0.05, 0.1
"""What a gauge shows against the light, and how true a form comes off the file [mm] (common practice, no source)."""

GRIND_MINUTES, FORM_MINUTES = 90.0, 5.0
"""To grind a form tool; to plunge it with care [min] (our estimates)."""

MOUNT_MINUTES, SWING_MINUTES, SWING_BITE = 40.0, 0.75, 0.5
"""To mount and true a fixture; one pass with it [min], and its depth [mm] (our estimates)."""


def form_tool(ground: Ground) -> Method:
    """A tool ground to the whole curve, fed straight in: if lathe and work stand an edge so wide."""
    name, owned = "form tool", ("a form tool ground and stoned to a gauge", "a grinder, and patience")
    width = curve_length(ground.bent)
    row = material(ground.plan.job.part.material or "mild steel")
    heavy = max(ground.cuts, key=lambda cut: cut.at, default=None)
    compliance = None if heavy is None else gives_way(ground.plan, row, heavy)
    motor = ground.plan.job.shop.lathe.motor_w or MOTOR
    stands = Stands(DRIVE * motor, compliance or 1e-9, ground.plan.job.part.ridge)
    if _leans_over(ground):
        return cannot(name, Said("its curve leans over, and an edge fed straight in would cut the overhang"), owned)
    widest = widest_form_tool(FORM_FEED, row.hss.low / 2, row.force, stands)
    if not width or width > widest.width:
        why = Said("{} of edge would cut at once, of which " + widest.limit + " allows {}", (width, widest.width))
        return cannot(name, why, owned)
    each = ground.roughing + FORM_MINUTES
    return Method(
        name,
        True,
        Said("{} of edge cut at once, of which " + widest.limit + " allows {}", (width, widest.width)),
        owned,
        (
            Said("chatter, if the spindle is not slow and the tool not tight"),
            Said("worn, it is ground to the gauge anew"),
        ),
        alone=0.0,
        error=GROUND + spread(2, ground.scatter),
        gouge=GROUND / 2,
        settings=2,
        first=each + GRIND_MINUTES,
        each=each,
        shape=tuple(ground.plan.job.part.outline.flattened(0.001)),
    )


def _leans_over(ground: Ground) -> bool:
    """Whether the curve doubles back anywhere."""
    return _doubles_back(ground.plan)


def _doubles_back(plan: Plan) -> bool:
    start, end = plan.frame.curve_ends
    return any(bay.first < end and bay.last > start for bay in bays(plan.frame.chain))


def fixture(ground: Ground) -> Method:
    """A tool that swings about a pin square to the spindle: balls and domes whose middle lies on the axis."""
    name, owned = "swinging ball fixture", ("a swinging fixture for this radius", "an indicator to true it")
    why = _no_ball(ground)
    if why is not None:
        return cannot(name, why, owned)
    radius, stem = ground.bent[0].radius, _stem(ground)
    ball = swung_ball(radius, SET_OVER, HEIGHT, stem)
    spare = (math.sqrt(2) - 1) * radius + ground.plan.job.shop.stock.radius - radius
    each = _before(ground) + SWING_MINUTES * math.ceil(spare / SWING_BITE)
    return Method(
        name,
        True,
        Said("the curve is part of one ball of radius {} about the axis", (radius,)),
        owned,
        (
            Said("set over by {}, the ball comes out {} out of round", (SET_OVER, _out_of_round(radius, stem))),
            Said("{} off centre height leaves a pip of {} at the pole", (HEIGHT, ball.pip)),
            Said("it has to clear chuck, stem and bed all round: swing it by hand first"),
        ),
        alone=0.0,
        error=ball.off_round + spread(2, ground.scatter),
        gouge=SET_OVER,
        settings=math.ceil(spare / SWING_BITE) + 1,
        first=each + MOUNT_MINUTES,
        each=each,
        shape=_swung(ground),
    )


def _no_ball(ground: Ground) -> Said | None:
    """Why a swinging fixture can't cut the curve."""
    if ground.bore:
        return Said("the curve lies in a bore")
    arcs = [piece for piece in ground.bent if piece.radius and piece.convex]
    if len(arcs) != len(ground.bent) or not arcs:
        return Said("the curve is not convex all along")
    first = arcs[0]
    if any(math.dist(piece.centre, first.centre) > 0.001 or abs(piece.radius - first.radius) > 0.001 for piece in arcs):
        return Said("the curve has more than one radius")
    if abs(first.centre.y) > SET_OVER:
        return Said("the middle of its arc lies {} from the axis", (abs(first.centre.y),))
    swings = swing_needed(2 * first.radius, min(_stem(ground), 1.99 * first.radius))
    if swings > SWINGS:
        return Said(
            f"it would have to swing by {math.degrees(swings):.0f}°, more than a fixture can on a part with a stem"
        )
    return None


def _stem(ground: Ground) -> float:
    """Diameter at which the ball ends behind its equator; that of the equator where it ends before it [mm]."""
    piece = ground.bent[-1]
    behind = piece.ends[0] < piece.centre.x - 1e-6
    return 2 * abs(piece.ends[1]) if behind else 2 * piece.radius


def _out_of_round(radius: float, stem: float) -> float:
    return swung_ball(radius, SET_OVER, 0.0, stem).off_round


def _swung(ground: Ground) -> tuple[Point, ...]:
    """The ball as it comes out with the usual errors, over the whole curve."""
    first = ground.bent[0]
    start = math.pi / 2 - first.begins
    turns = np.linspace(start, start - sum(piece.sweep for piece in ground.bent), 65)
    points = [swung_point(first.radius, float(turn), SET_OVER, HEIGHT) for turn in turns]
    return tuple(Point(first.centre.x + z, r) for z, r in points)


def _before(ground: Ground) -> float:
    """Minutes for what comes before a curve that is not roughed in steps: facing, and one pass along the bar."""
    cuts = 2
    return ground.minutes(WorkCounts(turns=10, settings=2 * cuts, tool_changes=1, measurings=1))


def may_be_filed(plan: Plan) -> Said | None:
    """Why no file belongs on the curve of a plan; None where it may be filed."""
    if plan.job.part.surface == "bore":
        return Said("no file or finger belongs in a turning bore")
    if _doubles_back(plan):
        return Said("its curve leans over, and a file cannot reach under the overhang")
    bent = [piece for piece in curve_pieces(plan.frame) if not piece.square]
    hollow = min((piece.radius for piece in bent if piece.radius and not piece.convex), default=math.inf)
    return Said("its hollow of radius {} is too tight for a file", (hollow,)) if hollow < FILED_RADIUS else None


def filing(ground: Ground) -> Method:
    """Roughed near the outline in steps, then filed to a gauge."""
    name, owned = "roughed, then filed to a gauge", ("files with handles", "a gauge of the curve", "blue")
    why = may_be_filed(ground.plan)
    if why is not None:
        return cannot(name, why, owned)
    metal = _left_by_roughing(ground)
    minutes = ground.roughing + ground.minutes(WorkCounts(filed=metal))
    return Method(
        name,
        True,
        Said("by eye and gauge, against the light"),
        owned,
        (
            Said("a file on turning work: handle on, left-handed, no sleeves, no rag"),
            Said("the form depends on the hand, and comes out different each time"),
        ),
        alone=BY_LIGHT,
        error=BY_FILE,
        gouge=BY_FILE / 2,
        settings=sum(move.stage == "rough" and move.cuts for move in ground.plan.moves),
        first=minutes,
        each=minutes,
        shape=tuple(ground.plan.job.part.outline.flattened(0.001)),
    )


def _left_by_roughing(ground: Ground) -> float:
    """Metal between roughing and the outline [mm^3]: what finishing takes, each cut a ring, and the ridges after it."""
    finishing = {move.n: move.area for move in ground.plan.moves if move.stage == "finish"}
    cuts = [cut for cut in ground.cuts if cut.n in finishing]
    return ground.expected.blend.volume + sum(ring_volume(finishing[cut.n], cut.place.y) for cut in cuts)
