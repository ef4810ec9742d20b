"""Feet: supports that stand in one place, what pushes and pulls each, and what it holds, for every combination."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gardenframe.geometry.frame import Support
from gardenframe.geometry.vectors import Vector
from gardenframe.kept import cached_property
from gardenframe.materials import constants
from gardenframe.materials.anchors import Anchor
from gardenframe.materials.fixings import Fixing
from gardenframe.materials.members import Member
from gardenframe.materials.soils import Soil
from gardenframe.strength import holding, screws
from gardenframe.strength.mesh import Floats

TIMBER = "timber-2x6"
IN_SOIL = ("soil", "driven", "paved")


@dataclass(frozen=True)
class Ground:
    """What stands below and beside the feet: soil, fixings, timber, and how long each combination lasts.

    `short` is 2 for each combination of wind or people, else 1; `duration` the load duration of timber.
    """

    soil: Soil
    loose: Soil
    fixings: Mapping[str, Fixing]
    timber: Member
    short: Floats
    duration: Floats

    def lateral(self, rests: str) -> float:
        """Lateral bearing per metre of depth; that of loose soil in a bed's filling. [N/m3]"""
        here = self.loose if rests == "fill" else self.soil
        found = here.lateral_pa_per_m or self.loose.lateral_pa_per_m
        return float(found or 0.0)

    @property
    def soil_ratio(self) -> float:
        """How soft the ground is against the lawn of the published stake, at most 1."""
        return min(1.0, self.lateral("ground") / (self.loose_lawn_pa_per_m))

    @property
    def loose_lawn_pa_per_m(self) -> float:
        """Lateral bearing of firm lawn. [N/m3]"""
        per = (self.loose.lateral_pa_per_m or 0.0) / (self.loose.lateral_psf_per_ft or 1.0)
        return constants.value("lawn_psf_per_ft") * per

    @property
    def friction(self) -> float:
        """Friction under a foot; that of loose soil where the soil has cohesion instead."""
        return float(self.soil.friction or self.loose.friction or 0.0)


@dataclass(frozen=True)
class Footing:
    """Supports in one place, lowest first, and what they hold, whatever pulls at them."""

    supports: tuple[Support, ...]
    anchors: tuple[Anchor, ...]
    options: Mapping[str, float]
    ground_at: Vector
    depth_m: float
    width_m: float
    ground: Ground

    @cached_property
    def main(self) -> Anchor:
        """The row that holds it."""
        return next((a for a in self.anchors if a.up != "nothing"), self.anchors[0])

    @cached_property
    def where(self) -> str:
        """What and where, in words."""
        named = self.supports[self.anchors.index(self.main)]
        return f"{self.main.label} at joint {named.joint}"

    @cached_property
    def standing(self) -> bool:
        """Whether it only stands."""
        return all(a.up == "nothing" for a in self.anchors)

    @cached_property
    def turning_held(self) -> bool:
        """Whether the solver let it hold a moment."""
        turning = any({"X", "Y"} & set(s.held) or s.spring_n_m_per_rad for s in self.supports)
        return turning or len({s.joint for s in self.supports}) > 1

    def chosen(self, name: str, usual: float | None) -> float:
        """Return an option, or what is usual for the base."""
        return float(self.options.get(name, usual or 0.0))

    @cached_property
    def ballast_n(self) -> float:
        """Weight of ballast that may be counted on. [N]"""
        mass = self.chosen("ballast_kg", self.main.ballast_kg)
        share, g = constants.value("little_weight_ratio"), constants.value("gravity_m_per_s2")
        return holding.ballast_n(mass, share, g)

    def screw_n(self, anchor: Anchor) -> tuple[float, float]:
        """Return what the screws of one support hold, out and sideways, before load duration. [N]"""
        number = self.chosen("screws", anchor.screws)
        pull, side = screws.allowed_n(self.ground.fixings[anchor.screw or ""], self.ground.timber)
        return number * pull, number * side

    @cached_property
    def up_n(self) -> Floats:
        """What it holds against a pull upwards: (combinations). [N]"""
        out = np.full(len(self.ground.duration), self.ballast_n)
        for anchor in self.anchors:
            out += self._up_of(anchor)
        return out

    def _up_of(self, anchor: Anchor) -> Floats | float:
        lasts = self.ground.duration
        if anchor.up == "nothing":
            return 0.0
        if "tested_n" in self.options:
            return self.tested_n
        if anchor.up == "driven":
            return self.driven_n
        if anchor.up == "placed":
            soil = self.ground.loose if anchor.rests == "fill" else self.ground.soil
            return holding.skin_hold_n(*self.skin(soil))
        if anchor.up == "grip":
            grip = self.chosen("grip_n", anchor.grip_n)  # of a coupler on a bed's rail, or of a strap and its screws
            return np.minimum(grip, self.screw_n(anchor)[1] * lasts) if anchor.screw else np.full_like(lasts, grip)
        return self.screw_n(anchor)[0] * lasts

    def skin(self, soil: Soil) -> tuple[float, float, float, float]:
        """Return what friction on the skin asks for."""
        weight = soil.density_low_kg_per_m3 * constants.value("gravity_m_per_s2")
        return weight, self.depth_m, self.width_m, soil.friction_angle_deg

    @property
    def tested_n(self) -> float:
        """What the reader's own pull test gives. [N]"""
        return holding.tested_hold_n(*self.tested)

    @property
    def tested(self) -> tuple[float, float, float]:
        """Numbers of the pull test."""
        reserve = constants.value("pull_test_reserve")
        return self.options.get("tested_n", 0.0), constants.value("stake_wet_share"), reserve

    @property
    def driven(self) -> dict[str, float]:
        """Numbers of a driven stake; soil counts where it is softer than the lawn of the test when wet."""
        wet = constants.value("stake_wet_share")
        return {
            "hold_n": constants.value("stake_hold_n"),
            "depth_m": self.depth_m,
            "width_m": self.width_m,
            "tested_depth_m": constants.value("stake_tested_depth_mm") / 1000,
            "tested_width_m": constants.value("stake_tested_width_mm") / 1000,
            "wet_ratio": wet,
            "soil_ratio": min(1.0, self.ground.soil_ratio / wet),
            "spread_ratio": constants.value("stake_spread"),
        }

    @cached_property
    def driven_n(self) -> float:
        """What it holds as a driven stake. [N]"""
        return holding.driven_hold_n(**self.driven)

    @cached_property
    def in_soil(self) -> str:
        """Soil, driven or paved where it stands in the ground, else nothing."""
        return next((a.side for a in self.anchors if a.side in IN_SOIL), "")

    @cached_property
    def soil_hold_n_m(self) -> Floats:
        """What its soil gives: (combinations). [N m]"""
        if self.in_soil == "driven":
            return holding.driven_side_hold_n_m(**self.driven, lasting_ratio=1.0) * self.lasting_ratio
        one = holding.paved_hold_n_m if self.in_soil == "paved" else holding.embedded_hold_n_m
        return one(self.ground.lateral(self.main.rests), self.width_m, self.depth_m, 1.0) * self.ground.short

    @property
    def lasting_ratio(self) -> Floats:
        """Share of a pull test that lasts: 1 under wind and people, half under what stays: (combinations)."""
        return self.ground.short / constants.value("soil_short_ratio")

    @cached_property
    def friction_ratio(self) -> float:
        """Friction under it."""
        return self.chosen("friction", self.main.friction or self.ground.friction)


