"""`ovolo methods`: the ways to turn the curve of a job, side by side."""

from pathlib import Path

import click

from ovolo.cli.output import STANDARD_OUTPUT, Content, check_targets, write_all
from ovolo.documents.reading import read_job
from ovolo.plan.planner import make_plan
from ovolo.predict.methods.compare import compare
from ovolo.show.drawing.methods_drawing import methods_as_svg, methods_drawing
from ovolo.show.paper.style import Mode
from ovolo.show.paper.typeset import svg_as_png
from ovolo.show.words.methods import methods_as_json, methods_as_text, methods_view

__all__ = ["methods"]


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--svg", metavar="FILE", help="Write a picture of the methods, to one scale, as SVG.")
@click.option("--png", metavar="FILE", help="Write that picture as PNG.")
@click.option("--look", type=click.Choice(["paper", "dark", "print"]), default="paper", help="Colours of the picture.")
@click.option("--json", metavar="FILE", help="Write the comparison as JSON.")
def methods(job: Path, look: Mode, **files: str | None) -> None:
    """Compare the ways to turn the curve of a job: error, time and what each needs.

    Steps with one slide at a time, both slides at once, facets, a form tool, a swinging fixture, the file. JOB is the
    job's file, such as pin.toml. FILE may be - for standard output; then nothing else is printed.
    """
    targets = {f"--{name}": file for name, file in files.items() if file is not None}
    check_targets(targets, job)
    plan = make_plan(read_job(job))
    found = compare(plan)
    view = methods_view(plan, found)
    svg = methods_as_svg(methods_drawing(plan, found), mode=look) if {"--svg", "--png"} & set(targets) else ""
    contents: dict[str, Content] = {}
    for option, file in targets.items():
        contents[file] = methods_as_json(view, found) if option == "--json" else svg
        if option == "--png":
            contents[file] = svg_as_png(svg)
    write_all(contents)
    if STANDARD_OUTPUT not in targets.values():
        click.echo(methods_as_text(view), nl=False)
