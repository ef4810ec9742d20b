"""Where a build stands: wind, snow, soil, sun. A record of what the reader knows or takes from the local code."""

from dataclasses import dataclass

from gardenframe.errors import InputError, require_within

WIND_KINDS = ("code", "forecast")
EXPOSURES = ("B", "C", "D")
SHELTERS = ("open", "suburban", "walled")
FASTEST_M_PER_S = 120.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A place.

    Parameters
    ----------
    wind_m_per_s : float
        A code's design speed, or a forecast's 3-second gust, at 10 m in the open; `wind_kind` says which. [m/s]
    exposure : str
        B (town, wood), C (open) or D (beside water), the terrain classes of ASCE 7.
    shelter : str
        open, suburban or walled (walled or hedged): what stands close by.
    ground_snow_pa : float
        Ground snow load of the local code. [Pa]
    soil : str
        Key of the soils table.
    latitude_deg, longitude_deg : float
        North and east positive. [deg]

    Raises
    ------
    InputError
        Naming the first that cannot be used.
    """

    wind_m_per_s: float = 40.0
    wind_kind: str = "code"
    exposure: str = "B"
    shelter: str = "suburban"
    ground_snow_pa: float = 0.0
    soil: str = "garden-soil"
    latitude_deg: float = 45.0
    longitude_deg: float = 0.0

    def __post_init__(self) -> None:
        require_within(
            "wind speed", self.wind_m_per_s, 0, FASTEST_M_PER_S, "m/s", "The fastest gust recorded is below that."
        )
        require_within("ground snow", self.ground_snow_pa, 0, 40_000, "Pa", "Take it from the local code.")
        require_within("latitude", self.latitude_deg, -90, 90, "deg", "North is positive.")
        require_within("longitude", self.longitude_deg, -180, 180, "deg", "East is positive.")
        for name, value, allowed in (
            ("wind kind", self.wind_kind, WIND_KINDS),
            ("exposure", self.exposure, EXPOSURES),
            ("shelter", self.shelter, SHELTERS),
        ):
            if value not in allowed:
                raise InputError(name, value, f"one of {', '.join(allowed)}")
