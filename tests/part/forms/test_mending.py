"""Forms put in, moved and taken out: what no longer fits its neighbour follows it, and the outline stays whole."""

from typing import Any

import pytest

from ovolo.part.forms import chain_from_forms
from ovolo.part.forms.mending import diameters, fitted, mended

Form = dict[str, Any]
BALL: list[Form] = [
    {"form": "ball", "diameter": 25, "neck": 12},
    {"form": "fillet", "radius": 3},
    {"form": "cylinder", "length": 10},
]
SHOULDER: list[Form] = [
    {"form": "cylinder", "diameter": 16, "length": 20},
    {"form": "fillet", "radius": 4},
    {"form": "face", "diameter": 26},
    {"form": "cylinder", "length": 8},
]


def test_a_corner_has_no_ends_of_its_own() -> None:
    assert diameters(BALL, 1.0, "outside") == [(0.0, 12.0), None, (12.0, 12.0)]
    assert diameters([{"form": "cylinder", "length": 5}], 1.0, "outside") == [None]


def test_what_comes_first_now_keeps_the_diameter_that_it_had() -> None:
    assert mended(BALL[1:], 1.0, "outside", {1: 12.0}) == [{"form": "cylinder", "length": 10, "diameter": 12.0}]


def test_a_corner_that_nothing_follows_goes() -> None:
    assert mended([BALL[0], BALL[1]], 1.0, "outside") == [BALL[0]]


def test_a_diameter_that_disagrees_with_a_new_neighbour_goes() -> None:
    two = [{"form": "cylinder", "diameter": 12, "length": 5}, {"form": "cylinder", "diameter": 18, "length": 5}]
    assert mended(two, 1.0, "outside") == [two[0], {"form": "cylinder", "length": 5}]


def test_what_can_be_drawn_stays_as_it_is() -> None:
    for forms in (BALL, SHOULDER):
        assert mended(forms, 1.0, "outside") == forms


def test_an_end_in_front_of_its_start_becomes_a_length() -> None:
    forms = [{"form": "cylinder", "diameter": 18, "length": 30}, {"form": "cylinder", "to": -24}]
    assert mended(forms, 1.0, "outside")[1] == {"form": "cylinder", "length": 10}


def test_a_new_form_is_no_wider_than_the_bar() -> None:
    taper = {"form": "taper", "to_diameter": 14, "length": 10}
    assert fitted(taper, 18.0, None, 20.0)["to_diameter"] == 20
    assert fitted(taper, 20.0, None, 20.0)["to_diameter"] == 16


def test_a_form_of_a_fixed_size_gets_a_step_to_it() -> None:
    forms = [{"form": "cylinder", "diameter": 25, "length": 10}, {"form": "Morse taper", "number": 2}]
    assert [form["form"] for form in mended(forms, 1.0, "outside")] == ["cylinder", "face", "Morse taper"]


@pytest.mark.parametrize("name", ["cylinder", "taper", "ellipse", "bead", "cove", "crown", "ogee", "face", "ball"])
@pytest.mark.parametrize("at", range(1, 5))
def test_a_form_put_in_anywhere_behind_the_first_can_be_drawn(name: str, at: int) -> None:
    sizes: dict[str, Form] = {
        "cylinder": {"length": 10},
        "taper": {"to_diameter": 14, "length": 10},
        "ellipse": {"length": 8, "to_diameter": 18},
        "bead": {"length": 8, "height": 2},
        "cove": {"length": 8, "depth": 2},
        "crown": {"length": 20, "rise": 0.5},
        "ogee": {"to_diameter": 18, "length": 10},
        "face": {"diameter": 10},
        "ball": {"diameter": 20, "neck": 10},
    }
    ends = diameters(SHOULDER, 1.0, "outside")
    before = next((d[1] for d in reversed(ends[:at]) if d), None)
    after = next((d[0] for d in ends[at:] if d), None)
    forms = [*SHOULDER[:at], fitted({"form": name, **sizes[name]}, before, after), *SHOULDER[at:]]
    assert chain_from_forms(mended(forms, 1.0, "outside"), 1.0).segments
