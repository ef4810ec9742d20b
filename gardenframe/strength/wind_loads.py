"""Wind as loads: on tubes, lattices and walls, free roofs, and the skins of buildings and arches, from four sides.

A panel that encloses a space, and any closed swept one, is part of a skin: outside less inside pressure. Of the rest, a
flat panel marked as roof is a free roof: the net coefficients times its solid share. Any other panel is a lattice
or, above 70 % solid, a wall, pushed along its normal by the square of how squarely the wind meets it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise

from gardenframe.geometry.arcs import Arc, Centreline
from gardenframe.geometry.coverings import panel_sides_m
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector, add, dot, minus, size, times
from gardenframe.materials import constants
from gardenframe.materials.site import Site
from gardenframe.strength import building_wind, wind
from gardenframe.strength.cases import Case, LineLoad
from gardenframe.strength.panels import Share
from gardenframe.strength.setting import FROM, WAYS, Setting
from gardenframe.strength.skins import WALL_RISE, Patch, Skin, patches_of, skin_of
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
    roofs: tuple[Patch, ...]
    skin: Skin | None


def winds(setting: Setting, shares: Mapping[str, list[Share]]) -> Winds:
    """Return the cases of wind; two of each side where a roof or a skin may be pressed or lifted."""
    out = Winds()
    if not setting.site.wind_m_per_s:
        return out
    met = _met(setting, shares)
    q = wind.site_pressure_pa(setting.site, setting.top_m)
    if met.skin:
        out.inside = building_wind.inside_ratio(met.skin.one_side_open or (met.skin.has_door and setting.door_open))
    coefficients, segments = _tube_coefficients(setting, met), _segments(setting)
    for way, blow in WAYS.items():
        own = list(_on_faces(setting, met.faces, blow, q))
        tubes = list(_on_tubes(setting, segments, coefficients, blow, q))
        for lifting in (False, True) if met.skin or met.roofs else (False,):
            key = f"W{way}{' up' if lifting else ''}"
            pressed = [*own, *_on_roofs(setting, met.roofs, blow, q, lifting)]
            pressed += _on_skin(setting, met.skin, blow, q, out.inside, lifting)
            label = f"wind {FROM[way]}{', lifting' if lifting else ''}"
            out.cases.append(Case(key=key, loads=(*_laid(pressed), *tubes), label=label))
            for patch, force in pressed:
                of_panel = out.faces.setdefault(patch.panel.key, {})
                of_panel[key] = of_panel.get(key, 0.0) + size(force) * patch.area_m2
    return out


def _met(setting: Setting, shares: Mapping[str, list[Share]]) -> Met:
    faces: list[Patch] = []
    roofs: list[Patch] = []
    skin: list[Patch] = []
    for panel in setting.frame.panels:
        patches = patches_of(setting.frame, panel, shares, setting.area_m2(panel))
        if is_skin(setting, panel):
            skin += patches
        elif is_free_roof(setting, panel, patches[0]):
            roofs += patches
        elif panel.side != "floor":
            faces += patches
    return Met(tuple(faces), tuple(roofs), skin_of(skin, setting.frame) if skin else None)


def _laid(pressed: Sequence[Pressed]) -> Iterator[LineLoad]:
    """Yield the loads on the runs; what two strips put on the same stretch of a run is one load."""
    merged: dict[tuple[str, float, float], Vector] = {}
    for patch, force in pressed:
        if patch.panel.swept:
            for share in patch.shares:
                place, here = (share.run, share.from_m, share.to_m), times(force, share.from_width_m)
                merged[place] = add(merged[place], here) if place in merged else here
        else:
            for s in patch.shares:
                a, b = times(force, s.from_width_m), times(force, s.to_width_m)
                yield LineLoad(run=s.run, force_n_per_m=a, to_n_per_m=b, from_m=s.from_m, to_m=s.to_m)
    for (run, start, end), force in merged.items():
        yield LineLoad(run=run, force_n_per_m=force, from_m=start, to_m=end)


def _on_faces(setting: Setting, faces: Sequence[Patch], blow: Vector, q: float) -> Iterator[Pressed]:
    """Yield the wind on lattices and freestanding walls."""
    known: dict[str, float] = {}
    for patch in faces:
        facing = dot(blow, patch.normal)
        if abs(facing) > EDGE_ON:
            panel = patch.panel
            if panel.key not in known:
                closed, whole = setting.solidity(panel), setting.whole(panel)
                known[panel.key] = face_pressure(setting, panel, q, closed, whole)[0]
            if known[panel.key]:
                yield patch, times(patch.normal, known[panel.key] * facing * abs(facing))


def _on_roofs(setting: Setting, roofs: Sequence[Patch], blow: Vector, q: float, lifting: bool) -> Iterator[Pressed]:
    """Yield the wind on free roofs: net coefficient times the solid share, and at least a code's push from the side."""
    if not roofs:
        return
    least, gust = least_pa(setting.site), constants.value("gust_effect_ratio")
    for patch, ratio in free_roof_ratios(setting, list(roofs), blow, int(lifting)):
        closed = setting.solidity(patch.panel)
        down = times(patch.normal, -1.0 if patch.normal[2] > 0 else 1.0)
        force = times(down, wind.face_pressure_pa(q, gust, ratio, closed))
        seen = -dot(patch.normal, blow) if patch.normal[2] > 0 else dot(patch.normal, blow)
        missing = least * closed * max(seen, 0.0) - dot(force, blow)
        yield patch, add(force, times(blow, missing)) if seen > 0 and missing > 0 else force


