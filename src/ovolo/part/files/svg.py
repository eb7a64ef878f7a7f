"""SVG files: paths with their arcs kept, basic shapes, transforms, physical size."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from copy import deepcopy
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

from ovolo.errors import OvoloError
from ovolo.geometry.bezier import Bezier, Ellipse
from ovolo.geometry.fit import CannotFit, Fitted, fit_curve
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.drawing import Asked, Drawing, Dropped, Found, Piece, refusal, refuse_file
from ovolo.part.files.sources import MOST_PIECES, Source, load, name_of
from ovolo.part.files.understand import understand
from ovolo.units import INCH

#: The largest SVG file that is read, bytes.
MOST_BYTES = 4_000_000
_DEEPEST = 64
_PX = INCH / 96  # CSS: 96 px are one inch
_MM = {"mm": 1.0, "cm": 10.0, "in": INCH, "pt": INCH / 72, "pc": INCH / 6, "q": 0.25}
_SIZE = re.compile(r"\s*([0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(mm|cm|in|pt|pc|q)\s*", re.IGNORECASE)
_CENTRE_NAME = re.compile(r"cent(er|re)|mittel|axis|achse", re.IGNORECASE)
_ASIDE_NAME = re.compile(r"^(dim|text|note|hatch|frame|border|title|hidden|construction)", re.IGNORECASE)
_NUMBER = re.compile(r"[\s,]*([-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_COMMAND = re.compile(r"[\s,]*([MmZzLlHhVvCcSsQqTtAa])")
_NUMBERS = {"x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "rx", "ry"}
_MEASURE = re.compile(
    r"\s*(auto|[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?\s*([a-z]{0,3}|%))[\s0-9.,-]*", re.IGNORECASE
)
_TAKES = {"m": 2, "z": 0, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2, "a": 7}


def read_svg(source: Source, asked: Asked = Asked()) -> Drawing:  # noqa: B008 (frozen)
    """The outline in an SVG file, or in its bytes. Raises JobFaults that say what is wrong with it, or what to give.

    Its size comes from width, height and viewBox where these are in mm, cm or inches; where they are not, `asked.unit`
    says what one of its units is. Layers are the ids of groups; an id or class of "centre" marks the centre line.
    """
    where = name_of(source, "SVG")
    data = load(source, "SVG")
    if len(data) > MOST_BYTES:
        limit = f"at most {MOST_BYTES // 1_000_000} MB"
        refuse_file(
            where, f"{len(data) / 1e6:.1f} MB", "it is too large for an outline", "Export only the outline", limit
        )
    try:
        found = _Reader(_root(data, where), asked, where).found()
    except OvoloError:
        raise
    except CannotFit as why:
        raise refusal(where, None, f"a curve in it cannot be used: {why}", "Draw it with arcs") from None
    except Exception as why:  # a parser may fail in any way on damaged text
        raise refusal(where, None, f"it is damaged ({type(why).__name__})", "Export the drawing again") from None
    return understand(found, asked, where)


def _root(data: bytes, where: str) -> ElementTree.Element:
    """The parsed file, once it is plain UTF-8 that declares no entities and unfolds to a bounded size."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refusal(where, None, "it is not text in UTF-8", "Save it as plain SVG") from None
    if re.search(r"<!\s*(DOCTYPE|ENTITY)", text, re.IGNORECASE):
        refuse_file(
            where, None, "it holds a document type, which may hide entities", "Save it as plain SVG without one"
        )
    text = re.sub(r"^\s*<\?xml[^>]*\?>", "", text)
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as why:
        raise refusal(where, None, f"it is not whole: {why}", "Export or copy it again") from None
    if _tag(root) != "svg":
        refuse_file(where, _tag(root), "it is not an SVG drawing", "Export the drawing as SVG", "svg")
    _check_size(root, where)
    _unfold(root, {e.get("id", ""): e for e in root.iter() if e.get("id")})
    return root


def _tag(element: ElementTree.Element) -> str:
    return str(element.tag).rsplit("}", 1)[-1]


def _href(use: ElementTree.Element) -> str:
    """The id that a `use` names."""
    return next((v for k, v in use.attrib.items() if k.rsplit("}", 1)[-1] == "href"), "").lstrip("#")


