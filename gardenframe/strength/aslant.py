"""A wind that comes aslant at freestanding walls: its whole force acts off their middle, harder on one half.

Faces with what presses them squarely come in, loads to add to these go out.
"""

from collections.abc import Sequence

import numpy as np

from gardenframe.geometry.vectors import Vector, dot, times
from gardenframe.strength import wind
from gardenframe.strength.bearing import Bearing
from gardenframe.strength.cases import LineLoads
from gardenframe.strength.mesh import Floats
from gardenframe.strength.panels import shares_of
from gardenframe.strength.setting import Setting
from gardenframe.strength.skins import Patch, patches_of
from gardenframe.strength.strips import half

OFF_MIDDLE = 0.2  # of a wall's breadth (ASCE 7, solid freestanding walls, case B: from memory)
MORE = 4 * OFF_MIDDLE  # on one half, and less on the other: their middles lie a quarter of the breadth off


def more_on_one_half(setting: Setting, faces: Sequence[Patch], on_faces: Floats, blow: Vector) -> dict[str, LineLoads]:
    """Return what a wind puts more on one half of freestanding walls and less on the other, by the half in words.

    Parameters
    ----------
    on_faces : array (faces, 3)
        What presses each squarely. [Pa]
    """
    walls = [
        (patch, force)
        for patch, force in zip(faces, on_faces.tolist(), strict=True)
        if any(force) and patch.panel.outline and setting.whole(patch.panel) > wind.OPEN_BELOW
    ]
    if not walls:
        return {}
    across: Vector = (1.0, 0.0, 0.0) if blow[1] else (0.0, 1.0, 0.0)
    ends = [dot(p.start, across) for patch, _ in walls if patch.panel.outline for p in patch.panel.outline.pieces]
    middle = times(across, (min(ends) + max(ends)) / 2)
    parts: list[Patch] = []
    forces: list[Vector] = []
    for patch, force in walls:
        for side in (-1.0, 1.0):
            part = half(patch.panel, middle, times(across, side))
            if part is not None:
                parts += patches_of(setting.frame, part, {part.key: shares_of(setting.frame, part)})
                forces.append(times(force, -side * MORE))
    over, words = Bearing.of(parts, setting.frame), ("left", "right") if blow[1] else ("front", "back")
    return {word: over.loads(sign * np.array(forces)) for word, sign in zip(words, (1.0, -1.0), strict=True)}
