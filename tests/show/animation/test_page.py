"""The cut as an animation."""

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from tests.show.plans import planned

from ovolo.show.animation.page import animation_as_html, animation_view, tools_drawn


def _data(html: str) -> dict[str, list[dict[str, object]]]:
    found = re.search(r'<script type="application/json" id="data">(.*?)</script>', html, re.DOTALL)
    assert found
    data = json.loads(found[1])
    assert isinstance(data, dict)
    return data


@pytest.mark.parametrize("name", ["bridge-pin", "bush", "handle"])
def test_every_move_is_in_it(name: str) -> None:
    plan = planned(name)
    html = animation_as_html(animation_view(plan))
    assert len(_data(html)["moves"]) == len(plan.moves)
    assert html.count('class="chip"') == len(plan.moves)
    assert html.count('class="one-tool"') == len(plan.tools)


def test_the_centre_is_in_it_where_the_job_has_one() -> None:
    words = "<title>The tailstock's centre</title>"
    assert words in animation_as_html(animation_view(planned("winch-handle")))
    assert words not in animation_as_html(animation_view(planned("bridge-pin")))


def test_a_boring_bar_is_in_it_where_the_job_tells_of_one() -> None:
    """The bar of the bush is 12 mm thick, its nose stands 3 mm out of it."""
    view = animation_view(planned("bronze-bush"))
    (drawn,) = tools_drawn(view)
    bar = re.search(r'<path class="tool-thin" d="M([^"]*)Z"', drawn)
    assert bar
    down = [float(y) for _, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", bar[1])]
    assert min(down) / view.place.scale == pytest.approx(3 - view.plan.tools[0].nose_radius, abs=0.01)
    assert max(down) / view.place.scale == pytest.approx(15 - view.plan.tools[0].nose_radius, abs=0.01)
    assert drawn in animation_as_html(view)
    assert "ground" not in tools_drawn(animation_view(planned("bridge-pin")))[0]


def test_it_asks_for_nothing_from_anywhere() -> None:
    html = animation_as_html(animation_view(planned("bridge-pin")))
    assert not re.search(r"(src|href)=|url\((?!#)|@import|//[a-z]+\.", html.replace("http://www.w3.org/2000/svg", ""))
    assert "default-src 'none'" in html


def test_hostile_titles_stay_text() -> None:
    html = animation_as_html(animation_view(planned("handle")))
    assert "<with>" not in html
    assert "Winch handle &lt;with&gt; &amp;" in html


@pytest.mark.browser
def test_it_plays_stops_and_steps(tmp_path: Path, browser: Browser) -> None:
    page_file = tmp_path / "cut.html"
    plan = planned("bridge-pin")
    last = len(plan.moves)
    page_file.write_text(animation_as_html(animation_view(plan)), encoding="utf-8")
    page = browser.new_page(reduced_motion="reduce")
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(page_file.as_uri())
    assert page.inner_text("#says") == "Before the first move"
    page.click("#on")
    page.click("#on")
    assert page.inner_text("#count") == f"move 2 of {last}"
    assert page.locator(".chip.gone").count() == 2
    page.click("#back")
    assert page.inner_text("#count") == f"move 1 of {last}"
    page.evaluate(f"go({last - 0.5})")
    assert page.inner_text("#count") == f"move {last} of {last}"
    page.click("#play")
    page.get_by_role("button", name="Play", exact=True).wait_for()
    assert page.locator(".chip:not(.gone)").count() == 0
    page.close()
    assert not said
