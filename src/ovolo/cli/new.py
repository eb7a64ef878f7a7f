"""`ovolo new`: a job from a drawing, or from a form and a few answers."""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import click

from ovolo.cli.output import STANDARD_OUTPUT, check_targets, write_all
from ovolo.documents.new_job import NewJob, NewTool, bar_for, hole_for, job_text
from ovolo.documents.reading import job_from_data
from ovolo.documents.starting import (
    form_outline,
    sizes_told,
    usual_curve,
    usual_facing,
    usual_stick_out,
    usual_tools,
)
from ovolo.documents.starts import STARTS, Start, usual_size
from ovolo.errors import Fault, FaultsFound, JobFaults
from ovolo.geometry.outline import Outline
from ovolo.part.files import Asked, Drawing, counted, read_drawing
from ovolo.part.part import Surface
from ovolo.show.drawing.understood import understood_as_svg
from ovolo.show.paper.typeset import svg_as_png
from ovolo.units import Unit, format_length, from_mm, parse_length

__all__ = ["new"]

_T = TypeVar("_T")

_OPTION_OF = {
    "units": "--drawing-units",
    "axis": "--axis",
    "gap": "--gap",
    "smooth": "--smooth",
    "free_end": "--free-end",
    "layers": "--layer",
    "without": "--without",
}
"""What a reader calls the thing that would help -> the option here."""


@dataclass
class _Answers:
    """Options as given, faults as found; asks at a terminal, and takes the usual value where there is none."""

    unit: Unit
    asks: bool
    faults: list[Fault] = field(default_factory=list)

    def length(self, option: str, text: str | None, *, zero: bool = False) -> float | None:
        """A length from an option, mm; a fault is kept and None returned where it is none."""
        if text is None:
            return None
        value = self.kept(lambda: parse_length(text, self.unit, option))
        if value is not None and (value < 0 or (value == 0 and not zero)):
            limit = "0 or more" if zero else "more than 0"
            self.faults.append(Fault(option, text, limit, "the length is too small", "Write how long it is"))
        return value

    def kept(self, read: Callable[[], _T]) -> _T | None:
        """What `read` gives; its faults are kept, and then it is None."""
        try:
            return read()
        except FaultsFound as wrong:
            self.faults.extend(wrong.faults)
            return None

    def asked(self, option: str, given: str | None, question: str, usual: str) -> str:
        """An option's text: as given, as answered, or as usual."""
        if given is not None:
            return given
        return str(click.prompt(question, default=usual, err=True)) if self.asks else usual

    def stop_if_wrong(self) -> None:
        """Raise JobFaults with all faults kept, if any."""
        if self.faults:
            raise JobFaults(self.faults)


