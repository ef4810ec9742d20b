"""What acts on a frame: weight, plants, wind, snow, standing water, a person leaning; and how the cases are combined.

A frame, a site and a condition come in; cases, combinations and a table that a reader can inspect go out. ASCE 7 is the
basis (ASD combinations, named by expression). A build may add cases, never drop one.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from gardenframe.geometry.coverings import panel_sides_m
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector
from gardenframe.materials import constants
from gardenframe.materials.site import Site
from gardenframe.strength import snow, wind
from gardenframe.strength.bearing import Bearing, downward
from gardenframe.strength.cases import Case, Combination, LineLoad, LineLoads, Load, weights
from gardenframe.strength.leans import leans
from gardenframe.strength.loads_basis import basis_of
from gardenframe.strength.panels import shares_of
from gardenframe.strength.setting import CONDITIONS, Setting
from gardenframe.strength.skins import Patch, patches_of
from gardenframe.strength.snow_loads import snow_cases
from gardenframe.strength.wind_loads import winds
from gardenframe.working import Formula, Step

__all__ = ["CONDITIONS", "Loads", "Setting", "combinations", "contents", "force_of", "loads_of"]


@dataclass(frozen=True)
class Loads:
    """Cases, how they are combined, and what they rest on.

    `faces` gives, by panel and case, the force of wind on it [N]: what its fixings hold.
    `basis` names the formulas worked.
    """

    cases: tuple[Case, ...]
    combinations: tuple[Combination, ...]
    rows: tuple[dict[str, Any], ...]
    faces: Mapping[str, Mapping[str, float]]
    basis: tuple[tuple[str, Formula[..., Any], tuple[float, ...]], ...] = ()

    def worked(self, system: str = "metric") -> dict[str, list[Step]]:
        """Return the hand working of the pressures by heading: wind, the largest panel, snow."""
        found: dict[str, list[Step]] = {}
        for heading, formula, values in self.basis:
            found.setdefault(heading, []).append(formula.shown(*values, system=system))
        return found


class Laid(NamedTuple):
    """What wind, snow and weight meet on a frame, whatever the site: patches of panels, and what they bear on."""

    patches: Sequence[Patch]
    bearing: Bearing


def laid(setting: Setting) -> Laid:
    """Return what loads meet on the frame of a setting."""
    frame = setting.frame
    shares = {p.key: shares_of(frame, p) for p in frame.panels if p.outline}
    patches = [patch for p in frame.panels for patch in patches_of(frame, p, shares, setting.area_m2(p))]
    return Laid(patches, Bearing.of(patches, frame))


def loads_of(setting: Setting, extra: Iterable[Case] = (), met: Laid | None = None) -> Loads:
    """Return every case and combination of a setting.

    Parameters
    ----------
    extra : iterable of Case
        Further permanent cases of a build: soil, water (`contents`). They may be taken away, so they never hold down.
    met : Laid, optional
        What loads meet on this frame, where it is known.
    """
    frame, (patches, bearing) = setting.frame, met or laid(setting)
    permanent = [_dead(setting, patches, bearing), *_plants(setting, patches, bearing), *extra]
    snows = list(snow_cases(setting, patches, bearing))
    blown = winds(setting, patches, bearing)
    leaning: list[Case] = bearing.once("leans", lambda: list(leans(frame)))
    cases = (*permanent, *snows, *blown.cases, *leaning)
    q = wind.site_pressure_pa(setting.site, setting.top_m)
    rows = tuple(_row(setting, case, q) for case in cases)
    combined = tuple(combinations(setting.site, permanent, snows, blown.cases, leaning))
    return Loads(cases, combined, rows, blown.faces, tuple(basis_of(setting, blown)))


def combinations(
    site: Site, permanent: Sequence[Case], snows: Sequence[Case], winds: Sequence[Case], leans: Sequence[Case]
) -> Iterator[Combination]:
    """Yield the ASD combinations. A forecast gust enters whole: it is a wind that is coming, not a code's rare one.

    What may be taken away (plants, water, soil) never helps to hold a frame down: the combinations with little weight
    count the frame alone.
    """
    w = 0.6 if site.wind_kind == "code" else 1.0
    share = f"{w:g} " if w != 1 else ""
    all_ = {case.key: 1.0 for case in permanent}
    said = " + ".join(all_)
    label = "weight and plants" if all_.keys() <= {"D", "P"} else "all that stays"
    yield Combination(key=said, factors=all_, label=label)
    for case in snows:
        yield Combination(key=f"{said} + {case.key}", factors=all_ | {case.key: 1.0}, label=case.label)
    for case in winds:
        yield Combination(key=f"{said} + {share}{case.key}", factors=all_ | {case.key: w}, label=case.label)
        for fallen in snows:
            both = all_ | {fallen.key: 0.75, case.key: 0.75 * w}
            if not case.key.endswith(" up"):  # a wind that lifts is eased by snow
                yield Combination(
                    key=f"{said} + 0.75 {fallen.key} + 0.75 {share}{case.key}", factors=both, label=case.label
                )
        yield Combination(
            key=f"0.6 D + {share}{case.key}", factors={"D": 0.6, case.key: w}, label=f"{case.label}, little weight"
        )
    for case in leans:
        yield Combination(key=f"{said} + {case.key}", factors=all_ | {case.key: 1.0}, label=case.label)


def _dead(setting: Setting, patches: Sequence[Patch], bearing: Bearing) -> Case:
    """Weight of members and coverings."""
    own = weights(setting.frame, {key: m.mass_kg_per_m for key, m in setting.members.items()})
    mass = {
        panel.key: setting.coverings[panel.covering].mass_kg_per_m2
        for panel in setting.frame.panels
        if panel.covering and setting.condition != "bare"
    }
    weight = {key: each * constants.value("gravity_m_per_s2") for key, each in mass.items()}
    covers = bearing.loads(downward(patches, weight))
    return Case(key="D", loads=own.and_also(covers), label="weight of the frame and its covering")


def _plants(setting: Setting, patches: Sequence[Patch], bearing: Bearing) -> Iterator[Case]:
    """Weight of plants, wet and laden, hung evenly on their panel."""
    weight: dict[str, float] = {}
    for panel in setting.frame.panels:
        if panel.plant and setting.condition == "grown":
            sides = panel_sides_m(setting.frame, panel)
            row_m = sides[0] if panel.outline else 2 * sides[1]  # a row at each foot of an arch
            mass = setting.plants[panel.plant].stage_mass_kg_per_m(setting.stage) * row_m * panel.row_share
            weight[panel.key] = mass * constants.value("gravity_m_per_s2") / setting.area_m2(panel)
    if any(weight.values()):
        yield Case(key="P", loads=bearing.loads(downward(patches, weight)), label="plants, full-grown and wet")


def contents(frame: Frame, key: str, label: str, weight_n: float, runs: Sequence[str]) -> Case:
    """Return the case of a weight that stands evenly on runs: water, soil, trays; for `extra`. [N]"""
    lengths = sum(frame.lines[run].length_m for run in runs)
    force = (0.0, 0.0, -weight_n / lengths)
    return Case(key=key, loads=tuple(LineLoad(run=run, force_n_per_m=force) for run in runs), label=label)


def _row(setting: Setting, case: Case, q: float) -> dict[str, Any]:
    """Return one line of the table of loads: the sum of a case, the pressure it starts from and where that is from."""
    if isinstance(case.loads, LineLoads):
        x_n, y_n, z_n = case.loads.whole_n.tolist()
    else:
        x_n, y_n, z_n = (math.fsum(part) for part in zip((0, 0, 0), *(force_of(setting.frame, f) for f in case.loads)))
    pressure, source = _origin(setting, case.key, q)
    return {
        "case": case.key,
        "what": case.label,
        "x_n": x_n,
        "y_n": y_n,
        "z_n": z_n,
        "parts": len(case.loads),
        "pressure_pa": pressure,
        "source": source,
    }


def _origin(setting: Setting, key: str, q: float) -> tuple[float | None, str]:
    """Return the pressure a case starts from [Pa] and the key of its source."""
    if key.startswith("W"):
        return q, "asce7-velocity-pressure"
    if key == "S" or key.startswith("S "):
        return snow.cover_snow_pa(setting.site.ground_snow_pa, 0.0, slippery=False), "asce7-snow"
    if key == "R":
        water = constants.value("water_density_kg_per_m3") * constants.value("gravity_m_per_s2")
        return water * constants.value("ponding_m"), "ponding"
    return None, "lean" if key.startswith("L") else "crop-memory" if key == "P" else ""


def force_of(frame: Frame, load: Load) -> Vector:
    """Return the whole force of a load. [N]"""
    if not isinstance(load, LineLoad):
        return load.force_n
    end = frame.lines[load.run].length_m if load.to_m is None else load.to_m
    half, a = (end - load.from_m) / 2, load.force_n_per_m
    b = a if load.to_n_per_m is None else load.to_n_per_m
    return ((a[0] + b[0]) * half, (a[1] + b[1]) * half, (a[2] + b[2]) * half)
