"""What one foot, stake or screw holds: against printed values, by a second method, and what must be true."""

import math

import numpy as np
import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st
from other_roads import Flat
from printed import as_printed, as_remembered, as_worked
from scipy.integrate import quad
from scipy.linalg import expm
from scipy.optimize import brentq, linprog

from gardenframe import working
from gardenframe.materials import anchors, sources
from gardenframe.materials import constants as materials
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.members import load_members
from gardenframe.strength import holding, screws
from gardenframe.strength.timber import duration_factor
from gardenframe.units import FOOT_M, POUND_N

PSF_PER_FT = POUND_N / FOOT_M**3
MODULES = ("gardenframe.strength.holding", "gardenframe.strength.screws")
OURS = [form for name, form in working.FORMULAS.items() if name.startswith(MODULES)]


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """Its units go together, it shows in both systems, its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


def ratio(depth_ft, force_lb, height_ft, width_ft, lateral_psf_per_ft, short=1):
    """Return demand over hold of a post in soil, from US numbers."""
    force, depth = force_lb * POUND_N, depth_ft * FOOT_M
    asked = holding.embedded_demand_n_m(force, force * height_ft * FOOT_M, depth)
    return asked / holding.embedded_hold_n_m(lateral_psf_per_ft * PSF_PER_FT, width_ft * FOOT_M, depth, short)


# source: open-source test of IBC 1807.3.2.1, P 496.1 lb, h 7.489 ft, b 1 ft, 150 psf/ft: 7.07 ft, doubled 5.40 ft
@pytest.mark.outside(
    "strength.holding.embedded_demand_n_m", "strength.holding.embedded_hold_n_m", source="ibc-1807-3-test"
)  # fmt: skip
@pytest.mark.parametrize(("short", "printed"), [(1, "7.07"), (2, "5.40")])
def test_depth_of_a_post_matches_the_printed_ones(short, printed):
    """The depth at which the ratio is 1.00 is the printed depth."""
    found = brentq(lambda d: ratio(d, 496.1, 7.489, 1.0, 150, short) - 1, 0.5, 20)
    assert found == as_printed(printed, "ft", f"depth of a post, 496.1 lb at 7.489 ft, {short} x 150 psf/ft")


@given(st.floats(5, 500), st.floats(0.1, 2), st.floats(0.02, 0.3), st.floats(5e3, 4e4))
def test_hold_is_the_code_formula_turned_round(force, height, width, lateral):
    """Where the code's own depth formula is iterated to its depth, our ratio is 1.00."""

    def needed(depth):
        a = 2.34 * force / (lateral * depth / 3 * width)
        return 0.5 * a * (1 + (1 + 4.36 * height / a) ** 0.5) - depth

    depth = brentq(needed, 1e-3, 100)
    asked = holding.embedded_demand_n_m(force, force * height, depth)
    assert asked == pytest.approx(holding.embedded_hold_n_m(lateral, width, depth, 1), rel=1e-6)


@pytest.mark.outside("strength.holding.paved_hold_n_m", source="ibc-1807-3-sheet")
def test_post_held_at_the_ground_matches_the_printed_sheet():
    """Calculation sheet: P 30 000 lb, h 3 ft, b 4.5 ft, 350 psf/ft doubled: d 1.509 m."""
    moment = 30_000 * POUND_N * 3 * FOOT_M
    found = brentq(
        lambda d: holding.paved_hold_n_m(350 * PSF_PER_FT, 4.5 * FOOT_M, d, 2) - moment, 0.1, 10
    )  # fmt: skip
    assert found == as_printed("1.509", "m", "depth of a post that paving holds, 30 000 lb at 3 ft")


# NDS Table 12.2A as city permit files print it, and worked wood screws of an engineering site
@pytest.mark.parametrize(
    ("form", "gravity", "diameter", "printed"),
    [
        pytest.param(form, *row, id=f"{form.__name__}-{row[0]}-{row[1]}",
                     marks=pytest.mark.outside(f"strength.screws.{form.__name__}", source=source))
        for form, source, *row in (
            (screws.lag_screw_lbf_per_in, "nds-lag", 0.55, 0.25, "260"),
            (screws.lag_screw_lbf_per_in, "nds-lag", 0.50, 0.3125, "266"),
            (screws.lag_screw_lbf_per_in, "nds-lag", 0.42, 0.25, "173"),
            (screws.lag_screw_lbf_per_in, "nds-lag", 0.42, 0.375, "235"),
            (screws.lag_screw_lbf_per_in, "nds-lag", 0.42, 0.625, "344"),
            (screws.wood_screw_lbf_per_in, "nds-wood-screw", 0.50, 0.190, "135.4"),
        )
    ],
)  # fmt: skip
def test_withdrawal_matches_the_printed_tables(form, gravity, diameter, printed):
    """An inch of thread holds what the table prints."""
    found = form(gravity, diameter)
    assert found == as_printed(printed, "lb/in", f"pull of a {diameter:g} in screw in wood of gravity {gravity:g}")


