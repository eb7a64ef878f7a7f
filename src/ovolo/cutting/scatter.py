"""Scatter: what small errors of operator and machine do to a surface that is cut in stations.

Lengths in mm, angles in radians. A deviation is measured square to the outline, positive where metal is left,
negative where the outline is cut into. Some errors differ from station to station (setting, display, play), others
stay for the whole run, or for one tool of it (touching off, nose, height, force): the draws keep the two apart, since
common errors move the surface and only the others roughen it.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from ovolo.cutting.limits import above, at_least, finite, within_limits
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

__all__ = ["KINDS", "Errors", "Kind", "Outlook", "Share", "Touch", "nose_share", "outlook", "station_budget"]


class Touch(NamedTuple):
    """Where the nose touches the outline at one station.

    radius: of the point from the axis [mm], 0 or more.
    normal: direction out of the metal, from the +z axis toward +r [rad]: 0 on a face, pi/2 on a cylinder.
    ridge:  left between this station and the next one, above the outline [mm].
    bends:  how far the bar bends there [mm]; leaves metal.
    away:   distance of the station itself from the outline when all is set as meant [mm]: the grid of the figures.
    nose:   what a nose larger by 1 leaves there (`nose_share`) [-]; left out: of a right-hand tool.
    tool:   which of the tools cuts it, counted from 0: each is touched off by itself, each has its own nose and height.
    """

    radius: float
    normal: float
    ridge: float = 0.0
    bends: float = 0.0
    away: float = 0.0
    nose: float | None = None
    tool: int = 0


def nose_share(angle: float, toward_end: float = -1.0, toward_metal: float = -1.0) -> float:
    """What a nose larger by 1 than assumed leaves above the outline; negative where it cuts in [-].

    The tool is touched off by its reference point, so a larger nose brings its centre as much farther from that point.

    angle:        of the outline's normal out of the metal, from +z toward the air [rad].
    toward_end:   where the reference point lies as seen from the nose centre, in nose radii along z: -1 for a
                  right-hand tool (toward the chuck), +1 for a left-hand one, 0 below the nose.
    toward_metal: the same square to the axis, -1 toward the metal.
    Source: derived; r (cos + sin - 1) for the side that leads, as an ignored nose leaves.

    >>> round(nose_share(math.pi / 4), 3), round(nose_share(3 * math.pi / 4), 3)  # it leads; behind a crest
    (0.414, -1.0)
    >>> round(nose_share(3 * math.pi / 4, toward_end=1.0), 3)  # a left-hand tool leads there
    0.414
    """
    return -toward_end * math.cos(angle) - toward_metal * math.sin(angle) - 1.0


Kind = Literal["touching off", "setting", "backlash", "nose", "centre height", "bending"]
"""The causes of scatter, as they can be lessened one by one."""

KINDS: dict[Kind, tuple[str, ...]] = {
    "touching off": ("touching_z", "touching_r"),
    "setting": ("setting_z", "setting_r", "count_z", "count_r"),
    "backlash": ("play_z", "play_r"),
    "nose": ("nose",),
    "centre height": ("height",),
    "bending": ("force",),
}
"""The fields of `Errors` that belong to each cause."""


class Share(NamedTuple):
    """By how much the range of the outline is narrower without one cause, everything else as it is [mm]."""

    kind: Kind
    narrower: float


@dataclass(frozen=True)
class Errors:
    """What may be off, in mm of slide travel (half of a diameter); _z along the axis, _r across.

    setting:  standard uncertainty of bringing the slide to its figure.
    count:    finest figure of the display: anywhere within plus and minus half of it.
    play:     backlash that is left in spite of closing it: anywhere within plus and minus half of it.
    touching: standard uncertainty of touching off, once for each tool.
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
    highest:  highest place [mm], ridges included.
    depth:    a depth below the outline that matters [mm], such as what a tolerance allows.
    below:    chance that the surface is anywhere deeper than that; below_error: standard error of that chance.
    margin:   how much metal to leave on so that 95 of 100 runs (`chance`) nowhere cut below the outline [mm].
    u_first:  largest standard uncertainty of a station, to first order [mm]; u_drawn: the same from the draws.
    shares:   what each cause adds, the largest first.
    """

    band: Scatter
    deepest: Scatter
    highest: Scatter
    depth: float
    below: float
    below_error: float
    margin: float
    u_first: float
    u_drawn: float
    shares: tuple[Share, ...]

    @property
    def low(self) -> float:
        """No more than 2.5 runs in 100 are anywhere deeper than this [mm], negative below the outline."""
        return self.deepest.low

    @property
    def high(self) -> float:
        """No more than 2.5 runs in 100 are anywhere higher than this [mm]: in 95 of 100 all lies between."""
        return self.highest.high


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
    touches: Sequence[Touch],
    errors: Errors,
    runs: int = 10_000,
    seed: int = 1,
    chance: float = 0.05,
    depth: float = 0.0,
) -> Outlook:
    """Draw whole runs with all their errors, and see where the surface comes to lie.

    touches: the stations in order along the outline, one or more. runs: 100 or more.
    seed:    the same seed gives the same figures. chance: of cutting below the outline that the margin allows.
    depth:   how far below the outline begins to matter [mm], 0 or more.
    Between two stations the top of the ridge is taken to move with the mean of both. Limits: errors small against
    nose and spacing (an error e along the surface changes a ridge h by a share of 2 e/s, which is left out); stations
    that the nose touches from outside.
    Source: JCGM 101, clause 7.

    >>> dome = [Touch(9 * math.sin(k * math.pi / 58), k * math.pi / 58, 0.02) for k in range(30)]
    >>> seen = outlook(dome, Errors(), runs=2000)
    >>> seen.low < 0 < 0.02 < seen.high and abs(seen.u_first - seen.u_drawn) < 0.002
    True
    """
    import numpy as np

    _touch_limits(touches)
    within_limits(at_least("runs", runs, 100), at_least("depth", depth, 0))
    drawn = _deviations(touches, errors, runs, np.random.default_rng(seed))
    lowest, highest = _ends(drawn, touches)
    below, below_error = chance_below(lowest, -depth)
    return Outlook(
        summarise(highest - lowest),
        summarise(lowest),
        summarise(highest),
        depth,
        below,
        below_error,
        stand_off(lowest, chance),
        max(station_budget(touch, errors).u for touch in touches),
        float(drawn.std(axis=0, ddof=1).max()),
        _shares(touches, errors, min(runs, _RUNS_FOR_SHARES), seed),
    )


_RUNS_FOR_SHARES = 2_000
"""Enough to find which cause weighs most; their figures are said to one digit."""


def _shares(touches: Sequence[Touch], errors: Errors, runs: int, seed: int) -> tuple[Share, ...]:
    """What each cause adds to the range in which 95 of 100 runs lie, the largest first; nothing that adds nothing."""
    whole = _range(touches, errors, runs, seed)
    found = [
        Share(kind, whole - _range(touches, replace(errors, **dict.fromkeys(names, 0.0)), runs, seed))
        for kind, names in KINDS.items()
        if any(getattr(errors, name) for name in names)
    ]
    return tuple(sorted((share for share in found if share.narrower > 0), key=lambda share: -share.narrower))


def _range(touches: Sequence[Touch], errors: Errors, runs: int, seed: int) -> float:
    import numpy as np

    lowest, highest = _ends(_deviations(touches, errors, runs, np.random.default_rng(seed)), touches)
    return float(np.quantile(highest, 0.975) - np.quantile(lowest, 0.025))


def _ends(drawn: "Floats", touches: Sequence[Touch]) -> "tuple[Floats, Floats]":
    """Deepest and highest place of each run: stations lie off the outline by `away` besides, tops are ridges."""
    import numpy as np

    lowest = drawn + np.array([touch.away for touch in touches])
    return lowest.min(axis=1), _tops(drawn, touches).max(axis=1)


def _deviation_of(touch: Touch) -> Callable[..., Any]:
    return lambda *off: _deviation(touch.radius, touch.normal, touch.bends, _share_of(touch), *off)


def _share_of(touch: Touch) -> float:
    """The nose's share; in a bore, where the normal points to the axis, the tool is touched off on the other side."""
    if touch.nose is not None:
        return touch.nose
    return nose_share(touch.normal, toward_metal=math.copysign(1.0, -math.sin(touch.normal)))


