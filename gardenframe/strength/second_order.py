"""Sway and buckling: equilibrium on the moved frame, the factor at which it buckles, and a quick amplified estimate.

The frame stands a little out of plumb; what that adds is laid on as sideways shares of the vertical loads, in the
direction that adds most to the sway. Axial forces enter by the geometric stiffness (bowing of each element included);
twisting moments that change direction as joints turn do not.
"""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from gardenframe.strength.element import Flags, Steps, held_ends
from gardenframe.strength.loading import Loading, gathered
from gardenframe.strength.mesh import Floats, Mesh
from gardenframe.strength.response import Response
from gardenframe.strength.system import Factored, NotStiff

if TYPE_CHECKING:
    from gardenframe.strength.stiffness import Model

OUT_OF_PLUMB = 0.002  # lean per height, AISC 360 C2.2a (from memory)
LOAD_FACTOR = 1.6  # on ASD combinations in second order, AISC 360 C2.1 (from memory)
ROUNDS = 30
SETTLED = 1e-4  # change of the largest axial force in a round
PASSES = 8  # of the quick estimate, each with the axial forces of the one before
NEARLY = 0.01  # change of the largest axial force in a pass
CORRECTIONS = 40
CORRECTED = 3e-4  # what the quick estimate may miss, in the measure of energy
EXACT = 1e-6  # of the buckling factor
FAR = 1e-3  # one over a buckling factor beyond which nobody asks


def tension_n(ends: Floats) -> Floats:
    """Return the mean tension of each element from its end forces. [N]"""
    return np.asarray((ends[..., 6] - ends[..., 0]) / 2)


# -- buckling --------------------------------------------------------------------------------------------------------


def lowest(model: "Model", axial_n: Floats, factor: Factored) -> tuple[float, Floats]:
    """Return the factor on axial forces at which a frame buckles (infinite if it does not) and how it moves then.

    Parameters
    ----------
    model : Model
        The frame.
    axial_n : array (elements,)
        Tension in each element. [N]
    factor : Factored
        Its stiffness, slack wires out.
    """
    size = model.pattern.size
    if not (axial_n < 0).any() or size < 3:
        return np.inf, np.zeros(size)
    pushed = model.pattern.matrix(-axial_n[:, None, None] * model.geometric_matrices, np.zeros(size))
    root, shape = _largest(pushed, factor.solve, size)
    return (1 / root if root > 1e-12 else np.inf), shape


def _largest(pushed: Any, solve: Callable[[Floats], Floats], size: int) -> tuple[float, Floats]:
    """Return the largest root of G v = root K v and its vector (Lanczos, in the measure of K)."""
    if size < 40:
        full = solve(np.asfortranarray(pushed.toarray()))
        roots, vectors = np.linalg.eig(full)
        best = int(np.argmax(roots.real))
        return float(roots.real[best]), vectors[:, best].real
    return _lanczos(pushed, solve, size)


def _lanczos(pushed: Any, solve: Callable[[Floats], Floats], size: int, most: int = 120) -> tuple[float, Floats]:
    """Return the largest root and vector of K^-1 G by Lanczos with every step made square to those before.

    K itself is never needed: each step keeps w = K v beside v.
    """
    from scipy.linalg import eigh_tridiagonal  # slow to import, not before it is needed

    right = np.sin(np.arange(1.0, size + 1) ** 1.3)
    vector = solve(right)
    scale = np.sqrt(vector @ right)
    basis, images = np.zeros((2, most, size))
    basis[0], images[0] = vector / scale, right / scale
    main, side = np.zeros(most), np.zeros(most)
    root, known, steps = 0.0, np.ones(1), min(most, size)
    for step in range(steps):
        pull = pushed @ basis[step]
        main[step] = pull @ basis[step]
        rest = pull - images[: step + 1].T @ (basis[: step + 1] @ pull)
        rest -= images[: step + 1].T @ (basis[: step + 1] @ rest)
        new = solve(rest)
        side[step] = np.sqrt(max(new @ rest, 0.0))
        spent = side[step] < 1e-13 * np.abs(main[: step + 1]).max() or step + 1 == steps
        if step % 4 == 3 or spent:
            last = (step, step)
            values, vectors = eigh_tridiagonal(main[: step + 1], side[:step], select="i", select_range=last)
            root, known = float(values[0]), vectors[:, 0]
            missed = side[step] * abs(known[-1])
            if spent or missed**2 < EXACT * max(root, FAR) ** 2:  # the root is as near as the square of what is missed
                break
        basis[step + 1], images[step + 1] = new / side[step], rest / side[step]
    return root, known @ basis[: len(known)]


