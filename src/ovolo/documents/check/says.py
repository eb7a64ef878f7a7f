"""What Check has found, in sentences: for the document, the command and the page alike."""

from collections.abc import Sequence

from ovolo.check.checking import Checked, Found, Undecided
from ovolo.check.correction import Stretch
from ovolo.check.doubts import Doubt
from ovolo.errors import Fault
from ovolo.plan.model import Plan
from ovolo.units import Unit, from_mm

__all__ = [
    "advice_says",
    "cause_says",
    "cause_title",
    "correction_says",
    "fine",
    "question",
    "radius_says",
    "undecided_says",
    "verdict_says",
]

K = 2.0


def fine(mm: float, unit: Unit, *, bare: bool = False) -> str:
    """A small length to the micrometre, or to a ten-thousandth of an inch.

    >>> fine(0.0931, "mm"), fine(0.05, "mm"), fine(0.05, "in"), fine(3.2, "mm")
    ('0.093 mm', '0.05 mm', '0.0020 in', '3.2 mm')
    """
    text = f"{from_mm(mm, unit):z.3f}".rstrip("0").rstrip(".") if unit == "mm" else f"{from_mm(mm, unit):z.4f}"
    return text if bare else f"{text} {unit}"


def _about(value: float, u: float, unit: Unit) -> str:
    """A value and its expanded uncertainty, k = 2."""
    return f"{fine(abs(value), unit)} (±{fine(K * u, unit, bare=True)})"


def cause_title(found: Found) -> str:
    """A cause in a few words."""
    tool = f" of {found.cause.tool}" if found.cause.tool else ""
    return {
        "cross_offset": f"Cross slide{tool} out of step",
        "saddle_offset": f"Saddle{tool} out of step",
        "nose_radius": f"Nose radius{tool}",
        "taper": "Taper",
        "centre_height": "Tool off centre height",
        "counts_twice": "Cross slide reads diameters",
        "counts_half": "Cross slide reads radii",
        "backlash": "Backlash",
        "setting": "One figure set wrong",
    }[found.cause.name]


def cause_says(found: Found, plan: Plan) -> str:
    """A cause as a sentence that says what to do."""
    unit, cause, value = plan.job.units, found.cause, found.value
    about = _about(value, found.u, unit)
    whose = f" of {cause.tool}" if cause.tool else ""
    if cause.name == "cross_offset":
        side = "farther from the axis than its figure" if value > 0 else "nearer to the axis than its figure"
        return f"The tool{whose} was {about} {side}: correct the cross slide's readout, or touch off again."
    if cause.name == "saddle_offset":
        side = "too far from the chuck" if value > 0 else "too near to the chuck"
        return f"The tool{whose} was {about} {side}: correct the saddle's readout, or touch off again."
    if cause.name == "nose_radius":
        return _nose_says(found, plan, unit)
    if cause.name == "taper":
        way = "larger" if value > 0 else "smaller"
        each = fine(2000 * abs(value), unit, bare=unit == "in")
        each = f"{2 * abs(value) * 100:.2g} {unit}"
        return (
            f"The diameter gets {each} {way} for every 100 {unit} toward the chuck "
            f"(±{2 * K * found.u * 100:.1g}): check the tailstock or the headstock, or the bar bends."
        )
    if cause.name == "centre_height":
        return f"The tool was {about} off centre height: small diameters came out large. Set it and touch off again."
    if cause.name == "counts_twice":
        return "The cross slide reads diameters, the plan took it for one that reads radii: correct slide.cross.reads."
    if cause.name == "counts_half":
        return "The cross slide reads radii, the plan took it for one that reads diameters: correct slide.cross.reads."
    if cause.name == "backlash":
        slide = "cross slide" if cause.slide == "cross" else "saddle"
        return f"The {slide} stopped {about} short whenever it was wound back to its figure: take up the backlash."
    move = plan.moves[cause.move or 0]
    slide = "cross slide" if cause.slide == "cross" else "saddle"
    way = ("out" if value > 0 else "in") if cause.slide == "cross" else ("away from" if value > 0 else "toward")
    tail = "" if cause.slide == "cross" else " the chuck"
    return (
        f"Move {move.n} ({move.shown}): the {slide} was {about} too far {way}{tail}. Set it again and repeat the cut."
    )


def _nose_says(found: Found, plan: Plan, unit: Unit) -> str:
    tool = next(tool for tool in plan.tools if tool.name == found.cause.tool)
    true = tool.nose_radius + found.value
    digits = max(fine(true, unit, bare=True), "")
    return (
        f"The nose of {tool.name} is R {digits} rather than R {fine(tool.nose_radius, unit, bare=True)} "
        f"(±{fine(K * found.u, unit)}). Measure it, or enter {digits}."
    )


