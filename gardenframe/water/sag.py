"""The slope that a channel keeps when its supports sag: flattest piece, lowest point, water that stands.

The sags come from the solve of the frame; the closed formula beside it is that of one simple span, for a check by hand.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from gardenframe.errors import InputError
from gardenframe.working import formula


@formula(result="S_e", symbols={"slope_ratio": "S", "sag_m": "delta", "span_m": "L"}, source="beams-handbook",
         example={"slope_ratio": 0.025, "sag_m": 0.004, "span_m": 1.5})  # fmt: skip
def end_slope_ratio(slope_ratio: float, sag_m: float, span_m: float) -> float:
    """Slope left at the low end of a simple span, evenly loaded, that sags at its middle. [1]"""
    return slope_ratio - 16 * sag_m / (5 * span_m)


@dataclass(frozen=True, slots=True)
class Invert:
    """The inside bottom of a channel under load: levels [m, up] at stations [m] from the feed to the drain."""

    stations_m: tuple[float, ...]
    levels_m: tuple[float, ...]

    def __post_init__(self) -> None:
        rising = all(a < b for a, b in zip(self.stations_m, self.stations_m[1:], strict=False))
        if len(self.stations_m) < 2 or len(self.levels_m) != len(self.stations_m) or not rising:
            raise InputError("channel invert", f"{len(self.stations_m)} stations, {len(self.levels_m)} levels",
                             "two stations or more in rising order, a level for each")  # fmt: skip

    @classmethod
    def sagged(cls, slope_ratio: float, stations_m: Sequence[float], sags_m: Sequence[float]) -> "Invert":
        """Return the invert of a channel laid at a slope whose supports sag by so much [m, down] at each station."""
        if len(sags_m) != len(stations_m):
            raise InputError("sags", f"{len(sags_m)} numbers", f"{len(stations_m)}, one for each station")
        levels = [-slope_ratio * (x - stations_m[0]) - sag for x, sag in zip(stations_m, sags_m, strict=True)]
        return cls(tuple(stations_m), tuple(levels))

    @property
    def slopes(self) -> tuple[float, ...]:
        """Slope of each piece, positive towards the drain. [1]"""
        points = list(zip(self.stations_m, self.levels_m, strict=True))
        return tuple((za - zb) / (b - a) for (a, za), (b, zb) in pairwise(points))

    @property
    def least_slope(self) -> float:
        """The flattest piece's slope; negative where water runs backwards. [1]"""
        return min(self.slopes)

    @property
    def lowest_m(self) -> float:
        """Station of the lowest point, of equals the one nearest the drain; all is well where it is the drain. [m]"""
        return max(zip((-level for level in self.levels_m), self.stations_m, strict=True))[1]

    @property
    def pond_m(self) -> float:
        """Deepest water that stands when the pump is off. [m]"""
        over, deepest = -math.inf, 0.0
        for level in reversed(self.levels_m):
            over = max(over, level)
            deepest = max(deepest, over - level)
        return deepest

    def require_draining(self, least_ratio: float = 0.0) -> None:
        """Raise InputError where a piece falls less than asked: the slope runs backwards under load."""
        if self.least_slope <= least_ratio:
            at = self.slopes.index(self.least_slope)
            where = f"{self.stations_m[at]:.3g} to {self.stations_m[at + 1]:.3g} m from the feed"
            raise InputError("slope under load", self.least_slope, f"over {least_ratio:g} all along (here {where})",
                             "Lay the channel steeper, add a support or stiffen the shelf rails.")  # fmt: skip
