"""The equations of a frame: assembled, factored once, solved for many loads; what can sway is named.

A general sparse factorisation is used: Cholesky's method on a band is quicker alone, but its blocked kernels run in
threads, and on a busy machine waiting for them cost ten times what they gave (both were timed).
"""

from typing import Any

import numpy as np
from scipy.sparse import coo_array, csc_array, csr_array
from scipy.sparse.csgraph import connected_components
from scipy.sparse.linalg import splu

from gardenframe.errors import FrameError
from gardenframe.kept import cached_property
from gardenframe.strength.mesh import Floats, Ints, Mesh

LOOSE = 1e-11  # a pivot this small against its own diagonal means that nothing resists that movement


class NotStiff(Exception):  # noqa: N818 - caught here and in second order, never shown
    """The matrix is not positive definite."""


class Pattern:
    """Where the entries of the elements' matrices go among the free unknowns: found once, used for every matrix."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh
        self.size = len(mesh.free_unknowns)
        self._used = False

    def _first(self, matrices: Floats, diagonal: Floats) -> Any:
        """Return the sparse matrix of a pattern that may be needed only once."""
        free, own = self.mesh.free[self.mesh.unknowns], np.arange(self.size)
        m = free.shape[1]
        row, column = np.repeat(free, m, axis=1).ravel(), np.tile(free, (1, m)).ravel()
        kept = np.flatnonzero((row >= 0) & (column >= 0) & (matrices.ravel() != 0))
        values = np.concatenate([matrices.ravel()[kept], diagonal])
        places = np.concatenate([row[kept], own]), np.concatenate([column[kept], own])
        return csc_array(coo_array((values, places), shape=(self.size, self.size)))

    @cached_property
    def _places(self) -> tuple[Ints, Ints, Ints, Ints, Ints]:
        """Entries kept, where each is added, and the sparse matrix's rows, starts of columns and diagonal."""
        free = self.mesh.free[self.mesh.unknowns]
        m = free.shape[1]
        row, column = np.repeat(free, m, axis=1).ravel(), np.tile(free, (1, m)).ravel()
        kept = np.flatnonzero((row >= 0) & (column >= 0))
        every = np.arange(self.size) * (self.size + 1)  # the diagonal is always there
        keys, place = np.unique(np.concatenate([column[kept] * self.size + row[kept], every]), return_inverse=True)
        starts = np.searchsorted(keys, np.arange(self.size + 1) * self.size)
        return kept, place[: len(kept)], keys % max(self.size, 1), starts, place[len(kept) :]

    def matrix(self, matrices: Floats, diagonal: Floats) -> Any:
        """Return the sparse matrix of the frame from the elements' and what is on the diagonal."""
        if not self._used:
            self._used = True
            return self._first(matrices, diagonal)
        kept, place, rows, starts, own = self._places
        data = np.bincount(place, matrices.ravel()[kept], minlength=len(rows)).astype(float, copy=False)
        data[own] += diagonal
        return csc_array((data, rows.astype(np.int32), starts.astype(np.int32)), shape=(self.size, self.size))

    def rows(self, parts: Floats) -> Any:
        """Return rows of each element (elements, k, m) as a sparse matrix on the free unknowns."""
        free = self.mesh.free[self.mesh.unknowns]
        k = parts.shape[1]
        row = np.repeat(np.arange(len(parts) * k), free.shape[1])
        column, values = np.repeat(free, k, axis=0).ravel(), parts.ravel()
        kept = np.flatnonzero((column >= 0) & (values != 0))
        return csr_array((values[kept], (row[kept], column[kept])), shape=(len(parts) * k, self.size))


class Factored:
    """A matrix factored once; NotStiff where it is not positive definite."""

    def __init__(self, matrix: Any) -> None:
        self.size = matrix.shape[0]
        if self.size == 0:  # everything is held
            return
        before = matrix.diagonal()
        try:
            self._found = decomposed(matrix)
        except RuntimeError as error:  # exactly singular
            raise NotStiff from error
        order = np.argsort(self._found.perm_c)
        on_diagonal = np.array_equal(self._found.perm_c, self._found.perm_r)
        if not on_diagonal or (self._found.U.diagonal() < LOOSE * before[order]).any():
            raise NotStiff

    def solve(self, right: Floats) -> Floats:
        """Return the movements under loads, one column a load."""
        return np.asarray(self._found.solve(right)) if right.size else right.copy()


def decomposed(matrix: Any) -> Any:
    """Return the sparse factors of a symmetric matrix, pivots left on the diagonal."""
    return splu(
        matrix,
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        relax=1,  # this and the next: columns taken together by 16 cost a wide trellis ten times as much
        panel_size=1,
        options={"SymmetricMode": True},
    )


def factored(pattern: Pattern, matrix: Any) -> Factored:
    """Return the factored stiffness, or raise FrameError naming the joints that nothing stops from moving."""
    try:
        return Factored(matrix)
    except NotStiff:
        raise swaying(pattern, matrix) from None


def swaying(pattern: Pattern, matrix: Any) -> FrameError:
    """Return the error that names the joints that move most in the movement that nothing resists."""
    mesh = pattern.mesh
    loose = unheld(mesh)
    if loose:
        more = ", ..." if len(loose) > 4 else ""
        return FrameError(
            f"joints {', '.join(loose[:4])}{more}",
            "they are not joined to what stands on the ground: the frame is in two pieces",
            "Join them to the rest or hold them.",
        )
    full = matrix.copy()
    size = np.abs(full.diagonal())
    shift = np.where(size > 0, size, size.max(initial=1.0)) * 1e-8
    full.setdiag(full.diagonal() + shift)
    factor = decomposed(csc_array(full))
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


def unheld(mesh: Mesh) -> list[str]:
    """Return the joints of a piece of the frame that no support holds."""
    start, end = mesh.unknowns[:, 0], mesh.unknowns[:, mesh.unknowns.shape[1] // 2]
    graph = coo_array((np.ones(len(start)), (start, end)), shape=(mesh.count, mesh.count))
    _, piece = connected_components(graph, directed=False)
    body = mesh.joint_unknowns[:, 0]
    held = {piece[body[mesh.joint_index[joint]]] for joint in mesh.frame.held}
    return [key for key, b in zip(mesh.joint_keys, body, strict=True) if b >= 0 and piece[b] not in held]
