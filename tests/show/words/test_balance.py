"""The balance in words: both ratios, both heaviest moves, no wider than a terminal."""

from ovolo.predict.forecast.balance import Balance, Cuts
from ovolo.show.words.balance import balance_as_text

FOUND = Balance(before=Cuts(1.2, 0.2), after=Cuts(0.5, 0.25), finishing=0.5, roughing=18.3125)


def test_both_ratios_and_both_heaviest_moves_are_told() -> None:
    text = balance_as_text(FOUND)
    for told in ("0.25 mm² to 0.50 mm²", "2.0 to 1", "0.20 mm² to 1.2 mm²", "6.0 to 1", "roughing move 18.3 mm²"):
        assert told in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 96


def test_where_nothing_is_roughed_that_is_said() -> None:
    assert "nothing is roughed" in balance_as_text(Balance(FOUND.before, FOUND.after, 0.5, 0.0))


def test_nothing_to_tell_is_no_text() -> None:
    assert balance_as_text(None) == ""
