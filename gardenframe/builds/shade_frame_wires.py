"""A cloth on two wires: what they pull, gathered and drawn out in a gust, and the frame with it drawn out.

Gathered, the wind meets the frame alone. Drawn out, the cloth's push goes to the two end frames, which also take the
wires' level pull: a wire stretches and sags under the gust, and pulls far more than it was strung to.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from gardenframe import units
from gardenframe.builds.method import BuildStep
from gardenframe.builds.shade_frame_laid import Laid, joint_pull
from gardenframe.costs.bill import Need
from gardenframe.geometry.fittings import fit
from gardenframe.materials import constants, members
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.site import Site
from gardenframe.strength import cables, wind
from gardenframe.strength.cases import Case, JointLoad
from gardenframe.strength.limits import FASTEST_M_PER_S, GUST_M_PER_S, NOT_STRENGTH, RESERVE, Limit, crossing, limits_of
from gardenframe.strength.rows import CheckRow, worst
from gardenframe.strength.standing import Standing
from gardenframe.strength.stiffness import respond
from gardenframe.working import Step

RESERVE_RATIO = 2.0  # of a wire against yielding (common practice, no source)
NEAR = 0.3  # factor of pressure from which a limit is looked for
NUT_M = 0.012  # of an eye bolt past the tube: washer, nut and some thread
TAIL_M = 0.4  # of wire at each end, bent back and clipped


class Wires:
    """The two wires of one shade frame: loads, sags and pulls of each."""

    def __init__(self, build: Any) -> None:
        roof = build.roof
        self.build, self.span_m = build, roof.wire_span_m
        self.apart_m = roof.wires_y[1] - roof.wires_y[0]
        self.member, self.cloth = members.find(build.wire), load_coverings()[build.cloth]
        self.top_m = roof.front_z
        self.across_m = self.member.outer_mm / 1000
        self.weight_n_per_m = cables.cloth_on_wire_n_per_m(
            self.cloth.mass_kg_per_m2, self.apart_m, self.member.mass_kg_per_m
        )
        self.sag_m = build.sag_share * self.span_m
        self.strung_n = cables.parabola_pull_n(self.weight_n_per_m, self.span_m, self.sag_m)
        self.stiff_n = cables.wire_stiff_n(self.member.modulus_pa, self.across_m)
        self.yield_pa = self.member.yield_pa or 0.0
        self.allowed_n = cables.allowed_pull_n(self.yield_pa, self.across_m, RESERVE_RATIO)

    def pressure_pa(self, site: Site, gust_m_per_s: float) -> float:
        """Push of a forecast gust on a square metre of the cloth, at its windward half. [Pa]"""
        gusty = replace(site, wind_m_per_s=gust_m_per_s, wind_kind="forecast")
        q = wind.site_pressure_pa(gusty, self.top_m)
        ratio = wind.free_roof_coefficients("monoslope", 0.0)[0][0]
        return float(wind.face_pressure_pa(q, constants.value("gust_effect_ratio"), ratio, self.cloth.solidity))

    def load_n_per_m(self, pressure_pa: float) -> float:
        """Load on one wire under a push on the cloth. [N/m]"""
        return cables.gust_on_wire_n_per_m(self.weight_n_per_m, pressure_pa, self.apart_m)

    def pull_n(self, pressure_pa: float) -> float:
        """Level pull of one wire under a push on the cloth. [N]"""
        if pressure_pa <= 0:
            return self.strung_n
        load = self.load_n_per_m(pressure_pa)
        return cables.loaded_pull_n(load, self.strung_n, self.weight_n_per_m, self.stiff_n, self.span_m)


def pulls(build: Any, pressure_pa: float) -> tuple[Case, ...]:
    """Return the case of the wires' level pull at both end frames, under a push on the cloth [Pa]."""
    pull = Wires(build).pull_n(pressure_pa)
    ends = joint_pull()
    loads = tuple(JointLoad(joint=joint, force_n=(way * pull, 0.0, 0.0)) for joint, way in ends)
    return (Case(key="T", loads=loads, label="pull of the wires"),)


