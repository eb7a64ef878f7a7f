"""Every form that is offered can be drawn from what it starts with."""

from typing import Any

import pytest

from ovolo.app.catalogue import FORMS, MATERIALS, PACES
from ovolo.documents.job_model import PaceTable
from ovolo.part.forms.document import outline_from_forms

BEFORE: dict[str, list[dict[str, Any]]] = {
    "bead": [{"form": "cylinder", "diameter": 20, "length": 5}],
    "cove": [{"form": "cylinder", "diameter": 20, "length": 5}],
    "cylinder": [{"form": "face", "diameter": 10}], "taper": [{"form": "cylinder", "diameter": 12, "length": 5}],
    "crown": [{"form": "cylinder", "diameter": 40, "length": 5}], "ellipse": [{"form": "face", "diameter": 2}],
    "ogee": [{"form": "cylinder", "diameter": 12, "length": 5}], "handle": [{"form": "face", "diameter": 12}],
    "fillet": [{"form": "cylinder", "diameter": 10, "length": 8}],
    "undercut": [{"form": "cylinder", "diameter": 20, "length": 8}],
    "Morse taper": [],
}  # fmt: skip
AFTER: dict[str, list[dict[str, Any]]] = {
    "fillet": [{"form": "face", "diameter": 20}, {"form": "cylinder", "length": 5}],
    "end radius": [{"form": "cylinder", "diameter": 20, "length": 8}],
    "chamfer": [{"form": "cylinder", "diameter": 20, "length": 8}],
    "undercut": [{"form": "face", "diameter": 30}, {"form": "cylinder", "length": 5}],
}
BORES = ("bell mouth", "centre hole R")


@pytest.mark.parametrize("form", FORMS, ids=lambda form: str(form["form"]))
def test_a_form_starts_as_something_that_can_be_drawn(form: dict[str, Any]) -> None:
    name = form["form"]
    chain = [*BEFORE.get(name, []), form["start"], *AFTER.get(name, [])]
    assert outline_from_forms(chain, 1.0, "bore" if name in BORES else "outside").length > 0


def test_fields_with_choices_name_them() -> None:
    undercut = next(form for form in FORMS if form["form"] == "undercut")
    kinds = {field["name"]: field["choices"] for field in undercut["fields"]}
    assert kinds["kind"] == ["E", "F"]
    assert kinds["load"] == ["normal", "fatigue"]
    assert "mild steel" in MATERIALS


def test_every_figure_of_a_pace_is_offered_with_what_it_is_if_left_out() -> None:
    offered = {name: usual for _, name, usual, _ in PACES}
    assert offered == {name: f"{field.default:g}" for name, field in PaceTable.model_fields.items()}
