"""The soil of a raised bed: what it is mixed of, how it pushes rails and posts, what its floor carries.

A build and a frame come in; the mix, pressures and load cases go out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gardenframe.builds.raised_bed_shape import SIDES, Shape
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector
from gardenframe.materials import constants, soils
from gardenframe.strength import bed_soil, bed_walls, soil_push
from gardenframe.strength.cases import Case, LineLoad, Load, PointLoad

MIXES = {  # shares by volume: common practice, no source
    "half": {"topsoil": 0.5, "compost": 0.5},
    "earthy": {"topsoil": 0.6, "compost": 0.3, "sand": 0.1},
    "light": {"potting-mix": 0.8, "compost": 0.2},
}
OUTWARD: dict[str, Vector] = {
    "front": (0.0, -1.0, 0.0), "back": (0.0, 1.0, 0.0), "left": (-1.0, 0.0, 0.0), "right": (1.0, 0.0, 0.0)
}  # fmt: skip
Rail = tuple[str, float, float]  # level, load outwards, load upwards [N/m]


def shares_of(build: Any) -> dict[str, float]:
    """Return the share of each component by volume, those there are."""
    if build.mix != "own":
        return MIXES[build.mix]
    given = {"compost": build.compost_share, "sand": build.sand_share, "potting-mix": build.potting_share}
    rest = 1 - sum(given.values())
    return {key: share for key, share in ({"topsoil": rest} | given).items() if share > 1e-9}


def density_kg_per_m3(build: Any, state: str) -> float:
    """Return the density of the mix, dry side (`low`), moist or soaked. [kg/m³]"""
    names = {"low": "density_low_kg_per_m3", "moist": "density_kg_per_m3"}
    table = soils.load_soils()
    return sum(
        share * float(getattr(table[key], names.get(state, "wet_kg_per_m3"))) for key, share in shares_of(build).items()
    )


@dataclass(frozen=True, slots=True)
class Soil:
    """The filling as it pushes: its ratio of sideways to downward pressure, its weight, and what stands on it."""

    push_ratio: float
    unit_weight_n_per_m3: float
    water_n_per_m3: float  # 0 where no water stands in it
    surcharge_pa: float

    @classmethod
    def of(cls, build: Any, state: str = "", push: str = "") -> "Soil":
        """Return the soil of a bed in the state that the reader chose, or in another."""
        wet, push = state or build.wetness, push or build.push
        table = soils.load_soils()
        angle = min(table[key].friction_angle_deg for key in shares_of(build))
        ratio = soil_push.active_ratio(angle) if push == "active" else soil_push.rest_ratio(angle)
        g = constants.value("gravity_m_per_s2")
        water = constants.value("water_density_kg_per_m3") * g if wet == "flooded" else 0.0
        weight = max(density_kg_per_m3(build, wet) * g, water)
        return cls(ratio, weight, water, build.surcharge_pa)

    def at(self, depth_m: float) -> float:
        """Sideways pressure at a depth under the surface. [Pa]"""
        if depth_m < 0:
            return 0.0
        if self.water_n_per_m3:
            return soil_push.flooded_push_pa(
                self.push_ratio, self.unit_weight_n_per_m3, self.water_n_per_m3, depth_m, self.surcharge_pa
            )
        return soil_push.push_pa(self.push_ratio, self.unit_weight_n_per_m3, depth_m, self.surcharge_pa)

    def between(self, top_m: float, foot_m: float) -> tuple[float, float]:
        """Return the push between two depths, and how far above the lower one it acts. [N/m, m]"""
        top = max(top_m, 0.0)
        if foot_m <= top:
            return 0.0, 0.0
        high, a, b = foot_m - top, self.at(top), self.at(foot_m)
        if a + b == 0:
            return 0.0, 0.0
        return (a + b) / 2 * high, high * (b + 2 * a) / (3 * (a + b))

    def shares(self, top_m: float, foot_m: float) -> tuple[float, float]:
        """Return what the upper and the lower of two rails get of the push between them. [N/m]"""
        force, lever = self.between(top_m, foot_m)
        upper = force * lever / (foot_m - top_m)
        return upper, force - upper


def rails_of(shape: Shape, soil: Soil, sag: float = 0.0) -> list[Rail]:
    """Return what each level of rails gets of a wall that spans upright; `sag` of a fabric, by its height.

    A rail is pushed outwards by its share; a fabric also draws the rails above and below it together.
    """
    levels = list(shape.levels.items())
    out, up = dict.fromkeys(shape.levels, 0.0), dict.fromkeys(shape.levels, 0.0)
    for (low, z_low), (high, z_high) in pairwise(levels):
        upper, lower = soil.shares(shape.soil_z - z_high, shape.soil_z - z_low)
        out[high] += upper
        out[low] += lower
        if sag:
            height = z_high - z_low
            pull = bed_walls.fabric_pull_n_per_m((upper + lower) / height, height, sag * height)
            up[high] -= pull
            up[low] += pull
    out["top"] += soil.between(0.0, shape.soil_z - shape.top_z)[0]  # what stands above the axis of the rim
    out["low"] += soil.between(shape.soil_z - shape.low_z, shape.soil_z - shape.bottom_z)[0]
    return [(level, out[level], up[level]) for level in shape.levels]


def push_case(build: Any, frame: Frame, shape: Shape) -> Case:
    """Return the case of the soil's push on rails, where walls span upright, or on posts, where they span along."""
    soil = Soil.of(build)
    words = {"moist": "moist", "soaked": "soaked", "flooded": "standing in water"}[build.wetness]
    upright = build.wall in ("steel-upright", "fabric")
    loads = list(_on_rails(build, frame, shape, soil) if upright else _on_posts(frame, shape, soil))
    return Case(key="H", loads=tuple(loads), label=f"push of the soil, {words}")