def out_standing(plan: Any, gust_m_per_s: float) -> Standing:
    """Return the frame with its cloth drawn out in a forecast gust, loaded."""
    build, shop = plan.build, plan.shop
    site = replace(plan.site, wind_m_per_s=gust_m_per_s, wind_kind="forecast", ground_snow_pa=0.0)
    frame = Laid(build, shop, out=True).frame()
    return Standing(
        frame=frame, fitted=fit(frame, shop.fittings, shop.members), covered=plan.covered, site=site,
        members=shop.members, extra=pulls(build, Wires(build).pressure_pa(plan.site, gust_m_per_s)),
        order="amplified", anchoring=build.anchoring(),
    )  # fmt: skip


def wire_row(plan: Any, gust_m_per_s: float) -> CheckRow:
    """Return what a wire pulls at its end in a gust against what it may."""
    wires = Wires(plan.build)
    pressure = wires.pressure_pa(plan.site, gust_m_per_s)
    load = wires.load_n_per_m(pressure)
    return CheckRow(
        check="wire: pull, cloth drawn out", case="gust that it is left out in", where="front wire, at its end",
        demand=cables.end_pull_n(wires.pull_n(pressure), load, wires.span_m), capacity=wires.allowed_n, unit="N",
        source="wire-strength", kind="wire",
    )  # fmt: skip


def rows(plan: Any) -> Iterator[CheckRow]:
    """Yield the wire's row, and at rest the worst row of each kind with the cloth drawn out."""
    gust = plan.build.out_wind_m_per_s
    yield wire_row(plan, gust)
    if not plan.live:
        standing = out_standing(plan, gust)
        words = {
            one.key: f"{one.label} ({one.key})" for one in standing.loads.combinations
        }  # some lift: not the plan's
        for row in (*standing.checks.rows, *filter(None, [worst(standing.anchors.rows)])):
            yield replace(row, check=f"cloth out: {row.check}", case=words.get(row.case, row.case))


class Out:
    """A plan's frame with its cloth drawn out, in gusts that grow by a factor of pressure."""

    def __init__(self, plan: Any) -> None:
        self.plan, self.standing = plan, out_standing(plan, GUST_M_PER_S)
        self.most = (FASTEST_M_PER_S / GUST_M_PER_S) ** 2
        self.known: dict[float, list[CheckRow]] = {}

    def rows(self, factor: float) -> list[CheckRow]:
        """Return every row of strength, the wire's among them."""
        if factor not in self.known:
            gust = GUST_M_PER_S * math.sqrt(factor)
            extra = pulls(self.plan.build, Wires(self.plan.build).pressure_pa(self.plan.site, gust))
            grown = replace(self.standing, site=replace(self.standing.site, wind_m_per_s=gust), extra=extra)
            windy = tuple(c for c in grown.loads.combinations if {key[0] for key in c.factors} <= {"D", "T", "W"})
            response = respond(grown.model, grown.loads.cases, windy, order=grown.order)
            checks, anchors = grown.checked(response, windy), grown.anchored(response, windy)
            found = [row for row in (*checks.rows, *anchors.rows) if row.kind not in NOT_STRENGTH]
            self.known[factor] = [*found, wire_row(self.plan, gust)]
        return self.known[factor]

    def first(self) -> float:
        """Factor at which the first ratio is 1; infinite where none is in the range that is looked at."""
        return crossing(lambda factor: max(row.ratio for row in self.rows(factor)), self.most, near=NEAR)

    def bends(self, first: float) -> float:
        """Estimate of the factor at which a tube or a fitting is bent for good."""

        def ratio(factor: float) -> float:
            steel = (row for row in self.rows(factor) if row.kind in ("joint moment", "strength"))
            return max((row.ratio / RESERVE.get(row.kind, 1.0) for row in steel), default=0.0)

        return max(crossing(ratio, self.most, near=max(first, NEAR) if math.isfinite(first) else NEAR), first)


def limits(plan: Any) -> Iterator[Limit]:
    """Yield the limits of the bare frame, and the gust that it carries with its cloth drawn out."""
    yield from (limit for limit in limits_of(plan.standing) if limit.condition == "bare")
    out = Out(plan)
    first = out.first()
    yield Limit(
        what="gust", condition="covered", value=GUST_M_PER_S * math.sqrt(first),
        bent=GUST_M_PER_S * math.sqrt(out.bends(first)),
        governs=worst(out.rows(first)) if math.isfinite(first) else None,
    )  # fmt: skip


def gust_m_per_s(plan: Any) -> float:
    """Return the gust that it carries with its cloth drawn out. [m/s]"""
    return GUST_M_PER_S * math.sqrt(Out(plan).first())


