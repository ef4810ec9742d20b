"""Sway: equilibrium on the moved frame, and a quick amplified estimate of it.

The frame stands a little out of plumb; what that adds is laid on as sideways shares of the vertical loads, in the
direction that adds most to the sway. Axial forces enter by the geometric stiffness (bowing of each element included);
twisting moments that change direction as joints turn do not.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from gardenframe.strength.buckling import at_least, buckling_factors
from gardenframe.strength.element import ROOTS, Flags, held_ends, leaned
from gardenframe.strength.loading import Loading, gathered
from gardenframe.strength.mesh import Floats, Ints, Mesh
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
FAINT = 1e-6  # sway this small against that of the lean has no direction


def tension_n(ends: Floats) -> Floats:
    """Return the mean tension of each element from its end forces. [N]"""
    return np.asarray((ends[..., 6] - ends[..., 0]) / 2)


# -- out of plumb ----------------------------------------------------------------------------------------------------


def leaning(mesh: Mesh, loading: Loading) -> list[tuple[Floats, Floats, Floats]]:
    """Return what a lean of 1 per height along x, and along y, adds to each case: vertical loads turned sideways.

    Each as end forces that hold elements still, loads at joints and loads on unknowns.
    """
    out = []
    reached = mesh.joint_unknowns[mesh.joint_unknowns[:, 0] >= 0]
    for axis in (0, 1):
        ends = held_ends(mesh, leaned(loading.carried, mesh, axis))
        joints = np.zeros_like(loading.at_joints)
        joints[:, reached[:, axis]] = -loading.at_joints[:, reached[:, 2]]
        out.append((ends, joints, joints - gathered(mesh, ends)))
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
    way = way * np.where(way.sum(axis=1, keepdims=True) < 0, -1.0, 1.0)
    faint = FAINT * lean * np.abs(gives).max(axis=(1, 2), initial=0.0)  # either side is as bad: not left to rounding
    way = way * np.where((way * sway).sum(axis=1) < -faint, -1.0, 1.0)[:, None]
    push, turn = np.einsum("cji,cj->ci", gives, sway), lean * (np.swapaxes(gives, 1, 2) @ gives)
    for _ in range(20):
        new = push + (turn @ way[:, :, None])[:, :, 0]
        size = np.hypot(new[:, :1], new[:, 1:])
        way = np.where(size > 0, new / np.where(size > 0, size, 1.0), way)
    return way


@dataclass(frozen=True, slots=True)
class Put:
    """What combinations put on a model, out of plumb, and how it moves to first order with every wire pulling."""

    right: Floats  # (combinations, unknowns): loads on unknowns
    held: Floats  # (combinations, elements, 12): end forces that hold elements still
    at_joints: Floats
    total: Floats
    lean: Floats  # (combinations, 2): the direction that adds most
    found: Floats  # (free unknowns, combinations)


def _put(model: "Model", loading: Loading, factors: Floats, lean: float) -> Put:
    """Return what combinations of cases put on a model that leans."""
    mesh, free, many = model.mesh, model.mesh.free_unknowns, len(factors)
    upright = (loading.held_ends, loading.at_joints, loading.on_unknowns)
    parts = [upright, *(leaning(mesh, loading) if lean else ())]
    units = np.stack([part[2] for part in parts])[:, :, free]
    pushed = factors @ units
    found = _solved(model, pushed) if many < units.shape[1] else factors @ _solved(model, units)
    way = np.zeros((many, 2))
    if lean:
        side = pushed[1:].transpose(1, 0, 2)
        sway = (side @ found[0][:, :, None])[:, :, 0]
        way = worst_direction(sway, side @ found[1:].transpose(1, 2, 0), lean) * lean
    share = np.concatenate([np.ones((many, 1)), way], axis=1)[:, : len(parts)]
    mixed = np.concatenate([factors * one for one in share.T[:, :, None]], axis=1)
    held, at_joints, right = (np.tensordot(mixed, np.concatenate(kind), 1) for kind in zip(*parts, strict=True))
    total = factors @ loading.total
    total[:, :2] -= way * total[:, 2:]
    return Put(right, held, at_joints, total, way, np.einsum("ci,icf->fc", share, found))


def _solved(model: "Model", loads: Floats) -> Floats:
    """Return movements under loads (parts, cases, free unknowns), every wire pulling."""
    rows = loads.reshape(-1, loads.shape[-1])
    found, loaded = np.zeros_like(rows), rows.any(axis=1)  # a push at a joint turns no weight sideways
    found[loaded] = model.factored.solve(np.asfortranarray(rows[loaded].T)).T
    return found.reshape(loads.shape)


# -- the two responses -----------------------------------------------------------------------------------------------


def respond(
    model: "Model", loading: Loading, factors: Floats, names: tuple[str, ...], order: str, lean: float, times: float
) -> Response:
    """Return the amplified or the second-order response to combinations of the cases laid on a model."""
    put = _put(model, loading, factors, lean)
    unknowns, slack = model.settled(put.found, names)
    ends = model.end_forces(unknowns, put.held, slack)
    buckled: tuple[str, ...] = ()
    known: dict[str, float] | None = None
    if order == "second":
        unknowns, ends, slack, buckled = _moved_frame(model, put.right, put.held, ends, unknowns, slack, names, times)
    else:
        unknowns, ends, known, buckled = _amplified(model, put.right, put.held, unknowns, ends, slack, names, times)
    return Response(
        mesh=model.mesh,
        cases=names,
        order=order,
        unknowns=unknowns,
        ends=ends,
        steps=loading.steps,
        factors=factors,
        lean=put.lean,
        at_joints=put.at_joints,
        total_load_n=put.total,
        slack=model.slack_names(slack, names),
        buckled=buckled,
        sway_share=times,
        factors_of_buckling=known,
        _buckling=lambda: buckling_factors(model, tension_n(ends), names, slack),
        _kept={"carried": loading.carried[:2]},
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
        factor = Factored(model.pattern.matrix(matrices, model.diagonal))
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

    Which cases buckle comes from `at_least`.
    """
    axial = tension_n(ends)
    known = at_least(model, axial, names, slack, times)
    unknowns, ends = unknowns.copy(), ends.copy()
    stands = np.array([known[name] > times for name in names], dtype=bool)
    going = np.flatnonzero(stands)  # all combinations side by side, each until it has settled
    pull, moved = axial[going] * times, unknowns[going]
    for _ in range(PASSES):
        if not len(going):
            break
        moved, firm = _corrected(model, right[going], moved, pull, slack[going])
        bent = _ends_moved(model, moved, pull, held[going], slack[going])
        before, pull = pull, tension_n(bent) * times
        settled = np.abs(pull - before).max(axis=1) <= NEARLY * np.abs(pull).max(axis=1)
        stands[going[~firm]] = False
        kept = going[settled & firm]
        unknowns[kept], ends[kept] = moved[settled & firm], bent[settled & firm]
        on = ~settled & firm
        going, pull, moved = going[on], pull[on], moved[on]
    stands[going] = False
    return unknowns, ends, known, tuple(name for name, firm in zip(names, stands, strict=True) if not firm)


