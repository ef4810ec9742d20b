"""Wind as loads: on tubes, lattices and walls, free roofs, and the skins of buildings and arches, from four sides.

A panel that encloses a space, and any closed swept one, is part of a skin: outside less inside pressure. Of the rest, a
flat panel marked as roof is a free roof: the net coefficients times its solid share. Any other panel is a lattice
or, above 70 % solid, a wall, pushed along its normal by the square of how squarely the wind meets it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache, partial
from itertools import pairwise

import numpy as np

from gardenframe.geometry.arcs import Arc, Centreline
from gardenframe.geometry.coverings import panel_sides_m
from gardenframe.geometry.frame import Panel
from gardenframe.geometry.vectors import Vector, add, dot, size, times
from gardenframe.kept import cached_property
from gardenframe.materials import constants
from gardenframe.materials.site import Site
from gardenframe.strength import building_wind, wind
from gardenframe.strength.aslant import MORE, more_on_one_half
from gardenframe.strength.bearing import Bearing
from gardenframe.strength.cases import Case, LineLoads
from gardenframe.strength.element import Flags
from gardenframe.strength.mesh import Floats, Ints
from gardenframe.strength.setting import FROM, WAYS, Setting
from gardenframe.strength.skins import WALL_RISE, Patch, Skin, skin_of
from gardenframe.strength.wind_coefficients import free_roof_ratios, is_free_roof, is_skin, skin_ratios

EDGE_ON = 0.02  # cosine below which wind passes along a panel
ARC_CHORDS = 8
Pressed = tuple[Patch, Vector]  # a patch and the force on a square metre of it


@dataclass
class Winds:
    """Cases of wind, the force on each panel by case [N], and for each panel what it is to the wind."""

    cases: list[Case] = field(default_factory=list)
    faces: dict[str, dict[str, float]] = field(default_factory=dict)
    inside: float = 0.0  # coefficient of the pressure inside a skin, 0 without one


@dataclass(frozen=True)
class Met:
    """Patches of a frame by what they are to the wind."""

    faces: tuple[Patch, ...]
    face_at: Ints  # among all patches
    roofs: tuple[Patch, ...]
    skin: Skin | None
    skin_at: Ints


def winds(setting: Setting, patches: Sequence[Patch], bearing: Bearing) -> Winds:
    """Return the cases of wind; two of each side where a roof or a skin may be pressed or lifted."""
    out = Winds()
    if not setting.site.wind_m_per_s:
        return out
    met = _met(setting, patches)
    q = wind.site_pressure_pa(setting.site, setting.top_m)
    if met.skin:
        out.inside = building_wind.inside_ratio(met.skin.one_side_open or (met.skin.has_door and setting.door_open))
    coefficients = _tube_coefficients(setting, met)
    tubes, behind = _Tubes.of(setting, coefficients), _Behind.of(setting, met, coefficients)
    areas = np.array([patch.area_m2 for patch in patches])
    walls = {patch.panel.key for patch in met.faces if setting.whole(patch.panel) > wind.OPEN_BELOW}
    for way, blow in WAYS.items():
        on_faces, on_tubes = _on_faces(setting, met.faces, blow, q), tubes.blown(setting.site, blow, q)
        along = behind.blown(setting.site, blow, q)
        on_tubes = on_tubes.and_also(along) if along else on_tubes
        aside = more_on_one_half(setting, met.faces, on_faces, blow)
        for lifting in (False, True) if met.skin or met.roofs else (False,):
            key = f"W{way}{' up' if lifting else ''}"
            forces = np.zeros((len(patches), 3))
            forces[met.face_at] = on_faces
            forces[met.skin_at] = _on_skin(setting, met.skin, blow, q, out.inside, lifting)
            loads = bearing.loads(forces)
            roofs = list(_on_roofs(setting, met.roofs, blow, q, lifting, bearing))
            if roofs:
                key_of = ("roofs", blow, tuple(patch.panel.key for patch, _ in roofs))
                over = bearing.once(key_of, partial(Bearing.of, [patch for patch, _ in roofs], setting.frame))
                loads = loads.and_also(over.loads(np.array([force for _, force in roofs])))
            label = f"wind {FROM[way]}{', lifting' if lifting else ''}"
            out.cases.append(Case(key=key, loads=loads.and_also(on_tubes), label=label))
            pushed = (np.sqrt((forces**2).sum(axis=1)) * areas).tolist()
            each = [(patches[i], pushed[i]) for i in np.flatnonzero(pushed).tolist()]
            each += [(patch, size(force) * patch.area_m2) for patch, force in roofs]
            for patch, force_n in each:
                of_panel = out.faces.setdefault(patch.panel.key, {})
                of_panel[key] = of_panel.get(key, 0.0) + force_n
            for half_of, more in aside.items():
                aslant = f"W{way} {half_of}{' up' if lifting else ''}"
                loads_there = loads.and_also(on_tubes).and_also(more)
                out.cases.append(Case(key=aslant, loads=loads_there, label=f"{label}, more on the {half_of} half"))
                for patch, force_n in each:
                    of_panel = out.faces[patch.panel.key]
                    more_n = force_n * MORE if patch.panel.key in walls else 0.0
                    of_panel[aslant] = of_panel.get(aslant, 0.0) + force_n + more_n
    return out


def _met(setting: Setting, patches: Sequence[Patch]) -> Met:
    faces: list[int] = []
    roofs: list[Patch] = []
    skin: list[int] = []
    kinds: dict[str, bool] = {}
    for i, patch in enumerate(patches):
        panel = patch.panel
        if panel.key not in kinds:
            kinds[panel.key] = is_skin(setting, panel)
        if kinds[panel.key]:
            skin.append(i)
        elif is_free_roof(setting, panel, patch):
            roofs.append(patch)
        elif panel.side != "floor":
            faces.append(i)
    closed = skin_of([patches[i] for i in skin], setting.frame) if skin else None
    face_at, skin_at = np.array(faces, dtype=int), np.array(skin, dtype=int)
    return Met(tuple(patches[i] for i in faces), face_at, tuple(roofs), closed, skin_at)


def _on_faces(setting: Setting, faces: Sequence[Patch], blow: Vector, q: float) -> Floats:
    """Return the wind on a square metre of lattices and freestanding walls, none where it passes along. [Pa]"""
    known: dict[str, float] = {}
    out = np.zeros((len(faces), 3))
    for i, patch in enumerate(faces):
        facing = dot(blow, patch.normal)
        if abs(facing) > EDGE_ON:
            panel = patch.panel
            if panel.key not in known:
                closed, whole = setting.solidity(panel), setting.whole(panel)
                known[panel.key] = face_pressure(setting, panel, q, closed, whole)[0]
            out[i] = times(patch.normal, known[panel.key] * facing * abs(facing))
    return out


def _on_roofs(
    setting: Setting, roofs: Sequence[Patch], blow: Vector, q: float, lifting: bool, kept: Bearing
) -> Iterator[Pressed]:
    """Yield the wind on free roofs: net coefficient times the solid share, and at least a code's push from the side."""
    if not roofs:
        return
    least, gust = least_pa(setting.site), constants.value("gust_effect_ratio")
    for patch, ratio in free_roof_ratios(setting, list(roofs), blow, int(lifting), kept):
        closed = setting.solidity(patch.panel)
        down = times(patch.normal, -1.0 if patch.normal[2] > 0 else 1.0)
        force = times(down, wind.face_pressure_pa(q, gust, ratio, closed))
        seen = -dot(patch.normal, blow) if patch.normal[2] > 0 else dot(patch.normal, blow)
        missing = least * closed * max(seen, 0.0) - dot(force, blow)
        yield patch, add(force, times(blow, missing)) if seen > 0 and missing > 0 else force