def buckling_factors(model: "Model", ends: Floats, names: Sequence[str], slack: Flags) -> dict[str, float]:
    """Return the factor on the loads of each case at which the frame buckles, by the axial forces of first order."""
    axial = tension_n(ends)
    out = {}
    for number, name in enumerate(names):
        out[name] = lowest(model, axial[number], _without(model, slack[number]))[0]
    return out


def _without(model: "Model", slack: Flags) -> Factored:
    """Return the factored stiffness without the slack wires."""
    if not slack.any():
        return model.factored
    return Factored(model.pattern, model.matrices * ~slack[:, None, None], model.diagonal)


# -- out of plumb ----------------------------------------------------------------------------------------------------


def leaning(mesh: Mesh, loading: Loading) -> list[Loading]:
    """Return what a lean of 1 per height along x, and along y, adds to each case: vertical loads turned sideways."""
    out = []
    vertical = np.einsum("ti,ti->t", loading.steps.size, mesh.axes[loading.steps.element][:, :, 2])
    cases = len(loading.on_unknowns)
    for axis in (0, 1):
        sideways = -vertical[:, None] * mesh.axes[loading.steps.element][:, :, axis]
        steps = Steps(
            loading.steps.case, loading.steps.element, loading.steps.at_m, loading.steps.power, sideways
        )  # fmt: skip
        ends = held_ends(mesh, steps, cases)
        joints = np.zeros_like(loading.at_joints)
        reached = mesh.joint_unknowns[mesh.joint_unknowns[:, 0] >= 0]
        joints[:, reached[:, axis]] = -loading.at_joints[:, reached[:, 2]]
        total = np.zeros((cases, 3))
        total[:, axis] = -loading.total[:, 2]
        out.append(Loading(steps, ends, joints, joints - gathered(mesh, ends), total))
    return out


def worst_direction(sway: Floats, gives: Floats, lean: float) -> Floats:
    """Return, for each case, the unit direction (x, y) of the lean that makes the sway largest.

    Parameters
    ----------
    sway : array (cases, 2)
        Vertical loads times the sideways movement under the case. [N m]
    gives : array (cases, 2, 2)
        The same under a lean of 1 along x and along y. [N m]
    lean : float
        Lean per height.
    """
    _, vectors = np.linalg.eigh(gives + np.swapaxes(gives, 1, 2))
    way = vectors[:, :, -1]
    way = way * np.where((way * sway).sum(axis=1, keepdims=True) < 0, -1.0, 1.0)
    for _ in range(20):
        reached = sway + lean * np.einsum("cij,cj->ci", gives, way)
        new = np.einsum("cji,cj->ci", gives, reached)
        size = np.linalg.norm(new, axis=1, keepdims=True)
        way = np.where(size > 0, new / np.where(size > 0, size, 1.0), way)
    return way


def _plumb(model: "Model", loading: Loading, factors: Floats, lean: float) -> tuple[Loading, Floats]:
    """Return the loading with the lean's share of each case added as further unit cases, and factors on them all."""
    if lean == 0:
        return loading, factors
    mesh, free = model.mesh, model.mesh.free_unknowns
    parts = [loading, *leaning(mesh, loading)]
    pushes = [(factors @ part.on_unknowns)[:, free] for part in parts]
    found = model.factored.solve(np.asfortranarray(np.concatenate(pushes).T)).T.reshape(3, len(factors), -1)
    side = np.stack(pushes[1:], axis=1)
    sway = np.einsum("cif,cf->ci", side, found[0])
    gives = np.einsum("cif,jcf->cij", side, found[1:])
    way = worst_direction(sway, gives, lean) * lean
    count = len(loading.on_unknowns)
    steps = Steps(
        np.concatenate([part.steps.case + count * i for i, part in enumerate(parts)]),
        *(
            np.concatenate([getattr(part.steps, name) for part in parts])
            for name in ("element", "at_m", "power", "size")
        ),
    )
    arrays = (
        np.concatenate([getattr(p, name) for p in parts]) for name in ("held_ends", "at_joints", "on_unknowns", "total")
    )
    return Loading(steps, *arrays), np.concatenate([factors, factors * way[:, :1], factors * way[:, 1:]], axis=1)


