"""Load records laid on the elements: what each case puts on each element and each unknown, as arrays."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from gardenframe.errors import FrameError, InputError
from gardenframe.geometry.arcs import TOUCH_M
from gardenframe.strength.bays import APART_M
from gardenframe.strength.cases import Case, JointLoad, LineLoad, LineLoads, Load
from gardenframe.strength.element import Steps, held_ends
from gardenframe.strength.mesh import Floats, Ints, Mesh, arm_matrices


@dataclass(frozen=True, slots=True)
class Loading:
    """What cases put on a mesh."""

    steps: Steps
    carried: Floats  # (4, cases, elements, 3): the steps' levels at the far ends
    held_ends: Floats  # (cases, elements, 12), in the elements' axes
    at_joints: Floats  # (cases, unknowns): loads at joints
    on_unknowns: Floats  # (cases, unknowns): both together
    total: Floats  # (cases, 3): sum of the forces [N]


def check_loads(mesh: Mesh, cases: Sequence[Case]) -> None:
    """Raise FrameError or InputError naming the case for a load that is nowhere or not a number."""
    keys = [case.key for case in cases]
    if len(set(keys)) < len(keys):
        raise InputError("cases", ", ".join(keys), "each key once")
    for case in cases:
        for load in case.loads[_wrong(mesh, case.loads) :] if isinstance(case.loads, LineLoads) else case.loads:
            _check_load(mesh, case.key, load)


def _wrong(mesh: Mesh, loads: LineLoads) -> int:
    """Return the first of loads that may be wrong, to be looked at by itself; how many there are if none is."""
    long_m = np.array([line.length_m for line in mesh.frame.lines.values()])
    at = _numbers(mesh, loads)
    good = (at >= 0) & (loads.from_m >= -TOUCH_M) & (loads.from_m <= loads.to_m) & (loads.to_m <= long_m[at] + TOUCH_M)
    good &= np.isfinite(loads.force_n_per_m).all(axis=1) & np.isfinite(loads.to_n_per_m).all(axis=1)
    return len(loads) if good.all() else int(good.argmin())


def _numbers(mesh: Mesh, loads: LineLoads) -> Ints:
    """Return the mesh's own number of the run of each load, -1 for a run that is not in the frame."""
    return np.array([mesh.run_index.get(key, -1) for key in loads.runs], dtype=int)[loads.run]


def _check_load(mesh: Mesh, case: str, load: Load) -> None:
    if isinstance(load, JointLoad):
        if load.joint not in mesh.joint_index or mesh.joint_unknowns[mesh.joint_index[load.joint], 0] < 0:
            raise FrameError(f"case {case}", f"it loads joint {load.joint!r}, which no run reaches")
        numbers: Iterable[float] = (*load.force_n, *load.moment_n_m)
    else:
        if load.run not in mesh.run_index:
            raise FrameError(f"case {case}", f"it loads run {load.run!r}, which is not in the frame")
        long_m = mesh.frame.lines[load.run].length_m
        if isinstance(load, LineLoad):
            end = long_m if load.to_m is None else load.to_m
            numbers = (*load.force_n_per_m, *(load.to_n_per_m or ()))
            inside = -TOUCH_M <= load.from_m <= end <= long_m + TOUCH_M
            where = f"{load.from_m:.6g} to {end:.6g} m"
        else:
            numbers, inside = load.force_n, -TOUCH_M <= load.station_m <= long_m + TOUCH_M
            where = f"{load.station_m:.6g} m"
        if not inside:
            raise FrameError(f"case {case}", f"it loads run {load.run} at {where}, and the run is {long_m:.6g} m long")
    if not all(map(math.isfinite, numbers)):
        raise InputError(f"load of case {case}", str(load), "finite numbers")


def lay(mesh: Mesh, cases: Sequence[Case]) -> Loading:
    """Return what cases put on a mesh, checked."""
    check_loads(mesh, cases)
    steps, total = _steps(mesh, cases)
    joint_forces, joint_total = _at_joints(mesh, cases)
    carried = steps.levels(mesh.length_m[:, None], 4)[..., 0, :]
    ends = held_ends(mesh, carried)
    return Loading(steps, carried, ends, joint_forces, joint_forces - gathered(mesh, ends), total + joint_total)


def gathered(mesh: Mesh, end_forces: Floats) -> Floats:
    """Return end forces (cases, elements, 12) added up on the unknowns: (cases, unknowns)."""
    pulled = np.swapaxes(mesh.turn, 1, 2) @ end_forces.transpose(1, 2, 0)
    total: Floats = mesh.gathering @ pulled.reshape(-1, len(end_forces))
    return total[: mesh.count].T


def _at_joints(mesh: Mesh, cases: Sequence[Case]) -> tuple[Floats, Floats]:
    """Return the loads at joints on the unknowns, and the sum of the forces of each case."""
    out, total = np.zeros((len(cases), mesh.count)), np.zeros((len(cases), 3))
    for number, case in enumerate(cases):
        for load in () if isinstance(case.loads, LineLoads) else case.loads:
            if isinstance(load, JointLoad):
                joint = mesh.joint_index[load.joint]
                arm = arm_matrices(mesh.joint_arm[joint : joint + 1])[0]
                pulled = np.array([*load.force_n, *load.moment_n_m]) @ arm
                unknowns = mesh.joint_unknowns[joint]
                if (mesh.idle[unknowns] & (np.abs(pulled) > 0)).any():
                    raise FrameError(f"case {case.key}", f"it turns joint {load.joint}, where only wires meet")
                out[number, unknowns] += pulled
                total[number] += load.force_n
    return out, total


