"""STEP: what is refused without the extra, and what is read with it."""

import importlib.util
import itertools
import math
from pathlib import Path

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc
from ovolo.part.files import read_step

needs_extra = pytest.mark.skipif(importlib.util.find_spec("OCP") is None, reason="the extra `step` is not installed")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (b"hello", "not a STEP file"),
        (b"ISO-10303-21;\nHEADER;\n", "breaks off"),
    ],
)
def test_what_is_no_step_file_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        read_step(data)


@pytest.mark.skipif(importlib.util.find_spec("OCP") is not None, reason="the extra `step` is installed")
def test_without_the_extra_it_says_how_to_get_it() -> None:
    with pytest.raises(JobFaults, match=r"ovolo\[step\]"):
        read_step(b"ISO-10303-21;\nEND-ISO-10303-21;\n")


def _pin(folder: Path, *, flat: bool = False) -> bytes:
    """A bridge pin with a collar, turned about z; with a flat milled on it where asked."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeRevol
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer

    def at(z: float, r: float) -> gp_Pnt:
        return gp_Pnt(r, 0, z)

    corners = [(-9, 9), (-24, 9), (-26, 12), (-40, 12), (-40, 0), (0, 0)]
    dome = GC_MakeArcOfCircle(at(0, 0), at(-9 + 9 * math.cos(0.7), 9 * math.sin(0.7)), at(-9, 9)).Value()
    wire = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(dome).Edge())
    for a, b in itertools.pairwise(corners):
        wire.Add(BRepBuilderAPI_MakeEdge(at(*a), at(*b)).Edge())
    axis = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
    shape = BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), axis).Shape()
    if flat:
        shape = BRepAlgoAPI_Cut(shape, BRepPrimAPI_MakeBox(gp_Pnt(-20, 7, -20), gp_Pnt(20, 20, -12)).Shape()).Shape()
    writer = STEPControl_Writer()
    writer.Transfer(shape, STEPControl_AsIs)
    writer.Write(str(folder / "pin.step"))
    return (folder / "pin.step").read_bytes()


@needs_extra
def test_a_turned_solid_is_read_to_its_arcs(tmp_path: Path) -> None:
    drawing = read_step(_pin(tmp_path))
    dome = drawing.outline.segments[0]
    assert isinstance(dome, Arc)
    assert dome.radius == pytest.approx(9)
    nodes = [v for p in drawing.outline.nodes for v in p]
    assert nodes == pytest.approx([0, 0, -9, 9, -24, 9, -26, 12, -40, 12], abs=1e-6)


@needs_extra
def test_a_solid_with_a_flat_is_refused(tmp_path: Path) -> None:
    with pytest.raises(JobFaults, match="not turned about the same axis"):
        read_step(_pin(tmp_path, flat=True))


@needs_extra
def test_damaged_solids_are_refused(tmp_path: Path) -> None:
    data = _pin(tmp_path)
    for k in range(200, len(data), 1999):
        try:
            read_step(data[:k] + b"#9x(" + data[k + 4 :])
        except JobFaults as refused:
            assert refused.faults[0].says
