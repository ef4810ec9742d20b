"""Members as sold: EMT, PVC pipe, timber, bar, wire. What is bought is a field, what follows from it a property."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.materials import sections
from gardenframe.tables import Column

FAMILIES = {
    "emt": "EMT",
    "pvc": "PVC schedule 40",
    "timber": "timber",
    "bar": "bar",
    "wire": "wire",
}
STRENGTH = Column(kind="number", low=0.01, high=2000, optional=True)
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "family": Column(kind="choice", choices=tuple(FAMILIES)),
    "label": Column(),
    "trade_size": Column(),
    "shape": Column(kind="choice", choices=("tube", "rectangle", "rod")),
    "outer_mm": Column(kind="number", low=0.3, high=400),
    "depth_mm": Column(kind="number", low=5, high=400, optional=True),
    "wall_mm": Column(kind="number", low=0.3, high=20, optional=True),
    "modulus_gpa": Column(kind="number", low=0.1, high=250),
    "shear_modulus_gpa": Column(kind="number", low=0.01, high=100),
    "yield_mpa": STRENGTH,
    "allowed_bending_mpa": STRENGTH,
    "allowed_tension_mpa": STRENGTH,
    "allowed_compression_mpa": STRENGTH,
    "allowed_shear_mpa": STRENGTH,
    "allowed_bearing_mpa": STRENGTH,
    "modulus_min_gpa": Column(kind="number", low=0.1, high=250, optional=True),
    "specific_gravity": Column(kind="number", low=0.1, high=1.5, optional=True),
    "density_kg_per_m3": Column(kind="number", low=200, high=9000),
    "stick_mm": Column(kind="number", low=300, high=100_000),
    "min_bend_radius_mm": Column(kind="number", low=10, high=10_000, optional=True),
    "printed_lb_per_100ft": Column(kind="number", low=1, high=5000, optional=True),
    "source": Column(kind="source"),
    "strength_source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One size of member as sold.

    `outer_mm` is the outside diameter of a tube or rod, the narrow side of a rectangle whose other side is `depth_mm`.
    `yield_mpa` where a yield is the measure; the `allowed_...` values are allowable stresses before any adjustment.
    """

    key: str
    family: str
    label: str
    trade_size: str
    shape: str
    outer_mm: float
    depth_mm: float | None = None
    wall_mm: float | None = None
    modulus_gpa: float
    shear_modulus_gpa: float
    yield_mpa: float | None = None
    allowed_bending_mpa: float | None = None
    allowed_tension_mpa: float | None = None
    allowed_compression_mpa: float | None = None
    allowed_shear_mpa: float | None = None
    allowed_bearing_mpa: float | None = None
    modulus_min_gpa: float | None = None
    specific_gravity: float | None = None
    density_kg_per_m3: float
    stick_mm: float
    min_bend_radius_mm: float | None = None
    printed_lb_per_100ft: float | None = None
    source: str
    strength_source: str

    def __post_init__(self) -> None:
        """Refuse a section that cannot exist."""
        if self.shape == "tube":
            wall, most = self.wall_mm, self.outer_mm / 2
            if wall is None or not 0 < wall < most:
                needs = f"0 < wall < {most:g} mm"
                raise InputError(f"{self.key}: wall_mm", wall, needs, "Measure the wall, not the bore.")
        elif self.wall_mm is not None:
            raise InputError(f"{self.key}: wall_mm", self.wall_mm, f"none for a {self.shape}")
        if (self.depth_mm is not None) != (self.shape == "rectangle"):
            needs = "a depth" if self.shape == "rectangle" else f"none for a {self.shape}"
            raise InputError(f"{self.key}: depth_mm", self.depth_mm, needs)
        if self.depth_mm is not None and self.depth_mm < self.outer_mm:
            raise InputError(
                f"{self.key}: depth_mm", self.depth_mm, f"{self.outer_mm:g} mm or more", "Narrow side first."
            )

    @property
    def _wall_mm(self) -> float:
        return self.wall_mm if self.wall_mm is not None else self.outer_mm / 2

    @property
    def across_mm(self) -> float:
        """The larger outside size: what a strap or a fitting has to go round. [mm]"""
        return self.depth_mm if self.depth_mm is not None else self.outer_mm

    @property
    def inner_mm(self) -> float:
        """Bore of a tube; 0 for anything solid. [mm]"""
        return self.outer_mm - 2 * self.wall_mm if self.wall_mm is not None else 0.0

    @property
    def area_mm2(self) -> float:
        """Area of the section. [mm2]"""
        if self.depth_mm is not None:
            return sections.rectangle_area_mm2(self.outer_mm, self.depth_mm)
        return sections.tube_area_mm2(self.outer_mm, self._wall_mm)

    @property
    def second_moment_mm4(self) -> float:
        """Second moment of area about the strong axis. [mm4]"""
        if self.depth_mm is not None:
            return sections.rectangle_second_moment_mm4(self.outer_mm, self.depth_mm)
        return sections.tube_second_moment_mm4(self.outer_mm, self._wall_mm)

    @property
    def second_moment_weak_mm4(self) -> float:
        """Second moment of area about the weak axis; the same for anything round or square. [mm4]"""
        if self.depth_mm is not None:
            return sections.rectangle_second_moment_mm4(self.depth_mm, self.outer_mm)
        return self.second_moment_mm4

    @property
    def section_modulus_mm3(self) -> float:
        """Elastic section modulus about the strong axis. [mm3]"""
        if self.depth_mm is not None:
            return sections.rectangle_section_modulus_mm3(self.outer_mm, self.depth_mm)
        return sections.tube_section_modulus_mm3(self.outer_mm, self._wall_mm)

    @property
    def section_modulus_weak_mm3(self) -> float:
        """Elastic section modulus about the weak axis. [mm3]"""
        if self.depth_mm is not None:
            return sections.rectangle_section_modulus_mm3(self.depth_mm, self.outer_mm)
        return self.section_modulus_mm3

    @property
    def plastic_modulus_mm3(self) -> float:
        """Plastic section modulus about the strong axis. [mm3]"""
        if self.depth_mm is not None:
            return sections.rectangle_plastic_modulus_mm3(self.outer_mm, self.depth_mm)
        return sections.tube_plastic_modulus_mm3(self.outer_mm, self._wall_mm)

    @property
    def torsion_mm4(self) -> float:
        """Torsion constant. [mm4]"""
        if self.depth_mm is not None:
            return sections.rectangle_torsion_mm4(self.outer_mm, self.depth_mm)
        return sections.tube_torsion_mm4(self.outer_mm, self._wall_mm)

    @property
    def gyration_mm(self) -> float:
        """Least radius of gyration. [mm]"""
        if self.depth_mm is not None:
            return sections.rectangle_gyration_mm(self.outer_mm)
        return sections.tube_gyration_mm(self.outer_mm, self._wall_mm)

    @property
    def mass_kg_per_m(self) -> float:
        """Mass of a metre, from the section. [kg/m]"""
        return sections.mass_kg_per_m(self.area_mm2 * 1e-6, self.density_kg_per_m3)

    @property
    def modulus_pa(self) -> float:
        """Young's modulus. [Pa]"""
        return self.modulus_gpa * 1e9

    @property
    def shear_modulus_pa(self) -> float:
        """Shear modulus. [Pa]"""
        return self.shear_modulus_gpa * 1e9

    @property
    def yield_pa(self) -> float | None:
        """Yield strength where there is one. [Pa]"""
        return None if self.yield_mpa is None else self.yield_mpa * 1e6

    @property
    def tension_only(self) -> bool:
        """True for wire, which carries no push."""
        return self.family == "wire"


