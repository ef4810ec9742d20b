"""What a raised bed adds to the checks: wall, floor, reach, the deck under it; and the arithmetic behind them.

A plan comes in; rows, steps and sentences go out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gardenframe.builds.raised_bed_laid import COVERS, FLOOR, Shape
from gardenframe.builds.raised_bed_soil import Soil, density_kg_per_m3, filling_of, floor_pa, rails_of, widths_of
from gardenframe.materials import constants, members, soils
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.sections import rectangle_second_moment_mm4, tube_section_modulus_mm3
from gardenframe.materials.soils import PSF_PA
from gardenframe.strength import beams, bed_soil, bed_walls, soil_push
from gardenframe.strength.rows import CheckRow
from gardenframe.strength.timber import PERMANENT, adjusted
from gardenframe.working import Step

METRE_MM = 1000.0
LOWEST_BOARD_M = 0.140  # its middle is where the push on it is taken
TIMBER = "timber-2x6"
STATES = {"moist": "moist", "soaked": "soaked", "flooded": "standing in water"}
HEIGHTS = {"chair": "from a chair", "edge": "sitting on its rim", "stand": "standing"}


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


# --- rows


def rows(plan: Any) -> Iterator[CheckRow]:
    """Yield wall, floor, reach and deck."""
    build, shape = plan.build, shape_of(plan)
    soil = Soil.of(build)
    if build.wall == "fabric":
        gap, mean, pull = fabric_of(build, shape, soil)
        yield CheckRow(
            check="wall: pull in the fabric", case="H", where="where it pulls hardest, at the rail",
            demand=bed_walls.fabric_edge_pull_n_per_m(pull, mean, gap),
            capacity=constants.value("fabric_n_per_m") / constants.value("fabric_reserve"), unit="N/m",
            source="fabric-strength", kind="wall",
        )  # fmt: skip
    else:
        between = "rails" if build.wall == "steel-upright" else "posts"
        yield from _strip_rows(strip_of(build, shape, soil), "H", "wall", f"between two {between}, where it is hardest")
    if shape.on_legs:
        floor = Strip.of(FLOOR, shape.bearer_gap_m, floor_pa(build, shape))
        yield from _strip_rows(floor, "G", "floor", "between two bearers")
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


# --- working


def working(plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    """Yield the soil's push, the rail or post that carries most, wall, volumes, deck and zinc, worked by hand."""
    build, shape = plan.build, shape_of(plan)
    soil = Soil.of(build)
    yield f"Push of the soil, {STATES[build.wetness]}", list(_push_steps(build, shape, soil, system))
    upright = build.wall in ("steel-upright", "fabric")
    name = "rail" if upright else "post"
    yield (
        f"The {name} that carries most, as a simple span",
        list((_rail_steps if upright else _post_steps)(plan, shape, soil, system)),
    )
    yield "Wall", list(_wall_steps(build, shape, soil, system))
    yield "Soil to buy, and what it sinks in a season", list(_soil_steps(build, shape, system))
    if build.under == "deck":
        b, g = build, constants.value("gravity_m_per_s2")
        on = bed_soil.floor_pressure_pa.shown(mass_of(plan), g, b.length_m * b.width_m, b.surcharge_pa, system=system)
        yield "On the deck", [on]
    zinc = list(_zinc_steps(plan, shape, system))
    if zinc:
        yield "Zinc, if all of it went into the soil: no source says how fast it does", zinc


def _push_steps(build: Any, shape: Shape, soil: Soil, system: str) -> Iterator[Step]:
    angle = min(soils.find(key).friction_angle_deg for key in filling_of(build, shape).bought_m3)
    kind = soil_push.active_ratio if build.push == "active" else soil_push.rest_ratio
    yield kind.shown(angle, system=system)
    depth = shape.soil_z - shape.bottom_z
    if soil.water_n_per_m3:
        yield soil_push.flooded_push_pa.shown(
            soil.push_ratio, soil.unit_weight_n_per_m3, soil.water_n_per_m3, depth, soil.surcharge_pa, system=system
        )
        return
    given = (soil.push_ratio, soil.unit_weight_n_per_m3, depth, soil.surcharge_pa)
    for step in (soil_push.push_pa, soil_push.push_n_per_m, soil_push.base_moment_n):
        yield step.shown(*given, system=system)


