"""`ovolo plan`: from a job to its setting-up, its moves and what will be left."""

import shutil
import sys
from collections.abc import Mapping
from pathlib import Path

import click

from ovolo.cli.options import planning_options
from ovolo.cli.output import STANDARD_OUTPUT, check_targets, say, write_all
from ovolo.cli.progress import told
from ovolo.cutting.pace import Fit, fitted
from ovolo.documents.checks import ridge_fault
from ovolo.documents.faults import nearest
from ovolo.documents.reading import read_job
from ovolo.documents.recording import read_recording
from ovolo.errors import CannotPlan, Fault, JobFaults, OutputError
from ovolo.plan.model import Job, Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.report.unreached import unreached
from ovolo.predict.forecast.outlook import work_counts_by_move
from ovolo.predict.loads.load import loads
from ovolo.predict.methods.coarse import coarse as coarse_plan
from ovolo.show.drawing.pictures import PICTURES, PictureName
from ovolo.show.drawing.unreached import unreached_as_svg, unreached_view
from ovolo.show.formats import How, endings_of, write
from ovolo.show.paper.style import Mode
from ovolo.show.paper.typeset import svg_as_png
from ovolo.show.words.coarse import coarse_lines
from ovolo.show.words.moves_text import WIDTH, paragraph
from ovolo.show.words.printout import printout
from ovolo.show.words.recorded import fit_as_toml
from ovolo.units import parse_length

__all__ = ["plan", "planned"]


NAMES = {"--json": "plan.json", "--csv": "moves.csv", "--job": "resolved.toml"}
"""What each option writes whose file may have any name."""


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@planning_options
@click.option("--coarse", is_flag=True, help="Few settings, and steps to file away: quickest for a single part.")
@click.option("--svg", metavar="FILE", help="Write the picture as SVG.")
@click.option("--png", metavar="FILE", help="Write the picture as PNG.")
@click.option(
    "--picture", type=click.Choice(list(PICTURES)), default="drawing", show_default=True, help="Which picture."
)
@click.option("--look", type=click.Choice(["paper", "dark", "print"]), default="paper", help="Colours of the picture.")
@click.option("--move", type=int, metavar="N", help="The move to show, with --picture move.")
@click.option("--animation", metavar="FILE", help="Write the cutting, move by move: FILE.html (a page) or FILE.gif.")
@click.option("--json", metavar="FILE", help="Write the plan as JSON.")
@click.option("--csv", metavar="FILE", help="Write the moves as a table for a spreadsheet.")
@click.option("--job", "job_file", metavar="FILE", help="Write the job with every default filled in.")
@click.option("--tradeoff", metavar="FILE", help="Write ridge against settings and minutes: FILE.txt, .csv or .json.")
@click.option("--recorded", metavar="FILE", help="Find your own pace from a timed run: a CSV file with move,seconds.")
@click.option("--setup", is_flag=True, help="Print the set-up in full, with this job's own figures.")
@click.option("--details", is_flag=True, help="Print full details of loads, scatter, time and filing.")
def plan(
    job: Path,
    ridge: str | None,
    stations: int | None,
    coarse: bool,
    tool: str | None,
    picture: PictureName,
    look: Mode,
    move: int | None,
    job_file: str | None,
    setup: bool,
    details: bool,
    recorded: str | None,
    **files: str | None,
) -> None:
    """Plan a job: how to set up, every move, what will be left.

    JOB is the job's file, such as pin.toml. FILE may be - for standard output; then nothing else is printed.

    --setup prints the set-up in full; it is on the sheet and the pages too. --recorded prints the table [pace]
    instead of the plan: paste it into the job. Where no tool reaches part of the curve there is no plan, and --svg
    and --png draw the place out of reach.
    """
    options = {**{f"--{name}": file for name, file in files.items()}, "--job": job_file}
    targets = {option: file for option, file in options.items() if file is not None}
    check_targets(targets, job)
    if recorded is not None and STANDARD_OUTPUT in targets.values():
        raise click.UsageError("--recorded prints your pace on standard output. Give the other option a file's name.")
    names = {
        **NAMES,
        **{f"--{kind}": f"{picture}.{kind}" for kind in ("svg", "png")},
        **{option: _named(option, what, targets[option]) for option, what in NAMED.items() if option in targets},
    }
    how = How(look, move, tell=told("Drawing the cut, image"))
    if coarse and (ridge is not None or stations is not None):
        raise click.UsageError("--coarse finds the height of its steps itself: leave out --ridge and --settings.")
    try:
        made = planned(job, ridge, stations, tool)
        rough = coarse_plan(made) if coarse else None
        made = made if rough is None else rough.plan
    except CannotPlan as refused:
        wanted = {option: file for option, file in targets.items() if option in ("--svg", "--png")}
        raise _drawn(refused, job, ridge, tool, look, wanted if picture == "drawing" else {}) from None
    pace = None if recorded is None else fit_as_toml(_fit(made, recorded), len(made.moves))
    write_all({file: write(names[option], made, how) for option, file in targets.items()})
    if STANDARD_OUTPUT not in targets.values():
        say(printout(made, setup=setup, details=details, width=_columns()) if pace is None else pace)
        if rough is not None and pace is None:
            say(
                "\n".join(
                    [
                        "Coarse work",
                        *(line for text in coarse_lines(rough) for line in paragraph(text, _columns(), "  ", "    ")),
                        "",
                    ]
                )
            )


