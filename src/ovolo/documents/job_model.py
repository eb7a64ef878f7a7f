"""The job document as it is written: one pydantic model a table, lengths read to millimetres, angles to radians.

Only what can be judged field by field is judged here; `structure` looks at fields together, `checks` at the
geometry. A length is a number in the job's own unit, or a text that carries its unit or is a fraction.
"""

import math
import re
from collections.abc import Callable
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationInfo,
    WithJsonSchema,
    field_validator,
)
from pydantic_core import PydanticCustomError

from ovolo.cutting.materials import material
from ovolo.errors import JobFaults
from ovolo.shop.pace import Pace
from ovolo.units import DEGREE, Unit, parse_angle, parse_length, to_mm

LONGEST = 10_000.0
"""No length of a job is larger, mm: ten metres is past every lathe that is wound by hand."""

LONGEST_TIME = 86_400.0
"""No time of a pace is longer [s]."""

SLOWEST, FASTEST = 0.01, 1e5
"""Between these lies what a hand files off [mm³/min]."""

MOST_POINTS, MOST_TOOLS, MOST_SPEEDS, LONGEST_TEXT, MOST_CORNERS = 10_000, 100, 200, 200, 100

_PLAIN_NUMBER = re.compile(r"[+-]?[0-9.,]+(?:[eE][+-]?[0-9]+)?|[+-]?(?:nan|inf|infinity)", re.IGNORECASE)


def refuse(says: str, remedy: str, limit: str = "") -> PydanticCustomError:
    """A validation error that `faults.faults_of` turns into a Fault word for word."""
    return PydanticCustomError("fault", "{says}", {"says": says, "remedy": remedy, "limit": limit})


def kind_of(value: object) -> str:
    """What a value of a document is, in words.

    >>> kind_of(True), kind_of("20"), kind_of([1])
    ('true or false', 'text', 'a list')
    """
    for types, words in _KINDS:
        if isinstance(value, types):
            return words
    return "a date or a time"


_KINDS: tuple[tuple[type | tuple[type, ...], str], ...] = (
    (bool, "true or false"),
    (str, "text"),
    ((int, float), "a number"),
    (list, "a list"),
    (dict, "a table"),
    (type(None), "nothing"),
)


def _number(value: object, wanted: str) -> float:
    """A finite number, whatever it measures."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise refuse(f"{kind_of(value)} stands where {wanted} is wanted", "Write a number")
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise refuse("it is not a finite number", "Write the figure that is meant", "a finite number")
    return number + 0.0


def _refuse_plain(text: str) -> None:
    if _PLAIN_NUMBER.fullmatch(text.strip()):
        bare = text.strip().replace(",", ".")
        raise refuse("a number is written as text", f"Write it without quotes: {bare}")


def _read(text: str, reader: Callable[[str], float]) -> float:
    _refuse_plain(text)
    try:
        return reader(text)
    except JobFaults as found:
        fault = found.faults[0]
        raise refuse(fault.says, fault.remedy, fault.limit) from None


def _length(value: object, info: ValidationInfo) -> float:
    """A length in mm, of either sign; its unit is the validation context's."""
    unit: Unit = (info.context or {}).get("unit", "mm")
    if isinstance(value, str):
        mm = _read(value, lambda text: parse_length(text, unit))
    else:
        mm = _number(value, "a length")
        mm = to_mm(mm, unit) if abs(mm) <= LONGEST else mm
    if abs(mm) > LONGEST:
        raise refuse("it is longer than any lathe", "Check the figure and the units of the job", "10 m")
    return mm


def _positive(value: object, info: ValidationInfo) -> float:
    mm = _length(value, info)
    if mm <= 0:
        raise refuse("it is zero" if mm == 0 else "it is negative", "Write a figure above 0", "more than 0")
    return mm


def _not_negative(value: object, info: ValidationInfo) -> float:
    mm = _length(value, info)
    if mm < 0:
        raise refuse("it is negative", "Write 0 or more", "0 or more")
    return mm


