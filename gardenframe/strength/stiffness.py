"""Solve a frame: three-dimensional, every case with one factorisation, to first order or with sway (second order).

Small movements, elastic members, bending without shear deformation, joints rigid, pinned or springs, wires on their
tension side only. A closed form from `beams` is the check by hand shown beside it.
"""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from gardenframe.errors import InputError
from gardenframe.geometry.frame import Frame
from gardenframe.kept import cached_property
from gardenframe.materials import members as members_module
from gardenframe.strength import second_order
from gardenframe.strength.buckling import buckling_factors
from gardenframe.strength.cases import Case, Combination
from gardenframe.strength.connections import Springs
from gardenframe.strength.element import Flags, elastic, geometric, geometric_roots
from gardenframe.strength.loading import Loading, lay
from gardenframe.strength.mesh import Floats, Mesh, Section, mesh
from gardenframe.strength.response import Response, factor_matrix
from gardenframe.strength.system import Factored, Pattern, factored
from gardenframe.strength.wires import Wires

ORDERS = ("first", "amplified", "second")


class Model:
    """A frame ready to be loaded: its elements, and its stiffness factored once when first asked for."""

    def __init__(
        self, frame: Frame, members: Mapping[str, Section] | None = None, springs: Springs | None = None,
        *, fine: bool = False,
    ) -> None:  # fmt: skip
        self.mesh: Mesh = mesh(frame, members or members_module.load_members(), springs, fine)
        self.pattern = Pattern(self.mesh)

    @cached_property
    def stiffness(self) -> Floats:
        """Stiffness of each element in its own axes."""
        return elastic(self.mesh)

    @cached_property
    def resisting(self) -> Floats:
        """End forces of each element per movement of the unknowns."""
        return self.stiffness @ self.mesh.turn

    @cached_property
    def matrices(self) -> Floats:
        """Stiffness of each element in terms of the unknowns."""
        return np.swapaxes(self.mesh.turn, 1, 2) @ self.resisting

    @cached_property
    def geometric(self) -> Floats:
        """Geometric stiffness of each element under a tension of 1 N, in its own axes."""
        return geometric(self.mesh)

    @cached_property
    def swaying(self) -> Floats:
        """End forces of each element under a tension of 1 N per movement of the unknowns."""
        return self.geometric @ self.mesh.turn

    @cached_property
    def geometric_matrices(self) -> Floats:
        """Geometric stiffness in terms of the unknowns."""
        return np.swapaxes(self.mesh.turn, 1, 2) @ self.swaying

    @cached_property
    def assembled(self) -> Any:
        """Sparse stiffness of the frame."""
        return self.pattern.matrix(self.matrices, self.diagonal)

    @cached_property
    def roots(self) -> Any:
        """Sparse: from free unknowns to what tension acts on, six for each element."""
        return self.pattern.rows(geometric_roots(self.mesh) @ self.mesh.turn)

    @cached_property
    def diagonal(self) -> Floats:
        """Springs on the free unknowns."""
        return self.mesh.springs[self.mesh.free_unknowns]

    @cached_property
    def factored(self) -> Factored:
        """The stiffness, factored; FrameError naming joints where nothing resists a movement."""
        return factored(self.pattern, self.assembled)

    @cached_property
    def wires(self) -> Wires | None:
        """The wires, where there are any."""
        return Wires.of(self.mesh, self.factored) if self.mesh.wire.any() else None

    def moved(self, loads: Floats, cases: Sequence[str]) -> tuple[Floats, Flags]:
        """Return movements (cases, unknowns) under loads on unknowns, and which wires are slack (cases, elements)."""
        free = self.mesh.free_unknowns
        return self.settled(self.factored.solve(np.asfortranarray(loads[:, free].T)), cases)

    def settled(self, found: Floats, cases: Sequence[str]) -> tuple[Floats, Flags]:
        """Return movements (cases, unknowns) of which those with every wire pulling are known, and slack wires."""
        free = self.mesh.free_unknowns
        slack = np.zeros((len(cases), self.mesh.elements), dtype=bool)
        if self.wires is not None:
            for number, case in enumerate(cases):
                found[:, number], loose = self.wires.settled(found[:, number], case)
                slack[number, self.wires.element] = loose
        out = np.zeros((len(cases), self.mesh.count))
        out[:, free] = found.T
        return out, slack

    def end_forces(self, unknowns: Floats, held_ends: Floats, slack: Flags) -> Floats:
        """Return the end forces of elements in their own axes, first order: (cases, elements, 12)."""
        bent = (self.resisting @ self.mesh.followed(unknowns.T)).transpose(2, 0, 1)
        return np.where(slack[:, :, None], 0.0, bent) + held_ends

    def slack_names(self, slack: Flags, cases: Sequence[str]) -> dict[str, tuple[str, ...]]:
        """Return the runs of wire that hang slack, by case."""
        runs, number = self.mesh.runs, self.mesh.run
        return {c: tuple(dict.fromkeys(runs[number[e]] for e in np.flatnonzero(slack[i]))) for i, c in enumerate(cases)}


