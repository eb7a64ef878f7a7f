"""`ovolo check`: what to measure on a part, and what the readings say."""

import json
from pathlib import Path
from typing import Any

import click

from ovolo.check.checking import check as checked_part
from ovolo.check.checking import limits_of
from ovolo.check.measured import Circumstances
from ovolo.check.measuring import measuring_list
from ovolo.cli.output import STANDARD_OUTPUT, check_targets, write_all
from ovolo.documents.check.document import check_as_json
from ovolo.documents.check.readings import read_readings
from ovolo.documents.plan.document import plan_as_json
from ovolo.documents.plan.reading import plan_from_data
from ovolo.documents.reading import read_job
from ovolo.documents.text_file import text_of
from ovolo.errors import Fault, JobFaults
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.show.words.checked import checked_as_text, measuring_as_csv, measuring_as_text

__all__ = ["check"]

LARGEST_PLAN = 40_000_000
"""A plan of ten thousand moves takes less, bytes."""


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.argument("readings", type=click.Path(path_type=Path), required=False)
@click.option("--json", "json_file", metavar="FILE", help="Write what was found as check.json.")
@click.option("--plan", "plan_file", metavar="FILE", help="Write the moves that correct the part, as plan.json.")
@click.option("--list", "list_file", metavar="FILE", help="Write the places to measure as CSV, to fill in.")
@click.option("--rechucked", is_flag=True, help="The part has been out of the chuck since it was turned.")
@click.option("--tool-moved", is_flag=True, help="The tool has been moved since it cut the part.")
@click.option("--warm", is_flag=True, help="The part was still warm when it was measured.")
def check(
    job: Path,
    readings: Path | None,
    json_file: str | None,
    plan_file: str | None,
    list_file: str | None,
    rechucked: bool,
    tool_moved: bool,
    warm: bool,
) -> None:
    """List what to measure on a part; from the readings find what is wrong, and the cut that corrects it.

    JOB is the job's file, such as pin.toml, or the plan.json that was run. Without READINGS the places to measure are
    listed. READINGS is a CSV file: a header z,d and a line for each reading. FILE may be - for standard output.
    """
    targets = {
        o: f for o, f in {"--json": json_file, "--plan": plan_file, "--list": list_file}.items() if f is not None
    }
    check_targets(targets, job)
    if readings is None and (json_file is not None or plan_file is not None):
        raise click.UsageError("--json and --plan need readings: give a file of readings.")
    made = _plan_of(job)
    texts: dict[str, str] = {}
    if readings is None or list_file is not None:
        advice = measuring_list(made, limits_of(made))
        if list_file is not None:
            texts[list_file] = measuring_as_csv(made, advice)
        if readings is None:
            write_all(texts)
            if STANDARD_OUTPUT not in texts:
                click.echo(measuring_as_text(made, advice), nl=False)
            return
    how = Circumstances(in_chuck=not rechucked, tool_untouched=not tool_moved, cool=not warm)
    found = checked_part(made, read_readings(readings, made.job, how))
    if json_file is not None:
        texts[json_file] = check_as_json(found)
    if plan_file is not None:
        texts[plan_file] = _mending(found.correction.plan)
    write_all(texts)
    if STANDARD_OUTPUT not in texts:
        click.echo(checked_as_text(found, assumed=not (rechucked or tool_moved or warm)), nl=False)


def _mending(plan: Plan | None) -> str:
    if plan is None:
        says = "there is no cut that corrects this part"
        raise JobFaults([Fault("--plan", None, "", says, "Leave --plan out: what to do is printed anyway")])
    return plan_as_json(plan)


def _plan_of(path: Path) -> Plan:
    """The plan of a job's file, or the plan in a plan.json."""
    if path.suffix.lower() != ".json":
        return make_plan(read_job(path))
    return plan_from_data(_data(path))


def _data(path: Path) -> Any:
    text = text_of(path, "a plan", LARGEST_PLAN)
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as wrong:
        says = f"it is no JSON: {str(wrong)[:80]}"
        raise JobFaults([Fault(str(path), None, "", says, "Name a plan.json as Ovolo wrote it")]) from None
