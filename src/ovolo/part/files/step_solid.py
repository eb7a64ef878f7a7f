"""The solid of a STEP file, cut to the pieces of its half-section: a process of its own.

The kernel that reads STEP can run for ever on a damaged file, or fall over and take its process with it. So
`read_step` starts this module as a process: python -m ovolo.part.files.step_solid SOLID RESULT TOLERANCE
"""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

from ovolo.errors import JobFaults
from ovolo.geometry.fit import fit_curve
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.drawing import Found, Piece, refuse_file
from ovolo.tolerances import SEEN

resource: ModuleType | None
try:
    resource = import_module("resource")
except ImportError:  # there is none on Windows
    resource = None

#: What the process may take: processor time, s, and address space, bytes.
MOST_SECONDS = 60
MOST_MEMORY = 6_000_000_000

_Vector = tuple[float, float, float]


def main(args: list[str]) -> int:
    """Read the solid, and write its pieces or its faults as JSON."""
    _limit()
    solid, result, tolerance = Path(args[0]), Path(args[1]), float(args[2])
    try:
        found = _found(solid, tolerance, "")
        answer: dict[str, Any] = {
            "pieces": [packed(p.segment) for p in found.pieces],
            "notes": found.notes,
            "deviation": found.deviation,
        }
    except JobFaults as wrong:
        answer = {"faults": [f.as_dict() for f in wrong.faults]}
    result.write_text(json.dumps(answer), encoding="utf-8")
    return 0


def packed(s: Segment) -> list[float]:
    """A segment as numbers [mm]: the ends of a line; ends, centre and sense of an arc.

    >>> unpacked(packed(Line(Point(0.0, 9.0), Point(-24.0, 9.0))))
    Line(start=Point(x=0.0, y=9.0), end=Point(x=-24.0, y=9.0))
    """
    return [*s.start, *s.end] if isinstance(s, Line) else [*s.start, *s.end, *s.centre, float(s.ccw)]


def unpacked(row: list[float]) -> Segment:
    """The segment [mm] that was packed."""
    start, end = Point(row[0], row[1]), Point(row[2], row[3])
    return Line(start, end) if len(row) == 4 else Arc(start, end, Point(row[4], row[5]), bool(row[6]))


def _limit() -> None:
    """Bound this process, where the system can."""
    if resource is None:
        return
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS + 5))
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _found(solid: Path, tolerance: float, where: str) -> Found:
    shape = _shape(solid, where)
    origin, along = _axis(shape, where)
    notes = [f"the axis of its faces runs along {_named(along)} of the solid"]
    best: Found | None = None
    for side in (1.0, -1.0):
        pieces, deviation, curves = _section(shape, origin, along, side, tolerance)
        if not pieces:
            continue
        more = [f"{curves} curves became tangent arcs, at most {deviation * 1000:.2f} µm off"] if curves else []
        found = Found(pieces, [], notes + more, deviation, 1.0)
        if best is None or deviation < best.deviation:
            best = found
    if best is None:
        refuse_file(where, None, "a plane through its axis does not cut it", "Export a solid of revolution")
    return best


def _shape(solid: Path, where: str) -> Any:
    """The first solid of the file, in mm."""
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Message import Message
    from OCP.STEPControl import STEPControl_Reader

    # The kernel prints what it thinks of a file; what a person needs to know is in the fault.
    Message.DefaultMessenger_s().ChangePrinters().Clear()
    reader = STEPControl_Reader()
    if reader.ReadFile(str(solid)) != IFSelect_RetDone or not reader.TransferRoots():
        refuse_file(where, None, "there is no solid in it", "Export the solid as STEP")
    return reader.OneShape()


def _axis(shape: Any, where: str) -> tuple[_Vector, _Vector]:
    """The axis that the round faces share; refuses a solid that has a face off it."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.GeomAbs import (
        GeomAbs_Cone,
        GeomAbs_Cylinder,
        GeomAbs_Plane,
        GeomAbs_Sphere,
        GeomAbs_SurfaceOfRevolution,
        GeomAbs_Torus,
    )
    from OCP.TopAbs import TopAbs_FACE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    axes: list[tuple[_Vector, _Vector]] = []
    spheres: list[_Vector] = []
    planes: list[_Vector] = []
    walk = TopExp_Explorer(shape, TopAbs_FACE)
    while walk.More():
        surface = BRepAdaptor_Surface(_as_face(TopoDS, walk.Current()))
        kind = surface.GetType()
        if kind == GeomAbs_Sphere:
            spheres.append(_xyz(surface.Sphere().Location()))
        elif kind == GeomAbs_Plane:
            planes.append(_xyz(surface.Plane().Axis().Direction()))
        elif kind in (GeomAbs_Cylinder, GeomAbs_Cone, GeomAbs_Torus, GeomAbs_SurfaceOfRevolution):
            getters = {
                GeomAbs_Cylinder: lambda s: s.Cylinder().Axis(),
                GeomAbs_Cone: lambda s: s.Cone().Axis(),
                GeomAbs_Torus: lambda s: s.Torus().Axis(),
                GeomAbs_SurfaceOfRevolution: lambda s: s.AxeOfRevolution(),
            }
            axis = getters[kind](surface)
            axes.append((_xyz(axis.Location()), _xyz(axis.Direction())))
        else:
            refuse_file(where, None, "it has a face that is not turned (a free-form one)", "Export a DXF half-section")
        walk.Next()
    if not axes and len(planes) and spheres:
        axes.append((spheres[0], planes[0]))
    if not axes:
        refuse_file(where, None, "it has no round face, so that no axis shows", "Export a solid of revolution")
    origin, along = axes[0]
    off = [o for o, d in axes if _distance(o, origin, along) > SEEN or abs(abs(_dot(d, along)) - 1) > 1e-9]
    off += [o for o in spheres if _distance(o, origin, along) > SEEN]
    tilted = [d for d in planes if abs(abs(_dot(d, along)) - 1) > 1e-9]
    if off or tilted:
        says = f"{len(off) + len(tilted)} of its faces are not turned about the same axis"
        refuse_file(where, None, says, "Leave out flats, cross holes and keyways: export the turned shape alone")
    largest = max(range(3), key=lambda k: abs(along[k]))
    if along[largest] < 0:
        along = (-along[0], -along[1], -along[2])
    return origin, along


def _as_face(topods: Any, shape: Any) -> Any:
    """Releases of the kernel's binding name this cast differently."""
    return topods.Face_s(shape) if hasattr(topods, "Face_s") else topods.Face(shape)


