"""What the work is made of, as data: cutting force, cutting speed, stiffness, thinnest chip.

Each figure says where it is from: `seen` is True where the number was read in the named source, False where it is
from memory or common practice. Cutting force constants from different sources differ by up to 25 %, and cutting
speeds by a factor of two: a maker's own sheet for your bar and your tool comes first.
"""

import difflib
import re
from typing import NamedTuple

from ovolo.errors import Fault, JobFaults

__all__ = [
    "BAR_STIFFNESS",
    "FORCE_SPREAD",
    "MATERIALS",
    "TOOL_MATERIALS",
    "Force",
    "Material",
    "Share",
    "Source",
    "Speeds",
    "Stiffness",
    "material",
    "material_names",
    "plunge_for",
    "speeds_for",
]

FORCE_SPREAD = 0.25
"""How far published cutting forces for one material lie apart, as a share."""

TOOL_MATERIALS = ("high-speed steel", "carbide")


class Source(NamedTuple):
    """Where a figure is from; `seen` False: from memory, or common practice without a source."""

    text: str
    seen: bool


class Force(NamedTuple):
    """Kienzle's constants: k11, specific cutting force of a chip 1 mm by 1 mm [N/mm^2], and m, its exponent [-]."""

    k11: float
    m: float
    grade: str
    source: Source


class Speeds(NamedTuple):
    """Cutting speed [m/min]: low for roughing and long tool life, high for finishing."""

    low: float
    high: float
    source: Source


class Stiffness(NamedTuple):
    """Modulus of elasticity [GPa]: the figure used, and the range that is published."""

    gpa: float
    low: float
    high: float
    source: Source

    @property
    def n_per_mm2(self) -> float:
        """The same in N/mm^2, as the bending formulas take it.

        >>> material("mild steel").stiffness.n_per_mm2
        200000
        """
        return self.gpa * 1000


class Share(NamedTuple):
    """Thinnest chip that still cuts, as a share of the radius of the edge [-]; `advice` where rubbing does harm."""

    value: float
    advice: str
    source: Source


class Material(NamedTuple):
    """One row of the table."""

    name: str
    also: tuple[str, ...]
    group: str
    """Letter of ISO 513: P steel, M stainless, K cast iron, N non-ferrous and plastics."""
    force: Force
    hss: Speeds
    carbide: Speeds
    stiffness: Stiffness
    thinnest: Share


_KIENZLE = Source("Kienzle/VDI set (Tschätsch; König/Klocke), agrees with a chuck maker's printed k_c row", False)
_CATALOGUE = Source("an insert maker's turning catalogue by ISO 513 group, 2017, p. 558", True)
_COPPER = Source("the brass row of an insert maker's turning catalogue, 2017, p. 558, taken for bronze too", False)
_SHEET = Source("Design Tables and Coefficients, table 2, turning with high-speed steel", True)
_THREEFOLD = Source(
    "three times high-speed steel, low end of the 3 to 6 in Design Tables and Coefficients, table 2", True
)
_JONES = Source("F. D. Jones, Turning and Boring, 1914, Average Cutting Speeds for Turning", True)
_THREEFOLD_JONES = Source("three times the 1914 speed for high-speed steel; cautious", False)
_MANUAL_303 = Source("US T.O. 1-1A-9, table 2-8, p. 2-72, stainless 303, lowest rough to highest finish", True)
_MANUAL_416 = Source("US T.O. 1-1A-9, table 2-8, p. 2-72, stainless 416, lowest rough to highest finish", True)
_MANUAL_304 = Source("US T.O. 1-1A-9, table 2-8, p. 2-72, stainless 302/304/316, lowest rough to highest finish", True)
_PRACTICE = Source("common practice, no source", False)
_GERE = Source("Gere, Mechanics of Materials, 5th ed., table of moduli; middle of the range", True)
_PSI = Source("table of moduli in psi: stainless 302 28 million, steel 29 million", True)

_STEEL = Stiffness(200, 190, 210, _GERE)
_STAINLESS = Stiffness(193, 190, 210, _PSI)
_BRONZE = Stiffness(108, 96, 120, _GERE)