def _diameter(value: object, info: ValidationInfo) -> float:
    mm = _length(value, info)
    if mm < 0:
        raise refuse("the outline goes past the axis", "Write the diameter, which is never negative", "0 or more")
    return mm


def _angle(value: object) -> float:
    """An angle between 0 and 180 degrees, in radians."""
    angle = _read(value, parse_angle) if isinstance(value, str) else _number(value, "an angle") * DEGREE
    if not 0 < angle < math.pi:
        raise refuse("no edge of a tool can stand so", "Write degrees, such as 93", "more than 0 and less than 180")
    return angle


def _lean(value: object) -> float:
    """An angle between -90 and 90 degrees, in radians."""
    text = value.strip() if isinstance(value, str) else ""
    if text.startswith(("-", "\N{MINUS SIGN}")):
        angle = -_read(text[1:], parse_angle)
    else:
        angle = _read(text, parse_angle) if isinstance(value, str) else _number(value, "an angle") * DEGREE
    if not abs(angle) < math.pi / 2:
        raise refuse(
            "no slide along the work can stand so", "Write degrees, such as 5.7", "more than -90, less than 90"
        )
    return angle


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise refuse(f"{kind_of(value)} stands where text is wanted", "Put it in quotes")
    if not value.strip():
        raise refuse("it is empty", "Write a name")
    if len(value) > LONGEST_TEXT:
        raise refuse(f"it has {len(value)} characters", "Shorten it", f"{LONGEST_TEXT} characters")
    if not value.isprintable():
        raise refuse("it holds characters that cannot be printed", "Write it on one line, without control characters")
    return value.strip()


def _material(value: object) -> str:
    """A name that the materials table knows."""
    name = _text(value)
    try:
        material(name)
    except JobFaults as found:
        fault = found.faults[0]
        raise refuse(fault.says, fault.remedy, fault.limit) from None
    return name


def _amount(value: object) -> float:
    """A number above 0 that is no length: a speed, a power."""
    number = _number(value, "a number")
    if number <= 0:
        raise refuse("it is zero" if number == 0 else "it is negative", "Write a figure above 0", "more than 0")
    return number


def _seconds(value: object) -> float:
    """A time from 0 to a day, in seconds."""
    number = _number(value, "a time in seconds")
    if not 0 <= number <= LONGEST_TIME:
        says = "it is negative" if number < 0 else "nothing at a lathe takes so long"
        raise refuse(says, "Write seconds", f"0 to {LONGEST_TIME:g} s")
    return number


def _rate(value: object) -> float:
    """Metal filed off, mm³ a minute."""
    number = _number(value, "a rate")
    if not SLOWEST <= number <= FASTEST:
        raise refuse("no file takes off metal at such a rate", "Write mm³ a minute", f"{SLOWEST:g} to {FASTEST:g}")
    return number


def _schema(**number: float) -> WithJsonSchema:
    return WithJsonSchema({"anyOf": [{"type": "number", **number}, {"type": "string"}]})


Length = Annotated[float, BeforeValidator(_length), _schema()]
Positive = Annotated[float, BeforeValidator(_positive), _schema(exclusiveMinimum=0)]
NotNegative = Annotated[float, BeforeValidator(_not_negative), _schema(minimum=0)]
Diameter = Annotated[float, BeforeValidator(_diameter), _schema(minimum=0)]
Angle = Annotated[float, BeforeValidator(_angle), _schema(exclusiveMinimum=0, exclusiveMaximum=180)]
Lean = Annotated[float, BeforeValidator(_lean), _schema(exclusiveMinimum=-90, exclusiveMaximum=90)]
Text = Annotated[str, BeforeValidator(_text), WithJsonSchema({"type": "string", "minLength": 1})]
MaterialName = Annotated[str, BeforeValidator(_material), WithJsonSchema({"type": "string", "minLength": 1})]
Amount = Annotated[float, BeforeValidator(_amount), WithJsonSchema({"type": "number", "exclusiveMinimum": 0})]
Seconds = Annotated[
    float, BeforeValidator(_seconds), WithJsonSchema({"type": "number", "minimum": 0, "maximum": LONGEST_TIME})
]
Rate = Annotated[
    float, BeforeValidator(_rate), WithJsonSchema({"type": "number", "minimum": SLOWEST, "maximum": FASTEST})
]
Pair = Annotated[list[Length], Field(min_length=2, max_length=2)]
Count = Annotated[int, Field(ge=1, le=100_000)]


