"""Movements at many places of the runs of a frame at once, where `Response.along` takes one run."""

from collections.abc import Sequence

import numpy as np

from gardenframe.strength.bays import APART_M
from gardenframe.strength.mesh import Floats
from gardenframe.strength.response import Response


def moved_at(response: Response, runs: Sequence[str], stations_m: Sequence[float]) -> Floats:
    """Return how far places move, in the axes of the frame: (cases, places, 3). [m]

    Parameters
    ----------
    runs : sequence of str
        The run of each place.
    stations_m : sequence of float
        Where on it each place is. [m]
    """
    mesh = response.mesh
    run, station = np.array([mesh.run_index[key] for key in runs]), np.asarray(stations_m, dtype=float)
    first, last = mesh.first[run], mesh.first[run + 1] - 1
    after = np.searchsorted(mesh.run * APART_M + mesh.from_m, run * APART_M + station, "right")
    element, row = np.unique(np.clip(after - 1, first, last), return_inverse=True)
    order = np.argsort(row, kind="stable")
    rank = np.empty(len(row), dtype=int)
    rank[order] = np.arange(len(row)) - np.searchsorted(row[order], row[order])
    at = element[row]
    x = np.zeros((len(element), int(rank.max(initial=0)) + 1))
    share = (station - mesh.from_m[at]) / (mesh.to_m[at] - mesh.from_m[at])
    x[row, rank] = np.clip(share, 0, 1) * mesh.length_m[at]
    _, shifts = response._sampled(element, x)
    return np.asarray(np.einsum("cpi,pij->cpj", shifts[:, row, rank], mesh.axes[at]))
