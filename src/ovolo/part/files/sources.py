"""Bytes of a drawing file, within limits: nothing is read that cannot be a drawing."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from ovolo.part.files.drawing import refusal, refuse_file

#: The largest file that is read, bytes; a half-section of a thousand arcs takes less than 1 MB.
MOST_BYTES = 16_000_000
#: The most pieces of geometry that are looked at; a turned part has a few hundred.
MOST_PIECES = 10_000

Source = Path | str | bytes


def name_of(source: Source, kind: str) -> str:
    """What a fault about the source calls it."""
    return f"the {kind} file" if isinstance(source, bytes) else str(source)


def load(source: Source, kind: str) -> bytes:
    """The bytes of a file or of bytes already read. Raises JobFaults where it is not there, empty, or too large."""
    where = name_of(source, kind)
    if isinstance(source, bytes):
        size, data = len(source), source
    else:
        size, data = _read(Path(source), where)
    if size > MOST_BYTES:
        limit = f"at most {MOST_BYTES // 1_000_000} MB"
        refuse_file(where, f"{size / 1e6:.1f} MB", "it is too large for a drawing of a turned part", _LESS, limit)
    if not data.strip():
        refuse_file(where, None, "it is empty", "Export the drawing again")
    return data


_LESS = "Export only the outline of the part"


def _read(path: Path, where: str) -> tuple[int, bytes]:
    try:
        kind = os.stat(path)
        plain = stat.S_ISREG(kind.st_mode)
        data = b"" if not plain or kind.st_size > MOST_BYTES else path.read_bytes()
    except (OSError, ValueError) as why:
        reason = getattr(why, "strerror", None) or "its name is not possible"
        raise refusal(where, None, f"it cannot be read: {reason.lower()}", "Check the name of the file") from None
    if not plain:
        refuse_file(where, None, "it is not a plain file", "Name the drawing file")
    return max(kind.st_size, len(data)), data
