"""The plan document as it is read: one pydantic model a table, from which its JSON Schema is made."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

__all__ = ["PlanFile"]

Place = Annotated[list[float], Field(min_length=2, max_length=2, description="[z, r], mm")]
SlideKey = Literal["cross", "saddle", "top"]
NotNegative = Annotated[float, Field(ge=0)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


class BeforeTable(_Table):
    """What has to happen ahead of a move; `set`, `shown` and `first` belong to `stand`, `should` to `measure`."""

    move: int = Field(ge=1)
    kind: Literal["tool", "touch", "measure", "speed", "lock", "say", "stand"]
    text: str
    set: dict[SlideKey, float] | None = Field(None, description="figure of each slide, in the job's units")
    shown: dict[SlideKey, str] | None = Field(None, description="the same as they are read at the lathe")
    first: Literal["cross", "saddle"] | None = Field(
        None,
        description="the slide that is set first: the saddle with the tool beyond the bar's diameter, the cross slide "
        "with the tool in front of the piece",
    )
    should: dict[SlideKey, float] | None = Field(
        None, description="what the figure should be that is measured, as that slide reads it, in the job's units"
    )


class FeedOffTable(_Table):
    """Where power feed is knocked off, ahead of the figure of the move."""

    set: float = Field(description="the figure of the moving slide there, in the job's units and convention")
    shown: str = Field(description="the same as it is read at the lathe")
    by_hand: NotNegative = Field(description="what is left of the move to be wound by hand, mm of travel")


class MoveTable(_Table):
    """One slide going from one figure to another."""

    n: int = Field(ge=1)
    stage: Literal["rough", "finish"]
    tool: str
    slide: Literal["cross", "saddle", "top", "both"] = Field(description="the one slide that moves")
    from_: Place = Field(alias="from", description="nose centre at the start, [z, r], mm")
    to: Place = Field(description="nose centre at the end, [z, r], mm")
    cuts: bool = Field(description="whether metal is taken")
    set: float | None = Field(None, description="the figure to bring the slide to, in the job's units and convention")
    shown: str = Field(description="the same as it is read at the lathe")
    within: NotNegative = Field(description="how far off the setting may be without harm, mm of travel")
    removes_mm2: NotNegative = Field(description="area that disappears from the half-section")
    bite: NotNegative = Field(description="extent of that area across the feed, mm")
    force_n: NotNegative | None = Field(None, description="cutting force, N; published figures differ by 25 %")
    power_w: NotNegative | None = Field(None, description="power at the edge, W")
    bends_mm: NotNegative | None = Field(None, description="deflection of work and boring bar, mm")
    station: int | None = Field(None, ge=1, description="number of the setting that this move completes")
    feed_off: FeedOffTable | None = Field(None, description="of a move that can run under power feed")


class ProofTable(_Table):
    """What the best plan with one station fewer would leave."""

    fewer: int = Field(ge=0)
    leaves: NotNegative | None = Field(description="mm; null where no such plan exists")


class PredictionTable(_Table):
    """What the moves as set leave, mm."""

    ridge_max: NotNegative = Field(description="highest metal left above the outline")
    ridge_at: Place
    gouge_max: NotNegative = Field(description="deepest cut below the outline")
    ridges: list[Annotated[list[float], Field(min_length=3, max_length=3)]] = Field(
        description="[z, r, height] for each pair of neighbouring settings"
    )
    surface: list[Place] = Field(description="border of what is left, free end toward the chuck")


class PlanFile(_Table):
    """A plan: what to do and what will come of it. The program writes it."""

    model_config = ConfigDict(title="Ovolo plan")

    format: Literal["ovolo-plan"]
    version: Literal[1]
    units: Literal["mm", "in"] = Field(description="the unit of `set` and `shown`; every other length is in mm")
    job: dict[str, Any] = Field(description="the job as resolved, in mm")
    tools: list[str] = Field(description="the tools used, in order")
    before: list[BeforeTable]
    moves: list[MoveTable]
    stations: int = Field(ge=0)
    fewest: int = Field(ge=0, description="the proven least for the tools chosen, on the grid of the counts")
    proof: ProofTable
    prediction: PredictionTable
    notes: list[str]
    checksum: str = Field(pattern="^[0-9a-f]{8}$", description="over the canonical JSON, numbers rounded to 1 nm")
