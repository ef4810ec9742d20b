"""What acts on a frame: weight, plants, wind, snow, standing water, a person leaning; and how the cases are combined.

A frame, a site and a condition come in; cases, combinations and a table that a reader can inspect go out. ASCE 7 is the
basis (ASD combinations, named by expression). A build may add cases, never drop one.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from gardenframe.geometry.arcs import Arc
from gardenframe.geometry.coverings import panel_area_m2, panel_sides_m
from gardenframe.geometry.frame import Frame, Panel, Run
from gardenframe.geometry.vectors import Vector, add, dot, minus, size, times
from gardenframe.materials import constants
from gardenframe.materials.coverings import Covering
from gardenframe.materials.members import Member
from gardenframe.materials.plants import Plant
from gardenframe.materials.site import Site
from gardenframe.strength import snow, wind
from gardenframe.strength.cases import Case, Combination, LineLoad, Load, PointLoad, self_weight
from gardenframe.strength.panels import Share, normal, shares_of, spread

WINDS: dict[str, Vector] = {"+x": (1, 0, 0), "-x": (-1, 0, 0), "+y": (0, 1, 0), "-y": (0, -1, 0)}
FROM = {"+x": "from the left", "-x": "from the right", "+y": "from the front", "-y": "from behind"}
ROOF_SLOPE_DEG = 60.0  # a flatter panel is a roof to snow
FLAT_DEG = 5.0  # on a flatter cover water can stand
EDGE_ON = 0.02  # cosine below which wind passes along a panel
ARC_CHORDS = 8
ALONG_MIDDLE_M = 0.001
CONDITIONS = ("bare", "covered", "grown")


@dataclass(frozen=True)
class Loads:
    """Cases, how they are combined, and what they rest on.

    `faces` gives, by panel and case, the force of wind on it [N]: what its fixings hold.
    """

    cases: tuple[Case, ...]
    combinations: tuple[Combination, ...]
    rows: tuple[dict[str, Any], ...]
    faces: Mapping[str, Mapping[str, float]]


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
        return min(shaded / panel_area_m2(self.frame, panel), 0.6)


def loads_of(setting: Setting, extra: Iterable[Case] = ()) -> Loads:
    """Return every case and combination of a setting.

    Parameters
    ----------
    extra : iterable of Case
        Further permanent cases of a build: soil, water.
    """
    shares = {p.key: shares_of(setting.frame, p) for p in setting.frame.panels if p.outline}
    permanent = [_dead(setting, shares), *_plants(setting, shares), *extra]
    snows = list(_snow(setting, shares))
    faces: dict[str, dict[str, float]] = {}
    winds = [_wind(setting, shares, way, faces) for way in WINDS] if setting.site.wind_m_per_s > 0 else []
    leans = list(_leans(setting))
    cases = (*permanent, *snows, *winds, *leans)
    rows = tuple(_row(setting.frame, case) for case in cases)
    return Loads(cases, tuple(combinations(setting.site, permanent, snows, winds, leans)), rows, faces)


def combinations(
    site: Site, permanent: Sequence[Case], snows: Sequence[Case], winds: Sequence[Case], leans: Sequence[Case]
) -> Iterator[Combination]:
    """Yield the ASD combinations. A forecast gust enters whole: it is a wind that is coming, not a code's rare one."""
    w = 0.6 if site.wind_kind == "code" else 1.0
    share = f"{w:g} " if w != 1 else ""
    all_ = {case.key: 1.0 for case in permanent}
    said = " + ".join(all_)
    yield Combination(key=said, factors=all_, label="weight and plants")
    for case in snows:
        yield Combination(key=f"{said} + {case.key}", factors=all_ | {case.key: 1.0}, label=case.label)
    for case in winds:
        yield Combination(key=f"{said} + {share}{case.key}", factors=all_ | {case.key: w}, label=case.label)
        for fallen in snows:
            both = all_ | {fallen.key: 0.75, case.key: 0.75 * w}
            yield Combination(
                key=f"{said} + 0.75 {fallen.key} + 0.75 {share}{case.key}", factors=both, label=case.label
            )
        yield Combination(
            key=f"0.6 D + {share}{case.key}", factors={"D": 0.6, case.key: w}, label=f"{case.label}, little weight"
        )
    for case in leans:
        yield Combination(key=f"{said} + {case.key}", factors=all_ | {case.key: 1.0}, label=case.label)


