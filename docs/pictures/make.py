"""Make the pictures of the documentation from the examples: python docs/pictures/make.py"""

from pathlib import Path

from ovolo.documents.reading import read_job
from ovolo.plan.planner import make_plan
from ovolo.show.drawing.pictures import picture_as_svg

HERE = Path(__file__).parent
EXAMPLES = HERE.parents[1] / "examples"


def main() -> None:
    """Write each picture beside this file."""
    plan = make_plan(read_job(EXAMPLES / "bridge-pin.toml"))
    (HERE / "bridge-pin.svg").write_text(picture_as_svg(plan), encoding="utf-8")
    (HERE / "bridge-pin-explained.svg").write_text(picture_as_svg(plan, "explained"), encoding="utf-8")
    (HERE / "bridge-pin-left.svg").write_text(picture_as_svg(plan, "left"), encoding="utf-8")
    (HERE / "bridge-pin-settings.svg").write_text(picture_as_svg(plan, "settings"), encoding="utf-8")


if __name__ == "__main__":
    main()
