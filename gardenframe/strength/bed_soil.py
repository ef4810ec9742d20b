"""What fills a bed: volume by component, settling, top-up, mass, pressure on a floor, zinc. Floats in, float out."""

from gardenframe.working import formula


@formula(
    result="V", symbols={"length_m": "l", "width_m": "b", "depth_m": "z"}, source="geometry",
    example={"length_m": 2.36, "width_m": 1.14, "depth_m": 0.42},
)  # fmt: skip
def bed_volume_m3(length_m: float, width_m: float, depth_m: float) -> float:
    """Volume of the soil between the walls. [m³]"""
    return length_m * width_m * depth_m


@formula(
    result="V_b", symbols={"volume_m3": "V", "component_ratio": "s", "settling_ratio": "e"}, source="common-practice",
    example={"volume_m3": 1.1, "component_ratio": 0.5, "settling_ratio": 0.15},
)  # fmt: skip
def bought_volume_m3(volume_m3: float, component_ratio: float, settling_ratio: float) -> float:
    """Loose volume to buy of one component so that the bed is full once it has settled. [m³]

    >>> round(bought_volume_m3(1.0, 0.5, 0.2), 4)
    0.625
    """
    return volume_m3 * component_ratio / (1 - settling_ratio)


@formula(
    result="Delta", symbols={"depth_m": "z", "compost_ratio": "s", "rot_ratio": "r"}, source="common-practice",
    example={"depth_m": 0.42, "compost_ratio": 0.5, "rot_ratio": 0.2},
)  # fmt: skip
def season_drop_m(depth_m: float, compost_ratio: float, rot_ratio: float) -> float:
    """How far the surface sinks in a season as the compost in it rots. [m]"""
    return depth_m * compost_ratio * rot_ratio


@formula(
    result="m", symbols={"volume_m3": "V", "density_kg_per_m3": "rho"}, source="geometry",
    example={"volume_m3": 1.1, "density_kg_per_m3": 1300.0},
)  # fmt: skip
def soil_mass_kg(volume_m3: float, density_kg_per_m3: float) -> float:
    """Mass of the filling. [kg]"""
    return volume_m3 * density_kg_per_m3


@formula(
    result="p", symbols={"mass_kg": "m", "gravity_m_per_s2": "g", "area_m2": "A", "surcharge_pa": "q"},
    source="geometry", example={"mass_kg": 1400.0, "gravity_m_per_s2": 9.81, "area_m2": 2.9, "surcharge_pa": 0.0},
)  # fmt: skip
def floor_pressure_pa(mass_kg: float, gravity_m_per_s2: float, area_m2: float, surcharge_pa: float) -> float:
    """What a full bed asks of the floor under it, spread over its own plan. [Pa]"""
    return mass_kg * gravity_m_per_s2 / area_m2 + surcharge_pa


@formula(
    result="c", symbols={"face_m2": "A", "zinc_m": "t", "zinc_kg_per_m3": "rho", "soil_kg": "m"}, source="geometry",
    example={"face_m2": 3.1, "zinc_m": 12.8e-6, "zinc_kg_per_m3": 7140.0, "soil_kg": 1100.0},
)  # fmt: skip
def zinc_share_ratio(face_m2: float, zinc_m: float, zinc_kg_per_m3: float, soil_kg: float) -> float:
    """Share of zinc by mass that the soil would gain if all of the zinc on a face went into it."""
    return face_m2 * zinc_m * zinc_kg_per_m3 / soil_kg
