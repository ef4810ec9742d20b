"""What holds a foot in the ground: driven stakes, posts in soil, friction, weight, a hole in a sill, a bed's soil."""

import math

from gardenframe.working import formula


@formula(
    result="K", symbols={"modulus_pa": "E", "width_m": "b", "subgrade_pa_per_m": "k"}, source="beam-on-ground",
    example={"modulus_pa": 200e9, "width_m": 0.012, "subgrade_pa_per_m": 40e6},
)  # fmt: skip
def bar_turning_n_m_per_rad(modulus_pa: float, width_m: float, subgrade_pa_per_m: float) -> float:
    """Moment that turns the held head of a long round bar in springy ground. [N m/rad]

    K = 2 E I q with I = pi b4/64 and q = (k b / (4 E I))^(1/4).
    """
    stiff_n_m2 = modulus_pa * math.pi * width_m**4 / 64
    decay_per_m: float = (subgrade_pa_per_m * width_m / (4 * stiff_n_m2)) ** 0.25
    return 2 * stiff_n_m2 * decay_per_m


POST = {"lateral_pa_per_m": "S", "width_m": "b", "depth_m": "d"}
ONE_POST = {"lateral_pa_per_m": 23_600.0, "width_m": 0.0295, "depth_m": 0.6}


@formula(
    result="M_P", symbols={"force_n": "P", "moment_n_m": "M_g", "depth_m": "d"}, source="ibc-1807-3",
    example={"force_n": 100.0, "moment_n_m": 60.0, "depth_m": 0.6},
)  # fmt: skip
def embedded_demand_n_m(force_n: float, moment_n_m: float, depth_m: float) -> float:
    """What a side force and its moment at the ground ask of a post in soil that nothing holds at the ground. [N m]

    The code's d = A/2 (1 + (1 + 4.36 h/A)^0.5), A = 2.34 P/(S d/3 b), solved for P: P (d + 1.09 h) = S b d³/7.02,
    with P h the moment at the ground.
    """
    return force_n * depth_m + 1.09 * moment_n_m


@formula(result="M_S", symbols=POST | {"short_ratio": "c"}, source="ibc-1807-3", example=ONE_POST | {"short_ratio": 2})
def embedded_hold_n_m(lateral_pa_per_m: float, width_m: float, depth_m: float, short_ratio: float) -> float:
    """What the soil gives to that: 7.02 is three times 2.34; `short_ratio` 2 for wind and people, else 1. [N m]"""
    return short_ratio * lateral_pa_per_m * width_m * depth_m**3 / 7.02


@formula(
    result="P", symbols={"push_n": "H", "friction": "mu", "down_n": "N"}, source="ibc-1806-memory",
    example={"push_n": 90.0, "friction": 0.25, "down_n": 200.0},
)  # fmt: skip
def rubbed_push_n(push_n: float, friction: float, down_n: float) -> float:
    """Side force that is left for the soil beside a driven foot once friction under it is used up. [N]

    >>> rubbed_push_n(90.0, 0.25, 200.0)
    40.0
    """
    return max(push_n - friction * down_n, 0)


@formula(result="M_a", symbols=POST | {"short_ratio": "c"}, source="ibc-1807-3", example=ONE_POST | {"short_ratio": 2})
def paved_hold_n_m(lateral_pa_per_m: float, width_m: float, depth_m: float, short_ratio: float) -> float:
    """Moment at the ground of a post that paving holds there: d² = 4.25 M/(S d b). [N m]"""
    return short_ratio * lateral_pa_per_m * width_m * depth_m**3 / 4.25


@formula(
    result="T",
    symbols={
        "hold_n": "T_0", "depth_m": "d", "width_m": "b", "tested_depth_m": "d_0", "tested_width_m": "b_0",
        "wet_ratio": "w", "soil_ratio": "s", "spread_ratio": "n",
    },
    source="stake-scaling",
    example={
        "hold_n": 4448.0, "depth_m": 0.45, "width_m": 0.012, "tested_depth_m": 0.9144, "tested_width_m": 0.0254,
        "wet_ratio": 0.5, "soil_ratio": 1.0, "spread_ratio": 3.0,
    },
)  # fmt: skip
def driven_hold_n(
    hold_n: float,
    depth_m: float,
    width_m: float,
    tested_depth_m: float,
    tested_width_m: float,
    wet_ratio: float,
    soil_ratio: float,
    spread_ratio: float,
) -> float:
    """Pull of a driven stake by the published one, by its surface in the ground, wet, the worst of its spread. [N]"""
    return hold_n * depth_m * width_m / (tested_depth_m * tested_width_m) * wet_ratio * soil_ratio / spread_ratio


@formula(
    result="M_S",
    symbols={
        "hold_n": "T_0", "depth_m": "d", "width_m": "b", "tested_depth_m": "d_0", "tested_width_m": "b_0",
        "wet_ratio": "w", "soil_ratio": "s", "spread_ratio": "n", "lasting_ratio": "l",
    },
    source="stake-side",
    example={
        "hold_n": 4448.0, "depth_m": 0.45, "width_m": 0.0295, "tested_depth_m": 0.9144, "tested_width_m": 0.0254,
        "wet_ratio": 0.5, "soil_ratio": 1.0, "spread_ratio": 3.0, "lasting_ratio": 1.0,
    },
)  # fmt: skip
def driven_side_hold_n_m(
    hold_n: float,
    depth_m: float,
    width_m: float,
    tested_depth_m: float,
    tested_width_m: float,
    wet_ratio: float,
    soil_ratio: float,
    spread_ratio: float,
    lasting_ratio: float,
) -> float:
    """What the ground gives a driven stake or sleeve against side force and moment. [N m]

    The code's b d³ with the soil that the published pull stands for, as a pull at the ground: wet, the worst of its
    spread, half of it under what stays. The code's own values for soil give thin stakes far less.
    """
    wide_ratio = width_m / tested_width_m
    deep_ratio = depth_m / tested_depth_m
    sure_n = hold_n * wet_ratio * soil_ratio * lasting_ratio / spread_ratio
    return sure_n * tested_depth_m * wide_ratio * deep_ratio**3


