"""The methods as they are shown: one view, as text and as JSON."""

import json

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.methods.compare import Methods, compare
from ovolo.show.words.methods import MethodsView, methods_as_json, methods_as_text, methods_view


@pytest.fixture(scope="module")
def made() -> Plan:
    return make_plan(job_from_data(pin({"part.material": "mild steel"})))


@pytest.fixture(scope="module")
def found(made: Plan) -> Methods:
    return compare(made)


@pytest.fixture(scope="module")
def view(made: Plan, found: Methods) -> MethodsView:
    return methods_view(made, found)


def test_every_method_has_a_card_with_a_shape_to_draw(view: MethodsView) -> None:
    assert len(view.cards) == 7
    for card in view.cards:
        assert bool(card.shape) == card.can
        assert bool(card.error) == card.can
        assert card.owned
        assert card.why
        assert "{}" not in " ".join((card.why, *card.risks))


def test_the_verdict_is_said_for_one_and_for_many(made: Plan, view: MethodsView, found: Methods) -> None:
    minutes = found.for_one.minutes(1)
    assert minutes is not None
    assert view.sentences[0].startswith(f"For one part: coarse steps, filed to a gauge, about {minutes:.0f} min")
    assert view.sentences[1].startswith("For 20 parts too: about")
    other = methods_view(made, found._replace(for_many=found.methods[5]))
    assert other.sentences[1].startswith("For 20 parts: swinging ball fixture, about")
    assert "against" in other.sentences[1]


def test_the_text_has_a_line_each_and_fits(view: MethodsView) -> None:
    lines = methods_as_text(view).splitlines()
    assert max(map(len, lines)) <= 100
    for card in view.cards:
        assert sum(line.startswith(card.name) for line in lines) == 2
    assert any(line.startswith("form tool: not for this part") for line in lines)


def test_json_says_the_same(view: MethodsView, found: Methods) -> None:
    data = json.loads(methods_as_json(view, found))
    assert [method["name"] for method in data["methods"]] == [card.name for card in view.cards]
    assert data["for_many"] == found.for_many.name
    steps = data["methods"][0]
    assert steps["minutes_first"] == pytest.approx(found.methods[0].first, abs=0.05)
    assert data["methods"][4]["error_usual"] is None


def test_inches_are_told_in_inches(found: Methods) -> None:
    made = make_plan(job_from_data(pin()))
    inch = Plan(**{**vars(made), "job": job_from_data(pin({"units": "in", "sure": ["inches"]}))})
    shown = methods_view(inch, found)
    assert shown.unit == "in"
    assert not any(" mm" in text for card in shown.cards for text in (card.why, *card.risks))
    assert "0.0029 in" in shown.sentences[0] or " in" in shown.sentences[0]
