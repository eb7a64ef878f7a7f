"""What to expect of a plan: the few figures that matter in sentences, and the rest in groups for those who want it.

Nothing is shown to more digits than it deserves: forces and times to two figures, as published forces lie 25 % apart.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ovolo.cutting.filing import blend_steps
from ovolo.cutting.force import THINNEST_FITTED
from ovolo.cutting.pace import Pace, Times
from ovolo.cutting.scatter import Kind, Outlook
from ovolo.errors import spoken_place
from ovolo.plan.model import Plan
from ovolo.predict.forecast.outlook import Forecast
from ovolo.predict.loads.load import Loads, MoveLoad, Overload
from ovolo.predict.loads.spindle import Turning, hand_turns, material_of
from ovolo.shop.slides import Slide
from ovolo.show.words.figures import length_text, ridge_text, slide_name, speed_text
from ovolo.units import Unit, format_figure, from_mm, to_mm

__all__ = ["Group", "OutlookView", "about", "clock", "outlook_view"]


@dataclass(frozen=True)
class Group:
    """One matter in full: a heading and its lines."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class OutlookView:
    """`few`: the figures that matter, a sentence each. `cautions`: what is too much, with its remedy. `groups`: all."""

    few: tuple[str, ...]
    cautions: tuple[str, ...]
    groups: tuple[Group, ...]


def outlook_view(plan: Plan, expected: Forecast, *, spindle: bool = True) -> OutlookView:
    """What to expect, in the job's own unit; without `spindle` the few figures leave its speed out."""
    unit = plan.job.units
    said = (
        _spindle_sentence(plan, expected.loads) if spindle else "",
        _marked(_load_sentence(expected.loads, unit, plan.job.shop.lathe.stiffness), expected.loads, unit),
        _scatter_sentence(expected.scatter, unit),
        _time_sentence(expected.times, plan.job.shop.pace),
        _blend_sentence(plan, expected, unit),
    )
    groups = (
        Group("Spindle and feed", tuple(_spindle_lines(plan, expected.loads, unit))),
        Group("Load of each cut", tuple(_load_lines(expected.loads, unit))),
        Group("Where the outline will lie", tuple(_scatter_lines(expected.scatter, unit))),
        Group("Assumed errors (standard uncertainties)", tuple(_error_lines(plan, expected))),
        Group("Where the time goes", tuple(_time_lines(expected.times))),
        Group("The blend: filing and polishing the ridges away", (*_blend_lines(expected, unit), *blend_steps())),
    )
    doubts = (f"{spoken_place(each.where)}: {each.says}. {each.remedy}." for each in plan.job.doubts)
    cautions = (*doubts, *(_caution(over) for over in expected.loads.overloads), *expected.loads.missing)
    return OutlookView(
        tuple(sentence for sentence in said if sentence), cautions, tuple(group for group in groups if group.lines)
    )


def about(value: float, figures: int = 2) -> str:
    """A number to so many figures, without an exponent.

    >>> about(294.7), about(0.0123), about(8.96), about(0)
    ('290', '0.012', '9', '0')
    """
    if not value:
        return "0"
    near = float(f"{value:.{figures}g}")
    return f"{near:.10f}".rstrip("0").rstrip(".")


def _spindle_sentence(plan: Plan, found: Loads) -> str:
    row = material_of(plan)
    if row is None or not found.turnings:
        return ""
    many = len({run.tool for run in found.turnings}) > 1
    runs = ", ".join(f"{run.stage}{f' with {run.tool}' if many else ''} at {run.rpm:.0f}" for run in found.turnings)
    return f"Spindle for {row.name}: {runs} rev/min; never faster than chuck and lathe are marked for."


