"""The trade-off as a table, as CSV, as JSON and in words."""

import csv
import io
import json

import pytest
from tests.documents.jobs import pin
from tests.documents.plans import plan

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.tradeoff import Tradeoff, TradeoffPoint, Unsuited, tradeoff
from ovolo.show.words.tradeoff import TradeoffView, tradeoff_as_csv, tradeoff_as_json, tradeoff_as_text, tradeoff_view

COARSE, BEST, FINE = (
    TradeoffPoint("round nose 6", 11, 0.094, 13.3, 0.5),
    TradeoffPoint("round nose 6", 16, 0.0447, 14.8, 0.24),
    TradeoffPoint("round nose 6", 52, 0.0049, 28.0, 0.04),
)
OTHER = TradeoffPoint("=knife", 35, 0.047, 21.8, 0.27)
TRADED = Tradeoff(
    (COARSE, BEST, FINE, OTHER), (Unsuited("left-hand knife", Point(-2.345, 6)),), BEST, COARSE, 0.05, 0.008
)


@pytest.fixture
def view() -> TradeoffView:
    return tradeoff_view(plan(), TRADED)


def test_points_that_stand_out_are_named(view: TradeoffView) -> None:
    assert [row.note for row in view.rows] == [
        "quickest that a file can finish",
        "recommended",
        "lost in the scatter of a setting",
        "",
    ]


def test_the_recommendation_says_why(view: TradeoffView) -> None:
    first = view.sentences[0]
    assert first.startswith("Take 16 settings with round nose 6: the least time of all that keep the 0.050 mm")
    assert "52 settings would leave 0.005 mm and take 13 min more, though they save 12 s of filing" in first
    assert "With =knife it takes 35 settings and about 22 min" in first
    assert view.sentences[1].startswith("If 0.094 mm may stand for the file, 11 settings")
    assert "save 2 min" in view.sentences[1]
    assert view.sentences[-1] == "left-hand knife does not reach all of the curve to that ridge: not at z -2.35."


def test_where_nothing_keeps_the_ridge_it_is_said() -> None:
    none = tradeoff_view(plan(), TRADED._replace(recommended=None, points=(COARSE,)))
    assert none.sentences[0] == "No tool alone keeps the 0.050 mm specified."
    assert len(none.sentences) == 3


def test_text_csv_and_json_say_the_same(view: TradeoffView) -> None:
    rows = list(csv.DictReader(io.StringIO(tradeoff_as_csv(view))))
    data = json.loads(tradeoff_as_json(view))
    assert [float(row["ridge_mm"]) for row in rows] == [point["ridge"] for point in data["points"]]
    assert rows[3]["tool"] == "'=knife"
    text = tradeoff_as_text(view)
    for row in view.rows:
        assert any(
            line.split()[: len(row.tool.split()) + 2] == [*row.tool.split(), str(row.settings), row.ridge]
            for line in text.splitlines()
        )
    assert max(map(len, text.splitlines())) <= 110


def test_inches_are_told_in_inches() -> None:
    inch = tradeoff_view(plan({"units": "in", "stock.diameter": 40, "sure": ["inches"]}), TRADED)
    assert inch.unit == "in"
    assert inch.rows[0].ridge == "0.0037"
    assert "ridge_in" in tradeoff_as_csv(inch)


def test_a_real_trade_off_can_be_shown() -> None:
    made = make_plan(job_from_data(pin({"part.material": "brass"})))
    shown = tradeoff_view(made, tradeoff(made))
    assert sum("recommended" in row.note for row in shown.rows) == 1
