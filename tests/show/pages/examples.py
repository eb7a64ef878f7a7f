"""Plans of the examples, made once."""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = sorted(file.stem for file in EXAMPLES.glob("*.toml"))


def document(name: str = "bridge-pin") -> dict[str, Any]:
    """An example as it was typed."""
    return tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def plan(name: str = "bridge-pin") -> Plan:
    """Its plan."""
    return make_plan(job_from_data(document(name)))
