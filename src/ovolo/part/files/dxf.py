"""DXF files: lines, arcs, circles, polylines with bulges, ellipses, splines, blocks."""

from __future__ import annotations

import logging
import math
import re
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import BytesIO, StringIO
from typing import TYPE_CHECKING, Any

from ovolo.errors import OvoloError
from ovolo.geometry.bezier import Ellipse
from ovolo.geometry.fit import CannotFit, Fitted, fit_curve
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.drawing import Asked, Drawing, Dropped, Found, Piece, refusal, refuse_file
from ovolo.part.files.sources import MOST_PIECES, Source, load, name_of
from ovolo.part.files.understand import understand
from ovolo.units import INCH

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities.dxfentity import DXFEntity

#: More records than this (a line, a vertex, a layer are one each) is no drawing of a turned part.
MOST_RECORDS = 60_000
_DEEPEST = 32
_FLAT = 1e-6

_MM_IN_UNIT = {1: INCH, 4: 1.0, 5: 10.0, 6: 1000.0}
"""$INSUNITS -> mm, those that a lathe's drawing may be in."""

_CENTRE_NAME = re.compile(r"cent(er|re)|mittel|axis|achse|^axe|acad_iso04|acad_iso10", re.IGNORECASE)
_ASIDE_NAME = re.compile(
    r"^(defpoints|dim|bema|cotes?$|text|note|hatch|schraff|border|frame|title|rahmen|hidden|dashed|phantom|construction|acad_iso02)",
    re.IGNORECASE,
)
logging.getLogger("ezdxf").addHandler(logging.NullHandler())  # what it logs is for its developers, not for a terminal

_MADE_UP = re.compile(r"recovered invalid .* near line (\d+)", re.DOTALL)

