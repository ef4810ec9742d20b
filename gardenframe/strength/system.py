"""The equations of a frame: assembled, factored once, solved for many loads; what can sway is named.

Unknowns are numbered so that the matrix is a narrow band, and Cholesky's method on a band beat a general sparse
factorisation up to several thousand elements when both were timed; beyond, the sparse one is used.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from scipy.linalg.lapack import dpbtrf, dpbtrs
from scipy.sparse import coo_array, csc_array
from scipy.sparse.linalg import splu

from gardenframe.errors import FrameError
from gardenframe.strength.mesh import Floats, Ints, Mesh

LOOSE = 1e-11  # a pivot this small against its own diagonal means that nothing resists that movement
WIDE_BAND = 2.0e9  # multiplications above which the general sparse factorisation is used


class NotStiff(Exception):  # noqa: N818 - caught here and in second order, never shown
    """The matrix is not positive definite."""


@dataclass(frozen=True)
class Pattern:
    """Where the entries of the elements' matrices go among the free unknowns."""

    mesh: Mesh

    @cached_property
    def size(self) -> int:
        """Free unknowns."""
        return len(self.mesh.free_unknowns)

    @cached_property
    def _pairs(self) -> tuple[Ints, Ints, Ints]:
        """Row, column and place in the elements' matrices of each entry on or below the diagonal."""
        free = self.mesh.free[self.mesh.unknowns]
        m = free.shape[1]
        row, column = np.repeat(free, m, axis=1).ravel(), np.tile(free, (1, m)).ravel()
        kept = np.flatnonzero((row >= column) & (column >= 0))
        return row[kept], column[kept], kept

    @cached_property
    def band(self) -> int:
        """Farthest that a row reaches below the diagonal."""
        row, column, _ = self._pairs
        return int((row - column).max(initial=0))

    @cached_property
    def _slots(self) -> Ints:
        row, column, _ = self._pairs
        return column * (self.band + 1) + row - column

    @cached_property
    def sparse_is_quicker(self) -> bool:
        """Whether the band is so wide that the general sparse factorisation is quicker."""
        return self.size * self.band**2 > WIDE_BAND

    def banded(self, matrices: Floats, diagonal: Floats) -> Floats:
        """Return the matrix as a band, one row an unknown, from the elements' and what is on the diagonal."""
        _, _, kept = self._pairs
        flat = np.bincount(self._slots, matrices.ravel()[kept], minlength=self.size * (self.band + 1))
        out = flat.astype(float, copy=False).reshape(self.size, self.band + 1)
        out[:, 0] += diagonal
        return out

    def sparse(self, matrices: Floats, diagonal: Floats) -> Any:
        """Return the matrix as a sparse one, both halves."""
        row, column, kept = self._pairs
        values = matrices.ravel()[kept]
        lower = csc_array(coo_array((values, (row, column)), shape=(self.size, self.size)))
        own = lower.diagonal()
        full = lower + lower.T
        full.setdiag(own + diagonal)
        return full


class Factored:
    """A matrix factored once."""

    def __init__(self, pattern: Pattern, matrices: Floats, diagonal: Floats) -> None:
        self.pattern = pattern
        self._sparse: Any = None
        if pattern.size == 0:  # everything is held
            return
        if pattern.sparse_is_quicker:
            self._factor_sparse(pattern.sparse(matrices, diagonal))
            return
        band = pattern.banded(matrices, diagonal)
        before = band[:, 0].copy()
        self._lower, info = dpbtrf(band.T, lower=1, overwrite_ab=1)
        if info != 0 or (self._lower[0] ** 2 < LOOSE * before).any():
            raise NotStiff

    def _factor_sparse(self, matrix: Any) -> None:
        try:
            self._sparse = splu(
                matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
            )
        except RuntimeError as error:  # exactly singular
            raise NotStiff from error
        pivots = self._sparse.U.diagonal()
        before = matrix.diagonal()
        order = np.empty_like(self._sparse.perm_c)
        order[self._sparse.perm_c] = np.arange(len(order))
        if (pivots < LOOSE * before[order]).any():
            raise NotStiff

    def solve(self, right: Floats) -> Floats:
        """Return the movements under loads, one column a load."""
        if not right.size or self.pattern.size == 0:
            return right.copy()
        if self._sparse is not None:
            return np.asarray(self._sparse.solve(np.ascontiguousarray(right)))
        out, _ = dpbtrs(self._lower, right, lower=1)
        return np.asarray(out)


def projected(mesh: Mesh, local: Floats) -> Floats:
    """Return the elements' matrices in terms of the unknowns."""
    return np.asarray(np.swapaxes(mesh.turn, 1, 2) @ (local @ mesh.turn))


def factored(pattern: Pattern, matrices: Floats, diagonal: Floats) -> Factored:
    """Return the factored stiffness, or raise FrameError naming the joints that nothing stops from moving."""
    try:
        return Factored(pattern, matrices, diagonal)
    except NotStiff:
        raise swaying(pattern, matrices, diagonal) from None


def swaying(pattern: Pattern, matrices: Floats, diagonal: Floats) -> FrameError:
    """Return the error that names the joints that move most in the movement that nothing resists."""
    mesh = pattern.mesh
    full = pattern.sparse(matrices, diagonal)
    size = np.abs(full.diagonal())
    shift = np.where(size > 0, size, size.max(initial=1.0)) * 1e-8
    full.setdiag(full.diagonal() + shift)
    factor = splu(csc_array(full))
    mode = np.cos(np.arange(pattern.size) * 1.7)  # any start that is not special
    for _ in range(6):
        mode = factor.solve(mode * size)
        mode /= np.abs(mode).max()
    every = np.zeros(mesh.count + 1)
    every[mesh.free_unknowns] = mode
    joints = np.where(mesh.joint_unknowns < 0, mesh.count, mesh.joint_unknowns)
    shifts, turns = np.abs(every[joints[:, :3]]).max(axis=1), np.abs(every[joints[:, 3:]]).max(axis=1)
    word, amount = ("sway", shifts) if shifts.max() > 1e-3 * np.abs(mode).max() else ("turn", turns)
    if amount.max() == 0:
        amount = amount + 1.0
    named = [mesh.joint_keys[i] for i in np.argsort(-amount, kind="stable")[:4] if amount[i] > amount.max() / 2]
    noun = "joint" if len(named) == 1 else "joints"
    return FrameError(f"this frame can {word} at {noun} {', '.join(sorted(named))}", "add a brace or a fixed foot")
