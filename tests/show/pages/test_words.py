"""Sentences say what the plan says."""

from dataclasses import replace

from tests.show.pages.examples import plan

from ovolo.plan.model import Proof
from ovolo.show.pages.words import number_word, result_sentence


def test_the_sentence_of_the_bridge_pin() -> None:
    made = plan()
    before, figure, after = result_sentence(made)
    assert before == f"{number_word(made.stations).capitalize()} settings leave at most "
    assert figure == f"{made.prediction.ridge_max:.3f}"
    assert after.startswith(" mm to file away. ")
    assert "would leave" in after


def test_one_setting_and_no_plan_with_fewer() -> None:
    made = plan()
    assert result_sentence(replace(made, stations=1, proof=Proof(0, None)))[0] == "One setting leaves at most "
    assert "there is no plan" in result_sentence(replace(made, proof=Proof(3, None)))[2]


def test_inches_have_one_more_decimal() -> None:
    _, figure, after = result_sentence(plan("winch-pin-inch"))
    assert len(figure.split(".")[1]) == 4
    assert after.startswith(" in to file away")
