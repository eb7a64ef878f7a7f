"""From the forms of a job, as data, to its outline."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any, get_args

from pydantic import ValidationError

from ovolo.errors import Fault, FaultsFound, JobFaults
from ovolo.geometry.outline import Outline
from ovolo.part.forms import corners, curves, ends, standard, straight
from ovolo.part.forms.chain import Chain, CornerFaults
from ovolo.part.forms.fields import AnyForm, FormFields
from ovolo.part.part import Surface

#: More forms than this are no drawing that a person has made.
MOST_FORMS = 500

_DRAW: dict[str, Callable[..., Chain]] = {
    "face": straight.face,
    "cylinder": straight.cylinder,
    "taper": straight.taper,
    "dome": ends.dome,
    "ellipse": ends.ellipse,
    "ball": ends.ball,
    "bell mouth": ends.bell_mouth,
    "bead": curves.bead,
    "cove": curves.cove,
    "crown": curves.crown,
    "ogee": curves.ogee,
    "handle": curves.handle,
    "fillet": corners.fillet,
    "end radius": corners.end_radius,
    "chamfer": corners.chamfer,
    "undercut": standard.standard_undercut,
    "ball knob": standard.ball_knob,
    "centre hole R": standard.centre_hole_r,
    "Morse taper": standard.morse_taper,
}

FIELDS: dict[str, type[FormFields]] = {
    get_args(model.model_fields["form"].annotation)[0]: model for model in get_args(get_args(AnyForm)[0])
}
"""The fields of each form by its name, in the order of the manual."""


def outline_from_forms(forms: Sequence[Mapping[str, Any]], unit: float, surface: Surface = "outside") -> Outline:
    """The outline that the forms of a job draw, mm, from the free end toward the chuck.

    forms: each with `form`, its name, and its fields; lengths in the job's unit, or text. unit: mm in one of it.
    Raises JobFaults, each at `part.form[i].field`: all faults of the fields in one go, or the first form that does
    not fit its neighbours.

    >>> pin = outline_from_forms([{"form": "dome", "diameter": "18 mm"}, {"form": "cylinder", "to": -24}], 1.0)
    >>> pin.end
    Point(x=-24.0, y=9.0)
    """
    return chain_from_forms(forms, unit, surface).outline()


def chain_from_forms(forms: Sequence[Mapping[str, Any]], unit: float, surface: Surface = "outside") -> Chain:
    """As `outline_from_forms`, but the chain: its `deviation` is how far arcs stray from ellipses and handles, mm.

    Raises JobFaults with everything that is wrong with the forms.
    """
    if not 1 <= len(forms) <= MOST_FORMS:
        says, remedy = "that many forms make no part", "Draw it with forms, such as a dome and a cylinder"
        raise JobFaults([Fault("part.form", len(forms), f"1 to {MOST_FORMS}", says, remedy)])
    faults: list[Fault] = []
    ready: list[tuple[str, dict[str, Any]]] = []
    for i, given in enumerate(forms):
        try:
            fields = read_form(given)
            ready.append((fields.form, fields.in_mm(unit)))
        except JobFaults as wrong:
            faults.extend(_placed(f, i) for f in wrong.faults)
    if faults:
        raise JobFaults(faults)
    chain = Chain(surface)
    for i, (name, values) in enumerate(ready):
        try:
            chain = _DRAW[name](chain, **values)
        except CornerFaults as wrong:
            raise JobFaults(_placed(f, i - 1) for f in wrong.faults) from None
        except FaultsFound as wrong:
            raise JobFaults(_placed(f, i) for f in wrong.faults) from None
    if not chain.segments and chain.corner is None:
        says = "what these forms draw is too small to be turned"
        raise JobFaults([Fault("part.form", None, "", says, "Check the figures")])
    if chain.corner is not None:
        says = "it works on the corner to the next form, and none follows"
        raise JobFaults([Fault(f"part.form[{len(forms) - 1}]", ready[-1][0], "", says, "Add the next form")])
    return chain


def read_form(given: Mapping[str, Any]) -> FormFields:
    """One form as its fields, checked. Raises JobFaults, one fault a field, `where` the field's name."""
    name = given.get("form")
    model = FIELDS.get(name) if isinstance(name, str) else None
    if model is None:
        near = get_close_matches(str(name), FIELDS, 1)
        remedy = f"Write {near[0]!r}" if near else "Write the name of a form"
        raise JobFaults([Fault("form", name, ", ".join(FIELDS), "it is not the name of a form", remedy)])
    try:
        return model.model_validate(dict(given))
    except ValidationError as wrong:
        raise JobFaults(_faults_of(wrong, model)) from None


def _faults_of(wrong: ValidationError, model: type[FormFields]) -> list[Fault]:
    """Pydantic's findings in our words, one a field."""
    found: dict[str, Fault] = {}
    for error in wrong.errors():
        path = [p for p in error["loc"] if isinstance(p, int) or (isinstance(p, str) and p.isidentifier())]
        names = [p for p in path if not (isinstance(p, str) and p in ("float", "int", "str"))]
        where = "".join(f"[{p}]" if isinstance(p, int) else f".{p}" for p in names).lstrip(".")
        if where not in found:
            found[where] = _fault_of(where, str(error["type"]), error.get("input"), error.get("ctx", {}), model)
    return list(found.values())


def _fault_of(where: str, kind: str, value: object, context: Mapping[str, Any], model: type[FormFields]) -> Fault:
    if kind == "extra_forbidden":
        known = [name for name in model.model_fields if name != "form"]
        near = get_close_matches(where, known, 1)
        remedy = f"Write {near[0]}" if near else "Leave it out"
        return Fault(where, value, ", ".join(known), "this form has no such field", remedy)
    if kind == "missing":
        return Fault(where, None, "", "it is missing", "Write it")
    if kind == "literal_error":
        return Fault(
            where, value, str(context.get("expected", "")), "it is not one of those known", "Write one of those"
        )
    return Fault(where, value, "", "it is not a finite number, nor a text with a unit", 'Write 18 or "18 mm"')


def _placed(fault: Fault, i: int) -> Fault:
    where = f"part.form[{i}].{fault.where}" if fault.where else f"part.form[{i}]"
    return Fault(where, fault.value, fault.limit, fault.says, fault.remedy)
