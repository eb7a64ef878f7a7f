"""The gauge: a template of the curve at its true size, to be cut out and held against the part.

One page, as SVG in mm; the PDF places it at the same size. Every page has two bars of 50 mm or 2 in, one each way: a
printer may stretch a page in one direction alone.
"""

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from ovolo.errors import Fault, JobFaults
from ovolo.geometry.segments import Segment
from ovolo.part.part import Part
from ovolo.plan.model import Job
from ovolo.plan.view.frame import Frame
from ovolo.show.gauge.measuring import diameters_at
from ovolo.show.gauge.radius_gauges import leaves
from ovolo.show.gauge.shape import Held, Plate, Side, held, plate, widened
from ovolo.show.paper.lettering import breadth, wrapped
from ovolo.show.paper.shapes import Place, exact_path, outline_path
from ovolo.show.paper.style import style
from ovolo.show.paper.svg import document, line, path, rect, text
from ovolo.show.paper.title_block import shortened
from ovolo.show.paper.typeset import typeset
from ovolo.show.words.figures import plain_size
from ovolo.units import INCH, Unit, format_figure

__all__ = ["BARS", "GaugeView", "Page", "Sides", "Witness", "gauge_as_pdf", "gauge_as_svg", "gauge_view"]

Sides = Literal["air", "part", "both"]

BARS: dict[Unit, float] = {"mm": 50.0, "in": 2 * INCH}
"""The bars to check the printer by, mm."""

_PARTS: dict[Unit, int] = {"mm": 5, "in": 8}
"""Into so many parts a bar is marked off: whole centimetres, quarters of an inch."""

MARGIN = 15.0
"""Plate around the curve, mm."""

ROOM = 13.0
"""A witness line has its figure only where so much plate is there for it, mm."""

LEAD = 8.0
"""How far the template follows the outline beyond the curve, mm, to lie on."""

THICKNESS: dict[Unit, float] = {"mm": 1.0, "in": 0.04 * INCH}
"""A plate of this thickness, mm, is taken for the note about holding it square."""

_SHEET: dict[Unit, str] = {"mm": "0.8 to 1.5 mm", "in": "0.03 to 0.06 in"}

_PAGES = ((210.0, 297.0), (297.0, 210.0), (297.0, 420.0), (420.0, 297.0), (420.0, 594.0), (594.0, 420.0))
_LETTER = (215.9, 279.4)
_EDGE = 15.0
_GAP = 15.0
_SIZE = 3.9
_LEADING = 5.4
_APART = 3.6
"""Witness lines are no nearer to each other than this, mm, so that their figures don't touch."""
_ASIDE = 26.0
_BESIDE = 50.0
"""Room for the bar that runs down, and for a plate's name beside it, mm."""


class Page(NamedTuple):
    """A page of paper, mm."""

    width: float
    height: float


class Witness(NamedTuple):
    """A line across the edge where the part has a round diameter or the curve ends: its foot on the edge, its text."""

    z: float
    r: float
    text: str


@dataclass(frozen=True)
class GaugeView:
    """What is drawn: the plates, the witness lines, and what is written beside them."""

    title: str
    unit: Unit
    bore: bool
    plates: tuple[Plate, ...]
    kerf: float
    witnesses: tuple[Witness, ...]
    notes: tuple[str, ...]


def gauge_view(job: Job, *, sides: Sides = "air", margin: float = MARGIN, kerf: float = 0.0) -> GaugeView:
    """The gauge of a job's curve: the plate on the air's side, on the part's side, or both; lengths in mm."""
    part, unit = job.part, job.units
    frame = Frame(job)
    start, end = frame.stretch
    ends = max(0.0, start - LEAD), min(part.outline.length, end + LEAD)
    chosen: tuple[Side, ...] = ("air", "part") if sides == "both" else (sides,)
    edges = {side: held(part, *ends, side) for side in chosen}
    edge = edges[chosen[0]]
    return GaugeView(
        title=job.title,
        unit=unit,
        bore=part.surface == "bore",
        plates=tuple(plate(part, edges[side].edge, side, margin) for side in chosen),
        kerf=kerf,
        witnesses=tuple(_witnesses(part, unit)),
        notes=tuple(_notes(part, edge, unit, kerf)),
    )


