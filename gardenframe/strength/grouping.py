"""Supports gathered into feet: those that hold one member in one place, with what a reader says of them."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gardenframe.errors import InputError
from gardenframe.geometry.frame import Frame, Support
from gardenframe.materials.anchors import Anchor
from gardenframe.materials.members import Member
from gardenframe.strength.footing import Foot, Footing, Ground
from gardenframe.strength.mesh import Floats, Ints
from gardenframe.strength.overturning import crossed

SLANT_MOST = 1.5  # a leg's foot stands aside by at most this much of its depth
NEARLY = 1.02  # straight from one to the other along the member
SAME_PLACE_M = 0.15
OPTIONS = {  # what a build or a reader may say of a base or a joint, and its limits
    "depth_m": (0.05, 3.0),
    "width_m": (0.003, 0.5),
    "screws": (1, 50),
    "ballast_kg": (0, 5000),
    "tested_n": (1, 50_000),
    "grip_n": (0, 20_000),
    "friction": (0, 1.5),
}
Options = Mapping[str, Mapping[str, float]]


@dataclass(frozen=True)
class Stand:
    """The footings of a frame, the supports of each, and the supports whose base has no row."""

    footings: tuple[Footing, ...]
    groups: tuple[Ints, ...]  # numbers of supports, lowest first
    arms_m: Floats  # (supports, 3) from where its footing leaves the ground to each
    strange: tuple[Support, ...]

    def pressed(self, reactions: Floats) -> tuple[Foot, ...]:
        """Return the feet under what each support gives: (combinations, supports, 6). [N, N m]"""
        force = reactions[:, :, :3]
        moment = reactions[:, :, 3:] + crossed(self.arms_m, force)
        return tuple(
            Foot(footing, -force[:, mine].sum(axis=1), -moment[:, mine].sum(axis=1), -force[:, mine])
            for footing, mine in zip(self.footings, self.groups, strict=True)
        )


def stand_of(
    frame: Frame, anchors: Mapping[str, Anchor], members: Mapping[str, Member], ground: Ground, options: Options
) -> Stand:
    """Return what a frame stands on: its supports gathered into footings."""
    known = {*anchors, *(support.joint for support in frame.supports)}
    for name, chosen in options.items():
        if name not in known:
            raise InputError("anchor options", name, "a base of anchors.csv or a joint that is held")
        for option, value in chosen.items():
            _check(name, option, value)
    groups: list[list[int]] = []
    strange: list[Support] = []
    for number, support in enumerate(frame.supports):
        if support.base not in anchors:
            strange.append(support)
            continue
        mine = next((g for g in groups if _together(frame, frame.supports[g[0]], support)), None)
        groups.append([number]) if mine is None else mine.append(number)
    ordered = [sorted(group, key=lambda i: frame.joints[frame.supports[i].joint].z_m) for group in groups]
    footings = [_footing(frame, group, anchors, members, ground, options) for group in ordered]
    arms = np.zeros((len(frame.supports), 3))
    for footing, group in zip(footings, ordered, strict=True):
        arms[group] = np.array([frame.joints[s.joint].at for s in footing.supports]) - footing.ground_at
    return Stand(tuple(footings), tuple(np.array(group) for group in ordered), arms, tuple(strange))


def _check(name: str, option: str, value: float) -> None:
    if option not in OPTIONS:
        raise InputError(f"anchor option of {name}", option, f"one of {', '.join(OPTIONS)}")
    low, high = OPTIONS[option]
    if not low <= value <= high:
        raise InputError(f"{option} of {name}", value, f"{low:g} to {high:g}")


def _together(frame: Frame, one: Support, other: Support) -> bool:
    """Whether two supports hold one member in one place, or one above the other along a leg that slants."""
    if one.joint == other.joint:
        return True
    a, b = frame.joints[one.joint].at, frame.joints[other.joint].at
    aside, deep = math.hypot(a[0] - b[0], a[1] - b[1]), abs(a[2] - b[2])
    if aside > max(SAME_PLACE_M, SLANT_MOST * deep):
        return False
    stations = {c.run: c.station_m for c in frame.contacts[one.joint]}
    shared = [abs(c.station_m - stations[c.run]) for c in frame.contacts[other.joint] if c.run in stations]
    return (aside <= SAME_PLACE_M and bool(shared)) or any(along <= NEARLY * math.dist(a, b) for along in shared)


def _footing(
    frame: Frame,
    group: list[int],
    anchors: Mapping[str, Anchor],
    members: Mapping[str, Member],
    ground: Ground,
    options: Options,
) -> Footing:
    supports = tuple(frame.supports[i] for i in group)
    rows = tuple(anchors[s.base] for s in supports)
    chosen: dict[str, float] = {}
    for name in (*(s.base for s in supports), *(s.joint for s in supports)):
        chosen |= options.get(name, {})
    places = [frame.joints[s.joint].at for s in supports]
    heights = [place[2] for place in places]
    main = next((a for a in rows if a.up != "nothing"), rows[0])
    top = frame.soil_m if main.rests == "fill" else max(heights)
    buried = top - min(heights)
    usual = buried if buried > 0.01 else (main.depth_mm or 0.0) / 1000
    tube = members[frame.runs[frame.contacts[supports[0].joint][0].run].member]
    width = (main.width_mm or tube.outer_mm) / 1000
    return Footing(
        supports, rows, chosen, (places[0][0], places[0][1], top),
        chosen.get("depth_m", usual), chosen.get("width_m", width), ground,
    )  # fmt: skip
