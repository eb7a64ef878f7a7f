"""The job document as it is written: one pydantic model a table, lengths read to millimetres, angles to radians.

Only what can be judged field by field is judged here; `structure` looks at fields together, `checks` at the
geometry.
"""

from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, ValidationInfo, field_validator

from ovolo.documents.check_tables import ErrorsTable, MeasureTable
from ovolo.documents.job_fields import (
    LONGEST_TIME,
    MOST_CORNERS,
    MOST_POINTS,
    MOST_SPEEDS,
    MOST_TOOLS,
    Amount,
    Angle,
    Count,
    Diameter,
    FinestFigure,
    Lean,
    Length,
    MaterialName,
    NotNegative,
    Pair,
    Positive,
    Rate,
    Seconds,
    ShownAs,
    Sure,
    Table,
    Text,
    any_of,
    kind_of,
    one_of,
    refuse,
)
from ovolo.part.forms.fields import AnyForm
from ovolo.shop.pace import Pace
from ovolo.units import DEGREE

__all__ = [
    "LONGEST_TIME",
    "ByTable",
    "CrossTable",
    "FinishTable",
    "JobFile",
    "LatheTable",
    "LimitsTable",
    "OutlinePoint",
    "PaceTable",
    "PartTable",
    "SaddleTable",
    "SlideTables",
    "StockTable",
    "Sure",
    "ToolPoint",
    "ToolTable",
    "TopTable",
    "kind_of",
    "refuse",
]


class OutlinePoint(Table):
    """A point of an outline, and how it is reached from the one before: straight, or by an arc."""

    z: Length = Field(description="place along the axis: 0 at the finished end face, falling toward the chuck")
    d: Diameter = Field(description="diameter there")
    convex: Positive | None = Field(
        None, description="radius of the arc that leads here, its centre on the metal's side"
    )
    concave: Positive | None = Field(None, description="radius of the arc that leads here, its centre in the air")
    through: Pair | None = Field(None, description="[z, d] of a third point of the arc that leads here")


Points = Annotated[list[OutlinePoint], Field(min_length=2, max_length=MOST_POINTS)]


class PartTable(Table):
    """What is to be made."""

    model_config = ConfigDict(json_schema_extra=one_of("outline", "form", "file"))

    surface: Literal["outside", "bore"] = Field("outside", description="the surface that is turned")
    material: MaterialName | None = Field(None, description="a name from the materials table", examples=["mild steel"])
    outline: Points | None = Field(None, description="the outline, from the free end toward the chuck")
    form: Annotated[list[dict[str, Any]], ShownAs(list[AnyForm])] | None = Field(
        None, description="ready shapes, chained from the free end"
    )
    file: Text | None = Field(None, description="a drawing that holds the outline")
    curve: Pair | None = Field(
        None,
        description="what is finished in settings, from z to z; if left out, all but the last nose radius",
        examples=[[0, -9]],
    )


class StockTable(Table):
    """The piece in the chuck."""

    model_config = ConfigDict(json_schema_extra=any_of("diameter", "outline"))

    diameter: Positive | None = Field(
        None,
        description="diameter of the bar in the chuck; in a bore with an `outline`, outside diameter of the piece: 1.5 "
        "times its widest place if left out",
        examples=[20],
    )
    outline: Points | None = Field(
        None,
        description="a piece already shaped, in the form of part.outline, instead of `diameter`; in a bore the wall of "
        "the hole already there, instead of `hole`",
    )
    hole: NotNegative = Field(0.0, description="bore work: the hole already there")
    proud: NotNegative = Field(0.0, description="metal standing in front of z = 0")
    stick_out: Positive | None = Field(None, description="from the chuck jaws to z = 0")


class ToolPoint(Table):
    """A point of a form tool's cutting outline, from any origin, as it stands for outside work."""

    z: Length = Field(description="place along the axis, growing away from the chuck")
    r: Length = Field(description="height, growing away from the axis of the work")
    convex: Positive | None = Field(None, description="radius of the arc that leads here, which bulges out of the tool")
    through: Pair | None = Field(None, description="[z, r] of a third point of the arc that leads here")