@pytest.mark.outside("strength.screws.screw_pull_n", "strength.screws.screw_side_n", source="nds-screw-factors")
def test_wet_and_windy_screws_as_remembered():
    """135.4 lb an inch printed for dry wood; x 0.7 wet and x 1.6 in wind (from memory): 151.6 lb."""
    wet, windy = materials.value("screw_wet_ratio"), duration_factor("W")
    pull = 135.4 * screws.LBF_PER_IN_N_PER_MM
    found = screws.screw_pull_n(pull, 25.4, 1.0, 1.0) / POUND_N
    assert found == as_printed("135.4", "lb", "an inch of dry thread", source="nds-wood-screw")
    assert screws.screw_pull_n(pull, 25.4, wet, windy) / POUND_N == as_remembered(
        "151.6", "lb", "a wood screw pulled, wet and in wind"
    )
    assert screws.screw_side_n(120.0, wet, windy) == as_remembered(
        "134.4", "lb", "a wood screw of 120 lb sideways, wet and in wind"
    )


@pytest.mark.outside("strength.screws.wood_bearing_psi", source="nds-yield")
@pytest.mark.parametrize(("gravity", "remembered"), [(0.42, "3350"), (0.50, "4650"), (0.55, "5550")])
def test_bearing_of_wood_as_remembered(gravity, remembered):
    """Spruce-pine-fir, Douglas fir and southern pine under a thin dowel, to the nearest 50 psi (from memory)."""
    assert screws.wood_bearing_psi(gravity) == as_remembered(remembered, "psi", f"bearing of wood of gravity {gravity}")


@pytest.mark.outside(
    "data/anchors.csv", "data/fixings.csv", "strength.screws.lag_screw_lbf_per_in",
    "strength.screws.wood_screw_lbf_per_in", source="nds-lag",
)  # fmt: skip
def test_screws_of_the_bases_are_those_of_the_printed_tables():
    """A sill's lag and a deck's screw by the diameters of our tables, in wood of the printed gravities."""
    bases, fixings, wood = anchors.load_anchors(), load_fixings(), load_members()["timber-2x6"]
    lag, screw = fixings[bases["sill"].screw], fixings[bases["deck"].screw]
    assert wood.specific_gravity == as_printed("0.42", "", "gravity of spruce-pine-fir", source="nds-spf", copied=True)
    found = screws.lag_screw_lbf_per_in(wood.specific_gravity, lag.diameter_mm / 25.4)
    assert found == as_printed("173", "lb/in", f"pull of an inch of {lag.label}", source="nds-lag")
    found = screws.wood_screw_lbf_per_in(0.50, screw.diameter_mm / 25.4)
    assert found == as_printed("135.4", "lb/in", f"pull of an inch of {screw.label}", source="nds-wood-screw")
    for tie in (fixing for fixing in fixings.values() if fixing.kind == "cable_tie"):
        what = f"pull of a cable tie 4.8 mm wide and {tie.length_mm:.0f} mm long"
        assert tie.holds_n / POUND_N == as_remembered("50", "lb", what, source="fixing-memory")
    found = bases["sill hole"].depth_mm / 25.4
    assert found == as_remembered("1.5", "in", "thickness of a dressed sill with a hole", source="ps20", copied=True)


