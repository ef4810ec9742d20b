"""Buckling: the factor on axial forces at which a frame sways away, for many cases side by side.

The roots are those of G v = root K v, where K is the frame's stiffness and G what its pushes take from it; the largest
root is one over the lowest factor.
"""

import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import numpy as np

from gardenframe.strength.element import ROOTS, Flags
from gardenframe.strength.mesh import Floats, Ints
from gardenframe.strength.system import Factored, NotStiff

if TYPE_CHECKING:
    from gardenframe.strength.stiffness import Model

EXACT = 1e-6  # of the buckling factor
FEW = 40  # unknowns below which all roots are found at once
MOST = 120  # steps of Lanczos
LOOKS = 4  # steps between two looks at the root
FAR = 1e-3  # one over a buckling factor beyond which nobody asks
NEAR = 1.05  # of the load factor: a bound on a case's factor this low is not taken for it
Solve = Callable[[Floats], Floats]


def lowest(model: "Model", axial_n: Floats, factor: Factored) -> Floats:
    """Return, for each case, the factor on axial forces at which a frame buckles; infinite if it does not.

    Parameters
    ----------
    model : Model
        The frame.
    axial_n : array (cases, elements)
        Tension in each element. [N]
    factor : Factored
        Its stiffness, slack wires out.
    """
    size, out = model.pattern.size, np.full(len(axial_n), np.inf)
    pushed = np.flatnonzero((axial_n < 0).any(axis=1))
    if size < 3 or not len(pushed):
        return out
    roots, back, push = model.roots, model.roots.T, np.repeat(-axial_n[pushed].T, ROOTS, axis=0)
    if size < FEW:
        found = np.array([_largest(factor.solve((back @ (roots * one[:, None])).toarray(order="F"))) for one in push.T])
    else:
        found = _lanczos(
            lambda moved, cases: back @ (push[:, cases] * (roots @ moved)), factor.solve, size, len(pushed)
        )
    out[pushed] = np.where(found > 1e-12, 1 / np.maximum(found, 1e-12), np.inf)
    return out


def _largest(full: Floats) -> float:
    """Return the largest root of a small matrix."""
    return float(np.linalg.eigvals(full).real.max())


def _lanczos(pushed: Callable[[Floats, Ints], Floats], solve: Solve, size: int, cases: int) -> Floats:
    """Return the largest root of K^-1 G of each case by Lanczos with every step made square to those before.

    All cases take their steps side by side, each until its root is known. K itself is never needed: each step keeps
    w = K v beside v. `pushed` takes v (size, cases) and the numbers of the cases to G v.
    """
    right = np.sin(np.arange(1.0, size + 1) ** 1.3)
    vector = solve(right)
    scale = math.sqrt(float(vector @ right))
    steps, out, going = min(MOST, size), np.zeros(cases), np.arange(cases)
    basis, images = np.empty((2, cases, min(4 * LOOKS, steps), size))
    basis[:, 0], images[:, 0] = vector / scale, right / scale
    main, side = np.zeros((2, cases, steps))
    for step in range(steps):
        pull = pushed(np.ascontiguousarray(basis[:, step].T), going).T
        main[:, step] = np.einsum("cs,cs->c", pull, basis[:, step])
        before, beside = basis[:, : step + 1], images[:, : step + 1]
        rest = pull - _mixed(beside, before @ pull[:, :, None])
        rest -= _mixed(beside, before @ rest[:, :, None])
        new = solve(rest.T).T
        side[:, step] = np.sqrt(np.maximum(np.einsum("cs,cs->c", new, rest), 0.0))
        on = side[:, step] >= 1e-13 * np.abs(main[:, : step + 1]).max(axis=1)
        on &= step + 1 < steps
        if step % LOOKS == LOOKS - 1 or not on.all():
            roots, ends = _tips(main[:, : step + 1], side[:, :step])
            out[going] = roots
            # the root is as near as the square of what is missed
            on &= (side[:, step] * ends) ** 2 >= EXACT * np.maximum(roots, FAR) ** 2
            if not on.all():
                going, basis, images, main, side = going[on], basis[on], images[on], main[on], side[on]
                new, rest = new[on], rest[on]
            if not len(going):
                break
        if step + 1 == basis.shape[1]:
            more = np.empty((len(going), min(basis.shape[1], steps - basis.shape[1]), size))
            basis, images = np.concatenate([basis, more], axis=1), np.concatenate([images, more], axis=1)
        basis[:, step + 1], images[:, step + 1] = (part / side[:, step, None] for part in (new, rest))
    return out


def _mixed(vectors: Floats, shares: Floats) -> Floats:
    """Return sums of vectors (cases, k, size), each times its share (cases, k, 1)."""
    return np.asarray((np.swapaxes(shares, 1, 2) @ vectors)[:, 0])


def _tips(main: Floats, side: Floats) -> tuple[Floats, Floats]:
    """Return the largest root of each tridiagonal matrix, and how much of the last step is in its vector."""
    from scipy.linalg import eigh_tridiagonal  # slow to import, not before it is needed

    last = (main.shape[1] - 1, main.shape[1] - 1)
    found = [eigh_tridiagonal(a, b, select="i", select_range=last) for a, b in zip(main, side, strict=True)]
    return np.array([values[0] for values, _ in found]), np.array([abs(vectors[-1, 0]) for _, vectors in found])


def buckling_factors(model: "Model", axial_n: Floats, names: Sequence[str], slack: Flags) -> dict[str, float]:
    """Return the factor on the loads of each case at which the frame buckles, by its axial forces (cases, elements)."""
    out = np.empty(len(names))
    tight = ~slack.any(axis=1)
    out[tight] = lowest(model, axial_n[tight], model.factored)
    for number in np.flatnonzero(~tight):
        out[number] = lowest(model, axial_n[[number]], without(model, slack[number]))[0]
    return dict(zip(names, out.tolist(), strict=True))


def without(model: "Model", slack: Flags) -> Factored:
    """Return the factored stiffness without the slack wires."""
    if not slack.any():
        return model.factored
    return Factored(model.pattern.matrix(model.matrices * ~slack[:, None, None], model.diagonal))


def at_least(model: "Model", axial_n: Floats, names: Sequence[str], slack: Flags, times: float) -> dict[str, float]:
    """Return a factor below which no case buckles, by one eigenproblem; a case's own where that is too near.

    The one takes in each element the largest push of any case: no case buckles at a lower factor, and one whose pushes
    are all below some share of it has at least that much more.
    """
    most = np.minimum(axial_n.min(axis=0), 0.0)
    pushing = most < 0
    if not pushing.any():
        return dict.fromkeys(names, np.inf)
    every: Flags = np.asarray(slack.any(axis=0))
    try:
        factor = float(lowest(model, most[None], without(model, every))[0])
    except NotStiff:  # without all the wires that are ever slack it cannot stand: each case by itself
        factor = 0.0
    share = (axial_n[:, pushing] / most[pushing]).max(axis=1)
    bound = np.where(share > 0, factor / np.where(share > 0, share, 1.0), np.inf)
    near = np.flatnonzero(bound <= NEAR * times)
    own = buckling_factors(model, axial_n[near], [names[i] for i in near.tolist()], slack[near])
    return dict(zip(names, bound.tolist(), strict=True)) | own