# -- the two responses -----------------------------------------------------------------------------------------------


def respond(
    model: "Model", loading: Loading, factors: Floats, names: tuple[str, ...], order: str, lean: float, times: float
) -> Response:
    """Return the amplified or the second-order response to combinations of the cases laid on a model."""
    loading, factors = _plumb(model, loading, factors, lean)
    right = factors @ loading.on_unknowns
    held = np.tensordot(factors, loading.held_ends, 1)
    unknowns, slack = model.moved(right, names)
    ends = model.end_forces(unknowns, held, slack)
    buckled: tuple[str, ...] = ()
    known: dict[str, float] | None = None
    if order == "second":
        unknowns, ends, slack, buckled = _moved_frame(model, right, held, ends, unknowns, slack, names, times)
    else:
        unknowns, ends, known, buckled = _amplified(model, right, held, unknowns, ends, slack, names, times)
    return Response(
        mesh=model.mesh,
        cases=names,
        order=order,
        unknowns=unknowns,
        ends=ends,
        steps=loading.steps,
        factors=factors,
        at_joints=factors @ loading.at_joints,
        total_load_n=factors @ loading.total,
        slack=model.slack_names(slack, names),
        buckled=buckled,
        sway_share=times,
        factors_of_buckling=known,
        _buckling=lambda: buckling_factors(model, ends, names, slack),
    )


def _moved_frame(
    model: "Model",
    right: Floats,
    held: Floats,
    ends: Floats,
    unknowns: Floats,
    slack: Flags,
    names: tuple[str, ...],
    times: float,
) -> tuple[Floats, Floats, Flags, tuple[str, ...]]:
    """Return second-order movements and end forces, divided by the load factor again, and the cases that buckle."""
    unknowns, ends, slack = unknowns.copy(), ends.copy(), slack.copy()
    buckled = []
    for number, name in enumerate(names):
        try:
            found = _settle(model, right[number] * times, held[number] * times, ends[number] * times, slack[number])
        except NotStiff:
            buckled.append(name)
            continue
        unknowns[number], ends[number], slack[number] = found[0] / times, found[1] / times, found[2]
    return unknowns, ends, slack, tuple(buckled)


def _settle(model: "Model", right: Floats, held: Floats, ends: Floats, slack: Flags) -> tuple[Floats, Floats, Flags]:
    """Return movements, end forces and slack wires of one case on the moved frame; NotStiff where it buckles."""
    mesh, free = model.mesh, model.mesh.free_unknowns
    axial, full = tension_n(ends), np.zeros(mesh.count + 1)
    for _ in range(ROUNDS):
        pulling = ~slack
        matrices = (model.matrices + axial[:, None, None] * model.geometric_matrices) * pulling[:, None, None]
        factor = Factored(model.pattern, matrices, model.diagonal)
        full[free] = factor.solve(np.asfortranarray(right[free, None]))[:, 0]
        local = np.einsum("eij,ej->ei", mesh.turn, full[mesh.unknowns])
        bent = np.einsum("eij,ej->ei", model.stiffness, local)
        swayed = axial[:, None] * np.einsum("eij,ej->ei", model.geometric, local)
        ends = (bent + swayed) * pulling[:, None] + held
        new = tension_n(bent * pulling[:, None] + held)
        loose = mesh.wire & (local[:, 6] < local[:, 0])
        change = np.abs(new - axial).max(initial=0.0)
        axial, same, slack = new, (loose == slack).all(), loose
        if same and change <= SETTLED * np.abs(new).max(initial=0.0):
            return full[: mesh.count], ends, slack
    raise NotStiff  # the sway feeds on itself and does not come to rest


