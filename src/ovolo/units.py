"""Lengths and angles as people write them, to millimetres and radians and back.

This is the only place that knows of inches and degrees. Numbers are kept as exact fractions until the last
step, so that what comes out is the float nearest to what was written.

What is read as a length: ``7.25``, ``7,25 mm``, ``.3125"``, ``5/16 in``, ``1 1/4"``, ``1-1/4 in``, ``1½ in``,
``12 thou``, ``20 µm``, ``1.5 cm``. A bare number is in the unit that the caller names.

What is refused, because two readers could take it for two sizes:

- ``1,234``: a decimal comma or a thousand; also every other thousands separator (``0,125`` and ``7,25`` are clear);
- ``5/16`` without a unit where millimetres are expected: a sixteenth always means inches;
- ``5/16-``: some read the dash as "a little under", by an unknown amount;
- ``3'`` (feet), ``3 m``, ``3 mil``, and ``-0``, NaN and infinity in any spelling.
"""

import math
import re
from fractions import Fraction
from typing import Literal, NamedTuple, get_args

from ovolo.errors import Fault, JobFaults

__all__ = [
    "DEGREE",
    "INCH",
    "Unit",
    "format_angle",
    "format_figure",
    "format_length",
    "from_mm",
    "parse_angle",
    "parse_length",
    "to_mm",
]

Unit = Literal["mm", "in"]

INCH = 25.4
"""One inch [mm], exactly (the international inch of 1959)."""

DEGREE = math.pi / 180
"""One degree [rad]."""

_LONGEST = 64
"""Longer texts are no lengths, and reading thousands of digits takes time."""

_MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "um": Fraction(1, 1000),
    "μm": Fraction(1, 1000),
    "in": Fraction(127, 5),
    "inch": Fraction(127, 5),
    "inches": Fraction(127, 5),
    '"': Fraction(127, 5),
    "thou": Fraction(127, 5000),
}
"""Unit as written, case folded -> mm. Folding turns the micro sign into the Greek letter."""

_NOT_READ = {
    "'": "a single prime means feet, or minutes of an angle",
    "ft": "feet are not read",
    "m": "metres are not read, since 3 m is more often a slip for 3 mm",
    "mil": "some take a mil for a thousandth of an inch, some for a millimetre",
}

_DECIMAL = re.compile(r"[0-9]+\.?|[0-9]*[.,][0-9]+")
_FRACTION = re.compile(r"(?:([0-9]+)(?:\s+|-))?([0-9]+)\s*/\s*([0-9]+)")
_THOUSANDS_OR_DECIMAL = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_ANGLE_PART = re.compile(r"\s*([0-9.,]+)\s*(°|degrees?|deg|'|min|\"|sec|rad)")
_STACKED = re.compile("([⁰¹²³⁴⁵⁶⁷⁸⁹]+)/([₀₁₂₃₄₅₆₇₈₉]+)")

_ONE_SIGN = str.maketrans({"−": "-", "‒": "-", "–": "-", "″": '"', "“": '"', "”": '"', "′": "'", "’": "'", "⁄": "/"})
_PLAIN_DIGITS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")
_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅒": "1/10",
}  # fmt: skip


class _Unreadable(Exception):
    """Why a text is no length or angle; becomes a fault once the place is known."""

    def __init__(self, says: str, remedy: str, limit: str = "") -> None:
        super().__init__(says)
        self.says, self.remedy, self.limit = says, remedy, limit


class _Number(NamedTuple):
    value: Fraction
    is_fraction: bool


def parse_length(text: str, unit: Unit, where: str = "length") -> float:
    """The length that a person wrote, in mm; a bare number is in `unit`.

    Raises JobFaults with one fault at `where`, which quotes the text and says what to write instead.
    Signs are kept: whether a length may be negative is for the caller to say.

    >>> parse_length("1 1/4 in", "mm"), parse_length("7,25 mm", "in"), parse_length("5/16", "in")
    (31.75, 7.25, 7.9375)
    """
    _check_unit(unit)
    try:
        return float(_length(_tidy(text), unit))
    except _Unreadable as why:
        raise JobFaults([Fault(where, text, why.limit, why.says, why.remedy)]) from None


