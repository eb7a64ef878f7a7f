"""What a plan has to say about itself, as facts: how far it can be trusted, what it leaves on the end of the work.

Lengths in mm. `documents.plan.words` puts them into words, in the job's units.
"""

from __future__ import annotations

from typing import NamedTuple

from ovolo.geometry.segments import Point
from ovolo.shop.slides import SlideName


class ChuckUnchecked(NamedTuple):
    """How far the bar stands out is not told, so nothing was checked against the chuck."""


class CentreUnchecked(NamedTuple):
    """How large the centre and its hole are is not told, so nothing was checked against it."""


class BetweenDivisions(NamedTuple):
    """A slide's figures fall between the divisions of its dial; `better` counts would be read off it."""

    slide: SlideName
    one_count: float
    division: float
    better: tuple[float, ...]


class Nub(NamedTuple):
    """What the centre leaves in front of the end face; a diameter of 0 where no metal stands there."""

    diameter: float


class FinishedFrom(NamedTuple):
    """The curve is finished from this place on, (z, r); what is nearer to the end stays `with_nub`, or unturned."""

    place: Point
    with_nub: bool


class HoleStays(NamedTuple):
    """A cone of the centre's hole stays in the end: its diameter and depth; metal standing `proud` would hold it."""

    diameter: float
    depth: float
    proud: float


class ToleranceAllows(NamedTuple):
    """What a tolerance of the drawing lets stand on the curve; whether the ridge asked for `keeps` it."""

    tolerance: str
    diameter: float
    allowed: float
    keeps: bool


class NoseTooVague(NamedTuple):
    """A nose is not `known` well enough for the `ridge`: it allows one of `allows`, and would have to be measured to
    `wanted`; by a groove where it is a full radius."""

    tool: str
    ridge: float
    known: float
    allows: float
    wanted: float
    full_radius: bool


class EqualStepsNowhere(NamedTuple):
    """Steps of this amount of a slide keep the ridge nowhere."""

    slide: SlideName
    amount: float


class EqualStepsNoForm(NamedTuple):
    """Equal steps are planned for noses only, and only form tools are used."""


class EqualStepsTaken(NamedTuple):
    """So many of all stations are equal steps, and the plan takes so many `more` than the fewest."""

    slide: SlideName
    amount: float
    equal: int
    stations: int
    more: int


class ThinAllowance(NamedTuple):
    """So little has to go that roughing leaves this instead of the allowance."""

    left: float


class AsWritten(NamedTuple):
    """A note read from a file, in its own words."""

    text: str


EqualStepsNote = EqualStepsNowhere | EqualStepsNoForm | EqualStepsTaken

Note = (
    ChuckUnchecked
    | CentreUnchecked
    | BetweenDivisions
    | Nub
    | FinishedFrom
    | HoleStays
    | ToleranceAllows
    | NoseTooVague
    | EqualStepsNote
    | ThinAllowance
    | AsWritten
)