@dataclass(frozen=True)
class Foot:
    """What pushes and pulls at a footing, and what it holds under that.

    `force_n` (combinations, 3) pulls upwards where z is positive; `moment_n_m` is about that; `each_n` by support.
    """

    footing: Footing
    force_n: Floats
    moment_n_m: Floats
    each_n: Floats

    @property
    def main(self) -> Anchor:
        """The row that holds it."""
        return self.footing.main

    @property
    def ground_at(self) -> Vector:
        """Where it leaves the ground. [m]"""
        return self.footing.ground_at

    @property
    def depth_m(self) -> float:
        """How deep it reaches. [m]"""
        return self.footing.depth_m

    @cached_property
    def push_n(self) -> Floats:
        """Side force: (combinations). [N]"""
        return np.hypot(self.force_n[:, 0], self.force_n[:, 1])

    @cached_property
    def turn_n_m(self) -> Floats:
        """Moment at the ground: (combinations). [N m]"""
        return np.hypot(self.moment_n_m[:, 0], self.moment_n_m[:, 1])

    @cached_property
    def soil_demand_n_m(self) -> Floats:
        """What its soil is asked for: (combinations). [N m]"""
        if self.footing.in_soil == "paved":
            return self.turn_n_m
        return self.soil_push_n * self.footing.depth_m + 1.09 * self.turn_n_m  # embedded_demand_n_m, on arrays

    @cached_property
    def down_n(self) -> Floats:
        """What presses it on the ground: (combinations). [N]"""
        return np.maximum(-self.force_n[:, 2], 0.0)

    @cached_property
    def soil_push_n(self) -> Floats:
        """Side force left for the soil beside it, a driven one also rubbing on the ground: (combinations). [N]"""
        if self.footing.in_soil != "driven":
            return self.push_n
        return np.maximum(self.push_n - self.footing.friction_ratio * self.down_n, 0.0)  # rubbed_push_n, on arrays

    @cached_property
    def spare_turn_n_m(self) -> Floats:
        """Moment that it can hold with its side force in proportion, where it was solved to hold one. [N m]"""
        if not self.footing.in_soil or not self.footing.turning_held:
            return np.zeros(len(self.force_n))
        if self.footing.in_soil == "paved":
            return self.footing.soil_hold_n_m
        return self.footing.soil_hold_n_m * self._of_demand(self.turn_n_m, 1 / 1.09)

    def _of_demand(self, part: Floats, alone: float) -> Floats:
        """Return a part of what the soil is asked for, over all of it; `alone` where it is asked for nothing."""
        asked = self.soil_demand_n_m
        return np.where(asked > 1e-9, part / np.maximum(asked, 1e-9), alone)

    @cached_property
    def slide_n(self) -> Floats:
        """What it holds against sliding, with its moment in proportion: (combinations). [N]

        Below zero where a foot that stands was solved as held down: what presses others too hard is taken off so.
        """
        sides = {a.side: a for a in self.footing.anchors}
        if self.footing.in_soil in ("soil", "driven"):
            return self.footing.soil_hold_n_m * self._of_demand(self.push_n, 1 / self.footing.depth_m)
        if self.footing.in_soil == "paved":  # the paving takes it
            return self.push_n
        if "pull" in sides:
            held = self.footing.tested_n if "tested_n" in self.footing.options else self.footing.driven_n
            return np.full(len(self.force_n), held)
        if "screws" in sides:
            return min(self.footing.screw_n(sides["screws"])) * self.footing.ground.duration
        if "friction" in sides:
            return self.footing.friction_ratio * (self.footing.ballast_n - self.force_n[:, 2])
        return np.zeros(len(self.force_n))
