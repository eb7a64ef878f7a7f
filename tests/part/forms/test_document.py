"""From `[[part.form]]` to an outline: every form by its name, every fault at its field."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.errors import JobFaults
from ovolo.part.forms import chain_from_forms, outline_from_forms
from ovolo.part.forms.document import FIELDS

CYLINDER = {"form": "cylinder", "diameter": 20, "length": 30}
EVERY: dict[str, list[dict[str, object]]] = {
    "face": [CYLINDER, {"form": "face", "diameter": 30}],
    "cylinder": [CYLINDER],
    "taper": [{"form": "taper", "diameter": 20, "ratio": 10, "length": 20}],
    "dome": [{"form": "dome", "diameter": 18}],
    "ellipse": [{"form": "ellipse", "length": 12, "to_diameter": 18}],
    "ball": [{"form": "ball", "diameter": 25, "neck": 12}],
    "bell mouth": [{"form": "bell mouth", "diameter": 20, "radius": 4}],
    "bead": [{"form": "bead", "diameter": 20, "length": 6}],
    "cove": [{"form": "cove", "diameter": 20, "length": 6}],
    "crown": [{"form": "crown", "diameter": 80, "length": 40, "rise": 1}],
    "ogee": [{"form": "ogee", "diameter": 20, "to_diameter": 30, "length": 15}],
    "handle": [{"form": "handle", "through": [[0, 12], [20, 18], [60, 14]]}],
    "fillet": [CYLINDER, {"form": "fillet", "radius": 3}, {"form": "face", "diameter": 30}],
    "end radius": [{"form": "end radius", "radius": 3}, CYLINDER],
    "chamfer": [{"form": "chamfer", "width": 1, "angle": 30}, CYLINDER],
    "undercut": [CYLINDER, {"form": "undercut", "kind": "F"}, {"form": "face", "diameter": 30}],
    "ball knob": [{"form": "ball knob", "diameter": 25}],
    "centre hole R": [{"form": "centre hole R", "pilot": 2.5}],
    "Morse taper": [{"form": "Morse taper", "number": 2}],
}


def test_every_form_has_an_example_here() -> None:
    assert set(EVERY) == set(FIELDS)


# Published sizes are in mm by their standards.
IN_INCHES = [(name, 25.4) for name in EVERY if name not in ("centre hole R", "ball knob")]


@pytest.mark.parametrize(("name", "unit"), [(name, 1.0) for name in EVERY] + IN_INCHES)
def test_every_form_draws_a_chain_that_hangs_together(name: str, unit: float) -> None:
    surface = "bore" if name == "centre hole R" else "outside"
    outline = outline_from_forms(EVERY[name], unit, surface)  # type: ignore[arg-type]
    assert all(math.dist(a.end, b.start) < 1e-9 for a, b in pairwise(outline.segments))
    assert outline.bounds()[1] >= -1e-9
    assert outline.start.x == 0


def test_a_job_in_inches_draws_the_same_as_one_in_mm() -> None:
    one = outline_from_forms([{"form": "dome", "diameter": 1}, {"form": "cylinder", "length": "10 mm"}], 25.4)
    other = outline_from_forms([{"form": "dome", "diameter": "1 in"}, {"form": "cylinder", "length": 10}], 1.0)
    assert one == other


def test_faults_of_fields_come_all_at_once_each_at_its_place() -> None:
    forms: list[dict[str, object]] = [
        {"form": "dome", "diamter": 18},
        {"form": "cylindre", "length": 3},
        {"form": "cylinder", "length": math.nan},
        {"form": "taper", "length": "3 m", "way": "up"},
        {"length": 3},
    ]
    with pytest.raises(JobFaults) as refused:
        outline_from_forms(forms, 1.0)
    places = [f.where for f in refused.value.faults]
    assert places == [
        "part.form[0].diamter",
        "part.form[1].form",
        "part.form[2].length",
        "part.form[3].way",
        "part.form[4].form",
    ]
    assert "diameter" in refused.value.faults[0].remedy
    assert "cylinder" in refused.value.faults[1].remedy


@pytest.mark.parametrize(
    ("forms", "where"),
    [
        ([CYLINDER, {"form": "cylinder", "diameter": 22, "length": 5}], "part.form[1].diameter"),
        ([CYLINDER, {"form": "fillet", "radius": 50}, {"form": "face", "diameter": 30}], "part.form[1].radius"),
        ([CYLINDER, {"form": "fillet", "radius": 5}], "part.form[1]"),
        ([CYLINDER, {"form": "ball knob", "diameter": 21}], "part.form[1].diameter"),
        ([], "part.form"),
    ],
)
def test_a_form_that_does_not_fit_is_named(forms: list[dict[str, object]], where: str) -> None:
    with pytest.raises(JobFaults) as refused:
        outline_from_forms(forms, 1.0)
    assert refused.value.faults[0].where == where


def test_how_far_arcs_stray_is_told() -> None:
    assert chain_from_forms(EVERY["fillet"], 1.0).deviation == 0
    assert 0 < chain_from_forms(EVERY["handle"], 1.0).deviation <= 0.01


_values = st.one_of(
    st.floats(),
    st.integers(-100, 100),
    st.text(max_size=6),
    st.booleans(),
    st.none(),
    st.lists(st.integers(), max_size=3),
)


@st.composite
def _any_form(draw: st.DrawFn) -> dict[str, object]:
    """A form by name, with some of its fields, their values often sensible and sometimes not."""
    name = draw(st.sampled_from(list(FIELDS)))
    fields = [f for f in FIELDS[name].model_fields if f != "form"]
    chosen = draw(st.lists(st.sampled_from(fields), unique=True, max_size=4))
    sensible = st.floats(0.1, 40) | st.sampled_from([6, 12, 20, 25])
    return {"form": name} | {f: draw(sensible if draw(st.integers(0, 5)) else _values) for f in chosen}


@given(st.lists(_any_form(), max_size=5), st.sampled_from([1.0, 25.4]), st.sampled_from(["outside", "bore"]))
def test_any_list_of_forms_gives_an_outline_or_faults(
    forms: list[dict[str, object]], unit: float, surface: str
) -> None:
    try:
        outline = outline_from_forms(forms, unit, surface)  # type: ignore[arg-type]
    except JobFaults as wrong:
        assert all(f.where.startswith("part.form") and f.says for f in wrong.faults)
        return
    assert all(math.isfinite(v) for p in outline.nodes for v in p)
    assert all(math.dist(a.end, b.start) < 1e-6 for a, b in pairwise(outline.segments))
    assert min(p.y for p in outline.nodes) >= -1e-6
