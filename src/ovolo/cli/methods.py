"""`ovolo methods`: the ways to turn the curve of a job, side by side."""

from pathlib import Path

import click

from ovolo.cli.output import STANDARD_OUTPUT, check_targets, write_all
from ovolo.documents.reading import read_job
from ovolo.plan.planner import make_plan
from ovolo.predict.methods import compare
from ovolo.show.methods import methods_as_json, methods_as_text, methods_view

__all__ = ["methods"]


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "json_file", metavar="FILE", help="Write the comparison as JSON.")
def methods(job: Path, json_file: str | None) -> None:
    """Compare the ways to turn the curve of a job: what each leaves, how long it takes, what it needs.

    Steps with one slide at a time, both slides at once, facets, a form tool, a swinging fixture, the file. JOB is its
    file, such as pin.toml. FILE may be - for standard output, which then carries nothing else.
    """
    targets = {} if json_file is None else {"--json": json_file}
    check_targets(targets, job)
    plan = make_plan(read_job(job))
    found = compare(plan)
    view = methods_view(plan, found)
    write_all({file: methods_as_json(view, found) for file in targets.values()})
    if STANDARD_OUTPUT not in targets.values():
        click.echo(methods_as_text(view), nl=False)
