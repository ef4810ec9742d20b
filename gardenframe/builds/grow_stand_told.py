"""What a grow stand's page tells: further checks, shown arithmetic, sentences. A plan comes in."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from gardenframe import units
from gardenframe.builds.grow_stand_sag import HandSag, worst_bed
from gardenframe.kept import cached_property
from gardenframe.materials import constants
from gardenframe.materials.stands import load_floors
from gardenframe.strength.cases import GRAVITY_M_PER_S2, Case, PointLoad
from gardenframe.strength.rows import CheckRow, peak
from gardenframe.strength.setting import WAYS
from gardenframe.water import energy, lamps
from gardenframe.working import Step, formula

FOOT_MM2 = {"feet": math.pi / 4 * 40**2, "plates": 150.0**2, "castors": 250.0}  # a hard wheel stands on 25 x 10 mm
FAR = {"+x": "right", "-x": "left", "+y": "back", "-y": "front"}  # the feet over which a push that way tips it
LITTLE = constants.value("little_weight_ratio")
CIRCUIT_W = constants.value("socket_circuit_w")


@formula(result="M_p", symbols={"push_n": "P", "height_m": "h"}, source="geometry",
         example={"push_n": 250.0, "height_m": 1.2})  # fmt: skip
def push_moment_n_m(push_n: float, height_m: float) -> float:
    """Moment with which a push tips a stand over its far edge. [N m]"""
    return push_n * height_m


@formula(result="M_h", symbols={"weight_n": "W", "lever_m": "a", "share_ratio": "k"}, source="asce7-2-4",
         example={"weight_n": 400.0, "lever_m": 0.25, "share_ratio": 0.6})  # fmt: skip
def holding_moment_n_m(weight_n: float, lever_m: float, share_ratio: float) -> float:
    """Moment with which weight holds a stand down, of which a share may be counted on. [N m]"""
    return share_ratio * weight_n * lever_m


@formula(result="P_t", symbols={"hold_n_m": "M_h", "height_m": "h"}, source="geometry",
         example={"hold_n_m": 60.0, "height_m": 1.2})  # fmt: skip
def tipping_push_n(hold_n_m: float, height_m: float) -> float:
    """Push at a height that just tips a stand. [N]"""
    return hold_n_m / height_m


@formula(result="alpha", symbols={"lever_m": "a", "height_m": "h"}, source="geometry",
         example={"lever_m": 0.25, "height_m": 1.4})  # fmt: skip
def tip_deg(lever_m: float, height_m: float) -> float:
    """Tilt at which the middle of weight stands over the edge. [deg]"""
    return math.degrees(math.atan(lever_m / height_m))


@dataclass(frozen=True)
class Tipping:
    """A stand as one body on its feet: its weight and middle, empty or with only the top tier full."""

    plan: Any
    top: bool = False

    @cached_property
    def parts(self) -> list[tuple[float, float, float, float]]:
        """Weight [N] and place of everything: tubes, lamps, and the top tier where it is full."""
        plan, build, shape = self.plan, self.plan.build, self.plan.build.shape
        found = []
        for key, line in plan.frame.lines.items():
            weight = plan.shop.member(plan.frame.runs[key].member).mass_kg_per_m * line.length_m * GRAVITY_M_PER_S2
            found.append((weight, *line.point(line.length_m / 2)))
        middle = (shape.posts_x[0] + shape.posts_x[-1]) / 2, shape.back_y / 2
        for tier in range(build.tiers):
            found.append((shape.lamps_kg * GRAVITY_M_PER_S2, *middle, shape.axis_z(tier, middle[0]) + shape.grown_m))
        if self.top:
            height = shape.axis_z(build.tiers - 1, middle[0]) + shape.d / 2 + shape.deep_m / 2
            found.append((shape.carried_kg * GRAVITY_M_PER_S2, *middle, height))
        return found

    @cached_property
    def weight_n(self) -> float:
        """All of it. [N]"""
        return sum(weight for weight, *_ in self.parts)

    @cached_property
    def middle(self) -> tuple[float, float, float]:
        """Where it acts. [m]"""
        x, y, z = (sum(part[0] * part[i] for part in self.parts) / self.weight_n for i in (1, 2, 3))
        return x, y, z

    def lever_m(self, way: str) -> float:
        """From the middle to the edge over which a push that way tips it. [m]"""
        shape, (x, y, _) = self.plan.build.shape, self.middle
        levers = {"+x": shape.posts_x[-1] - x, "-x": x - shape.posts_x[0], "+y": shape.back_y - y, "-y": y}
        return float(levers[way])

    @cached_property
    def tied_n_m(self) -> float:
        """What ties to a wall hold, at their height. [N m]"""
        feet = (foot for foot in self.plan.standing.anchors.feet if foot.main.rests == "wall")
        return math.fsum(float(foot.slide_n.min()) * foot.ground_at[2] for foot in feet)

    @cached_property
    def hardest(self) -> Case:
        """The push of a person over the edge where weight holds it least; nothing is solved for it."""

        def share(case: Case) -> float:
            hold = holding_moment_n_m(self.weight_n, self.lever_m(case.key[1:3]), LITTLE)
            return push_moment_n_m(*push_of(self.plan, case)) / hold

        pushes: list[Case] = [case for case in self.plan.standing.loads.cases if case.key[:1] == "L"]
        return max(pushes, key=share)

    @property
    def lean(self) -> CheckRow:
        """The row of that person, what ties to a wall hold counted."""
        case = self.hardest
        way = case.key[1:3]
        return CheckRow(
            check=f"tipping: leaned on, {'only the top tier full' if self.top else 'empty'}", case=case.label,
            where=f"over its {FAR[way]} feet", demand=push_moment_n_m(*push_of(self.plan, case)),
            capacity=holding_moment_n_m(self.weight_n, self.lever_m(way), LITTLE) + self.tied_n_m,
            unit="N m", source="asce7-2-4", kind="tipping",
        )  # fmt: skip

    @property
    def tipping_n(self) -> float:
        """Push at that height which just tips it, untied, all its weight counted. [N]"""
        case = self.hardest
        hold = holding_moment_n_m(self.weight_n, self.lever_m(case.key[1:3]), 1.0)
        return tipping_push_n(hold, push_of(self.plan, case)[1])

    @property
    def tilt(self) -> CheckRow:
        """The row of a free stand that its floor or handling tilts."""
        short = min(self.lever_m(way) for way in WAYS)
        return CheckRow(
            check="tipping: tilted, only the top tier full", case="all that stays", where="over its nearest edge",
            demand=constants.value("tilt_asked_deg"), capacity=tip_deg(short, self.middle[2]), unit="°",
            source="common-practice", kind="tipping",
        )  # fmt: skip


def push_of(plan: Any, case: Case) -> tuple[float, float]:
    """Return the size of a person's push and its height. [N, m]"""
    load = case.loads[0]
    if not isinstance(load, PointLoad):
        raise TypeError("a lean is one push at one place")
    return math.hypot(*load.force_n[:2]), plan.frame.lines[load.run].point(load.station_m)[2]


