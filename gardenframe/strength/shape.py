"""What a combination does to a frame, to draw: an arrow for each loaded run, the deflected shape enlarged."""

import math
from collections.abc import Callable, Mapping

import numpy as np

from gardenframe.geometry.vectors import Vector, add, minus, size, times
from gardenframe.strength.cases import JointLoad, Load
from gardenframe.strength.loads import force_of
from gardenframe.strength.standing import Standing

SHOWN_SHARE = 0.08  # of the frame's longest side: how large the largest movement is drawn
STEPS = (1.0, 2.0, 5.0)
POINTS = 13


def case_arrows(
    standing: Standing, combination: str, said: Callable[[float], str] = "{:.0f} N".format
) -> list[tuple[Vector, Vector, str]]:
    """Return the loads of a combination as arrows: where, the force [N], what it says; one for each run and joint.

    Parameters
    ----------
    said : callable
        Writes the size of a force. [N]
    """
    factors = next((c.factors for c in standing.loads.combinations if c.key == combination), {combination: 1.0})
    force: dict[str, Vector] = {}
    moment: dict[str, Vector] = {}  # sum of place times size, for the place of the arrow
    weight: dict[str, float] = {}
    for case in standing.loads.cases:
        factor = factors.get(case.key, 0.0)
        for load in case.loads if factor else ():
            key = load.joint if isinstance(load, JointLoad) else load.run
            there, whole = _place(standing, load), times(force_of(standing.frame, load), factor)
            much = size(whole)
            force[key] = add(force.get(key, (0.0, 0.0, 0.0)), whole)
            moment[key] = add(moment.get(key, (0.0, 0.0, 0.0)), times(there, much))
            weight[key] = weight.get(key, 0.0) + much
    return [
        (times(moment[key], 1 / weight[key]), vector, said(size(vector)))
        for key, vector in force.items()
        if weight[key] and size(vector) > 0
    ]


def _place(standing: Standing, load: Load) -> Vector:
    """Return the middle of a load."""
    if isinstance(load, JointLoad):
        return standing.frame.joints[load.joint].at
    line = standing.frame.lines[load.run]
    if hasattr(load, "station_m"):
        return line.point(load.station_m)
    end = line.length_m if load.to_m is None else load.to_m
    return line.point((load.from_m + end) / 2)


def deflected(standing: Standing, combination: str) -> tuple[Mapping[str, list[Vector]], float]:
    """Return the deflected shape of every run, enlarged, and how many times: 1, 2 or 5 times a power of ten. [m]"""
    response, frame = standing.response, standing.frame
    at = response.cases.index(combination)
    moved: dict[str, list[tuple[Vector, Vector]]] = {}
    for key, line in frame.lines.items():
        along = response.along(key, POINTS)
        shifts = [(float(x), float(y), float(z)) for x, y, z in along.deflection_m[at]]
        moved[key] = [(line.point(float(s)), shift) for s, shift in zip(along.station_m, shifts, strict=True)]
    largest = max(size(shift) for points in moved.values() for _, shift in points)
    ats = [joint.at for joint in frame.joints.values()]
    span = max(size(minus(a, ats[0])) for a in ats)
    scale = round_scale(SHOWN_SHARE * span / largest) if largest > 0 else 1.0
    return {key: [add(p, times(shift, scale)) for p, shift in points] for key, points in moved.items()}, scale


def moments(standing: Standing, combination: str) -> tuple[dict[str, list[Vector]], tuple[float, str]]:
    """Return the bending moments of every run, drawn square to it on its stretched side, and the largest with its run.

    Points run from the start of a run along its diagram to its end. [m; N m]
    """
    response, frame, mesh = standing.response, standing.frame, standing.response.mesh
    at = response.cases.index(combination)
    found = {key: response.along(key, POINTS) for key in frame.lines}
    peaks = {key: float(along.moment_n_m[at].max()) for key, along in found.items()}
    worst = max(peaks, key=peaks.__getitem__)
    ats = [joint.at for joint in frame.joints.values()]
    scale = 1.5 * SHOWN_SHARE * max(size(minus(a, ats[0])) for a in ats) / (peaks[worst] or 1.0)
    out = {}
    for key, along in found.items():
        line, number = frame.lines[key], mesh.run_index[key]
        first, last = int(mesh.first[number]), int(mesh.first[number + 1]) - 1
        points = [line.point(0.0)]
        for i, station in enumerate(along.station_m):
            element = min(first + int(np.searchsorted(mesh.to_m[first : last + 1], station - 1e-9)), last)
            # a moment about z that is positive stretches the side of -y; about y, the side of +z
            aside = (
                -along.moment_z_n_m[at, i] * mesh.axes[element, 1] + along.moment_y_n_m[at, i] * mesh.axes[element, 2]
            )
            x, y, z = (scale * float(v) for v in aside)
            points.append(add(line.point(float(station)), (x, y, z)))
        out[key] = [*points, line.point(line.length_m)]
    return out, (peaks[worst], worst)


def round_scale(wanted: float) -> float:
    """Return the largest of 1, 2, 5, 10, 20 ... that is not above what is wanted, at least 1.

    >>> round_scale(37.0), round_scale(0.4), round_scale(5.0)
    (20.0, 1.0, 5.0)
    """
    if wanted <= 1:
        return 1.0
    power = 10.0 ** math.floor(math.log10(wanted))
    return max(step * power for step in STEPS if step * power <= wanted)
