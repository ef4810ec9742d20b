"""Pumps by their table of flow, head and power. Ours are invented and say so; a reader's own table replaces them."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

SCHEMA: tables.Schema = {
    "pump": Column(kind="ref"),
    "label": Column(),
    "flow_l_per_min": Column(kind="number", low=0, high=2000),
    "head_m": Column(kind="number", low=0, high=100),
    "power_w": Column(kind="number", low=0.1, high=5000),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pump:
    """One pump: points of its curve from no flow to no head, straight between them."""

    key: str
    label: str
    flows_l_per_min: tuple[float, ...]
    heads_m: tuple[float, ...]
    powers_w: tuple[float, ...]
    source: str

    def __post_init__(self) -> None:
        """Refuse a curve that a pump cannot have: the head falls as the flow grows, from no flow to no head."""
        flows, heads = self.flows_l_per_min, self.heads_m
        if len(flows) < 2 or flows[0] != 0 or heads[-1] != 0:
            raise InputError(f"pump {self.key}", f"{len(flows)} rows from {flows[0]:g} L/min to {heads[-1]:g} m",
                             "two rows or more, the first at no flow and the last at no head")  # fmt: skip
        if (np.diff(flows) <= 0).any() or (np.diff(heads) >= 0).any():
            raise InputError(f"pump {self.key}", "rows out of order", "more flow and less head in each next row")

    @property
    def most_head_m(self) -> float:
        """Head at no flow: how high the pump lifts at all. [m]"""
        return self.heads_m[0]

    def head_m(self, flow_l_per_min: float) -> float:
        """Head at a flow; none beyond the last row. [m]"""
        return float(np.interp(flow_l_per_min, self.flows_l_per_min, self.heads_m))

    def power_w(self, flow_l_per_min: float) -> float:
        """Power taken from the socket at a flow. [W]"""
        return float(np.interp(flow_l_per_min, self.flows_l_per_min, self.powers_w))


@cache
def _ours() -> dict[str, Pump]:
    return _made(tables.read("pumps.csv", SCHEMA, unique=("pump", "flow_l_per_min")))


def load_pumps(table: tables.Table | None = None) -> dict[str, Pump]:
    """Return every pump by key: ours (invented), or those of a reader's own table.

    >>> load_pumps()["small-8"].most_head_m
    1.0
    """
    if table is None:
        return dict(_ours())
    return _made(tables.read(table, SCHEMA, unique=("pump", "flow_l_per_min")))


def _made(rows: list[tables.Row]) -> dict[str, Pump]:
    """Return the pumps of a table, the points of each in the order of its rows."""
    found: dict[str, list[tables.Row]] = {}
    for row in rows:
        found.setdefault(str(row["pump"]), []).append(row)
    return {
        key: Pump(
            key=key, label=str(points[0]["label"]), source=str(points[0]["source"]),
            flows_l_per_min=tuple(float(point["flow_l_per_min"]) for point in points),
            heads_m=tuple(float(point["head_m"]) for point in points),
            powers_w=tuple(float(point["power_w"]) for point in points),
        )
        for key, points in found.items()
    }  # fmt: skip
