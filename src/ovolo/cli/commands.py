"""The group of commands, and what becomes of everything that can go wrong in one.

Exit 0: done. Exit 2: something given is wrong, or an output cannot be written; every fault on standard error,
or as JSON on standard output where JSON goes there. Exit 130: stopped by Ctrl-C. Exit 1: a mistake of ours.
"""

import contextlib
import json
import os
import sys
import traceback
from collections.abc import Sequence
from importlib import import_module
from itertools import pairwise

import click

from ovolo.cli.faults import blocks
from ovolo.cli.output import unwritable
from ovolo.errors import OutputError, OvoloError

STOPPED = 130
"""Exit code of what a person, or the reader of its output, has stopped (128 and the number of the signal)."""

_DETAILS = "OVOLO_TRACEBACK"
"""Set to anything, this variable shows where in the code a mistake of ours happened."""


COMMANDS = {
    "new": "Start a job from a drawing, or from a form.",
    "plan": "Plan a job: how to set up, every move, what will be left.",
    "sheet": "Write a plan as a sheet to print and take to the lathe.",
    "methods": "Compare the ways to turn the curve of a job: error, time and what each needs.",
    "gauge": "Write a template of the curve at true size, to hold against the part.",
    "materials": "List the materials that a job may name.",
    "check": "List what to measure on a part; from the readings find what is wrong, and the cut that corrects it.",
    "open": "Open the pages Part, Shop, Plan, Turn and Check in the browser.",
    "schema": "Print the JSON Schema of a job, a plan or a check.",
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
    given = sys.argv[1:] if args is None else list(args)
    try:
        _run(given)
        sys.exit(0)
    except OvoloError as error:
        _complain(error, as_json=_asks_for_json(given))
        sys.exit(2)
    except (KeyboardInterrupt, click.Abort):
        click.echo("Stopped.", err=True)
        sys.exit(STOPPED)
    except BrokenPipeError:
        _let_go()
        sys.exit(STOPPED)
    except OSError as error:  # a full or a closed device, wherever it was met
        _complain(OutputError(unwritable(str(error.filename or "standard output"), error)), as_json=False)
        _let_go()
        sys.exit(2)
    except Exception as error:
        click.echo(_our_mistake(error), err=True)
        sys.exit(1)


def _run(given: list[str]) -> None:
    """The command itself; what it printed is on its way when this returns."""
    try:
        commands.main(args=given, prog_name="ovolo", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except click.exceptions.Exit as end:
        sys.exit(end.exit_code)
    if sys.stdout is not None and not sys.stdout.closed:
        sys.stdout.flush()


def _asks_for_json(given: Sequence[str]) -> bool:
    """Whether JSON goes to standard output."""
    return "--json=-" in given or any(pair == ("--json", "-") for pair in pairwise(given))


def _complain(error: OvoloError, *, as_json: bool) -> None:
    if as_json:
        click.echo(json.dumps({"faults": [fault.as_dict() for fault in error.faults]}, indent=2))
    else:
        click.echo(blocks(error), err=True)


def _let_go() -> None:
    """Nothing more can be written to standard output: not at the end of the program either."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _our_mistake(error: Exception) -> str:
    if os.environ.get(_DETAILS):
        return traceback.format_exc()
    kind = type(error).__name__
    text = " ".join(str(error).split())[:200]
    return (
        f"Ovolo itself has made a mistake ({kind}: {text}). "
        f"Please report it with the job. {_DETAILS}=1 in front of the command shows where."
    )
