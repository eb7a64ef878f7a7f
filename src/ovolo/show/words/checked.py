"""What Check has found, as text for the command; and the list of what to measure."""

from ovolo.check.checking import Checked
from ovolo.check.measuring import Advice, Place
from ovolo.documents.check.says import (
    advice_says,
    cause_says,
    correction_says,
    fine,
    question,
    radius_says,
    undecided_says,
    verdict_says,
)
from ovolo.plan.model import Plan
from ovolo.units import Unit, format_figure, from_mm

__all__ = ["ASSUMED", "checked_as_text", "measuring_as_csv", "measuring_as_text", "place_rows", "worth_of"]

ASSUMED = "Taken: still in the chuck as turned, the tool untouched, the part cool. Say so where it is not."


def checked_as_text(checked: Checked, *, assumed: bool = True) -> str:
    """The verdict, the questions, the causes, what to do, and every reading."""
    parts = [verdict_says(checked), ""]
    if checked.doubts:
        parts += ["Questions", *(f"  {question(doubt, checked)}" for doubt in checked.doubts), ""]
    parts += ["Cause", *(f"  {line}" for line in _causes(checked)), ""]
    parts += [*radius_says(checked), ""] if checked.radius else []
    parts += ["What to do", *(f"  {line}" for line in correction_says(checked)), ""]
    parts += ["Readings, against the outline, square to it", *_table(checked)]
    if assumed:
        parts += ["", ASSUMED]
    return "\n".join(parts) + "\n"


def _causes(checked: Checked) -> list[str]:
    if checked.causes:
        return [cause_says(found, checked.plan) for found in checked.causes]
    if checked.undecided:
        return [undecided_says(each, checked.plan) for each in checked.undecided]
    if checked.judged is None or checked.held:
        return ["None is named: the readings do not allow it."]
    if not checked.fits:
        return ["No single cause explains the readings."]
    return ["None: what settings scatter by explains the readings."]


def _table(checked: Checked) -> list[str]:
    unit = checked.plan.job.units
    rows = [("z", "read", "planned", "deviation", "±", "")]
    digits = 3 if unit == "mm" else 4
    for line in checked.lines:
        reading, size = line.reading, 2.0 if line.reading.column == "d" else 1.0
        mark = "Ø " if reading.column == "d" else "R "
        rows.append(
            (
                format_figure(reading.z, unit, digits),
                mark + format_figure(size * reading.r, unit, digits),
                mark + format_figure(size * line.expected, unit, digits),
                f"{from_mm(line.deviation, unit):+.{digits}f}",
                format_figure(2 * line.u, unit, digits),
                "" if line.unused is None else f"not used: {line.unused}",
            )
        )
    wide = [max(len(row[i]) for row in rows) for i in range(5)]
    return ["  " + "  ".join([*(row[i].rjust(wide[i]) for i in range(5)), row[5]]).rstrip() for row in rows]


def place_rows(plan: Plan, advice: Advice) -> list[tuple[str, str, str, str, str]]:
    """The places to measure: z, what the plan leaves there, with what, how well, what for."""
    unit = plan.job.units
    return [_row(place, unit) for place in advice.places]


def _row(place: Place, unit: Unit) -> tuple[str, str, str, str, str]:
    by_readout = ", place by the saddle's readout or a stop" if place.by_readout else ""
    diameter = format_figure(2 * place.expected, unit, 2 if unit == "mm" else 3)
    return (
        format_figure(place.z, unit, 2 if unit == "mm" else 3),
        f"Ø {diameter}",
        place.instrument.name,
        fine(2 * place.u, unit, bare=True),
        place.brings + by_readout,
    )


def measuring_as_text(plan: Plan, advice: Advice) -> str:
    """What to measure, as a list; and whether that can decide the tolerance."""
    unit = plan.job.units
    rows = [("z", "about", "with", "±", "for"), *place_rows(plan, advice)]
    wide = [max(len(row[i]) for row in rows) for i in range(4)]
    table = ["  " + "  ".join([*(row[i].rjust(wide[i]) for i in range(4)), row[4]]) for row in rows]
    parts = [
        f"Measure {len(advice.places)} places, from the free end toward the chuck",
        *table,
        "",
        *_worth(advice, unit),
    ]
    parts += advice_says(advice.causes)
    if advice.next_best is not None:
        z, _, tool, _, what = _row(advice.next_best, unit)
        parts.append(f"One more helps most at z {z}, with the {tool}: {what}.")
    parts.append("Write them into a file: a header z,d and a line for each; then ovolo check JOB FILE.csv")
    return "\n".join(parts) + "\n"


def worth_of(advice: Advice, plan: Plan) -> list[str]:
    """What these places can decide, what they cannot, and where one more helps most."""
    unit = plan.job.units
    parts = [*_worth(advice, unit), *advice_says(advice.causes)]
    if advice.next_best is not None:
        z, _, tool, _, what = _row(advice.next_best, unit)
        parts.append(f"One more helps most at z {z}, with the {tool}: {what}.")
    return parts


def _worth(advice: Advice, unit: Unit) -> list[str]:
    limits = advice.limits
    allowed = f"{fine(limits.above, unit)} above and {fine(limits.below, unit)} below"
    known = f"The curve will be known to ±{fine(2 * advice.u, unit, bare=True)} {unit}"
    if advice.can_prove:
        return [f"{known}: enough to prove a part good that came out as planned ({allowed} allowed)."]
    least = f"{fine(advice.least_above, unit)} above and {fine(advice.least_below, unit)} below"
    return [
        f"{known}: not enough to prove the tolerance ({allowed}). A part just as planned is proved good from {least} "
        "on; read places better, or ask for a finer ridge."
    ]


def measuring_as_csv(plan: Plan, advice: Advice) -> str:
    """The list as a file to fill in: a header and a line for each place, the diameters left open."""
    unit = plan.job.units
    digits = 3 if unit == "mm" else 4
    rows = [
        f"{format_figure(place.z, unit, digits)},,{format_figure(place.instrument.over, unit, digits)}\n"
        for place in advice.places
    ]
    return "z,d,over\n" + "".join(rows)
