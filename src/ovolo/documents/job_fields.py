"""The kinds of fields that the documents people write are made of: lengths read to mm, angles to radians, names.

A length is a number in the document's own unit, or a text that carries its unit or is a fraction.
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
    GetJsonSchemaHandler,
    TypeAdapter,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import CoreSchema, PydanticCustomError

from ovolo.cutting.materials import material
from ovolo.errors import JobFaults
from ovolo.units import DEGREE, Unit, parse_angle, parse_length, to_mm

LONGEST = 10_000.0
"""No length of a job is larger, mm: ten metres is past every lathe that is wound by hand."""

FINEST_COUNT = 0.0005
"""No slide is set more finely than this, mm."""

LONGEST_TIME = 86_400.0
"""No time of a pace is longer [s]."""

SLOWEST, FASTEST = 0.01, 1e5
"""Between these lies what a hand files off [mm³/min]."""

MOST_POINTS, MOST_TOOLS, MOST_SPEEDS, LONGEST_TEXT, MOST_CORNERS = 10_000, 100, 200, 200, 100

_PLAIN_NUMBER = re.compile(r"[+-]?[0-9.,]+(?:[eE][+-]?[0-9]+)?|[+-]?(?:nan|inf|infinity)", re.IGNORECASE)


_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2}(,[0-9]{3})+")
"""A figure whose comma two readers take for two things."""

Sure = Literal["inches", "diameters", "arcs", "axis", "stock", "noses", "counts"]
"""The questions that a job can answer for good; `slips` puts them."""


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
        bare = text.strip()
        if _THOUSANDS.fullmatch(bare):
            raise refuse(
                "the comma may mark decimals or thousands",
                f"Write {bare.replace(',', '.')} or {bare.replace(',', '')}, without quotes",
            )
        raise refuse("a number is written as text", f"Write it without quotes: {bare.replace(',', '.')}")


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


def _count(value: object, info: ValidationInfo) -> float:
    """A step of a readout or a dial: finer than half a micron is none, and would take hours to plan with."""
    mm = _positive(value, info)
    if mm < FINEST_COUNT - 1e-12:
        says = "no readout and no dial is set so finely"
        raise refuse(says, "Write the last figure that it shows, such as 0.01", "at least 0.0005 mm, 0.00002 in")
    return mm


def _schema(**number: float) -> WithJsonSchema:
    return WithJsonSchema({"anyOf": [{"type": "number", **number}, {"type": "string"}]})


Length = Annotated[float, BeforeValidator(_length), _schema()]
Positive = Annotated[float, BeforeValidator(_positive), _schema(exclusiveMinimum=0)]
FinestFigure = Annotated[float, BeforeValidator(_count), _schema(exclusiveMinimum=0)]
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


def any_of(*names: str) -> dict[str, Any]:
    return {"anyOf": [{"required": [name]} for name in names]}


class ShownAs:
    """Marks a field that is read by code of its own, and that the schema shows as of another type."""

    def __init__(self, shape: Any) -> None:
        self._core = TypeAdapter(shape).core_schema

    def __get_pydantic_json_schema__(self, _: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return handler(self._core)


def one_of(*names: str) -> dict[str, Any]:
    return {"oneOf": [{"required": [name]} for name in names]}


class Table(BaseModel):
    """A table of the job: a field that is not known is an error, a value is never converted silently."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)
