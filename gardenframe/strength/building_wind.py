"""Wind pressure on closed and partly enclosed buildings by ASCE 7: walls, roofs, along a ridge, inside.

Shapes and slopes come in, coefficients on the velocity pressure go out; positive presses on the outside.
"""

from functools import cache, lru_cache
from typing import Any

from gardenframe import tables
from gardenframe.materials import constants
from gardenframe.strength.wind import RATIO, between
from gardenframe.tables import Column
from gardenframe.working import formula

HEIGHTS = Column(kind="number", low=0, high=10)
SCHEMAS: dict[str, tables.Schema] = {
    "building_wall_wind.csv": {
        "key": Column(kind="key"),
        "face": Column(kind="choice", choices=("windward", "leeward", "side")),
        "length_ratio": HEIGHTS,
        "pressure_ratio": RATIO,
        "source": Column(kind="source"),
    },
    "building_roof_wind.csv": {
        "key": Column(kind="key"),
        "face": Column(kind="choice", choices=("windward", "leeward")),
        "height_ratio": HEIGHTS,
        "slope_deg": Column(kind="number", low=0, high=90),
        "lifting_ratio": RATIO,
        "pressing_ratio": RATIO,
        "source": Column(kind="source"),
    },
    "building_roof_along_wind.csv": {
        "key": Column(kind="key"),
        "height_ratio": HEIGHTS,
        "from_heights": HEIGHTS,
        "lifting_ratio": RATIO,
        "pressing_ratio": RATIO,
        "source": Column(kind="source"),
    },
    "free_roof_along_wind.csv": {
        "key": Column(kind="key"),
        "from_heights": HEIGHTS,
        "case_a_ratio": RATIO,
        "case_b_ratio": RATIO,
        "source": Column(kind="source"),
    },
}


@cache
def rows(name: str) -> list[dict[str, Any]]:
    """Return the rows of one of the tables."""
    return tables.read(name, SCHEMAS[name])


@formula(
    result="p",
    symbols={"pressure_pa": "q", "gust": "G", "outside": "C_p", "inside": "GC_{pi}"},
    source="asce7-buildings",
    example={"pressure_pa": 708.6, "gust": 0.85, "outside": -1.2, "inside": 0.55},
)
def skin_pressure_pa(pressure_pa: float, gust: float, outside: float, inside: float) -> float:
    """Pressure across a closed skin, q (G Cp - GCpi): outside less inside. [Pa]"""
    return pressure_pa * (gust * outside - inside)


@cache
def wall_ratio(face: str, length_ratio: float = 1.0) -> float:
    """Pressure coefficient of a wall: windward, leeward or side. [1]

    Parameters
    ----------
    length_ratio : float
        Length of the building along the wind over its breadth across it.
    """
    table = [
        (row["length_ratio"], row["pressure_ratio"]) for row in rows("building_wall_wind.csv") if row["face"] == face
    ]
    return between(table, length_ratio)


@lru_cache(maxsize=1024)
def roof_ratio(face: str, height_ratio: float, slope_deg: float, pressing: bool) -> float:
    """Pressure coefficient of a roof that slopes to or from the wind, from 10 degrees. [1]

    Parameters
    ----------
    height_ratio : float
        Mean height of the roof over the length of the building along the wind.
    pressing : bool
        The greater of the two printed values, which presses; else the lesser, which lifts.
    """
    column = "pressing_ratio" if pressing else "lifting_ratio"
    table = [row for row in rows("building_roof_wind.csv") if row["face"] == face]
    heights = sorted({row["height_ratio"] for row in table})
    return between(
        [
            (h, between([(r["slope_deg"], r[column]) for r in table if r["height_ratio"] == h], slope_deg))
            for h in heights
        ],
        height_ratio,
    )


@lru_cache(maxsize=1024)
def roof_along_ratio(height_ratio: float, near: float, far: float, pressing: bool) -> float:
    """Mean pressure coefficient of a stretch of roof with the wind along its ridge. [1]

    Parameters
    ----------
    near, far : float
        From the windward edge, in mean roof heights.
    """
    column = "pressing_ratio" if pressing else "lifting_ratio"
    found = []
    for h in (0.5, 1.0):
        zones = [(r["from_heights"], r[column]) for r in rows("building_roof_along_wind.csv") if r["height_ratio"] == h]
        found.append((h, mean_over(zones, near, far)))
    return between(found, height_ratio)


def free_roof_along_ratio(near: float, far: float, case: str) -> float:
    """Mean net coefficient of a stretch of free roof with the wind along its ridge, case A or B. [1]"""
    zones = [(r["from_heights"], r[f"case_{case.lower()}_ratio"]) for r in rows("free_roof_along_wind.csv")]
    return mean_over(zones, near, far)


def mean_over(zones: list[tuple[float, float]], near: float, far: float) -> float:
    """Mean of a value given by zones (from, value) over a stretch.

    >>> mean_over([(0, -0.8), (1, -0.6)], 0.0, 2.0)
    -0.7
    """
    far = max(far, near + 1e-9)
    ends = [start for start, _ in zones[1:]] + [float("inf")]
    shared = [max(0.0, min(far, end) - max(near, start)) for (start, _), end in zip(zones, ends)]
    return sum(share * value for share, (_, value) in zip(shared, zones)) / (far - near)


def inside_ratio(partly_open: bool) -> float:
    """Pressure inside a closed or partly enclosed building, either way. [1]"""
    return constants.value("inside_open_ratio" if partly_open else "inside_closed_ratio")
