"""The outlook in words: few figures, the rest on request, nothing to more digits than it deserves."""

import re

import pytest
from tests.documents.jobs import pin

from ovolo.cutting.scatter import Errors
from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.outlook import forecast
from ovolo.show.words.outlook import OutlookView, about, outlook_view


def _plan(changes: dict[str, object] | None = None) -> Plan:
    return make_plan(job_from_data(pin({"part.material": "mild steel"} | (changes or {}))))


@pytest.fixture(scope="module")
def view() -> OutlookView:
    made = _plan()
    return outlook_view(made, forecast(made))


def test_the_few_figures_are_five_sentences(view: OutlookView) -> None:
    starts = ["Spindle for mild steel", "The heaviest cut, move", "With usual errors", "It takes about", "Filing until"]
    assert [sentence[: len(start)] for sentence, start in zip(view.few, starts, strict=True)] == starts


def test_whose_pace_it_is_is_said(view: OutlookView) -> None:
    mine = _plan({"pace.setting": 5})
    assert "by an unhurried hand" in view.few[3]
    assert "at your own pace" in outlook_view(mine, forecast(mine, runs=200)).few[3]


def test_finishing_along_the_axis_is_wound_with_the_top_slide_where_there_is_one() -> None:
    """Roughing still goes with the saddle."""
    made = _plan({"slide.top": {"travel": 60}, "limits.slides": ["saddle", "cross", "top"]})
    view = outlook_view(made, forecast(made, runs=200))
    text = " ".join([*view.few, *(line for group in view.groups for line in group.lines)])
    wound = re.findall(r"wind the cross slide .*? and the (top slide|saddle)", text)
    assert wound == ["saddle", "top slide"]


def test_forces_are_told_to_two_figures(view: OutlookView) -> None:
    (load,) = [sentence for sentence in view.few if "heaviest" in sentence]
    force = re.search(r"about (\d+) N", load)
    assert force
    assert force[1].endswith("0")


def test_there_are_five_groups(view: OutlookView) -> None:
    assert len(view.groups) == 5


def test_the_cautions_of_filing_come_first(view: OutlookView) -> None:
    blend = view.groups[-1].lines
    text = " ".join(blend)
    for word in ("handle", "left hand", "rag", "emery", "blue"):
        assert word in text
    assert text.index("eye protection") < text.index("File until the blue")


def test_what_is_too_much_is_said_with_the_moves_and_a_remedy() -> None:
    made = _plan({"lathe": {"motor_w": 60}, "stock.stick_out": 120})
    cautions = outlook_view(made, forecast(made, runs=200)).cautions
    assert any(text.startswith("Move") and "motor gives 45 W" in text for text in cautions)
    assert any(text.startswith("The bar stands out 6.0 times") and "centre" in text for text in cautions)


def test_without_a_material_the_rest_is_still_told() -> None:
    made = make_plan(job_from_data(pin()))
    seen = outlook_view(made, forecast(made, runs=200))
    assert len(seen.few) == 3
    assert any("part.material" in text for text in seen.cautions)
    assert seen.groups[0].title == "Scatter"


def test_inches_are_told_in_inches() -> None:
    data = pin({"part.material": "brass", "units": "in"})
    data["part"] |= {"outline": [{"z": 0, "d": 0}, {"z": -0.375, "d": 0.75, "convex": 0.375}, {"z": -1, "d": 0.75}]}
    data["part"]["curve"] = [0, -0.375]
    data["stock"] = {"diameter": 0.8125, "proud": 0.02, "stick_out": 1.5}
    data["tool"][0]["nose_radius"] = 0.125
    made = make_plan(job_from_data(data))
    seen = outlook_view(made, forecast(made, runs=200))
    assert "comes to about 0.00" in seen.few[2]
    assert " in, ridges included" in seen.few[2]
    figures = [line for group in seen.groups[:4] for line in group.lines]
    assert not any(re.search(r"\bmm|µm", text) for text in (*seen.few, *seen.cautions, *figures))
    assert any(re.search(r"about 0\.000\d+ in³ of metal", text) for text in seen.few)


def test_a_sure_hand_is_told_that_nothing_is_cut_into() -> None:
    made = _plan()
    none = Errors(**dict.fromkeys(vars(Errors()), 0.0))
    text = " ".join(outlook_view(made, forecast(made, errors=none, runs=200)).few)
    assert "not likely to be cut into" in text


@pytest.mark.parametrize(("value", "text"), [(1234, "1200"), (0.00456, "0.0046"), (99.6, "100"), (5, "5")])
def test_about_keeps_two_figures(value: float, text: str) -> None:
    assert about(value) == text
