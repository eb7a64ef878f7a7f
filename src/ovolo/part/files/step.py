"""STEP files: solids of revolution, cut by a plane through their axis. Needs the extra `step`."""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from ovolo.errors import Fault, JobFaults
from ovolo.part.files.drawing import Asked, Drawing, Found, Piece, refusal, refuse_file
from ovolo.part.files.sources import Source, load, name_of
from ovolo.part.files.step_solid import MOST_SECONDS, unpacked
from ovolo.part.files.understand import understand


def read_step(source: Source, asked: Asked = Asked()) -> Drawing:  # noqa: B008 (frozen)
    """The outline of a solid of revolution in a STEP file, or in its bytes; the file states its own units.

    The axis is that of its round faces; both half-planes through it are tried, and what comes back as arcs is
    preferred. Raises JobFaults where the extra is not installed, or the solid is not one of revolution.
    """
    where = name_of(source, "STEP")
    data = load(source, "STEP")
    if not data.lstrip().startswith(b"ISO-10303-21"):
        refuse_file(where, None, "it is not a STEP file", "Export the solid as STEP (AP203, AP214 or AP242)")
    if b"END-ISO-10303-21" not in data[-200:]:
        refuse_file(where, None, "it breaks off before its end", "Export or copy it again")
    if importlib.util.find_spec("OCP") is None:
        remedy = 'Install it with: pip install "ovolo[step]" (some 400 MB), or export a DXF of the half-section'
        refuse_file(where, None, "reading STEP takes an extra that is not installed", remedy)
    answer = _answer(data, asked.tolerance, where)
    if "faults" in answer:
        raise JobFaults(Fault(**{**fault, "where": where}) for fault in answer["faults"])
    pieces = [Piece(unpacked(row)) for row in answer["pieces"]]
    found = Found(pieces, [], answer["notes"], answer["deviation"], 1.0)
    return understand(found, replace(asked, axis="x", layers=(), without=()), where)


def _answer(data: bytes, tolerance: float, where: str) -> dict[str, Any]:
    """What the process that reads the solid found; refuses the file where that process falls over or runs on."""
    with TemporaryDirectory() as folder:
        solid, result = Path(folder) / "solid.step", Path(folder) / "result.json"
        solid.write_bytes(data)
        command = [sys.executable, "-m", "ovolo.part.files.step_solid", str(solid), str(result), repr(tolerance)]
        try:
            subprocess.run(command, capture_output=True, timeout=2 * MOST_SECONDS, check=True)
            answer: dict[str, Any] = json.loads(result.read_text(encoding="utf-8"))
        except (subprocess.SubprocessError, OSError, ValueError):
            raise refusal(where, None, "its solid is damaged, or too much to read", "Export it again") from None
    return answer
