"""Matrices of straight beam elements, all at once: stiffness, geometric stiffness, and what carries load to the ends.

Each is written in the element's own axes: x along it, twelve movements (three along, three turning, at each end).
Bending without shear deformation (Euler, Bernoulli); a tube as slender as those here loses under 0.5 % by that.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gardenframe.strength.mesh import Floats, Ints, Mesh

Flags = NDArray[np.bool_]
# rows of the four movements of bending, in plane x-y and in plane x-z, and the sign of a turn in each
IN_XY, IN_XZ = (1, 5, 7, 11), (2, 4, 8, 10)
FACTORIAL = np.array([math.factorial(n) for n in range(10)], dtype=float)


def _bending(length_m: Floats, shift: float, mixed: float, near: float, far: float) -> Floats:
    """Return the symmetric 4 x 4 of two shifts and two turns from its four coefficients."""
    one = np.ones_like(length_m)
    a, b = shift * one, mixed * length_m
    c, d = near * length_m**2, far * length_m**2
    rows = [[a, b, -a, b], [b, c, -b, d], [-a, -b, a, -b], [b, d, -b, c]]
    return np.moveaxis(np.array(rows), -1, 0)


def _placed(out: Floats, block: Floats, rows: tuple[int, ...]) -> None:
    sign = np.array([1.0, 1.0, 1.0, 1.0]) if rows == IN_XY else np.array([1.0, -1.0, 1.0, -1.0])
    out[np.ix_(range(len(out)), rows, rows)] += block * sign[:, None] * sign


def elastic(mesh: Mesh) -> Floats:
    """Return the stiffness of each element in its own axes; wires have it along their axis only."""
    length = mesh.length_m
    axial, about_y, about_z, twist = mesh.stiff.T
    bends = np.where(mesh.wire, 0.0, 1.0) / length**3
    out = np.zeros((len(length), 12, 12))
    cubic = _bending(length, 12, 6, 4, 2)
    _placed(out, cubic * (about_z * bends)[:, None, None], IN_XY)
    _placed(out, cubic * (about_y * bends)[:, None, None], IN_XZ)
    for row, value in ((0, axial / length), (3, np.where(mesh.wire, 0.0, twist) / length)):
        out[:, row, row] = out[:, row + 6, row + 6] = value
        out[:, row, row + 6] = out[:, row + 6, row] = -value
    return out


def geometric(mesh: Mesh) -> Floats:
    """Return the geometric stiffness of each element under a tension of 1 N: consistent with the cubic.

    K_g = N/L [6/5, L/10; L/10, 2 L2/15 ...] in both planes (from memory; the benchmark columns confirm it);
    that of a stretched string for wires.
    """
    length = mesh.length_m
    cubic = _bending(length, 6 / 5, 1 / 10, 2 / 15, -1 / 30)
    string = _bending(length, 1, 0, 0, 0)
    block = np.where(mesh.wire[:, None, None], string, cubic) / length[:, None, None]
    out = np.zeros((len(length), 12, 12))
    _placed(out, block, IN_XY)
    _placed(out, block, IN_XZ)
    return out


@dataclass(frozen=True, slots=True)
class Steps:
    """Load on elements as steps and slopes: term i adds `size` <x - at>^power / power! to what is carried by x.

    Power 0 is a point load, 1 a uniform load that starts, 2 one that grows; brackets as in Macaulay's method.
    """

    case: Ints
    element: Ints
    at_m: Floats
    power: Ints
    size: Floats  # (terms, 3) in the element's axes

    def level(self, x_m: Floats, n: int) -> Floats:
        """Return each term integrated n times at a place of its element: (terms, points, 3).

        Parameters
        ----------
        x_m : array (terms, points)
            Distance from the start of the element. [m]
        n : int
            0 force carried, 1 its moment, 2 and 3 what bends and shifts.
        """
        beyond = x_m - self.at_m[:, None]
        power = (self.power + n)[:, None]
        weight = np.where(beyond >= 0, np.abs(beyond) ** power / FACTORIAL[power], 0.0)
        return np.asarray(weight[:, :, None] * self.size[:, None, :])

    def summed(self, values: Floats, cases: int, elements: int) -> Floats:
        """Return terms (terms, points, k) added up by case and element: (cases, elements, points, k)."""
        points, k = values.shape[1:]
        slot = ((self.case * elements + self.element) * points)[:, None] + np.arange(points)
        flat = slot[:, :, None] * k + np.arange(k)
        total = np.bincount(flat.ravel(), values.ravel(), minlength=cases * elements * points * k)
        return total.astype(float, copy=False).reshape(cases, elements, points, k)


def held_ends(mesh: Mesh, steps: Steps, cases: int) -> Floats:
    """Return the end forces that hold the ends of loaded elements still: (cases, elements, 12).

    By Macaulay's method with no movement and no turn at either end; wires turn freely, so take shares only.
    """
    length = mesh.length_m
    far = length[steps.element][:, None]
    levels = np.concatenate([steps.level(far, n) for n in range(4)], axis=2)
    total = steps.summed(levels, cases, mesh.elements)[:, :, 0]
    force, moment, slope, shift = (total[:, :, 3 * n : 3 * n + 3] for n in range(4))
    span = length[None, :, None]
    stiff = ~mesh.wire[None, :, None]
    start = np.where(stiff, 12 * shift / span**3 - 6 * slope / span**2, -moment / span)
    start[:, :, 0] = -moment[:, :, 0] / length
    turning = np.where(stiff, 6 * shift / span**2 - 2 * slope / span, 0.0)
    end_turning = np.where(stiff, -turning + span * start + moment, 0.0)
    out = np.zeros((cases, mesh.elements, 12))
    out[:, :, 0:3], out[:, :, 6:9] = start, -start - force
    out[:, :, 5], out[:, :, 4] = turning[:, :, 1], -turning[:, :, 2]
    out[:, :, 11], out[:, :, 10] = end_turning[:, :, 1], -end_turning[:, :, 2]
    return out
