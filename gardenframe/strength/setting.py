"""What loads are made from: a frame, its site, and what stands or hangs on it in one condition and growth stage."""

from collections.abc import Mapping
from dataclasses import dataclass

from gardenframe.geometry.coverings import panel_area_m2
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector
from gardenframe.kept import cached_property
from gardenframe.materials.coverings import Covering
from gardenframe.materials.members import Member
from gardenframe.materials.plants import Plant
from gardenframe.materials.site import Site

CONDITIONS = ("bare", "covered", "grown")
WAYS: dict[str, Vector] = {"+x": (1, 0, 0), "-x": (-1, 0, 0), "+y": (0, 1, 0), "-y": (0, -1, 0)}
FROM = {"+x": "from the left", "-x": "from the right", "+y": "from the front", "-y": "from behind"}


@dataclass(frozen=True)
class Setting:
    """What the cases are made from: the frame and all that stands or hangs on it."""

    frame: Frame
    site: Site
    members: Mapping[str, Member]
    coverings: Mapping[str, Covering]
    plants: Mapping[str, Plant]
    condition: str = "grown"
    stage: str = "full"
    door_open: bool = True  # a skin with a door is as its door stands: open is the worse

    def solidity(self, panel: Panel) -> float:
        """Share of a panel's face that its covering and its plants close."""
        open_ = 1.0
        if panel.covering and self.condition != "bare":
            open_ *= 1 - self.coverings[panel.covering].solidity
        if panel.plant and self.condition == "grown":
            open_ *= 1 - self.plants[panel.plant].solidity(self.stage)
        return 1 - open_

    def tube_solidity(self, panel: Panel) -> float:
        """Share of a panel's face that the tubes carrying it close."""
        tubes = [self.frame.runs[key] for key in panel.carried_by]
        shaded = sum(self.members[r.member].across_mm / 1000 * self.frame.lines[r.key].length_m for r in tubes)
        return min(shaded / self.area_m2(panel), 0.6)

    def whole(self, panel: Panel) -> float:
        """Share of a panel's face that its covering, its plants and the tubes carrying it close."""
        return self._wholes[panel.key]

    def area_m2(self, panel: Panel) -> float:
        """Area of a panel less its holes. [m²]"""
        return self._areas[panel.key]

    @cached_property
    def _areas(self) -> dict[str, float]:
        return {panel.key: panel_area_m2(self.frame, panel) for panel in self.frame.panels}

    @cached_property
    def _wholes(self) -> dict[str, float]:
        return {panel.key: self._whole(panel) for panel in self.frame.panels}

    def _whole(self, panel: Panel) -> float:
        return 1 - (1 - self.tube_solidity(panel)) * (1 - self.solidity(panel))

    @cached_property
    def top_m(self) -> float:
        """Height of the highest joint above the ground. [m]"""
        return max(joint.z_m for joint in self.frame.joints.values())