def _corrected(
    model: "Model", right: Floats, start: Floats, axial_n: Floats, slack: Flags
) -> tuple[Floats, Flags]:  # fmt: skip
    """Return movements of cases with the sway that axial forces add, and which cases resist it.

    Conjugate gradients, the frame's own factors leading: each case has its own steps, all are taken side by side.
    """
    free = model.mesh.free_unknowns
    loads, moved = right[:, free].T, start[:, free].T.copy()
    swaying = Swaying(model, axial_n, slack)
    left = loads - swaying.pull(moved, np.arange(len(right)))
    way = answer = model.factored.solve(np.asfortranarray(left))
    size = np.einsum("fc,fc->c", left, answer)
    enough = CORRECTED**2 * np.abs(np.einsum("fc,fc->c", moved, loads))
    firm: Flags = np.ones(len(right), dtype=bool)
    going = np.arange(len(right))
    for _ in range(CORRECTIONS):
        on = size > enough[going]
        going, way, left, size = going[on], way[:, on], left[:, on], size[on]
        if not len(going):
            break
        pull = swaying.pull(way, going)
        resisted = np.einsum("fc,fc->c", way, pull)
        firm[going[resisted <= 0]] = False
        on = resisted > 0
        going, way, left, size = going[on], way[:, on], left[:, on], size[on]
        step = size / resisted[on]
        moved[:, going] += step * way
        left = left - step * pull[:, on]
        answer = model.factored.solve(np.asfortranarray(left))
        size, before = np.einsum("fc,fc->c", left, answer), size
        way = answer + size / before * way
    out = np.zeros_like(right)
    out[:, free] = moved.T
    return out, firm


class Swaying:
    """Stiffness of a frame under the axial forces of each of several cases, never written out as matrices.

    That of the frame as it stands, the roots of what tension adds, and each slack wire taken out again.
    """

    def __init__(self, model: "Model", axial_n: Floats, slack: Flags) -> None:
        self.stiff, self.roots, self.wires = model.assembled, model.roots, model.wires if slack.any() else None
        self.tension = np.repeat(np.where(slack, 0.0, axial_n).T, ROOTS, axis=0)
        if self.wires is not None:
            self.out = slack[:, self.wires.element].T * self.wires.stiffness[:, None]

    def pull(self, moved: Floats, cases: Ints) -> Floats:
        """Return the loads that hold movements (free unknowns, cases) of the cases with these numbers."""
        moved = np.ascontiguousarray(moved)
        found = self.stiff @ moved + self.roots.T @ (self.tension[:, cases] * (self.roots @ moved))
        if self.wires is not None:
            found -= self.wires.along @ (self.out[:, cases] * (self.wires.along.T @ moved))
        return np.asarray(found)


def _ends_moved(model: "Model", unknowns: Floats, axial_n: Floats, held: Floats, slack: Flags) -> Floats:
    """Return the end forces of cases on the moved frame."""
    followed = model.mesh.followed(unknowns.T)
    bent = model.resisting @ followed + axial_n.T[:, None] * (model.swaying @ followed)
    return np.where(slack[:, :, None], 0.0, bent.transpose(2, 0, 1)) + held