def _load_sentence(found: Loads, unit: Unit, stiffness: float | None) -> str:
    if not found.moves:
        return ""
    heavy = max(found.moves, key=lambda load: load.force)
    star = MARK if heavy.guess else ""
    force, power = f"{about(heavy.force)} N{star}", f"{about(heavy.power)} W{star}"
    said = f"Heaviest cut, move {heavy.n}: about {force} and {power} at the edge"
    known = [load for load in found.moves if load.bends is not None]
    if not known:
        return f"{said}."
    bent = max(known, key=lambda load: load.bends or 0.0)
    bends = _small(bent.bends or 0.0, unit) + (MARK if bent.guess else "")
    if stiffness is not None:
        return f"{said}. Bar and machine deflect by {bends} at most, at the {about(stiffness)} N/mm that you measured."
    return (
        f"{said}. The bar deflects by {bends} at most. Chuck, spindle, tool post and slides are not counted: measure "
        "them and give lathe.stiffness."
    )


MARK = "*"
"""Put behind every figure that the force law gives outside the range that it was fitted for."""


def _marked(said: str, found: Loads, unit: Unit) -> str:
    """A sentence, and where it has the mark what that means and how many cuts have it."""
    if MARK not in said:
        return said
    many, of = sum(load.guess for load in found.moves), len(found.moves)
    least = f"{about(from_mm(THINNEST_FITTED, unit), 1)} {unit}"
    return (
        f"{said} {MARK} A rough figure: {many} of {of} cuts have a chip thinner than {least}, for which the force law "
        "was not fitted. The true force may well be higher."
    )


def _small(mm: float, unit: Unit) -> str:
    """A bending: to a micron, or to a tenth of a thou; what is less is called so.

    >>> _small(0.0012, "mm"), _small(0.0003, "mm")
    ('0.001 mm', 'less than 0.001 mm')
    """
    least = 0.001 if unit == "mm" else 0.00254
    return ridge_text(mm, unit) if mm >= least else f"less than {ridge_text(least, unit)}"


def _scatter_sentence(scatter: Outlook | None, unit: Unit) -> str:
    """Where the outline will lie, the chance of too deep a place, and what would lessen it first."""
    if scatter is None:
        return ""
    said = (
        f"The finished outline will lie between {_off(scatter.low, unit)} and {_off(scatter.high, unit)} the drawn one "
        f"in 95 of 100 runs, ridges included. Chance of more than {ridge_text(scatter.depth, unit)} under it anywhere: "
        f"{_percent(scatter.below)}."
    )
    if not scatter.shares:
        return said
    first = scatter.shares[0]
    less = ridge_text(first.narrower, unit)
    return f"{said} {_cause(first.kind).capitalize()} adds most, {less}: {LESSEN[first.kind]}."


def _cause(kind: Kind) -> str:
    """A cause of scatter as it is called in a sentence."""
    return {"nose": "the nose radius", "setting": "setting the slides"}.get(kind, kind)


LESSEN: dict[Kind, str] = {
    "touching off": "measure the first finished diameter and length, and correct the figures by the errors found",
    "setting": "come to each figure slowly from the same side, and read again after locking",
    "backlash": "take up the backlash before each figure, or fit a readout",
    "nose": "measure the nose radius, and write it with its uncertainty (tool.nose_radius_u)",
    "centre height": "set the tool to centre height by a facing cut that leaves no pip",
    "bending": "support the bar on a centre, or leave less for finishing",
}
"""What lessens each cause of scatter first (common practice, no source)."""


def _off(mm: float, unit: Unit) -> str:
    """A height as so much under or over.

    >>> _off(-0.0204, "mm"), _off(0.08, "mm")
    ('0.020 mm under', '0.080 mm over')
    """
    return f"{ridge_text(abs(mm), unit)} {'under' if mm < 0 else 'over'}"


def _percent(share: float) -> str:
    """A chance in per cent, no finer than the draws know it.

    >>> _percent(0.034), _percent(0.0004), _percent(0.9996)
    ('3 %', 'under 1 %', 'over 99 %')
    """
    if share < 0.01:
        return "under 1 %"
    return "over 99 %" if share > 0.99 else f"{100 * share:.0f} %"


def _time_sentence(times: Times, pace: Pace) -> str:
    parts = sorted(_parts(times), key=lambda part: -part[1])[:3]
    most = ", ".join(f"{name} {clock(seconds)}" for name, seconds in parts)
    whose = "working steadily" if pace == Pace() else "at your own pace"
    return f"It takes about {clock(times.total)} {whose}: {most}, and the rest."


