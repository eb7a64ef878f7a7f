"""From validation to faults: place, value, limit, remedy, in our words."""

import pytest
from tests.documents.jobs import NOTHING, faults, only_fault, pin

from ovolo.documents.faults import nearest, place, value_at


def test_all_faults_of_a_document_are_reported_at_once() -> None:
    data = pin({"titel": "x", "title": NOTHING, "stock.diameter": -1, "tool.0.kind": "ruond", "units": "cm"})
    assert {fault.where for fault in faults(data)} == {"titel", "title", "stock.diameter", "tool[0].kind", "units"}


@pytest.mark.parametrize(
    ("changes", "where", "remedy"),
    [
        ({"titel": "x"}, "titel", "Did you mean title?"),
        ({"tool.0.nose_raduis": 3}, "tool[0].nose_raduis", "Did you mean nose_radius?"),
        ({"part.outline.1.convx": 9}, "part.outline[1].convx", "Did you mean convex?"),
        ({"slide.cros": {}}, "slide.cros", "Did you mean cross?"),
        ({"slide.saddle.devisions": 9}, "slide.saddle.devisions", "Did you mean divisions?"),
        ({"stock.colour": "red"}, "stock.colour", "Leave it out"),
    ],
)
def test_an_unknown_field_names_the_nearest_known_one(changes: dict[str, object], where: str, remedy: str) -> None:
    fault = only_fault(changes)
    assert (fault.where, fault.remedy) == (where, remedy)
    assert fault.says == "there is no such field"
    assert fault.limit


@pytest.mark.parametrize(
    ("place_", "where", "remedy"),
    [
        ("title", "title", 'Add title = "Bridge pin" (what the part is called)'),
        ("stock", "stock", "Add [stock]"),
        ("tool.0.nose_radius", "tool[0].nose_radius", "Add nose_radius = 0.4 (radius of its nose)"),
    ],
)
def test_a_missing_field_is_shown_by_example(place_: str, where: str, remedy: str) -> None:
    fault = only_fault({place_: NOTHING})
    assert (fault.where, fault.says, fault.remedy) == (where, "it is missing", remedy)


@pytest.mark.parametrize(
    ("changes", "where", "limit", "remedy"),
    [
        ({"units": "cm"}, "units", '"mm" or "in"', "Write one of those allowed"),
        ({"tool.0.kind": "ruond"}, "tool[0].kind", '"pointed", "round", "grooving" or "form"', 'Write "round"'),
        ({"version": 2}, "version", "1", "Write one of those allowed"),
        ({"tool": {"name": "a"}}, "tool", "a list", "Write [[tool]], with two brackets"),
        ({"stock": 20}, "stock", "a table", "Write it as a table, [stock]"),
        ({"slide.cross": {"lock": "yes"}}, "slide.cross.lock", "true or false", "Write true or false, without quotes"),
        (
            {"slide.cross": {"divisions": 12.5, "per_turn": 2}},
            "slide.cross.divisions",
            "a whole number",
            "Write a whole number, without quotes",
        ),
        ({"part.curve": [0]}, "part.curve", "at least 2", "Add what is missing"),
        ({"part.curve": [0, -1, -2]}, "part.curve", "at most 2", "Leave out what is too many"),
        ({"tool": []}, "tool", "at least 1", "Add what is missing"),
    ],
)
def test_the_wrong_kind_is_said_with_the_right_one(
    changes: dict[str, object], where: str, limit: str, remedy: str
) -> None:
    fault = only_fault(changes)
    assert (fault.where, fault.limit, fault.remedy) == (where, limit, remedy)


def test_a_field_nobody_would_write_is_quoted_and_cut_short() -> None:
    (fault,) = faults(pin({"\x1b[31m" + "x" * 100: 1}))
    assert fault.where.isprintable()
    assert len(fault.where) < 60


def test_places_and_values_are_found_and_missing_ones_are_nothing() -> None:
    data = pin()
    assert place(("tool", 0, "name")) == "tool[0].name"
    assert value_at(data, ("part", "outline", 1, "convex")) == 9
    assert value_at(data, ("part", "outline", 9, "convex")) is None
    assert value_at(data, ("title", "inside")) is None
    assert nearest("NAME", ["name"]) == "name"
