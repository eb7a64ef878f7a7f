"""A ball turned with a swinging fixture: the tool swings about an axis square to the spindle.

Lengths in mm, angles in radians. Ideally the two axes meet and the tool is at their height. The set-over e is how
far the axis of swing lies on the tool's side of the spindle axis (negative: beyond it), h how far the tool is off
centre height. At an angle a from the equator the tool is at z = R sin a, and cuts a radius of
sqrt((e + R cos a)^2 + h^2). Limits: a pointed tool, a rigid fixture without play.
"""

import math
from typing import NamedTuple

from ovolo.cutting.limits import above, at_least, between, finite, within_limits

__all__ = ["SwungBall", "swing_needed", "swung_ball", "swung_point"]

_SAMPLES = 256


def swung_point(radius: float, angle: float, set_over: float = 0.0, height_error: float = 0.0) -> tuple[float, float]:
    """What the tool cuts at an angle of swing: (z from the equator, radius from the axis) [mm].

    radius: R, axis of swing to tool tip [mm]; angle: a from the equator [rad], positive toward the free end.
    Source: derived; the "Pythagorean model" of off-centre tools.

    >>> z, r = swung_point(10, math.radians(30))
    >>> round(z, 4), round(r, 4)
    (5.0, 8.6603)
    """
    within_limits(
        above("radius", radius, 0),
        finite("angle", angle),
        finite("set-over", set_over),
        finite("height error", height_error),
    )
    return radius * math.sin(angle), math.hypot(set_over + radius * math.cos(angle), height_error)


class SwungBall(NamedTuple):
    """A ball as it comes out [mm].

    diameter: over the equator.
    pole:     from the equator to the surface where it comes nearest to the axis.
    pip:      diameter of the pip that is left at the pole; 0 where the tool is on centre height and gets there.
    off_round: farthest less nearest place of the surface from the ball's middle.
    """

    diameter: float
    pole: float
    pip: float
    off_round: float


def swung_ball(radius: float, set_over: float = 0.0, height_error: float = 0.0, stem: float = 0.0) -> SwungBall:
    """The ball that a fixture with set-over and height error makes, from the free end to the stem [mm].

    stem: diameter of the stem that it stays on; 0 for a half ball, to the equator.
    Limits: abs(set_over) up to R/2. Set over on the tool's side the ball is too large round the equator
    and dimpled at the pole, on the other side too small and pointed.
    Source: derived; off_round by sampling, to R 1e-5 or better.

    >>> ball = swung_ball(10, set_over=0.05)
    >>> [round(value, 4) for value in ball]
    [20.1, 9.9999, 0.0, 0.0501]
    """
    within_limits(above("radius", radius, 0), at_least("stem", stem, 0))
    within_limits(
        between("set-over", abs(set_over), 0, 0.5 * radius, "Bring the axis of swing over the spindle axis"),
        between("stem", stem, 0, 2 * radius, "The stem has to be thinner than the ball"),
    )
    # Swung until it is over the axis: before or beyond a quarter turn.
    pole = math.acos(-set_over / radius)
    behind = -math.acos(stem / (2 * radius)) if stem else 0.0
    turns = (behind + (pole - behind) * k / _SAMPLES for k in range(_SAMPLES + 1))
    away = [math.hypot(*swung_point(radius, turn, set_over, height_error)) for turn in turns]
    equator = swung_point(radius, 0.0, set_over, height_error)[1]
    return SwungBall(2 * equator, radius * math.sin(pole), 2 * abs(height_error), max(away) - min(away))


def swing_needed(ball: float, stem: float) -> float:
    """How far the fixture has to swing without touching stem or chuck, from the pole to the stem [rad].

    ball, stem: diameters [mm]; the stem thinner than the ball.
    Source: derived, a quarter turn and acos(stem/ball).

    >>> round(math.degrees(swing_needed(30, 15)), 6)
    150.0
    """
    within_limits(above("ball", ball, 0), at_least("stem", stem, 0))
    within_limits(between("stem", stem, 0, ball, "The stem has to be thinner than the ball"))
    return math.pi / 2 + math.acos(stem / ball)
