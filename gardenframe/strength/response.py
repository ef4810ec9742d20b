"""What came out of a solve: movements, end forces, reactions, and forces and deflections anywhere along a run."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from gardenframe.errors import FrameError, InputError
from gardenframe.kept import Keeps, cached_property
from gardenframe.strength.element import Steps, upward
from gardenframe.strength.mesh import Floats, Ints, Mesh, arm_matrices

FORCES = ("axial_n", "shear_y_n", "shear_z_n", "torsion_n_m", "moment_y_n_m", "moment_z_n_m")
MOVEMENTS = ("x_m", "y_m", "z_m", "turn_x_rad", "turn_y_rad", "turn_z_rad")
REACTIONS = ("x_n", "y_n", "z_n", "moment_x_n_m", "moment_y_n_m", "moment_z_n_m")
SAMPLES = 5  # points of each element at which extremes are looked for: ends, middle, quarters


class BucklingFactor(float):
    """The lowest factor on the loads at which the frame buckles; each case's own by its key."""

    by_case: Mapping[str, float]

    def __new__(cls, by_case: Mapping[str, float]) -> "BucklingFactor":
        """Return the lowest of the cases' factors, infinite where none pushes."""
        self = super().__new__(cls, min(by_case.values(), default=float("inf")))
        self.by_case = dict(by_case)
        return self

    def __getitem__(self, case: str) -> float:
        """Factor of one case."""
        return self.by_case[case]


@dataclass(frozen=True, slots=True)
class Along:
    """Forces and deflections of one run at stations, each (cases, points).

    Axial is positive in tension. Moments are on the face that looks towards the run's end, about the axes of the
    element: y lies flat (square to the plane of a bend), z is the third. Deflections are in the axes of the frame,
    (cases, points, 3).
    """

    station_m: Floats
    axial_n: Floats
    shear_y_n: Floats
    shear_z_n: Floats
    torsion_n_m: Floats
    moment_y_n_m: Floats
    moment_z_n_m: Floats
    deflection_m: Floats

    @property
    def moment_n_m(self) -> Floats:
        """Bending moment whatever its plane. [N m]"""
        return np.hypot(self.moment_y_n_m, self.moment_z_n_m)

    @property
    def shear_n(self) -> Floats:
        """Shear whatever its plane. [N]"""
        return np.hypot(self.shear_y_n, self.shear_z_n)


