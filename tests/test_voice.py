"""What people read is written as docs/voice.md says."""

import pytest
from tests import voice


def test_no_text_has_a_bad_habit() -> None:
    """Where this fails, write the sentence as docs/voice.md says."""
    assert voice.slips() == []


def test_all_kinds_of_text_are_looked_at() -> None:
    seen = {file for file, _ in voice.texts()}
    assert {file.rpartition(".")[2] for file in seen} >= {"py", "html", "js", "md", "toml"}
    assert any("Plan the moves" in text or "plan" in text.lower() for file, text in voice.texts() if "cli/plan" in file)


@pytest.mark.parametrize(
    ("text", "habit"),
    [
        ("The readout was not told where it is", "told, tells"),
        ("Let the cross slide show 24.5", "lets ... show"),
        ("Take it at 300 turns a minute", "turns a minute"),
        ("Whoever files it, stops the spindle", "whoever, nobody"),
        ("Leave 0.2 mm proud", "proud"),
        ("Mind the jaws", "Mind"),
        ("It is finished in 13 stations", "station"),
    ],
)
def test_a_slip_is_found(text: str, habit: str) -> None:
    assert any(slip.startswith(f"{habit}: ") for slip in voice.slips_of("src/ovolo/cli/plan.py", text))


def test_a_long_sentence_is_found_at_the_lathe_only() -> None:
    long = " ".join(["word"] * 26)
    assert list(voice.slips_of("src/ovolo/show/words/table.py", long)) == [f"long sentence: {long}"]
    assert not set(voice.slips_of("docs/index.md", long))


def test_plain_text_has_no_slip() -> None:
    text = "Set the cross slide to 24.50 with 35 mm projecting from the jaws, at 300 rev/min"
    assert not set(voice.slips_of("src/ovolo/show/words/table.py", text))