# Work on the smallest chip gives a third of the edge radius for steel; soft ones smear later, stainless work-hardens.
_USUAL = Share(0.3, "", _PRACTICE)
_SOFT = Share(0.2, "", _PRACTICE)
_SKIN = Share(0.3, "Get under the skin of a casting with the first cut: it blunts the edge", _PRACTICE)
_HARDENS = Share(0.4, "Don't rub: it hardens under a dull edge or a dwell; what is thinner than this, file", _PRACTICE)

_WARM = Share(
    0.2, "It swells as it warms: measure it cold, and clear the string of chip with the spindle stopped", _PRACTICE
)

#: What bar is called, by its trade name or its number, is common practice without a source: grades of one row differ.
MATERIALS: tuple[Material, ...] = (
    Material(
        "mild steel", (
            "steel", "mild", "machine steel", "black steel", "bright steel", "bright mild steel",
            "structural steel", "cold rolled steel", "hot rolled steel", "EN3", "EN3B", "1018", "1020",
            "A36", "S235", "S235JR", "S275", "S355", "1.0038", "1.0570", "070M20",
        ), "P",
        Force(1780, 0.17, "St 42", _KIENZLE), Speeds(25, 45, _SHEET), Speeds(75, 135, _THREEFOLD), _STEEL, _USUAL,
    ),
    Material(
        "free-cutting steel", (
            "free-machining steel", "leaded steel", "EN1A", "EN1A leaded", "230M07", "12L14", "1215",
            "1117", "11SMn30", "11SMnPb30", "11SMnPb37", "1.0715", "1.0718", "1.0737",
        ), "P",
        Force(1350, 0.21, "steel under 0.25 % carbon", _CATALOGUE),
        Speeds(30, 50, _PRACTICE), Speeds(90, 150, _PRACTICE), _STEEL, _USUAL,
    ),
    Material(
        "medium carbon steel", (
            "carbon steel", "EN8", "EN9", "080M40", "1040", "1045", "C45", "C60", "E295", "1.0503",
            "1.0050",
        ), "P",
        Force(1990, 0.26, "St 50-2 (E295)", _KIENZLE),
        Speeds(14, 20, _JONES), Speeds(42, 60, _THREEFOLD_JONES), _STEEL, _USUAL,
    ),
    Material(
        "alloy steel", (
            "chromium-molybdenum steel", "EN16", "EN19", "EN24", "709M40", "817M40", "4130", "4140",
            "4340", "42CrMo4", "34CrNiMo6", "1.7225", "1.6582",
        ), "P",
        Force(2500, 0.26, "42CrMo4", _KIENZLE), Speeds(12, 20, _PRACTICE), Speeds(40, 80, _PRACTICE), _STEEL, _USUAL,
    ),
    Material(
        "case-hardening steel", ("EN32", "EN36", "8620", "16MnCr5", "20MnCr5", "1.7131", "1.7147"), "P",
        Force(2100, 0.26, "16MnCr5", _KIENZLE), Speeds(14, 25, _PRACTICE), Speeds(45, 90, _PRACTICE), _STEEL, _USUAL,
    ),
    Material(
        "tool steel", (
            "silver steel", "drill rod", "high-alloy steel", "O1", "W1", "D2", "EN31", "115CrV3",
            "100Cr6", "1.2210", "1.2510", "1.2379", "1.3505",
        ), "P",
        Force(2450, 0.23, "high-alloy steel, annealed", _CATALOGUE),
        Speeds(7.6, 10.7, _JONES), Speeds(23, 32, _THREEFOLD_JONES), _STEEL, _USUAL,
    ),
    Material(
        "cast steel", ("steel casting",), "P",
        Force(1600, 0.17, "GE240 (GS-45)", _KIENZLE),
        Speeds(15, 25, _PRACTICE), Speeds(45, 75, _PRACTICE), _STEEL, _SKIN,
    ),
    Material(
        "stainless steel", (
            "stainless", "austenitic stainless steel", "302", "304", "304L", "316", "316L", "A2", "A4",
            "1.4301", "1.4307", "1.4401", "1.4404",
        ), "M",
        Force(2150, 0.20, "austenitic", _CATALOGUE),
        Speeds(6.1, 24.4, _MANUAL_304), Speeds(45.7, 91.4, _MANUAL_304), _STAINLESS, _HARDENS,
    ),
    Material(
        "free-cutting stainless steel", ("free-machining stainless steel", "303", "1.4305"), "M",
        Force(2150, 0.20, "austenitic", _CATALOGUE),
        Speeds(7.6, 32, _MANUAL_303), Speeds(53.3, 106.7, _MANUAL_303), _STAINLESS, _HARDENS,
    ),
    Material(
        "martensitic stainless steel", (
            "ferritic stainless steel", "410", "416", "420", "430", "EN56", "1.4005", "1.4016", "1.4021",
        ), "P",
        Force(1875, 0.21, "ferritic or martensitic", _CATALOGUE),
        Speeds(9.1, 36.6, _MANUAL_416), Speeds(68.6, 137.2, _MANUAL_416), _STAINLESS, _USUAL,
    ),
    Material(
        "cast iron", (
            "iron", "grey iron", "gray iron", "grey cast iron", "GJL-250", "EN-GJL-250", "GG25",
        ), "K",
        Force(1160, 0.26, "GJL-250", _KIENZLE), Speeds(22, 30, _SHEET), Speeds(66, 90, _THREEFOLD),
        Stiffness(110, 83, 170, Source("Gere's range; the figure used is common practice", False)), _SKIN,
    ),
    Material(
        "brass", (
            "free-cutting brass", "yellow brass", "CZ121", "CW614N", "C360", "C36000", "CuZn39Pb3",
            "2.0401",
        ), "N",
        Force(700, 0.27, "brass", _CATALOGUE), Speeds(45, 120, _SHEET), Speeds(135, 360, _THREEFOLD),
        Stiffness(103, 96, 110, _GERE), _SOFT,
    ),
    Material(
        "bronze", (
            "gunmetal", "phosphor bronze", "bearing bronze", "LG2", "PB102", "C93200", "660 bronze",
            "CC491K", "CW451K",
        ), "N",
        Force(700, 0.27, "copper alloy", _COPPER), Speeds(10.7, 24.4, _JONES), Speeds(32, 73, _THREEFOLD_JONES),
        _BRONZE, _USUAL,
    ),
    Material(
        "aluminium", (
            "aluminum", "light alloy", "aluminium alloy", "1050", "6060", "6063", "3.3206",
        ), "N",
        Force(700, 0.25, "wrought, not aged", _CATALOGUE), Speeds(60, 150, _SHEET), Speeds(180, 450, _THREEFOLD),
        Stiffness(72, 70, 79, Source("Gere's range; the figure used is common practice", False)), _SOFT,
    ),
    Material(
        "aged aluminium", (
            "heat-treated aluminium", "hardened aluminium", "6061", "6061-T6", "6082", "6082-T6", "HE30",
            "2011", "2014", "2024", "7075", "3.2315", "3.1645", "3.4365",
        ), "N",
        Force(800, 0.25, "wrought, aged", _CATALOGUE), Speeds(60, 150, _SHEET), Speeds(180, 450, _THREEFOLD),
        Stiffness(72, 70, 79, Source("Gere's range; the figure used is common practice", False)), _SOFT,
    ),
    Material(
        "acetal", ("POM", "polyacetal", "acetal copolymer"), "N",
        Force(100, 0.20, "plastic", _PRACTICE), Speeds(60, 120, _PRACTICE), Speeds(120, 240, _PRACTICE),
        Stiffness(2.8, 2.6, 3.2, Source("a handbook's table, acetal 2.8; the range is common practice", True)), _WARM,
    ),
    Material(
        "nylon", ("polyamide", "PA6", "PA66"), "N",
        Force(100, 0.20, "plastic", _PRACTICE), Speeds(60, 120, _PRACTICE), Speeds(120, 240, _PRACTICE),
        Stiffness(2.7, 2.1, 3.4, _GERE), _WARM,
    ),
)  # fmt: skip