def _parts(times: Times) -> list[tuple[str, float]]:
    names = {
        "winding": "winding",
        "setting": "setting and reading",
        "locking": "locking",
        "tools": "setting tools",
        "measuring": "measuring",
        "feeding": "cutting",
        "filing": "filing",
    }
    return [(names[name], seconds) for name, seconds in times._asdict().items()]


def clock(seconds: float) -> str:
    """Seconds under two minutes, else minutes, hours where there are some.

    >>> clock(42), clock(893), clock(7500)
    ('42 s', '15 min', '2 h 05 min')
    """
    if seconds < 120:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    return f"{minutes} min" if minutes < 90 else f"{minutes // 60} h {minutes % 60:02} min"


def _blend_sentence(plan: Plan, expected: Forecast, unit: Unit) -> str:
    blend = expected.blend
    if blend.ridge <= 0:
        return ""
    over = ridge_text(blend.lowering.ridges, unit)
    if plan.job.part.surface == "bore":
        return (
            f"Ridges: about {_volume_text(blend.volume, unit)} of metal. No file, no finger and no emery on a finger "
            f"goes into a turning bore. Taken off, they make the diameter up to {over} larger."
        )
    return (
        f"To file: about {_volume_text(blend.volume, unit)} of metal, up to {over} off the diameter over the ridges. "
        f"Stop when the blue just leaves the valleys."
    )


def _volume_text(volume: float, unit: Unit) -> str:
    """A volume in mm³, in the job's unit.

    >>> _volume_text(8.96, "mm"), _volume_text(8.96, "in")
    ('9 mm³', '0.00055 in³')
    """
    return f"{about(volume / to_mm(1.0, unit) ** 3)} {unit}³"


def _caution(over: Overload) -> str:
    where = f"Move{'s' if len(over.moves) > 1 else ''} {_numbers(over.moves)}: " if over.moves else ""
    says = over.says if where else over.says[:1].upper() + over.says[1:]
    return f"{where}{says}. {over.remedy}."


def _numbers(moves: Sequence[int], most: int = 8) -> str:
    listed = ", ".join(str(n) for n in moves[:most])
    return listed if len(moves) <= most else f"{listed} and {len(moves) - most} more"


def _spindle_lines(plan: Plan, found: Loads, unit: Unit) -> list[str]:
    out = []
    for run in found.turnings:
        size = length_text(run.diameter, unit)
        out.append(
            f"{run.stage} with {run.tool}: {run.rpm:.0f} rev/min, {speed_text(run.speed, unit)} at Ø {size} ({run.why})"
        )
        along = plan.job.shop.coarse if run.stage == "rough" else plan.job.shop.fine
        wound = [_wound(run, slide, unit) for slide in (plan.job.shop.cross, along)]
        out.append(
            f"    feed about {about(from_mm(run.feed, unit))} {unit} a turn of the work: wind {' and '.join(wound)}"
        )
    return out


def _wound(run: Turning, slide: Slide, unit: Unit) -> str:
    """How fast to wind, in turns where a turn is known, else as travel."""
    turns = hand_turns(run, slide)
    if turns is None:
        return f"the {slide_name(slide.name)} {about(from_mm(run.feed * run.rpm, unit))} {unit} a minute"
    return f"the {slide_name(slide.name)} {about(turns)} turns/min"


def _load_lines(found: Loads, unit: Unit) -> list[str]:
    if not found.moves:
        return []
    head = f"{'move':>5}  {'edge':>6}  {'chip':>7}  {'force':>6}  {'power':>6}  {'bends':>10}"
    under = f"{'':>5}  {unit:>6}  {unit:>7}  {'N':>6}  {'W':>6}  {unit:>10}"
    return [head, under, *(_load_line(load, unit) for load in found.moves), _GUESS]


_GUESS = f"{MARK} chip thinner than the force law was fitted for; published forces lie 25 % apart anyway"