def _any_of(*names: str) -> dict[str, Any]:
    return {"anyOf": [{"required": [name]} for name in names]}


def _one_of(*names: str) -> dict[str, Any]:
    return {"oneOf": [{"required": [name]} for name in names]}


class Table(BaseModel):
    """A table of the job: a field that is not known is an error, a value is never converted silently."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


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

    model_config = ConfigDict(json_schema_extra=_one_of("outline", "form", "file"))

    surface: Literal["outside", "bore"] = Field("outside", description="the surface that is turned")
    material: MaterialName | None = Field(None, description="a name from the materials table", examples=["mild steel"])
    outline: Points | None = Field(None, description="the outline, from the free end toward the chuck")
    form: list[dict[str, Any]] | None = Field(None, description="ready shapes, chained from the free end")
    file: Text | None = Field(None, description="a drawing that holds the outline")
    curve: Pair | None = Field(
        None,
        description="the stretch of z whose finish is asked for; if left out, all but the last nose radius",
        examples=[[0, -9]],
    )


class StockTable(Table):
    """The piece in the chuck."""

    model_config = ConfigDict(json_schema_extra=_any_of("diameter", "outline"))

    diameter: Positive | None = Field(
        None,
        description="diameter of the bar as it stands in the chuck; in a bore, beside `outline`, of the outside of the "
        "piece: 1.5 times its widest place if left out",
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

    model_config = ConfigDict(json_schema_extra=_any_of("nose_radius", "outline"))

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
    stem: Positive | None = Field(None, description="how far the narrow part stands out of the shank")
    shank: Positive | None = Field(None, description="width of the shank behind the narrow part, along the axis")
    stands_out: Positive | None = Field(None, description="how far the nose stands out of its boring bar, on the cut")
    bar_diameter: Positive | None = Field(None, description="diameter of its boring bar")
    plunge: Positive | None = Field(None, description="widest cut with its whole width, if not limits.plunge")
    overhang: Positive | None = Field(None, description="of its boring bar, from the holder to the nose")


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
        examples=["ISO 2768-m", "IT9"],
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
        [], description="spindle speeds, turns a minute", examples=[[70, 200, 360, 600, 1000]]
    )
    motor_w: Amount | None = Field(None, description="power of the motor, W")
    chuck_max_rpm: Amount | None = Field(None, description="fastest speed marked on the chuck, turns a minute")
    holding: Literal["chuck", "chuck and centre", "between centres"] = Field("chuck", description="what holds the work")
    centre_hole: Positive | None = Field(
        None, description="diameter of the mouth of the centre hole in the end of the stock", examples=[4]
    )
    centre_body: Positive | None = Field(
        None, description="diameter of the tailstock's centre behind its point of 60°", examples=[18]
    )
    jaws: Positive | None = Field(
        None,
        description="how far the chuck's jaws stand over the bar; edges and shank are then kept off them too",
        examples=[12],
    )
    power_feed: list[Literal["saddle", "cross"]] = Field(
        ["saddle"],
        description="the slides that have power feed, which the plan may tell to use; [] for none",
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
    count: Positive | None = Field(
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
    part: PartTable
    stock: StockTable
    tool: Annotated[list[ToolTable], Field(min_length=1, max_length=MOST_TOOLS)] = Field(
        description="the tools of the drawer"
    )
    finish: FinishTable = Field(default_factory=FinishTable)
    limits: LimitsTable = Field(default_factory=LimitsTable)
    lathe: LatheTable = Field(default_factory=LatheTable)
    pace: PaceTable = Field(default_factory=PaceTable)
    slide: SlideTables = Field(default_factory=SlideTables)
