"""Cutting edges: a round nose, a knife, a blade, a form tool, each one module behind one protocol (`edge.Edge`)."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ovolo.shop.edges import blade, form_edge, knife, round_nose
from ovolo.shop.edges.edge import Edge, Told

__all__ = ["EDGES", "Edge", "Told"]

#: What makes the edge of a tool from its figures, for each kind.
EDGES: Mapping[str, Callable[[Told], Edge]] = {
    "round": round_nose.of,
    "pointed": knife.of,
    "grooving": blade.of,
    "form": form_edge.of,
}