def solve(
    frame: Frame,
    cases: Case | Sequence[Case],
    combinations: Sequence[Combination] | None = None,
    *,
    members: Mapping[str, Section] | None = None,
    springs: Springs | None = None,
    order: str = "first",
    out_of_plumb: float = second_order.OUT_OF_PLUMB,
    load_factor: float = second_order.LOAD_FACTOR,
    fine: bool | None = None,
) -> Response:
    """Return what a frame does under cases, or under combinations of them.

    Parameters
    ----------
    frame : Frame
        The frame.
    cases : Case or sequence of Case
        The loads.
    combinations : sequence of Combination, optional
        Where given, the response is to these, by factors on the cases.
    members : mapping, optional
        Sections by the key that runs name; the table of members if not given.
    springs : mapping, optional
        Turning stiffness of what joins a run at a joint, by (joint, run): 0 a pin; rigid where none is given. [N m/rad]
    order : str
        first; second (equilibrium on the moved frame, out of plumb, at `load_factor` times the loads and divided by it
        again, as AISC 360 has it for ASD: from memory); amplified (first order, out of plumb, times what the buckling
        factor says: quick).
    out_of_plumb : float
        Lean per height in the direction that adds most to the sway; not for first order.
    load_factor : float
        See `order`.
    fine : bool, optional
        Divide straight stretches, as buckling between joints needs; by default not for first order.

    Raises
    ------
    FrameError
        Naming the joints that can sway, the piece that nothing holds, the run or the case that is wrong.
    """
    if order not in ORDERS:
        raise InputError("order", order, f"one of {', '.join(ORDERS)}")
    cases = (cases,) if isinstance(cases, Case) else tuple(cases)
    if not cases:
        raise InputError("cases", None, "at least one")
    model = Model(frame, members, springs, fine=order != "first" if fine is None else fine)
    return respond(model, cases, combinations, order=order, out_of_plumb=out_of_plumb, load_factor=load_factor)


def respond(
    model: Model,
    cases: Sequence[Case],
    combinations: Sequence[Combination] | None = None,
    *,
    order: str = "first",
    out_of_plumb: float = second_order.OUT_OF_PLUMB,
    load_factor: float = second_order.LOAD_FACTOR,
) -> Response:
    """Return what a model that is kept does under cases: `solve` without making the elements again."""
    loading = lay(model.mesh, cases)
    keys = tuple(case.key for case in cases)
    if combinations:
        chosen = {c.key: c.factors for c in combinations}
        factors, names = factor_matrix(chosen, keys), tuple(chosen)
    else:
        factors, names = np.eye(len(keys)), keys
    if order != "first":
        return second_order.respond(model, loading, factors, names, order, out_of_plumb, load_factor)
    return first_order(model, loading, factors, names)


def first_order(model: Model, loading: Loading, factors: Floats, names: tuple[str, ...]) -> Response:
    """Return the first-order response to combinations of the cases laid on a model."""
    unknowns, slack = model.moved(factors @ loading.on_unknowns, names)
    ends = model.end_forces(unknowns, np.tensordot(factors, loading.held_ends, 1), slack)
    return Response(
        mesh=model.mesh,
        cases=names,
        order="first",
        unknowns=unknowns,
        ends=ends,
        steps=loading.steps,
        factors=factors,
        lean=np.zeros((len(names), 2)),
        at_joints=factors @ loading.at_joints,
        total_load_n=factors @ loading.total,
        slack=model.slack_names(slack, names),
        _buckling=lambda: buckling_factors(model, second_order.tension_n(ends), names, slack),
        _kept={"carried": loading.carried[:2]},
    )
