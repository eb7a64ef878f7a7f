"""Lengths and angles as people write them: read exactly, or refused with a remedy; never misread."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.errors import JobFaults
from ovolo.units import (
    DEGREE,
    INCH,
    Unit,
    format_angle,
    format_figure,
    format_length,
    from_mm,
    parse_angle,
    parse_length,
    to_mm,
)

UNITS: tuple[Unit, Unit] = ("mm", "in")

CLEAR = [
    ("7.25", "mm", 7.25),
    ("7,25 mm", "in", 7.25),
    ("0,125", "in", 3.175),
    (",5 in", "mm", 12.7),
    ("1,2345", "mm", 1.2345),
    ("1234,567", "mm", 1234.567),
    ("1.234", "mm", 1.234),
    ("12.", "mm", 12.0),
    ('.3125"', "mm", 7.9375),
    ("5/16", "in", 7.9375),
    ("5 / 16 in", "mm", 7.9375),
    ("1 1/4 in", "mm", 31.75),
    ("1-1/4 in.", "mm", 31.75),
    ('1-1/4"', "mm", 31.75),
    ("1¼ in", "mm", 31.75),
    ("1 ¼ Inches", "mm", 31.75),
    ("5⁄16″", "mm", 7.9375),
    ("1⁵⁄₁₆″", "mm", 33.3375),
    ("2''", "mm", 50.8),
    ("-1 1/4 in", "mm", -31.75),
    ("−3", "mm", -3.0),
    ("+ 3", "mm", 3.0),
    ("12 thou", "mm", 0.3048),
    ("20 µm", "in", 0.02),
    ("20 μm", "in", 0.02),
    ("1.5cm", "mm", 15.0),
    ("0", "mm", 0.0),
    ("0.1 in", "mm", 2.54),
    ("1/2 mm", "in", 0.5),
    ("\u00a07.25\u202fmm ", "in", 7.25),
]

REFUSED = [
    ("1,234", "decimals or thousands", "1.234 or 1234"),
    ("12,345 mm", "decimals or thousands", "12.345 or 12345"),
    ("1,234.5", "not one number", "nothing between thousands"),
    ("1.234,5", "not one number", "nothing between thousands"),
    ("1.234.567", "not one number", "nothing between thousands"),
    ("1 234", "not one number", "nothing between thousands"),
    ("1_000", "not a unit", "One figure"),
    ("1'234", "not a unit", "One figure"),
    ("5/16", "fraction without a unit", "5/16 in or 5/16 mm"),
    ("1½", "fraction without a unit", "1 1/2 in or 1 1/2 mm"),
    ("5/16-", "leaves open by how much", "the size meant"),
    ('5/16-"', "leaves open by how much", "the size meant"),
    ('5/16"-', "leaves open by how much", "the size meant"),
    ("5/16–", "leaves open by how much", "the size meant"),
    ("½5 in", "not a fraction", "5/16 or 1 1/4"),
    ("½½ in", "not a fraction", "5/16 or 1 1/4"),
    ("1.5½ in", "not a fraction", "5/16 or 1 1/4"),
    ("1.5/4 in", "not a fraction", "5/16 or 1 1/4"),
    ("1/2/3 in", "not a fraction", "5/16 or 1 1/4"),
    ("1 -1/4 in", "not a fraction", "5/16 or 1 1/4"),
    ("1 5/4 in", "a fraction of one or more", "1 1/4 or as 5/4"),
    ("1/0 in", "divides by zero", "under the stroke"),
    ("-0", "negative zero", "Write 0"),
    ("-0.00 mm", "negative zero", "Write 0"),
    ("-0/4 in", "negative zero", "Write 0"),
    ("nan", "no number", "a figure and its unit"),
    ("-inf", "no number", "a figure and its unit"),
    ("Infinity", "no number", "a figure and its unit"),
    ("", "no number", "a figure and its unit"),
    (" \n", "no number", "a figure and its unit"),
    ("mm", "no number", "a figure and its unit"),
    ("Ø 12", "no number", "a figure and its unit"),
    ("١٢", "no number", "a figure and its unit"),
    ("--5", "not one number", "nothing between"),
    (".", "not one number", "nothing between"),
    ("5,", "not one number", "nothing between"),
    ("1e3", "not a unit", "One figure"),
    ("1 in 5 mm", "not a unit", "One figure"),
    ("10 ±0.1", "not a unit", "One figure"),
    ("3 m", "a slip for 3 mm", "One figure"),
    ("3 mil", "some for a millimetre", "One figure"),
    ("3'", "feet", "One figure"),
    ("3 ft", "feet", "One figure"),
    ("9" * 65, "65 characters", "One figure"),
]


@pytest.mark.parametrize(("text", "unit", "mm"), CLEAR)
def test_clear_lengths_are_read_exactly(text: str, unit: Unit, mm: float) -> None:
    assert parse_length(text, unit) == mm


@pytest.mark.parametrize(("text", "says", "remedy"), REFUSED)
def test_doubtful_lengths_are_refused_with_the_value_and_a_remedy(text: str, says: str, remedy: str) -> None:
    with pytest.raises(JobFaults) as caught:
        parse_length(text, "mm", "stock.diameter")
    (fault,) = caught.value.faults
    assert fault.where == "stock.diameter"
    assert fault.value == text
    assert says in fault.says
    assert remedy.lower() in fault.remedy.lower()


@given(st.text(max_size=70))
def test_any_text_gives_a_finite_length_or_faults(text: str) -> None:
    for unit in UNITS:
        try:
            assert math.isfinite(parse_length(text, unit))
        except JobFaults as error:
            assert error.faults[0].value == text


@given(st.text(max_size=70))
def test_any_text_gives_a_finite_angle_or_faults(text: str) -> None:
    try:
        assert math.isfinite(parse_angle(text))
    except JobFaults as error:
        assert error.faults[0].value == text


@given(st.integers(-(10**9), 10**9), st.integers(0, 6), st.sampled_from(UNITS), st.sampled_from(UNITS))
def test_a_length_survives_being_written_and_read(counts: int, decimals: int, unit: Unit, other: Unit) -> None:
    """A figure of so many decimals comes back as the float nearest to it, whatever the bare unit."""
    exact = Fraction(counts, 10**decimals) * (Fraction(127, 5) if unit == "in" else 1)
    assert parse_length(format_length(float(exact), unit, decimals), other) == float(exact)


@given(st.integers(0, 40), st.integers(0, 6), st.data())
def test_fractions_of_an_inch_are_exact_in_every_spelling(whole: int, power: int, data: st.DataObject) -> None:
    under = 2**power
    over = data.draw(st.integers(0, under - 1))
    mm = float((whole + Fraction(over, under)) * Fraction(127, 5))
    for text in (f"{whole} {over}/{under}", f"{whole}-{over}/{under}", f"{whole * under + over}/{under}"):
        assert parse_length(text, "in") == parse_length(f'{text}"', "mm") == mm


@given(st.integers(-180 * 3600, 180 * 3600))
def test_degrees_minutes_and_seconds_add_up(seconds: int) -> None:
    sign, size = ("-" if seconds < 0 else ""), abs(seconds)
    text = f"{sign}{size // 3600}°{size // 60 % 60}′{size % 60}″"
    assert parse_angle(text) == pytest.approx(math.radians(seconds / 3600), rel=1e-15, abs=0)


@given(st.floats(-math.pi, math.pi))
def test_an_angle_survives_being_written_and_read(radians: float) -> None:
    assert parse_angle(format_angle(radians, 9)) == pytest.approx(radians, abs=0.51e-9 * DEGREE)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("3", 3),
        ("-3", -3),
        ("3 deg", 3),
        ("3°", 3),
        ("3,5°", 3.5),
        ("30'", 0.5),
        ("1° 30′", 1.5),
        ("-1°30'", -1.5),
        ("1 deg 30 min 36 sec", 1.51),
        ("1°29′30.0″", 1.4916666666666667),
        ("0", 0),
    ],
)
def test_clear_angles(text: str, degrees: float) -> None:
    assert parse_angle(text) == pytest.approx(math.radians(degrees), rel=1e-15)


def test_radians_are_taken_as_they_are() -> None:
    assert parse_angle("0.5 rad") == 0.5


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no number"),
        ("nan", "not an angle"),
        ("1:10", "not an angle"),
        ("1/2°", "not an angle"),
        ('1°27"', "not an angle"),
        ("30' 1°", "not an angle"),
        ("1 rad 2°", "not an angle"),
        ("1° 2", "not an angle"),
        ("1.5°30'", "only the last part"),
        ("1°60'", "make up a whole one"),
        ("1°59'60\"", "make up a whole one"),
        ("1,234°", "decimals or thousands"),
        ("-0°", "negative zero"),
        ("-0", "negative zero"),
    ],
)
def test_doubtful_angles_are_refused(text: str, says: str) -> None:
    with pytest.raises(JobFaults) as caught:
        parse_angle(text, "tool[0].edge_angle")
    (fault,) = caught.value.faults
    assert (fault.where, fault.value) == ("tool[0].edge_angle", text)
    assert says in fault.says
    assert fault.remedy


def test_figures_never_show_a_negative_zero() -> None:
    assert format_figure(-0.0, "mm", 2) == format_figure(-0.004, "mm", 2) == "0.00"
    assert format_length(-0.001, "in", 2) == "0.00 in"
    assert format_angle(-1e-9, 2) == "0.00°"


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e9, max_value=1e9))
def test_numbers_convert_there_and_back(value: float) -> None:
    assert to_mm(value, "mm") == from_mm(value, "mm") == value
    assert from_mm(to_mm(value, "in"), "in") == pytest.approx(value, rel=1e-15)


def test_an_inch_is_exact() -> None:
    assert INCH == to_mm(1, "in") == parse_length("1 in", "mm") == 25.4


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_has_no_size(value: float) -> None:
    for call in (
        lambda: to_mm(value, "mm"),
        lambda: from_mm(value, "in"),
        lambda: format_length(value, "mm", 2),
        lambda: format_angle(value, 2),
    ):
        with pytest.raises(ValueError, match=f"value = {value!r}: only a finite number"):
            call()


def test_callers_mistakes_are_named() -> None:
    with pytest.raises(ValueError, match="unit = 'cm': only 'mm' and 'in'"):
        parse_length("3", "cm")  # type: ignore[arg-type]
    for decimals in (-1, 13):
        with pytest.raises(ValueError, match=f"decimals = {decimals}: from 0 to 12"):
            format_figure(1.0, "mm", decimals)
