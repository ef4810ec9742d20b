"""The arithmetic of a raised bed that a learner should be able to do alone, and what to know before buying.

A plan comes in; steps and sentences go out.
"""

from collections.abc import Iterator
from typing import Any

import numpy as np

from gardenframe.builds.raised_bed_checks import METRE_MM, fabric_of, mass_of, on_floor_pa, shape_of, strip_of
from gardenframe.builds.raised_bed_shape import COVERS, Shape
from gardenframe.builds.raised_bed_soil import Soil, density_kg_per_m3, filling_of, floor_pa, rails_of, widths_of
from gardenframe.materials import constants, soils
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.sections import rectangle_second_moment_mm4, tube_section_modulus_mm3
from gardenframe.materials.soils import PSF_PA
from gardenframe.strength import beams, bed_soil, bed_walls, soil_push
from gardenframe.strength.members import sampled
from gardenframe.units import POUND_KG
from gardenframe.working import Step

HEAVY_KG = 500.0
STATES = {"moist": "moist", "soaked": "soaked", "flooded": "standing in water"}
HEIGHTS = {"chair": "from a chair", "edge": "sitting on its rim", "stand": "standing"}

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
    if shape.on_legs:
        yield "Bearer under the floor, as a simple span", list(_bearer_steps(plan, shape, system))
    yield "Soil to buy, and what it sinks in a season", list(_soil_steps(build, shape, system))
    if build.under == "deck":
        b, g = build, constants.value("gravity_m_per_s2")
        on = bed_soil.floor_pressure_pa.shown(mass_of(plan), g, b.length_m * b.width_m, b.surcharge_pa, system=system)
        yield "On the deck", [on]
    zinc = list(_zinc_steps(plan, shape, system))
    if zinc:
        yield (
            "Zinc as a share of the soil if all of it went there (10⁻⁶ is 1 mg in a kg); how fast, no source says",
            zinc,
        )


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


def _bearer_steps(plan: Any, shape: Shape, system: str) -> Iterator[Step]:
    pressure, span = floor_pa(plan.build, shape), shape.y_m[-1] - shape.y_m[0]
    load = soil_push.line_load_n_per_m.shown(pressure, shape.bearer_gap_m, system=system)
    yield load
    yield beams.simple_span_moment_n_m.shown(load.value, span, system=system)
    yield from _stress(plan, beams.simple_span_moment_n_m(load.value, span), system)


def frame_moment_n_m(plan: Any) -> float:
    """Largest moment that the soil's push alone puts in a rail, or a post where walls span along, as solved. [N m]"""
    response = plan.standing.response
    forces, _ = sampled(response)
    roles = ("rail",) if plan.build.wall in ("steel-upright", "fabric") else ("post", "leg")
    frame, mesh = plan.frame, response.mesh
    mine = [frame.runs[mesh.runs[run]].role in roles for run in mesh.run]
    stays = response.cases.index(next(c.key for c in plan.standing.loads.combinations))
    moments = forces[stays][mine][..., 4:6]
    return float(np.hypot(moments[..., 0], moments[..., 1]).max())


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
        yield _deck_said(plan)
    yield from _height_said(build, shape)
    if build.wetness != "flooded" and (shape.on_legs or build.under != "soil"):
        yield "Keep its drain holes open: water that stands in the bed pushes and weighs more than is counted here."
    if shape.on_legs and not build.held:
        yield (
            "Where a case says 0.6 D the bed is empty: a wind may move an empty one long before a full one. "
            "Fill it soon, empty it only with its feet held."
        )
    if shape.on_legs and filling.mass_kg > HEAVY_KG:
        mass = f"{filling.mass_kg:.0f} kg ({filling.mass_kg / POUND_KG:.0f} lb)"
        yield f"{mass} stand on the legs: fill it where it stays, and never move it full."
    if COVERS[build.wall] == "corrugated-steel" and not build.lining:
        yield _zinc_said(plan, shape)
    if build.wall.startswith("boards"):
        yield (
            "Lumber treated for homes since 2004 holds no arsenic (Michigan extension); do not use older CCA-treated "
            "boards for food (Iowa State). A fabric liner keeps soil off any board."
        )


def _deck_said(plan: Any) -> str:
    now, deck = on_floor_pa(plan) / 1000, constants.value("deck_live_psf") * PSF_PA / 1000
    older = constants.value("balcony_live_psf") * PSF_PA / 1000
    return (
        f"The full bed asks {now:.2f} kPa ({now * 1000 / PSF_PA:.0f} psf) of the deck, people left out. Codes make "
        f"decks for {deck:.2f} kPa (40 psf), some balconies for {older:.2f} kPa (60 psf), people included. "
        "Ask an engineer, whatever the number says."
    )


def _height_said(build: Any, shape: Shape) -> Iterator[str]:
    """Yield a sentence where the rim is not at the height that people use so."""
    if build.worked_at == "any":
        return
    low, high = (constants.value(f"{build.worked_at}_{end}_mm") for end in ("low", "high"))
    rim = shape.rim_z * 1000
    if not low <= rim <= high:
        yield (
            f"The rim is at {rim:.0f} mm ({rim / 25.4:.0f} in); for use {HEIGHTS[build.worked_at]} it is usually "
            f"{low:.0f} to {high:.0f} mm ({low / 25.4:.0f} to {high / 25.4:.0f} in)."
        )


def _zinc_said(plan: Any, shape: Shape) -> str:
    """Return what the zinc of bare walls would come to in the soil, and that no source says how fast it goes there."""
    soil_kg = filling_of(plan.build, shape).soil_m3 * density_kg_per_m3(plan.build, "low")
    zinc = constants.value("zinc_density_kg_per_m3")
    whole = sum(bed_soil.zinc_share_ratio(face, thick, zinc, soil_kg) for face, thick in zinc_faces(plan, shape)) * 1e6
    screen = constants.value("zinc_screen_mg_per_kg")
    return (
        f"Bare galvanised sheet touches the soil. If all of its zinc went into it, that would be about {whole:.0f} mg "
        f"in each kg; {screen:.0f} is a screening number for plants, not a clean-up level (EPA). How fast it goes, no "
        "source seen says: test the pH, since acid soil is worse, or line the bed."
    )