def _load_line(load: MoveLoad, unit: Unit) -> str:
    star, extra = MARK if load.guess else "", 0 if unit == "mm" else 1
    edge = format_figure(load.chip.width, unit, 1 + extra)
    chip = format_figure(load.chip.thickness, unit, 3 + extra)
    force, power = (about(value) + star for value in (load.force, load.power))
    bends = "" if load.bends is None else _small(load.bends, unit).replace("less than ", "<").removesuffix(f" {unit}")
    return f"{load.n:>5}  {edge:>6}  {chip:>7}  {force:>6}  {power:>6}  {bends + (star if bends else ''):>10}".rstrip()


def _scatter_lines(scatter: Outlook | None, unit: Unit) -> list[str]:
    if scatter is None:
        return []
    band, deepest, highest = scatter.band, scatter.deepest, scatter.highest
    return [
        f"deepest place: {_off(deepest.value, unit)} on average, {_off(deepest.low, unit)} to "
        f"{_off(deepest.high, unit)} in 95 of 100 runs",
        f"highest place: {_off(highest.value, unit)} on average, {_off(highest.low, unit)} to "
        f"{_off(highest.high, unit)} in 95 of 100 runs",
        f"from the deepest to the highest place: {ridge_text(band.value, unit)} on average",
        f"with {ridge_text(scatter.margin, unit)} left on everywhere, 95 of 100 runs cut nowhere below the outline",
        *(f"{_cause(share.kind)} adds {ridge_text(share.narrower, unit)} to that" for share in scatter.shares),
        f"one setting, standard uncertainty: {ridge_text(scatter.u_drawn, unit)} drawn, "
        f"{ridge_text(scatter.u_first, unit)} to first order (JCGM 100)",
        f"{band.runs} runs drawn (JCGM 101); averages are settled to {_settled(band.value_error, unit)}, the chance to "
        f"{about(100 * scatter.below_error, 1)} %",
    ]


def _error_lines(plan: Plan, expected: Forecast) -> list[str]:
    """Every error that is assumed, with the field of the job that sets it."""
    if expected.scatter is None:
        return []
    unit, e, along = plan.job.units, expected.errors, slide_name(plan.job.shop.fine.name)
    return [
        f"cross slide set to a figure: {ridge_text(e.setting_r, unit)} of travel (errors.setting.cross)",
        f"{along} set to a figure: {ridge_text(e.setting_z, unit)} (errors.setting.saddle)",
        f"finest figure: {ridge_text(e.count_r, unit)} across, {ridge_text(e.count_z, unit)} along (slide counts)",
        f"backlash left: {ridge_text(e.play_r, unit)} across, {ridge_text(e.play_z, unit)} along (a tenth of "
        "slide backlash on dials; our estimate)",
        f"touching off, once: {ridge_text(e.touching_r, unit)} across (errors.touching.cross), "
        f"{ridge_text(e.touching_z, unit)} along (errors.touching.saddle)",
        f"centre height: {ridge_text(e.height, unit)} (errors.height)",
        f"nose radius: {ridge_text(e.nose, unit)} (tool.nose_radius_u, errors.nose)",
        f"cutting force, and so the bending: {100 * e.force:.0f} % (published forces lie that far apart)",
    ]


def _settled(mm: float, unit: Unit) -> str:
    """How closely an average is known, to one figure."""
    return f"{about(1e3 * mm, 1)} µm" if unit == "mm" else f"{about(from_mm(mm, unit), 1)} in"


def _time_lines(times: Times) -> list[str]:
    whole = times.total or 1.0
    return [
        f"{name:<20} {clock(seconds):>10}  {100 * seconds / whole:>3.0f} %"
        for name, seconds in sorted(_parts(times), key=lambda part: -part[1])
        if seconds
    ]


def _blend_lines(expected: Forecast, unit: Unit) -> list[str]:
    if expected.blend.ridge <= 0:
        return []
    lowered = expected.blend.lowering
    return [
        f"The diameter falls by {ridge_text(lowered.mean, unit)} on average, {ridge_text(lowered.ridges, unit)} over "
        f"the ridges, {ridge_text(lowered.valleys, unit)} in the valleys."
    ]
