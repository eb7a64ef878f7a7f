"""What the pages offer to choose from: the forms with their fields, the materials, the figures of a pace."""

from __future__ import annotations

from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from ovolo.cutting.materials import material_names
from ovolo.part.forms.document import FIELDS
from ovolo.part.forms.fields import FormFields
from ovolo.shop.pace import Pace

__all__ = ["FORMS", "MATERIALS", "PACES"]

STARTS: dict[str, dict[str, Any]] = {
    "face": {"diameter": 10},
    "cylinder": {"length": 10},
    "taper": {"to_diameter": 14, "length": 10},
    "dome": {"diameter": 18, "height": 9},
    "ellipse": {"length": 8, "to_diameter": 18},
    "ball": {"diameter": 20, "neck": 10},
    "bell mouth": {"diameter": 12, "radius": 3},
    "bead": {"length": 8, "height": 2},
    "cove": {"length": 8, "depth": 2},
    "crown": {"length": 20, "rise": 0.5},
    "ogee": {"to_diameter": 18, "length": 10},
    "handle": {"through": [[0, 12], [20, 18], [45, 14]]},
    "fillet": {"radius": 2},
    "end radius": {"radius": 3},
    "chamfer": {"width": 1},
    "undercut": {"kind": "E"},
    "ball knob": {"diameter": 20},
    "centre hole R": {"pilot": 2.5},
    "Morse taper": {"number": 2},
}
"""Sizes to start from, mm; a person types his own over them."""


def _choices(annotation: Any) -> list[str] | None:
    """The words that a field takes, where it takes words."""
    if get_origin(annotation) is Literal:
        return [str(word) for word in get_args(annotation)]
    if get_origin(annotation) in (Union, UnionType):
        found = [words for inner in get_args(annotation) if (words := _choices(inner))]
        return found[0] if found else None
    return None


def _form(name: str, model: type[FormFields]) -> dict[str, Any]:
    fields = [
        {"name": field, "choices": _choices(info.annotation), "needed": info.is_required()}
        for field, info in model.model_fields.items()
        if field != "form"
    ]
    says = " ".join((model.__doc__ or "").split())
    return {"form": name, "says": says, "fields": fields, "start": {"form": name, **STARTS.get(name, {})}}


FORMS: list[dict[str, Any]] = [_form(name, model) for name, model in FIELDS.items()]
MATERIALS: list[str] = list(material_names())

PACES: list[tuple[str, str, str, str]] = [
    ("A turn of a handwheel, s", "turn", f"{Pace.turn:g}", "To wind it once without cutting."),
    ("A figure, s", "setting", f"{Pace.setting:g}", "To bring a slide to it and read it."),
    ("A lock, s", "lock", f"{Pace.lock:g}", "To lock a slide, or to free it."),
    ("A change of tool, s", "tool_change", f"{Pace.tool_change:g}", "With finding its figures again."),
    ("A measurement, s", "measuring", f"{Pace.measuring:g}", "To stop, measure and start again."),
    ("Filed in a minute, mm³", "filing_mm3", f"{Pace.filing:g}", "Metal, in mm³ in an inch job too."),
]
"""Each figure of a pace: its label, its field, what it is if left out, and what it means."""