def _witnesses(part: Part, unit: Unit) -> list[Witness]:
    """Where the part has a few round diameters, and at both ends of the curve."""
    found = []
    high, low = max(part.curve), min(part.curve)
    parts = max(1, min(6, int((high - low) / _APART)))
    for k in range(parts + 1):
        z = high + (low - high) * k / parts
        for r, _ in list(diameters_at(part.outline, z, bore=part.surface == "bore")):
            found.append(Witness(z, r, f"Ø {format_figure(2 * r, unit, 2 if unit == 'mm' else 3)}"))
    return found


def _notes(part: Part, shape: Held, unit: Unit, kerf: float) -> list[str]:
    edge = shape.edge
    notes = [
        f"Print at 100 %, not fitted to the page. Both bars must measure {bar_text(unit)}.",
        f"Glue it to sheet metal, {_SHEET[unit]}, saw outside the line, file to the middle of it, then bevel the back "
        "so that the edge is thin. Hold it square to the surface, on the axis, against the light.",
        *_how_held(shape, unit),
        _thickness(part, edge, unit),
    ]
    fit = [leaf.says(unit) for leaf in leaves(edge, part.surface, unit)]
    if fit:
        notes.append(f"Radius gauges ({unit}): {'; '.join(fit)}.")
    if kerf:
        half = plain_size(kerf / 2, unit)
        notes.append(f"The line to cut along lies {half} {unit} outside the true edge: half the kerf.")
    return notes


def _how_held(shape: Held, unit: Unit) -> Iterator[str]:
    """What has to be minded where the curve leans over."""
    if shape.way == "end":
        yield "Slide it on along the axis, from the free end: from the side its edge would not pass the part."
    for high, low in shape.left_out:
        ends = " and ".join(format_figure(z, unit, 2 if unit == "mm" else 3) for z in (high, low))
        yield (
            f"Between z {ends} the part leans over, and a plate cannot reach under the overhang: its edge runs "
            "straight past there and shows nothing of it. Try that place with a depth gauge, or a ball of known size."
        )


def _thickness(part: Part, edge: Sequence[Segment], unit: Unit) -> str:
    """What a thick edge does: it touches the part beside the axis, where that is lower."""
    radius = max(segment.end.y for segment in edge) / 2
    thick = THICKNESS[unit]
    off = radius - math.sqrt(max(radius**2 - (thick / 2) ** 2, 0.0))
    digits = 3 if unit == "mm" else 4
    return (
        f"An edge left {plain_size(thick, unit)} {unit} thick touches off the axis: at "
        f"Ø {plain_size(round(2 * radius, 2), unit)} it is off by {format_figure(off, unit, digits)} {unit}."
    )


def gauge_as_svg(view: GaugeView, *, letter: bool = False) -> tuple[str, Page]:
    """The page as SVG at true size, and its size; the smallest page on which everything fits.

    Raises JobFaults where even the largest is too small.
    """
    page = _page(view, letter)
    body: list[str] = [
        text(
            (_EDGE, _EDGE + 3),
            shortened(f"Gauge: {view.title}", 5.5, page.width - 2 * _EDGE, strong=True),
            5.5,
            cls="strong",
        )
    ]
    y = _EDGE + 11
    for note in view.notes:
        for part in wrapped(note, _SIZE, page.width - 2 * _EDGE):
            body.append(text((_EDGE, y), part, _SIZE))
            y += _LEADING
    y += 3
    body += _bars(_EDGE, y, view.unit)
    y += 8
    for shape in view.plates:
        z0, r0, _, r1 = shape.bounds
        body += _plate(view, shape, Place(_EDGE + _ASIDE - z0, y + _GAP + r1, 1.0))
        y += r1 - r0 + 2 * _GAP
    says = f"True-scale gauge of {view.title}, with bars of {bar_text(view.unit)} to check the print by"
    drawn = document(
        page.width, page.height, f"Gauge: {view.title}", says, [rect(0, 0, *page, "ground"), *body], style("print")
    )
    return drawn, page


def _page(view: GaugeView, letter: bool) -> Page:
    sizes = [_LETTER, *_PAGES[2:]] if letter else list(_PAGES)
    for width, height in sizes:
        wide, tall = _needed(view, width)
        if wide <= width and tall <= height:
            return Page(width, height)
    wide, tall = _needed(view, sizes[-1][0])
    says, remedy = "the gauge is larger than the largest page", "Write it as DXF, or ask for one side, a smaller margin"
    raise JobFaults([Fault("part.outline", f"{wide:.0f} × {tall:.0f} mm", "594 × 420 mm", says, remedy)])


