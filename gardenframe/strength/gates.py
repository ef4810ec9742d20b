"""Statics of a gate on two hinges: what they pull, what a diagonal carries, how far the far corner sags.

A gate is a flat leaf; its weight hangs at half its width, and a person may hang on its far side. Floats in, float out.
"""

import math

from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.working import formula


@formula(result="m", symbols={"tube_m": "l", "tube_kg_per_m": "m_t", "mesh_m2": "A", "mesh_kg_per_m2": "m_g"},
         source="geometry",
         example={"tube_m": 6.4, "tube_kg_per_m": 1.0, "mesh_m2": 1.7, "mesh_kg_per_m2": 1.2})  # fmt: skip
def gate_mass_kg(tube_m: float, tube_kg_per_m: float, mesh_m2: float, mesh_kg_per_m2: float) -> float:
    """Mass of a gate: its tubes and its mesh. [kg]"""
    return tube_m * tube_kg_per_m + mesh_m2 * mesh_kg_per_m2


@formula(result="W", symbols={"mass_kg": "m", "GRAVITY_M_PER_S2": "g"}, source="geometry",
         example={"mass_kg": 9.0})  # fmt: skip
def weight_n(mass_kg: float) -> float:
    """Weight. [N]"""
    return mass_kg * GRAVITY_M_PER_S2


@formula(result="H", symbols={"weight_n": "W", "person_n": "P", "width_m": "w", "apart_m": "h"}, source="geometry",
         example={"weight_n": 90.0, "person_n": 250.0, "width_m": 0.9, "apart_m": 1.5})  # fmt: skip
def hinge_pull_n(weight_n: float, person_n: float, width_m: float, apart_m: float) -> float:
    """Sideways force of each hinge: the upper one is pulled, the lower one pushed. Moments about the lower. [N]

    >>> round(hinge_pull_n(100.0, 0.0, 1.0, 2.0))
    25
    """
    return (weight_n * width_m / 2 + person_n * width_m) / apart_m


@formula(result="L_b", symbols={"width_m": "w_b", "rise_m": "h_b"}, source="geometry",
         example={"width_m": 0.86, "rise_m": 1.6})  # fmt: skip
def diagonal_m(width_m: float, rise_m: float) -> float:
    """Length between corners that stand square: Pythagoras. Both diagonals of a square gate are equal. [m]"""
    return math.sqrt(width_m**2 + rise_m**2)


@formula(result="F", symbols={"weight_n": "W", "person_n": "P", "diagonal_m": "L_b", "rise_m": "h_b"},
         source="geometry",
         example={"weight_n": 90.0, "person_n": 250.0, "diagonal_m": 1.82, "rise_m": 1.6})  # fmt: skip
def brace_force_n(weight_n: float, person_n: float, diagonal_m: float, rise_m: float) -> float:
    """Force along a diagonal that carries the far side of a gate: half its weight and the person. [N]

    The corners count as pins, so what the joints carry by bending is on the other side of caution.
    """
    return (weight_n / 2 + person_n) * diagonal_m / rise_m


@formula(result="s_b", source="geometry", symbols={"force_n": "F", "diagonal_m": "L_b", "area_m2": "A",
         "modulus_pa": "E", "rise_m": "h_b"},
         example={"force_n": 330.0, "diagonal_m": 1.82, "area_m2": 1.28e-4, "modulus_pa": 2.0e11, "rise_m": 1.6},
         )  # fmt: skip
def brace_sag_m(force_n: float, diagonal_m: float, area_m2: float, modulus_pa: float, rise_m: float) -> float:
    """Sag of the far side as its diagonal gives along itself. [m]"""
    return force_n * diagonal_m / (area_m2 * modulus_pa) * diagonal_m / rise_m


@formula(result="s_h", symbols={"slack_m": "e", "width_m": "w", "apart_m": "h"}, source="geometry",
         example={"slack_m": 0.001, "width_m": 0.9, "apart_m": 1.5})  # fmt: skip
def slack_sag_m(slack_m: float, width_m: float, apart_m: float) -> float:
    """Sag of the far side as the hinges take up their play: like triangles. [m]

    >>> round(slack_sag_m(0.002, 1.0, 1.6) * 1000, 2)
    1.25
    """
    return slack_m * width_m / apart_m


@formula(result="r", symbols={"width_m": "w", "thick_m": "D", "gap_m": "g"}, source="geometry",
         example={"width_m": 0.9, "thick_m": 0.03, "gap_m": 0.012})  # fmt: skip
def swing_m(width_m: float, thick_m: float, gap_m: float) -> float:
    """Radius that a gate sweeps on the ground, from its pins to the far corner of its outer face. [m]"""
    return math.sqrt((width_m + gap_m / 2) ** 2 + thick_m**2)


@formula(result="u", symbols={"slack_mm": "e", "hole_mm": "d_h", "height_mm": "h"}, source="geometry",
         example={"slack_mm": 1.5, "hole_mm": 50.0, "height_mm": 2000.0})  # fmt: skip
def hole_play_mm(slack_mm: float, hole_mm: float, height_mm: float) -> float:
    """Play at the top of a post that leans in its hole until it bears at mouth and bottom. [mm]

    >>> hole_play_mm(1.0, 50.0, 2000.0)
    40.0
    """
    return slack_mm / hole_mm * height_mm
