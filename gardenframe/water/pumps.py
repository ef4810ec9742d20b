"""Pumps against what they work on: duty point, valve, power, energy and cost of a year.

The duty point is where the pump's curve, straight between the rows of its table, meets the system's. A flow below
it is set by a valve, which takes the head that is left over.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from gardenframe.errors import InputError, require_within
from gardenframe.materials import constants
from gardenframe.materials.pumps import Pump
from gardenframe.water.channels import flow_m3_per_s
from gardenframe.water.energy import daily_kwh, energy_cost, yearly_kwh
from gardenframe.water.pipes import System
from gardenframe.working import Step, formula

GRAVITY_M_PER_S2 = constants.value("gravity_m_per_s2")
WATER_KG_PER_M3 = constants.value("water_density_kg_per_m3")
ROUNDS = 48


@formula(result="H", symbols={"flow_l_per_min": "q", "flow_before_l_per_min": "q_1", "flow_after_l_per_min": "q_2",
         "head_before_m": "H_1", "head_after_m": "H_2"}, source="geometry",
         example={"flow_l_per_min": 7.0, "flow_before_l_per_min": 6.0, "flow_after_l_per_min": 12.0,
                  "head_before_m": 1.65, "head_after_m": 1.28})  # fmt: skip
def table_head_m(flow_l_per_min: float, flow_before_l_per_min: float, flow_after_l_per_min: float,
                 head_before_m: float, head_after_m: float) -> float:  # fmt: skip
    """Head of a pump between two rows of its table. [m]"""
    return head_before_m + (head_after_m - head_before_m) * (flow_l_per_min - flow_before_l_per_min) / (
        flow_after_l_per_min - flow_before_l_per_min
    )


@formula(result="P_w", symbols={"flow_m3_per_s": "Q", "head_m": "H", "WATER_KG_PER_M3": "rho", "GRAVITY_M_PER_S2": "g"},
         source="pipe-friction", example={"flow_m3_per_s": 20 / 60000, "head_m": 2.0})  # fmt: skip
def water_power_w(flow_m3_per_s: float, head_m: float) -> float:
    """Power that reaches the water. [W]"""
    return WATER_KG_PER_M3 * GRAVITY_M_PER_S2 * flow_m3_per_s * head_m


@formula(result="P", symbols={"water_power_w": "P_w", "efficiency_ratio": "eta"}, source="pipe-friction",
         example={"water_power_w": 6.53, "efficiency_ratio": 0.4})  # fmt: skip
def socket_power_w(water_power_w: float, efficiency_ratio: float) -> float:
    """Power that a pump of an efficiency takes for a power in the water. [W]"""
    return water_power_w / efficiency_ratio


@formula(result="eta", symbols={"water_power_w": "P_w", "power_w": "P"}, source="pipe-friction",
         example={"water_power_w": 2.0, "power_w": 15.0})  # fmt: skip
def efficiency_ratio(water_power_w: float, power_w: float) -> float:
    """Share of the power from the socket that reaches the water. [1]"""
    return water_power_w / power_w


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty:
    """How one pump runs in one system. `valve_m` is the head a valve takes, `open_l_per_min` the flow without it."""

    pump: Pump
    flow_l_per_min: float
    head_m: float
    valve_m: float
    open_l_per_min: float
    power_w: float

    @property
    def water_power_w(self) -> float:
        """Power that reaches the water. [W]"""
        return water_power_w(flow_m3_per_s(self.flow_l_per_min), self.head_m)

    @property
    def efficiency_ratio(self) -> float:
        """Share of the power from the socket that reaches the water. [1]"""
        return efficiency_ratio(self.water_power_w, self.power_w)

    def yearly_kwh(self, running_h: float = 24.0) -> float:
        """Energy of a year, running so many hours a day. [kWh]"""
        require_within("hours a day", running_h, 0, 24, "h")
        return yearly_kwh(daily_kwh(self.power_w, running_h))

    def yearly_cost(self, price_per_kwh: float, running_h: float = 24.0) -> float:
        """Cost of a year, in the currency of the price."""
        require_within("price of energy", price_per_kwh, 0, 100, "a kWh")
        return energy_cost(self.yearly_kwh(running_h), price_per_kwh)

    def working(self, price_per_kwh: float, running_h: float = 24.0, system: str = "metric") -> list[Step]:
        """Return the arithmetic of head, power, energy and cost."""
        flows, heads = self.pump.flows_l_per_min, self.pump.heads_m
        after = next((k for k in range(1, len(flows)) if flows[k] >= self.flow_l_per_min), len(flows) - 1)
        daily = daily_kwh(self.power_w, running_h)
        return [
            table_head_m.shown(self.flow_l_per_min, flows[after - 1], flows[after], heads[after - 1], heads[after],
                               system=system),
            water_power_w.shown(flow_m3_per_s(self.flow_l_per_min), self.head_m, system=system),
            efficiency_ratio.shown(self.water_power_w, self.power_w, system=system),
            daily_kwh.shown(self.power_w, running_h, system=system),
            yearly_kwh.shown(daily, system=system),
            energy_cost.shown(yearly_kwh(daily), price_per_kwh, system=system),
        ]  # fmt: skip


def duty(pump: Pump, system: System, wanted_l_per_min: float | None = None) -> Duty:
    """Return how a pump runs: at its duty point, or held by a valve to the flow wanted.

    InputError where it does not lift the water at all, or not the flow wanted.
    """
    if pump.most_head_m <= system.lift_m:
        raise InputError("pump", pump.key, f"a head over the lift of {system.lift_m:.3g} m; this one ends at "
                         f"{pump.most_head_m:g} m", "Choose a stronger pump or a lower outlet.")  # fmt: skip
    open_flow = _meeting(pump, system)
    flow = open_flow if wanted_l_per_min is None else wanted_l_per_min
    require_within("flow wanted from the pump", flow, 0.001, 2000, "L/min")
    if flow > open_flow * (1 + 1e-9):
        raise InputError("flow wanted from the pump", flow, f"at most {open_flow:.3g} L/min, where its curve meets the "
                         "system's", "Choose a stronger pump, a wider pipe or fewer bends.")  # fmt: skip
    head = pump.head_m(flow)
    return Duty(pump=pump, flow_l_per_min=flow, head_m=head, valve_m=max(0.0, head - system.head_m(flow)),
                open_l_per_min=open_flow, power_w=pump.power_w(flow))  # fmt: skip


def choose(pumps: Mapping[str, Pump], system: System, wanted_l_per_min: float) -> Duty:
    """Return the duty of the pump that gives a flow for the least power; InputError where none does."""
    found = []
    for pump in pumps.values():
        if pump.most_head_m > system.lift_m and _meeting(pump, system) >= wanted_l_per_min:
            found.append(duty(pump, system, wanted_l_per_min))
    if not found:
        need = f"a pump that gives it against {system.head_m(wanted_l_per_min):.3g} m of head"
        raise InputError("flow wanted from the pump", wanted_l_per_min, need,
                         "None of the table does: add a stronger one, use wider pipes or less flow.")  # fmt: skip
    return min(found, key=lambda each: each.power_w)


def _meeting(pump: Pump, system: System) -> float:
    """Return the flow at which the curves meet: one falls, the other rises, so halving finds it. [L/min]"""
    low, high = 0.0, pump.flows_l_per_min[-1]
    for _ in range(ROUNDS):
        middle = (low + high) / 2
        low, high = (middle, high) if pump.head_m(middle) > system.head_m(middle) else (low, middle)
    return low
