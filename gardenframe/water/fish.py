"""Fish and plants together: feed by growing area, fish by feed, tank by fish, each as a range.

Feed, plants and what fish eat are the ranges of FAO Fisheries Technical Paper 589; how many kilograms of fish a cubic
metre keeps is from memory. Ratios start a system; the water's ammonia and nitrite, measured, run it.
"""

from dataclasses import dataclass

from gardenframe.errors import require_within
from gardenframe.materials import constants
from gardenframe.materials.water import Ratios, load_ratios
from gardenframe.water.channels import LITRES
from gardenframe.working import Step, formula

EATS_LOW, EATS_HIGH = constants.value("fish_feed_low_ratio"), constants.value("fish_feed_high_ratio")
STOCK_LOW, STOCK_HIGH = constants.value("fish_low_kg_per_m3"), constants.value("fish_high_kg_per_m3")
GRAMS = 1000
Range = tuple[float, float]


@formula(result="f", symbols={"area_m2": "A", "rate_g_per_m2_day": "r"}, source="fao-589",
         example={"area_m2": 4.0, "rate_g_per_m2_day": 40.0})  # fmt: skip
def feed_g_per_day(area_m2: float, rate_g_per_m2_day: float) -> float:
    """Fish feed of a day for a growing area. [g/day]"""
    return area_m2 * rate_g_per_m2_day


@formula(result="N", symbols={"area_m2": "A", "rate_per_m2": "r"}, source="fao-589",
         example={"area_m2": 4.0, "rate_per_m2": 20.0}, kind="empirical")  # fmt: skip
def plants_for(area_m2: float, rate_per_m2: float) -> float:
    """Plants on a growing area."""
    return area_m2 * rate_per_m2


@formula(result="m", symbols={"feed_g_per_day": "f", "eats_ratio": "e", "GRAMS": "k"}, source="fao-589",
         kind="empirical", coefficients={"GRAMS": "g/kg"},
         example={"feed_g_per_day": 160.0, "eats_ratio": 0.02})  # fmt: skip
def fish_kg(feed_g_per_day: float, eats_ratio: float) -> float:
    """Fish that eat so much a day, each day a share of their mass. [kg]"""
    return feed_g_per_day / (eats_ratio * GRAMS)


@formula(result="V", symbols={"fish_kg": "m", "stock_kg_per_m3": "d", "LITRES": "k"}, source="fish-stocking",
         kind="empirical", coefficients={"LITRES": "L/m³"},
         example={"fish_kg": 10.0, "stock_kg_per_m3": 10.0})  # fmt: skip
def fish_tank_l(fish_kg: float, stock_kg_per_m3: float) -> float:
    """Tank that so much fish needs. [L]"""
    return fish_kg / stock_kg_per_m3 * LITRES


@dataclass(frozen=True, slots=True, kw_only=True)
class Fish:
    """Fish that feed a growing area: every answer is a range, low to high. `kind` is leafy or fruiting."""

    area_m2: float
    kind: str = "leafy"

    def __post_init__(self) -> None:
        require_within("growing area", self.area_m2, 0.01, 10_000, "m²")

    @property
    def ratios(self) -> Ratios:
        """Published ranges of its kind of plants."""
        return load_ratios()[self.kind]

    @property
    def feed_g_per_day(self) -> Range:
        """Feed a day. [g/day]"""
        rows = self.ratios
        return feed_g_per_day(self.area_m2, rows.feed_low_g_per_m2_day), feed_g_per_day(
            self.area_m2, rows.feed_high_g_per_m2_day)  # fmt: skip

    @property
    def plants(self) -> Range:
        """Plants on the area."""
        rows = self.ratios
        return plants_for(self.area_m2, rows.plants_low_per_m2), plants_for(self.area_m2, rows.plants_high_per_m2)

    @property
    def fish_kg(self) -> Range:
        """Fish: the least feed eaten by fish that eat much, the most by fish that eat little. [kg]"""
        low, high = self.feed_g_per_day
        return fish_kg(low, EATS_HIGH), fish_kg(high, EATS_LOW)

    @property
    def tank_l(self) -> Range:
        """Fish tank: few fish kept close, many kept wide. [L]"""
        low, high = self.fish_kg
        return fish_tank_l(low, STOCK_HIGH), fish_tank_l(high, STOCK_LOW)

    def working(self, system: str = "metric") -> list[Step]:
        """Return the arithmetic of both ends of the ranges."""
        rows, (low, high), (few, many) = self.ratios, self.feed_g_per_day, self.fish_kg
        return [
            plants_for.shown(self.area_m2, rows.plants_low_per_m2, system=system),
            plants_for.shown(self.area_m2, rows.plants_high_per_m2, system=system),
            feed_g_per_day.shown(self.area_m2, rows.feed_low_g_per_m2_day, system=system),
            feed_g_per_day.shown(self.area_m2, rows.feed_high_g_per_m2_day, system=system),
            fish_kg.shown(low, EATS_HIGH, system=system),
            fish_kg.shown(high, EATS_LOW, system=system),
            fish_tank_l.shown(few, STOCK_HIGH, system=system),
            fish_tank_l.shown(many, STOCK_LOW, system=system),
        ]
