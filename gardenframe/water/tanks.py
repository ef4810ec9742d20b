"""Tanks: what drains back when the pump stops, the level that is left while it runs, what plants need and drink.

A tank must hold at rest all that hangs above it, and while running keep enough over the pump.
"""

from dataclasses import dataclass

from gardenframe.errors import InputError, require_within
from gardenframe.materials import constants
from gardenframe.materials.stands import Crop, TankRow
from gardenframe.water.channels import LITRES
from gardenframe.working import Step, formula

FULL_RATIO = constants.value("tank_full_ratio")
PUMP_COVER_M = constants.value("pump_cover_m")
WATER_KG_PER_M3 = constants.value("water_density_kg_per_m3")


@formula(result="V", symbols={"area_m2": "A", "depth_m": "d", "LITRES": "k"}, source="geometry", kind="empirical",
         coefficients={"LITRES": "L/m³"}, example={"area_m2": 0.23, "depth_m": 0.24})  # fmt: skip
def volume_l(area_m2: float, depth_m: float) -> float:
    """Water over an area to a depth. [L]"""
    return area_m2 * depth_m * LITRES


@formula(result="m", symbols={"area_m2": "A", "length_m": "L", "WATER_KG_PER_M3": "rho"}, source="geometry",
         example={"area_m2": 0.005, "length_m": 1.83})  # fmt: skip
def held_kg(area_m2: float, length_m: float) -> float:
    """Mass of the water in a channel, by the area that is wet across it. [kg]"""
    return WATER_KG_PER_M3 * area_m2 * length_m


@formula(result="d", symbols={"water_l": "V", "area_m2": "A", "LITRES": "k"}, source="geometry", kind="empirical",
         coefficients={"LITRES": "L/m³"}, example={"water_l": 40.0, "area_m2": 0.23})  # fmt: skip
def depth_m(water_l: float, area_m2: float) -> float:
    """Depth that an amount of water stands in a tank. [m]"""
    return water_l / (area_m2 * LITRES)


@formula(result="V_b", symbols={"carried_l": "V_c", "piped_l": "V_p"}, source="geometry",
         example={"carried_l": 6.5, "piped_l": 1.2})  # fmt: skip
def drain_back_l(carried_l: float, piped_l: float) -> float:
    """Water that runs back when the pump stops: out of channels or trays, and out of the pipes. [L]"""
    return carried_l + piped_l


@formula(result="V_r", symbols={"filled_l": "V_0", "drained_l": "V_b"}, source="geometry",
         example={"filled_l": 45.0, "drained_l": 7.7})  # fmt: skip
def running_l(filled_l: float, drained_l: float) -> float:
    """Water left in the tank while the pump runs. [L]"""
    return filled_l - drained_l


@formula(result="V_n", symbols={"plants": "N", "each_l": "v"}, source="geometry", example={"plants": 54, "each_l": 1.0})
def stock_l(plants: float, each_l: float) -> float:
    """Nutrient solution for so many plants. [L]"""
    return plants * each_l


@formula(result="q", symbols={"plants": "N", "each_l_per_day": "v"}, source="geometry",
         example={"plants": 54, "each_l_per_day": 0.2})  # fmt: skip
def top_up_l_per_day(plants: float, each_l_per_day: float) -> float:
    """Water that plants drink, which has to be topped up. [L/day]"""
    return plants * each_l_per_day


@formula(result="t", symbols={"spare_l": "V_s", "drunk_l_per_day": "q"}, source="geometry", kind="empirical",
         example={"spare_l": 20.0, "drunk_l_per_day": 10.0})  # fmt: skip
def days_lasting(spare_l: float, drunk_l_per_day: float) -> float:
    """Days until the water that may be missing is drunk."""
    return spare_l / drunk_l_per_day


@dataclass(frozen=True, slots=True, kw_only=True)
class Tank:
    """A tank under a running system.

    Parameters
    ----------
    row : TankRow
        Its sizes.
    carried_l, piped_l : float
        What runs back out of channels or trays, and out of pipes, when the pump stops. [L]

    Raises
    ------
    InputError
        For a tank that its own drain-back overfills or whose pump would run dry.
    """

    row: TankRow
    carried_l: float
    piped_l: float

    def __post_init__(self) -> None:
        require_within("water that drains back", self.drained_l, 0, 100_000, "L")
        least = self.least_l
        if self.drained_l > self.filled_l - least:
            most = self.filled_l - least
            raise InputError("tank", self.row.label, f"room for the {self.drained_l:.0f} L that drain back; over its "
                             f"pump and under its brim this one has {most:.0f} L",
                             "Take a larger tank, or hold less water above it.")  # fmt: skip

    @property
    def filled_l(self) -> float:
        """Water at rest, all drained back: the most that should stand in it. [L]"""
        return volume_l(self.row.floor_m2, self.row.inside_m * FULL_RATIO)

    @property
    def least_l(self) -> float:
        """Water that has to stay over the pump. [L]"""
        return volume_l(self.row.floor_m2, PUMP_COVER_M)

    @property
    def drained_l(self) -> float:
        """Water that runs back when the pump stops. [L]"""
        return drain_back_l(self.carried_l, self.piped_l)

    @property
    def running_l(self) -> float:
        """Water in it while the pump runs, just topped up. [L]"""
        return running_l(self.filled_l, self.drained_l)

    @property
    def running_m(self) -> float:
        """Depth of the water while the pump runs, just topped up. [m]"""
        return depth_m(self.running_l, self.row.floor_m2)

    @property
    def spare_l(self) -> float:
        """Water that may be drunk before the pump runs dry. [L]"""
        return self.running_l - self.least_l

    def days_lasting(self, crop: Crop, plants: int) -> tuple[float, float]:
        """Return how many days pass until the pump runs dry: fewest, most. [day]"""
        low, high = (
            days_lasting(self.spare_l, top_up_l_per_day(plants, each))
            for each in (crop.drinks_high_l_per_day, crop.drinks_low_l_per_day)
        )
        return low, high

    def working(self, crop: Crop, plants: int, system: str = "metric") -> list[Step]:
        """Return the arithmetic of drain-back, level, stock and top-up, low to high."""
        high = top_up_l_per_day(plants, crop.drinks_high_l_per_day)
        return [
            volume_l.shown(self.row.floor_m2, self.row.inside_m * FULL_RATIO, system=system),
            drain_back_l.shown(self.carried_l, self.piped_l, system=system),
            running_l.shown(self.filled_l, self.drained_l, system=system),
            depth_m.shown(self.running_l, self.row.floor_m2, system=system),
            stock_l.shown(plants, crop.stock_low_l, system=system),
            stock_l.shown(plants, crop.stock_high_l, system=system),
            top_up_l_per_day.shown(plants, crop.drinks_low_l_per_day, system=system),
            top_up_l_per_day.shown(plants, crop.drinks_high_l_per_day, system=system),
            days_lasting.shown(self.spare_l, high, system=system),
        ]