def _on_skin(setting: Setting, skin: Skin | None, blow: Vector, q: float, inside: float, lifting: bool) -> Floats:
    """Return the wind on a square metre of a skin: outside less inside, in all at least a code's push. [Pa]"""
    if skin is None:
        return np.zeros((0, 3))
    gust, within = constants.value("gust_effect_ratio"), inside if lifting else -inside
    panels = {p.panel.key: p.panel for p in skin.patches}
    porous = {key: wind.porous_ratio(setting.whole(panel)) for key, panel in panels.items()}
    kept = np.array([porous[patch.panel.key] for patch in skin.patches])
    normal, area = np.array([p.normal for p in skin.patches]), np.array([p.area_m2 for p in skin.patches])
    ratios = skin_ratios(skin, blow, not lifting)
    known = {ratio: building_wind.skin_pressure_pa(q, gust, ratio, within) for ratio in set(ratios)}
    forces = -normal * (np.array([known[ratio] for ratio in ratios]) * kept)[:, None]
    if setting.site.wind_kind == "code":
        least = _least_seen(normal, blow)
        pushed, asked = float((forces @ blow) @ area), float(least @ area)
        missing = max(0.0, 1 - pushed / asked) if asked else 0.0
        forces += (missing * least)[:, None] * np.array(blow)
    return np.asarray(forces)