_DRAWN = {"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "SPLINE", "INSERT"}


def read_dxf(source: Source, asked: Asked = Asked()) -> Drawing:  # noqa: B008 (frozen)
    """The outline in a DXF file, or in its bytes. Raises JobFaults that say what is wrong with it, or what to give.

    Layers that are off or frozen, of dimensions, text, hatching or hidden lines are left out by rule unless
    `asked.layers` names them; lines on a centre line's layer, or of its line type, show the axis. Curves become tangent
    arcs within `asked.tolerance`.
    """
    where = name_of(source, "DXF")
    data = load(source, "DXF")
    found = _found(_document(data, where), _unit_of(data), asked, where)
    return understand(found, asked, where)


def _document(data: bytes, where: str) -> Document:
    """The file parsed, after a look at its bytes that keeps time and memory within bounds."""
    if data.startswith((b"AC10", b"AutoCAD Binary")):
        refuse_file(where, None, "it is a binary drawing, not a DXF text", "Save it as DXF, in text (ASCII)")
    if b"\0" in data or b"SECTION" not in data:
        refuse_file(where, None, "it is not a DXF file", "Export the drawing as DXF")
    if not re.search(rb"(?:^|\n)\s*0\s*\r?\n\s*EOF\s*$", data):
        refuse_file(where, None, "it breaks off before its end", "Export or copy it again")
    # Group 0 begins a record, group 10 a place: a polyline is one record, however many places it has.
    records = max(sum(1 for _ in re.finditer(rb"(?m)^[ \t]*%d[ \t]*\r?$" % code, data)) for code in (0, 10))
    if records > MOST_RECORDS:
        says = "there is more in it than a turned part can have"
        refuse_file(where, records, says, "Export only the outline", f"at most {MOST_RECORDS} records")
    from ezdxf import recover
    from ezdxf.filemanagement import read

    try:
        return read(StringIO(_text(data)))
    except Exception:  # a parser may fail in any way on damaged bytes; the forgiving one comes next
        try:
            with _guesses() as guessed:
                document = recover.read(BytesIO(data))[0]
        except Exception:
            raise refusal(where, None, "it is damaged and cannot be read", "Export the drawing again") from None
        if guessed:
            says = f"figures in it are damaged, the first near line {guessed[0]}: no guess at them is made"
            refuse_file(where, None, says, "Export the drawing again")
        return document


@contextmanager
def _guesses() -> Iterator[list[str]]:
    """The lines near which the forgiving reader made up a figure, as it says in its log."""
    lines: list[str] = []

    class Listener(logging.Handler):
        """Keeps the line of every figure that was made up."""

        def emit(self, record: logging.LogRecord) -> None:
            found = _MADE_UP.search(record.getMessage())
            lines.extend([found[1]] if found else [])

    listener, logger = Listener(), logging.getLogger("ezdxf")
    logger.addHandler(listener)
    try:
        yield lines
    finally:
        logger.removeHandler(listener)


def _text(data: bytes) -> str:
    text = data.decode("utf-8", errors="surrogateescape")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _unit_of(data: bytes) -> int:
    """The file's own $INSUNITS, 0 where it has none: what the parser makes up for old releases is not the file's."""
    match = re.search(rb"\$INSUNITS\s+70\s+([0-9]{1,3})\s", data[:1_000_000])
    return int(match[1]) if match else 0


def _found(document: Document, unit: int, asked: Asked, where: str) -> Found:
    try:
        return _Reader(document, unit, asked, where).found()
    except OvoloError:
        raise
    except CannotFit as why:
        raise refusal(where, None, f"a curve in it cannot be used: {why}", "Draw it with arcs") from None
    except Exception as why:  # geometry that no drawing program would write: refuse it, whatever it is
        raise refusal(where, None, f"an entity in it is damaged ({type(why).__name__})", "Export it again") from None


class _Reader:
    """Walks a document's model space and gathers pieces."""

    def __init__(self, document: Document, unit: int, asked: Asked, where: str) -> None:
        self.document, self.asked, self.where = document, asked, where
        self.pieces: list[Piece] = []
        self.dropped: list[Dropped] = []
        self.others: Counter[str] = Counter()
        self.heights: list[float] = []
        self.deviation = 0.0
        self.curves = 0
        self.scale, self.unit_note = self._scale(unit)
        self.only = {name.casefold() for name in asked.layers}

    def found(self) -> Found:
        """All pieces of the model space; checks that they lie in one plane."""
        self._check_blocks()
        for entity in self.document.modelspace():
            self._take(entity, "0", 0)
        if self.heights and max(self.heights) - min(self.heights) > _FLAT * max(self.scale, 1):
            spread = max(self.heights) - min(self.heights)
            refuse_file(self.where, spread, "its pieces don't lie in one plane", "Flatten the drawing", "one plane")
        notes = list(self.unit_note)
        if self.others:
            listed = ", ".join(f"{n} {name}" for name, n in sorted(self.others.items()))
            notes.append(f"not geometry, left out: {listed}")
        if self.curves:
            what = "1 curve" if self.curves == 1 else f"{self.curves} curves"
            notes.append(f"{what} became tangent arcs, at most {self.deviation * 1000:.2f} µm off")
        return Found(self.pieces, self.dropped, notes, self.deviation, self.scale)

    def _scale(self, unit: int) -> tuple[float, tuple[str, ...]]:
        stated = _MM_IN_UNIT.get(unit)
        if self.asked.unit is None and stated is not None:
            return stated, ()
        scale = self.asked.scale(None, "units")
        if stated is not None and stated != scale:
            return scale, (f"the file says that its unit is {stated:g} mm; {self.asked.unit} was given and is used",)
        return scale, ()

    def _check_blocks(self) -> None:
        """Refuse blocks that hold themselves, or that unfold into too much, before any is unfolded."""
        sizes: dict[str, int] = {}

        def size(name: str, above: tuple[str, ...]) -> int:
            if name in above or len(above) > _DEEPEST:
                refuse_file(self.where, name, "a block in it holds itself", "Explode the blocks and export it again")
            if name not in sizes:
                block = self.document.blocks.get(name)
                sizes[name] = 0 if block is None else sum(of(e, (*above, name)) for e in block)
            return sizes[name]

        def of(entity: DXFEntity, above: tuple[str, ...]) -> int:
            if entity.dxftype() != "INSERT":
                return 1
            times = max(1, entity.dxf.get("row_count", 1)) * max(1, entity.dxf.get("column_count", 1))
            unfolded: int = times * (1 + size(str(entity.dxf.get("name", "")), above))
            return min(unfolded, 10 * MOST_PIECES)

        total = sum(of(e, ()) for e in self.document.modelspace())
        if total > MOST_PIECES:
            says = "with its blocks unfolded there is more in it than a turned part can have"
            refuse_file(self.where, total, says, "Export only the outline", f"at most {MOST_PIECES} pieces")

    def _take(self, entity: DXFEntity, block_layer: str, depth: int) -> None:
        kind = entity.dxftype()
        if kind not in _DRAWN:
            self.others[kind] += 1
            return
        layer = str(entity.dxf.get("layer", "0"))
        layer = block_layer if layer == "0" and depth else layer
        if kind == "INSERT":
            for inner in self._unfolded(entity):
                self._take(inner, layer, depth + 1)
            return
        why = self._aside(entity, layer)
        segments = list(self._segments(entity))
        if len(self.pieces) + len(segments) > MOST_PIECES:
            says = "there is more in it than a turned part can have"
            refuse_file(self.where, None, says, "Export only the outline", f"at most {MOST_PIECES} pieces")
        is_line = kind == "LINE"
        for s in segments:
            if why == "centre line":
                self._keep_centre(s, layer, is_line)
            elif why:
                self.dropped.append(Dropped(s, why, layer))
            else:
                self.pieces.append(Piece(s, layer))

    def _keep_centre(self, s: Segment, layer: str, is_line: bool) -> None:
        if is_line:
            self.pieces.append(Piece(s, layer, True))
        else:
            self.dropped.append(Dropped(s, f"layer {layer}, of centre lines", layer))

    @staticmethod
    def _unfolded(insert: Any) -> Iterator[DXFEntity]:
        if insert.mcount > 1:
            for single in insert.multi_insert():
                yield from single.virtual_entities()
        else:
            yield from insert.virtual_entities()

    def _aside(self, entity: DXFEntity, layer: str) -> str:
        """Why an entity is no part of the outline by rule: its layer or its line type; empty where it is."""
        if layer.casefold() in self.only:
            return ""
        table = self.document.layers
        state = table.get(layer) if table.has_entry(layer) else None
        if entity.dxf.get("invisible", 0) or (state is not None and (state.is_off() or state.is_frozen())):
            return f"layer {layer}, which is off"
        linetype = str(entity.dxf.get("linetype", "BYLAYER"))
        if linetype.upper() == "BYLAYER" and state is not None:
            linetype = str(state.dxf.get("linetype", ""))
        if _CENTRE_NAME.search(layer) or _CENTRE_NAME.search(linetype):
            return "centre line"
        if _ASIDE_NAME.search(layer):
            return f"layer {layer}"
        return f"line type {linetype}" if _ASIDE_NAME.search(linetype) else ""

    def _segments(self, entity: DXFEntity) -> Iterator[Segment]:
        kind = entity.dxftype()
        if kind in ("LWPOLYLINE", "POLYLINE"):
            for inner in entity.virtual_entities():  # type: ignore[attr-defined]
                if inner.dxftype() in ("LINE", "ARC"):
                    yield from self._segments(inner)
            return
        readers: dict[str, Callable[[Any], Iterator[Segment]]] = {
            "LINE": self._line,
            "ARC": self._arc,
            "CIRCLE": self._circle,
            "ELLIPSE": self._ellipse,
            "SPLINE": self._spline,
        }
        yield from (s for s in readers[kind](entity) if _has_length(s))

    def _point(self, v: Any) -> Point:
        self.heights.append(float(v.z))
        return Point(float(v.x) * self.scale, float(v.y) * self.scale)

    def _up(self, entity: Any) -> bool:
        """Whether the entity's own plane looks up; refuses one that is tilted."""
        z = float(entity.dxf.extrusion.normalize().z)
        if abs(abs(z) - 1) > 1e-9:
            refuse_file(self.where, entity.dxftype(), "an entity is tilted out of the plane", "Flatten the drawing")
        return z > 0

    def _line(self, e: Any) -> Iterator[Segment]:
        yield Line(self._point(e.dxf.start), self._point(e.dxf.end))

    def _arc(self, e: Any) -> Iterator[Segment]:
        up = self._up(e)
        centre = self._point(e.ocs().to_wcs(e.dxf.center))
        self._check_radius(e)
        start, end = self._point(e.start_point), self._point(e.end_point)
        if math.dist(start, end) <= 1e-9:
            yield from self._circle(e)
        else:
            yield Arc(start, end, centre, up)

    def _circle(self, e: Any) -> Iterator[Segment]:
        self._up(e)
        self._check_radius(e)
        c, r = self._point(e.ocs().to_wcs(e.dxf.center)), abs(float(e.dxf.radius)) * self.scale
        east, west = Point(c.x + r, c.y), Point(c.x - r, c.y)
        yield Arc(east, west, c, True)
        yield Arc(west, east, c, True)

    def _check_radius(self, e: Any) -> None:
        radius = float(e.dxf.radius)
        if not (math.isfinite(radius) and radius > 0):
            refuse_file(self.where, radius, f"a {e.dxftype()} has no radius", "Export it again", "more than 0")

    def _ellipse(self, e: Any) -> Iterator[Segment]:
        self._up(e)
        c, major, minor = self._point(e.dxf.center), e.dxf.major_axis, e.minor_axis
        start, end = float(e.dxf.start_param), float(e.dxf.end_param)
        if not all(math.isfinite(v) for v in (start, end, *c, major.x, major.y, minor.x, minor.y)):
            refuse_file(self.where, "ELLIPSE", "a coordinate in it is not a number", "Export the drawing again")
        end = start + ((end - start) % math.tau or math.tau)
        axes = [Point(float(v.x) * self.scale, float(v.y) * self.scale) for v in (major, minor)]
        quarters = [k * math.pi / 2 for k in range(math.ceil(start / (math.pi / 2)), math.ceil(end / (math.pi / 2)))]
        yield from self._curve(fit_curve(Ellipse(c, *axes), start, end, self.asked.tolerance, quarters))

    def _spline(self, e: Any) -> Iterator[Segment]:
        spline = e.construction_tool()
        knots, degree = list(spline.knots()), spline.degree
        if spline.count > 2000 or not all(math.isfinite(k) for k in knots):
            refuse_file(self.where, spline.count, "a spline in it cannot be used", "Export arcs", "2000 control points")
        self.heights.extend(float(p.z) for p in spline.control_points)
        low, high = knots[degree], knots[-degree - 1]
        breaks = [k for k, n in Counter(knots).items() if n >= degree and low < k < high]

        def curve(t: float) -> tuple[Point, Point]:
            place, slope = spline.derivative(t, 1)
            return Point(place.x * self.scale, place.y * self.scale), Point(slope.x * self.scale, slope.y * self.scale)

        yield from self._curve(fit_curve(curve, low, high, self.asked.tolerance, breaks))

    def _curve(self, fitted: Fitted) -> Iterator[Segment]:
        self.curves += 1
        self.deviation = max(self.deviation, fitted.deviation)
        yield from fitted.segments


def _has_length(s: Segment) -> bool:
    values = (*s.start, *s.end)
    return not all(math.isfinite(v) for v in values) or s.length > 1e-9
