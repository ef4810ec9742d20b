"""Wires: which of them pull and which hang slack under each load, without factoring the frame again.

The frame is factored with every wire pulling. Taking a wire out changes its stiffness by one simple term, so what the
rest then does follows from a matrix as small as the number of wires (Woodbury).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gardenframe.errors import FrameError
from gardenframe.strength.mesh import Floats, Ints, Mesh
from gardenframe.strength.system import Factored

ROUNDS = 60


@dataclass(frozen=True, slots=True)
class Wires:
    """The wires of a mesh and how the frame answers a pull in each."""

    mesh: Mesh
    element: Ints
    stiffness: Floats  # EA/L [N/m]
    along: Floats  # (free unknowns, wires): how each unknown stretches each wire
    answer: Floats  # (free unknowns, wires): movements under a pull of 1 N
    across: Floats  # (wires, wires): stretch of one under a pull of 1 N in another

    @classmethod
    def of(cls, mesh: Mesh, factor: Factored) -> "Wires":
        """Return the wires of a factored frame."""
        element = np.flatnonzero(mesh.wire)
        stretch = mesh.turn[element, 6] - mesh.turn[element, 0]
        along = np.zeros((mesh.count + 1, len(element)))
        for column, (unknowns, row) in enumerate(zip(mesh.unknowns[element], stretch, strict=True)):
            np.add.at(along[:, column], unknowns, row)
        along = along[mesh.free_unknowns]
        answer = factor.solve(along)
        return cls(mesh, element, mesh.stiff[element, 0] / mesh.length_m[element], along, answer, along.T @ answer)

    def settled(self, moved: Floats, case: str) -> tuple[Floats, NDArray[np.bool_]]:
        """Return movements with the slack wires taken out, and which are slack.

        Parameters
        ----------
        moved : array (free unknowns,)
            With every wire pulling (or pushing).
        case : str
            Name of the case, for the error where the frame has no rest without its wires.
        """
        before = self.along.T @ moved
        slack = before < -1e-12 * np.abs(before).max(initial=0.0)
        push = np.zeros(len(before))
        for turn in range(ROUNDS):
            push = self._push(before, slack, case)
            stretch = before + self.across @ push
            wrong = (stretch < -1e-12 * np.abs(stretch).max(initial=0.0)) != slack
            if not wrong.any():
                return moved + self.answer @ push, slack
            if turn < ROUNDS // 3:
                slack = slack ^ wrong
            else:  # going round in circles: one at a time, the worst first
                slack = slack.copy()
                worst = int(np.argmax(np.where(wrong, np.abs(stretch), -1.0)))
                slack[worst] = not slack[worst]
        raise FrameError(f"case {case}", "no set of pulling wires was found that balances the load", "Add a brace.")

    def _push(self, before: Floats, slack: NDArray[np.bool_], case: str) -> Floats:
        """Return the pushes that undo the slack wires' own stiffness. [N]"""
        out = np.zeros(len(before))
        chosen = np.flatnonzero(slack)
        if len(chosen):
            rest = np.diag(1 / self.stiffness[chosen]) - self.across[np.ix_(chosen, chosen)]
            scale = np.sqrt(self.stiffness[chosen])
            if np.linalg.eigvalsh(rest * scale[:, None] * scale)[0] < 1e-9:
                names = sorted({self.mesh.runs[self.mesh.run[self.element[i]]] for i in chosen})
                raise FrameError(
                    f"case {case}",
                    f"with wires {', '.join(names)} slack the frame can sway",
                    "Brace it both ways or fix a foot.",
                )
            out[chosen] = np.linalg.solve(rest, before[chosen])
        return out