# --- checks


def rows(plan: Any) -> Iterator[CheckRow]:
    """Yield the further rows."""
    yield from _slope_rows(plan)
    yield Tipping(plan).lean
    top = Tipping(plan, top=True)
    yield top.lean
    if plan.build.stands == "free":
        yield top.tilt
    yield from _floor_rows(plan)


def _slope_rows(plan: Any) -> Iterator[CheckRow]:
    bed = worst_bed(plan)
    if bed is not None:
        yield CheckRow(
            check="slope of a channel lost to sag", case=bed.case, where=bed.where,
            demand=100 * max(bed.slope - bed.invert.least_slope, 0.0), capacity=100 * bed.slope, unit="%",
            source="beams-handbook", kind="slope",
        )  # fmt: skip


def _floor_rows(plan: Any) -> Iterator[CheckRow]:
    build, floor = plan.build, load_floors()[plan.build.floor]
    feet = [i for i, s in enumerate(plan.frame.supports) if s.base != "wall tie"]
    pressed = plan.standing.response.support_forces[:, feet, 2]
    case, foot = divmod(peak(pressed), len(feet))
    said = {"case": plan.standing.response.cases[case], "where": f"joint {plan.frame.supports[feet[foot]].joint}"}
    force = float(pressed.max())
    yield CheckRow(
        check="floor: pressure under a foot", demand=force / FOOT_MM2[build.feet], capacity=floor.bearing_mpa,
        unit="MPa", source=floor.source, kind="floor", **said,
    )  # fmt: skip
    if build.feet == "castors":
        yield CheckRow(
            check="castor: weight on one", demand=force, capacity=constants.value("castor_n"), unit="N",
            source="invented", kind="floor", **said,
        )  # fmt: skip
    if floor.spread_pa is not None:
        tank = build.water.tank.filled_l * GRAVITY_M_PER_S2
        spread = (float(pressed[0].sum()) + tank) / (build.length_m * build.depth_m)
        yield CheckRow(
            check="floor: weight over its footprint", case=plan.standing.response.cases[0], where="tank included",
            demand=spread, capacity=floor.spread_pa, unit="Pa", source=floor.source, kind="floor",
        )  # fmt: skip


# --- working