def _check_size(root: ElementTree.Element, where: str) -> None:
    """Refuse what nests without end, or unfolds by `use` into too much; check each path as written."""
    by_id = {e.get("id"): e for e in root.iter() if e.get("id")}
    sizes: dict[int, int] = {}

    def size(e: ElementTree.Element, above: tuple[int, ...]) -> int:
        if id(e) in above or len(above) > _DEEPEST:
            refuse_file(where, None, "it holds itself, or nests too deep", "Save it as plain SVG without clones")
        if id(e) not in sizes:
            inner = sum(size(child, (*above, id(e))) for child in e)
            if _tag(e) == "use":
                target = by_id.get(_href(e))
                inner += size(target, (*above, id(e))) if target is not None else 0
            own = len(re.findall("[A-Za-z]", e.get("d", ""))) + e.get("points", "").count(",") + 1
            sizes[id(e)] = min(own + inner, 100 * MOST_PIECES)
        return sizes[id(e)]

    total = size(root, ())
    if total > 3 * MOST_PIECES:
        refuse_file(where, total, "there is more in it than a turned part can have", "Export only the outline")
    for e in root.iter():
        for name in _NUMBERS & e.attrib.keys():
            if not _MEASURE.fullmatch(e.attrib[name]):
                refuse_file(where, e.attrib[name][:40], f"{name} of a {_tag(e)} is not a number", "Export it again")
        if (d := e.get("d")) is not None and _tag(e) == "path":
            _check_path(d, where)


def _unfold(root: ElementTree.Element, by_id: dict[str, ElementTree.Element]) -> None:
    """Each `use` replaced by a group that holds a copy of what it names; that it ends was checked before."""
    for parent in list(root.iter()):
        for child in parent:
            if _tag(child) != "use":
                continue
            target = by_id.get(
                next((v for k, v in child.attrib.items() if k.rsplit("}", 1)[-1] == "href"), "").lstrip("#")
            )
            shift = f"translate({child.get('x', '0')} {child.get('y', '0')})"
            child.set("transform", f"{child.get('transform', '')} {shift}".strip())
            child.tag = child.tag.replace("use", "g")
            for name in ("x", "y", "width", "height"):
                child.attrib.pop(name, None)
            if target is not None:
                copy = deepcopy(target)
                copy.tag = copy.tag.replace("symbol", "g")
                child.append(copy)
                _unfold(child, by_id)


def _check_path(d: str, where: str) -> None:
    """Refuse a path that a forgiving reader would cut short without a word."""
    at, left, command = 0, 0, ""
    while d[at:].strip(" \t\r\n,") if at > len(d) - 8 else at < len(d):
        if left == 0 and (match := _COMMAND.match(d, at)):
            command = match[1].lower()
            left = _TAKES[command]
            at = match.end()
            continue
        if not command or command == "z":
            break
        left = left or _TAKES[command]
        flag = command == "a" and left in (4, 3)
        match = (_FLAG if flag else _NUMBER).match(d, at)
        if not match:
            break
        at, left = match.end(), left - 1
    if left or d[at:].strip():
        refuse_file(where, d[max(0, at - 12) : at + 12], "a path in it breaks off or is misspelt", "Export it again")


