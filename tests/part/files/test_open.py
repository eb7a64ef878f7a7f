"""A drawing read by its name."""

from pathlib import Path

import pytest

from ovolo.errors import JobFaults
from ovolo.part.files import Asked, outline_csv, read_drawing
from ovolo.part.forms import outline_from_forms


def test_the_ending_tells_the_reader(tmp_path: Path) -> None:
    outline = outline_from_forms([{"form": "dome", "diameter": 18}, {"form": "cylinder", "to": -24}], 1.0)
    file = tmp_path / "PIN.CSV"
    file.write_text(outline_csv(outline), encoding="utf-8")
    assert read_drawing(file, Asked(unit="mm", tolerance=2e-3)).outline.end == pytest.approx((-24, 9))


@pytest.mark.parametrize("name", ["pin.dwg", "pin", "pin.pdf"])
def test_another_ending_is_refused(name: str, tmp_path: Path) -> None:
    with pytest.raises(JobFaults, match=r"\.dxf, \.svg, \.csv"):
        read_drawing(tmp_path / name)