def hardest_rail(build: Any, shape: Shape, soil: Soil) -> tuple[str, float, float]:
    """Return level, load and span of the rail that is bent hardest by the push; the fabric's pull counts. [N/m, m]"""
    sag = build.sag_share if build.wall == "fabric" else 0.0
    level, out, up = max(rails_of(shape, soil, sag), key=lambda rail: rail[1] ** 2 + rail[2] ** 2)
    return level, (out**2 + up**2) ** 0.5, max(shape.bay_m, shape.end_bay_m)


def _rail_steps(plan: Any, shape: Shape, soil: Soil, system: str) -> Iterator[Step]:
    _, load, span = hardest_rail(plan.build, shape, soil)
    yield beams.simple_span_moment_n_m.shown(load, span, system=system)
    yield from _stress(plan, beams.simple_span_moment_n_m(load, span), system)


def hardest_post(shape: Shape) -> float:
    """Width of wall that the most loaded post between corners carries, else a corner's. [m]"""
    inner = [width for post, side, width in widths_of(shape) if width > 0]
    return max(inner)


def _post_steps(plan: Any, shape: Shape, soil: Soil, system: str) -> Iterator[Step]:
    high = shape.soil_z - shape.low_z
    given = (soil.at(high), hardest_post(shape), high)
    yield soil_push.post_moment_n_m.shown(*given, system=system)
    yield from _stress(plan, soil_push.post_moment_n_m(*given), system)


def _stress(plan: Any, moment_n_m: float, system: str) -> Iterator[Step]:
    tube = plan.shop.member(plan.build.tube)
    section = tube_section_modulus_mm3.shown(tube.outer_mm, tube.wall_mm, system=system)
    yield section
    yield soil_push.bending_stress_mpa.shown(
        moment_n_m * 1000, tube_section_modulus_mm3(tube.outer_mm, tube.wall_mm), system=system
    )


def _wall_steps(build: Any, shape: Shape, soil: Soil, system: str) -> Iterator[Step]:
    if build.wall == "fabric":
        gap, mean, pull = fabric_of(build, shape, soil)
        yield bed_walls.fabric_pull_n_per_m.shown(mean, gap, build.sag_share * gap, system=system)
        yield bed_walls.fabric_edge_pull_n_per_m.shown(pull, mean, gap, system=system)
        return
    strip = strip_of(build, shape, soil)
    thick = float(load_coverings()[strip.key].thickness_mm or 0.0)
    if strip.key == "corrugated-steel":
        deep, pitch = constants.value("sheet_depth_mm"), constants.value("sheet_pitch_mm")
        yield bed_walls.corrugated_second_moment_mm4.shown(thick, deep, pitch, METRE_MM, system=system)
        yield bed_walls.corrugated_section_modulus_mm3.shown(strip.second_moment_mm4, deep, thick, system=system)
    else:
        yield rectangle_second_moment_mm4.shown(METRE_MM, thick, system=system)
    yield beams.simple_span_moment_n_m.shown(strip.pressure_pa, strip.span_m, system=system)
    yield soil_push.bending_stress_mpa.shown(strip.moment_n_mm, strip.section_modulus_mm3, system=system)
    first = beams.simple_span_deflection_m.shown(strip.pressure_pa, strip.span_m, strip.stiffness_n_m2, system=system)
    yield first
    if strip.creep > 1:
        yield bed_walls.lasting_deflection_mm.shown(strip.bulge_mm / strip.creep, strip.creep, system=system)


def _soil_steps(build: Any, shape: Shape, system: str) -> Iterator[Step]:
    filling = filling_of(build, shape)
    long, wide = shape.clear_m
    yield bed_soil.bed_volume_m3.shown(long, wide, shape.soil_m, system=system)
    shares = {key: bought * (1 - build.settling_share) / filling.soil_m3 for key, bought in filling.bought_m3.items()}
    for share in shares.values():
        yield bed_soil.bought_volume_m3.shown(filling.soil_m3, share, build.settling_share, system=system)
    if "compost" in shares:
        rot = constants.value("rot_ratio")
        yield bed_soil.season_drop_m.shown(shape.soil_m, shares["compost"], rot, system=system)


