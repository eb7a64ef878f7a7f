"""Make the pictures of the documentation from the examples, and those of the forms that a job starts from, which the
pages carry: python docs/pictures/make.py"""

from pathlib import Path

from ovolo.app import pages
from ovolo.documents.reading import read_job
from ovolo.documents.starting import started
from ovolo.documents.starts import STARTS
from ovolo.plan.planner import make_plan
from ovolo.show.drawing.pictures import picture_as_svg
from ovolo.show.pages.part_page import part_sketch

HERE = Path(__file__).parent
EXAMPLES = HERE.parents[1] / "examples"


def start_pictures() -> dict[Path, str]:
    """The picture of each form to start from, by its file."""
    folder = pages.HERE / "static" / "starts"
    return {folder / f"{name.replace(' ', '-')}.svg": part_sketch(started(name)) for name in STARTS}


def main() -> None:
    """Write each picture to its place."""
    plan = make_plan(read_job(EXAMPLES / "bridge-pin.toml"))
    (HERE / "bridge-pin.svg").write_text(picture_as_svg(plan), encoding="utf-8")
    (HERE / "bridge-pin-explained.svg").write_text(picture_as_svg(plan, "explained"), encoding="utf-8")
    (HERE / "bridge-pin-left.svg").write_text(picture_as_svg(plan, "left"), encoding="utf-8")
    (HERE / "bridge-pin-settings.svg").write_text(picture_as_svg(plan, "settings"), encoding="utf-8")
    for file, text in start_pictures().items():
        file.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