def _on_rails(build: Any, frame: Frame, shape: Shape, soil: Soil) -> Iterator[Load]:
    sag = build.sag_share if build.wall == "fabric" else 0.0
    pushed = {level: (out, up) for level, out, up in rails_of(shape, soil, sag)}
    for run in frame.runs.values():
        side, _, level = run.key.split(".")[0].partition(" ")
        if run.role == "rail" and side in SIDES and level in pushed:
            out, up = pushed[level]
            x, y, _ = OUTWARD[side]
            if out or up:
                yield LineLoad(run=run.key, force_n_per_m=(x * out, y * out, up))


def widths_of(shape: Shape) -> Iterator[tuple[str, str, float]]:
    """Yield post, side and the width of wall that the post carries there. [m]"""
    b = shape.build
    for i in range(b.bays + 1):
        share = 0.5 if i in (0, b.bays) else 1.0
        for side in ("front", "back"):
            yield f"{side} {i + 1}", side, share * shape.bay_m
    for side, corner in (("left", 1), ("right", b.bays + 1)):
        for row in ("front", "back"):
            yield f"{row} {corner}", side, 0.5 * shape.end_bay_m
        for j in range(b.end_posts):
            yield f"{side} {j + 1}", side, shape.end_bay_m


def _on_posts(frame: Frame, shape: Shape, soil: Soil) -> Iterator[Load]:
    """Yield the push on each post, growing with depth; what is beyond the axes of rim and lowest rail goes to them."""
    runs: dict[str, list[Any]] = {}
    for run in frame.runs.values():
        if run.role in ("post", "leg"):
            runs.setdefault(run.key.split(".")[0], []).append(run)
    foot = soil.between(shape.soil_z - shape.low_z, shape.soil_z - shape.bottom_z)[0]
    rim = soil.between(0.0, shape.soil_z - shape.top_z)[0]
    for post, side, width in widths_of(shape):
        x, y, _ = OUTWARD[side]
        for run in runs[post]:
            z0, z1 = (frame.joints[run.path[k]].z_m for k in (0, -1))
            low, high = max(z0, shape.low_z, shape.bottom_z), min(z1, shape.soil_z)
            if high - low > 1e-6:
                a, b = (soil.at(shape.soil_z - z) * width for z in (low, high))
                yield LineLoad(
                    run=run.key, from_m=low - z0, to_m=high - z0, force_n_per_m=(x * a, y * a, 0.0),
                    to_n_per_m=(x * b, y * b, 0.0),
                )  # fmt: skip
            for push, z in ((foot, shape.low_z), (rim, shape.top_z)):
                if push and z0 - 1e-6 <= z <= z1 + 1e-6 and (z == shape.top_z or z < z1 - 1e-6):
                    at = min(max(z - z0, 0.0), z1 - z0)
                    yield PointLoad(run=run.key, station_m=at, force_n=(x * push * width, y * push * width, 0.0))


def floor_pa(build: Any, shape: Shape) -> float:
    """Weight on a square metre of the floor of a bed on legs: soil, gravel, and what stands on it. [Pa]"""
    g = constants.value("gravity_m_per_s2")
    gravel = soils.find("gravel").wet_kg_per_m3 * build.gravel_m
    load: float = (soak_kg_per_m3(build) * shape.soil_m + gravel) * g + build.surcharge_pa
    return load


def soak_kg_per_m3(build: Any) -> float:
    """Density of the filling in the state that the reader chose. [kg/m³]"""
    return density_kg_per_m3(build, "moist" if build.wetness == "moist" else "soaked")


def weight_case(build: Any, frame: Frame, shape: Shape) -> Case:
    """Return the case of the weight of the soil on the bearers and the ends of a floor."""
    each = floor_pa(build, shape) * shape.bearer_gap_m
    loads = []
    for run in frame.runs.values():
        name = run.key.split(".")[0]
        share = 1.0 if run.role == "shelf rail" else 0.5 if name in ("left low", "right low") else 0.0
        if share:
            loads.append(LineLoad(run=run.key, force_n_per_m=(0.0, 0.0, -each * share)))
    return Case(key="G", loads=tuple(loads), label="weight of the soil on the floor")


@dataclass(frozen=True, slots=True)
class Filling:
    """How much of what a bed is filled with. [m³, kg, m²]"""

    soil_m3: float
    gravel_m3: float
    mass_kg: float
    lining_m2: float
    bought_m3: dict[str, float]
    drop_m: float


def filling_of(build: Any, shape: Shape) -> Filling:
    """Return volumes by component, mass as wet as the reader chose, and what the surface sinks in a season."""
    long, wide = shape.clear_m
    volume = bed_soil.bed_volume_m3(long, wide, shape.soil_m)
    gravel = bed_soil.bed_volume_m3(long, wide, build.gravel_m)
    mass = bed_soil.soil_mass_kg(volume, soak_kg_per_m3(build))
    mass += bed_soil.soil_mass_kg(gravel, soils.find("gravel").wet_kg_per_m3)
    shares = shares_of(build)
    bought = {key: bed_soil.bought_volume_m3(volume, share, build.settling_share) for key, share in shares.items()}
    drop = bed_soil.season_drop_m(shape.soil_m, shares.get("compost", 0.0), constants.value("rot_ratio"))
    lining = 2 * (long + wide) * build.depth_m + (long * wide if shape.on_legs or build.under != "soil" else 0.0)
    return Filling(volume, gravel, mass, lining, bought, drop)
