"""One span, one post, one hoop by hand: closed forms that a learner can work, shown beside the frame solver.

Bending of a straight member of one section, loads square to it, small deflections, no shear deformation. The stiffness
EI goes in as one number [N m2].
"""

import math

from gardenframe.working import formula

SPAN = {"load_n_per_m": "w", "span_m": "L"}
BENT = SPAN | {"stiffness_n_m2": "EI"}
POINT = {"force_n": "P", "span_m": "L"}
POINT_BENT = POINT | {"stiffness_n_m2": "EI"}
ONE_SPAN = {"load_n_per_m": 100.0, "span_m": 2.0}
ONE_BENT = ONE_SPAN | {"stiffness_n_m2": 2527.65}
ONE_POINT = {"force_n": 200.0, "span_m": 2.0}
ONE_POINT_BENT = ONE_POINT | {"stiffness_n_m2": 2527.65}


@formula(result="EI", symbols={"modulus_pa": "E", "second_moment_m4": "I"}, source="geometry")
def bending_stiffness_n_m2(modulus_pa: float, second_moment_m4: float) -> float:
    """Bending stiffness, E times I. [N m2]"""
    return modulus_pa * second_moment_m4


@formula(result="M", symbols=SPAN, source="aisc-3-23-1", example=ONE_SPAN)
def simple_span_moment_n_m(load_n_per_m: float, span_m: float) -> float:
    """Midspan moment of a simple span under uniform load. [N m]"""
    return load_n_per_m * span_m**2 / 8


@formula(result="delta", symbols=BENT, source="aisc-3-23-1", example=ONE_BENT)
def simple_span_deflection_m(load_n_per_m: float, span_m: float, stiffness_n_m2: float) -> float:
    """Midspan deflection of a simple span under uniform load. [m]"""
    return 5 * load_n_per_m * span_m**4 / (384 * stiffness_n_m2)


@formula(result="R", symbols=SPAN, source="aisc-3-23-1", example=ONE_SPAN)
def simple_span_reaction_n(load_n_per_m: float, span_m: float) -> float:
    """Reaction at each end of a simple span under uniform load. [N]"""
    return load_n_per_m * span_m / 2


@formula(result="M", symbols=POINT, source="aisc-3-23-1", example=ONE_POINT)
def simple_span_point_moment_n_m(force_n: float, span_m: float) -> float:
    """Moment under a load at the middle of a simple span. [N m]"""
    return force_n * span_m / 4


@formula(result="delta", symbols=POINT_BENT, source="aisc-3-23-1", example=ONE_POINT_BENT)
def simple_span_point_deflection_m(force_n: float, span_m: float, stiffness_n_m2: float) -> float:
    """Deflection under a load at the middle of a simple span. [m]"""
    return force_n * span_m**3 / (48 * stiffness_n_m2)


@formula(result="M", symbols=POINT, source="aisc-3-23-1", example=ONE_POINT)
def simple_span_two_points_moment_n_m(force_n: float, span_m: float) -> float:
    """Moment of a simple span under a load at each third point. [N m]"""
    return force_n * span_m / 3


@formula(result="delta", symbols=POINT_BENT, source="aisc-3-23-1", example=ONE_POINT_BENT)
def simple_span_two_points_deflection_m(force_n: float, span_m: float, stiffness_n_m2: float) -> float:
    """Midspan deflection of a simple span under a load at each third point. [m]"""
    return 23 * force_n * span_m**3 / (648 * stiffness_n_m2)


@formula(result="M", symbols={"force_n": "P", "height_m": "h"}, source="aisc-3-23-1")
def cantilever_point_moment_n_m(force_n: float, height_m: float) -> float:
    """Moment at the foot of a post under a push at its top. [N m]"""
    return force_n * height_m


@formula(result="delta", symbols={"force_n": "P", "height_m": "h", "stiffness_n_m2": "EI"}, source="aisc-3-23-1")
def cantilever_point_deflection_m(force_n: float, height_m: float, stiffness_n_m2: float) -> float:
    """Movement of the top of a post fixed at its foot under a push at its top. [m]"""
    return force_n * height_m**3 / (3 * stiffness_n_m2)


@formula(result="M", symbols={"load_n_per_m": "w", "height_m": "h"}, source="aisc-3-23-1")
def cantilever_moment_n_m(load_n_per_m: float, height_m: float) -> float:
    """Moment at the foot of a post under uniform load. [N m]"""
    return load_n_per_m * height_m**2 / 2


@formula(result="delta", symbols={"load_n_per_m": "w", "height_m": "h", "stiffness_n_m2": "EI"}, source="aisc-3-23-1")
def cantilever_deflection_m(load_n_per_m: float, height_m: float, stiffness_n_m2: float) -> float:
    """Movement of the top of a post fixed at its foot under uniform load. [m]"""
    return load_n_per_m * height_m**4 / (8 * stiffness_n_m2)


@formula(result="M", symbols=SPAN, source="aisc-3-23-1", example=ONE_SPAN)
def fixed_span_moment_n_m(load_n_per_m: float, span_m: float) -> float:
    """Moment at the ends of a span fixed at both, under uniform load; half of it at the middle. [N m]"""
    return load_n_per_m * span_m**2 / 12


@formula(result="delta", symbols=BENT, source="aisc-3-23-1", example=ONE_BENT)
def fixed_span_deflection_m(load_n_per_m: float, span_m: float, stiffness_n_m2: float) -> float:
    """Midspan deflection of a span fixed at both ends under uniform load. [m]"""
    return load_n_per_m * span_m**4 / (384 * stiffness_n_m2)