class ToolTable(Table):
    """A tool of the drawer."""

    model_config = ConfigDict(json_schema_extra=any_of("nose_radius", "outline"))

    name: Text = Field(description="what the shop calls it", examples=["round nose 6"])
    nose_radius: Positive | None = Field(
        None, description="radius of its nose; required for all but a form tool, which has none", examples=[0.4]
    )
    nose_radius_u: NotNegative | None = Field(None, description="standard uncertainty of that radius")
    kind: Literal["pointed", "round", "grooving", "form"] = Field(
        "pointed",
        description="two straight edges tangent to the nose; a full radius between flanks square to the axis; a "
        "blade with a corner of the nose radius on either side; or a tool ground to an outline of its own",
    )
    outline: Annotated[list[ToolPoint], Field(min_length=2, max_length=MOST_CORNERS)] | None = Field(
        None,
        description="of a form tool: its cutting outline from its end toward the chuck, along its underside, to its "
        "end on the free side; beyond both it runs on square to the axis",
    )
    hand: Literal["right", "left"] = Field("right", description="right cuts toward the chuck")
    edge_angle: Angle = Field(
        93 * DEGREE, description="ISO 3002-1 cutting edge angle, degrees", json_schema_extra={"default": 93}
    )
    point_angle: Angle = Field(
        55 * DEGREE, description="ISO 3002-1 included angle, degrees", json_schema_extra={"default": 55}
    )
    material: Literal["high-speed steel", "carbide"] = Field("high-speed steel", description="what its edge is made of")
    width: Positive | None = Field(None, description="of a grooving blade, over both corners")
    stem: Positive | None = Field(None, description="how far the narrow part projects from the shank")
    shank: Positive | None = Field(None, description="width of the shank behind the narrow part, along the axis")
    stands_out: Positive | None = Field(None, description="how far the nose projects from its boring bar, on the cut")
    bar_diameter: Positive | None = Field(None, description="diameter of its boring bar")
    plunge: Positive | None = Field(None, description="widest cut with its whole width, if not limits.plunge")
    overhang: Positive | None = Field(None, description="of its boring bar, from the holder to the nose")
    least_cut: Positive | None = Field(
        None,
        description="the thinnest layer that it still cuts; 0.03 mm for high-speed steel, 0.08 mm for carbide if left "
        "out (common practice, no source)",
    )


class ByTable(Table):
    """Finishing by one slide moved a constant amount, such as a whole turn of its dial."""

    slide: Literal["cross", "saddle", "top"] = Field(description="the slide that is moved by it")
    amount: Positive = Field(description="the amount, in what that slide reads", examples=[1.0])


class FinishTable(Table):
    """What the finish may leave."""

    ridge: Positive | None = Field(
        None,
        description="the most metal that may stand above the outline, square to it; 0.05 mm or 0.002 in if left out",
    )
    tolerance: Text | None = Field(
        None,
        description="what the drawing allows the curve at its largest diameter; gives the ridge if that is left out",
        examples=["ISO 2768-m", "IT9", "profile 0.1"],
    )
    allowance: Positive | None = Field(
        None, description="what roughing leaves, square to the outline; 0.2 mm or 0.008 in if left out"
    )
    by: ByTable | None = Field(
        None, description="finish by one slide moved a constant amount, wherever that keeps the ridge"
    )


class LimitsTable(Table):
    """What the operator allows."""

    bite: Positive | None = Field(
        None, description="widest cut of a roughing move, across the direction of feed; 1 mm or 0.04 in if left out"
    )
    plunge: Positive | None = Field(None, description="widest cut of a plunge and of a finishing move, likewise")
    slides: list[Literal["saddle", "cross", "top", "both"]] = Field(
        ["saddle", "cross"], description="the slides that may be moved; top: finishing goes along the axis with it"
    )


class LatheTable(Table):
    """What is known of the lathe."""

    speeds: Annotated[list[Amount], Field(max_length=MOST_SPEEDS)] = Field(
        [], description="spindle speeds, rev/min", examples=[[70, 200, 360, 600, 1000]]
    )
    motor_w: Amount | None = Field(None, description="power of the motor, W")
    chuck_max_rpm: Amount | None = Field(None, description="fastest speed marked on the chuck, rev/min")
    stiffness: Amount | None = Field(
        None,
        description="stiffness of the machine itself between tool post and chuck, measured, in newtons per millimetre "
        "whatever the unit of the job",
        examples=[8000],
    )
    holding: Literal["chuck", "chuck and centre", "between centres"] = Field("chuck", description="what holds the work")
    centre_hole: Positive | None = Field(
        None, description="diameter of the mouth of the centre hole in the end of the stock", examples=[4]
    )
    centre_body: Positive | None = Field(
        None, description="diameter of the tailstock's centre behind its point of 60°", examples=[18]
    )
    jaws: Positive | None = Field(
        None,
        description="how far the chuck's jaws project over the bar; edges and shank are then kept off them too",
        examples=[12],
    )
    post: Literal["repeats"] | None = Field(
        None,
        description="the tool post brings a tool back to where it was: all are touched off before the first move, and "
        "a change then costs 20 s where the pace does not say otherwise",
    )
    power_feed: list[Literal["saddle", "cross"]] = Field(
        ["saddle"],
        description="the slides that have power feed, which the plan may use; [] for none",
        examples=[["saddle", "cross"]],
    )

    @field_validator("power_feed")
    @classmethod
    def _listed_once(cls, value: list[str]) -> list[str]:
        """No slide twice: one of the two was meant to be another."""
        if len(set(value)) < len(value):
            raise refuse("a slide is listed twice", "List each slide once", "saddle, cross")
        return value

    @field_validator("chuck_max_rpm")
    @classmethod
    def _has_a_speed(cls, value: float | None, info: ValidationInfo) -> float | None:
        """Some speed of the lathe has to be slow enough for the chuck."""
        speeds = info.data.get("speeds")
        if value is not None and speeds and min(speeds) > value:
            says = "every speed listed is too fast for the chuck"
            raise refuse(says, "Take a chuck for these speeds, or list the slower ones", f"{min(speeds):g} or more")
        return value


