"""The fields of each form in a job's `[[part.form]]`, validated as data: the edge between a document and the forms.

Lengths are numbers in the job's unit, or text with a unit ("5/16 in"); angles are numbers of degrees, or text.
"""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, StrictFloat, StrictInt, StrictStr

from ovolo.errors import Fault, JobFaults
from ovolo.units import DEGREE, INCH, parse_angle, parse_length


class Measure:
    """Marks a field as a length, an angle or a bare number, so that `in_mm` knows how to read it."""

    def __init__(self, kind: Literal["length", "angle", "number"]) -> None:
        self.kind: Literal["length", "angle", "number"] = kind


def _finite(value: float | str) -> float | str:
    if not isinstance(value, str) and not math.isfinite(value):
        raise ValueError("is not a finite number")
    return value


_Written = Annotated[StrictFloat | StrictInt | StrictStr, AfterValidator(_finite)]
Length = Annotated[_Written, Measure("length")]
Angle = Annotated[_Written, Measure("angle")]
Number = Annotated[StrictFloat | StrictInt, AfterValidator(_finite), Measure("number")]


class FormFields(BaseModel):
    """What all forms share: a name, and no field that is not known."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    form: str

    def in_mm(self, unit: float) -> dict[str, Any]:
        """The given fields as the form's function takes them: mm and radians. `unit`: mm in one unit of the job.

        Raises JobFaults, one fault a field, where a text is no length or angle.
        """
        faults: list[Fault] = []
        values: dict[str, Any] = {}
        for name, info in type(self).model_fields.items():
            value = getattr(self, name)
            if name == "form" or value is None:
                continue
            marks = [m for m in info.metadata if isinstance(m, Measure)] or _marks_inside(info.annotation)
            try:
                values[name] = _read(value, marks[0].kind if marks else "number", unit, name)
            except JobFaults as wrong:
                faults.extend(wrong.faults)
        if faults:
            raise JobFaults(faults)
        return values


def _marks_inside(annotation: Any) -> list[Measure]:
    """The marks of a field's type that hides them in an optional type or a list."""
    found = [m for m in getattr(annotation, "__metadata__", ()) if isinstance(m, Measure)]
    for inner in getattr(annotation, "__args__", ()):
        found.extend(_marks_inside(inner))
    return found


def _read(value: Any, kind: str, unit: float, where: str) -> Any:
    if isinstance(value, list | tuple):
        return [_read(item, kind, unit, f"{where}[{i}]") for i, item in enumerate(value)]
    if kind == "length":
        name: Literal["mm", "in"] = "in" if unit == INCH else "mm"
        return _within(parse_length(value, name, where) if isinstance(value, str) else value * unit, value, kind, where)
    if kind == "angle":
        return _within(parse_angle(value, where) if isinstance(value, str) else value * DEGREE, value, kind, where)
    return _within(value, value, kind, where) if isinstance(value, int | float) else value


_BOUNDS = {
    "length": (1e-4, 10_000.0, "0.0001 mm to 10 m, or 0"),
    "angle": (1e-6, math.tau, "0.0001° to 360°, or 0"),
    "number": (1e-6, 1e6, "0.000001 to 1000000, or 0"),
}
"""What a measure of a turned part may be, in mm, rad, or bare, sign aside: past it arithmetic has nothing to say."""


def _within(value: float, written: object, kind: str, where: str) -> float:
    least, most, limit = _BOUNDS[kind]
    if value != 0 and not least <= abs(value) <= most:
        raise JobFaults([Fault(where, written, limit, f"no turned part has such a {kind}", "Check the figure")])
    return value


class FaceForm(FormFields):
    """A flat square to the axis, to a diameter."""

    form: Literal["face"]
    diameter: Length


class CylinderForm(FormFields):
    """A cylinder, along the axis."""

    form: Literal["cylinder"]
    diameter: Length | None = None
    length: Length | None = None
    to: Length | None = None