def _amplified(
    model: "Model",
    right: Floats,
    held: Floats,
    unknowns: Floats,
    ends: Floats,
    slack: Flags,
    names: tuple[str, ...],
    times: float,
) -> tuple[Floats, Floats, dict[str, float], tuple[str, ...]]:
    """Return first order amplified: slack wires as they are, sway corrected with the one factorisation.

    Buckling comes from one case, which takes in each element the largest push of any case: no case buckles at a lower
    factor, and one whose pushes are all below some share of it has at least that much more.
    """
    axial = tension_n(ends)
    known = _at_least(model, axial, slack, names, times)
    unknowns, ends = unknowns.copy(), ends.copy()
    buckled = []
    for number, name in enumerate(names):
        if known[name] <= times:
            buckled.append(name)
            continue
        pull, moved, bent = axial[number] * times, unknowns[number], ends[number]
        try:
            for _ in range(PASSES):
                moved = _corrected(model, right[number], moved, pull, slack[number])
                bent = _ends_moved(model, moved, pull, held[number], slack[number])
                before, pull = pull, tension_n(bent) * times
                if np.abs(pull - before).max() <= NEARLY * np.abs(pull).max():
                    unknowns[number], ends[number] = moved, bent
                    break
            else:
                buckled.append(name)
        except NotStiff:
            buckled.append(name)
    return unknowns, ends, known, tuple(buckled)


def _at_least(model: "Model", axial: Floats, slack: Flags, names: tuple[str, ...], times: float) -> dict[str, float]:
    """Return a factor below which no case buckles, by one eigenproblem; a case's own where that is too near."""
    most = np.minimum(axial.min(axis=0), 0.0)
    pushing = most < 0
    if not pushing.any():
        return dict.fromkeys(names, np.inf)
    every: Flags = np.asarray(slack.any(axis=0))
    try:
        factor = lowest(model, most, _without(model, every))[0]
    except NotStiff:  # without all the wires that are ever slack it cannot stand: each case by itself
        factor = 0.0
    share = (axial[:, pushing] / most[pushing]).max(axis=1)
    out = {}
    for number, name in enumerate(names):
        own = factor / share[number] if share[number] > 0 else np.inf
        if own <= 1.05 * times:
            own = lowest(model, axial[number], _without(model, slack[number]))[0]
        out[name] = float(own)
    return out


def _corrected(model: "Model", right: Floats, start: Floats, axial_n: Floats, slack: Flags) -> Floats:
    """Return movements with the sway that axial forces add: conjugate gradients, the frame's own factors leading."""
    free = model.mesh.free_unknowns
    matrices = (model.matrices + axial_n[:, None, None] * model.geometric_matrices) * ~slack[:, None, None]
    swaying = model.pattern.matrix(matrices, model.diagonal)
    moved = start[free]
    left = right[free] - swaying @ moved
    way = answer = model.factored.solve(left)
    size = float(left @ answer)
    enough = CORRECTED**2 * abs(float(moved @ right[free]))
    for _ in range(CORRECTIONS):
        if size <= enough:
            break
        pull = swaying @ way
        resisted = float(way @ pull)
        if resisted <= 0:
            raise NotStiff
        step = size / resisted
        moved = moved + step * way
        left = left - step * pull
        answer = model.factored.solve(left)
        size, before = float(left @ answer), size
        way = answer + size / before * way
    out = np.zeros(model.mesh.count)
    out[free] = moved
    return out


def _ends_moved(model: "Model", unknowns: Floats, axial_n: Floats, held: Floats, slack: Flags) -> Floats:
    """Return the end forces of one case on the moved frame."""
    local = np.einsum("eij,ej->ei", model.mesh.turn, np.append(unknowns, 0.0)[model.mesh.unknowns])
    bent = np.einsum("eij,ej->ei", model.stiffness, local)
    swayed = axial_n[:, None] * np.einsum("eij,ej->ei", model.geometric, local)
    return np.asarray((bent + swayed) * ~slack[:, None] + held)