def _least_seen(normal: Floats, blow: Vector) -> Floats:
    """Least push on a square metre of patches that look to the wind: a code's on walls, half of it on roofs. [Pa]"""
    wall, roof = constants.value("minimum_wind_pa"), constants.value("minimum_roof_wind_pa")
    least = np.where(np.abs(normal[:, 2]) < WALL_RISE, wall, roof)
    return np.asarray(least * np.maximum(-(normal @ blow), 0.0))


def face_pressure(setting: Setting, panel: Panel, q: float, closed: float, whole: float) -> tuple[float, float]:
    """Return the wind on a square metre of covering [Pa] and the coefficient for the tubes behind it.

    Below 70 % solid the face is a lattice: covering and tubes each take the wind on their own solid area. Above, it is
    a wall with holes: the wall's pressure acts on the whole face and its tubes take nothing more.
    """
    gust, least = constants.value("gust_effect_ratio"), least_pa(setting.site)
    if whole <= wind.OPEN_BELOW:
        coefficient = wind.lattice_coefficient(whole)
        return max(wind.face_pressure_pa(q, gust, coefficient, closed), least * closed), coefficient
    width, height = panel_sides_m(setting.frame, panel)
    coefficient = wind.wall_coefficient(width, height, max(setting.top_m, height))
    return max(wind.face_pressure_pa(q, gust, coefficient, wind.porous_ratio(whole)), least * whole), 0.0


def least_pa(site: Site) -> float:
    """Least pressure on the solid area that a code asks for; none for a forecast. [Pa]"""
    return constants.value("minimum_wind_pa") if site.wind_kind == "code" else 0.0


# --- tubes


def _tube_coefficients(setting: Setting, met: Met) -> dict[str, float]:
    """Return the coefficient of each run: by its panel's solidity; none on or inside a skin or on a wall."""
    open_ = wind.lattice_coefficient(0.0)
    found: dict[str, float] = {}
    for panel in {patch.panel.key: patch.panel for patch in met.faces}.values():
        whole = setting.whole(panel)
        on_tubes = wind.lattice_coefficient(whole) if whole <= wind.OPEN_BELOW else 0.0
        for carrier in panel.carried_by:
            found[carrier] = max(on_tubes, found.get(carrier, 0.0))
    if met.skin:
        covered = {key for patch in met.skin.patches for key in patch.panel.carried_by}
        for key, line in setting.frame.lines.items():
            if key in covered or (key not in found and met.skin.holds(line.point(line.length_m / 2))):
                found[key] = 0.0
    return {key: found.get(key, open_) for key in setting.frame.runs}


