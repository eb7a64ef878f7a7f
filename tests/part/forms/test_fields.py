"""The fields of forms: read to millimetres and radians, strict."""

import math

import pytest
from pydantic import TypeAdapter, ValidationError

from ovolo.errors import JobFaults
from ovolo.part.forms.document import FIELDS, read_form
from ovolo.part.forms.fields import AnyForm
from ovolo.units import INCH


def test_lengths_are_read_in_the_jobs_unit_or_their_own() -> None:
    form = read_form({"form": "dome", "diameter": "5/16 in", "height": 0.1})
    assert form.in_mm(INCH) == pytest.approx({"diameter": 7.9375, "height": 2.54})


def test_angles_are_read_in_degrees_and_ratios_as_they_are() -> None:
    form = read_form({"form": "taper", "half_angle": 3, "length": "2 in"})
    assert form.in_mm(1.0) == {"half_angle": pytest.approx(math.radians(3)), "length": 50.8, "way": "growing"}
    assert read_form({"form": "taper", "ratio": 20, "length": 1}).in_mm(INCH)["ratio"] == 20


def test_rows_of_a_handle_are_lengths() -> None:
    form = read_form({"form": "handle", "through": [[0, 1], ["1 in", 2]]})
    assert form.in_mm(INCH)["through"] == [[0, 25.4], [25.4, 50.8]]


@pytest.mark.parametrize("bad", [True, None, math.nan, math.inf, [3], {"d": 3}])
def test_what_is_no_length_is_refused(bad: object) -> None:
    with pytest.raises(JobFaults):
        read_form({"form": "face", "diameter": bad})


def test_a_text_that_is_no_length_is_refused_when_read() -> None:
    with pytest.raises(JobFaults) as refused:
        read_form({"form": "dome", "diameter": "5/16-", "height": "1,234"}).in_mm(1.0)
    assert [f.where for f in refused.value.faults] == ["diameter", "height"]


def test_the_union_tells_forms_by_their_name() -> None:
    adapter: TypeAdapter[object] = TypeAdapter(AnyForm)
    assert type(adapter.validate_python({"form": "ball", "diameter": 25, "neck": 12})) is FIELDS["ball"]
    with pytest.raises(ValidationError):
        adapter.validate_python({"form": "ball", "diameter": 25, "neck": 12, "colour": "red"})
    assert len(adapter.json_schema()["oneOf"]) == len(FIELDS)


@pytest.mark.parametrize("value", [1e300, 4e-320, -2e4, "1200 cm"])
def test_a_length_past_every_lathe_is_refused(value: object) -> None:
    with pytest.raises(JobFaults, match="no turned part has such a length"):
        read_form({"form": "dome", "diameter": value}).in_mm(1.0)