# --- cases


def _dead(setting: Setting, shares: Mapping[str, list[Share]]) -> Case:
    """Weight of members and coverings."""
    frame, g = setting.frame, constants.value("gravity_m_per_s2")
    own = self_weight(frame, {key: m.mass_kg_per_m for key, m in setting.members.items()})
    covers: list[Load] = []
    for panel in frame.panels:
        if panel.covering and setting.condition != "bare" and panel.outline:
            mass = setting.coverings[panel.covering].mass_kg_per_m2
            covers += spread(frame, panel, (0.0, 0.0, -mass * g), shares[panel.key])
    return replace(own, loads=(*own.loads, *covers), label="weight of the frame and its covering")


def _plants(setting: Setting, shares: Mapping[str, list[Share]]) -> Iterator[Case]:
    """Weight of plants, wet and laden, hung evenly on their panel."""
    g = constants.value("gravity_m_per_s2")
    loads: list[Load] = []
    for panel in setting.frame.panels:
        if panel.plant and panel.outline and setting.condition == "grown":
            row_m = panel_sides_m(setting.frame, panel)[0]
            mass = setting.plants[panel.plant].stage_mass_kg_per_m(setting.stage) * row_m
            pressure = mass * g / panel_area_m2(setting.frame, panel)
            loads += spread(setting.frame, panel, (0.0, 0.0, -pressure), shares[panel.key])
    if loads:
        yield Case(key="P", loads=tuple(loads), label="plants, full-grown and wet")


def slope_deg(frame: Frame, panel: Panel) -> float:
    """Slope of a flat panel from level, 0 to 90. [deg]"""
    return math.degrees(math.acos(min(1.0, abs(normal(frame, panel)[2]))))


def _snow(setting: Setting, shares: Mapping[str, list[Share]]) -> Iterator[Case]:
    """Snow and standing water on every cover flat enough to hold it: whole, and on one half only."""
    frame, ground = setting.frame, setting.site.ground_snow_pa
    fallen: list[LineLoad] = []
    standing: list[Load] = []
    for panel in frame.panels:
        if not (panel.covering and panel.outline) or setting.condition == "bare":
            continue
        cover, slope = setting.coverings[panel.covering], slope_deg(frame, panel)
        if slope < ROOF_SLOPE_DEG and cover.holds_snow and ground:
            on_plan = snow.cover_snow_pa(ground, slope, slippery=cover.opening_mm == 0)
            fallen += spread(frame, panel, (0, 0, -on_plan * math.cos(math.radians(slope))), shares[panel.key])
        if slope < FLAT_DEG and cover.opening_mm == 0:
            water = constants.value("water_density_kg_per_m3") * constants.value("gravity_m_per_s2")
            standing += spread(frame, panel, (0, 0, -water * constants.value("ponding_m")), shares[panel.key])
    if fallen:
        yield Case(key="S", loads=tuple(fallen), label="snow")
        for key, axis, side in (("S left", 0, -1), ("S right", 0, 1), ("S front", 1, -1), ("S back", 1, 1)):
            part = tuple(_one_side(frame, fallen, axis, side))
            if part:
                yield Case(key=key, loads=part, label=f"snow on the {key[2:]} half only")
    if standing:
        yield Case(key="R", loads=tuple(standing), label="water standing on the cover")


