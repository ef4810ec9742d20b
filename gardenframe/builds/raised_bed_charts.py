"""Charts of a raised bed: the soil's push against depth, the stress of its rails against the depth of the bed.

A plan and a unit system come in; charts with their message as title go out.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from gardenframe import units
from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.builds.raised_bed_checks import shape_of
from gardenframe.builds.raised_bed_shape import Shape, least_gap_m
from gardenframe.builds.raised_bed_soil import Soil, density_kg_per_m3
from gardenframe.builds.raised_bed_told import hardest_post, hardest_rail
from gardenframe.materials import constants
from gardenframe.materials.sections import tube_section_modulus_mm3
from gardenframe.materials.soils import PSF_PA
from gardenframe.strength import beams, soil_push
from gardenframe.strength.steel import OMEGA

STEPS = 20
LENGTH = {"metric": ("mm", 1000.0), "us": ("in", 1 / units.INCH_M)}
PRESSURE = {"metric": ("kPa", 1e-3), "us": ("psf", 1 / PSF_PA)}
STRESS = {"metric": ("MPa", 1.0), "us": ("ksi", 1 / 6.894757)}
STATES = (
    ("moist", "active", "moist, wall gives"),
    ("soaked", "rest", "soaked, at rest"),
    ("flooded", "rest", "water stands in it"),
)


def charts_of(plan: Any, system: str) -> Iterator[Chart]:
    """Yield the charts of a plan."""
    yield push_chart(plan, system)
    yield stress_chart(plan, system)
    if plan.build.under == "deck":
        yield deck_chart(plan, system)


def push_chart(plan: Any, system: str) -> Chart:
    """Return the pressure on the wall against depth under the surface: as chosen, moist, soaked, standing in water."""
    build, shape = plan.build, shape_of(plan)
    foot = shape.soil_z - shape.bottom_z
    (length, per_m), (unit, per_pa) = LENGTH[system], PRESSURE[system]
    depths = [foot * n / STEPS for n in range(STEPS + 1)]

    def line(name: str, soil: Soil, dashed: bool) -> ChartLine:
        return ChartLine(name=name, points=tuple((z * per_m, soil.at(z) * per_pa) for z in depths), dashed=dashed)

    now = Soil.of(build)
    lines = [line("as chosen", now, False)]
    for wet, push, name in STATES:
        if (wet, push) != (build.wetness, build.push):
            lines.append(line(name, Soil.of(build, wet, push), True))
    title = f"At the foot of the wall the soil pushes with {now.at(foot) * per_pa:.3g} {unit}"
    return Chart(title=title, across=f"depth under the surface, {length}", up=f"push, {unit}", lines=tuple(lines))


def stress_at(plan: Any, depth_m: float) -> float:
    """Return the stress of the rail, or the post, that is bent hardest in a bed of another depth. [MPa]"""
    build, tube = plan.build, plan.shop.member(plan.build.tube)
    shape = _deep(plan, depth_m)
    soil = Soil.of(build)
    if build.wall in ("steel-upright", "fabric"):
        _, load, span = hardest_rail(build, shape, soil)
        moment = beams.simple_span_moment_n_m(load, span)
    else:
        high = max(shape.soil_z - shape.low_z, 0.0)
        moment = soil_push.post_moment_n_m(soil.at(high), hardest_post(shape), high)
    return soil_push.bending_stress_mpa(moment * 1000, tube_section_modulus_mm3(tube.outer_mm, tube.wall_mm))


def _deep(plan: Any, depth_m: float) -> Shape:
    return Shape(_Deep(plan.build, depth_m), plan.shop.member(plan.build.tube).outer_mm / 1000)


class _Deep:
    """A build with another depth, unchecked: a chart also looks at depths that the reader cannot choose."""

    def __init__(self, build: Any, depth_m: float) -> None:
        self._build, self.depth_m = build, depth_m

    def __getattr__(self, name: str) -> Any:
        return getattr(self._build, name)


def stress_chart(plan: Any, system: str) -> Chart:
    """Return stress against the depth of the bed, with what the tube may carry."""
    build, tube = plan.build, plan.shop.member(plan.build.tube)
    (length, per_m), (unit, per_mpa) = LENGTH[system], STRESS[system]
    least = tube.outer_mm / 1000 + least_gap_m(tube.outer_mm / 1000) * (build.mid_rails + 1)
    most = max(0.8, 1.25 * build.depth_m)
    depths = [least + (most - least) * n / STEPS for n in range(STEPS + 1)]
    points = [(depth, stress_at(plan, depth)) for depth in depths]
    allowed = (tube.yield_mpa or 0.0) / OMEGA
    name = "rail" if build.wall in ("steel-upright", "fabric") else "post"
    over = crossing(points, allowed)
    now = stress_at(plan, build.depth_m)
    ends = f"{over * per_m:.3g} {length} is too deep for it" if over else "none shown is too deep for it"
    return Chart(
        title=f"As a simple span the hardest {name} comes to {now * per_mpa:.3g} {unit}; {ends}",
        across=f"depth of the bed, {length}", up=f"stress, {unit}", here=build.depth_m * per_m,
        lines=(
            ChartLine(name=name, points=tuple((z * per_m, s * per_mpa) for z, s in points)),
            ChartLine(name="allowed", points=tuple((z * per_m, allowed * per_mpa) for z in (least, most)), dashed=True),
        ),
    )  # fmt: skip


def crossing(points: list[tuple[float, float]], limit: float) -> float | None:
    """Return where a rising line passes a limit, straight between its points; the first if all lie over, else none."""
    if points[0][1] > limit:
        return points[0][0]
    for (a, low), (b, high) in pairwise(points):
        if high > limit:
            return a + (b - a) * (limit - low) / (high - low)
    return None


def deck_chart(plan: Any, system: str) -> Chart:
    """Return the load of soaked and of moist soil on a deck against its depth, with what codes make decks for."""
    build, g = plan.build, constants.value("gravity_m_per_s2")
    (length, per_m), (unit, per_pa) = LENGTH[system], PRESSURE[system]
    most = max(0.6, 1.25 * build.depth_m)

    def line(name: str, state: str) -> ChartLine:
        mass = density_kg_per_m3(build, state)
        return ChartLine(name=name, points=tuple((z * per_m, mass * g * z * per_pa) for z in (0.0, most)))

    deck = constants.value("deck_live_psf") * PSF_PA
    fills = deck / (density_kg_per_m3(build, "soaked") * g)
    return Chart(
        title=f"{fills * per_m:.3g} {length} of this soil, soaked, use up all that a deck is made for",
        across=f"depth of soil, {length}", up=f"load, {unit}", here=shape_of(plan).soil_m * per_m,
        lines=(
            line("soaked", "soaked"),
            line("moist", "moist"),
            ChartLine(name="deck", points=((0.0, deck * per_pa), (most * per_m, deck * per_pa)), dashed=True),
        ),
    )  # fmt: skip
