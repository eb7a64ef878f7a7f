"""Drawing files at random: whatever is in one, an outline or a fault comes out, never anything else.

`make soak` runs these for longer.
"""

import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from ovolo.errors import JobFaults
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files import Asked, Drawing, outline_dxf, outline_svg, read_dxf, read_points, read_svg
from ovolo.part.files.drawing import Found, Piece
from ovolo.part.files.understand import understand
from ovolo.part.forms import outline_from_forms
from ovolo.show.drawing.understood import understood_as_svg

FOLDER = Path(__file__).parents[1] / "drawings"
READERS: dict[str, Callable[[bytes, Asked], Drawing]] = {".dxf": read_dxf, ".svg": read_svg, ".csv": read_points}
FILES = {p.name: (p.read_bytes(), READERS[p.suffix]) for p in sorted(FOLDER.iterdir()) if p.suffix in READERS}

asked = st.builds(
    Asked,
    unit=st.sampled_from(["mm", "in"]),
    surface=st.sampled_from(["outside", "bore"]),
    axis=st.sampled_from([None, "x", "y", "x=40", "y=20", "0,0 3,4"]),
    free_end=st.sampled_from([None, None, "left", "right", "top"]),
    gap=st.sampled_from([0.01, 0.5]),
    smooth=st.sampled_from([None, 0.1]),
)


def _is_sound(drawing: Drawing) -> None:
    """What every outline that is read has to be."""
    nodes = drawing.outline.nodes
    assert all(math.isfinite(v) for p in nodes for v in p)
    assert all(math.dist(a.end, b.start) < 1e-9 for a, b in pairwise(drawing.outline.segments))
    assert min(p.y for p in nodes) > -1e-2
    assert abs(max(p.x for s in drawing.outline.segments for p in s.flattened(1e-4))) < 1e-3
    assert drawing.notes
    understood_as_svg(drawing, "random")


@st.composite
def _damaged(draw: st.DrawFn) -> tuple[str, bytes]:
    """A kept file with some of its bytes changed, cut out, doubled, or replaced by what parsers dislike."""
    name = draw(st.sampled_from(sorted(FILES)))
    data = FILES[name][0]
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, max(len(data) - 1, 0)))
        end = min(len(data), start + draw(st.integers(0, 40)))
        new = draw(
            st.sampled_from(
                [b"", b"nan", b"-1e308", b"1e999", b"0", b"\n", b"\0", b"<", b"&a;", b"99999999999999999999"]
            )
            | st.binary(max_size=6)
            | st.just(data[start:end] * 2)
        )
        data = data[:start] + new + data[end:]
    return name, data


@given(_damaged(), asked)
def test_a_damaged_file_gives_an_outline_or_faults(damaged: tuple[str, bytes], options: Asked) -> None:
    name, data = damaged
    try:
        drawing = FILES[name][1](data, options)
    except JobFaults as refused:
        assert all(f.says and f.remedy for f in refused.faults)
    else:
        _is_sound(drawing)


@given(st.sampled_from(sorted(READERS)), st.binary(max_size=300), asked)
def test_any_bytes_are_refused(kind: str, data: bytes, options: Asked) -> None:
    try:
        READERS[kind](data, options)
    except JobFaults as refused:
        assert refused.faults


_coordinate = st.integers(-6, 6).map(lambda k: 3.0 * k) | st.floats(-20, 20)
_point = st.builds(Point, _coordinate, _coordinate)


@st.composite
def _soup(draw: st.DrawFn) -> list[Segment]:
    """Loose pieces: chains, single lines, arcs, doubles, mirror images."""
    pieces: list[Segment] = []
    for _ in range(draw(st.integers(1, 4))):
        points = draw(st.lists(_point, min_size=2, max_size=6))
        for a, b in pairwise(points):
            if math.dist(a, b) < 1e-6:
                continue
            if draw(st.booleans()):
                pieces.append(Line(a, b))
            else:
                bend = draw(st.floats(0.501, 4))
                pieces.append(Arc.from_radius(a, b, math.dist(a, b) * bend, ccw=draw(st.booleans())))
    if draw(st.booleans()):
        pieces += [s.mirrored() for s in pieces]
    return pieces


@given(_soup(), asked)
def test_any_pieces_give_an_outline_or_faults(pieces: list[Segment], options: Asked) -> None:
    found = Found([Piece(s) for s in pieces], [], [], 0.0, 1.0)
    try:
        drawing = understand(found, options, "soup")
    except JobFaults as refused:
        assert all(f.says and f.remedy for f in refused.faults)
    else:
        _is_sound(drawing)


@st.composite
def _part(draw: st.DrawFn) -> Outline:
    """A part that can be turned: an end, then forms that only grow or stay, so that any reading of it is the same."""
    d = draw(st.floats(6, 30))
    forms: list[dict[str, object]] = [{"form": "dome", "diameter": d, "height": draw(st.floats(0.2, 0.5)) * d}]
    for _ in range(draw(st.integers(1, 4))):
        kind = draw(st.sampled_from(["cylinder", "taper", "fillet", "ogee", "bead"]))
        length = draw(st.floats(2, 20))
        if kind == "cylinder":
            forms.append({"form": kind, "length": length})
        elif kind == "taper":
            forms.append({"form": kind, "length": length, "to_diameter": (d := d + draw(st.floats(0.5, 6)))})
        elif kind == "fillet":
            d += draw(st.floats(3, 8))
            forms += [
                {"form": "cylinder", "length": length},
                {"form": kind, "radius": 1},
                {"form": "face", "diameter": d},
            ]
        elif kind == "ogee":
            forms.append({"form": kind, "length": length, "to_diameter": (d := d + draw(st.floats(0.5, 6)))})
        else:
            forms.append({"form": kind, "length": length, "height": draw(st.floats(0.05, 0.4)) * length})
    forms.append({"form": "cylinder", "length": 5})
    return outline_from_forms(forms, 1.0)


@given(_part(), st.sampled_from(["mm", "in"]), st.sampled_from(["dxf", "svg"]))
def test_an_outline_comes_back_within_a_tenth_of_a_micrometre(outline: Outline, unit: str, kind: str) -> None:
    if kind == "dxf":
        back = read_dxf(outline_dxf(outline, unit, dimensions=False).encode()).outline  # type: ignore[arg-type]
    else:
        back = read_svg(outline_svg(outline, unit).encode()).outline  # type: ignore[arg-type]
    for share in (0, 0.1, 0.25, 0.5, 0.7, 0.9, 1):
        assert math.dist(_at(outline, share), _at(back, share)) < 1e-4


def _at(outline: Outline, share: float) -> Point:
    s = share * outline.length
    for segment in outline.segments:
        if s <= segment.length:
            return segment.point(s)
        s -= segment.length
    return outline.end
