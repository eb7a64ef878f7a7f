"""The commands. `main` is what the shell calls; each command has a module of its own."""

from ovolo.cli.commands import main

__all__ = ["main"]