@click.command()
@click.option(
    "--from", "source", type=click.Path(path_type=Path), metavar="FILE", help="A drawing: DXF, SVG, CSV, STEP."
)
@click.option("--form", type=click.Choice(list(STARTS)), help="Start from a form instead of a drawing.")
@click.option("--size", "sizes", multiple=True, metavar="NAME=LENGTH", help="A size of the form, such as diameter=18.")
@click.option(
    "-o", "--output", "target", required=True, metavar="JOB.toml", help="File of the new job; - for the screen."
)
@click.option("--units", type=click.Choice(["mm", "in"]), help="The unit of the job and of the lengths given here.")
@click.option("--title", help="What the part is called.")
@click.option("--material", help="What it is made of.")
@click.option("--surface", type=click.Choice(["outside", "bore"]), help="Which surface is turned.")
@click.option("--diameter", metavar="LENGTH", help="Diameter of the bar.")
@click.option("--hole", metavar="LENGTH", help="Diameter of the hole already there, for a bore.")
@click.option("--proud", metavar="LENGTH", help="Facing allowance, in front of the finished end.")
@click.option("--stick-out", metavar="LENGTH", help="From the chuck jaws to the finished end.")
@click.option(
    "--tool", "tools", multiple=True, metavar="TOOL", help='"round 3", "right 0.4" or "left 0.4": nose radius.'
)
@click.option("--ridge", metavar="LENGTH", help="Highest ridge allowed.")
@click.option("--curve", nargs=2, metavar="Z Z", help="The part of the outline to finish in settings, from z to z.")
@click.option("--drawing-units", type=click.Choice(["mm", "in"]), help="Unit of a drawing that does not give one.")
@click.option("--axis", metavar="AXIS", help='The axis in the drawing: x, y, "y=12.5", "x=40", "0,0 100,30".')
@click.option("--free-end", type=click.Choice(["right", "left", "top", "bottom"]), help="Where the free end is drawn.")
@click.option("--layer", "layers", multiple=True, metavar="NAME", help="Take only this layer; may be repeated.")
@click.option("--without", multiple=True, metavar="NAME", help="Leave this layer out; may be repeated.")
@click.option("--gap", metavar="LENGTH", help="Join ends up to this far apart (0.01 mm).")
@click.option("--tolerance", metavar="LENGTH", help="Largest distance of arcs from curves or points (0.001 mm).")
@click.option("--smooth", metavar="LENGTH", help="Smooth measured points within this distance.")
@click.option("--picture", "picture_file", metavar="FILE", help="Also draw how the file was understood: .svg or .png.")
@click.option("--replace", is_flag=True, help="Overwrite a job of that name.")
@click.option("--yes", is_flag=True, help="Ask nothing: take the usual value wherever no option gives another.")
def new(target: str, source: Path | None, form: str | None, picture_file: str | None, **given: Any) -> None:
    """Start a job from a drawing, or from a form.

    At a terminal it asks for what no option gives; elsewhere it takes the usual value and reports it. If anything is
    wrong, nothing is written.
    """
    if (source is None) == (form is None):
        raise click.UsageError(f"Give a drawing by --from, or a form by --form: {', '.join(STARTS)}.")
    if source is None and picture_file is not None:
        raise click.UsageError("--picture shows what is in a drawing: it goes with --from.")
    _check_picture(picture_file)
    files = {"--output": target} | ({"--picture": picture_file} if picture_file is not None else {})
    check_targets(files, source or Path())
    _check_free(target, replace=given["replace"])
    asks = sys.stdin.isatty() and not given["yes"]
    if source is not None:
        _from_drawing(source, target, picture_file, given, asks)
    else:
        _from_form(str(form), target, given, asks)


def _check_free(target: str, *, replace: bool) -> None:
    if target != STANDARD_OUTPUT and Path(target).exists() and not replace:
        raise click.UsageError(f"{target} is there already. Name another file, or add --replace.")


def _from_drawing(source: Path, target: str, picture_file: str | None, given: dict[str, Any], asks: bool) -> None:
    answers = _Answers(_job_unit(given, asks), asks)
    shop = _shop(given, answers)
    asked = _asked(answers, given)
    answers.stop_if_wrong()
    drawing = _read(source, asked, asks=asks)
    _tell(drawing, source, answers.unit)
    made = _job(drawing.outline, drawing.surface, f"Read from {source.name}", source.stem, given, answers, shop)
    texts = _checked(made, target)
    if picture_file is not None:
        # Seen before the job is written, and before anything is planned.
        write_all({picture_file: _picture(drawing, source.name, answers.unit, picture_file)})
        click.echo(f"Picture: {picture_file}", err=True)
    if asks and not click.confirm("Is that the part?", default=True, err=True):
        raise click.UsageError(
            "No job was written. --axis, --layer, --free-end and other options set how the drawing is read."
        )
    write_all(texts)


def _from_form(name: str, target: str, given: dict[str, Any], asks: bool) -> None:
    answers = _Answers(_job_unit(given, asks), asks)
    start = STARTS[name]
    shop = _shop(given, answers)
    told = _told_sizes(start, given["sizes"], answers)
    answers.stop_if_wrong()
    surface: Surface = given["surface"] or start.surface
    try:
        sizes = sizes_told(start, _sizes(start, told, answers), answers.unit)
        _, outline = form_outline(start, sizes, surface, answers.unit)
    except JobFaults as wrong:
        raise JobFaults(_as_size(f) for f in wrong.faults) from None
    source = f"Started from a form: {start.says}"
    given = {**given, "material": given["material"] or start.material}
    made = _job(outline, surface, source, start.says.capitalize(), given, answers, shop)
    write_all(_checked(made, target))


def _picture(drawing: Drawing, name: str, unit: Unit, target: str) -> str | bytes:
    """What was understood, as the name of its file says."""
    svg = understood_as_svg(drawing, name, unit)
    return svg_as_png(svg) if Path(target).suffix.lower() == ".png" else svg


def _check_picture(target: str | None) -> None:
    """Refuse a picture whose name says what no picture is written as; without an ending it is an SVG."""
    ending = "" if target in (None, STANDARD_OUTPUT) else Path(str(target)).suffix.lower()
    if ending not in ("", ".svg", ".png"):
        raise click.UsageError(f"--picture writes .svg or .png, and {target} ends in {ending}.")


