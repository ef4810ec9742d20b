"""The water of a grow stand: films, pipes, what the pump works against, what drains back. A shape comes in.

Pipe runs are those that are cut (`grow_stand_pipes`): from the pump along the floor's side to the high end, up to each
tier, across it, and through a short feed tube into each channel or tray.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from gardenframe.builds.grow_stand_shape import OVERFLOW_M, Shape
from gardenframe.errors import InputError
from gardenframe.kept import cached_property
from gardenframe.materials import members
from gardenframe.materials.pumps import Pump, load_pumps
from gardenframe.water import energy, lamps, pumps, tanks
from gardenframe.water.channels import LITRES, Film
from gardenframe.water.fish import Fish
from gardenframe.water.pipes import Pipe, Return, System, return_pipe

ABOVE_TANK_M = 0.06  # supply and drain pass this far over the tank's brim
PUMP_OUTLET_M = 0.08  # of a pump, over the floor of its tank
OVER_INLET_M = 0.03  # feed tube over the brim of what it feeds
BESIDE_M = 0.06  # pipes stand this far outside the end posts
FEED_BORE_M, FEED_M = 0.006, 0.30  # feed tube: bore, least length
DRAIN_SLOPE = 0.02  # of drains that lie nearly level: 1 in 50, common practice
DRAINS = ("pvc-3/4", "pvc-1", "pvc-1-1/4", "pvc-1-1/2")


@dataclass(frozen=True)
class Water:
    """Water of one stand."""

    shape: Shape

    # --- flows

    @property
    def fed_tiers(self) -> int:
        """Tiers that the pump feeds."""
        return 1 if self.shape.in_turn else int(self.shape.build.tiers)

    @property
    def feeds(self) -> int:
        """Feed tubes in all."""
        return self.shape.on_a_tier * self.fed_tiers

    @property
    def flow_l_per_min(self) -> float:
        """Flow of the pump. [L/min]"""
        return float(self.shape.build.flow_l_per_min) * self.feeds

    @cached_property
    def film(self) -> Film | None:
        """The film in one channel, or in all that feed one another; none in trays."""
        shape = self.shape
        if shape.channel is None:
            return None
        length = shape.build.length_m * (shape.build.tiers if shape.in_turn else 1)
        return Film(
            channel=shape.channel, length_m=length, slope_ratio=shape.slope, flow_l_per_min=shape.build.flow_l_per_min
        )

    # --- supply

    @property
    def inlet_m(self) -> float:
        """Height of the highest feed over the floor. [m]"""
        shape, top = self.shape, self.shape.build.tiers - 1
        ends = (shape.axis_z(top, x) for x in (shape.posts_x[0], shape.posts_x[-1]))
        return max(ends) + shape.d / 2 + shape.deep_m + OVER_INLET_M

    @property
    def level_m(self) -> float:
        """Lowest level of the water in the tank while it runs. [m]"""
        return self.shape.tank.wall_mm / 1000 + tanks.PUMP_COVER_M

    @property
    def pass_m(self) -> float:
        """Height at which supply and drain pass over the tank's brim. [m]"""
        return self.shape.tank.deep_mm / 1000 + ABOVE_TANK_M

    @property
    def up_m(self) -> float:
        """From the pump up to where the supply passes the brim. [m]"""
        return self.pass_m - PUMP_OUTLET_M

    @property
    def tank_x(self) -> float:
        """Middle of the tank, which stands at the drain end. [m]"""
        shape = self.shape
        return float(shape.build.length_m) - shape.d - 0.02 - shape.tank.long_mm / 2000

    @property
    def over_m(self) -> float:
        """From over the pump to the riser beyond the far posts. [m]"""
        return self.tank_x + BESIDE_M

    @property
    def risers_m(self) -> list[float]:
        """Lengths of the riser: to the first tier that it feeds, then from tier to tier. [m]"""
        shape = self.shape
        if shape.in_turn:
            return [self.inlet_m - self.pass_m]
        low = self.inlet_m - (shape.build.tiers - 1) * shape.pitch_m
        return [low - self.pass_m, *([shape.pitch_m] * (shape.build.tiers - 1))]

    @property
    def feed_tube_m(self) -> float:
        """Longest feed tube: trays stand one after the other. [m]"""
        carrier = self.shape.carrier
        return FEED_M + (carrier.long_mm / 1000 * (self.shape.along - 1) if carrier else 0.0)

    @cached_property
    def system(self) -> System:
        """What the pump works against, on the way to the highest feed."""
        bore = members.find(self.shape.build.pipe).inner_mm / 1000
        return System(lift_m=self.inlet_m - self.level_m, pipes=tuple(self._pipes(bore)))

    def _pipes(self, bore: float) -> Iterator[Pipe]:
        number, deep = self.fed_tiers, self.shape.back_y
        main = self.up_m + self.over_m + deep / 2 + self.risers_m[0]
        fittings = {"entrance": 1, "elbow": 4, "valve": 1, "union": 1}
        yield Pipe(label="supply", length_m=main, bore_m=bore, fittings=fittings)
        for k, length in enumerate(self.risers_m[1:], 1):
            share = (number - k) / number
            yield Pipe(label="riser", length_m=length, bore_m=bore, fittings={"tee-through": 1}, share=share)
        across = float(self.shape.build.depth_m)
        yield Pipe(label="header", length_m=across, bore_m=bore, fittings={"elbow": 1}, share=1 / number, count=number)
        yield Pipe(
            label="feed tube", length_m=self.feed_tube_m, bore_m=FEED_BORE_M, share=1 / self.feeds, count=self.feeds,
            fittings={"entrance": 1, "valve": 1, "exit": 1},
        )  # fmt: skip

    @property
    def pump(self) -> Pump:
        """The pump chosen."""
        return load_pumps()[self.shape.build.pump]

    @cached_property
    def duty(self) -> pumps.Duty:
        """How it runs, held to the flow wanted by the feed valves."""
        return pumps.duty(self.pump, self.system, self.flow_l_per_min)

    def require_lifting(self) -> None:
        """Raise InputError where the pump does not lift the water or not so much of it; quick."""
        wanted, lift = self.flow_l_per_min, self.system.lift_m
        need = self.system.head_m(wanted)
        if self.pump.most_head_m <= lift:
            raise InputError("pump", self.pump.label, f"a head over the lift of {lift:.2f} m; this one ends at "
                             f"{self.pump.most_head_m:g} m", "Take a stronger pump or a lower stand.")  # fmt: skip
        if self.pump.head_m(wanted) < need:
            gives = self.pump.head_m(wanted)
            raise InputError("pump", self.pump.label, f"{need:.2f} m of head at {wanted:.3g} L/min; this one has "
                             f"{gives:.2f} m", "Take a stronger pump, a wider pipe or less flow.")  # fmt: skip

    # --- drain

    @cached_property
    def drain(self) -> Return:
        """The drain, as wide as it has to be."""
        bores = [members.find(key).inner_mm / 1000 for key in DRAINS]
        return return_pipe(self.flow_l_per_min, DRAIN_SLOPE, bores)

    @property
    def drain_size(self) -> str:
        """Size of the drain pipe."""
        return next(key for key in DRAINS if members.find(key).inner_mm / 1000 >= self.drain.bore_m - 1e-9)

    # --- tank

    @property
    def carried_l(self) -> float:
        """Water that runs back out of channels or trays when the pump stops. [L]"""
        shape = self.shape
        if self.film:
            return self.film.held_l * shape.across * (1 if shape.in_turn else shape.build.tiers)
        deep = shape.build.water_m if shape.carrier and shape.carrier.kind == "tray" else OVERFLOW_M
        return shape.water_floor_m2 * deep * LITRES * shape.on_a_tier * float(shape.build.tiers)

    @property
    def piped_l(self) -> float:
        """Water that runs back out of the pipes: all of the supply over the tank, drains to half. [L]"""
        drains = self.drain.water_m2 * float(self.shape.build.depth_m + self.shape.build.height_m) * LITRES
        return self.system.water_l + drains

    @cached_property
    def tank(self) -> tanks.Tank:
        """The tank under the running system."""
        return tanks.Tank(row=self.shape.tank, carried_l=self.carried_l, piped_l=self.piped_l)

    @property
    def stock_l(self) -> float:
        """Solution in the whole system: in the tank at rest, and what stays in tubs and buckets. [L]"""
        shape = self.shape
        stays = shape.carrier is not None and shape.carrier.kind != "tray"
        held = (
            shape.water_floor_m2 * shape.build.water_m * LITRES * shape.on_a_tier * shape.build.tiers if stays else 0.0
        )
        return self.tank.filled_l + held

    # --- light and energy

    @cached_property
    def lit(self) -> lamps.Lit:
        """One tier under its lamps."""
        build = self.shape.build
        return lamps.Lit(
            lamp=self.shape.lamp, lamps=build.lamps, long_m=build.length_m, wide_m=build.depth_m,
            hung_m=build.lamp_m, lit_h=build.lit_h,
        )  # fmt: skip

    @property
    def lamps_kwh(self) -> float:
        """Energy of all lamps in a day. [kWh]"""
        return energy.daily_kwh(self.lit.power_w * self.shape.build.tiers, self.shape.build.lit_h)

    @property
    def pump_kwh(self) -> float:
        """Energy of the pump in a day. [kWh]"""
        return energy.daily_kwh(self.duty.power_w, self.shape.build.pump_h)

    def head_cost(self, daily_kwh: float) -> float:
        """Cost that an energy of each day is of one plant from planting to harvest."""
        daily = energy.energy_cost(daily_kwh, self.shape.build.energy_price)
        return energy.cost_of_each(daily, self.shape.crop.growing_days, self.shape.plants)

    @cached_property
    def fish(self) -> Fish:
        """Fish for this growing area."""
        return Fish(area_m2=self.shape.build.shared_m2, kind=self.shape.crop.kind)
