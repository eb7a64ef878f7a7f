"""The title block."""

import json

from tests.show.plans import planned

from ovolo.documents.plan.document import plan_as_json
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.title_block import draw_title_block, shortened, title_block


def test_the_plan_is_known_by_its_checksum() -> None:
    plan = planned("bridge-pin")
    block = title_block(plan)
    assert block.plan == json.loads(plan_as_json(plan))["checksum"]
    assert (block.title, block.material, block.unit) == ("Bridge pin, domed end", "mild steel", "millimetres")


def test_a_long_title_is_shortened_to_its_field() -> None:
    drawn = "".join(draw_title_block(title_block(planned("handle")), 0, 0, 120, 30, "5 : 1"))
    assert "…" in drawn
    assert "5 : 1" in drawn


def test_words_that_fit_are_left_alone() -> None:
    assert shortened("Bridge pin", 3.5, 100) == "Bridge pin"
    assert breadth(shortened("x" * 400, 3.5, 50), 3.5) <= 50
