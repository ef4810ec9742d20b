"""Wind pressure and force coefficients by ASCE 7: tubes, lattices, porous and solid walls, free and arched roofs."""

from functools import cache
from itertools import pairwise
from typing import Any

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.materials import constants
from gardenframe.materials.site import Site
from gardenframe.tables import Column
from gardenframe.working import formula

KZ_FACTOR = 2.01
KZ_LOWEST_FT = 15.0
PRESSURE_FACTOR = 0.613
POROUS_POWER = 1.5
FOOT_M = 0.3048
OPEN_BELOW = 0.7  # a face with at least 30 % of openings is an open lattice
RATIO = Column(kind="number", low=-5, high=5)
SCHEMAS: dict[str, tables.Schema] = {
    "exposures.csv": {
        "exposure": Column(kind="key"),
        "label": Column(),
        "alpha": Column(kind="number", low=1, high=20),
        "gradient_height_ft": Column(kind="number", low=100, high=5000),
        "source": Column(kind="source"),
    },
    "shelters.csv": {
        "shelter": Column(kind="key"),
        "label": Column(),
        "pressure_share": Column(kind="number", low=0.05, high=1),
        "source": Column(kind="source"),
    },
    "lattice_wind.csv": {
        "key": Column(kind="key"),
        "solidity_low": Column(kind="number", low=0, high=1),
        "solidity_high": Column(kind="number", low=0, high=1),
        "flat_ratio": RATIO,
        "round_ratio": RATIO,
        "source": Column(kind="source"),
    },
    "wall_wind.csv": {
        "key": Column(kind="key"),
        "clearance_ratio": Column(kind="number", low=0, high=1),
        **{
            f"b_{b}": Column(kind="number", low=0.5, high=3)
            for b in ("0.05", "0.1", "0.2", "0.5", "1", "2", "4", "5", "10", "20", "30", "45")
        },
        "source": Column(kind="source"),
    },
    "free_roof_wind.csv": {
        "key": Column(kind="key"),
        "form": Column(kind="choice", choices=("monoslope", "monoslope-low", "pitched")),
        "slope_deg": Column(kind="number", low=0, high=90),
        "case": Column(kind="choice", choices=("A", "B")),
        "windward_ratio": RATIO,
        "leeward_ratio": RATIO,
        "source": Column(kind="source"),
    },
}


@cache
def rows(name: str) -> list[dict[str, Any]]:
    """Return the rows of one of the wind tables."""
    return tables.read(name, SCHEMAS[name])


@formula(
    result="K_z",
    symbols={
        "height_ft": "z",
        "alpha": "alpha",
        "gradient_height_ft": "z_g",
        "KZ_FACTOR": "k",
        "KZ_LOWEST_FT": "z_min",
        "z_ft": "z_e",
    },
    source="asce7-kz",
    kind="empirical",
    example={"height_ft": 6.0, "alpha": 9.5, "gradient_height_ft": 900.0},
)
def exposure_ratio(height_ft: float, alpha: float, gradient_height_ft: float) -> float:
    """Velocity pressure coefficient at a height, never below that at 15 ft (ASCE 7-16). [1]"""
    z_ft = max(height_ft, KZ_LOWEST_FT)
    ratio: float = KZ_FACTOR * (z_ft / gradient_height_ft) ** (2 / alpha)  # mypy: a float to a power is Any
    return ratio


@formula(
    result="q",
    symbols={
        "exposure": "K_z",
        "direction": "K_d",
        "shelter": "K_s",
        "speed_m_per_s": "V",
        "PRESSURE_FACTOR": "c",
    },
    source="asce7-velocity-pressure",
    kind="empirical",
    coefficients={"PRESSURE_FACTOR": "Pa s²/m²"},
    example={"exposure": 0.85, "direction": 0.85, "shelter": 1.0, "speed_m_per_s": 40.0},
)
def velocity_pressure_pa(exposure: float, direction: float, shelter: float, speed_m_per_s: float) -> float:
    """Velocity pressure q = 0.613 Kz Kd Ks V²; Ks is the share that shelter leaves. [Pa]"""
    return PRESSURE_FACTOR * exposure * direction * shelter * speed_m_per_s**2


@formula(
    result="k_p",
    symbols={"solidity": "epsilon", "POROUS_POWER": "n"},
    source="asce7-porous",
    kind="empirical",
    example={"solidity": 0.8},
)
def porous_ratio(solidity: float) -> float:
    """Share of the force on a solid face that a porous one takes (openings below 30 %). [1]"""
    ratio: float = 1 - (1 - solidity) ** POROUS_POWER  # mypy: a float to a power is Any
    return ratio


@formula(
    result="w",
    symbols={"pressure_pa": "q", "gust": "G", "coefficient": "C_f", "solid": "epsilon"},
    source="asce7-lattice",
    example={"pressure_pa": 708.6, "gust": 0.85, "coefficient": 1.2, "solid": 0.1},
)
def face_pressure_pa(pressure_pa: float, gust: float, coefficient: float, solid: float) -> float:
    """Force per square metre of a face of which a share is solid. [Pa]"""
    return pressure_pa * gust * coefficient * solid


