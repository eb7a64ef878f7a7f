"""Tables of points: columns, separators, order, scatter, damage."""

import pytest

from ovolo.errors import JobFaults
from ovolo.part.files import Asked, read_points

MM = Asked(unit="mm")


@pytest.mark.parametrize(
    "text",
    [
        "z,d\n0,18\n-24,18\n",
        "z;d\n0;18,0\n-24,0;18\n",
        "Z\tD\n0\t18\n-24\t18\n",
        "\ufeffz,r\r\n0,9\r\n-24,9\r\n",
        "z,d,u\n0,18,0.01\n-24,18,0.01\n",
        "# a pin\nz,d\n\n0,18\n-24,18",
        "z,d\n-24,18\n0,18\n",
        "z,d\n100,18\n76,18\n",
        "z,d\n0,18\n0,18\n-24,18\n",
    ],
)
def test_one_pin_in_many_tables(text: str) -> None:
    outline = read_points(text.encode(), MM).outline
    assert [v for p in outline.nodes for v in p] == pytest.approx([0, 9, -24, 9])


def test_inches() -> None:
    assert read_points(b"z,d\n0,1\n-2,1\n", Asked(unit="in")).outline.end == pytest.approx((-50.8, 12.7))


def test_z_that_grows_toward_the_chuck_is_told() -> None:
    outline = read_points(b"z,d\n0,10\n24,18\n", Asked(unit="mm", free_end="left")).outline
    assert outline.start == pytest.approx((0, 5))
    assert outline.end == pytest.approx((-24, 9))


def test_every_bad_line_is_named() -> None:
    with pytest.raises(JobFaults) as refused:
        read_points(b"z,d\n0,1\nx,3\n3,-4\n1,2,3\nnan,1\n5,inf\n", MM)
    assert [f.where for f in refused.value.faults] == [f"the points file, line {k}" for k in (3, 4, 5, 6, 7)]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0,1\n2,3\n", "does not name the columns"),
        ("z,d\n", "too few points"),
        ("z,d\n0,1\n0,1\n", "too few points"),
        ("z,d\n" + "0,1\n" * 100_001, "too many points"),
        ("z,d\n0,1\n-5,9\n-6,0\n-7,9\n", "touches the axis"),
        ("z,d\n0,2\n-5,2\n-5,9\n-2,9\n-2,1\n-9,1\n", "crosses itself"),
        ("z,d\n" + "".join(f"-{k},{20 + k % 2}\n" for k in range(50)), "scatter"),
    ],
)
def test_tables_of_no_part_are_refused(text: str, says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        read_points(text.encode(), MM)


def test_what_is_no_text_is_refused() -> None:
    with pytest.raises(JobFaults, match="not text"):
        read_points(b"z,d\n\xff\xfe", MM)


@pytest.mark.parametrize("smooth", [0.0, -1.0, float("nan")])
def test_smoothing_takes_a_distance(smooth: float) -> None:
    with pytest.raises(JobFaults, match="not a distance"):
        read_points(b"z,d\n0,1\n-5,1\n", Asked(unit="mm", smooth=smooth))
