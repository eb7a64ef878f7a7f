"""The page of a run: light, harmless whatever the job is called, the same each time it is made."""

import copy
import re
from typing import Any

import pytest

from ovolo.app.policy import policy_of
from ovolo.app.run_page import HERE, MODULES, run_page
from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan

MOST = 1_500_000


@pytest.fixture(scope="module")
def plan(pin: dict[str, Any]) -> dict[str, Any]:
    return plan_as_data(make_plan(job_from_data(pin)))


def test_three_hundred_moves_weigh_little(plan: dict[str, Any]) -> None:
    page = len(run_page(plan, "abc"))
    bare = copy.deepcopy(plan)
    bare["moves"] = bare["moves"][:1]
    bare["before"] = [before for before in bare["before"] if before["move"] == 1]
    alone = len(run_page(bare, "abc"))
    each = (page - alone) / (len(plan["moves"]) - 1)
    assert alone + 300 * each < MOST


def test_the_same_plan_makes_the_same_page(plan: dict[str, Any]) -> None:
    assert run_page(plan, "abc") == run_page(plan, "abc")
    assert run_page(plan, "abc") != run_page(plan, "abd")


def test_a_title_is_a_title_and_no_markup(plan: dict[str, Any]) -> None:
    sly = copy.deepcopy(plan)
    sly["job"]["title"] = "</script><script>alert(1)</script>&lt;!--"
    text = run_page(sly, "abc").decode()
    assert text.count("<script") == 2
    assert "alert(1)</script>" not in text


def test_the_policy_lets_in_its_own_script_and_style_only(plan: dict[str, Any]) -> None:
    page = run_page(plan, "abc")
    policy = policy_of(page)
    assert len(re.findall(r"'sha256-[^']+'", policy)) == 2
    assert policy_of(page.replace(b"use strict", b"use  strict")) != policy


def test_every_module_of_the_page_comes_after_those_that_it_imports() -> None:

    for i, name in enumerate(MODULES):
        text = (HERE / "static" / "turn" / f"{name}.js").read_text(encoding="utf-8")
        needs = re.findall(r'from "\./(\w+)\.js"', text)
        assert set(needs) <= set(MODULES[:i]), name
    names = [n for name in MODULES for n in _top_level(name)]
    assert len(names) == len(set(names)), sorted(n for n in names if names.count(n) > 1)


def _top_level(name: str) -> list[str]:

    text = (HERE / "static" / "turn" / f"{name}.js").read_text(encoding="utf-8")
    return re.findall(r"^(?:export )?(?:async )?(?:function|const|let) (\w+)", text, re.MULTILINE)