class _Reader:
    """Walks an SVG tree and gathers pieces, y turned up."""

    def __init__(self, root: ElementTree.Element, asked: Asked, where: str) -> None:
        self.asked, self.where = asked, where
        self.pieces: list[Piece] = []
        self.dropped: list[Dropped] = []
        self.notes: list[str] = []
        self.deviation = 0.0
        self.curves = 0
        self.scale = self._scale(root)
        self.only = {name.casefold() for name in asked.layers}
        for name in ("width", "height", "viewBox", "preserveAspectRatio", "x", "y"):
            root.attrib.pop(name, None)
        self.text = ElementTree.tostring(root)

    def found(self) -> Found:
        """All pieces of the drawing."""
        from svgelements import SVG

        self._walk(SVG.parse(BytesIO(self.text), ppi=96, reify=True), "", 0)
        if self.curves:
            what = "1 curve" if self.curves == 1 else f"{self.curves} curves"
            self.notes.append(f"{what} became tangent arcs, at most {self.deviation * 1000:.2f} µm off")
        return Found(self.pieces, self.dropped, self.notes, self.deviation, self.scale, flipped=True)

    def _scale(self, root: ElementTree.Element) -> float:
        """mm in one unit of the drawing's own coordinates."""
        box = [float(v) for v in re.split(r"[\s,]+", root.get("viewBox", "").strip()) if v]
        sizes = [_SIZE.fullmatch(root.get(name, "")) for name in ("width", "height")]
        told = None if self.asked.unit is None else self.asked.scale(None, "units")
        if sizes[0] is None and sizes[1] is None:
            return self.asked.scale(None, "units")
        if len(box) != 4 or min(box[2:]) <= 0:
            if told is not None:
                return told
            self.notes.append("the file has a size but no viewBox: its unit was taken as 1/96 inch")
            return _PX
        scales = [float(m[1]) * _MM[m[2].lower()] / box[k] for m, k in zip(sizes, (2, 3), strict=True) if m]
        if len(scales) == 2 and abs(scales[0] - scales[1]) > 1e-3 * scales[0]:
            refuse_file(
                self.where,
                None,
                "its width and height are out of proportion with its viewBox",
                "Give both the proportions of the viewBox",
            )
        if not (math.isfinite(scales[0]) and scales[0] > 0):
            refuse_file(self.where, root.get("width"), "it has no size", "Export the drawing again", "more than 0")
        if told is not None and abs(told - scales[0]) > 1e-9:
            self.notes.append(f"the file gives its own size: 1 of its units is {scales[0]:.6g} mm")
        return scales[0]

    def _walk(self, element: Any, layer: str, depth: int) -> None:
        from svgelements import Group, Path, Shape

        if isinstance(element, Group):
            name = element.id or layer
            for child in element:
                self._walk(child, str(name), depth + 1)
            return
        if not isinstance(element, Shape):
            return
        values = element.values
        marks = " ".join(str(values.get(key) or "") for key in ("class", "id"))
        why = self._aside(layer, marks, values)
        for s in self._segments(Path(element).reify()):
            if len(self.pieces) > MOST_PIECES:
                refuse_file(self.where, None, "there is more in it than a turned part can have", "Export the outline")
            if why == "centre line" and isinstance(s, Line):
                self.pieces.append(Piece(s, layer, True))
            elif why:
                self.dropped.append(Dropped(s, why, layer))
            else:
                self.pieces.append(Piece(s, layer))

    def _aside(self, layer: str, marks: str, values: Any) -> str:
        if layer.casefold() in self.only:
            return ""
        if values.get("display") == "none" or values.get("visibility") == "hidden":
            return "not shown"
        if _CENTRE_NAME.search(layer) or _CENTRE_NAME.search(marks):
            return "centre line"
        aside = next((name for name in (layer, *marks.split()) if _ASIDE_NAME.search(name)), None)
        return f"marked {aside}" if aside else ""

    def _segments(self, path: Any) -> Iterator[Segment]:
        from svgelements import Arc as SvgArc
        from svgelements import Close, CubicBezier, QuadraticBezier
        from svgelements import Line as SvgLine

        for s in path:
            if isinstance(s, SvgLine | Close):
                if s.start is not None and s.end is not None:
                    made: list[Segment] = [Line(self._point(s.start), self._point(s.end))]
                    yield from (m for m in made if m.length > 1e-9)
            elif isinstance(s, SvgArc):
                yield from self._arc(s)
            elif isinstance(s, CubicBezier):
                yield from self._bezier(s.start, s.control1, s.control2, s.end)
            elif isinstance(s, QuadraticBezier):
                yield from self._bezier(s.start, s.control, s.end)

    def _point(self, p: Any) -> Point:
        at = Point(float(p.x) * self.scale, -float(p.y) * self.scale)
        if not (math.isfinite(at.x) and math.isfinite(at.y)):
            refuse_file(self.where, None, "a coordinate in it is not a number", "Export the drawing again")
        return at

    def _bezier(self, *points: Any) -> Iterator[Segment]:
        row = tuple(self._point(p) for p in points)
        if max(math.dist(row[0], p) for p in row) > 1e-9:
            yield from self._curve(fit_curve(Bezier(row), 0.0, 1.0, self.asked.tolerance))

    def _arc(self, s: Any) -> Iterator[Segment]:
        start, end = self._point(s.start), self._point(s.end)
        c, major, minor = self._point(s.center), self._point(s.prx), self._point(s.pry)
        one, two = math.dist(c, major), math.dist(c, minor)
        if min(one, two) <= 1e-9:
            yield Line(start, end)
        elif abs(one - two) <= 1e-7 * one:
            yield from _round_arc(start, end, c, ccw=float(s.sweep) < 0, turn=abs(float(s.sweep)))
        else:
            axes = [Point(p.x - c.x, p.y - c.y) for p in (major, minor)]
            t0 = float(s.get_start_t())
            t1 = t0 + float(s.sweep)
            low, high = sorted((t0 / (math.pi / 2), t1 / (math.pi / 2)))
            quarters = [k * math.pi / 2 for k in range(math.ceil(low), math.ceil(high))]
            yield from self._curve(fit_curve(Ellipse(c, *axes), t0, t1, self.asked.tolerance, quarters))

    def _curve(self, fitted: Fitted) -> Iterator[Segment]:
        self.curves += 1
        self.deviation = max(self.deviation, fitted.deviation)
        yield from fitted.segments


def _round_arc(start: Point, end: Point, centre: Point, *, ccw: bool, turn: float) -> Iterator[Segment]:
    """An arc of a circle; a whole one as two halves."""
    if math.dist(start, end) > 1e-9 or turn < math.pi:
        if math.dist(start, end) > 1e-9:
            yield Arc(start, end, centre, ccw)
        return
    far = Point(2 * centre.x - start.x, 2 * centre.y - start.y)
    yield Arc(start, far, centre, ccw)
    yield Arc(far, start, centre, ccw)
