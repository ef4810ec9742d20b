"""Lamps over plants: how much of their light falls on a tier from a height, and what a day of it adds up to.

The lamps of a tier are taken as one even lit face as large as the tier, shining as a matt surface does: the share that
falls on the tier is the view factor of two like rectangles, one over the other. Walls are taken as dark; a light meter
at the plants decides.
"""

import math
from dataclasses import dataclass

from gardenframe.errors import InputError, require_within
from gardenframe.materials.stands import Lamp
from gardenframe.working import Step, formula

SECONDS, MICRO = 3600, 1e6
HIGHEST_M = 2.0
ROUNDS = 60


@formula(result="DLI", symbols={"light_umol_per_m2_s": "PPFD", "lit_h": "t", "SECONDS": "s", "MICRO": "k"},
         source="light-encyclopaedia", kind="empirical", coefficients={"SECONDS": "s/h", "MICRO": "µmol/mol"},
         example={"light_umol_per_m2_s": 200.0, "lit_h": 16.0})  # fmt: skip
def daily_light_mol_per_m2_day(light_umol_per_m2_s: float, lit_h: float) -> float:
    """Light of a day from the light at the plants and the hours it burns. [mol/(m2 day)]"""
    return light_umol_per_m2_s * SECONDS * lit_h / MICRO


@formula(result="PPFD", symbols={"daily_light_mol_per_m2_day": "DLI", "lit_h": "t", "SECONDS": "s", "MICRO": "k"},
         source="light-encyclopaedia", kind="empirical", coefficients={"SECONDS": "s/h", "MICRO": "µmol/mol"},
         example={"daily_light_mol_per_m2_day": 17.0, "lit_h": 16.0})  # fmt: skip
def wanted_light_umol_per_m2_s(daily_light_mol_per_m2_day: float, lit_h: float) -> float:
    """Light that the plants need for a day's sum in so many hours. [umol/(m2 s)]"""
    return daily_light_mol_per_m2_day * MICRO / (SECONDS * lit_h)


@formula(result="F", symbols={"long_m": "L", "wide_m": "B", "height_m": "h", "x": "x", "y": "y", "u": "u", "v": "v",
         "spread": "s", "along": "a", "across": "b", "ends": "e"}, source="view-factor", kind="empirical",
         example={"long_m": 1.8, "wide_m": 0.5, "height_m": 0.25})  # fmt: skip
def share_on_tier(long_m: float, wide_m: float, height_m: float) -> float:
    """Share of an even lit face's light that falls on a like rectangle below it."""
    x = long_m / height_m
    y = wide_m / height_m
    u = math.sqrt(1 + x**2)
    v = math.sqrt(1 + y**2)
    spread = math.log(u * v / math.sqrt(1 + x**2 + y**2))
    along = x * v * math.atan(x / v)
    across = y * u * math.atan(y / u)
    ends = x * math.atan(x) + y * math.atan(y)
    return 2 * (spread + along + across - ends) / (math.pi * x * y)


@formula(result="PPFD", symbols={"lamps": "N", "power_w": "P", "light_umol_per_j": "eta", "share": "F",
         "area_m2": "A"}, source="geometry", kind="empirical",
         example={"lamps": 3, "power_w": 36.0, "light_umol_per_j": 2.3, "share": 0.5, "area_m2": 0.9})  # fmt: skip
def light_umol_per_m2_s(lamps: float, power_w: float, light_umol_per_j: float, share: float, area_m2: float) -> float:
    """Mean light at the plants of a tier. [umol/(m2 s)]"""
    return lamps * power_w * light_umol_per_j * share / area_m2


@dataclass(frozen=True, slots=True, kw_only=True)
class Lit:
    """One tier under its lamps. `hung_m` is from the plants' tops to the lamps, `lit_h` the hours of light a day."""

    lamp: Lamp
    lamps: int
    long_m: float
    wide_m: float
    hung_m: float
    lit_h: float

    def __post_init__(self) -> None:
        require_within("lamps over a tier", self.lamps, 1, 200, "lamps")
        require_within("hours of light", self.lit_h, 0.1, 24, "h")
        if not 0.01 <= self.hung_m <= HIGHEST_M:
            raise InputError("lamp over the plants", self.hung_m, f"0.01 to {HIGHEST_M:g} m",
                             "A lamp hangs over its plants, not under their tops.")  # fmt: skip

    @property
    def area_m2(self) -> float:
        """Area of the tier. [m2]"""
        return self.long_m * self.wide_m

    @property
    def share(self) -> float:
        """Share of the light that falls on the tier."""
        return share_on_tier(self.long_m, self.wide_m, self.hung_m)

    @property
    def power_w(self) -> float:
        """Power of the tier's lamps. [W]"""
        return self.lamps * self.lamp.power_w

    @property
    def light_umol_per_m2_s(self) -> float:
        """Mean light at the plants. [umol/(m2 s)]"""
        return light_umol_per_m2_s(
            self.lamps, self.lamp.power_w, self.lamp.light_umol_per_j, self.share, self.area_m2
        )  # fmt: skip

    @property
    def daily_light_mol_per_m2_day(self) -> float:
        """Light of a day. [mol/(m2 day)]"""
        return daily_light_mol_per_m2_day(self.light_umol_per_m2_s, self.lit_h)

    def hung_for_m(self, daily_light_mol_per_m2_day: float) -> float | None:
        """Return the height over the plants that gives a day's light; None where no height does. [m]"""
        most = self.lamps * self.lamp.power_w * self.lamp.light_umol_per_j / self.area_m2
        wanted = wanted_light_umol_per_m2_s(daily_light_mol_per_m2_day, self.lit_h) / most
        low, high = 0.01, HIGHEST_M
        if not share_on_tier(self.long_m, self.wide_m, high) <= wanted <= share_on_tier(self.long_m, self.wide_m, low):
            return None
        for _ in range(ROUNDS):
            middle = (low + high) / 2
            low, high = (
                (middle, high) if share_on_tier(self.long_m, self.wide_m, middle) > wanted else (low, middle)
            )  # fmt: skip
        return low

    def working(self, system: str = "metric") -> list[Step]:
        """Return the arithmetic of a day's light."""
        lamp = self.lamp
        return [
            share_on_tier.shown(self.long_m, self.wide_m, self.hung_m, system=system),
            light_umol_per_m2_s.shown(self.lamps, lamp.power_w, lamp.light_umol_per_j, self.share, self.area_m2,
                                      system=system),
            daily_light_mol_per_m2_day.shown(self.light_umol_per_m2_s, self.lit_h, system=system),
        ]  # fmt: skip
