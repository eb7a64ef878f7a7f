"""`ovolo sheet`: a plan on paper, to be taken to the lathe."""

from pathlib import Path

import click

from ovolo.cli.options import planning_options
from ovolo.cli.output import STANDARD_OUTPUT, check_targets, write_all
from ovolo.cli.plan import planned
from ovolo.show.formats import How, write
from ovolo.show.sheet.sheet import Paper

__all__ = ["sheet"]


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("-o", "--output", "file", required=True, metavar="FILE", help="Write the PDF here.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Paper size.")
@click.option("--revision", metavar="TEXT", default="1", show_default=True, help="Revision printed on each page.")
@planning_options
def sheet(
    job: Path, file: str, paper: Paper, revision: str, ridge: str | None, stations: int | None, tool: str | None
) -> None:
    """Write a plan as a sheet to print and take to the lathe.

    It has the drawing, the set-up, the moves to tick and the diameters to check. JOB is the job's file, such as
    pin.toml; FILE may be - for standard output.
    """
    check_targets({"--output": file}, job)
    made = planned(job, ridge, stations, tool)
    write_all({file: write("sheet.pdf", made, How(paper=paper, revision=revision))})
    if file != STANDARD_OUTPUT:
        click.echo(f"Sheet: {file}")