def _job_unit(given: Mapping[str, Any], asks: bool) -> Unit:
    unit: Unit | None = given["units"]
    if unit is None and asks:
        unit = click.prompt("Units of the job", type=click.Choice(["mm", "in"]), default="mm", err=True)
    return unit or "mm"


def _asked(answers: _Answers, given: Mapping[str, Any]) -> Asked:
    usual = Asked()
    gap = answers.length("--gap", given["gap"])
    tolerance = answers.length("--tolerance", given["tolerance"])
    smooth = answers.length("--smooth", given["smooth"])
    return Asked(
        unit=given["drawing_units"] or given["units"],
        surface=given["surface"] or "outside",
        axis=given["axis"],
        free_end=given["free_end"],
        layers=tuple(given["layers"]),
        without=tuple(given["without"]),
        gap=gap or usual.gap,
        tolerance=tolerance or usual.tolerance,
        smooth=smooth,
    )


def _read(source: Path, asked: Asked, *, asks: bool) -> Drawing:
    """The drawing; at a terminal, its unit and its axis are requested where it does not show them."""
    questions = {"units": "Units of the drawing (mm, in)", "axis": "Where is the axis (x, y, y=12.5, x=40)"}
    while True:
        try:
            return read_drawing(source, asked)
        except JobFaults as wrong:
            where = wrong.faults[0].where
            if not asks or where not in questions:
                raise JobFaults(_as_option(f) for f in wrong.faults) from None
            click.echo(str(wrong), err=True)
            answer = click.prompt(questions.pop(where), type=_UNITS if where == "units" else None, err=True)
            asked = (
                replace(asked, unit="in" if answer == "in" else "mm")
                if where == "units"
                else replace(asked, axis=answer)
            )


_UNITS = click.Choice(["mm", "in"])


def _as_option(fault: Fault) -> Fault:
    """A fault of a reader, named after the option that would help."""
    return Fault(_OPTION_OF.get(fault.where, fault.where), fault.value, fault.limit, fault.says, fault.remedy)


def _as_size(fault: Fault) -> Fault:
    """A fault of a form, named after the size that was given."""
    where = f"--size {fault.where.removeprefix('sizes.')}"
    return Fault(where, fault.value, fault.limit, fault.says, fault.remedy)


def _tell(drawing: Drawing, source: Path, unit: Unit) -> None:
    """What was understood, in a few lines."""
    x0, _, x1, y1 = drawing.outline.bounds()
    digits = 4 if unit == "in" else 3
    length, wide = format_length(x1 - x0, unit, digits), format_length(2 * y1, unit, digits)
    click.echo(f"{source.name}: {counted(drawing.outline)}, {length} long, Ø {wide}", err=True)
    for note in drawing.notes:
        click.echo(f"  – {note}", err=True)


def _told_sizes(start: Start, given: tuple[str, ...], answers: _Answers) -> dict[str, str]:
    """The sizes given as options; every fault in them is kept."""
    told: dict[str, str] = {}
    for text in given:
        name, equals, value = (part.strip() for part in text.partition("="))
        if not equals or name not in start.sizes:
            known = ", ".join(start.sizes)
            answers.faults.append(Fault("--size", text, known, "it is no size of this form", "Write NAME=LENGTH"))
        else:
            answers.length(f"--size {name}", value)
            told[name] = value
    return told


def _sizes(start: Start, told: Mapping[str, str], answers: _Answers) -> dict[str, str]:
    """Every size of the form: as given, as answered, or as usual."""
    sizes: dict[str, str] = {}
    for name in start.sizes:
        usual = usual_size(start, name, answers.unit, sizes)
        sizes[name] = answers.asked("--size", told.get(name), name.replace("_", " ").capitalize(), usual)
    return sizes


@dataclass(frozen=True)
class _Shop:
    """What the options say of bar, tools and finish, mm; None where they say nothing."""

    diameter: float | None
    hole: float | None
    proud: float | None
    stick_out: float | None
    ridge: float | None
    tools: tuple[NewTool, ...]
    curve: tuple[float, ...]