def _on_skin(
    setting: Setting, skin: Skin | None, blow: Vector, q: float, inside: float, lifting: bool
) -> Iterator[Pressed]:
    """Yield the wind on a skin: outside less inside, and in all at least a code's push from the side."""
    if skin is None:
        return
    gust, within = constants.value("gust_effect_ratio"), inside if lifting else -inside
    panels = {p.panel.key: p.panel for p in skin.patches}
    porous = {key: wind.porous_ratio(setting.whole(panel)) for key, panel in panels.items()}
    forces = []
    for patch, ratio in zip(skin.patches, skin_ratios(skin, blow, not lifting)):
        pressure = building_wind.skin_pressure_pa(q, gust, ratio, within) * porous[patch.panel.key]
        forces.append(times(patch.normal, -pressure))
    missing = 0.0
    if setting.site.wind_kind == "code":
        pushed = sum(dot(f, blow) * p.area_m2 for f, p in zip(forces, skin.patches))
        least = sum(_least_seen(p, blow) * p.area_m2 for p in skin.patches)
        missing = max(0.0, 1 - pushed / least) if least else 0.0
    for patch, force in zip(skin.patches, forces):
        more = missing * _least_seen(patch, blow) if missing else 0.0
        yield patch, add(force, times(blow, more)) if more else force


def _least_seen(patch: Patch, blow: Vector) -> float:
    """Least push on a square metre of a patch that looks to the wind: a code's on walls, half of it on roofs. [Pa]"""
    least = constants.value("minimum_wind_pa" if abs(patch.normal[2]) < WALL_RISE else "minimum_roof_wind_pa")
    return least * max(-dot(patch.normal, blow), 0.0)


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


Segment = tuple[str, float, float, Vector, float]  # run, from, to, direction, outer diameter


def _segments(setting: Setting) -> list[Segment]:
    """Return the runs in straight stretches, arcs as chords."""
    frame: Frame = setting.frame
    found = []
    for run in frame.runs.values():
        line, outer = frame.lines[run.key], setting.members[run.member].across_mm / 1000
        found += [(run.key, *chord, outer) for chord in _chords(line)]
    return found


@lru_cache(maxsize=2048)
def _chords(line: Centreline) -> tuple[tuple[float, float, Vector], ...]:
    """Return where each straight stretch of a line starts and ends, and which way it goes."""
    found = []
    for piece, start in zip(line.pieces, line.starts_m):
        chords = ARC_CHORDS if isinstance(piece, Arc) else 1
        for a, b in pairwise(piece.length_m * i / chords for i in range(chords + 1)):
            found.append((start + a, start + b, piece.tangent((a + b) / 2)))
    return tuple(found)


def _on_tubes(
    setting: Setting, segments: Sequence[Segment], coefficients: Mapping[str, float], blow: Vector, q: float
) -> Iterator[LineLoad]:
    """Yield the wind on tubes: by the part of the wind that blows across them."""
    gust, least = constants.value("gust_effect_ratio"), least_pa(setting.site)
    for run, start, end, ahead, outer in segments:
        if not coefficients[run]:
            continue
        square = minus(blow, times(ahead, dot(blow, ahead)))
        if size(square) > EDGE_ON:
            across = max(wind.tube_wind_n_per_m(q, gust, coefficients[run], outer), least * outer)
            force = times(square, across * size(square))
            yield LineLoad(run=run, force_n_per_m=force, from_m=start, to_m=end)
