"""What a lid weighs, lifts and lets in: its statics at each opening, the sun on it by month, when the frame overheats.

A plan of a cold frame comes in; steps, rows of checks and tables for charts go out.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from gardenframe.builds.cold_frame_laid import Laid
from gardenframe.climate import covers, frames, heat, sun
from gardenframe.geometry.fittings import fit
from gardenframe.geometry.frame import Frame
from gardenframe.materials import constants
from gardenframe.materials.coverings import load_coverings
from gardenframe.strength import lids
from gardenframe.strength.limits import FASTEST_M_PER_S, GUST_M_PER_S, Limit, limits_of
from gardenframe.strength.rows import CheckRow, worst
from gardenframe.strength.standing import Standing
from gardenframe.working import Step, formula

HEAT_OF = {
    "film-6mil": "film-single",
    "glass-3": "glass-single",
    "twin-wall-6": "twin-wall-6",
    "twin-wall-8": "twin-wall-8",
    "boards-19": "boards-19",
}
NET_RATIO = 1.2  # wind on a flat plate held into it, net of both faces (from memory)
LATCHES = 2
OPENINGS_DEG = (5, 10, 15, 20, 30, 45, 60)


@formula(result="gamma", symbols={"latitude_deg": "phi", "declination_deg": "delta", "tilt_deg": "beta"},
         source="geometry", example={"latitude_deg": 45.0, "declination_deg": -13.0, "tilt_deg": 10.0})  # fmt: skip
def noon_incidence_deg(latitude_deg: float, declination_deg: float, tilt_deg: float) -> float:
    """Angle between the noon sun and the square of a lid that looks to it: 0 is full on. [deg]"""
    return abs(latitude_deg - declination_deg - tilt_deg)


@dataclass(frozen=True, slots=True)
class Lid:
    """One lid: what follows from its mass and its length, taken from the knuckles of its hinges to its front rail."""

    tube_m: float
    tube_kg_per_m: float
    glazing_m2: float
    glazing_kg_per_m2: float
    length_m: float
    tilt_deg: float

    @property
    def mass_kg(self) -> float:
        """Its mass. [kg]"""
        return lids.lid_mass_kg(self.tube_m, self.tube_kg_per_m, self.glazing_m2, self.glazing_kg_per_m2)

    def moment_n_m(self, opened_deg: float) -> float:
        """Moment of its weight about the hinge when opened. [N m]"""
        return lids.lid_moment_n_m(self.mass_kg, self.length_m, lids.above_level_deg(opened_deg, self.tilt_deg))

    def hand_n(self, opened_deg: float = 0.0) -> float:
        """What a hand lifts at its front edge. [N]"""
        return lids.hand_n(self.moment_n_m(opened_deg), self.length_m)

    def prop_n(self, opened_deg: float) -> float:
        """Force in the prop. [N]"""
        return lids.prop_n(self.moment_n_m(opened_deg), self.length_m, opened_deg)

    def gust_m_per_s(self, opened_deg: float) -> float:
        """Gust square to it that throws it open, untied. [m/s]"""
        lifting = lids.lifting_pa(self.moment_n_m(opened_deg), self.glazing_m2, self.length_m)
        return lids.lifting_gust_m_per_s(lifting, NET_RATIO)

    def table(self, openings_deg: tuple[float, ...] = OPENINGS_DEG) -> list[tuple[float, float, float, float, float]]:
        """Return opening [deg], prop [m], hand [N], force in the prop [N], gust that lifts it [m/s]."""
        return [
            (a, lids.prop_m(self.length_m, a), self.hand_n(a), self.prop_n(a), self.gust_m_per_s(a))
            for a in openings_deg
        ]


def lid_of(plan: Any) -> Lid:
    """Return the first lid of a plan: all are alike."""
    build, frame = plan.build, plan.frame
    mine = {run.key for run in frame.runs.values() if run.part == "lid 1"}
    tube_m = sum(abs(p.end_m - p.start_m) for piece in plan.cut for p in piece.places if p.run in mine)
    area = next(one.area_m2 for one in plan.covered if one.panel == "lid 1")
    laid = Laid(build, plan.shop)
    cover = load_coverings()[build.glazing]
    length = laid.lid_length_m + laid.d / 2
    return Lid(tube_m, plan.shop.member(build.tube).mass_kg_per_m, area, cover.mass_kg_per_m2, length, laid.tilt_deg)


def climate_of(build: Any, outer_m: float) -> frames.ColdFrame:
    """Return the frame as the sun and the air meet it: values of covers halfway between their ends."""
    lid, walls = (covers.find_cover(HEAT_OF[key]) for key in (build.glazing, build.walls))
    return frames.ColdFrame(
        width_m=build.width_m, depth_m=build.depth_m - outer_m, front_m=build.front_m, back_m=build.back_m,
        u_lid_w_per_m2_k=(lid.u_low_w_per_m2_k + lid.u_high_w_per_m2_k) / 2,
        u_wall_w_per_m2_k=(walls.u_low_w_per_m2_k + walls.u_high_w_per_m2_k) / 2,
        light_ratio=lid.light_share, most_open_m=lids.prop_m(build.depth_m - outer_m, build.most_open_deg),
    )  # fmt: skip


def outer_m(plan: Any) -> float:
    """Outside diameter of the tube. [m]"""
    return float(plan.shop.member(plan.build.tube).outer_mm) / 1000


def sun_by_month(plan: Any) -> list[tuple[str, float, float, float]]:
    """Return month, the noon sun's altitude, its angle to the lid's square [deg], clear light on the lid [W/m2]."""
    build = plan.build
    rows = climate_of(build, outer_m(plan)).lid_sun(plan.site.latitude_deg, build.faces_deg)
    return [(month, *row) for month, row in zip(sun.MONTHS, rows)]


def hot_months(plan: Any) -> list[tuple[str, float, float | None]]:
    """Return month, temperature closed on its warm clear day [°C], the prop that keeps it down [m], None lid off."""
    build, frame = plan.build, climate_of(plan.build, outer_m(plan))
    garden = covers.load_garden()
    found = []
    for number, (month, _, _, light) in enumerate(sun_by_month(plan), 1):
        warm = garden[number].warm_day_degc
        found.append((month, frame.closed_degc(warm, light), frame.prop_m(warm, light, build.limit_degc)))
    return found


# --- open


def open_frame(plan: Any) -> Frame:
    """Return the frame with its lids propped open as the reader chose."""
    return Laid(plan.build, plan.shop, plan.build.opened_deg).frame()


def open_rows(plan: Any) -> Iterator[CheckRow]:
    """Yield the worst row of each kind with the lids open in the wind that they are left open in."""
    build = plan.build
    frame = open_frame(plan)
    site = replace(plan.site, wind_m_per_s=build.open_wind_m_per_s, wind_kind="forecast", ground_snow_pa=0.0)
    standing = Standing(
        frame=frame, fitted=fit(frame, plan.shop.fittings, plan.shop.members), covered=plan.covered, site=site,
        members=plan.shop.members, order="amplified", anchoring=build.anchoring(),
    )  # fmt: skip
    for row in (*standing.checks.rows, *filter(None, [worst(standing.anchors.rows)])):
        yield replace(row, check=f"lid open: {row.check}")


def rows(plan: Any) -> Iterator[CheckRow]:
    """Yield what the lid adds to the checks: hand, wind on it open and closed, the frame with it open."""
    build, lid = plan.build, lid_of(plan)
    yield CheckRow(
        check="lid: lift by hand at its front edge", case="closed", where="lid 1", demand=lid.hand_n(),
        capacity=constants.value("lid_hand_n"), unit="N", source="common-practice", kind="lid",
    )  # fmt: skip
    if plan.standing.site.wind_m_per_s:
        yield held_row(plan, plan.standing, 0.6 if plan.site.wind_kind == "code" else 1.0)
    if not build.tied:
        yield CheckRow(
            check="lid open: gust that throws it over", case="gust from the front", where="lid 1, held by its weight",
            demand=build.open_wind_m_per_s, capacity=lid.gust_m_per_s(build.opened_deg), unit="m/s",
            source="asce7-velocity-pressure", kind="lid",
        )  # fmt: skip
    if not plan.live:  # a second frame to solve: worked when the sliders rest
        yield from open_rows(plan)


def held_row(plan: Any, standing: Standing, share: float) -> CheckRow:
    """Return the pull on a lid's hinges and latches; each edge takes half, so two latches a quarter each."""
    lifted = max(force for case, force in standing.loads.faces["lid 1"].items() if case.endswith(" up"))
    return CheckRow(
        check="lid: pull on each hinge and latch", case="wind, lifting", where="lid 1, closed and latched",
        demand=share * lifted / 2 / min(plan.build.hinges, LATCHES), capacity=constants.value("lid_hold_n"), unit="N",
        source="invented", kind="lid",
    )  # fmt: skip