def _one_side(frame: Frame, loads: Sequence[LineLoad], axis: int, side: int) -> Iterator[LineLoad]:
    """Yield the part of loads that lies on one side of their middle; a run along the middle carries half."""
    reach = {id(load): _reach(frame, load, axis) for load in loads}
    middle = (min(min(r[1:]) for r in reach.values()) + max(max(r[1:]) for r in reach.values())) / 2
    for load in loads:
        to_m, *places = reach[id(load)]
        ends = [(place - middle) * side for place in places]
        if max(map(abs, ends)) < ALONG_MIDDLE_M:
            yield _part(load, load.from_m, to_m, to_m, share=0.5)
        elif min(ends) >= 0:
            yield load
        elif max(ends) > 0:
            cut = load.from_m + (to_m - load.from_m) * ends[0] / (ends[0] - ends[1])
            yield _part(load, load.from_m, cut, to_m) if ends[0] > 0 else _part(load, cut, to_m, to_m)


def _reach(frame: Frame, load: LineLoad, axis: int) -> tuple[float, float, float]:
    """Return where a load ends on its run, and its two ends along an axis. [m]"""
    line = frame.lines[load.run]
    to_m = line.length_m if load.to_m is None else load.to_m
    return to_m, line.point(load.from_m)[axis], line.point(to_m)[axis]


def _part(load: LineLoad, start_m: float, end_m: float, to_m: float, share: float = 1.0) -> LineLoad:
    """Return a stretch of a load that changes in a straight line, or a share of it."""
    last = load.force_n_per_m if load.to_n_per_m is None else load.to_n_per_m

    def at(station: float) -> Vector:
        along = (station - load.from_m) / (to_m - load.from_m)
        return times(add(times(load.force_n_per_m, 1 - along), times(last, along)), share)

    return LineLoad(run=load.run, force_n_per_m=at(start_m), to_n_per_m=at(end_m), from_m=start_m, to_m=end_m)


def _wind(setting: Setting, shares: Mapping[str, list[Share]], way: str, faces: dict[str, dict[str, float]]) -> Case:
    """Wind from one side on tubes and panels."""
    frame, site, blow = setting.frame, setting.site, WINDS[way]
    key = f"W{way}"
    q = wind.site_pressure_pa(site, top_m(frame))
    loads: list[Load] = []
    coefficients: dict[str, float] = {}
    for panel in frame.panels:
        if panel.outline is None:
            continue
        tubes, closed = setting.tube_solidity(panel), setting.solidity(panel)
        whole = 1 - (1 - tubes) * (1 - closed)
        pressure, on_tubes = face_pressure(frame, panel, site, q, closed, whole)
        for carrier in panel.carried_by:
            coefficients[carrier] = max(on_tubes, coefficients.get(carrier, 0.0))
        face = normal(frame, panel)
        facing = dot(blow, face)
        if abs(facing) > EDGE_ON and pressure:
            force = times(face, pressure * facing * abs(facing))
            loads += spread(frame, panel, force, shares[panel.key])
            faces.setdefault(panel.key, {})[key] = size(force) * panel_area_m2(frame, panel)
    for run in frame.runs.values():
        loads += _wind_on_run(setting, run, blow, q, coefficients.get(run.key, wind.lattice_coefficient(0.0)))
    return Case(key=key, loads=tuple(loads), label=f"wind {FROM[way]}")


def face_pressure(frame: Frame, panel: Panel, site: Site, q: float, closed: float, whole: float) -> tuple[float, float]:
    """Return the wind on a square metre of covering [Pa] and the coefficient for the tubes behind it.

    Below 70 % solid the face is a lattice: covering and tubes each take the wind on their own solid area. Above, it is
    a wall with holes: the wall's pressure acts on the whole face and its tubes take nothing more.
    """
    gust, least = constants.value("gust_effect_ratio"), _least_pa(site)
    if whole <= wind.OPEN_BELOW:
        coefficient = wind.lattice_coefficient(whole)
        return max(wind.face_pressure_pa(q, gust, coefficient, closed), least * closed), coefficient
    width, height = panel_sides_m(frame, panel)
    coefficient = wind.wall_coefficient(width, height, max(top_m(frame), height))
    return max(wind.face_pressure_pa(q, gust, coefficient, wind.porous_ratio(whole)), least * whole), 0.0


