"""What a raised bed adds to the checks: wall, floor, reach, the deck under it; and the arithmetic behind them.

A plan comes in; rows, steps and sentences go out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gardenframe.builds.raised_bed_laid import FLOOR
from gardenframe.builds.raised_bed_shape import COVERS, Shape
from gardenframe.builds.raised_bed_soil import Soil, filling_of, floor_pa
from gardenframe.materials import constants, members
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.sections import rectangle_second_moment_mm4
from gardenframe.materials.soils import PSF_PA
from gardenframe.strength import beams, bed_soil, bed_walls, soil_push
from gardenframe.strength.rows import CheckRow
from gardenframe.strength.timber import PERMANENT, adjusted

METRE_MM = 1000.0
LOWEST_BOARD_M = 0.140  # its middle is where the push on it is taken
PUSHED = "push of the soil (H)"
TIMBER = "timber-2x6"


def shape_of(plan: Any) -> Shape:
    """Return where the parts of a plan's bed lie."""
    return Shape(plan.build, plan.shop.member(plan.build.tube).outer_mm / 1000)


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip of wall or floor a metre wide, between two lines that hold it."""

    key: str
    span_m: float
    pressure_pa: float
    second_moment_mm4: float
    section_modulus_mm3: float
    modulus_mpa: float
    allowed_mpa: float
    creep: float
    source: str

    @classmethod
    def of(cls, key: str, span_m: float, pressure_pa: float) -> "Strip":
        """Return the strip of a stiff covering."""
        thick = float(load_coverings()[key].thickness_mm or 0.0)
        if key == "corrugated-steel":
            deep, pitch = constants.value("sheet_depth_mm"), constants.value("sheet_pitch_mm")
            moment = bed_walls.corrugated_second_moment_mm4(thick, deep, pitch, METRE_MM)
            section = bed_walls.corrugated_section_modulus_mm3(moment, deep, thick)
            allowed = constants.value("sheet_yield_mpa") / constants.value("sheet_reserve")
            elastic = constants.value("steel_modulus_gpa") * 1000
            return cls(key, span_m, pressure_pa, moment, section, elastic, allowed, 1.0, "sheet-steel")
        timber = members.find(TIMBER)
        moment = rectangle_second_moment_mm4(METRE_MM, thick)
        allowed = (timber.allowed_bending_mpa or 0.0) * _wet("bending_mpa") * PERMANENT
        elastic = timber.modulus_gpa * 1000 * 0.9  # wet
        creep = constants.value("creep_wet_ratio")
        return cls(key, span_m, pressure_pa, moment, 2 * moment / thick, elastic, allowed, creep, "nds-spf")

    @property
    def moment_n_mm(self) -> float:
        """Moment in it. [N mm]"""
        return beams.simple_span_moment_n_m(self.pressure_pa, self.span_m) * 1000

    @property
    def stress_mpa(self) -> float:
        """Bending stress. [MPa]"""
        return soil_push.bending_stress_mpa(self.moment_n_mm, self.section_modulus_mm3)

    @property
    def stiffness_n_m2(self) -> float:
        """Bending stiffness. [N m²]"""
        return self.modulus_mpa * 1e6 * self.second_moment_mm4 * 1e-12

    @property
    def bulge_mm(self) -> float:
        """How far it bulges in the end. [mm]"""
        first = beams.simple_span_deflection_m(self.pressure_pa, self.span_m, self.stiffness_n_m2) * 1000
        return bed_walls.lasting_deflection_mm(first, self.creep)


def _wet(name: str) -> float:
    """Return what wet service leaves of a stress of timber, without size."""
    timber = members.find(TIMBER)
    wet, dry = adjusted(timber), adjusted(timber, wet=False)
    return float(getattr(wet, name)) / float(getattr(dry, name))


def strip_of(build: Any, shape: Shape, soil: Soil) -> Strip:
    """Return the strip of a stiff wall that is bent hardest."""
    key = COVERS[build.wall]
    if build.wall == "steel-upright":
        gaps = [(high - low, soil.between(shape.soil_z - high, shape.soil_z - low)[0]) for low, high in _gaps(shape)]
        strips = [Strip.of(key, gap, force / gap) for gap, force in gaps]
        return max(strips, key=lambda strip: strip.pressure_pa * strip.span_m**2)
    span = max(shape.bay_m, shape.end_bay_m)
    strip_m = constants.value("sheet_pitch_mm") / 1000 if key == "corrugated-steel" else LOWEST_BOARD_M
    return Strip.of(key, span, soil.at(max(shape.soil_z - shape.bottom_z - strip_m / 2, 0.0)))


def _gaps(shape: Shape) -> list[tuple[float, float]]:
    return list(pairwise(shape.levels.values()))


def fabric_of(build: Any, shape: Shape, soil: Soil) -> tuple[float, float, float]:
    """Return height, mean pressure and pull of a fabric where it pulls hardest. [m, Pa, N/m]"""
    found = []
    for low, high in _gaps(shape):
        gap = high - low
        mean = soil.between(shape.soil_z - high, shape.soil_z - low)[0] / gap
        found.append((gap, mean, bed_walls.fabric_pull_n_per_m(mean, gap, build.sag_share * gap)))
    return max(found, key=lambda one: one[2])


def rim_pull_n_per_m(build: Any, shape: Shape, soil: Soil) -> float:
    """Pull in a fabric where it hangs from the rim: below, it is turned in under the soil. [N/m]"""
    low, high = _gaps(shape)[-1]
    gap = high - low
    mean = soil.between(shape.soil_z - high, shape.soil_z - low)[0] / gap
    pull = bed_walls.fabric_pull_n_per_m(mean, gap, build.sag_share * gap)
    return bed_walls.fabric_edge_pull_n_per_m(pull, mean, gap)


# --- rows


def rows(plan: Any) -> Iterator[CheckRow]:
    """Yield wall, floor, reach and deck."""
    build, shape = plan.build, shape_of(plan)
    soil = Soil.of(build)
    if build.wall == "fabric":
        gap, mean, pull = fabric_of(build, shape, soil)
        yield CheckRow(
            check="wall: pull in the fabric", case=PUSHED, where="where it pulls hardest, at the rail",
            demand=bed_walls.fabric_edge_pull_n_per_m(pull, mean, gap),
            capacity=constants.value("fabric_n_per_m") / constants.value("fabric_reserve"), unit="N/m",
            source="fabric-strength", kind="wall",
        )  # fmt: skip
        tie = load_fixings()["tie-370"]
        yield CheckRow(
            check="wall: pull of one tie at the rim", case=PUSHED, where=f"{tie.label} on the rim",
            demand=rim_pull_n_per_m(build, shape, soil) * build.fixing_spacing_m, capacity=float(tie.holds_n or 0.0),
            unit="N", source=tie.source, kind="wall",
        )  # fmt: skip
    else:
        between = "rails" if build.wall == "steel-upright" else "posts"
        yield from _strip_rows(
            strip_of(build, shape, soil), PUSHED, "wall", f"between two {between}, where it is hardest"
        )
    if shape.on_legs:
        floor = Strip.of(FLOOR, shape.bearer_gap_m, floor_pa(build, shape))
        yield from _strip_rows(floor, "weight of the soil (G)", "floor", "between two bearers")
    one = build.sides == "one"
    yield CheckRow(
        check="access: arm's reach", case="as built", where="from one side" if one else "from both sides",
        demand=build.width_m * 1000 * (1.0 if one else 0.5), capacity=constants.value("reach_mm"), unit="mm",
        source="reach-articles", kind="access",
    )  # fmt: skip
    if build.under == "deck":
        yield CheckRow(
            check="deck: load under the bed, people left out", case="soil as chosen", where="whole deck under the bed",
            demand=on_floor_pa(plan), capacity=constants.value("deck_live_psf") * PSF_PA, unit="Pa",
            source="deck-dca6", kind="deck",
        )  # fmt: skip


def _strip_rows(strip: Strip, case: str, what: str, where: str) -> Iterator[CheckRow]:
    yield CheckRow(
        check=f"{what}: bending", case=case, where=where, demand=strip.stress_mpa, capacity=strip.allowed_mpa,
        unit="MPa", source=strip.source, kind=what,
    )  # fmt: skip
    yield CheckRow(
        check=f"{what}: {'bulge' if what == 'wall' else 'sag'} as it stays", case=case, where=where,
        demand=strip.bulge_mm, capacity=strip.span_m * 1000 / constants.value("bulge_share"), unit="mm",
        source="deflection-practice", kind="sag",
    )  # fmt: skip


def mass_of(plan: Any) -> float:
    """Mass of the full bed: soil, tubes, walls. [kg]"""
    build, shape = plan.build, shape_of(plan)
    tubes: float = sum(p.length_m * p.count * plan.shop.member(p.member).mass_kg_per_m for p in plan.cut)
    covers: float = sum(c.area_m2 * load_coverings()[c.covering].mass_kg_per_m2 for c in plan.covered)
    return filling_of(build, shape).mass_kg + tubes + covers


def on_floor_pa(plan: Any) -> float:
    """What the full bed asks of the floor, over its own plan. [Pa]"""
    b, g = plan.build, constants.value("gravity_m_per_s2")
    return bed_soil.floor_pressure_pa(mass_of(plan), g, b.length_m * b.width_m, b.surcharge_pa)