def most_a_dowel_carries(root, side, wood, plate, bend):
    """Return the largest side load of a dowel by limit analysis: scipy's linprog spreads the bearing as it likes.

    Through a plate and long in wood, cut into thin slices; each slice bears at most its strength either way, and the
    dowel is bent nowhere beyond its plastic moment.
    """
    edge = np.concatenate((np.linspace(-side, 0, 81), np.linspace(0, 60.0, 301)[1:]))
    mid = (edge[1:] + edge[:-1]) / 2
    most = np.where(mid < 0, plate, wood) * root * np.diff(edge)
    lever = np.maximum(edge[1:-1, None] - mid, 0)
    hinge = np.full(2 * len(lever), bend * root**3 / 6)
    found = linprog(
        -(mid < 0).astype(float), A_ub=np.vstack((lever, -lever)), b_ub=hinge,
        A_eq=np.vstack((np.ones_like(mid), mid)), b_eq=[0, 0], bounds=np.column_stack((-most, most)),
    )  # fmt: skip
    return -found.fun


@pytest.mark.outside(source="scipy")
@pytest.mark.parametrize(
    ("form", "side", "plate", "what"),
    [
        pytest.param(form, *row, id=form.__name__, marks=pytest.mark.outside(f"strength.screws.{form.__name__}"))
        for form, *row in (
            (screws.bent_once_n, 1.6, 426.0, "screw through a strap of 1.6 mm: it bends once"),
            (screws.bent_twice_n, 8.0, 426.0, "screw through a plate of 8 mm: it bends twice"),
            (screws.plate_bears_n, 1.0, 20.0, "screw through a soft sheet of 1 mm: the sheet gives way"),
        )
    ],
)
def test_side_load_of_a_screw_by_limit_analysis(form, side, plate, what):
    """The bearing that carries most, found by scipy's linprog, is that of the mode that gives way first."""
    dowel = {"root_mm": 3.86, "side_mm": side, "wood_mpa": 23.2, "side_mpa": plate, "bend_mpa": 552.0}
    worked = most_a_dowel_carries(*dowel.values())
    dowel["reduction_ratio"] = 1.0
    found = {mode: mode(**{key: dowel[key] for key in keys}) for mode, keys in screws.MODES.items()}
    assert min(found, key=found.__getitem__) is form
    assert found[form] == as_worked(worked, "N", what, rel=1e-3)


@pytest.mark.outside("strength.screws.bent_twice_n", "strength.screws.bent_once_n", source="second-method")
def test_screw_in_two_dowel_limits_by_statics():
    """Mode IV and mode IIIs from the equilibrium of a bent dowel, solved for the depths of bearing by a root finder."""
    root, side, wood, plate, bend = 3.86, 1.6, 23.2, 426.0, 552.0
    hinge = bend * root**3 / 6
    # IV: wood bears over x, plate over y; both hinges: M + M = force times half of each depth
    force = brentq(lambda z: z**2 / (2 * wood * root) + z**2 / (2 * plate * root) - 2 * hinge, 1, 1e5)
    found = screws.bent_twice_n(root, wood, plate, bend, 1.0)
    assert found == as_worked(force, "N", "screw bent twice, statics of its bearing", rel=1e-9)

    # IIIs: the plate's bearing turns round at depth u from the face and gives no hinge; one hinge in the wood
    def unbalanced(z):
        u = (z / (plate * root) + side) / 2  # bears one way over u, back over side - u
        moment = plate * root * (u**2 / 2 - (side - u) * (side + u) / 2)
        return z**2 / (2 * wood * root) + moment - hinge

    force = brentq(unbalanced, 1, plate * root * side)
    found = screws.bent_once_n(root, side, wood, plate, bend, 1.0)
    assert found == as_worked(force, "N", "screw bent once, statics of its bearing", rel=1e-9)


@pytest.mark.outside("strength.screws.wood_bearing_psi", "strength.screws.bent_twice_n", source="nds-yield")
def test_side_load_of_a_known_nail():
    """A 0.162 in nail through 1.5 in of spruce into spruce: 120 lb in the NDS table (from memory); mode IV governs."""
    wood = screws.wood_bearing_psi(0.42) * screws.PSI_MPA
    found = screws.bent_twice_n(0.162 * 25.4, wood, wood, 90_000 * screws.PSI_MPA, 2.2) / POUND_N
    assert found == as_remembered("120", "lb", "0.162 in nail, spruce on spruce")


def test_driven_stake_at_its_own_size_is_the_published_one():
    """1000 lb in lawn, half of that wet, and a third for the spread; thinner and shorter by surface."""
    full = holding.driven_hold_n(4448.0, 0.9144, 0.0254, 0.9144, 0.0254, 0.5, 1.0, 3.0) / POUND_N
    assert full == pytest.approx(1000 / 6, rel=1e-3)


