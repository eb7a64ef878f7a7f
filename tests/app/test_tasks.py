"""Tasks: the same job is planned once, others anew."""

import json
from typing import Any

from ovolo.app import tasks


def test_the_last_plans_are_remembered(pin: dict[str, Any]) -> None:
    first = tasks.planned(pin)
    assert tasks.planned(json.loads(json.dumps(pin))) is first
    assert tasks.planned({**pin, "title": "another"}) is not first


def test_every_task_gives_json_or_a_file(pin: dict[str, Any]) -> None:
    for name in ("plan", "plan_view", "plan_further", "trade", "part_view", "shop_view"):
        assert json.loads(tasks.TASKS[name](pin)), name
    assert tasks.TASKS["file"](pin, "moves.csv").startswith(b"move,")


def test_what_surrounds_a_drawing_on_a_page_has_its_style(pin: dict[str, Any]) -> None:
    assert "<style" not in json.loads(tasks.TASKS["plan_further"](pin))["strip"]