def held_gust_m_per_s(plan: Any) -> float:
    """Return the forecast gust at which the hinges and latches of a shut lid hold no more. [m/s]"""
    site = replace(plan.site, wind_m_per_s=GUST_M_PER_S, wind_kind="forecast", ground_snow_pa=0.0)
    return GUST_M_PER_S / math.sqrt(held_row(plan, plan.standing.under(site), 1.0).ratio)


def limits(plan: Any) -> Iterator[Limit]:
    """Yield the limits of the frame, covered no gust beyond that which hinges and latches of its lids hold."""
    gust = held_gust_m_per_s(plan)
    for limit in limits_of(plan.standing):
        if limit.what == "gust" and limit.condition != "bare" and gust < min(limit.value, FASTEST_M_PER_S):
            row = held_row(plan, plan.standing.under(replace(plan.site, wind_m_per_s=gust, wind_kind="forecast")), 1.0)
            yield replace(limit, value=gust, governs=row)
        else:
            yield limit


# --- working


def working(plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    """Yield lid, sun and heat, worked by hand."""
    build, lid, laid = plan.build, lid_of(plan), Laid(plan.build, plan.shop)
    tilt = lids.tilt_deg.shown(laid.back_z - laid.front_z, laid.back_y, system=system)
    yield "Slope of the lid", [tilt]
    opened = build.opened_deg
    above = lids.above_level_deg.shown(opened, lid.tilt_deg, system=system)
    mass = lids.lid_mass_kg.shown(lid.tube_m, lid.tube_kg_per_m, lid.glazing_m2, lid.glazing_kg_per_m2, system=system)
    yield (
        "Weight of the lid, and what lifts it when closed",
        [
            mass,
            lids.lid_moment_n_m.shown(lid.mass_kg, lid.length_m, -lid.tilt_deg, system=system),
            lids.hand_n.shown(lid.moment_n_m(0.0), lid.length_m, system=system),
        ],
    )
    moment = lid.moment_n_m(opened)
    yield (
        "Propped open",
        [
            above,
            lids.lid_moment_n_m.shown(lid.mass_kg, lid.length_m, above.value, system=system),
            lids.prop_m.shown(lid.length_m, opened, system=system),
            lids.prop_n.shown(moment, lid.length_m, opened, system=system),
        ],
    )
    lifting = lids.lifting_pa(moment, lid.glazing_m2, lid.length_m)
    yield (
        "Gust that throws it over, untied",
        [
            lids.lifting_pa.shown(moment, lid.glazing_m2, lid.length_m, system=system),
            lids.lifting_gust_m_per_s.shown(lifting, NET_RATIO, system=system),
        ],
    )
    yield "Noon sun on the lid", list(_sun_steps(plan, lid, system))
    yield "When it overheats, and how far to prop it", list(_heat_steps(plan, system))


def _sun_steps(plan: Any, lid: Lid, system: str) -> Iterator[Step]:
    day = float(sun.MIDDLE_DAYS[plan.build.month - 1])
    tilted = sun.declination_deg.shown(day, system=system)
    yield tilted
    yield sun.noon_altitude_deg.shown(plan.site.latitude_deg, tilted.value, system=system)
    towards = math.copysign(1.0, plan.site.latitude_deg - tilted.value)
    if math.isclose(plan.build.faces_deg, 180.0 if towards > 0 else 0.0):
        yield noon_incidence_deg.shown(plan.site.latitude_deg, tilted.value, towards * lid.tilt_deg, system=system)


def _heat_steps(plan: Any, system: str) -> Iterator[Step]:
    build = plan.build
    frame = climate_of(build, outer_m(plan))
    loss, room = frame.loss_w_per_k, build.limit_degc - build.outside_degc
    if room > 0:
        yield frames.overheating_sun_w_per_m2.shown(
            room, loss, frame.lid_m2, frame.light_ratio, frame.evaporated_ratio, system=system
        )
    gain = heat.solar_gain_w.shown(
        build.sun_w_per_m2, frame.lid_m2, frame.light_ratio, frame.evaporated_ratio, system=system
    )
    yield gain
    yield heat.closed_rise_k.shown(gain.value, loss, system=system)
    prop = frame.prop_m(build.outside_degc, build.sun_w_per_m2, build.limit_degc)
    if prop and room > 0:
        yield heat.needed_flow_m3_per_s.shown(gain.value, loss, room, system=system)
        opening = frames.prop_opening_m2.shown(prop, frame.width_m, frame.depth_m, system=system)
        yield opening
        inside = build.limit_degc + heat.ZERO_K
        yield frames.one_sided_m3_per_s.shown(opening.value, prop, room, inside, 0.0, system=system)