BAR_STIFFNESS: dict[str, Stiffness] = {
    "steel": _STEEL,
    "heavy tungsten alloy": Stiffness(340, 310, 380, _PRACTICE),
    "carbide": Stiffness(600, 530, 650, _PRACTICE),
}
"""What boring bars are made of."""

_BY_NAME = {known: row for row in MATERIALS for known in (row.name, *row.also)}

_SYSTEMS = re.compile(r"^(?:aisi|sae|astm|din|bs|w\.?[- ]?nr\.?|en[- ]?aw)[- ]*(?=[0-9a-z])", re.IGNORECASE)
"""What may stand in front of a number, and adds nothing to it."""

_ALIKE = 0.75
"""A name less like this to any known is none of them, and no guess is offered [-]."""


def material_names() -> tuple[str, ...]:
    """The names of the table, in its order, without the other names that are understood too.

    >>> material_names()[:2]
    ('mild steel', 'free-cutting steel')
    """
    return tuple(row.name for row in MATERIALS)


def material(name: str, where: str = "part.material") -> Material:
    """The row of a material by its name or number, capitals, hyphens and spaces aside.

    Raises `JobFaults`, with the names that are spelt nearly the same, or else with the whole list.

    where: the place in the document, for the fault.

    >>> material("Mild Steel").force.k11
    1780
    >>> material("gun metal").name, material("AISI 12L14").name, material("W.-Nr. 1.4305").name
    ('bronze', 'free-cutting steel', 'free-cutting stainless steel')
    """
    wanted = _plain(name)
    for known, row in _BY_NAME.items():
        if _plain(known) == wanted:
            return row
    raise JobFaults([Fault(where, name, "a name from the materials table", "this material is not known", _hint(name))])


