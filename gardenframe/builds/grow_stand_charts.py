"""Charts of a grow stand: the channel under load, the slope it keeps, pump against system, energy of one plant."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from gardenframe import units
from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.builds.grow_stand_sag import Bed, worst_bed
from gardenframe.water import energy
from gardenframe.water.lamps import Lit

STEPS = 24
SMALL = {"metric": ("mm", 1000.0), "us": ("in", 1 / units.INCH_M)}
LONG = {"metric": ("m", 1.0), "us": ("ft", 1 / units.FOOT_M)}
FLOW = {"metric": ("L/min", 1.0), "us": ("gal/min", 0.001 / units.GALLON_M3)}


def charts_of(plan: Any, system: str) -> Iterator[Chart]:
    """Yield the charts of a plan."""
    bed = worst_bed(plan)
    if bed is not None:
        yield level_chart(bed, system)
        yield slope_chart(bed, system)
    yield pump_chart(plan, system)
    yield energy_chart(plan)


def _ends(bed: Bed) -> str:
    invert = bed.invert
    if invert.pond_m > 5e-5:
        return f"water stands {invert.pond_m * 1000:.1f} mm deep in it"
    return "its lowest point is its drain"


def level_chart(bed: Bed, system: str) -> Chart:
    """Return the bottom of the channel with the least slope, as laid and under load."""
    (long, each), (small, deep) = LONG[system], SMALL[system]
    x, loaded = bed.invert.stations_m, bed.invert.levels_m
    laid = [-bed.slope * (at - x[0]) for at in x]
    over = laid[-1]
    sag = max(bed.sags_m)
    title = (
        f"Tier {bed.tier + 1}, channel {bed.row + 1} sags {sag * deep:.2g} {small} under load; "
        + (_ends(bed) if system == "metric" or bed.invert.pond_m <= 5e-5 else
           f"water stands {bed.invert.pond_m * deep:.2f} in deep in it")
    )  # fmt: skip
    return Chart(
        title=title, across=f"from the feed, {long}", up=f"bottom over the laid drain, {small}",
        here=bed.invert.lowest_m * each,
        lines=(
            ChartLine(name="under load", points=tuple((a * each, (z - over) * deep) for a, z in zip(x, loaded)),
                      places=True),
            ChartLine(name="as laid", dashed=True,
                      points=tuple((a * each, (z - over) * deep) for a, z in zip(x, laid))),
        ),
    )  # fmt: skip


def slope_chart(bed: Bed, system: str) -> Chart:
    """Return the slope left along that channel, piece by piece."""
    long, each = LONG[system]
    x, slopes = bed.invert.stations_m, bed.invert.slopes
    middles = [(a + b) / 2 * each for a, b in pairwise(x)]
    least = bed.invert.least_slope
    told = f"1 in {1 / least:.0f}" if least > 1e-4 else "none: it runs backwards"
    return Chart(
        title=f"Where it is flattest, the loaded channel keeps {100 * least:.2f} % of slope ({told})",
        across=f"from the feed, {long}", up="slope, %", here=middles[slopes.index(least)],
        lines=(
            ChartLine(name="under load", points=tuple((a, 100 * s) for a, s in zip(middles, slopes)), places=True),
            ChartLine(name="as laid", dashed=True,
                      points=tuple((a, 100 * bed.slope) for a in (middles[0], middles[-1]))),
        ),
    )  # fmt: skip


def pump_chart(plan: Any, system: str) -> Chart:
    """Return the pump's curve and what it works against, with the flow wanted."""
    water = plan.build.water
    pump, works, duty = water.pump, water.system, water.duty
    (flow, each), (long, high) = FLOW[system], LONG[system]
    most = pump.flows_l_per_min[-1]
    at = [most * n / STEPS for n in range(STEPS + 1)]
    shown = [q for q in at if works.head_m(q) <= 1.05 * pump.most_head_m]
    title = (
        f"Feeds wide open it gives {duty.open_l_per_min * each:.3g} {flow}; held to {duty.flow_l_per_min * each:.3g} "
        f"{flow}, the valves take {duty.valve_m * high:.2g} {long} of head"
    )
    return Chart(
        title=title, across=f"flow, {flow}", up=f"head, {long}", here=duty.flow_l_per_min * each,
        lines=(
            ChartLine(name="pump", points=tuple(
                (q * each, h * high) for q, h in zip(pump.flows_l_per_min, pump.heads_m)), places=True),
            ChartLine(name="system", points=tuple((q * each, works.head_m(q) * high) for q in shown), dashed=True),
        ),
    )  # fmt: skip


def energy_chart(plan: Any) -> Chart:
    """Return what the energy of one plant costs, from planting to harvest, against the hours of light."""
    build, water = plan.build, plan.build.water
    crop, unit = water.shape.crop, plan.shop.prices.currency
    hours = [4 + 20 * n / 20 for n in range(21)]

    def cost(lit_h: float) -> float:
        return float(water.head_cost(energy.daily_kwh(water.lit.power_w * build.tiers, lit_h)))

    pump = water.head_cost(water.pump_kwh)
    now = cost(build.lit_h) + pump
    wanted = [h for h in hours if _light(water.lit, h) >= crop.light_low_mol_per_m2_day]
    enough = f"enough light from {wanted[0]:.0f} h a day" if wanted else "no day is long enough for these lamps"
    return Chart(
        title=f"The energy of one {_one(crop.label)} costs {now:.2f} {unit}, {pump:.2f} of it for the pump; {enough}",
        across="hours of light a day", up=f"energy of one plant, {unit}", here=build.lit_h,
        lines=(
            ChartLine(name="lamps and pump", points=tuple((h, cost(h) + pump) for h in hours)),
            ChartLine(name="pump", points=((hours[0], pump), (hours[-1], pump)), dashed=True),
        ),
    )  # fmt: skip


def _one(label: str) -> str:
    return "head of lettuce" if label == "lettuce" else f"plant of {label.split(',')[0]}"


def _light(lit: Lit, lit_h: float) -> float:
    """Light of a day of so many hours. [mol/(m2 day)]"""
    return lit.daily_light_mol_per_m2_day * lit_h / lit.lit_h
