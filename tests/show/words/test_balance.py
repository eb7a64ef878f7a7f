"""The balance in words: both ratios, both heaviest moves."""

from ovolo.predict.forecast.balance import Balance, Cuts
from ovolo.show.words.balance import balance_lines

FOUND = Balance(before=Cuts(1.2, 0.2), after=Cuts(0.5, 0.25), finishing=0.5, roughing=18.3125)


def test_both_ratios_and_both_heaviest_moves_are_told() -> None:
    text = " ".join(balance_lines(FOUND))
    for told in ("0.25 mm² to 0.50 mm²", "2.0 to 1", "0.20 mm² to 1.2 mm²", "6.0 to 1", "roughing move 18.3 mm²"):
        assert told in text


def test_where_nothing_is_roughed_that_is_said() -> None:
    assert "nothing is roughed" in " ".join(balance_lines(Balance(FOUND.before, FOUND.after, 0.5, 0.0)))