def zinc_faces(plan: Any, shape: Shape) -> Iterator[tuple[float, float]]:
    """Yield area of galvanised faces that touch the soil and the zinc on them: sheet not lined, ties in it. [m², m]"""
    build = plan.build
    if COVERS[build.wall] == "corrugated-steel" and not build.lining:
        long, wide = shape.clear_m
        yield 2 * (long + wide) * (shape.soil_z - shape.bottom_z), constants.value("sheet_zinc_um") * 1e-6
    in_soil = [r for r in plan.frame.runs.values() if r.role == "tie" and not r.key.split(".")[0].endswith("high")]
    in_soil += [
        r for r in plan.frame.runs.values()
        if r.role == "tie" and r.key.split(".")[0].endswith("high") and build.tie_at == "soil"
    ]  # fmt: skip
    length = sum(plan.frame.lines[run.key].length_m for run in in_soil)
    if length:
        yield 3.141592653589793 * shape.d * length, constants.value("tube_zinc_um") * 1e-6


def _zinc_steps(plan: Any, shape: Shape, system: str) -> Iterator[Step]:
    soil_kg = filling_of(plan.build, shape).soil_m3 * density_kg_per_m3(plan.build, "low")
    for face, thick in zinc_faces(plan, shape):
        yield bed_soil.zinc_share_ratio.shown(
            face, thick, constants.value("zinc_density_kg_per_m3"), soil_kg, system=system
        )


# --- sentences


def warnings(plan: Any) -> Iterator[str]:
    """Yield what a reader should know before buying."""
    build, shape = plan.build, shape_of(plan)
    filling = filling_of(build, shape)
    if build.under == "deck":
        now, deck = on_floor_pa(plan) / 1000, constants.value("deck_live_psf") * PSF_PA / 1000
        older = constants.value("balcony_live_psf") * PSF_PA / 1000
        yield (
            f"The full bed asks {now:.2f} kPa ({now * 1000 / PSF_PA:.0f} psf) of the deck, people left out. Codes make "
            f"decks for {deck:.2f} kPa (40 psf), some balconies for {older:.2f} kPa (60 psf), people included. "
            "Ask an engineer, whatever the number says."
        )
    low, high = (
        (constants.value(f"{build.worked_at}_{end}_mm") for end in ("low", "high"))
        if build.worked_at != "any"
        else (0, 0)
    )
    rim = shape.rim_z * 1000
    if build.worked_at != "any" and not low <= rim <= high:
        yield (
            f"The rim is at {rim:.0f} mm ({rim / 25.4:.0f} in); for use {HEIGHTS[build.worked_at]} it is usually "
            f"{low:.0f} to {high:.0f} mm ({low / 25.4:.0f} to {high / 25.4:.0f} in)."
        )
    if filling.drop_m > 0:
        litres = filling.drop_m * shape.clear_m[0] * shape.clear_m[1] * 1000
        yield (
            f"Top up about {filling.drop_m * 1000:.0f} mm ({litres:.0f} L of compost) every season: "
            "compost rots (common practice, no source)."
        )
    if build.wetness != "flooded" and (shape.on_legs or build.under != "soil"):
        yield "Keep its drain holes open: water that stands in the bed pushes and weighs more than is counted here."
    if shape.on_legs and not build.held:
        yield (
            "Where a case says 0.6 D the bed is empty: a wind may move an empty one long before a full one. "
            "Fill it soon, empty it only with its feet held."
        )
    if shape.on_legs and filling.mass_kg > 500:
        yield f"{filling.mass_kg:.0f} kg stand on the legs: fill it where it stays, and never move it full."
    if COVERS[build.wall] == "corrugated-steel" and not build.lining:
        yield (
            "Bare galvanised sheet touches the soil. Zinc feeds plants, and harms them in excess, more in acid soil: "
            "test the pH, or line the bed. No source seen says how fast zinc goes into soil."
        )
    if build.wall.startswith("boards"):
        yield (
            "Lumber treated for homes since 2004 holds no arsenic (Michigan extension); do not use older CCA-treated "
            "boards for food (Iowa State). A fabric liner keeps soil off any board."
        )
