"""Matrices of straight beam elements, all at once: stiffness, geometric stiffness, and what carries load to the ends.

Each is written in the element's own axes: x along it, twelve movements (three along, three turning, at each end).
Bending without shear deformation (Euler, Bernoulli); a tube as slender as those here loses under 0.5 % by that.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array

from gardenframe.strength.mesh import Floats, Ints, Mesh

Flags = NDArray[np.bool_]
ROOTS = 6  # of the geometric stiffness of an element
# rows of the four movements of bending, in plane x-y and in plane x-z, and the sign of a turn in each
IN_XY, IN_XZ = (1, 5, 7, 11), (2, 4, 8, 10)


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


def geometric_roots(mesh: Mesh) -> Floats:
    """Return six rows for each element whose squares add up to its geometric stiffness: (elements, 6, 12).

    By the chord's turn q and the ends' turns against the chord, a and b: L (q2 + (a + b)2/20 + (a - b)2/12) in either
    plane is the cubic's; a wire has the first only.
    """
    length = mesh.length_m
    root, bends = np.sqrt(length), np.where(mesh.wire, 0.0, 1.0)
    out = np.zeros((len(length), ROOTS, 12))
    for number, rows in enumerate((IN_XY, IN_XZ)):
        sign = 1.0 if rows == IN_XY else -1.0
        chord, both, apart = (out[:, 3 * number + i] for i in range(3))
        near, turn, far, end_turn = rows
        chord[:, far], chord[:, near] = root / length, -root / length
        both[:] = -2 * chord
        both[:, turn] = both[:, end_turn] = sign * root
        both *= bends[:, None] / math.sqrt(20)
        apart[:, turn], apart[:, end_turn] = sign * root * bends / math.sqrt(12), -sign * root * bends / math.sqrt(12)
    return out


@dataclass(frozen=True, slots=True)
class Steps:
    """Load on elements as steps and slopes: term i adds `size` <x - at>^power / power! to what is carried by x.

    Power 0 is a point load, 1 a uniform load that starts, 2 one that grows; brackets as in Macaulay's method. A term
    is a place of an element at which any case has one: it holds the sizes of all cases.
    """

    element: Ints
    at_m: Floats
    power: Ints
    size: Floats  # (terms, cases, 3) in the element's axes

    @classmethod
    def gathered(
        cls, mesh: Mesh, case: Ints, element: Ints, at_m: Floats, power: Ints, size: Floats, cases: int
    ) -> "Steps":
        """Return steps listed case by case, those at one place together."""
        place = (element * 3 + power) * 2 + at_m / mesh.length_m[element]
        _, first, term = np.unique(place, return_index=True, return_inverse=True)
        sizes = np.empty((len(first), cases, 3))
        slot = term * cases + case
        for i in range(3):
            sizes[:, :, i] = np.bincount(slot, size[:, i], minlength=len(first) * cases).reshape(len(first), cases)
        return cls(element[first], at_m[first], power[first], sizes)

    def levels(self, x_m: Floats, orders: int) -> Floats:
        """Return what is carried by places of the elements, integrated 0, 1, ... times: force, moment, bend, shift.

        Parameters
        ----------
        x_m : array (elements, points)
            Distances from the starts of the elements. [m]
        orders : int
            How many of them.

        Returns
        -------
        array (orders, cases, elements, points, 3)
        """
        elements, points = x_m.shape
        beyond = x_m[self.element] - self.at_m[:, None]
        reached, beyond = beyond >= 0, np.maximum(beyond, 0.0)
        power = self.power[:, None]
        weight = np.where(power == 0, 1.0, np.where(power == 1, beyond, beyond**2 / 2)) * reached
        weights = [weight]
        for n in range(1, orders):
            weights.append(weights[-1] * beyond / (power + n))
        # a matrix from terms to places: each column has the places of the term's own element, order after order
        row = self.element[:, None] * points + np.arange(points)
        rows = (np.arange(orders)[:, None] * (elements * points) + row[:, None]).ravel().astype(np.int32)
        starts = np.arange(len(row) + 1, dtype=np.int32) * (orders * points)
        shape = (orders * elements * points, len(row))
        spread = csc_array((np.stack(weights, axis=1).ravel(), rows, starts), shape=shape)
        cases = self.size.shape[1]
        found = (spread @ self.size.reshape(len(row), 3 * cases)).reshape(orders, elements, points, cases, 3)
        return np.asarray(found.transpose(0, 3, 1, 2, 4))


def upward(vectors: Floats, axes: Floats) -> Floats:
    """Return the vertical part (..., elements) of vectors (..., elements, 3) in axes (elements, 3, 3)."""
    x, y, z = axes[:, :, 2].T
    return np.asarray(vectors[..., 0] * x + vectors[..., 1] * y + vectors[..., 2] * z)


def leaned(vectors: Floats, mesh: Mesh, axis: int) -> Floats:
    """Return the vertical part of loads (..., elements, 3) turned to go along an axis: what a lean of 1 makes of it."""
    return -upward(vectors, mesh.axes)[..., None] * mesh.axes[:, :, axis]


def held_ends(mesh: Mesh, levels: Floats) -> Floats:
    """Return the end forces that hold the ends of loaded elements still: (cases, elements, 12).

    By Macaulay's method with no movement and no turn at either end; wires turn freely, so take shares only.

    Parameters
    ----------
    levels : array (4, cases, elements, 3)
        Of the steps, at the far ends.
    """
    force, moment, slope, shift = levels
    length = mesh.length_m
    span = length[None, :, None]
    stiff = ~mesh.wire[None, :, None]
    start = np.where(stiff, 12 * shift / span**3 - 6 * slope / span**2, -moment / span)
    start[:, :, 0] = -moment[:, :, 0] / length
    turning = np.where(stiff, 6 * shift / span**2 - 2 * slope / span, 0.0)
    end_turning = np.where(stiff, -turning + span * start + moment, 0.0)
    out = np.zeros((*force.shape[:2], 12))
    out[:, :, 0:3], out[:, :, 6:9] = start, -start - force
    out[:, :, 5], out[:, :, 4] = turning[:, :, 1], -turning[:, :, 2]
    out[:, :, 11], out[:, :, 10] = end_turning[:, :, 1], -end_turning[:, :, 2]
    return out