def _least_pa(site: Site) -> float:
    """Least pressure on the solid area that a code asks for; none for a forecast. [Pa]"""
    return constants.value("minimum_wind_pa") if site.wind_kind == "code" else 0.0


def _wind_on_run(setting: Setting, run: Run, blow: Vector, q: float, coefficient: float) -> Iterator[LineLoad]:
    """Yield the wind on a member: by the part of the wind that blows across it."""
    if coefficient == 0:
        return
    gust, outer = constants.value("gust_effect_ratio"), setting.members[run.member].across_mm / 1000
    across = max(wind.tube_wind_n_per_m(q, gust, coefficient, outer), _least_pa(setting.site) * outer)
    line = setting.frame.lines[run.key]
    for piece, start in zip(line.pieces, line.starts_m):
        chords = ARC_CHORDS if isinstance(piece, Arc) else 1
        for a, b in pairwise(piece.length_m * i / chords for i in range(chords + 1)):
            ahead = piece.tangent((a + b) / 2)
            square = minus(blow, times(ahead, dot(blow, ahead)))
            if size(square) > EDGE_ON:
                force = times(square, across * size(square))
                yield LineLoad(run=run.key, force_n_per_m=force, from_m=start + a, to_m=start + b)


def top_m(frame: Frame) -> float:
    """Height of the highest joint above the ground. [m]"""
    return max(joint.z_m for joint in frame.joints.values())


def _leans(setting: Setting) -> Iterator[Case]:
    """A person pushes a rail in mid-bay, square to the frame, and an end post along it, as high as a push is strong."""
    frame = setting.frame
    push, reach = constants.value("lean_n"), constants.value("lean_height_m")
    spots = [(run.key, line.length_m / 2, line.point(line.length_m / 2)) for run, line in _upright(frame, "rail")]
    posts = []
    for run, line in _upright(frame, "post"):
        low, high = line.point(0.0)[2], line.point(line.length_m)[2]
        share = min(max((reach - low) / (high - low), 0.0), 1.0) if high > low else 0.5
        posts.append((run.key, line.length_m * share, line.point(line.length_m * share)))
    for places, ways in ((spots or posts, ("+y", "-y")), (posts or spots, ("+x", "-x"))):
        if not places:
            continue
        carrier, station, _ = min(places, key=lambda spot: (abs(spot[2][2] - reach), spot[2][0]))
        for way in ways:
            force = times(WINDS[way], push)
            yield Case(
                key=f"L{way}",
                loads=(PointLoad(run=carrier, station_m=station, force_n=force),),
                label=f"a person leans {FROM[way]}",
            )


def _upright(frame: Frame, role: str) -> Iterator[tuple[Run, Any]]:
    for run in frame.runs.values():
        if run.role == role:
            yield run, frame.lines[run.key]


def _row(frame: Frame, case: Case) -> dict[str, Any]:
    """Return one line of the table of loads: the sum of a case."""
    total: Vector = (0.0, 0.0, 0.0)
    for load in case.loads:
        total = add(total, force_of(frame, load))
    return {
        "case": case.key,
        "what": case.label,
        "x_n": total[0],
        "y_n": total[1],
        "z_n": total[2],
        "parts": len(case.loads),
    }


def force_of(frame: Frame, load: Load) -> Vector:
    """Return the whole force of a load. [N]"""
    if not isinstance(load, LineLoad):
        return load.force_n
    end = frame.lines[load.run].length_m if load.to_m is None else load.to_m
    last = load.force_n_per_m if load.to_n_per_m is None else load.to_n_per_m
    return times(add(load.force_n_per_m, last), (end - load.from_m) / 2)
