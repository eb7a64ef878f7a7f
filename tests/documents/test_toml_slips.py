"""Slips of the pen in a job file: said in the user's words, with what to type."""

import tomllib

import pytest

from ovolo.documents.toml_slips import toml_slip

BEFORE = '[stock]\ndiameter = 20\n'  # fmt: skip


@pytest.mark.parametrize(
    ("line", "write"),
    [
        ("proud = 16,5", "Write proud = 16.5"),
        ("material = mild steel", 'Write material = "mild steel"'),
        ('material = "mild steel', 'Write material = "mild steel"'),
        ("stick_out = 35 mm", 'Write stick_out = "35 mm"'),
        ("stick_out: 35", "Write stick_out = 35"),
        ("stick_out 35", "Write stick_out = 35"),
        ("[finish", "Write [finish]"),
        ("[[tool", "Write [[tool]]"),
        ("diameter = 22", "Leave one of the two out"),
        ("[stock]", "Put both together; several tools are [[tool]], with two brackets"),
    ],
)
def test_each_says_what_to_type(line: str, write: str) -> None:
    with pytest.raises(tomllib.TOMLDecodeError) as wrong:
        tomllib.loads(BEFORE + line + "\n")
    found = toml_slip(line, str(wrong.value))
    assert found is not None
    assert found[1] == write


def test_what_is_no_usual_slip_is_not_guessed_at() -> None:
    assert toml_slip("}{", "Invalid statement") is None