def working(plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    """Yield headings with their steps."""
    build, shape, water = plan.build, plan.build.shape, plan.build.water
    if water.film:
        yield "The film in a channel", water.film.working(system)
        yield "The slope that sag leaves, by hand", HandSag(shape).working(system)
    highest = water.system.pipes[0]
    yield "Head of the supply pipe, up to its first branch", highest.working(water.flow_l_per_min, system)
    yield "The pump", water.duty.working(build.energy_price, build.pump_h, system)
    yield "The tank", water.tank.working(shape.crop, shape.plants, system)
    yield "Light of a day", water.lit.working(system)
    yield "Energy of a plant", _energy(water, build, system)
    yield "Tipping, empty and top-heavy", _tipping(plan, system)
    if build.fish:
        yield "Fish for this growing area", water.fish.working(system)


def _energy(water: Any, build: Any, system: str) -> list[Step]:
    both = water.lamps_kwh + water.pump_kwh
    daily = energy.energy_cost(both, build.energy_price)
    return [
        energy.daily_kwh.shown(water.lit.power_w * build.tiers, build.lit_h, system=system),
        energy.daily_kwh.shown(water.duty.power_w, build.pump_h, system=system),
        energy.energy_cost.shown(both, build.energy_price, system=system),
        energy.cost_of_each.shown(daily, water.shape.crop.growing_days, water.shape.plants, system=system),
    ]


def _tipping(plan: Any, system: str) -> list[Step]:
    found, top = [], Tipping(plan, top=True)
    for one in (Tipping(plan), top):
        case = one.hardest
        found += [
            push_moment_n_m.shown(*push_of(plan, case), system=system),
            holding_moment_n_m.shown(one.weight_n, one.lever_m(case.key[1:3]), LITTLE, system=system),
        ]
    short = min(top.lever_m(way) for way in WAYS)
    return [*found, tip_deg.shown(short, top.middle[2], system=system)]


# --- sentences


def said(low: float, high: float | None = None, *, kind: str = "volume", kept: float = 1e-3) -> str:
    """Return an amount, or a range, in both unit systems: litres unless another kind is named.

    >>> said(81, 162)
    '81 to 162 L (21 to 43 gal)'
    """
    words = []
    for system in units.SYSTEMS:
        unit = units.usual_unit(kind, system)
        ends = [f"{units.in_unit(value * kept, unit):.0f}" for value in (low, high) if value is not None]
        words.append(f"{' to '.join(ends)} {unit}")
    return f"{words[0]} ({words[1]})"


def warnings(plan: Any) -> Iterator[str]:
    """Yield what lies outside usual ranges, and what a gardener asks first: light, water, energy, fish."""
    build, shape, water = plan.build, plan.build.shape, plan.build.water
    if water.film:
        yield from water.film.notes
    yield from _light(water, shape)
    tank, crop = water.tank, shape.crop
    few, most = shape.plants * crop.stock_low_l, shape.plants * crop.stock_high_l
    if water.stock_l < few:
        yield (
            f"{shape.plants} plants keep steadier in {said(few, most)} of solution; there are {said(water.stock_l)}: "
            "look at it more often, or take a larger tank."
        )
    low, high = tank.days_lasting(crop, shape.plants)
    if low < 1:
        yield f"Full-grown plants drink the tank down to its pump in {low:.1f} to {high:.1f} days: top it up daily."
    if build.fish:
        (little, much), (small, large) = water.fish.fish_kg, water.fish.tank_l
        fish = said(little, much, kind="mass", kept=1.0)
        yield (
            f"This growing area takes the feed of {fish} of fish, which need {said(small, large)}; the tank below "
            f"holds {said(tank.filled_l)}: a fish tank of its own, or fewer fish and feed beside them."
        )
    power = water.lit.power_w * build.tiers + water.duty.power_w
    if power > CIRCUIT_W:
        yield (
            f"Lamps and pump take {power:.0f} W together, more than the {CIRCUIT_W:.0f} W that one circuit of 15 A at "
            "120 V gives for hours: an electrician says how to share them out, and each share has a timer of its own."
        )
    if build.stands == "free":
        push = said(Tipping(plan).tipping_n, kind="force", kept=1.0)
        yield f"Empty and untied, a push of {push} as high as a person leans tips it: tie it to a wall."
    if build.feet == "castors":
        yield "Roll it only empty: unplug it, drain the tiers and lift the tank out first."


def _light(water: Any, shape: Any) -> Iterator[str]:
    crop, given = shape.crop, water.lit.daily_light_mol_per_m2_day
    low, high = crop.light_low_mol_per_m2_day, crop.light_high_mol_per_m2_day
    said = f"The lamps give {given:.1f} mol/m² a day; {crop.label} wants {low:g} to {high:g}"
    if given < low:
        needed = lamps.wanted_light_umol_per_m2_s(low, water.lit.lit_h)
        yield f"{said}: {needed:.0f} µmol/(m² s) at the plants. Hang them lower, light longer or add lamps."
    elif given > high:
        yield f"{said}: hang them higher or light for fewer hours."
