"""What the work is made of, as data: cutting force, cutting speed, stiffness, thinnest chip.

Each figure says where it is from: `seen` is True where the number was read in the named source, False where it is
from memory or common practice. Cutting force constants from different sources differ by up to 25 %, and cutting
speeds by a factor of two: a maker's own sheet for your bar and your tool comes first.
"""

import difflib
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
    """Letter of ISO 513: P steel, M stainless, K cast iron, N non-ferrous."""
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

MATERIALS: tuple[Material, ...] = (
    Material(
        "mild steel", ("machine steel", "black steel", "bright steel", "structural steel"), "P",
        Force(1780, 0.17, "St 42", _KIENZLE), Speeds(25, 45, _SHEET), Speeds(75, 135, _THREEFOLD), _STEEL, _USUAL,
    ),
    Material(
        "free-cutting steel", ("free-machining steel", "leaded steel"), "P",
        Force(1350, 0.21, "steel under 0.25 % carbon", _CATALOGUE),
        Speeds(30, 50, _PRACTICE), Speeds(90, 150, _PRACTICE), _STEEL, _USUAL,
    ),
    Material(
        "medium carbon steel", ("carbon steel",), "P",
        Force(1990, 0.26, "St 50-2 (E295)", _KIENZLE),
        Speeds(14, 20, _JONES), Speeds(42, 60, _THREEFOLD_JONES), _STEEL, _USUAL,
    ),
    Material(
        "alloy steel", ("chromium-molybdenum steel",), "P",
        Force(2500, 0.26, "42CrMo4", _KIENZLE), Speeds(12, 20, _PRACTICE), Speeds(40, 80, _PRACTICE), _STEEL, _USUAL,
    ),
    Material(
        "case-hardening steel", (), "P",
        Force(2100, 0.26, "16MnCr5", _KIENZLE), Speeds(14, 25, _PRACTICE), Speeds(45, 90, _PRACTICE), _STEEL, _USUAL,
    ),
    Material(
        "tool steel", ("silver steel", "high-alloy steel"), "P",
        Force(2450, 0.23, "high-alloy steel, annealed", _CATALOGUE),
        Speeds(7.6, 10.7, _JONES), Speeds(23, 32, _THREEFOLD_JONES), _STEEL, _USUAL,
    ),
    Material(
        "cast steel", ("steel casting",), "P",
        Force(1600, 0.17, "GE240 (GS-45)", _KIENZLE),
        Speeds(15, 25, _PRACTICE), Speeds(45, 75, _PRACTICE), _STEEL, _SKIN,
    ),
    Material(
        "stainless steel", ("austenitic stainless steel",), "M",
        Force(2150, 0.20, "austenitic", _CATALOGUE),
        Speeds(6.1, 24.4, _MANUAL_304), Speeds(45.7, 91.4, _MANUAL_304), _STAINLESS, _HARDENS,
    ),
    Material(
        "free-cutting stainless steel", ("free-machining stainless steel",), "M",
        Force(2150, 0.20, "austenitic", _CATALOGUE),
        Speeds(7.6, 32, _MANUAL_303), Speeds(53.3, 106.7, _MANUAL_303), _STAINLESS, _HARDENS,
    ),
    Material(
        "martensitic stainless steel", ("ferritic stainless steel",), "P",
        Force(1875, 0.21, "ferritic or martensitic", _CATALOGUE),
        Speeds(9.1, 36.6, _MANUAL_416), Speeds(68.6, 137.2, _MANUAL_416), _STAINLESS, _USUAL,
    ),
    Material(
        "cast iron", ("grey iron", "gray iron", "grey cast iron"), "K",
        Force(1160, 0.26, "GJL-250", _KIENZLE), Speeds(22, 30, _SHEET), Speeds(66, 90, _THREEFOLD),
        Stiffness(110, 83, 170, Source("Gere's range; the figure used is common practice", False)), _SKIN,
    ),
    Material(
        "brass", ("free-cutting brass", "yellow brass"), "N",
        Force(700, 0.27, "brass", _CATALOGUE), Speeds(45, 120, _SHEET), Speeds(135, 360, _THREEFOLD),
        Stiffness(103, 96, 110, _GERE), _SOFT,
    ),
    Material(
        "bronze", ("gun metal", "gunmetal", "phosphor bronze"), "N",
        Force(700, 0.27, "copper alloy", _COPPER), Speeds(10.7, 24.4, _JONES), Speeds(32, 73, _THREEFOLD_JONES),
        _BRONZE, _USUAL,
    ),
    Material(
        "aluminium", ("aluminum", "light alloy", "aluminium alloy"), "N",
        Force(700, 0.25, "wrought, not aged", _CATALOGUE), Speeds(60, 150, _SHEET), Speeds(180, 450, _THREEFOLD),
        Stiffness(72, 70, 79, Source("Gere's range; the figure used is common practice", False)), _SOFT,
    ),
    Material(
        "aged aluminium", ("heat-treated aluminium", "hardened aluminium"), "N",
        Force(800, 0.25, "wrought, aged", _CATALOGUE), Speeds(60, 150, _SHEET), Speeds(180, 450, _THREEFOLD),
        Stiffness(72, 70, 79, Source("Gere's range; the figure used is common practice", False)), _SOFT,
    ),
)  # fmt: skip

BAR_STIFFNESS: dict[str, Stiffness] = {
    "steel": _STEEL,
    "heavy tungsten alloy": Stiffness(340, 310, 380, _PRACTICE),
    "carbide": Stiffness(600, 530, 650, _PRACTICE),
}
"""What boring bars are made of."""

_BY_NAME = {known: row for row in MATERIALS for known in (row.name, *row.also)}


def material_names() -> tuple[str, ...]:
    """The names of the table, in its order, without the other names that are understood too.

    >>> material_names()[:2]
    ('mild steel', 'free-cutting steel')
    """
    return tuple(row.name for row in MATERIALS)


def material(name: str, where: str = "part.material") -> Material:
    """The row of a material, capitals, hyphens and spaces aside; raises `JobFaults` with the nearest known names.

    where: the place in the document, for the fault.

    >>> material("Mild Steel").force.k11
    1780
    >>> material("gun metal").name
    'bronze'
    """
    wanted = _plain(name)
    for known, row in _BY_NAME.items():
        if _plain(known) == wanted:
            return row
    raise JobFaults([Fault(where, name, "a name from the materials table", "this material is not known", _hint(name))])


#: The widest plunge and finishing cut by material [mm], and where none is named; common practice, no source.
_PLUNGE = {
    **dict.fromkeys(("brass", "aluminium", "aged aluminium"), 3.0),
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
    return "".join(letter for letter in name.casefold() if letter.isalnum())


def _hint(name: str) -> str:
    """The nearest known names, or all of them where none is near."""
    near = difflib.get_close_matches(name.strip().casefold(), _BY_NAME, n=3, cutoff=0.5)
    if near:
        return f"Did you mean {' or '.join(near)}?"
    return f"Take the nearest of: {', '.join(material_names())}"