def items(plan: Any) -> Iterator[Need]:
    """Yield wire by the coil, its turnbuckles, eyes and clips, and the rings of the cloth."""
    build, wires = plan.build, Wires(plan.build)
    metres = 2 * (cables.parabola_length_m(wires.span_m, wires.sag_m) + 2 * TAIL_M)
    yield Need(item=build.wire, number=math.ceil(metres / (wires.member.stick_mm / 1000)), group="wires",
               note=f"{metres:.1f} m of it")  # fmt: skip
    yield Need(item="turnbuckle-m6", number=2, group="wires", note="one on each wire")
    through = build.roof.outer_m + NUT_M
    bolt = min(
        (one for one in load_fixings().values() if one.kind == "eye_bolt" and (one.length_mm or 0) / 1000 >= through),
        key=lambda one: one.length_mm or 0,
    )
    yield Need(item=bolt.key, number=4, group="wires", note="through the end ties")
    yield Need(item="wire-clip", number=8, group="wires", note="two at each end")
    rings = 2 * (math.ceil(wires.span_m / build.ring_apart_m) + 1)
    yield Need(item="cloth-ring", number=rings, group="wires", spare=True)


def steps(build: Any) -> Iterator[BuildStep]:
    """Yield how the wires are strung and the cloth hung."""
    yield BuildStep(
        "after", "Drill the end ties, put the eye bolts through, string both wires slack, two clips at each end.",
        "drill, spanner, pliers", 2, 25,
    )  # fmt: skip
    sag = " (".join(units.write(Wires(build).sag_m, "length", system) for system in units.SYSTEMS)
    yield BuildStep(
        "after",
        f"Hang the cloth by its rings, draw it out, and turn the turnbuckles until both wires sag {sag}) in the "
        "middle.",
        "tape, string line, pliers; eye protection, stand to the side", 2, 25,
    )  # fmt: skip


def working(plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    """Yield the wires by hand: as strung, as a catenary, in a gust."""
    build, wires = plan.build, Wires(plan.build)
    span, w0, strung = wires.span_m, wires.weight_n_per_m, wires.strung_n
    yield "Wires as strung, a parabola", [
        cables.cloth_on_wire_n_per_m.shown(
            wires.cloth.mass_kg_per_m2, wires.apart_m, wires.member.mass_kg_per_m, system=system
        ),
        cables.parabola_pull_n.shown(w0, span, wires.sag_m, system=system),
        cables.end_pull_n.shown(strung, w0, span, system=system),
        cables.parabola_length_m.shown(span, wires.sag_m, system=system),
    ]  # fmt: skip
    yield "The same pull as a catenary", [cables.catenary_sag_m.shown(w0, span, strung, system=system)]
    pressure = wires.pressure_pa(plan.site, build.out_wind_m_per_s)
    load, pull = wires.load_n_per_m(pressure), wires.pull_n(pressure)
    yield "Wires in the gust that the cloth is left out in", [
        cables.gust_on_wire_n_per_m.shown(w0, pressure, wires.apart_m, system=system),
        cables.wire_stiff_n.shown(wires.member.modulus_pa, wires.across_m, system=system),
        cables.load_that_pulls_n_per_m.shown(pull, strung, w0, wires.stiff_n, span, system=system),
        cables.parabola_sag_m.shown(load, span, pull, system=system),
        cables.allowed_pull_n.shown(wires.yield_pa, wires.across_m, RESERVE_RATIO, system=system),
    ]  # fmt: skip


def sentences(plan: Any) -> Iterator[str]:
    """Yield what the wires pull, and when the cloth has to be gathered."""
    build, wires = plan.build, Wires(plan.build)
    pressure = wires.pressure_pa(plan.site, build.out_wind_m_per_s)
    out = cables.end_pull_n(wires.pull_n(pressure), wires.load_n_per_m(pressure), wires.span_m)
    said = [units.write(value, "force", system) for value in (wires.strung_n, out) for system in units.SYSTEMS]
    gust = " (".join(units.write(build.out_wind_m_per_s, "speed", system) for system in units.SYSTEMS)
    yield (
        f"You leave the cloth out up to gusts of {gust}): each wire, strung to {said[0]} ({said[1]}), pulls {said[2]} "
        f"({said[3]}) in one. Gather and tie the cloth before it blows harder; the gust limit says what it all carries."
    )
