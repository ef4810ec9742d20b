"""How far a frame moves against how far it may: posts out of upright, rails out of straight.

Limits are common practice without a source, by role, in data/deflection_limits.csv. Movements are those of the
combinations given, as they are: an ASD combination is near what a bad day brings.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.kept import cached_property
from gardenframe.strength.bays import Bays, between_posts, place_in_words
from gardenframe.strength.mesh import Floats, Ints
from gardenframe.strength.response import Response
from gardenframe.strength.rows import CheckRow, peak
from gardenframe.tables import Column

SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "measure": Column(kind="choice", choices=("sway", "span")),
    "share": Column(kind="number", low=10, high=1000),
    "label": Column(),
    "source": Column(kind="source"),
}
FREE = 2.0  # a stretch with one end in the air counts twice its length (common practice, no source)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """How far members of one use may bend: a span, or the height of a post, over `share`."""

    key: str
    measure: str
    share: float
    label: str
    source: str


def load_limits(table: tables.Table | None = None) -> dict[str, Limit]:
    """Return the limits by role: ours, or those of a reader's own table."""
    return tables.keyed("deflection_limits.csv", SCHEMA, Limit, table)


@cache
def our_limits() -> dict[str, Limit]:
    """Return our limits, read once."""
    return load_limits()


