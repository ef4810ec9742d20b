"""Statics of a lid hinged along its upper edge: weight, hand, prop, and the wind that throws it open.

A lid lies down from its hinge towards the front; opening it by an angle lifts its front edge. Floats in, float out.
"""

import math

from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.strength.wind import PRESSURE_FACTOR
from gardenframe.working import formula


@formula(result="beta", symbols={"rise_m": "h", "depth_m": "d"}, source="geometry", kind="empirical",
         example={"rise_m": 0.15, "depth_m": 0.88})  # fmt: skip
def tilt_deg(rise_m: float, depth_m: float) -> float:
    """Slope of a closed lid from the rise between its front and back rails. [deg]

    >>> tilt_deg(0.5, 0.5)
    45.0
    """
    return math.degrees(math.atan(rise_m / depth_m))


@formula(result="theta", symbols={"opened_deg": "varphi", "tilt_deg": "beta"}, source="geometry",
         example={"opened_deg": 30.0, "tilt_deg": 10.0})  # fmt: skip
def above_level_deg(opened_deg: float, tilt_deg: float) -> float:
    """Angle of a lid above level when opened: below 0 its front edge still hangs lower than its hinge. [deg]"""
    return opened_deg - tilt_deg


@formula(result="M", symbols={"mass_kg": "m", "GRAVITY_M_PER_S2": "g", "length_m": "L", "above_deg": "theta"},
         source="geometry", example={"mass_kg": 8.0, "length_m": 0.9, "above_deg": 20.0})  # fmt: skip
def lid_moment_n_m(mass_kg: float, length_m: float, above_deg: float) -> float:
    """Moment of a lid's weight about its hinge: its middle lies half its length away. [N m]"""
    return mass_kg * GRAVITY_M_PER_S2 * length_m / 2 * math.cos(math.radians(above_deg))


@formula(result="F_h", symbols={"moment_n_m": "M", "length_m": "L"}, source="geometry",
         example={"moment_n_m": 33.2, "length_m": 0.9})  # fmt: skip
def hand_n(moment_n_m: float, length_m: float) -> float:
    """What a hand lifts at the front edge, square to the lid; what falls on fingers when it slips. [N]"""
    return moment_n_m / length_m


@formula(result="p", symbols={"length_m": "L", "opened_deg": "varphi"}, source="geometry",
         example={"length_m": 0.9, "opened_deg": 30.0})  # fmt: skip
def prop_m(length_m: float, opened_deg: float) -> float:
    """Length of a prop from the front rail to the lid's front edge: a chord of the lid's swing. [m]"""
    return 2 * length_m * math.sin(math.radians(opened_deg / 2))


@formula(result="varphi", symbols={"length_m": "L", "prop_m": "p"}, source="geometry", kind="empirical",
         example={"prop_m": 0.47, "length_m": 0.9})  # fmt: skip
def opened_deg(prop_m: float, length_m: float) -> float:
    """Angle to which a prop of a length holds a lid open. [deg]

    >>> round(opened_deg(0.9, 0.9))
    60
    """
    return 2 * math.degrees(math.asin(prop_m / (2 * length_m)))


@formula(result="F_p", symbols={"moment_n_m": "M", "length_m": "L", "opened_deg": "varphi"}, source="geometry",
         example={"moment_n_m": 33.2, "length_m": 0.9, "opened_deg": 30.0})  # fmt: skip
def prop_n(moment_n_m: float, length_m: float, opened_deg: float) -> float:
    """Force along that prop: its lever about the hinge is L cos(φ/2). [N]"""
    return moment_n_m / (length_m * math.cos(math.radians(opened_deg / 2)))


@formula(result="w", symbols={"moment_n_m": "M", "area_m2": "A", "length_m": "L"}, source="geometry",
         example={"moment_n_m": 33.2, "area_m2": 1.6, "length_m": 0.9})  # fmt: skip
def lifting_pa(moment_n_m: float, area_m2: float, length_m: float) -> float:
    """Even pressure from below that balances a lid's weight about its hinge. [Pa]"""
    return 2 * moment_n_m / (area_m2 * length_m)


@formula(result="v", symbols={"lifting_pa": "w", "net_ratio": "C_N", "PRESSURE_FACTOR": "k"},
         source="asce7-velocity-pressure", kind="empirical", coefficients={"PRESSURE_FACTOR": "kg/m³"},
         example={"lifting_pa": 46.0, "net_ratio": 1.2})  # fmt: skip
def lifting_gust_m_per_s(lifting_pa: float, net_ratio: float) -> float:
    """Gust at the lid that makes a pressure, q = 0.613 V². [m/s]"""
    return math.sqrt(lifting_pa / (PRESSURE_FACTOR * net_ratio))


@formula(result="m", symbols={"tube_m": "l", "tube_kg_per_m": "m_t", "glazing_m2": "A", "glazing_kg_per_m2": "m_g"},
         source="geometry",
         example={"tube_m": 7.2, "tube_kg_per_m": 1.0, "glazing_m2": 1.6, "glazing_kg_per_m2": 1.3})  # fmt: skip
def lid_mass_kg(tube_m: float, tube_kg_per_m: float, glazing_m2: float, glazing_kg_per_m2: float) -> float:
    """Mass of a lid: its tubes and its glazing. [kg]"""
    return tube_m * tube_kg_per_m + glazing_m2 * glazing_kg_per_m2