class PaceTable(Table):
    """How long the user takes for what is done again and again; estimates of ours until a run is recorded."""

    turn: Seconds = Field(Pace.turn, description="to wind a handwheel once without cutting, s")
    setting: Seconds = Field(Pace.setting, description="to bring a slide to a figure and read it, s")
    lock: Seconds = Field(Pace.lock, description="to lock or to free a slide, s")
    tool_change: Seconds = Field(Pace.tool_change, description="to change a tool and find its figures again, s")
    measuring: Seconds = Field(Pace.measuring, description="to stop, measure and start again, s")
    filing_mm3: Rate = Field(Pace.filing, description="metal filed off in a minute, mm³ whatever the units of the job")


class _SlideTable(Table):
    reads: Literal["diameter", "radius"] = Field("diameter", description="what its figure counts")
    count: FinestFigure | None = Field(
        None, description="finest figure that can be set, in what it reads; 0.01 mm or 0.0005 in if left out"
    )
    per_turn: Positive | None = Field(None, description="travel of one turn of the handwheel", examples=[2.5])
    divisions: Count | None = Field(None, description="divisions of the dial, where it is read on a dial")
    backlash: NotNegative | None = Field(None, description="lost motion of the screw, as travel")
    travel: Positive | None = Field(None, description="how far the slide can go")
    lock: bool = Field(True, description="whether it can be locked")


class CrossTable(_SlideTable):
    """The cross slide."""

    grows: Literal["out", "in"] = Field("out", description="the direction in which its figure grows")
    clockwise: Literal["in", "out"] | None = Field(None, description="where it goes as its handwheel turns clockwise")


class SaddleTable(_SlideTable):
    """The saddle; `reads` has no meaning along the axis."""

    grows: Literal["away", "toward"] = Field("away", description="away from the chuck, or toward it")
    clockwise: Literal["away", "toward"] | None = Field(
        None, description="where it goes as its handwheel turns clockwise"
    )


class TopTable(_SlideTable):
    """The top slide, parallel to the axis or set over; `reads` has no meaning along it."""

    travel: Positive = Field(description="how far the slide can go", examples=[60])
    angle: Lean = Field(
        0.0,
        description="degrees between its way and the axis, positive where the end of the taper toward the chuck is the "
        "larger one; other than 0 it finishes the tapers that lean so",
    )
    grows: Literal["away", "toward"] = Field("away", description="away from the chuck, or toward it")
    clockwise: Literal["away", "toward"] | None = Field(
        None, description="where it goes as its handwheel turns clockwise"
    )


class SlideTables(Table):
    """How the slides are read."""

    cross: CrossTable = Field(default_factory=CrossTable)
    saddle: SaddleTable = Field(default_factory=SaddleTable)
    top: TopTable | None = Field(None, description="the top slide, where limits.slides lists it")


class JobFile(Table):
    """A job: what is to be made and with what. Bare lengths are in `units`."""

    model_config = ConfigDict(title="Ovolo job")

    version: Literal[1] = Field(1, description="version of this format")
    title: Text = Field(description="what the part is called", examples=["Bridge pin"])
    units: Literal["mm", "in"] = Field("mm", description="the unit of every bare length in the job")
    sure: list[Sure] = Field(
        [],
        description="questions about odd figures answered for good: what a fault names here is meant as it is written",
        examples=[["inches"]],
    )
    part: PartTable
    stock: StockTable
    tool: Annotated[list[ToolTable], Field(min_length=1, max_length=MOST_TOOLS)] = Field(
        description="the tools of the drawer"
    )
    finish: FinishTable = Field(default_factory=FinishTable)
    limits: LimitsTable = Field(default_factory=LimitsTable)
    lathe: LatheTable = Field(default_factory=LatheTable)
    pace: PaceTable = Field(default_factory=PaceTable)
    errors: ErrorsTable = Field(default_factory=ErrorsTable)
    measure: Annotated[list[MeasureTable], Field(max_length=MOST_TOOLS)] = Field(
        [], description="what there is to measure with; the first is taken where readings name no uncertainty"
    )
    slide: SlideTables = Field(default_factory=SlideTables)