def _steps(mesh: Mesh, cases: Sequence[Case]) -> tuple[Steps, Floats]:
    """Return the loads on runs as steps on elements, and the sum of the forces of each case."""
    rows: list[tuple[float, ...]] = []
    points: list[tuple[float, ...]] = []
    blocks: list[Floats] = []
    for number, case in enumerate(cases):
        if isinstance(case.loads, LineLoads):
            many = case.loads
            place = np.full(len(many), number), _numbers(mesh, many), many.from_m, many.to_m
            blocks.append(np.column_stack([*place, many.force_n_per_m, many.to_n_per_m]))
            continue
        for load in case.loads:
            if isinstance(load, LineLoad):
                end = math.inf if load.to_m is None else load.to_m
                to = load.force_n_per_m if load.to_n_per_m is None else load.to_n_per_m
                rows.append((number, mesh.run_index[load.run], load.from_m, end, *load.force_n_per_m, *to))
            elif not isinstance(load, JointLoad):
                points.append((number, mesh.run_index[load.run], load.station_m, *load.force_n))
    line, line_total = _line_steps(mesh, np.concatenate([np.array(rows).reshape(-1, 10), *blocks]), len(cases))
    point, point_total = _point_steps(mesh, np.array(points).reshape(-1, 6), len(cases))
    joined = [np.concatenate([a, b]) for a, b in zip(line, point, strict=True)]
    which, element, at_m, power, size = joined
    kept = np.abs(size).sum(axis=1) > 0
    local = np.einsum("tij,tj->ti", mesh.axes[element[kept]], size[kept])
    steps = Steps.gathered(mesh, which[kept], element[kept], at_m[kept], power[kept], local, len(cases))
    return steps, line_total + point_total


Columns = tuple[Floats, ...]


def _line_steps(mesh: Mesh, rows: Floats, cases: int) -> tuple[Columns, Floats]:
    """Spread loads along runs over the elements that they touch."""
    run = rows[:, 1].astype(int)
    ends = np.minimum(rows[:, 3], mesh.to_m[mesh.first[run + 1] - 1])
    met = np.searchsorted(mesh.run * APART_M + mesh.to_m, run * APART_M + rows[:, 2] - TOUCH_M)
    beyond = np.searchsorted(mesh.run * APART_M + mesh.from_m, run * APART_M + ends + TOUCH_M)
    many = np.maximum(beyond - met, 0)
    row = np.repeat(np.arange(len(rows)), many)
    element = np.arange(len(row)) + np.repeat(met - np.cumsum(many) + many, many)
    low = np.maximum(rows[row, 2], mesh.from_m[element])
    high = np.minimum(ends[row], mesh.to_m[element])
    kept = high - low > 1e-12
    row, element, low, high = row[kept], element[kept], low[kept], high[kept]
    stretch = np.where(ends - rows[:, 2] > 0, ends - rows[:, 2], 1.0)[row]
    change = (rows[row, 7:10] - rows[row, 4:7]) / stretch[:, None]
    at_low = rows[row, 4:7] + change * (low - rows[row, 2])[:, None]
    at_high = rows[row, 4:7] + change * (high - rows[row, 2])[:, None]
    case = rows[row, 0].astype(int)
    whole = (at_low + at_high) / 2 * (high - low)[:, None]
    total = np.stack([np.bincount(case, whole[:, i], cases).astype(float, copy=False) for i in range(3)], axis=1)
    # a chord is shorter than its arc: load per metre of axis is that much denser on it
    scale = mesh.length_m[element] / (mesh.to_m[element] - mesh.from_m[element])
    a, b = (low - mesh.from_m[element]) * scale, (high - mesh.from_m[element]) * scale
    start, slope = at_low / scale[:, None], change / scale[:, None] ** 2
    finish = at_high / scale[:, None]
    inner = np.flatnonzero(b < mesh.length_m[element] * (1 - 1e-12))  # loads that stop within their element
    sloped, sloped_inner = np.flatnonzero(slope.any(axis=1)), inner[slope[inner].any(axis=1)]
    which = np.concatenate([np.arange(len(row)), sloped, inner, sloped_inner])
    columns = (
        case[which],
        element[which],
        np.concatenate([a, a[sloped], b[inner], b[sloped_inner]]),
        np.repeat([1, 2, 1, 2], [len(row), len(sloped), len(inner), len(sloped_inner)]),
        np.concatenate([start, slope[sloped], -finish[inner], -slope[sloped_inner]]),
    )
    return columns, total


def _point_steps(mesh: Mesh, rows: Floats, cases: int) -> tuple[Columns, Floats]:
    """Put point loads on their elements."""
    run, station = rows[:, 1].astype(int), rows[:, 2]
    element = np.empty(len(rows), dtype=int)
    for i, r in enumerate(run):
        first, last = mesh.first[r], mesh.first[r + 1]
        element[i] = first + min(
            max(np.searchsorted(mesh.from_m[first:last], station[i], "right") - 1, 0), last - first - 1
        )
    share = (station - mesh.from_m[element]) / (mesh.to_m[element] - mesh.from_m[element])
    at = np.clip(share, 0.0, 1.0) * mesh.length_m[element]
    case, total = rows[:, 0].astype(int), np.zeros((cases, 3))
    np.add.at(total, case, rows[:, 3:6])
    return (case, element, at, np.zeros(len(rows), dtype=int), rows[:, 3:6]), total