def test_pipes_just_driven_are_pulled_in_a_storm_as_reported():
    """Printed: 220 lb/ft of uplift at 80 mph on a hoop house; pipes driven 18 to 24 in were pulled out in storms."""
    pulled = 0.6 * 220 / 2 * 4 * POUND_N  # 0.6 W on each foot of hoops 4 ft apart
    held = holding.driven_hold_n(4448.0, 0.6, 0.0422, 0.9144, 0.0254, 0.5, 1.0, 3.0)
    assert held < pulled


def test_side_pull_of_a_bar_lies_round_what_a_builder_of_rope_courses_found():
    """Printed: 25 to 30 mm bar, 80 cm in firm ground, 200 to 300 kg, some pulled at 100 kg: we count on less."""

    def pull(wet, spread):
        found = holding.driven_side_hold_n_m(4448.0, 0.8, 0.0275, 0.9144, 0.0254, wet, 1.0, spread, 1.0)
        return found / 0.8 / 9.81  # at the ground: P d

    assert pull(0.5, 3.0) < 100
    assert pull(1.0, 1.0) > 300


@pytest.mark.outside("strength.holding.skin_hold_n", "strength.holding.wall_hold_n_per_m", source="scipy")
def test_skin_friction_by_quadrature():
    """Pressure at rest times the wall's friction over the skin, by scipy; at 30 degrees 0.5 and 0.364 (from memory)."""
    phi = math.radians(28.0)

    def rubs(z):
        return (1 - math.sin(phi)) * 12_750.0 * z * math.tan(2 / 3 * phi)

    worked = quad(lambda z: rubs(z) * math.pi * 0.0295, 0, 0.45)[0]
    found = holding.skin_hold_n(12_750.0, 0.45, 0.0295, 28.0)
    assert found == as_worked(worked, "N", "pull of a 1 in tube set 450 mm deep")
    worked = quad(rubs, 0, 0.28)[0]
    assert holding.wall_hold_n_per_m(12_750.0, 0.28, 28.0) == as_worked(worked, "N/m", "grip of soil on a board")
    found = holding.wall_hold_n_per_m(2.0, 1.0, 30.0)
    assert found == as_remembered("0.182", "", "share of a soil's weight at 30 degrees: 0.5 x 0.364", "skin-friction")


@pytest.mark.outside("strength.holding.hole_pressure_mpa", source="second-method")
def test_pressure_in_a_hole_balances_force_and_moment():
    """A straight line of pressure whose sum is the force and whose moment about the mouth the moment: two equations."""
    for force, moment, wide, deep in ((100.0, 5000.0, 29.5, 38.0), (20.0, 0.0, 44.2, 19.0)):
        sums = [[quad(np.polynomial.Polynomial.basis(i + k), 0, deep)[0] for k in (0, 1)] for i in (0, 1)]
        at_mouth, _ = np.linalg.solve(wide * np.array(sums), [force, -moment])
        found = holding.hole_pressure_mpa(force, moment, wide, deep)
        assert found == as_worked(at_mouth, "MPa", f"tube of {wide} mm in a hole of {deep:g} mm", rel=1e-9)


@pytest.mark.outside("strength.holding.friction_n", "strength.holding.soil_slide_n", source="second-method")
def test_what_stands_on_a_slope_slides_where_it_is_as_steep_as_its_friction():
    """Tilted until it slides: at the angle whose tangent is the friction, 0.25, or at the soil's own angle."""

    def slides(hold):
        return math.degrees(brentq(lambda t: hold(80.0 * math.cos(t)) - 80.0 * math.sin(t), 0.01, 1.5))

    found = slides(lambda push: holding.friction_n(0.25, push))
    assert found == as_worked(math.degrees(math.atan(0.25)), "deg", "slope on which a foot of friction 0.25 slides")
    found = slides(lambda weight: holding.soil_slide_n(weight, 28.0, 1.0))
    assert found == as_worked(28.0, "deg", "slope on which soil of 28 degrees slides")
    found = math.tan(math.radians(slides(lambda weight: holding.soil_slide_n(weight, 28.0, 1.5))))
    assert found == as_worked(math.tan(math.radians(28.0)) / 1.5, "", "how steep that slope is with a reserve of 1.5")