@formula(result="M", symbols=POINT, source="aisc-3-23-1", example=ONE_POINT)
def fixed_span_point_moment_n_m(force_n: float, span_m: float) -> float:
    """Moment at the ends and middle of a span fixed at both ends, under a load at its middle. [N m]"""
    return force_n * span_m / 8


@formula(result="delta", symbols=POINT_BENT, source="aisc-3-23-1", example=ONE_POINT_BENT)
def fixed_span_point_deflection_m(force_n: float, span_m: float, stiffness_n_m2: float) -> float:
    """Deflection of a span fixed at both ends, under a load at its middle. [m]"""
    return force_n * span_m**3 / (192 * stiffness_n_m2)


@formula(result="M", symbols=SPAN, source="aisc-3-23-1", example=ONE_SPAN)
def two_spans_moment_n_m(load_n_per_m: float, span_m: float) -> float:
    """Moment over the middle support of two equal spans, or at the fixed end of a propped one. [N m]"""
    return load_n_per_m * span_m**2 / 8


@formula(result="M", symbols=SPAN, source="aisc-3-23-1", example=ONE_SPAN)
def two_spans_field_moment_n_m(load_n_per_m: float, span_m: float) -> float:
    """Largest moment between the supports of two equal spans. [N m]"""
    return 9 * load_n_per_m * span_m**2 / 128


@formula(result="M", symbols=SPAN, source="aisc-3-23-1", example=ONE_SPAN)
def three_spans_moment_n_m(load_n_per_m: float, span_m: float) -> float:
    """Moment over the inner supports of three equal spans. [N m]"""
    return load_n_per_m * span_m**2 / 10


@formula(result="M", symbols=SPAN, source="aisc-3-23-1", example=ONE_SPAN)
def three_spans_field_moment_n_m(load_n_per_m: float, span_m: float) -> float:
    """Largest moment between the supports of three equal spans, in the outer ones. [N m]"""
    return 2 * load_n_per_m * span_m**2 / 25


@formula(result="P_E", symbols={"stiffness_n_m2": "EI", "effective_length_m": "L_c"}, source="euler")
def euler_load_n(stiffness_n_m2: float, effective_length_m: float) -> float:
    """Load at which a straight post buckles. [N]"""
    return math.pi**2 * stiffness_n_m2 / effective_length_m**2


@formula(result="H", symbols={"force_n": "P"}, source="arch-quadrature")
def hoop_crown_load_thrust_n(force_n: float) -> float:
    """Outward push at each pinned foot of a semicircular hoop under a load at its crown. [N]"""
    return force_n / math.pi


@formula(result="M", symbols={"force_n": "P", "radius_m": "R"}, source="arch-quadrature")
def hoop_crown_load_moment_n_m(force_n: float, radius_m: float) -> float:
    """Moment under a load at the crown of a semicircular hoop on pinned feet. [N m]"""
    return force_n * radius_m * (1 / 2 - 1 / math.pi)


@formula(result="H", symbols={"load_n_per_m": "w", "radius_m": "R"}, source="arch-quadrature")
def hoop_snow_thrust_n(load_n_per_m: float, radius_m: float) -> float:
    """Outward push at each pinned foot of a semicircular hoop under a load per metre of width. [N]"""
    return 4 * load_n_per_m * radius_m / (3 * math.pi)


@formula(result="H", symbols={"load_n_per_m": "w", "radius_m": "R"}, source="arch-quadrature")
def hoop_own_weight_thrust_n(load_n_per_m: float, radius_m: float) -> float:
    """Outward push at each pinned foot of a semicircular hoop under its own weight per metre of tube. [N]"""
    return load_n_per_m * radius_m / 2


PORTAL = {"load_n_per_m": "w", "span_m": "L", "height_m": "h", "ratio": "k"}


@formula(result="k", symbols={"height_m": "h", "span_m": "L", "top_m4": "I_2", "post_m4": "I_1"}, source="kleinlogel")
def portal_ratio(height_m: float, span_m: float, top_m4: float, post_m4: float) -> float:
    """Stiffness ratio of a portal, beam to post: (I2/I1)(h/L). [-]"""
    return top_m4 / post_m4 * height_m / span_m


@formula(result="H", symbols=PORTAL, source="kleinlogel")
def portal_thrust_n(load_n_per_m: float, span_m: float, height_m: float, ratio: float) -> float:
    """Outward push at the pinned feet of a portal under uniform load on its beam. [N]"""
    return load_n_per_m * span_m**2 / (4 * height_m * (2 * ratio + 3))


@formula(result="M_B", symbols={"load_n_per_m": "w", "span_m": "L", "ratio": "k"}, source="kleinlogel")
def portal_corner_moment_n_m(load_n_per_m: float, span_m: float, ratio: float) -> float:
    """Moment at the corners of a portal on pinned feet under uniform load on its beam. [N m]"""
    return load_n_per_m * span_m**2 / (4 * (2 * ratio + 3))


@formula(
    result="Delta",
    symbols={"force_n": "P", "height_m": "h", "ratio": "k", "stiffness_n_m2": "EI"},
    source="kleinlogel",
)
def portal_sway_m(force_n: float, height_m: float, ratio: float, stiffness_n_m2: float) -> float:
    """Sway of a portal on pinned feet under a push at its eaves; EI of the posts. [m]"""
    return force_n * height_m**3 * (2 * ratio + 1) / (12 * ratio * stiffness_n_m2)