@formula(
    result="T", symbols={"tested_n": "T_t", "wet_ratio": "w", "reserve_ratio": "n"}, source="pull-test",
    example={"tested_n": 900.0, "wet_ratio": 0.5, "reserve_ratio": 1.5},
)  # fmt: skip
def tested_hold_n(tested_n: float, wet_ratio: float, reserve_ratio: float) -> float:
    """Pull of a stake or post by the reader's own test in dry ground. [N]"""
    return tested_n * wet_ratio / reserve_ratio


@formula(
    result="T",
    symbols={
        "unit_weight_n_per_m3": "gamma", "depth_m": "d", "width_m": "b", "friction_angle_deg": "phi",
        "rest_ratio": "K_0",
    },
    source="skin-friction",
    example={"unit_weight_n_per_m3": 12_750.0, "depth_m": 0.45, "width_m": 0.0295, "friction_angle_deg": 28.0},
)  # fmt: skip
def skin_hold_n(unit_weight_n_per_m3: float, depth_m: float, width_m: float, friction_angle_deg: float) -> float:
    """Pull of a round post set in soil, by friction on its skin alone. [N]"""
    rest_ratio = 1 - math.sin(math.radians(friction_angle_deg))
    wall_ratio = math.tan(math.radians(2 * friction_angle_deg / 3))
    return math.pi * width_m * unit_weight_n_per_m3 * depth_m**2 / 2 * rest_ratio * wall_ratio


@formula(
    result="f",
    symbols={"unit_weight_n_per_m3": "gamma", "depth_m": "H", "friction_angle_deg": "phi", "rest_ratio": "K_0"},
    source="skin-friction",
    example={"unit_weight_n_per_m3": 11_770.0, "depth_m": 0.28, "friction_angle_deg": 30.0},
)  # fmt: skip
def wall_hold_n_per_m(unit_weight_n_per_m3: float, depth_m: float, friction_angle_deg: float) -> float:
    """Friction of a bed's soil on a metre of its boards, as they are lifted out. [N/m]"""
    rest_ratio = 1 - math.sin(math.radians(friction_angle_deg))
    wall_ratio = math.tan(math.radians(2 * friction_angle_deg / 3))
    return unit_weight_n_per_m3 * depth_m**2 / 2 * rest_ratio * wall_ratio


@formula(
    result="W", symbols={"mass_kg": "m", "share_ratio": "r", "gravity_m_per_s2": "g"}, source="asce7-2-4",
    example={"mass_kg": 20.0, "share_ratio": 0.6, "gravity_m_per_s2": 9.81},
)  # fmt: skip
def ballast_n(mass_kg: float, share_ratio: float, gravity_m_per_s2: float) -> float:
    """Weight of ballast that may be counted on: 0.6 of it, as of all weight that holds down. [N]"""
    return mass_kg * share_ratio * gravity_m_per_s2


@formula(
    result="F", symbols={"weight_n": "W", "friction_angle_deg": "phi", "reserve_ratio": "n"}, source="skin-friction",
    example={"weight_n": 3000.0, "friction_angle_deg": 28.0, "reserve_ratio": 1.5},
)  # fmt: skip
def soil_slide_n(weight_n: float, friction_angle_deg: float, reserve_ratio: float) -> float:
    """What the soil of a bed holds against sliding on the ground, soil on soil. [N]"""
    return weight_n * math.tan(math.radians(friction_angle_deg)) / reserve_ratio


@formula(result="F", symbols={"friction_ratio": "mu", "push_n": "N"}, source="ibc-1806-memory")
def friction_n(friction_ratio: float, push_n: float) -> float:
    """Friction under what stands. [N]"""
    return friction_ratio * push_n


@formula(
    result="p", symbols={"force_n": "P", "moment_n_mm": "M", "width_mm": "b", "depth_mm": "t"}, source="geometry",
    example={"force_n": 100.0, "moment_n_mm": 5000.0, "width_mm": 29.5, "depth_mm": 38.0},
)  # fmt: skip
def hole_pressure_mpa(force_n: float, moment_n_mm: float, width_mm: float, depth_mm: float) -> float:
    """Highest pressure of a tube on its hole, straight over the depth; force and moment at its mouth. [MPa]"""
    return 4 * force_n / (width_mm * depth_mm) + 6 * moment_n_mm / (width_mm * depth_mm**2)


@formula(result="k", symbols={"holds_n": "R", "pulls_n": "E"}, source="asce7-2-4")
def force_factor(holds_n: float, pulls_n: float) -> float:
    """What holds over what pulls, both as forces."""
    return holds_n / pulls_n


@formula(result="k", symbols={"holds_n_m": "M_R", "pulls_n_m": "M_E"}, source="asce7-2-4")
def moment_factor(holds_n_m: float, pulls_n_m: float) -> float:
    """What holds over what tips, both as moments about one edge."""
    return holds_n_m / pulls_n_m