@dataclass(frozen=True)
class Response(Keeps):
    """What a frame does under cases.

    Parameters
    ----------
    mesh : Mesh
        The elements.
    cases : tuple of str
        Keys of the cases, or of the combinations, in order.
    order : str
        first, amplified or second.
    unknowns : array (cases, unknowns)
        Movements. [m, rad]
    ends : array (cases, elements, 12)
        End forces on each element in its own axes. [N, N m]
    steps, factors : Steps, array (cases, unit cases)
        Loads along elements of the unit cases, and how much of each is in each case.
    lean : array (cases, 2)
        Lean per height along x and y that turns vertical loads sideways.
    at_joints : array (cases, unknowns)
        Loads at joints. [N, N m]
    total_load_n : array (cases, 3)
        Sum of the loads. [N]
    slack : mapping
        Wires that hang slack, by case.
    buckled : tuple of str
        Cases under which the frame buckles before the load factor is reached; their values are those of first order.
    sway_share : float
        The load factor where moments include what axial forces add as an element bows, 0 for first order.
    """

    mesh: Mesh
    cases: tuple[str, ...]
    order: str
    unknowns: Floats
    ends: Floats
    steps: Steps
    factors: Floats
    lean: Floats
    at_joints: Floats
    total_load_n: Floats
    slack: Mapping[str, tuple[str, ...]]
    buckled: tuple[str, ...] = ()
    factors_of_buckling: Mapping[str, float] | None = None
    sway_share: float = 0.0
    _buckling: "object" = field(default=None, repr=False, compare=False)
    _kept: dict[Hashable, Any] = field(default_factory=dict, repr=False, compare=False)  # filled by `once`
    _added_up: "tuple[Floats, Response] | None" = field(default=None, repr=False, compare=False)  # how much of what

    @property
    def units(self) -> "Response":
        """The response that this one was added up from, or itself: loads along elements are the same for both."""
        return self._added_up[1] if self._added_up else self

    @cached_property
    def buckling_factor(self) -> BucklingFactor:
        """Lowest factor on the loads of each case at which the frame buckles; as a number, the lowest of all."""
        if self.factors_of_buckling is not None:
            return BucklingFactor(self.factors_of_buckling)
        return BucklingFactor(self._buckling())  # type: ignore[operator]

    # -- movements ---------------------------------------------------------------------------------------------------

    @cached_property
    def joint_movements(self) -> Floats:
        """Movement of each joint: (cases, joints, 6), x y z and turns. [m, rad]"""
        mesh = self.mesh
        padded = np.concatenate([self.unknowns, np.zeros((len(self.cases), 1))], axis=1)
        body = padded[:, np.where(mesh.joint_unknowns < 0, mesh.count, mesh.joint_unknowns)]
        return np.asarray(np.einsum("jab,cjb->cja", arm_matrices(mesh.joint_arm), body))

    @cached_property
    def displacements(self) -> pd.DataFrame:
        """Movement of each joint in each case: case, joint, x_m ... turn_z_rad."""
        return self._table(self.joint_movements, "joint", self.mesh.joint_keys, MOVEMENTS)

    @cached_property
    def end_forces(self) -> pd.DataFrame:
        """Forces on the two ends of each element in its own axes: case, run, from_m, to_m, start_... and end_..."""
        mesh = self.mesh
        names = [f"{end}_{name}" for end in ("start", "end") for name in REACTIONS]
        table = self._table(self.ends, "run", [mesh.runs[i] for i in mesh.run], names)
        table.insert(2, "from_m", np.tile(mesh.from_m, len(self.cases)))
        table.insert(3, "to_m", np.tile(mesh.to_m, len(self.cases)))
        return table

    @cached_property
    def support_forces(self) -> Floats:
        """What each support gives: (cases, supports, 6), in the axes of the frame, at the joint. [N, N m]"""
        if self._added_up:
            matrix, units = self._added_up
            return np.tensordot(matrix, units.support_forces, 1)
        mesh = self.mesh
        given = _pulled(mesh, self.ends) - self.at_joints
        held = (mesh.free[: mesh.count] < 0) & ~mesh.idle
        out = np.zeros((len(self.cases), len(mesh.frame.supports), 6))
        for number, support in enumerate(mesh.frame.supports):
            unknowns = mesh.joint_unknowns[mesh.joint_index[support.joint]]
            out[:, number] = np.where(held[unknowns], given[:, unknowns], 0.0)
            if support.spring_n_m_per_rad:
                soft = -self.unknowns[:, unknowns[3:5]] * support.spring_n_m_per_rad
                out[:, number, 3:5] += np.where(held[unknowns[3:5]], 0.0, soft)
        return out

    @cached_property
    def reactions(self) -> pd.DataFrame:
        """What each support gives in each case: case, joint, x_n ... moment_z_n_m."""
        return self._table(self.support_forces, "joint", [s.joint for s in self.mesh.frame.supports], REACTIONS)

    def _table(self, values: Floats, kind: str, keys: Sequence[str], names: Sequence[str]) -> pd.DataFrame:
        many = len(keys)
        table = pd.DataFrame(values.reshape(-1, values.shape[-1]), columns=list(names))
        table.insert(0, kind, list(keys) * len(self.cases))
        table.insert(0, "case", np.repeat(np.array(self.cases, dtype=object), many))
        return table

    # -- along the runs ----------------------------------------------------------------------------------------------

    @cached_property
    def _local(self) -> Floats:
        return np.ascontiguousarray((self.mesh.turn @ self.mesh.followed(self.unknowns.T)).transpose(2, 0, 1))

    def _sampled(self, element: Ints, x_m: Floats, shifting: bool = True) -> tuple[Floats, Floats]:
        """Return forces (cases, elements, points, 6) and shifts (.., 3; empty if not wanted) in the elements' axes.

        Parameters
        ----------
        element : array (k,)
            Elements, each once.
        x_m : array (k, points)
            Distances from their starts. [m]
        """
        shifting = shifting or self.sway_share > 0
        force, moment, shift = self._loads_by(element, x_m, shifting)
        shifts = self._shifts(element, x_m) + shift if shifting else shift
        f = self.ends[:, element][:, :, None, :]
        out = np.empty((*force.shape[:3], 6))
        out[..., 0:3] = -f[..., 0:3] - force
        out[..., 3] = -f[..., 3]
        out[..., 4] = -f[..., 4] - x_m * f[..., 2] - moment[..., 2]
        out[..., 5] = -f[..., 5] + x_m * f[..., 1] + moment[..., 1]
        if self.sway_share:
            bow = self._local[:, element][:, :, None, 0:3] - shifts
            out[..., 4] -= bow[..., 2] * f[..., 0] * self.sway_share
            out[..., 5] += bow[..., 1] * f[..., 0] * self.sway_share
        return out, shifts

    def _loads_by(self, element: Ints, x_m: Floats, shifting: bool) -> tuple[Floats, Floats, Floats]:
        """Return load carried by each point, its moment, and the shift of an element with its ends held."""
        mesh, steps, length = self.mesh, self._put, self.mesh.length_m[element]
        row_of = np.full(mesh.elements, -1)
        row_of[element] = np.arange(len(element))
        row = row_of[steps.element]
        kept = row >= 0
        mine = Steps(row[kept], steps.at_m[kept], steps.power[kept], steps.size[kept])
        far = np.broadcast_to(length[:, None], (len(element), 1))
        if not shifting:
            force, moment = mine.levels(x_m, 2)
            return force, moment, np.empty(0)
        force, moment, turns, moves = mine.levels(x_m, 4)
        known = (x_m[:, -1:] == far).all()  # the last points are the ends
        _, end_moment, end_turns, end_moves = (
            (level[:, :, -1:] for level in (force, moment, turns, moves)) if known else mine.levels(far, 4)
        )
        span, place = length[:, None, None], x_m[:, :, None]
        start = 12 * end_moves / span**3 - 6 * end_turns / span**2
        turning = 6 * end_moves / span**2 - 2 * end_turns / span
        stiff = mesh.stiff[element][:, None, :]
        shift = (moves - turning * (place**2 / 2) + start * (place**3 / 6)) / stiff[..., [0, 2, 1]]
        shift[..., 0] = (end_moment * (place / span) - moment)[..., 0] / stiff[..., 0]
        shift[:, mesh.wire[element], :, 1:] = 0.0
        return force, moment, shift

    @cached_property
    def _put(self) -> Steps:
        """Loads along elements, in their axes, added up by case; vertical ones turned sideways as far as each leans."""
        steps = self.steps
        terms, units, _ = steps.size.shape
        size = (self.factors @ steps.size.transpose(1, 0, 2).reshape(units, 3 * terms)).reshape(
            len(self.factors), terms, 3
        )
        if self.lean.any():
            axes = self.mesh.axes[steps.element]
            size -= upward(size, axes)[..., None] * np.tensordot(self.lean, axes[:, :, :2], (1, 2))
        return Steps(steps.element, steps.at_m, steps.power, np.ascontiguousarray(size.transpose(1, 0, 2)))

    def _shifts(self, element: Ints, x_m: Floats) -> Floats:
        """Return the shift that the ends' movements give, by the cubic: (cases, elements, points, 3)."""
        mesh = self.mesh
        d, length = self._local[:, element][:, :, None, :], mesh.length_m[element][:, None]
        t = x_m / length
        a, b, c, e = 1 - 3 * t**2 + 2 * t**3, t - 2 * t**2 + t**3, 3 * t**2 - 2 * t**3, t**3 - t**2
        wire = mesh.wire[element][:, None]
        a, c = np.where(wire, 1 - t, a), np.where(wire, t, c)
        b, e = np.where(wire, 0.0, b * length), np.where(wire, 0.0, e * length)
        return np.stack(
            [
                (1 - t) * d[..., 0] + t * d[..., 6],
                a * d[..., 1] + b * d[..., 5] + c * d[..., 7] + e * d[..., 11],
                a * d[..., 2] - b * d[..., 4] + c * d[..., 8] - e * d[..., 10],
            ],
            axis=-1,
        )

    def along(self, run: str, points: int | Sequence[float] = 21) -> Along:
        """Return forces and deflections along a run.

        Parameters
        ----------
        run : str
            Its key.
        points : int or sequence of float
            How many, evenly spread from end to end, or the stations themselves. [m]
        """
        mesh = self.mesh
        if run not in mesh.run_index:
            raise FrameError(f"run {run}", "it is not in the frame")
        number = mesh.run_index[run]
        first, last = int(mesh.first[number]), int(mesh.first[number + 1])
        long_m = float(mesh.to_m[last - 1])
        station = np.linspace(0, long_m, points) if isinstance(points, int) else np.asarray(points, dtype=float)
        if not ((station >= -1e-9) & (station <= long_m + 1e-9)).all():
            raise InputError(f"station on run {run}", f"{station.min():g} to {station.max():g} m", f"0 to {long_m:g} m")
        local = np.clip(np.searchsorted(mesh.from_m[first:last], station, "right") - 1, 0, last - first - 1)
        out, moved = np.empty((len(self.cases), len(station), 6)), np.empty((len(self.cases), len(station), 3))
        element = first + np.arange(last - first)
        rank = np.arange(len(station)) - np.searchsorted(local, local) if len(station) else local
        if (np.diff(local) < 0).any():  # stations not in order: each element may come back
            rank = np.array([np.count_nonzero(local[:i] == value) for i, value in enumerate(local)])
        x = np.zeros((last - first, int(rank.max(initial=0)) + 1))
        share = (station - mesh.from_m[first + local]) / (mesh.to_m[first + local] - mesh.from_m[first + local])
        x[local, rank] = np.clip(share, 0, 1) * mesh.length_m[first + local]
        forces, shifts = self._sampled(element, x)
        out[:] = forces[:, local, rank]
        moved[:] = np.einsum("cpi,pij->cpj", shifts[:, local, rank], mesh.axes[first + local])
        return Along(station, out[..., 0], out[..., 1], out[..., 2], out[..., 3], out[..., 4], out[..., 5], moved)

    @cached_property
    def samples(self) -> Floats:
        """Forces at `SAMPLES` points of every element: (cases, elements, points, 6), columns as FORCES."""
        if self._added_up:
            matrix, units = self._added_up
            return np.tensordot(matrix, units.samples, 1)
        share = np.linspace(0, 1, SAMPLES)
        return self._sampled(np.arange(self.mesh.elements), self.mesh.length_m[:, None] * share, shifting=False)[0]

    def extremes(self) -> dict[str, Floats]:
        """Return the worst of each run in each case, for the checks: each (cases, runs).

        push_n and pull_n (both positive), shear_n, torsion_n_m, moment_y_n_m, moment_z_n_m, moment_n_m (each the
        largest size, the last whatever its plane).
        """
        s, first = self.samples, self.mesh.first[:-1]

        def worst(values: Floats) -> Floats:
            return np.asarray(np.maximum.reduceat(values.max(axis=2), first, axis=1))

        return {
            "push_n": np.maximum(worst(-s[..., 0]), 0.0),
            "pull_n": np.maximum(worst(s[..., 0]), 0.0),
            "shear_n": worst(np.hypot(s[..., 1], s[..., 2])),
            "torsion_n_m": worst(np.abs(s[..., 3])),
            "moment_y_n_m": worst(np.abs(s[..., 4])),
            "moment_z_n_m": worst(np.abs(s[..., 5])),
            "moment_n_m": worst(np.hypot(s[..., 4], s[..., 5])),
        }

    # -- adding up ---------------------------------------------------------------------------------------------------

    def combined(self, factors: Mapping[str, Mapping[str, float]]) -> "Response":
        """Return the responses to combinations by adding up those to the cases: first order, no wire slack.

        Parameters
        ----------
        factors : mapping
            For each new key, the factor on each case.
        """
        if self.order != "first" or any(self.slack.values()):
            raise InputError(
                "combined", self.order if self.order != "first" else "slack wires", "a first-order response",
                "Give the combinations to solve.",
            )  # fmt: skip
        matrix = factor_matrix(factors, self.cases)
        return Response(
            mesh=self.mesh,
            cases=tuple(factors),
            order="first",
            unknowns=matrix @ self.unknowns,
            ends=np.tensordot(matrix, self.ends, 1),
            steps=self.steps,
            factors=matrix @ self.factors,
            lean=matrix @ self.lean,
            at_joints=matrix @ self.at_joints,
            total_load_n=matrix @ self.total_load_n,
            slack={key: () for key in factors},
            factors_of_buckling=None,
            _buckling=None,
            _added_up=(matrix, self),
        )


def _pulled(mesh: Mesh, ends: Floats) -> Floats:
    """Return end forces (cases, elements, 12) added up on the unknowns of what is held, 0 elsewhere."""
    joints = [mesh.joint_index[support.joint] for support in mesh.frame.supports]
    near = np.flatnonzero(np.isin(mesh.unknowns, mesh.joint_unknowns[joints]).any(axis=1))
    pulled = np.swapaxes(mesh.turn[near], 1, 2) @ ends[:, near].transpose(1, 2, 0)
    out = np.zeros((mesh.count + 1, len(ends)))
    np.add.at(out, mesh.unknowns[near], pulled)
    return out[: mesh.count].T


def factor_matrix(factors: Mapping[str, Mapping[str, float]], cases: Sequence[str]) -> Floats:
    """Return combinations as a matrix: one row each, one column a case."""
    column = {key: i for i, key in enumerate(cases)}
    out = np.zeros((len(factors), len(cases)))
    for row, (name, parts) in enumerate(factors.items()):
        for key, factor in parts.items():
            if key not in column:
                raise InputError(f"combination {name}", key, f"one of the cases: {', '.join(cases)}")
            out[row, column[key]] = factor
    return out
