"""The check document as it is read: one pydantic model a table, from which its JSON Schema is made."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from ovolo.check.causes import CauseName

__all__ = ["CheckFile"]

NotNegative = Annotated[float, Field(ge=0)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


class LimitsTable(_Table):
    """What may stand over the outline and be missing under it along the curve, mm."""

    above: NotNegative
    below: NotNegative


class ReadingTable(_Table):
    """A reading as it counts."""

    z: float
    d: NotNegative | None = Field(None, description="the diameter that was read, mm; or r")
    r: NotNegative | None = Field(None, description="the radius that was read, mm; or d")
    expected: NotNegative = Field(description="what the plan, set exactly, would read there with these jaws, mm")
    deviation: float = Field(description="from the outline, square to it where the jaws touch, metal too much positive")
    u: NotNegative = Field(description="standard uncertainty of that, with that of the place, mm")
    used: bool
    over: NotNegative | None = Field(None, description="how much of the axis the jaws cover, mm")
    says: str | None = Field(None, description="why it is not used")


class QuestionTable(_Table):
    """A question about a reading, in the shape of a fault."""

    where: str
    value: Any
    limit: str
    says: str
    remedy: str
    answer: str | None = None


class CauseTable(_Table):
    """A cause with its value and standard uncertainty: mm, of a taper mm of radius for each mm toward the chuck."""

    name: CauseName
    tool: str | None = None
    slide: Literal["cross", "saddle"] | None = None
    move: int | None = Field(None, ge=1, description="of a setting: the move in the plan that made it")
    value: float
    u: NotNegative
    says: str | None = None


class PlaceTable(_Table):
    """A reading that would decide."""

    z: float
    u_z: NotNegative = Field(description="how well its place has to be known, standard uncertainty, mm")


class UndecidedTable(_Table):
    """Causes that these readings cannot separate."""

    between: list[str]
    each: list[CauseTable]
    read: PlaceTable | None
    says: str


class RemainingTable(_Table):
    """What stands and what is missing at most, mm."""

    above: NotNegative
    below: NotNegative
    u: NotNegative


class RadiusTable(_Table):
    """The radius of the circle nearest to the readings on the longest arc of the curve, mm."""

    radius: NotNegative
    u: NotNegative
    wanted: NotNegative


class ShiftTable(_Table):
    """What is added to what each readout shows, in the job's units and its own convention."""

    cross: float
    saddle: float


class CorrectionTable(_Table):
    """The cut that mends it."""

    shift: ShiftTable
    plan: dict[str, Any] | None = Field(description="a plan.json; null where nothing helps or nothing need be done")
    says: str


class CheckFile(_Table):
    """What was measured on a part, what it says, and what to do. The program writes it; lengths in mm."""

    model_config = ConfigDict(title="Ovolo check")

    format: Literal["ovolo-check"]
    version: Literal[1]
    verdict: Literal["good", "not good", "cannot tell"] = Field(description="by ISO 14253-1, k = 2")
    says: str
    state: Literal["turned", "blended"]
    limits: LimitsTable
    readings: list[ReadingTable]
    questions: list[QuestionTable]
    causes: list[CauseTable]
    undecided: list[UndecidedTable]
    remaining: RemainingTable | None
    radius: RadiusTable | None
    correction: CorrectionTable
