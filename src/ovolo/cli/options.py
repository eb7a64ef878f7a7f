"""Options that several commands have: what to plan instead of what the job gives."""

from collections.abc import Callable
from typing import Any, TypeVar

import click

__all__ = ["planning_options"]

_Command = TypeVar("_Command", bound=Callable[..., Any])


def planning_options(command: _Command) -> _Command:
    """A command with --ridge, --settings (as `stations`) and --tool, in this order."""
    for option in reversed(_PLANNING):
        command = option(command)
    return command


_PLANNING = (
    click.option("--ridge", metavar="LENGTH", help="Highest ridge allowed, instead of the job's finish.ridge."),
    click.option(
        "--settings",
        "stations",
        type=click.IntRange(1, 100_000),
        metavar="N",
        help="Use N settings; find the lowest ridge.",
    ),
    click.option("--tool", metavar="NAME", help="Use this tool of the job only."),
)