def _deviation(radius: Any, angle: Any, bends: Any, share: Any, *off: Any) -> Any:
    """Deviation at stations, numbers or arrays; `off` in the order of `Errors.at_each_station` and `for_the_run`."""
    import numpy as np

    setting_z, setting_r, count_z, count_r, play_z, play_r, touching_z, touching_r, nose, height, force = off
    out_z, out_r = np.cos(angle), np.sin(angle)
    along = setting_z + count_z + play_z + touching_z
    across = setting_r + count_r + play_r + touching_r
    # sqrt(x^2 + h^2) - x, written so that it keeps its digits and is h at the axis.
    from_height = np.hypot(radius, height) - radius
    return along * out_z + (across + from_height) * out_r + nose * share + bends * force


def _deviations(touches: Sequence[Touch], errors: Errors, runs: int, source: "np.random.Generator") -> "Floats":
    """Deviation of every station in every run: an array of runs by stations."""
    import numpy as np

    rows = [(touch.radius, touch.normal, touch.bends, _share_of(touch)) for touch in touches]
    radius, angle, bends, share = np.array(rows, dtype=np.float64).T
    shape = (runs, len(touches))
    each = [_off(quantity, shape, source) for quantity in errors.at_each_station()]
    tools = [touch.tool for touch in touches]
    common = [_common(quantity, tools, runs, source) for quantity in errors.for_the_run()]
    found = np.asarray(_deviation(radius, angle, bends, share, *each, *common), dtype=np.float64)
    return np.broadcast_to(found, shape)


def _common(quantity: Quantity, tools: Sequence[int], runs: int, source: "np.random.Generator") -> "Floats | float":
    """What stays for a run, drawn once for each tool; the force is off by the material: once for all."""
    many = 1 if quantity.name == "force" else max(tools) + 1
    drawn = _off(quantity, (runs, many), source)
    return drawn if many == 1 or isinstance(drawn, int | float) else drawn[:, tools]


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
        return drawn + touches[0].away
    ridges = np.array([touch.ridge for touch in touches[:-1]])
    return np.asarray(ridges + (drawn[:, :-1] + drawn[:, 1:]) / 2, dtype=np.float64)


def _touch_limits(touches: Sequence[Touch]) -> None:
    if not touches:
        raise FaultsFound([Fault("stations", None, "one or more", "there is no setting to judge", "Plan some first")])
    for n, touch in enumerate(touches, 1):
        within_limits(
            at_least(f"radius of setting {n}", touch.radius, 0),
            above(f"normal of setting {n}", touch.normal, -math.tau),
            at_least(f"ridge of setting {n}", touch.ridge, 0),
            at_least(f"bending at setting {n}", touch.bends, 0),
            finite(f"distance of setting {n} from the outline", touch.away),
        )