def parse_angle(text: str, where: str = "angle") -> float:
    """The angle that a person wrote, in radians; a bare number is in degrees.

    Degrees, minutes and seconds in this order, each once; only the last may have decimals. Raises JobFaults
    with one fault at `where`.

    >>> round(parse_angle("1°29′27″") / DEGREE, 6), parse_angle("180 deg") == math.pi, parse_angle("0.5 rad")
    (1.490833, True, 0.5)
    """
    try:
        return _angle(_tidy(text))
    except _Unreadable as why:
        raise JobFaults([Fault(where, text, why.limit, why.says, why.remedy)]) from None


def to_mm(value: float, unit: Unit) -> float:
    """A number of millimetres or inches, in mm. Raises ValueError unless it is finite.

    >>> to_mm(0.5, "in")
    12.7
    """
    _check_unit(unit)
    _check_finite(value)
    return value * INCH if unit == "in" else value


def from_mm(mm: float, unit: Unit) -> float:
    """Millimetres as a number of `unit`. Raises ValueError unless it is finite.

    >>> from_mm(12.7, "in")
    0.5
    """
    _check_unit(unit)
    _check_finite(mm)
    return mm / INCH if unit == "in" else mm


def format_figure(mm: float, unit: Unit, decimals: int) -> str:
    """Millimetres as a bare figure in `unit` with that number of decimals, never as "-0.00".

    >>> format_figure(31.75, "in", 3), format_figure(-0.001, "mm", 2)
    ('1.250', '0.00')
    """
    return _fixed(from_mm(mm, unit), decimals)


def format_length(mm: float, unit: Unit, decimals: int) -> str:
    """Millimetres as a figure with its unit; `parse_length` reads it back.

    >>> format_length(31.75, "in", 3), format_length(7.25, "mm", 2)
    ('1.250 in', '7.25 mm')
    """
    return f"{format_figure(mm, unit, decimals)} {unit}"


def format_angle(radians: float, decimals: int) -> str:
    """Radians as decimal degrees; `parse_angle` reads it back.

    >>> format_angle(math.pi / 60, 2)
    '3.00°'
    """
    _check_finite(radians)
    return f"{_fixed(math.degrees(radians), decimals)}°"


def _length(text: str, unit: Unit) -> Fraction:
    head, tail = _split_unit(text)
    if head.strip("+- ") and (text.endswith("-") or head.endswith("-")):
        raise _Unreadable("the dash after the size leaves open by how much", "Write the size meant, such as 0.31 in")
    number = _number(head)
    if not tail and number.is_fraction and unit == "mm":
        raise _Unreadable("a fraction without a unit is most likely in inches", f"Write {head} in or {head} mm")
    return number.value * _MM[_known_unit(tail) if tail else unit]


def _split_unit(text: str) -> tuple[str, str]:
    """What may belong to a number, and the rest."""
    end = len(text) - len(text.lstrip("+-0123456789.,/ "))
    return text[:end].strip(), text[end:].strip().removesuffix(".").strip()


def _known_unit(written: str) -> str:
    unit = written.casefold()
    if unit not in _MM:
        says = _NOT_READ.get(unit, f"{written!r} is not a unit of length, nor anything else that is read here")
        raise _Unreadable(says, "Write one figure and its unit", "mm, cm, µm, in, thou")
    return unit


def _number(text: str) -> _Number:
    """The exact value of a signed decimal or fraction."""
    sign = -1 if text.startswith("-") else 1
    digits = text[1:].strip() if text[:1] in {"+", "-"} else text
    if not digits:
        raise _Unreadable(
            "there is no number at its start", "Write a figure and its unit, such as 7.25 mm, 5/16 in or 3°"
        )
    is_fraction = "/" in digits
    value = sign * (_fraction(digits) if is_fraction else _decimal(digits))
    if sign < 0 and value == 0:
        raise _Unreadable("there is no negative zero", "Write 0, or the figure that is missing")
    return _Number(value, is_fraction)


