"""Energy and what it costs: of a pump that runs, of a lamp that burns, of a head of lettuce."""

from gardenframe.working import formula

WATTS = 1000
DAYS = 365


@formula(result="E_d", symbols={"power_w": "P", "running_h": "t", "WATTS": "k"}, source="geometry", kind="empirical",
         coefficients={"WATTS": "W/kW"}, example={"power_w": 20.0, "running_h": 24.0})  # fmt: skip
def daily_kwh(power_w: float, running_h: float) -> float:
    """Energy of a day, by the hours that something runs. [kWh]"""
    return power_w * running_h / WATTS


@formula(result="E_y", symbols={"daily_kwh": "E_d", "DAYS": "d"}, source="geometry", example={"daily_kwh": 0.48})
def yearly_kwh(daily_kwh: float) -> float:
    """Energy of a year of such days. [kWh]"""
    return daily_kwh * DAYS


@formula(result="C", symbols={"energy_kwh": "E", "price_per_kwh": "p"}, source="geometry",
         example={"energy_kwh": 175.2, "price_per_kwh": 0.15})  # fmt: skip
def energy_cost(energy_kwh: float, price_per_kwh: float) -> float:
    """What an amount of energy costs, in the currency of its price."""
    return energy_kwh * price_per_kwh


@formula(result="c", symbols={"daily_cost": "C_d", "days": "d", "plants": "N"}, source="geometry",
         example={"daily_cost": 0.29, "days": 35, "plants": 48})  # fmt: skip
def cost_of_each(daily_cost: float, days: float, plants: int) -> float:
    """What the energy of each plant costs from planting to harvest, in the currency of the daily cost."""
    return daily_cost * days / plants