@lru_cache(maxsize=2048)
def _chords(line: Centreline) -> tuple[tuple[float, float, Vector], ...]:
    """Return where each straight stretch of a line starts and ends, and which way it goes."""
    found = []
    for piece, start in zip(line.pieces, line.starts_m):
        chords = ARC_CHORDS if isinstance(piece, Arc) else 1
        for a, b in pairwise(piece.length_m * i / chords for i in range(chords + 1)):
            found.append((start + a, start + b, piece.tangent((a + b) / 2)))
    return tuple(found)


@dataclass(frozen=True)
class _Tubes:
    """Runs that meet the wind by themselves, in straight stretches, arcs as chords."""

    runs: tuple[str, ...]
    run: Ints
    from_m: Floats
    to_m: Floats
    ahead: Floats  # (stretches, 3)
    outer_m: Floats
    coefficient: Floats

    @classmethod
    def of(cls, setting: Setting, coefficients: Mapping[str, float]) -> "_Tubes":
        """Return the tubes of a frame by their coefficients, those without one left out."""
        found = []
        for number, run in enumerate(setting.frame.runs.values()):
            if coefficients[run.key]:
                outer = setting.members[run.member].across_mm / 1000
                chords = _chords(setting.frame.lines[run.key])
                found += [(number, a, b, *ahead, outer, coefficients[run.key]) for a, b, ahead in chords]
        table = np.array(found).reshape(-1, 8)
        number, start, end, outer, coefficient = table[:, [0, 1, 2, 6, 7]].T
        return cls(tuple(setting.frame.runs), number.astype(int), start, end, table[:, 3:6], outer, coefficient)

    def blown(self, site: Site, blow: Vector, q: float, kept: Flags | None = None) -> LineLoads:
        """Return the wind on tubes, or on the stretches kept: by the part of the wind that blows across them."""
        gust, least = constants.value("gust_effect_ratio"), least_pa(site)
        kinds = list(zip(self.coefficient.tolist(), self.outer_m.tolist(), strict=True))
        known = {kind: max(wind.tube_wind_n_per_m(q, gust, *kind), least * kind[1]) for kind in set(kinds)}
        square = np.array(blow) - self.ahead * (self.ahead @ blow)[:, None]
        across = np.sqrt((square**2).sum(axis=1))
        met = np.flatnonzero((across > EDGE_ON) & (kept if kept is not None else True))
        force = square[met] * (np.array([known[kinds[i]] for i in met.tolist()]) * across[met])[:, None]
        return LineLoads(self.runs, self.run[met], self.from_m[met], self.to_m[met], force, force)


@dataclass(frozen=True)
class _Behind:
    """Tubes on walls and on or inside a skin: they meet a wind that passes along all of it, and no other."""

    tubes: _Tubes
    met: Met

    @classmethod
    def of(cls, setting: Setting, met: Met, coefficients: Mapping[str, float]) -> "_Behind":
        """Return the tubes that have no coefficient of their own."""
        open_ = wind.lattice_coefficient(0.0)
        return cls(_Tubes.of(setting, {key: 0.0 if value else open_ for key, value in coefficients.items()}), met)

    @cached_property
    def faced(self) -> tuple[set[str], set[str]]:
        """Runs that carry what faces a wind along x, and along y."""
        patches = (*self.met.faces, *(self.met.skin.patches if self.met.skin else ()))
        x, y = ({key for p in patches if abs(p.normal[i]) > EDGE_ON for key in p.panel.carried_by} for i in (0, 1))
        return x, y

    def blown(self, site: Site, blow: Vector, q: float) -> LineLoads | None:
        """Return the wind on them; None where they stand in a skin that faces it."""
        skin = self.met.skin
        if skin is not None and any(dot(patch.normal, blow) < -EDGE_ON for patch in skin.patches):
            return None
        faced = self.faced[0 if blow[0] else 1]
        passed = np.array([key not in faced for key in self.tubes.runs])
        return self.tubes.blown(site, blow, q, passed[self.tubes.run])
