"""Options that several commands have are the same in each."""

import click
import pytest

from ovolo.cli.options import planning_options
from ovolo.cli.plan import plan
from ovolo.cli.sheet import sheet


@pytest.mark.parametrize("command", [plan, sheet])
def test_what_to_plan_is_given_alike(command: click.Command) -> None:
    named = {parameter.name: parameter for parameter in command.params}

    def plain(**given: object) -> None:
        assert given

    alone = click.command()(planning_options(plain))
    assert [option.opts for option in alone.params] == [["--ridge"], ["--settings"], ["--tool"]]
    for option in alone.params:
        assert option.name is not None
        assert named[option.name].to_info_dict() == option.to_info_dict()
