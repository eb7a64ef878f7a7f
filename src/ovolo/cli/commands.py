"""The group of commands, and what becomes of everything that can go wrong in one.

Exit 0: done. Exit 2: something given is wrong, every fault on standard error. Exit 1: a mistake of ours.
"""

import os
import sys
import traceback
from collections.abc import Sequence
from importlib import import_module

import click

from ovolo.cli.faults import blocks
from ovolo.errors import OvoloError

_DETAILS = "OVOLO_TRACEBACK"
"""Set to anything, this variable shows where in the code a mistake of ours happened."""


COMMANDS = {
    "new": "Start a job from a drawing, or from a form.",
    "plan": "Plan a job: how to set up, every move, what will be left.",
    "sheet": "Write a plan as a sheet to print and take to the lathe.",
    "methods": "Compare the ways to turn the curve of a job: what each leaves, how long it takes, what it needs.",
    "gauge": "Write a template of the curve at true size, to hold against the part.",
    "materials": "List the materials that a job may name.",
    "open": "Open the pages Part, Shop and Plan in the browser.",
    "schema": "Print the JSON Schema of a job or of a plan.",
}
"""Each command and what it does. A command is loaded when it is called: numpy and shapely stay out of --help."""


class _Commands(click.Group):
    """A group whose commands are found by name, `ovolo.cli.<name>.<name>`."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command = getattr(import_module(f"ovolo.cli.{cmd_name}"), cmd_name)
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="ovolo", message="%(prog)s %(version)s")
def commands() -> None:
    """Plan the turning of curved profiles on a manual lathe.

    A job goes in; a plan comes out that moves one slide at a time, and says what will be left on the part.
    """


def main(args: Sequence[str] | None = None) -> None:
    """Run a command with the arguments given, those of the shell by default. Always ends in SystemExit."""
    try:
        commands.main(args=None if args is None else list(args), prog_name="ovolo")
    except OvoloError as error:
        click.echo(blocks(error), err=True)
        sys.exit(2)
    except Exception as error:
        click.echo(_our_mistake(error), err=True)
        sys.exit(1)


def _our_mistake(error: Exception) -> str:
    if os.environ.get(_DETAILS):
        return traceback.format_exc()
    kind = type(error).__name__
    text = " ".join(str(error).split())[:200]
    return (
        f"Ovolo itself has made a mistake ({kind}: {text}); nothing was written. "
        f"Please report it with the job. {_DETAILS}=1 in front of the command shows where."
    )
