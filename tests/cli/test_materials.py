"""`ovolo materials`: every name that a job may use, in lines that fit a screen."""

from click.testing import CliRunner

from ovolo.cli.commands import commands
from ovolo.cutting.materials import MATERIALS, material


def test_every_name_is_listed_and_every_name_listed_is_understood() -> None:
    run = CliRunner().invoke(commands, ["materials"])
    assert run.exit_code == 0
    lines = run.output.splitlines()
    assert max(map(len, lines)) <= 80
    assert [line for line in lines if not line.startswith(" ")] == [row.name for row in MATERIALS]
    others = " ".join(line.strip() for line in lines if line.startswith(" "))
    for row in MATERIALS:
        assert all(name in others and material(name) is row for name in row.also)