def undecided_says(found: Undecided, plan: Plan) -> str:
    """Causes that cannot be separated, and the reading that would decide."""
    unit = plan.job.units
    each = "; or ".join(f"{cause_title(f).lower()} by {_value(f, unit)}" for f in found.between)
    says = f"These readings fit as well: {each}."
    if found.read is None:
        return f"{says} A single reading would not separate them: touch off again, and measure the nose."
    z, place = fine(found.read.z, unit), fine(found.read.u_z, unit)
    return f"{says} A reading at z {z}, its place known to {place} (by the saddle's readout or a stop), would decide."


def _value(found: Found, unit: Unit) -> str:
    if found.cause.name == "taper":
        return f"{found.value * 100:+.2g} {unit} of radius in 100 {unit}"
    return "" if found.cause.fixed is not None else f"{fine(found.value, unit)}"


def question(doubt: Doubt, checked: Checked) -> Fault:
    """A reading that cannot be right as it is written, as a question."""
    unit, lines = checked.plan.job.units, checked.lines
    reading = lines[doubt.rows[0]].reading
    name = f"{reading.where}.{reading.column}"
    value = float(fine(reading.written, unit, bare=True))
    if len(doubt.rows) > 2:
        return _whole(doubt, reading.column)
    if doubt.kind == "disagree":
        other = lines[doubt.rows[1]].reading
        says = f"at the same place {other.where} is {fine(other.written, unit)}: the two cannot both be right"
        return Fault(name, value, "", says, "Which is right? Measure there again; until then both count for less")
    if doubt.kind == "off the part":
        z = float(fine(reading.z, unit, bare=True))
        ends = checked.plan.job.part.outline
        limit = f"{fine(ends.end.x, unit)} to {fine(ends.start.x, unit)}"
        return Fault(f"{reading.where}.z", z, limit, "that place is off the part", "Was z meant to be negative?")
    meant = "" if doubt.meant is None else fine(doubt.meant, unit)
    says = _SLIPS[doubt.kind]
    remedy = f"Did you mean {meant}?" if doubt.kind != "far" else f"The others say about {meant}: measure there again"
    return Fault(name, value, "", says, remedy)


_SLIPS = {
    "halved": "this looks like a radius where a diameter is wanted",
    "doubled": "this looks like a diameter where a radius is wanted",
    "inches": "this looks like inches in a job in millimetres",
    "millimetres": "this looks like millimetres in a job in inches",
    "swapped": "two digits look swapped",
    "point": "the decimal point looks misplaced",
    "digit": "one digit looks wrong",
    "far": "this is far from what all other readings say",
}


def _whole(doubt: Doubt, column: str) -> Fault:
    says = {
        "halved": "every reading is about half of what it should be",
        "doubled": "every reading is about twice what it should be",
        "inches": "every reading is about 25.4 times too small: inches?",
        "millimetres": "every reading is about 25.4 times too large: millimetres?",
    }[doubt.kind]
    remedy = {
        "halved": "If these are radii, head the column r",
        "doubled": "If these are diameters, head the column d",
        "inches": "Write them in the units of the job",
        "millimetres": "Write them in the units of the job",
    }[doubt.kind]
    return Fault(f"readings.{column}", None, "", says, f"{remedy}; if the part is so, check what the cross slide reads")


def radius_says(checked: Checked) -> list[str]:
    """The radius that the readings have by themselves, as a sentence; nothing where they have none."""
    if checked.radius is None:
        return []
    unit, found = checked.plan.job.units, checked.radius
    own, wanted = fine(found.radius, unit), fine(found.wanted, unit)
    return [f"The readings alone lie on R {own} (±{fine(K * found.u, unit, bare=True)}); wanted is R {wanted}."]


def verdict_says(checked: Checked) -> str:
    """The verdict as a sentence."""
    unit, judged = checked.plan.job.units, checked.judged
    allowed = f"allowed are {fine(checked.limits.above, unit)} above and {fine(checked.limits.below, unit)} below"
    if judged is None:
        return f"Cannot tell: no reading lies on the finished curve; {allowed}.{_unseen(checked, unit)}"
    if checked.held:
        says = f"Cannot tell until the questions about the readings are answered; {allowed}."
        return f"{says}{_unseen(checked, unit)}"
    size = (
        f"at most {fine(judged.above, unit)} above the outline and {fine(judged.below, unit)} below "
        f"(±{fine(K * judged.u, unit, bare=True)}); {allowed}"
    )
    return f"{judged.verdict.capitalize()}: {size}.{_unseen(checked, unit)}"


def _unseen(checked: Checked, unit: Unit) -> str:
    """What hides under a lip, which no caliper reaches."""
    if not checked.unseen:
        return ""
    each = ", ".join(
        f"z {fine(high, unit, bare=True)} to {fine(low, unit, bare=True)}" for low, high in _spans(checked)
    )
    return f" Not judged, hidden by an overhang: {each}. Hold a gauge against it (ovolo gauge)."