#: The widest plunge and finishing cut by material [mm], and where none is named; common practice, no source.
_PLUNGE = {
    **dict.fromkeys(("brass", "aluminium", "aged aluminium", "acetal", "nylon"), 3.0),
    **dict.fromkeys(("mild steel", "free-cutting steel", "cast iron", "bronze"), 2.5),
}
_PLUNGE_HARDER, _PLUNGE_UNNAMED = 1.5, 2.5


def plunge_for(name: str | None) -> float:
    """The widest plunge that is usual in a material, mm; `None` where it is not named. Common practice, no source.

    >>> plunge_for("brass"), plunge_for("stainless steel"), plunge_for(None)
    (3.0, 1.5, 2.5)
    """
    return _PLUNGE_UNNAMED if not name else _PLUNGE.get(material(name).name, _PLUNGE_HARDER)


def speeds_for(row: Material, tool: str, where: str = "tool.material") -> Speeds:
    """Cutting speeds of a material for a tool material of `TOOL_MATERIALS`; raises `JobFaults` for another.

    >>> speeds_for(material("brass"), "carbide").low
    135
    """
    wanted = _plain(tool)
    if wanted in ("highspeedsteel", "hss"):
        return row.hss
    if wanted == "carbide":
        return row.carbide
    remedy = f"Write {' or '.join(TOOL_MATERIALS)}"
    raise JobFaults([Fault(where, tool, " or ".join(TOOL_MATERIALS), "this tool material is not known", remedy)])


def _plain(name: str) -> str:
    return "".join(letter for letter in _SYSTEMS.sub("", name.strip().casefold()) if letter.isalnum())


def _hint(name: str) -> str:
    """The nearest known names, or all of them where none is near."""
    words = {known.casefold(): known for known in _BY_NAME if not any(letter.isdigit() for letter in known)}
    near = difflib.get_close_matches(name.strip().casefold(), words, n=3, cutoff=_ALIKE)
    if near:
        return f"Did you mean {' or '.join(words[word] for word in near)}?"
    return f"Take the nearest of: {', '.join(material_names())}. The command ovolo materials lists all names"
