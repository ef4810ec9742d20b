"""What a load is: on a stretch of a run, at a point of a run, at a joint; cases of loads and combinations of cases.

Forces are vectors in the axes of the frame (z is up). A load on a run is per metre of its axis and acts on the axis.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, overload

import numpy as np
from numpy.typing import NDArray

from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector

GRAVITY_M_PER_S2 = 9.80665  # by definition (from memory), so that pounds agree; shown arithmetic takes 9.81: 0.03 %
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
NONE: Vector = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LineLoad:
    """Force along a stretch of a run, the same all along it or changing in a straight line.

    Parameters
    ----------
    run : str
        The run that carries it.
    force_n_per_m : (x, y, z)
        Where the stretch starts. [N/m]
    to_n_per_m : (x, y, z), optional
        Where the stretch ends; the same as at its start if not given. [N/m]
    from_m, to_m : float
        Stations at which the stretch starts and ends; the whole run if not given. [m]
    """

    run: str
    force_n_per_m: Vector
    to_n_per_m: Vector | None = None
    from_m: float = 0.0
    to_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PointLoad:
    """Force at one station of a run. [N, m]"""

    run: str
    station_m: float
    force_n: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class JointLoad:
    """Force and moment at a joint. [N, N m]"""

    joint: str
    force_n: Vector = NONE
    moment_n_m: Vector = NONE


Load = LineLoad | PointLoad | JointLoad


@dataclass(frozen=True, eq=False)
class LineLoads(Sequence[LineLoad]):
    """Many loads on stretches of runs, held as arrays because there may be thousands; read one by one, records.

    Parameters
    ----------
    runs : tuple of str
        Names of runs.
    run : array
        Which of them carries each load.
    from_m, to_m : arrays
        Stations at which each starts and ends. [m]
    force_n_per_m, to_n_per_m : arrays (loads, 3)
        Where each starts, and where it ends. [N/m]
    """

    runs: tuple[str, ...]
    run: Ints
    from_m: Floats
    to_m: Floats
    force_n_per_m: Floats
    to_n_per_m: Floats

    def __len__(self) -> int:
        """How many."""
        return len(self.run)

    @overload
    def __getitem__(self, which: int) -> LineLoad: ...
    @overload
    def __getitem__(self, which: slice) -> "LineLoads": ...
    def __getitem__(self, which: int | slice) -> "LineLoad | LineLoads":
        """One of them, or some."""
        if isinstance(which, slice):
            return LineLoads(self.runs, *(part[which] for part in self._parts))
        run, start, end, force, to = (part[which].tolist() for part in self._parts)
        return LineLoad(
            run=self.runs[run], from_m=start, to_m=end, force_n_per_m=tuple(force), to_n_per_m=tuple(to)
        )  # fmt: skip

    @property
    def _parts(self) -> tuple[Any, ...]:
        return self.run, self.from_m, self.to_m, self.force_n_per_m, self.to_n_per_m

    def and_also(self, more: "LineLoads") -> "LineLoads":
        """Return these and more, on runs with the same names."""
        return LineLoads(self.runs, *map(np.concatenate, zip(self._parts, more._parts, strict=True)))

    def between(self, near: Floats, far: Floats, times: Floats) -> "LineLoads":
        """Return the part of each between two shares of its length, times a factor; the empty ones left out."""
        kept = np.flatnonzero((far > near) & (times != 0))
        near, far, times = near[kept, None], far[kept, None], times[kept, None]
        here, there, change = self.from_m[kept], self.to_m[kept], (self.to_n_per_m - self.force_n_per_m)[kept]
        stations = (here + (there - here) * share[:, 0] for share in (near, far))
        forces = ((self.force_n_per_m[kept] + change * share) * times for share in (near, far))
        return LineLoads(self.runs, self.run[kept], *stations, *forces)

    @property
    def whole_n(self) -> Floats:
        """Force of all of them. [N]"""
        means = (self.force_n_per_m + self.to_n_per_m) / 2
        return np.asarray((means * (self.to_m - self.from_m)[:, None]).sum(axis=0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Loads that act together, under one name: D, S, W from the left. `label` says it in words."""

    key: str
    loads: Sequence[Load] = ()
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """Cases added up, each with its factor, as codes have it: D + 0.6 W."""

    key: str
    factors: Mapping[str, float] = field(default_factory=dict)
    label: str = ""


def self_weight(frame: Frame, mass_kg_per_m: Mapping[str, float], key: str = "D") -> Case:
    """Return the case of the frame's own weight.

    Parameters
    ----------
    frame : Frame
        The frame.
    mass_kg_per_m : mapping
        Mass of a metre of each member, by the key that the runs name. [kg/m]
    key : str
        Name of the case.
    """
    return Case(key=key, loads=weights(frame, mass_kg_per_m), label="own weight")


def weights(frame: Frame, mass_kg_per_m: Mapping[str, float]) -> LineLoads:
    """Return the weight of every run as a load along it."""
    down = np.array([mass_kg_per_m[run.member] for run in frame.runs.values()]) * -GRAVITY_M_PER_S2
    force = np.stack([np.zeros_like(down), np.zeros_like(down), down], axis=1)
    long_m = np.array([frame.lines[key].length_m for key in frame.runs])
    return LineLoads(tuple(frame.runs), np.arange(len(long_m)), np.zeros_like(long_m), long_m, force, force)