class TaperForm(FormFields):
    """A taper, by two of its far diameter, its length and its slope."""

    form: Literal["taper"]
    diameter: Length | None = None
    to_diameter: Length | None = None
    length: Length | None = None
    to: Length | None = None
    half_angle: Angle | None = None
    angle: Angle | None = None
    ratio: Number | None = None
    per_foot: Number | None = None
    way: Literal["growing", "shrinking"] = "growing"


class DomeForm(FormFields):
    """A domed end, whole or flatter."""

    form: Literal["dome"]
    diameter: Length | None = None
    radius: Length | None = None
    height: Length | None = None


class EllipseForm(FormFields):
    """A quarter of an ellipse."""

    form: Literal["ellipse"]
    length: Length
    to_diameter: Length
    diameter: Length | None = None
    tolerance: Length | None = None


class BallForm(FormFields):
    """A ball on a neck."""

    form: Literal["ball"]
    diameter: Length
    neck: Length
    start: Length | None = None


class BellMouthForm(FormFields):
    """The mouth of a bore, round or elliptical."""

    form: Literal["bell mouth"]
    diameter: Length
    radius: Length | None = None
    length: Length | None = None
    mouth: Length | None = None
    tolerance: Length | None = None


class BeadForm(FormFields):
    """One convex arc over a length."""

    form: Literal["bead"]
    length: Length | None = None
    to: Length | None = None
    diameter: Length | None = None
    to_diameter: Length | None = None
    radius: Length | None = None
    height: Length | None = None


class CoveForm(FormFields):
    """One concave arc over a length."""

    form: Literal["cove"]
    length: Length | None = None
    to: Length | None = None
    diameter: Length | None = None
    to_diameter: Length | None = None
    radius: Length | None = None
    depth: Length | None = None


class CrownForm(FormFields):
    """The crown of a pulley."""

    form: Literal["crown"]
    length: Length | None = None
    to: Length | None = None
    diameter: Length | None = None
    rise: Length | None = None
    radius: Length | None = None


class OgeeForm(FormFields):
    """A hollow and a round arc, tangent where they meet."""

    form: Literal["ogee"]
    to_diameter: Length
    length: Length | None = None
    to: Length | None = None
    diameter: Length | None = None
    ends: Literal["along", "across"] = "along"
    share: Number = 0.5


class HandleForm(FormFields):
    """A smooth handle through given diameters."""

    form: Literal["handle"]
    through: Annotated[tuple[tuple[Length, Length], ...], Field(max_length=200)]
    tolerance: Length | None = None


class FilletForm(FormFields):
    """A hollow corner rounded."""

    form: Literal["fillet"]
    radius: Length


class EndRadiusForm(FormFields):
    """A standing corner rounded."""

    form: Literal["end radius"]
    radius: Length


class ChamferForm(FormFields):
    """A standing corner broken."""

    form: Literal["chamfer"]
    width: Length
    angle: Angle | None = None


class UndercutForm(FormFields):
    """An undercut to DIN 509, by its own sizes or, without them, by the diameter of the shaft."""

    form: Literal["undercut"]
    kind: Literal["E", "F"]
    load: Literal["normal", "fatigue"] | None = None
    radius: Length | None = None
    depth: Length | None = None
    width: Length | None = None
    face_depth: Length | None = None


class BallKnobForm(FormFields):
    """A ball knob to DIN 319, by its diameter."""

    form: Literal["ball knob"]
    diameter: Length


class CentreHoleForm(FormFields):
    """A centre hole of form R to DIN 332-1, by the diameter of its pilot."""

    form: Literal["centre hole R"]
    pilot: Length


class MorseForm(FormFields):
    """A Morse taper, by its number."""

    form: Literal["Morse taper"]
    number: Annotated[StrictInt, Field(ge=0, le=6), Measure("number")]


AnyForm = Annotated[
    FaceForm
    | CylinderForm
    | TaperForm
    | DomeForm
    | EllipseForm
    | BallForm
    | BellMouthForm
    | BeadForm
    | CoveForm
    | CrownForm
    | OgeeForm
    | HandleForm
    | FilletForm
    | EndRadiusForm
    | ChamferForm
    | UndercutForm
    | BallKnobForm
    | CentreHoleForm
    | MorseForm,
    Field(discriminator="form"),
]
"""One form of a job, by its name."""
