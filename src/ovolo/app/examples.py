"""The example jobs that come along, put on the list the first time that a store is opened."""

from __future__ import annotations

from pathlib import Path

import ovolo
from ovolo.app.toml import document_from_toml
from ovolo.store import Store

_NOTE = "examples"
SAID = "an example"
"""What their history says."""

FIRST = "bridge-pin"
"""It is put on the list last, so that it stands at the top."""


def example_folder() -> Path | None:
    """Where the examples are: in the package, or beside it in a checkout."""
    package = Path(ovolo.__file__).parent
    places = (package / "examples", package.parents[1] / "examples")
    return next((place for place in places if any(place.glob("*.toml"))), None)


def add_examples(store: Store) -> int:
    """Keep every example, once; returns how many were added."""
    folder = example_folder()
    if folder is None or not store.once(_NOTE):
        return 0
    files = sorted(folder.glob("*.toml"), key=lambda file: (file.stem == FIRST, file.name), reverse=False)
    for file in files:
        store.add("job", document_from_toml(file.read_text(encoding="utf-8")), SAID)
    return len(files)
