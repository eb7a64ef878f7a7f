"""The pages: there, complete, with nothing from another host."""

import io
import re
from typing import Any

import httpx
import pytest
from fontTools.ttLib import TTFont
from pydantic import BaseModel

from ovolo.app.pages import HERE, TABS
from ovolo.documents.job_model import CrossTable, LatheTable, PaceTable, SaddleTable, TopTable
from ovolo.documents.starting import started
from ovolo.documents.starts import STARTS
from ovolo.show.pages.part_page import part_sketch


@pytest.fixture(scope="module")
def name(client: httpx.Client, pin: dict[str, Any]) -> str:
    return str(client.post("/api/jobs", json=pin).json()["id"])


def test_the_list_shows_what_is_kept(client: httpx.Client, name: str, pin: dict[str, Any]) -> None:
    text = client.get("/").text
    assert f'href="/jobs/{name}/plan"' in text
    assert pin["title"] in text


@pytest.mark.parametrize("tab", TABS)
def test_each_tab_is_there(client: httpx.Client, name: str, tab: str) -> None:
    answer = client.get(f"/jobs/{name}/{tab}")
    assert answer.status_code == 200
    assert f'<a href="/jobs/{name}/{tab}" aria-current="page">' in answer.text
    for address in re.findall(r'(?:src|href)="(/static/[^"]+)"', answer.text):
        assert client.get(address).status_code == 200, address


def test_every_table_of_a_shop_has_fields(client: httpx.Client, name: str) -> None:
    """All that a job file may say of slides, lathe and pace; the angle of a top slide can only be 0."""
    text = client.get(f"/jobs/{name}/shop").text
    tables: dict[str, type[BaseModel]] = {
        "lathe": LatheTable,
        "pace": PaceTable,
        "slide.top": TopTable,
        "slide.saddle": SaddleTable,
    }
    shown = set(re.findall(r'data-path="([^"]+)"', text))
    wanted = {f"{table}.{field}" for table, model in tables.items() for field in model.model_fields}
    meaningless = {"slide.saddle.reads", "slide.top.reads", "slide.top.angle"}
    assert wanted - shown == meaningless
    assert {f"slide.cross.{field}" for field in CrossTable.model_fields} <= shown


def test_a_job_opens_at_its_plan(client: httpx.Client, name: str) -> None:
    assert client.get(f"/jobs/{name}", follow_redirects=False).headers["location"] == f"/jobs/{name}/plan"


def test_what_is_not_there_is_said(client: httpx.Client, name: str) -> None:
    assert client.get(f"/jobs/{name}/turning-everything").status_code == 404
    answer = client.get("/jobs/nothing/plan")
    assert answer.status_code == 404
    assert "Not here" in answer.text


def test_nothing_comes_from_another_host() -> None:
    files = [*(HERE / "static").rglob("*"), *(HERE / "templates").rglob("*")]
    for file in (each for each in files if each.suffix in (".js", ".css", ".html", ".svg")):
        text = file.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
        assert "http:" not in text, file
        assert "https:" not in text, file
        assert not re.search(r"<[a-z]+[^>]* (style|on[a-z]+)=", text), file


def test_the_face_is_served(client: httpx.Client) -> None:
    answer = client.get("/fonts/Regular.ttf")
    assert answer.headers["content-type"] == "font/ttf"
    assert 20_000 < len(answer.content) < 60_000  # the letters that pages use, not the whole file
    face = TTFont(io.BytesIO(answer.content))
    assert {ord(c) for c in "Ø −°±é"} <= set(face.getBestCmap())


def test_the_pictures_of_the_forms_are_those_of_today(client: httpx.Client) -> None:
    for name in STARTS:
        text = (HERE / "static" / "starts" / f"{name.replace(' ', '-')}.svg").read_text(encoding="utf-8")
        assert text == part_sketch(started(name)), "python docs/pictures/make.py"
        assert f'name="form" value="{name}"' in client.get("/").text


def test_every_form_asks_for_its_first_figures(client: httpx.Client) -> None:
    text = client.get("/").text
    for name, form in STARTS.items():
        shown = [size for size in form.sizes if f'id="{name}-{size}" name="size.{size}"' in text]
        assert shown == list(form.sizes)[: 4 if name == "handle" else 3]


def test_a_form_of_a_page_without_its_script_makes_a_job(client: httpx.Client) -> None:
    asked = {"form": "end radius", "units": "mm", "once": "a", "size.diameter": "22", "size.radius": "5"}
    first = client.post("/new", data=asked, follow_redirects=False)
    assert first.status_code == 303
    assert client.post("/new", data=asked, follow_redirects=False).headers["location"] == first.headers["location"]
    kept = client.get(f"/api{first.headers['location'].removesuffix('/plan')}").json()
    assert kept["document"]["part"]["form"][1]["diameter"] == 22
    wrong = client.post("/new", data={**asked, "size.radius": "none"}, follow_redirects=False)
    assert wrong.status_code == 422
    assert "radius" in wrong.text


def test_examples_stand_apart_from_ones_own(client: httpx.Client, name: str) -> None:
    text = client.get("/").text
    assert text.index("Your jobs") < text.index(f'data-id="{name}"')


def test_a_plan_can_be_read_without_any_script(client: httpx.Client, name: str) -> None:
    text = client.get(f"/jobs/{name}/plain").text
    assert "Set-up" in text
    assert text.count("<tr>") > 30
    assert '<script type="module"' not in text