def _section(
    shape: Any, origin: _Vector, along: _Vector, side: float, tolerance: float
) -> tuple[list[Piece], float, int]:
    """Pieces of the cut by the half-plane on one side of the axis: x along the axis, y off it."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Section
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pln, gp_Pnt
    from OCP.TopAbs import TopAbs_EDGE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    out = _square_to(along, side)
    across = _cross(along, out)
    plane = gp_Pln(gp_Ax3(gp_Pnt(*origin), gp_Dir(*across), gp_Dir(*along)))
    cut = BRepAlgoAPI_Section(shape, plane, False)
    cut.Build()
    pieces: list[Piece] = []
    worst, curves = 0.0, 0
    walk = TopExp_Explorer(cut.Shape(), TopAbs_EDGE)
    while walk.More():
        edge = walk.Current()
        curve = BRepAdaptor_Curve(TopoDS.Edge_s(edge) if hasattr(TopoDS, "Edge_s") else TopoDS.Edge(edge))
        segments, off = _edge(curve, origin, along, out, tolerance)
        pieces += [Piece(s) for s in segments if s.point(s.length / 2).y > 0]
        worst, curves = max(worst, off), curves + (off > 0)
        walk.Next()
    return pieces, worst, curves


def _edge(curve: Any, origin: _Vector, along: _Vector, out: _Vector, tolerance: float) -> tuple[list[Segment], float]:
    from OCP.GeomAbs import GeomAbs_Circle, GeomAbs_Line
    from OCP.gp import gp_Pnt, gp_Vec

    def flat(p: Any) -> Point:
        d = (p.X() - origin[0], p.Y() - origin[1], p.Z() - origin[2])
        return Point(_dot(d, along), _dot(d, out))

    low, high = float(curve.FirstParameter()), float(curve.LastParameter())
    start, end = flat(curve.Value(low)), flat(curve.Value(high))
    if curve.GetType() == GeomAbs_Line:
        return ([Line(start, end)] if math.dist(start, end) > 1e-9 else []), 0.0
    if curve.GetType() == GeomAbs_Circle:
        return list(_circle(flat(curve.Circle().Location()), start, flat(curve.Value((low + high) / 2)), end)), 0.0

    def at(t: float) -> tuple[Point, Point]:
        p, v = gp_Pnt(), gp_Vec()
        curve.D1(t, p, v)
        slope = (v.X(), v.Y(), v.Z())
        return flat(p), Point(_dot(slope, along), _dot(slope, out))

    fitted = fit_curve(at, low, high, tolerance)
    return list(fitted.segments), max(fitted.deviation, 1e-12)


def _circle(centre: Point, start: Point, middle: Point, end: Point) -> Iterator[Segment]:
    """A circular edge, in two halves: each turns by half a circle at most, so that its sense is plain."""
    for a, b in ((start, middle), (middle, end)):
        turn = (a.x - centre.x) * (b.y - centre.y) - (a.y - centre.y) * (b.x - centre.x)
        if abs(turn) > 1e-12:
            yield Arc(a, b, centre, turn > 0)
        else:
            first = (start.x - centre.x) * (middle.y - centre.y) - (start.y - centre.y) * (middle.x - centre.x)
            yield Arc(a, b, centre, first >= 0)


def _xyz(v: Any) -> _Vector:
    return float(v.X()), float(v.Y()), float(v.Z())


def _dot(a: _Vector, b: _Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: _Vector, b: _Vector) -> _Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _distance(p: _Vector, origin: _Vector, along: _Vector) -> float:
    d = (p[0] - origin[0], p[1] - origin[1], p[2] - origin[2])
    return math.hypot(*_cross(d, along))


def _square_to(along: _Vector, side: float) -> _Vector:
    """A unit vector square to the axis."""
    least = min(range(3), key=lambda k: abs(along[k]))
    other: _Vector = (float(least == 0), float(least == 1), float(least == 2))
    v = _cross(along, other)
    size = math.hypot(*v) * side
    return v[0] / size, v[1] / size, v[2] / size


def _named(along: _Vector) -> str:
    for k, name in enumerate("xyz"):
        if abs(along[k]) > 1 - 1e-9:
            return name
    return f"({along[0]:.4f}, {along[1]:.4f}, {along[2]:.4f})"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