def _shop(given: Mapping[str, Any], answers: _Answers) -> _Shop:
    """Options of the shop; every fault in them is kept."""
    found = [answers.kept(partial(_tool, text, answers.unit)) for text in given["tools"]]
    ends = [answers.kept(partial(parse_length, text, answers.unit, "--curve")) for text in given["curve"] or ()]
    return _Shop(
        answers.length("--diameter", given["diameter"]),
        answers.length("--hole", given["hole"]),
        answers.length("--proud", given["proud"], zero=True),
        answers.length("--stick-out", given["stick_out"]),
        answers.length("--ridge", given["ridge"]),
        tuple(tool for tool in found if tool is not None),
        tuple(z for z in ends if z is not None),
    )


def _job(
    outline: Outline,
    surface: Surface,
    source: str,
    title: str,
    given: Mapping[str, Any],
    answers: _Answers,
    shop: _Shop,
) -> NewJob:
    """The job from the outline and all other answers. Raises JobFaults with every fault in them."""
    unit = answers.unit
    title = answers.asked("--title", given["title"], "Title", title)
    diameter = shop.diameter or _supplied("--diameter", "Diameter of the bar", bar_for(outline, surface, unit), answers)
    hole = shop.hole
    if surface == "bore" and hole is None:
        hole = _supplied("--hole", "Diameter of the hole already there", hole_for(outline, unit), answers)
    tools = shop.tools or _usual_drawer(surface, answers)
    answers.stop_if_wrong()
    proud = usual_facing(unit) if shop.proud is None else shop.proud
    stick_out = usual_stick_out(outline, unit) if shop.stick_out is None else shop.stick_out
    for option, taken, given_one in (("--proud", proud, shop.proud), ("--stick-out", stick_out, shop.stick_out)):
        if given_one is None:
            _say_taken(option, _shown(taken, unit), answers)
    return NewJob(
        title, unit, surface, outline, diameter, tools, source,
        given["material"], hole, proud, stick_out, shop.ridge, shop.curve or usual_curve(outline),
    )  # fmt: skip


def _usual_drawer(surface: Surface, answers: _Answers) -> tuple[NewTool, ...]:
    """The usual tools, or the one that is answered."""
    usual = usual_tools(answers.unit, surface)
    text = answers.asked("--tool", None, 'Tool and its nose radius ("round 3"), or the usual drawer', _USUAL)
    if text != _USUAL:
        tool = answers.kept(partial(_tool, text, answers.unit))
        return () if tool is None else (tool,)
    _say_taken("--tool", ", ".join(tool.name for tool in usual), answers)
    return usual


_USUAL = "usual"
"""The answer that takes the usual drawer."""


def _supplied(option: str, question: str, usual: float, answers: _Answers) -> float:
    """A length that no option gave: as answered, or as usual."""
    text = answers.asked(option, None, question, _shown(usual, answers.unit))
    _say_taken(option, text, answers)
    return answers.length(option, text) or 0.0


def _say_taken(option: str, text: str, answers: _Answers) -> None:
    if not answers.asks:
        click.echo(f"No {option} was given: {text} was taken.", err=True)


def _shown(mm: float, unit: Unit) -> str:
    return f"{round(from_mm(mm, unit), 6):g} {unit}"


def _tool(text: str, unit: Unit) -> NewTool:
    """A tool from "round 3", "right 0.4", "left 1/64 in": its kind and its nose radius."""
    kind, _, size = text.strip().partition(" ")
    if kind not in ("round", "right", "left") or not size:
        says = "it is not a kind of tool and its nose radius"
        raise JobFaults(
            [Fault("--tool", text, "round, right, left", says, 'Write "round 3", "right 0.4" or "left 0.4"')]
        )
    radius = parse_length(size, unit, "--tool")
    if radius <= 0:
        raise JobFaults([Fault("--tool", text, "more than 0", "its nose has no radius", "Write its nose radius")])
    shown = size.strip()
    if kind == "round":
        return NewTool(f"round nose, radius {shown}", "round", radius)
    return NewTool(f"{kind}-hand knife, nose {shown}", "pointed", radius, kind)


def _checked(made: NewJob, target: str) -> dict[str, str]:
    """The job's text by its file, once it has been read back without a fault."""
    text = job_text(made)
    try:
        job_from_data(tomllib.loads(text))
    except JobFaults as wrong:
        raise JobFaults(replace(f, where=_FIELD.get(f.where, f.where)) for f in wrong.faults) from None
    return {target: text}


_FIELD = {
    "stock.diameter": "--diameter",
    "stock.hole": "--hole",
    "stock.proud": "--proud",
    "stock.stick_out": "--stick-out",
    "finish.ridge": "--ridge",
    "part.material": "--material",
    "part.curve": "--curve",
}
"""A field of the job -> the option that it came from."""