def load_members(table: tables.Table | None = None) -> dict[str, Member]:
    """Return every member by key: ours, or those of a reader's own table."""
    return tables.keyed("members.csv", SCHEMA, Member, table)


def find(name: str, members: dict[str, Member] | None = None) -> Member:
    """Return the member that a reader means; a bare size is EMT.

    >>> find("1 in EMT").key, find("emt 1 1/4").key, find("2x4").key, find("3/4").key, find("wire 12.5 ga").key
    ('emt-1', 'emt-1-1/4', 'timber-2x4', 'emt-3/4', 'wire-12.5')
    """
    return (
        _found_of_ours(name) if members is None and isinstance(name, str) else _found(name, members or load_members())
    )


@lru_cache(maxsize=512)
def _found_of_ours(name: str) -> Member:
    return _found(name, _ours())


@cache
def _ours() -> dict[str, Member]:
    return load_members()


WORDS = {
    "emt": "emt|electrical metallic tub(?:e|ing)|conduit|tubes?|tubing",
    "pvc": "pvc",
    "timber": "timber|lumber|wood",
    "bar": "rebar|round bar|bar|rod",
    "wire": "wire",
}
NOISE = re.compile(
    r"\b(inch(?:es)?|in|mm|ga|gauge|schedule|sch|trade|size|galvani[sz]ed|steel|high-tensile|thin-wall)\b|[\"″”]"
)
GLYPHS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "×": "x", "⁄": "/"}