def _needed(view: GaugeView, width: float) -> tuple[float, float]:
    """The width and height that everything takes on a page of this width."""
    lines = sum(len(wrapped(note, _SIZE, width - 2 * _EDGE)) for note in view.notes)
    sizes = [shape.bounds for shape in view.plates]
    wide = max(z1 - z0 for z0, _, z1, _ in sizes) + 2 * _EDGE + _ASIDE + _BESIDE
    tall = sum(r1 - r0 + 2 * _GAP for _, r0, _, r1 in sizes)
    return wide, 2 * _EDGE + 22 + lines * _LEADING + max(BARS[view.unit], tall)


def bar_text(unit: Unit) -> str:
    """The length of a bar, in words.

    >>> bar_text("in")
    '2 in'
    """
    return f"{plain_size(BARS[unit], unit)} {unit}"


def _bars(x: float, y: float, unit: Unit) -> list[str]:
    """Two bars, one across, one down, marked off in parts."""
    bar, parts, says = BARS[unit], _PARTS[unit], bar_text(unit)
    marks = [(k * bar / parts, 3.0 if k % parts else 5.0) for k in range(parts + 1)]
    ends = [line((x + at, y), (x + at, y + long), "thin") for at, long in marks]
    down = [line((x, y + at), (x + long, y + at), "thin") for at, long in marks[1:]]
    words = [
        text((x + bar + 2, y + 1.5), f"{says} across", _SIZE),
        text((x + 8, y + bar / 2), f"{says} down", _SIZE, anchor="middle", turn=-90),
    ]
    return [line((x, y), (x + bar, y), "thin bar"), line((x, y), (x, y + bar), "thin bar"), *ends, *down, *words]


def _plate(view: GaugeView, shape: Plate, place: Place) -> list[str]:
    """One plate: the line to cut along, its name inside it, witness lines across the edge."""
    if view.kerf:
        cut = exact_path(widened(shape, view.kerf), place)
        pieces = [path(cut, "cut"), path(outline_path(shape.segments, place), "hair")]
    else:
        pieces = [path(outline_path(shape.segments, place) + "Z", "cut")]
    pieces += [piece for witness in view.witnesses for piece in _witness(view, shape, witness, place)]
    z0, r0, z1, r1 = shape.bounds
    if r0 < 1e-6:
        pieces.append(line(place.at(z0 - 5, 0), place.at(z1 + 5, 0), "axis"))
    names = ("air side", "held against the part") if shape.side == "air" else ("part's side", "the form of the part")
    x, y = place.at(z1, (r0 + r1) / 2)
    return [
        *pieces,
        text((x + 8, y - 2.6), names[0], _SIZE, cls="strong"),
        text((x + 8, y + 2.6), names[1], _SIZE),
    ]


def _witness(view: GaugeView, shape: Plate, witness: Witness, place: Place) -> list[str]:
    """A short line off the edge, away from the plate, with the diameter there."""
    up = -1 if view.bore else 1
    foot = place.at(witness.z, witness.r)
    x, y = foot[0], foot[1] - up * 3.0
    size = 2.6
    wide = breadth(witness.text, size)
    room = witness.r - shape.bounds[1] if view.bore else shape.bounds[3] - witness.r
    if shape.side == "air" and room < ROOM:
        return [line(foot, (x, y), "thin")]
    return [
        line(foot, (x, y), "thin"),
        text((x, y - up * (wide / 2 + 0.8)), witness.text, size, anchor="middle", turn=-90),
    ]


def gauge_as_pdf(view: GaugeView, *, letter: bool = False) -> bytes:
    """The page as a PDF at true size (PDF/UA-1), the same bytes for the same gauge."""
    svg, page = gauge_as_svg(view, letter=letter)
    says = f"True-scale gauge of {view.title}"
    main = (
        '#let data = json("data.json")\n#set document(title: data.title, date: none)\n#set text(lang: "en")\n'
        "#set page(width: data.width * 1mm, height: data.height * 1mm, margin: 0mm)\n"
        '#image("gauge.svg", width: data.width * 1mm, alt: data.says)\n'
    )
    data = {"title": f"Gauge: {view.title}", "says": says, "width": page.width, "height": page.height}
    return typeset({"main.typ": main, "gauge.svg": svg, "data.json": json.dumps(data)}, "pdf", accessible=True)