@formula(
    result="w",
    symbols={"pressure_pa": "q", "gust": "G", "coefficient": "C_f", "outer_m": "D"},
    source="asce7-lattice",
    example={"pressure_pa": 708.6, "gust": 0.85, "coefficient": 1.2, "outer_m": 0.0295},
)
def tube_wind_n_per_m(pressure_pa: float, gust: float, coefficient: float, outer_m: float) -> float:
    """Wind on a metre of tube across the wind. [N/m]"""
    return pressure_pa * gust * coefficient * outer_m


def site_pressure_pa(site: Site, height_m: float) -> float:
    """Velocity pressure at a height above the ground of a site. [Pa]

    For a forecast gust no directionality is taken off: a real gust may come from the worst side.
    """
    return velocity_pressure_pa(*pressure_inputs(site, height_m), site.wind_m_per_s)


def pressure_inputs(site: Site, height_m: float) -> tuple[float, float, float]:
    """Return the exposure, directionality and shelter factors of a site at a height."""
    exposure = _one("exposures.csv", "exposure", site.exposure)
    shelter = _one("shelters.csv", "shelter", site.shelter)
    kz = exposure_ratio(height_m / FOOT_M, exposure["alpha"], exposure["gradient_height_ft"])
    direction = constants.value("wind_direction_ratio") if site.wind_kind == "code" else 1.0
    return kz, direction, shelter["pressure_share"]


def _one(name: str, column: str, key: str) -> dict[str, Any]:
    found = [row for row in rows(name) if row[column] == key]
    if not found:
        raise InputError(column, key, f"one of {', '.join(row[column] for row in rows(name))}")
    return found[0]


def lattice_coefficient(solidity: float, round_bars: bool = True) -> float:
    """Force coefficient of an open lattice on its solid area, by solidity. [1]

    Rounded members below D sqrt(q) = 5.3 (m, Pa), as every garden tube is.
    """
    if not 0 <= solidity <= OPEN_BELOW:
        raise InputError("solidity of a lattice", solidity, f"0 to {OPEN_BELOW:g}", "Above that it is a wall.")
    for row in rows("lattice_wind.csv"):
        if solidity < row["solidity_high"] or row["solidity_high"] == OPEN_BELOW:
            return float(row["round_ratio" if round_bars else "flat_ratio"])
    raise InputError("solidity of a lattice", solidity, f"0 to {OPEN_BELOW:g}")


def wall_coefficient(width_m: float, height_m: float, top_m: float) -> float:
    """Force coefficient of a solid freestanding wall (cases A and B), in straight lines between printed entries. [1]

    Parameters
    ----------
    width_m, height_m : float
        Of the face, B and s. [m]
    top_m : float
        Its top above the ground, h; s/h is 1 where it stands on the ground. [m]
    """
    clearance = min(max(height_m / top_m, 0.16), 1.0)
    table = sorted(rows("wall_wind.csv"), key=lambda row: row["clearance_ratio"])
    columns = [(float(name[2:]), name) for name in SCHEMAS["wall_wind.csv"] if name.startswith("b_")]
    aspect = min(max(width_m / height_m, columns[0][0]), columns[-1][0])

    def along(row: dict[str, Any]) -> float:
        return between([(b, row[name]) for b, name in columns], aspect)

    return between([(row["clearance_ratio"], along(row)) for row in table], clearance)


def between(points: list[tuple[float, float]], x: float) -> float:
    """Value at x on the straight lines between points in rising order; at the ends the end value.

    >>> between([(0, 0), (1, 10)], 0.25)
    2.5
    """
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


def free_roof_coefficients(form: str, slope_deg: float) -> list[tuple[float, float]]:
    """Net coefficients (windward half, leeward half) of an open roof, cases A and B; positive presses down. [1]"""
    found = []
    for case in ("A", "B"):
        table = sorted(
            (row for row in rows("free_roof_wind.csv") if row["form"] == form and row["case"] == case),
            key=lambda row: row["slope_deg"],
        )
        ends = tuple(
            between([(row["slope_deg"], row[side]) for row in table], slope_deg)
            for side in ("windward_ratio", "leeward_ratio")
        )
        found.append((ends[0], ends[1]))
    return found


def arched_coefficients(rise_ratio: float, from_ground: bool = True) -> tuple[float, float, float]:
    """Pressure coefficients of an arched roof: windward quarter, centre half, leeward quarter. [1]

    ASCE 7 Figure 27.3-3; rise over span, 0 to 0.6.

    >>> arched_coefficients(0.5)
    (0.7, -1.2, -0.5)
    """
    r = rise_ratio
    if not 0 < r <= 0.6:
        raise InputError("rise over span of an arched roof", r, "more than 0 and at most 0.6")
    if from_ground:
        return (1.4 * r, -0.7 - r, -0.5)
    windward = -0.9 if r < 0.2 else (1.5 * r - 0.3 if r < 0.3 else 2.75 * r - 0.7)
    return (windward, -0.7 - r, -0.5)


def arched_lifting_ratio(rise_ratio: float) -> float:
    """Other windward coefficient of an elevated arch with rise over span of 0.2 to 0.3, 6 r - 2.1. [1]

    >>> round(arched_lifting_ratio(0.2), 9)
    -0.9
    """
    return 6 * rise_ratio - 2.1