def _found(name: object, members: dict[str, Member]) -> Member:
    """Return the member of that key, label or family and size, or raise InputError with the sizes there are."""
    if isinstance(name, str):
        if name in members:
            return members[name]
        family, size = _understood(name)
        for member in members.values():
            if name.strip().lower() == member.label.lower():
                return member
            if size and member.family == family and _size(member.trade_size.split()[0]) == size:
                return member
    else:
        family = "emt"
    raise InputError("member", name, _sizes(members, family))


def _understood(name: str) -> tuple[str, Fraction | str | None]:
    """Return the family meant (EMT when none is named) and the size."""
    text = re.sub(r"\b(emt|pvc)(?=\d)", r"\1 ", name.lower().replace("_", " "))
    for glyph, plain in GLYPHS.items():
        text = text.replace(glyph, plain)
    text = re.sub(r"\b(sch(?:edule)?)\.? ?40\b", " ", text)
    family = ""
    for key, words in WORDS.items():
        text, times = re.subn(rf"\b(?:{words})\b", " ", text)
        family = family or (key if times else "")
    text = NOISE.sub(" ", text).strip(" -,_")
    text = re.sub(r"(?<=\d) *in$", "", re.sub(r"\s+", " ", text)).strip(" -")
    if not family:
        family = "timber" if re.fullmatch(r"\d+ ?x ?\d+", text) else "emt"
    return family, None if name.strip().startswith("-") else _size(text)


def _size(text: str) -> Fraction | str | None:
    """Return 1-1/4, 1 1/4 or 1.25 as one number, 2x4 as text, None for anything else."""
    if re.fullmatch(r"\d+ ?x ?\d+", text):
        return text.replace(" ", "")
    found = re.fullmatch(r"(?:(\d+)[ -]+)?(\d+)/(\d+)", text, re.ASCII)
    if found and int(found[3]):
        return int(found[1] or 0) + Fraction(int(found[2]), int(found[3]))
    if re.fullmatch(r"\d{1,4}(\.\d{1,6})?", text, re.ASCII):
        return Fraction(text)
    return None


def _sizes(members: dict[str, Member], family: str) -> str:
    """Return the sentence part that lists the sizes of a family (of all, where the family has none)."""
    sizes = [member.trade_size for member in members.values() if member.family == family]
    if not sizes:
        return "one of " + ", ".join(members)
    listed = ", ".join(sizes[:-1]) + " or " + sizes[-1] if len(sizes) > 1 else sizes[0]
    unit = " in" if family in ("emt", "pvc", "timber") else ""
    return f"a size there is in {FAMILIES[family]}: {listed}{unit}"
