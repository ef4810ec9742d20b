"""Charts of a cold frame: noon sun and lid through the year, warmth against the prop, what the prop carries.

A plan and a unit system come in; charts with their message as title go out.
"""

from collections.abc import Iterator
from typing import Any

from gardenframe import units
from gardenframe.builds import cold_frame_lid as lid_of_frame
from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.climate import frames, heat
from gardenframe.climate.sun import MONTHS
from gardenframe.strength import lids

STEPS, ROUNDS = 24, 40
SMALL = {"metric": ("mm", 1000.0), "us": ("in", 1 / 0.0254)}
FORCE = {"metric": ("N", 1.0), "us": ("lbf", 1 / units.POUND_N)}


def charts_of(plan: Any, system: str) -> Iterator[Chart]:
    """Yield the charts of a plan."""
    yield sun_chart(plan)
    yield warm_chart(plan, system)
    yield prop_chart(plan, system)


def sun_chart(plan: Any) -> Chart:
    """Return the noon sun's height by month, and how high it would stand to meet the lid squarely."""
    rows = lid_of_frame.sun_by_month(plan)
    square = 90.0 - lid_of_frame.lid_of(plan).tilt_deg
    nearest = min(range(12), key=lambda n: rows[n][2])
    lowest = min(rows, key=lambda row: row[1])
    title = f"The noon sun meets the lid most squarely in {rows[nearest][0]}, {rows[nearest][2]:.0f}° off"
    if lowest[1] > 0:
        off = f"; in {lowest[0]} it is {lowest[2]:.0f}° off"
        title += off if lowest[0] != rows[nearest][0] else ""
    return Chart(
        title=title, across="month, on its middle day", up="degrees", names=MONTHS, here=float(plan.build.month - 1),
        lines=(
            ChartLine(name="noon sun", points=tuple((float(n), max(row[1], 0.0)) for n, row in enumerate(rows)),
                      places=True),
            ChartLine(name="square to lid", points=((0.0, square), (11.0, square)), dashed=True),
        ),
    )  # fmt: skip


def warm_chart(plan: Any, system: str) -> Chart:
    """Return the temperature inside against the prop, in the sun and air that the reader set."""
    build = plan.build
    climate = lid_of_frame.climate_of(build, lid_of_frame.outer_m(plan))
    unit, each = SMALL[system]
    most = climate.most_open_m
    props = [most * (n / STEPS) ** 2 for n in range(STEPS + 1)]  # finer where the curve is steep
    inside = [inside_degc(climate, build.outside_degc, build.sun_w_per_m2, prop) for prop in props]
    now = lids.prop_m(lid_of_frame.lid_of(plan).length_m, build.opened_deg)
    here = inside_degc(climate, build.outside_degc, build.sun_w_per_m2, min(now, most))
    degree = "°C" if system == "metric" else "°F"
    needed = climate.prop_m(build.outside_degc, build.sun_w_per_m2, build.limit_degc)
    ends = "no prop is enough" if needed is None else "it may stay closed" if needed == 0 else (
        f"{needed * each:.{0 if system == 'metric' else 1}f} {unit} keep it at its limit"
    )  # fmt: skip
    comes = f"over {frames.degrees_of(frames.DEADLY_DEGC, system):.0f}" if here > frames.DEADLY_DEGC else (
        f"{frames.degrees_of(here, system):.0f}"
    )  # fmt: skip
    title = f"Propped as drawn it comes to {comes} {degree}; {ends}"

    def line(degc: list[float]) -> tuple[tuple[float, float], ...]:
        return tuple((prop * each, frames.degrees_of(value, system)) for prop, value in zip(props, degc))

    flat = [props[0], props[-1]]
    limits = ((build.limit_degc, "too hot above"), (build.outside_degc, "outside"))
    return Chart(
        title=title, across=f"prop at the front, {unit}", up=f"inside, {degree}", here=min(now, most) * each,
        lines=(
            ChartLine(name="inside", points=line(inside)),
            *(
                ChartLine(name=name, points=tuple((p * each, frames.degrees_of(t, system)) for p in flat), dashed=True)
                for t, name in limits
            ),
        ),
    )  # fmt: skip


def inside_degc(climate: frames.ColdFrame, outside_degc: float, sun_w_per_m2: float, prop_m: float) -> float:
    """Return the temperature at which sun in equals heat out, for a prop in still air. [°C]"""
    gain = heat.solar_gain_w(sun_w_per_m2, climate.lid_m2, climate.light_ratio, climate.evaporated_ratio)
    loss = climate.loss_w_per_k
    high = heat.closed_rise_k(gain, loss)
    if prop_m <= 0:
        return outside_degc + high
    opening, low = frames.prop_opening_m2(prop_m, climate.width_m, climate.depth_m), 0.0
    carried = heat.AIR_HEAT_W_H_PER_M3_K * heat.SECONDS
    for _ in range(ROUNDS):
        rise = (low + high) / 2
        flow = frames.one_sided_m3_per_s(opening, prop_m, rise, outside_degc + rise + heat.ZERO_K, 0.0)
        low, high = (rise, high) if (loss + carried * flow) * rise < gain else (low, rise)
    return outside_degc + high


def prop_chart(plan: Any, system: str) -> Chart:
    """Return what the prop carries and a hand lifts against the opening."""
    lid = lid_of_frame.lid_of(plan)
    unit, each = FORCE[system]
    angles = [1.0 + (plan.build.most_open_deg - 1.0) * n / STEPS for n in range(STEPS + 1)]
    now = plan.build.opened_deg
    force, hand = (work(now) * each for work in (lid.prop_n, lid.hand_n))
    title = f"At {now:.0f}° the prop carries {force:.3g} {unit}, and a hand lifts {hand:.3g} {unit}"
    return Chart(
        title=title, across="lid opened, °", up=f"force, {unit}", here=now,
        lines=(
            ChartLine(name="in the prop", points=tuple((a, lid.prop_n(a) * each) for a in angles)),
            ChartLine(name="by hand", points=tuple((a, lid.hand_n(a) * each) for a in angles), dashed=True),
        ),
    )  # fmt: skip
