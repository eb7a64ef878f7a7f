"""The documentation says what the code says: commands, fields, sources, links, pictures, what is printed."""

import importlib
import importlib.util
import re
from pathlib import Path
from types import ModuleType
from xml.etree import ElementTree

import pytest

from ovolo.cli.commands import COMMANDS
from ovolo.documents.reading import read_job
from ovolo.documents.schema import schema_of
from ovolo.plan.planner import make_plan
from ovolo.show.paper.lettering import breadth

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
PAGES = sorted([*DOCS.rglob("*.md"), ROOT / "README.md"])
REMAKE = "run docs/make_reference.py"
LINK = re.compile(r"\]\(([^)#\s]+)[^)]*\)")
CODE = re.compile(r"```sh\n.*?```|`ovolo [^`]*`", re.DOTALL)
STANDARD = re.compile(r"\b(?:ISO|DIN|JCGM|VDI|ASME|IEC) [0-9]+(?:-[0-9]+)?\b")


def _script(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def reference() -> ModuleType:
    return _script(DOCS / "make_reference.py")


def test_commands_are_as_help_says(reference: ModuleType) -> None:
    assert (DOCS / "cli.md").read_text(encoding="utf-8") == reference.command_reference(), REMAKE


def test_every_command_has_its_part() -> None:
    text = (DOCS / "cli.md").read_text(encoding="utf-8")
    assert all(f"## ovolo {name}\n" in text for name in COMMANDS)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_commands_have_the_options_that_a_page_gives_them(page: Path) -> None:
    if "decisions" in page.parts:
        return
    shown = re.findall(r"ovolo (\w+)((?: [^\n`|;#]*)?)", "\n".join(CODE.findall(page.read_text(encoding="utf-8"))))
    for name, words in ((name, words) for name, words in shown if name in COMMANDS):
        command = getattr(importlib.import_module(f"ovolo.cli.{name}"), name)
        known = {option for parameter in command.params for option in parameter.opts} | {"-h", "--help"}
        assert {word.split("=")[0] for word in re.findall(r"(?<= )--?[a-z][-\w=]*", words)} <= known, (
            f"ovolo {name}{words}"
        )


def test_anchors_lead_to_a_heading() -> None:
    for page in PAGES:
        for link, anchor in re.findall(r"\]\(([^)#\s:]*)#([^)\s]+)\)", page.read_text(encoding="utf-8")):
            text = ((page.parent / link) if link else page).read_text(encoding="utf-8")
            heads = [
                re.sub(r"[^\w\- ]", "", head).strip().lower() for head in re.findall(r"^#+ (.*)$", text, re.MULTILINE)
            ]
            assert anchor in {head.replace(" ", "-") for head in heads}, f"{page.name}: {link}#{anchor}"


def test_fields_are_as_the_schema_says(reference: ModuleType) -> None:
    text = (DOCS / "job.md").read_text(encoding="utf-8")
    assert text == reference.job_reference(text), REMAKE


def test_every_field_of_a_job_is_told() -> None:
    text = (DOCS / "job.md").read_text(encoding="utf-8")
    schema = schema_of("job")
    tables = [schema, *(table for name, table in schema["$defs"].items() if name != "SlideTables")]
    missing = {name for table in tables for name in table.get("properties", {}) if f"| `{name}` |" not in text}
    assert not missing


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_links_lead_somewhere(page: Path) -> None:
    links = [link for link in LINK.findall(page.read_text(encoding="utf-8")) if "://" not in link]
    broken = [link for link in links if not (page.parent / link).exists()]
    assert not broken


def test_every_page_can_be_found_from_the_first() -> None:
    found, to_read = set(), [DOCS / "index.md"]
    while to_read:
        page = to_read.pop().resolve()
        if page in found or page.suffix != ".md" or not page.exists():
            continue
        found.add(page)
        to_read += [page.parent / link for link in LINK.findall(page.read_text(encoding="utf-8")) if "://" not in link]
    told = {page.resolve() for page in DOCS.rglob("*.md") if "decisions" not in page.parts}
    assert not told - found


def test_every_standard_named_in_the_code_is_among_the_sources() -> None:
    told = set(STANDARD.findall((DOCS / "sources.md").read_text(encoding="utf-8")))
    named = {name for file in (ROOT / "src").rglob("*.py") for name in STANDARD.findall(file.read_text("utf-8"))}
    assert not named - told


def test_the_tutorial_shows_what_is_printed(reference: ModuleType) -> None:
    text = (DOCS / "tutorial.md").read_text(encoding="utf-8")
    assert text == reference.tutorial(text), REMAKE
    plan = make_plan(read_job(ROOT / "examples" / "bridge-pin.toml"))
    assert f"{plan.stations} settings leave ridges of at most {plan.prediction.ridge_max:.3f} mm" in text


WIDER = 1.12
"""A face that stands in for Source Sans may be so much wider than its labels are reckoned: DejaVu Sans was measured."""


@pytest.mark.parametrize("picture", sorted((DOCS / "pictures").glob("*.svg")), ids=lambda picture: picture.stem)
def test_labels_stay_within_their_picture_in_a_wider_face_too(picture: Path) -> None:
    root = ElementTree.parse(picture).getroot()
    width = float(root.get("viewBox", "").split()[2])
    for text in (e for e in root.iter() if e.tag.endswith("}text") and not e.get("transform")):
        words, strong = text.text or "", "strong" in (text.get("class") or "")
        wide = WIDER * breadth(words, float(text.get("font-size") or 0), strong=strong)
        left = float(text.get("x") or 0) - {"middle": 0.5, "end": 1.0}.get(text.get("text-anchor") or "", 0.0) * wide
        assert left >= 0, words
        assert left + wide <= width, words


def test_pictures_can_be_made_again(tmp_path: Path) -> None:
    _script(DOCS / "theory" / "make_pictures.py").main(tmp_path)
    made = sorted(tmp_path.glob("*.svg"))
    assert made
    assert {picture.name for picture in made} <= {picture.name for picture in (DOCS / "pictures").glob("*.svg")}
    for picture in made:
        root = ElementTree.parse(picture).getroot()
        assert len(list(root.iter())) > 10