def _spans(checked: Checked) -> list[tuple[float, float]]:
    """The ends of what hides, lesser z first."""
    return [(h.low, h.high) for h in checked.unseen]


def correction_says(checked: Checked) -> list[str]:
    """What to do, sentence by sentence."""
    said, fix, unit = list(_first(checked)), checked.correction, checked.plan.job.units
    if fix.nothing or checked.held or checked.judged is None:
        return said
    if fix.missing:
        return said + _missing(checked, unit)
    if fix.hold == "undecided":
        return [*said, _HOLDS[fix.hold]]
    if fix.hold:
        said.append(_HOLDS[fix.hold])
    elif fix.cut is not None and fix.plan is not None:
        moves = len(fix.plan.moves)
        said.append(f"Cut again from z {_range(fix.cut, unit)}: {moves} moves, {fix.plan.stations} settings.")
    elif fix.cut is not None:
        said.append(f"From z {_range(fix.cut, unit)} up to {fine(fix.cut.layer, unit)} remains. No plan: {fix.refused}")
    said += [f"File {fine(s.layer, unit)} off from z {_range(s, unit)}: too thin a layer to cut." for s in fix.file]
    if not fix.file and fix.cut is None:
        said.append("Nothing is surely too high or too low: measure where the list says, then check again.")
    else:
        said.append("Then measure again.")
    return said


_HOLDS = {
    "undecided": "More than one cause fits, and no single cut corrects the part whichever it is: take the "
    "reading named first.",
    "rechucked": "The part was taken out of the chuck: in three jaws it now runs out by 0.05 to 0.1 mm (common "
    "practice, no source), more than this correction. File only, or clock it true and touch off again.",
    "tool moved": "The tool was moved since the cut: touch off again before anything is cut, then leave the shift out.",
}


def _first(checked: Checked) -> list[str]:
    """What comes before any cut."""
    said, fix = [], checked.correction
    if not checked.measured.circumstances.cool:
        said.append("The part was warm when it was measured: let it cool, then measure again.")
    if checked.judged is None:
        said.append("Measure on the finished curve, with jaws that reach over nothing else.")
    elif checked.held:
        said.append("Answer the questions above, then check again.")
    elif fix.nothing:
        said.append("Nothing need be done.")
    shop = checked.plan.job.shop
    for name, by in fix.shift.items():
        slide, called = (shop.cross, "cross slide") if name == "cross" else (shop.saddle, "saddle")
        digits = slide.decimals
        if round(by, digits):
            said.append(
                f"Add {by:+.{digits}f} to what the {called}'s readout shows, the slide standing still; or leave the "
                f"readout and change every figure of that slide by {-by:+.{digits}f}. One of the two, until the tool "
                "is touched off again."
            )
    return said


def _missing(checked: Checked, unit: Unit) -> list[str]:
    fix = checked.correction
    judged = checked.judged
    said = [f"Metal is missing: up to {fine(fix.missing, unit)}. No cut brings it back."]
    if judged is not None and judged.above > checked.limits.above:
        said.append(
            "Elsewhere too much is left: what was cut too deep on one side stands on the other, so no shift helps."
        )
    only = {found.cause.name for found in checked.causes}
    if only == {"saddle_offset"}:
        by = fine(abs(checked.causes[0].value), unit)
        said.append(
            f"The curve itself is right, {by} nearer to the chuck: good where its place along the part is free."
        )
    smaller = fix.smaller
    if smaller is not None and smaller.radius is not None:
        kind = "A smaller ball" if smaller.convex else "A longer radius"
        word = "smaller" if smaller.convex else "longer"
        said.append(
            f"{kind} would still be good: R {fine(smaller.radius, unit)}, {fine(smaller.by, unit)} {word}, about the "
            "same centre; check that the drawing allows it."
        )
    elif smaller is not None:
        said.append(f"The same curve {fine(smaller.by, unit)} smaller all over would still be good.")
    return said


def _range(stretch: Stretch, unit: Unit) -> str:
    high, low = min(stretch.z[0], 0.0) if stretch.z[1] < 0 else stretch.z[0], stretch.z[1]
    return f"{from_mm(high, unit):z.2f} to {from_mm(low, unit):z.2f}"


def advice_says(names: Sequence[tuple[str, str]]) -> list[str]:
    """Pairs of causes that a list of places would leave undecided."""
    plain = {
        "cross_offset": "a cross slide that is out of step",
        "saddle_offset": "a saddle that is out of step",
        "nose_radius": "a nose that is not as entered",
        "taper": "a taper",
    }
    return [f"These places cannot separate {plain[a]} from {plain[b]}." for a, b in names if a != b]