@pytest.mark.outside("strength.holding.rubbed_push_n", source="scipy")
@pytest.mark.parametrize("push", [40.0, 90.0])
def test_soil_is_asked_for_no_more_than_friction_leaves(push):
    """Friction and soil share a push so that the soil gets least: scipy's linprog."""
    least = linprog([0, 1], A_eq=[[1, 1]], b_eq=[push], bounds=[(0, 0.25 * 200.0), (0, None)]).fun
    found = holding.rubbed_push_n(push, 0.25, 200.0)
    assert found == as_worked(least, "N", f"left for the soil of {push:g} N under 200 N", abs=1e-9)


@pytest.mark.outside("strength.holding.ballast_n", source="asce7-2-4")
def test_ballast_counts_six_tenths():
    """0.6 D of the printed combinations, on 47.4 kg of concrete in pounds by scipy's constants."""
    share = materials.value("little_weight_ratio")
    assert share == as_printed("0.6", "", "share of a weight that may hold down", copied=True)
    worked = scipy.constants.g * 47.4 * 0.6 / scipy.constants.pound_force
    found = holding.ballast_n(47.4, share, materials.value("gravity_m_per_s2")) / POUND_N
    assert found == as_worked(worked, "lb", "0.6 of 47.4 kg", "scipy", rel=5e-4)


@pytest.mark.outside("strength.holding.moment_factor", "strength.holding.force_factor", source="PyNiteFEA")
def test_factors_against_an_open_frame_program():
    """A stand on two feet 1.2 m apart, 300 N on its top 1 m up: what push or lift it takes."""

    def stand():
        joints = {"A": (0, 0), "B": (0, 1.0), "C": (1.2, 1.0), "D": (1.2, 0)}
        bars = {bar: (*bar, 2500.0) for bar in ("AB", "BC", "DC")}
        return Flat(joints, bars, {"A": "pinned", "D": "pinned"})

    rests = stand().line("BC", 300.0 / 1.2).solved().pushed_up_n("A")
    lifts = -stand().push("B", 60.0).solved().pushed_up_n("A")
    found = holding.moment_factor(300.0 * 0.6, 60.0 * 1.0)
    assert found == as_worked(rests / lifts, "", "times a push of 60 N until a foot lifts", rel=1e-6)
    lifts = -stand().line("BC", -500.0 / 1.2).solved().pushed_up_n("A")
    found = holding.force_factor(2 * 320.0, 500.0)
    assert found == as_worked(320.0 / lifts, "", "times a lift of 500 N until feet that hold 320 N come out", rel=1e-6)


@pytest.mark.parametrize("timber", ["timber-2x4", "timber-2x6"])
def test_longer_thicker_screws_hold_no_less(timber):
    """Between the screws of the table: a longer lag holds more than a short wood screw; both are of a sane size."""
    fixings, members = load_fixings(), load_members()
    short, long = (screws.allowed_n(fixings[key], members[timber]) for key in ("screw-wood-10", "lag-1/4"))
    assert long[0] > short[0] > 100
    assert long[1] > short[1] > 100


def test_every_base_has_what_its_model_needs():
    """A row says depth where it is driven or set, screws where it is screwed, grip where it grips."""
    for row in anchors.load_anchors().values():
        if row.up in ("driven", "placed") or row.side == "hole":
            assert row.depth_mm, row.base
        if "screws" in (row.up, row.side):
            assert load_fixings()[row.screw].kind in ("wood_screw", "lag_screw")
            assert row.screws
        assert (row.grip_n is not None) == (row.up == "grip")


@pytest.mark.outside("strength.holding.bar_turning_n_m_per_rad", source="scipy")
def test_a_bar_in_springy_ground_followed_down_to_its_end():
    """1.2 m of a 12 mm bar, its head in place and turned by one, its end free: its equation carried down by expm."""
    stiff, spring, long = 200e9 * math.pi * 0.012**4 / 64, 40e6 * 0.012, 1.2
    # what changes each: shift by slope, slope by moment, moment by shear, shear by the springs
    onward = expm(long * np.array([[0, 1, 0, 0], [0, 0, 1 / stiff, 0], [0, 0, 0, 1], [-spring, 0, 0, 0]]))
    moment, _ = np.linalg.solve(onward[2:, 2:], -onward[2:, 1])
    found = holding.bar_turning_n_m_per_rad(200e9, 0.012, 40e6)
    assert found == as_worked(-moment, "N m/rad", "moment that turns a 12 mm bar in firm ground", rel=1e-4)
