import pytest

from ovolo.cutting.materials import BAR_STIFFNESS, MATERIALS, Material, Speeds, material, material_names, speeds_for
from ovolo.errors import JobFaults


@pytest.mark.parametrize(
    "name",
    ["mild steel", "free-cutting steel", "brass", "bronze", "aluminium", "cast iron", "stainless steel", "tool steel"],
)
def test_the_usual_names_are_known(name: str) -> None:
    assert material(name).name == name


@pytest.mark.parametrize(
    ("typed", "name"),
    [(" MILD  steel", "mild steel"), ("free cutting steel", "free-cutting steel"), ("aluminum", "aluminium")],
)
def test_capitals_hyphens_and_other_names_do_not_matter(typed: str, name: str) -> None:
    assert material(typed).name == name


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("steel", "mild steel"),
        ("mild", "mild steel"),
        ("EN 3B", "mild steel"),
        ("EN1A", "free-cutting steel"),
        ("12L14", "free-cutting steel"),
        ("AISI 303", "free-cutting stainless steel"),
        ("1.4301", "stainless steel"),
        ("W.-Nr. 1.0715", "free-cutting steel"),
        ("EN AW-6061", "aged aluminium"),
        ("6061", "aged aluminium"),
        ("acetal", "acetal"),
    ],
)
def test_bar_is_known_as_people_call_it(typed: str, name: str) -> None:
    assert material(typed).name == name


@pytest.mark.parametrize("typed", ["titanium", "granite", "wood", "lead", "9999"])
def test_an_unknown_material_is_never_answered_with_an_unrelated_one(typed: str) -> None:
    with pytest.raises(JobFaults, match="Take the nearest of"):
        material(typed)


@pytest.mark.parametrize(("typed", "near"), [("mild stel", "mild steel"), ("bras", "brass"), ("alumnium", "aluminium")])
def test_a_slip_of_the_keyboard_gets_the_nearest_name(typed: str, near: str) -> None:
    with pytest.raises(JobFaults) as caught:
        material(typed)
    fault = caught.value.faults[0]
    assert near in fault.remedy
    assert (fault.where, fault.value) == ("part.material", typed)


def test_a_name_near_to_nothing_gets_the_whole_list() -> None:
    with pytest.raises(JobFaults, match=r"Take the nearest of: mild steel, .*aluminium"):
        material("xyzzy")


def test_no_name_means_two_materials() -> None:
    names = [name.replace("-", " ").casefold() for row in MATERIALS for name in (row.name, *row.also)]
    assert len(names) == len(set(names))
    assert len(material_names()) == len(MATERIALS)


@pytest.mark.parametrize("entry", MATERIALS, ids=material_names())
def test_each_row_is_of_sensible_size_and_says_where_from(entry: Material) -> None:
    plastic = entry.stiffness.gpa < 5
    assert (50 if plastic else 500) < entry.force.k11 < (300 if plastic else 3000)
    assert 0.1 < entry.force.m < 0.35
    assert 5 < entry.hss.low < entry.hss.high < entry.carbide.high
    assert entry.hss.low < entry.carbide.low
    assert 0 < entry.thinnest.value < 1
    for source in (entry.force.source, entry.hss.source, entry.carbide.source, entry.stiffness.source):
        assert len(source.text) > 10


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("mild steel", 190, 210), ("brass", 96, 110), ("bronze", 96, 120), ("cast iron", 83, 170), ("aluminium", 70, 79)],
)
def test_moduli_lie_in_the_range_of_gere(name: str, low: float, high: float) -> None:
    """Gere, Mechanics of Materials, 5th ed., table of moduli, GPa (seen, reprinted). Where none is preferred,
    the middle is used; cast iron and aluminium have a figure of common practice, no source."""
    row = material(name).stiffness
    assert (row.low, row.high) == (low, high)
    usual = {"cast iron": 110, "aluminium": 72}.get(name, (low + high) / 2)
    assert row.gpa == pytest.approx(usual, abs=0.5)


def test_modulus_of_stainless() -> None:
    """A table in psi (seen): stainless 302 28 million, which are 193 GPa."""
    assert material("stainless steel").stiffness.gpa == pytest.approx(28e6 * 6.894757e-6, abs=0.5)


def test_stainless_warns_of_rubbing() -> None:
    assert "file" in material("stainless steel").thinnest.advice


def test_tool_materials_by_name() -> None:
    row = material("brass")
    assert isinstance(speeds_for(row, "High-speed steel"), Speeds)
    assert speeds_for(row, "HSS") == row.hss
    with pytest.raises(JobFaults, match="high-speed steel or carbide"):
        speeds_for(row, "cheese")


def test_a_carbide_bar_is_about_three_times_as_stiff() -> None:
    assert BAR_STIFFNESS["carbide"].gpa / BAR_STIFFNESS["steel"].gpa == pytest.approx(3, rel=0.1)
