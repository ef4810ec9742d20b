"""Which formulas the pressures of a setting rest on, with their values: what a reader can work by hand."""

from collections.abc import Iterator
from typing import Any

from gardenframe.geometry.coverings import panel_sides_m
from gardenframe.materials import constants
from gardenframe.strength import building_wind, snow, wind
from gardenframe.strength.panels import normal
from gardenframe.strength.setting import Setting
from gardenframe.strength.snow_loads import slippery, slope_of
from gardenframe.strength.wind_coefficients import is_skin
from gardenframe.strength.wind_loads import Winds
from gardenframe.working import Formula

Worked = tuple[str, Formula[..., Any], tuple[float, ...]]


def basis_of(setting: Setting, blown: Winds) -> Iterator[Worked]:
    """Yield (heading, formula, values): wind, the largest panel, snow on the flattest cover."""
    if setting.site.wind_m_per_s:
        kz, direction, shelter = wind.pressure_inputs(setting.site, setting.top_m)
        yield "wind", wind.velocity_pressure_pa, (kz, direction, shelter, setting.site.wind_m_per_s)
        yield from _largest(setting, blown)
    yield from _snow(setting)


def _largest(setting: Setting, blown: Winds) -> Iterator[Worked]:
    panels = [panel for panel in setting.frame.panels if panel.key in blown.faces]
    if not panels:
        return
    q, gust = wind.site_pressure_pa(setting.site, setting.top_m), constants.value("gust_effect_ratio")
    panel = max(panels, key=setting.area_m2)
    heading, whole, closed = f"wind on {panel.key}", setting.whole(panel), setting.solidity(panel)
    if is_skin(setting, panel):
        outside = building_wind.wall_ratio("windward")
        yield f"{heading}, where it faces the wind", building_wind.skin_pressure_pa, (q, gust, outside, blown.inside)
    elif whole > wind.OPEN_BELOW:
        width, height = panel_sides_m(setting.frame, panel)
        coefficient = wind.wall_coefficient(width, height, max(setting.top_m, height))
        yield heading, wind.porous_ratio, (whole,)
        yield heading, wind.face_pressure_pa, (q, gust, coefficient, wind.porous_ratio(whole))
    else:
        yield heading, wind.face_pressure_pa, (q, gust, wind.lattice_coefficient(whole), closed)


def _snow(setting: Setting) -> Iterator[Worked]:
    covered = [p for p in setting.frame.panels if p.covering and p.outline and p.side != "floor"]
    if not setting.site.ground_snow_pa or setting.condition == "bare" or not setting.frame.panels:
        return
    thermal = constants.value("thermal_cold_ratio")
    yield "snow", snow.flat_snow_pa, (1.0, thermal, 1.0, setting.site.ground_snow_pa)
    if covered:
        panel = min(covered, key=lambda one: slope_of(normal(setting.frame, one)))
        from_deg = snow.SLIPPERY_FROM_DEG if slippery(setting.coverings[panel.covering or ""]) else snow.ROUGH_FROM_DEG
        yield f"snow on {panel.key}", snow.slope_ratio, (slope_of(normal(setting.frame, panel)), from_deg)
