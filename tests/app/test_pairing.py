"""Codes count once and for a while; guesses wait longer and longer, each address for itself, and are forgotten."""

from ovolo.app.pairing import FORGOTTEN, LASTS, LONGEST_WAIT, MOST_ADDRESSES, MOST_CODES, Guesses, Pairing


class Clock:
    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


def test_a_code_counts_once() -> None:
    pairing = Pairing(Clock())
    code = pairing.new()
    assert not pairing.take(code[:-1])
    assert pairing.take(code)
    assert not pairing.take(code)


def test_a_code_grows_old() -> None:
    clock = Clock()
    pairing = Pairing(clock)
    early, late = pairing.new(), pairing.new()
    clock.now = LASTS
    assert pairing.take(early)
    clock.now = LASTS + 0.1
    assert not pairing.take(late)


def test_no_more_codes_are_out_than_a_few() -> None:
    pairing = Pairing(Clock())
    first = pairing.new()
    for _ in range(MOST_CODES):
        last = pairing.new()
    assert not pairing.take(first)
    assert pairing.take(last)


def test_each_address_waits_for_its_own_guesses() -> None:
    clock = Clock()
    guesses = Guesses(clock)
    for many in range(1, 10):
        guesses.wrong("192.0.2.1", "x")
        assert guesses.wait("192.0.2.1") == min(2.0 ** (many - 1), LONGEST_WAIT)
        assert guesses.wait("192.0.2.2") == 0
    guesses.right("192.0.2.1")
    assert guesses.wait("192.0.2.1") == 0


def test_guesses_are_forgotten_and_never_fill_the_memory() -> None:
    clock = Clock()
    guesses = Guesses(clock)
    guesses.wrong("192.0.2.1", "x")
    guesses.wrong("192.0.2.1", "x")
    clock.now = FORGOTTEN + 1
    guesses.wrong("192.0.2.1", "x")
    assert guesses.wait("192.0.2.1") == 1
    for n in range(2 * MOST_ADDRESSES):
        guesses.wrong(f"198.51.100.{n}", "x")
    assert len(guesses._wrong) == MOST_ADDRESSES