@dataclass(frozen=True)
class Deflection:
    """Movements of a frame against their limits.

    Parameters
    ----------
    response : Response
        To the combinations that are shown.
    moved_m : array (cases, elements, points, 3)
        Movements in the axes of the frame. [m]
    limits : mapping
        By role, with one `other`.
    """

    response: Response
    moved_m: Floats
    limits: Mapping[str, Limit]

    @cached_property
    def spans(self) -> Bays:
        """Stretches between posts."""
        return between_posts(self.response.mesh)

    @cached_property
    def limit_of_run(self) -> list[Limit]:
        """Limit of each run, by its role."""
        other = self.limits["other"]
        mesh = self.response.mesh
        return [self.limits.get(mesh.frame.runs[key].role.replace(" ", "-"), other) for key in mesh.runs]

    @cached_property
    def upright(self) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
        """Runs whose sway is measured: those with such a limit that do stand."""
        return np.array([limit.measure == "sway" for limit in self.limit_of_run]) & (np.abs(self._rises_m) > 0.05)

    @cached_property
    def _rises_m(self) -> Floats:
        """How much higher each run ends than it starts. [m]"""
        frame = self.response.mesh.frame
        paths = [frame.runs[key].path for key in self.response.mesh.runs]
        return np.array([frame.joints[path[-1]].z_m - frame.joints[path[0]].z_m for path in paths])

    @cached_property
    def demand_m(self) -> Floats:
        """Movement that is measured at each point: (cases, elements, points). [m]"""
        mesh, spans = self.response.mesh, self.spans
        at_start = self.moved_m[:, spans.first, 0]
        at_end = self.moved_m[:, spans.last, -1]
        start_weight, end_weight = self._weights()
        bay = spans.of_element
        away = self.moved_m - start_weight[:, :, None] * at_start[:, bay][:, :, None]
        away -= end_weight[:, :, None] * at_end[:, bay][:, :, None]
        out = np.sqrt(np.einsum("cepi,cepi->cep", away, away))
        stands = np.flatnonzero(self.upright[mesh.run])
        if len(stands):
            run = mesh.run[stands]
            first, rises = mesh.first, self._rises_m > 0
            low = np.where(rises, first[:-1], first[1:] - 1)[run]
            foot = self.moved_m[:, low, np.where(rises, 0, -1)[run], :2]
            swayed = self.moved_m[:, stands, :, :2] - foot[:, :, None]
            out[:, stands] = np.hypot(swayed[..., 0], swayed[..., 1])
        return np.asarray(out)

    def _weights(self) -> tuple[Floats, Floats]:
        """Return how much of each end's movement a point is measured against: (elements, points)."""
        mesh, spans = self.response.mesh, self.spans
        share = np.linspace(0, 1, self.moved_m.shape[2])
        station = mesh.from_m[:, None] + (mesh.to_m - mesh.from_m)[:, None] * share
        bay = spans.of_element
        along = (station - spans.from_m[bay][:, None]) / spans.length_m[bay][:, None]
        end = np.where(spans.free_start[bay][:, None], 1.0, np.where(spans.free_end[bay][:, None], 0.0, along))
        return 1 - end, end

    @cached_property
    def capacity_m(self) -> Floats:
        """Movement that each element may have. [m]"""
        mesh, spans = self.response.mesh, self.spans
        share = np.array([limit.share for limit in self.limit_of_run])[mesh.run]
        ends_in_air = spans.free_start | spans.free_end
        span = np.where(ends_in_air, FREE, 1.0) * self._chords_m
        length = np.where(self.upright[mesh.run], np.abs(self._rises_m)[mesh.run], span[spans.of_element])
        return np.asarray(length / share)

    @cached_property
    def _chords_m(self) -> Floats:
        """Straight distance between the ends of each stretch: the span of a hoop is its width. [m]"""
        frame, spans = self.response.mesh.frame, self.spans
        out = spans.length_m.copy()
        for i, number in enumerate(spans.run.tolist()):
            line = frame.lines[self.response.mesh.runs[number]]
            if not line.straight:
                out[i] = np.linalg.norm(np.subtract(line.point(spans.to_m[i]), line.point(spans.from_m[i])))
        return np.maximum(out, 0.01)

    @cached_property
    def ratio(self) -> Floats:
        """Share of the limit that is used: (cases, elements, points)."""
        return self.demand_m / self.capacity_m[:, None]

    def row(self, elements: Ints) -> CheckRow:
        """Return the worst row among elements."""
        mesh, peaks = self.response.mesh, self._peaks
        element = int(elements[peak(peaks[elements])])
        values = self.ratio[:, element]
        case, point = (int(i) for i in np.unravel_index(peak(values), values.shape))
        number = int(mesh.run[element])
        run, limit = mesh.frame.runs[mesh.runs[number]], self.limit_of_run[number]
        share = point / (self.ratio.shape[2] - 1)
        station = float(mesh.from_m[element] * (1 - share) + mesh.to_m[element] * share)
        capacity = float(self.capacity_m[element])
        return CheckRow(
            check=f"{run.role}: {limit.label}", case=self.response.cases[case],
            where=place_in_words(mesh.frame, run.key, station),
            demand=float(self.demand_m[case, element, point]) * 1000,
            capacity=capacity * 1000, unit="mm", source=limit.source, kind="deflection", role=run.role, run=run.key,
            member=run.member, station_m=station, length_m=capacity * limit.share,
        )  # fmt: skip

    @cached_property
    def _peaks(self) -> Floats:
        return np.asarray(self.ratio.max(axis=0).max(axis=1))

    def rows(self) -> list[CheckRow]:
        """Return the worst of each role; wires have no limit."""
        mesh = self.response.mesh
        names = [mesh.frame.runs[key].role for key in mesh.runs]
        order = {name: i for i, name in enumerate(dict.fromkeys(names))}
        of = np.where(mesh.wire, -1, np.array([order[name] for name in names])[mesh.run])
        found = (np.flatnonzero(of == i) for i in order.values())
        return [self.row(elements) for elements in found if len(elements)]

    def every_row(self) -> list[CheckRow]:
        """Return the worst of each run."""
        mesh, first = self.response.mesh, self.response.mesh.first
        many = range(len(mesh.runs))
        return [self.row(np.arange(first[i], first[i + 1])) for i in many if not mesh.wire[first[i]]]


def deflection(response: Response, moved_m: Floats, limits: Mapping[str, Limit] | None = None) -> Deflection:
    """Return the movements of a response against limits, ours if none are given."""
    chosen = our_limits() if limits is None else limits
    if "other" not in chosen:
        raise InputError("deflection limits", ", ".join(chosen), "a row `other` for members of no named role")
    three = moved_m[:, :, :: (moved_m.shape[2] - 1) // 2]  # ends and middle of an element are enough
    return Deflection(response, three, chosen)
