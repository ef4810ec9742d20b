"""How patches of panels bear on runs, as arrays: widths are found once, then each weight and each wind is a product.

Patches come in; for a force on a square metre of each, loads on stretches of runs go out.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from gardenframe.geometry.frame import Frame
from gardenframe.kept import Keeps
from gardenframe.strength.cases import LineLoads
from gardenframe.strength.mesh import Floats, Ints
from gardenframe.strength.skins import Patch


@dataclass(frozen=True)
class Bearing(Keeps):
    """Stretches of runs and which patches they carry; keeps what else loads ask of a frame: roofs in halves, leans.

    `stretch` has run, start and end of each; what two strips put on the same stretch of a run is one load. The other
    three have a row for each patch on each stretch: widths at the start and at the end. [m]
    """

    runs: tuple[str, ...]
    stretch: Floats
    patch: Ints
    place: Ints
    width_m: Floats
    _kept: dict[Hashable, Any] = field(default_factory=dict, repr=False, compare=False)  # filled by `once`

    @classmethod
    def of(cls, patches: Sequence[Patch], frame: Frame) -> "Bearing":
        """Return how patches bear on the runs of a frame."""
        number = {key: i for i, key in enumerate(frame.runs)}
        merged: dict[tuple[str, float, float], int] = {}
        stretch: list[tuple[float, float, float]] = []
        rows: list[tuple[int, int]] = []
        widths: list[tuple[float, float]] = []
        for i, patch in enumerate(patches):
            for share in patch.shares:
                at = (share.run, share.from_m, share.to_m)
                place = merged.setdefault(at, len(stretch)) if patch.panel.swept else len(stretch)
                if place == len(stretch):
                    stretch.append((number[share.run], share.from_m, share.to_m))
                rows.append((i, place))
                widths.append((share.from_width_m, share.to_width_m))
        table = np.array(rows, dtype=int).reshape(-1, 2)
        spread = np.array(widths).reshape(-1, 2)
        return cls(tuple(frame.runs), np.array(stretch).reshape(-1, 3), table[:, 0], table[:, 1], spread)

    def loads(self, force_pa: Floats) -> LineLoads:
        """Return the loads of forces on a square metre of each patch (patches, 3)."""
        pressed = np.abs(force_pa).max(axis=1, initial=0.0) > 0
        rows = np.flatnonzero(pressed[self.patch])
        place, force, many = self.place[rows], force_pa[self.patch[rows]], len(self.stretch)
        ends: list[Floats] = []
        for side in (0, 1):
            width = self.width_m[rows, side]
            found = [np.bincount(place, width * force[:, i], many).astype(float, copy=False) for i in range(3)]
            ends.append(np.stack(found, axis=1))
        used = np.flatnonzero(np.bincount(place, minlength=many))
        run, start, end = self.stretch[used].T
        return LineLoads(self.runs, run.astype(int), start, end, ends[0][used], ends[1][used])


def downward(patches: Sequence[Patch], weight_pa: Mapping[str, float]) -> Floats:
    """Return the force on a square metre of each patch of what weighs on a square metre of its panel, by panel. [Pa]"""
    force = np.zeros((len(patches), 3))
    force[:, 2] = [-weight_pa.get(patch.panel.key, 0.0) for patch in patches]
    return force
