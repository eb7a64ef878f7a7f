"""`ovolo materials`: the materials that a job may name."""

import textwrap

import click

from ovolo.cutting.materials import MATERIALS, Material

__all__ = ["materials"]

WIDTH = 78


@click.command()
def materials() -> None:
    """List the materials that a job may name.

    Each comes with the other names and numbers that are understood.
    Grades in one row differ: a maker's own sheet for your bar and your tool comes first.
    """
    click.echo("\n".join(_row(row) for row in MATERIALS))


def _row(row: Material) -> str:
    also = textwrap.fill(", ".join(row.also), WIDTH, initial_indent="    ", subsequent_indent="    ")
    return f"{row.name}\n{also}" if row.also else row.name