def _columns() -> int:
    """The width of the terminal, characters; the usual one where standard output is none."""
    return max(40, shutil.get_terminal_size((WIDTH, 24)).columns) if sys.stdout.isatty() else WIDTH


NAMED = {"--tradeoff": "tradeoff", "--animation": "cut"}
"""What each option writes whose file's name says in which format."""


def _named(option: str, what: str, file: str) -> str:
    """The format that a file's name ends with; on standard output the first one."""
    known = endings_of(what)
    ending = known[0] if file == STANDARD_OUTPUT else Path(file).suffix.lower().removeprefix(".")
    if ending in known:
        return f"{what}.{ending}"
    allowed = ", ".join(f".{each}" for each in known)
    says, remedy = "the end of its name does not say what to write", f"Name it so, such as {what}.{known[-1]}"
    raise JobFaults([Fault(option, file, allowed, says, remedy)])


def planned(path: Path, ridge: str | None, stations: int | None, tool: str | None) -> Plan:
    """The plan of a job's file; ridge, settings and tool of the command line go before those of the job.

    Raises click.UsageError where both ridge and settings are given; JobFaults and CannotPlan as reading and planning
    do.
    """
    if ridge is not None and stations is not None:
        raise click.UsageError("--ridge and --settings: each follows from the other. Give one of them.")
    job = read_job(path)
    height = None if ridge is None else _ridge(ridge, job)
    name = None if tool is None else _tool(tool, job)
    return make_plan(job, ridge=height, stations=stations, tool=name)


def _drawn(
    refused: CannotPlan, path: Path, ridge: str | None, tool: str | None, look: Mode, wanted: Mapping[str, str]
) -> CannotPlan:
    """The refusal, once what is out of reach is drawn into the files wanted (option -> file); it then says so."""
    if not wanted:
        return refused
    job = read_job(path)
    found = unreached(job, ridge=None if ridge is None else _ridge(ridge, job), tool=tool)
    if not found:
        return refused
    svg = unreached_as_svg(unreached_view(job, found), mode=look)
    try:
        write_all({file: svg if option == "--svg" else svg_as_png(svg) for option, file in wanted.items()})
    except OutputError as wrong:
        return CannotPlan([*refused.faults, *wrong.faults])
    files = [file for file in wanted.values() if file != STANDARD_OUTPUT]
    refused.add_note(f"What is out of reach is drawn {'in ' + ' and '.join(files) if files else 'in the output'}.")
    return refused


def _ridge(text: str, job: Job) -> float:
    """The ridge given on the command line, mm."""
    unit = job.units
    height = parse_length(text, unit, "--ridge")
    fault = ridge_fault("--ridge", text, height, (job.shop.cross, job.shop.saddle), unit)
    if fault is not None:
        raise JobFaults([fault])
    return height


def _tool(name: str, job: Job) -> str:
    """The name of a tool that is in the drawer."""
    names = [tool.name for tool in job.shop.tools]
    if name in names:
        return name
    near = nearest(name, names)
    remedy = f'Did you mean "{near}"?' if near else "Name one of them"
    raise JobFaults([Fault("--tool", name, ", ".join(names), "there is no such tool in the drawer", remedy)])


def _fit(made: Plan, file: str) -> Fit:
    """The pace of a recorded run of the plan."""
    run = read_recording(file, len(made.moves))
    by_move = work_counts_by_move(made, loads(made))
    work_counts = [by_move[each.move - 1] for each in run]
    took, cutting = sum(each.seconds for each in run), sum(each.feed_seconds for each in work_counts)
    if took <= cutting:
        says = "all moves together take no longer than their cuts alone at the feed assumed"
        remedy = "Time every move from the end of the one before, in seconds"
        raise JobFaults([Fault(file, f"{took:.0f} s", f"more than {cutting:.0f} s", says, remedy)])
    return fitted(made.job.shop.pace, work_counts, [each.seconds for each in run])
