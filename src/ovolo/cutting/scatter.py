"""Scatter: what small errors of operator and machine do to a surface that is cut in stations.

Lengths in mm, angles in radians. A deviation is measured square to the outline, positive where metal is left,
negative where the outline is cut into. Some errors differ from station to station (setting, display, play), others
stay for the whole run (touching off, nose, height, force): the draws keep the two apart, since common errors move the
surface and only the others roughen it.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from ovolo.cutting.limits import above, at_least, within_limits
from ovolo.cutting.materials import FORCE_SPREAD
from ovolo.cutting.uncertainty import (
    Budget,
    Quantity,
    Scatter,
    chance_below,
    normal,
    propagate,
    rectangular,
    stand_off,
    summarise,
)
from ovolo.errors import Fault, FaultsFound

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["Errors", "Outlook", "Touch", "outlook", "station_budget"]


class Touch(NamedTuple):
    """Where the nose touches the outline at one station.

    radius: of the point from the axis [mm], 0 or more.
    normal: direction out of the metal, from the +z axis toward +r [rad]: 0 on a face, pi/2 on a cylinder.
    ridge:  left between this station and the next one [mm].
    bends:  how far work or tool gives way there [mm]; leaves metal.
    """

    radius: float
    normal: float
    ridge: float = 0.0
    bends: float = 0.0


@dataclass(frozen=True)
class Errors:
    """What may be off, in mm of slide travel (half of a diameter); _z along the axis, _r across.

    setting:  standard uncertainty of bringing the slide to its figure.
    count:    finest figure of the display: anywhere within plus and minus half of it.
    play:     backlash that is left in spite of closing it: anywhere within plus and minus half of it.
    touching: standard uncertainty of touching off, once for the whole run.
    height:   standard uncertainty of the centre height. nose: of the nose radius.
    force:    share by which the force, and so the bending, may be off.
    The figures at first are common practice, no source.
    """

    setting_z: float = 0.01
    setting_r: float = 0.005
    count_z: float = 0.005
    count_r: float = 0.005
    play_z: float = 0.0
    play_r: float = 0.0
    touching_z: float = 0.02
    touching_r: float = 0.01
    height: float = 0.05
    nose: float = 0.02
    force: float = FORCE_SPREAD

    def __post_init__(self) -> None:
        within_limits(*(at_least(name, value, 0) for name, value in vars(self).items()))

    def at_each_station(self) -> tuple[Quantity, ...]:
        """What differs from station to station.

        >>> len(Errors().at_each_station())
        6
        """
        return (
            normal("setting_z", 0, self.setting_z),
            normal("setting_r", 0, self.setting_r),
            rectangular("count_z", 0, self.count_z / 2),
            rectangular("count_r", 0, self.count_r / 2),
            rectangular("play_z", 0, self.play_z / 2),
            rectangular("play_r", 0, self.play_r / 2),
        )

    def for_the_run(self) -> tuple[Quantity, ...]:
        """What stays the same for a whole run.

        >>> [quantity.name for quantity in Errors().for_the_run()]
        ['touching_z', 'touching_r', 'nose', 'height', 'force']
        """
        return (
            normal("touching_z", 0, self.touching_z),
            normal("touching_r", 0, self.touching_r),
            normal("nose", 0, self.nose),
            normal("height", 0, self.height),
            normal("force", 1, self.force),
        )


class Outlook(NamedTuple):
    """What to expect of a run.

    band:     height of the whole form error, highest ridge less deepest place [mm].
    deepest:  deepest place of the surface [mm], negative below the outline.
    below:    chance that the outline is cut into anywhere; below_error: standard error of that chance.
    margin:   how much to stand off so that this chance stays under what was asked [mm].
    u_first:  largest standard uncertainty of a station, to first order [mm]; u_drawn: the same from the draws.
    """

    band: Scatter
    deepest: Scatter
    below: float
    below_error: float
    margin: float
    u_first: float
    u_drawn: float


def station_budget(touch: Touch, errors: Errors) -> Budget:
    """First-order budget of the deviation at one station [mm]: who contributes what.

    Limits: the height error counts only in second order, and so not at all here, except in the draws.
    Source: JCGM 100, eq. (10); sensitivities from the geometry of the touching nose.

    >>> budget = station_budget(Touch(9, math.pi / 2), Errors())
    >>> round(budget.u, 4)  # on a cylinder: setting, count and touching off across
    0.0113
    """
    return propagate(_deviation_of(touch), [*errors.at_each_station(), *errors.for_the_run()])


def outlook(
    touches: Sequence[Touch], errors: Errors, runs: int = 10_000, seed: int = 1, chance: float = 0.05
) -> Outlook:
    """Draw whole runs with all their errors, and see what becomes of the surface.

    touches: the stations in order along the outline, one or more. runs: 100 or more.
    seed:    the same seed gives the same figures. chance: of cutting below the outline that the margin allows.
    Between two stations the top of the ridge is taken to move with the mean of both. Limits: errors small beside
    nose and spacing (an error e along the surface changes a ridge h by a share of 2 e/s, which is left out); stations
    that the nose touches from outside.
    Source: JCGM 101, clause 7.

    >>> dome = [Touch(9 * math.sin(k * math.pi / 58), k * math.pi / 58, 0.02) for k in range(30)]
    >>> seen = outlook(dome, Errors(), runs=2000)
    >>> seen.margin > 0.02 and abs(seen.u_first - seen.u_drawn) < 0.002
    True
    """
    import numpy as np

    _touch_limits(touches)
    within_limits(at_least("runs", runs, 100))
    drawn = _deviations(touches, errors, runs, np.random.default_rng(seed))
    tops = _tops(drawn, touches)
    lowest = drawn.min(axis=1)
    first = max(station_budget(touch, errors).u for touch in touches)
    below, below_error = chance_below(lowest)
    return Outlook(
        summarise(tops.max(axis=1) - lowest),
        summarise(lowest),
        below,
        below_error,
        stand_off(lowest, chance),
        first,
        float(drawn.std(axis=0, ddof=1).max()),
    )


def _deviation_of(touch: Touch) -> Callable[..., Any]:
    return lambda *off: _deviation(touch.radius, touch.normal, touch.bends, *off)


def _deviation(radius: Any, angle: Any, bends: Any, *off: Any) -> Any:
    """Deviation at stations, for numbers or arrays; `off` in the order of `Errors.at_each_station` and `for_the_run`.

    A nose larger by `nose`, touched off on face and diameter, leaves nose (cos + sin - 1), as an ignored nose does; in
    a bore, where the normal points to the axis, it is touched off on the other side, and leaves as much.
    """
    import numpy as np

    setting_z, setting_r, count_z, count_r, play_z, play_r, touching_z, touching_r, nose, height, force = off
    out_z, out_r = np.cos(angle), np.sin(angle)
    along = setting_z + count_z + play_z + touching_z
    across = setting_r + count_r + play_r + touching_r
    # sqrt(x^2 + h^2) - x, written so that it keeps its digits and is h at the axis.
    from_height = np.hypot(radius, height) - radius
    return along * out_z + (across + from_height) * out_r + nose * (out_z + np.abs(out_r) - 1) + bends * force


def _deviations(touches: Sequence[Touch], errors: Errors, runs: int, source: "np.random.Generator") -> "Floats":
    """Deviation of every station in every run: an array of runs by stations."""
    import numpy as np

    radius, angle, _, bends = np.array(touches, dtype=np.float64).T
    shape = (runs, len(touches))
    each = [_off(quantity, shape, source) for quantity in errors.at_each_station()]
    common = [_off(quantity, (runs, 1), source) for quantity in errors.for_the_run()]
    found = np.asarray(_deviation(radius, angle, bends, *each, *common), dtype=np.float64)
    return np.broadcast_to(found, shape)


def _off(quantity: Quantity, shape: tuple[int, int], source: "np.random.Generator") -> "Floats | float":
    if not quantity.u:
        return quantity.value
    if quantity.shape == "rectangular":
        return quantity.value + quantity.u * math.sqrt(3) * source.uniform(-1, 1, shape)
    return quantity.value + quantity.u * source.standard_normal(shape)


def _tops(drawn: "Floats", touches: Sequence[Touch]) -> "Floats":
    """Tops of the ridges; one station alone has none, and is its own top."""
    import numpy as np

    if len(touches) == 1:
        return drawn
    ridges = np.array([touch.ridge for touch in touches[:-1]])
    return np.asarray(ridges + (drawn[:, :-1] + drawn[:, 1:]) / 2, dtype=np.float64)


def _touch_limits(touches: Sequence[Touch]) -> None:
    if not touches:
        raise FaultsFound([Fault("stations", None, "one or more", "there is no station to judge", "Plan some first")])
    for n, touch in enumerate(touches, 1):
        within_limits(
            at_least(f"radius of station {n}", touch.radius, 0),
            above(f"normal of station {n}", touch.normal, -math.tau),
            at_least(f"ridge of station {n}", touch.ridge, 0),
            at_least(f"bending at station {n}", touch.bends, 0),
        )
