"""`ovolo gauge`: a template of the curve at true size."""

from pathlib import Path

import click

from ovolo.cli.output import STANDARD_OUTPUT, Content, check_targets, write_all
from ovolo.documents.reading import read_job
from ovolo.errors import Fault, JobFaults
from ovolo.plan.model import Job
from ovolo.show.formats import endings_of
from ovolo.show.gauge.dxf import gauge_as_dxf
from ovolo.show.gauge.template import GaugeView, Sides, gauge_as_pdf, gauge_as_svg, gauge_view
from ovolo.units import parse_length

__all__ = ["gauge"]

MOST_MARGIN = 100.0
MOST_KERF = 2.0
_KINDS = endings_of("gauge")


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("-o", "--output", "file", required=True, metavar="FILE", help="Write it here: .pdf, .svg or .dxf.")
@click.option("--kind", type=click.Choice(_KINDS), help="Kind of file, if the name of FILE does not give it.")
@click.option(
    "--side",
    type=click.Choice(["air", "part", "both"]),
    default="air",
    show_default=True,
    help="Which side of the line is solid.",
)
@click.option("--margin", metavar="LENGTH", help="Plate around the curve; 15 mm or 0.6 in if left out.")
@click.option("--kerf", metavar="LENGTH", help="Width of cut (kerf) of the saw or beam.")
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Smallest paper size."
)
def gauge(
    job: Path, file: str, kind: str | None, side: Sides, margin: str | None, kerf: str | None, paper: str
) -> None:
    """Write a template of the curve at true size, to hold against the part.

    JOB is the job's file, such as pin.toml. FILE may be - for standard output, with --kind.
    """
    check_targets({"--output": file}, job)
    chosen = kind or _kind_of(file)
    read = read_job(job)
    around = _length(read, "--margin", margin, "15 mm" if read.units == "mm" else "0.6 in", 1.0, MOST_MARGIN)
    view = gauge_view(read, sides=side, margin=around, kerf=_length(read, "--kerf", kerf, "0 mm", 0.0, MOST_KERF))
    write_all({file: _written(view, chosen, letter=paper == "letter")})
    if file != STANDARD_OUTPUT:
        click.echo(f"Gauge: {file}")


def _written(view: GaugeView, kind: str, *, letter: bool) -> Content:
    if kind == "dxf":
        return gauge_as_dxf(view)
    return gauge_as_pdf(view, letter=letter) if kind == "pdf" else gauge_as_svg(view, letter=letter)[0]


def _kind_of(file: str) -> str:
    """The kind of file that its name ends with."""
    ending = Path(file).suffix.lower().removeprefix(".")
    if ending in _KINDS:
        return ending
    fault = Fault("--output", file, ".pdf, .svg or .dxf", "its name does not say what to write", "Add --kind")
    raise JobFaults([fault])


def _length(job: Job, option: str, written: str | None, default: str, least: float, most: float) -> float:
    """A length from the command line, mm, within its limits."""
    words = default if written is None else written
    length = parse_length(words, job.units, option)
    if not least <= length <= most:
        limit = f"{least:g} to {most:g} mm"
        raise JobFaults([Fault(option, words, limit, "that is more or less than makes sense here", "Choose another")])
    return length