def _decimal(digits: str) -> Fraction:
    if _THOUSANDS_OR_DECIMAL.fullmatch(digits):
        point, plain = digits.replace(",", "."), digits.replace(",", "")
        raise _Unreadable("the comma may mark decimals or thousands", f"Write {point} or {plain}")
    if not _DECIMAL.fullmatch(digits):
        raise _Unreadable(
            f"{digits!r} is not one number",
            "Write decimals with a point, such as 1234.5, and nothing between thousands",
        )
    return Fraction(digits.rstrip(".").replace(",", "."))


def _fraction(digits: str) -> Fraction:
    match = _FRACTION.fullmatch(digits)
    if not match:
        raise _Unreadable(f"{digits!r} is not a fraction", "Write it as 5/16 or 1 1/4")
    whole, over, under = (int(part or 0) for part in match.groups())
    if under == 0:
        raise _Unreadable(
            "the fraction divides by zero", "Write the figure under the stroke", "1 or more under the stroke"
        )
    if match[1] is not None and over >= under:
        raise _Unreadable("a whole number stands before a fraction of one or more", "Write it as 1 1/4 or as 5/4")
    return whole + Fraction(over, under)


def _angle(text: str) -> float:
    sign, unsigned = (-1, text[1:]) if text.startswith("-") else (1, text.removeprefix("+"))
    parts = _angle_parts(unsigned.lower())
    if sign < 0 and not any(value for value, _ in parts):
        raise _Unreadable("there is no negative zero", "Write 0, or the figure that is missing")
    if parts[0][1] == "rad":
        return sign * float(parts[0][0])
    return sign * math.radians(float(sum(value / _PER_DEGREE[mark] for value, mark in parts)))


_PER_DEGREE = {"°": 1, "'": 60, '"': 3600}
_MARKS = {"degree": "°", "degrees": "°", "deg": "°", "min": "'", "sec": '"'}


def _angle_parts(text: str) -> list[tuple[Fraction, str]]:
    """Values and their marks (degree, minute, second or "rad"), in falling order."""
    if not re.search("[^0-9.,\\s]", text):
        return [(_number(text.strip()).value, "°")]
    found, end = [], 0
    while match := _ANGLE_PART.match(text, end):
        found.append((_number(match[1]).value, _MARKS.get(match[2], match[2])))
        end = match.end()
    _check_angle_parts(found, text[end:].strip())
    return found


def _check_angle_parts(parts: list[tuple[Fraction, str]], rest: str) -> None:
    how = "Write it as 1.5°, 1°29′27″, 3 deg or 0.5 rad"
    marks = "".join("r" if mark == "rad" else mark for _, mark in parts)
    if rest or marks not in {"°", "'", '"', "°'", "'\"", "°'\"", "r"}:
        raise _Unreadable("it is not an angle in degrees, minutes and seconds, nor in radians", how)
    if any(value.denominator != 1 for value, _ in parts[:-1]):
        raise _Unreadable("only the last part of an angle may have decimals", how, "whole degrees before minutes")
    if any(value >= 60 for value, _ in parts[1:]):
        raise _Unreadable("minutes or seconds make up a whole one of the part before", how, "less than 60")


def _tidy(text: str) -> str:
    """One spelling for signs, primes and fractions; fractions keep a space around them, so 1½ is not 11/2."""
    if len(text) > _LONGEST:
        raise _Unreadable(f"it has {len(text)} characters", "Write one figure and its unit", f"{_LONGEST} characters")
    text = text.translate(_ONE_SIGN).replace("''", '"')
    text = _STACKED.sub(lambda match: f" {match[0].translate(_PLAIN_DIGITS)} ", text)
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain} ")
    return " ".join(text.split())


def _fixed(value: float, decimals: int) -> str:
    if not 0 <= decimals <= 12:
        raise ValueError(f"decimals = {decimals}: from 0 to 12 can be shown")
    return f"{value:z.{decimals}f}"


def _check_unit(unit: str) -> None:
    if unit not in get_args(Unit):
        raise ValueError(f"unit = {unit!r}: only 'mm' and 'in' are known here")


def _check_finite(value: float) -> None:
    if not math.isfinite(value):
        raise ValueError(f"value = {value!r}: only a finite number has a size")
