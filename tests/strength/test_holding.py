"""What one foot, stake or screw holds: against printed values, by a second method, and what must be true."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered
from scipy.optimize import brentq

from gardenframe import working
from gardenframe.materials import anchors, sources
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.members import load_members
from gardenframe.strength import holding, screws
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
@pytest.mark.parametrize(("short", "printed"), [(1, "7.07"), (2, "5.40")])
def test_depth_of_a_post_matches_the_printed_ones(short, printed):
    """The depth at which the ratio is 1.00 is the printed depth."""
    found = brentq(lambda d: ratio(d, 496.1, 7.489, 1.0, 150, short) - 1, 0.5, 20)
    assert found == as_printed(printed)


@given(st.floats(5, 500), st.floats(0.1, 2), st.floats(0.02, 0.3), st.floats(5e3, 4e4))
def test_hold_is_the_code_formula_turned_round(force, height, width, lateral):
    """Where the code's own depth formula is iterated to its depth, our ratio is 1.00."""

    def needed(depth):
        a = 2.34 * force / (lateral * depth / 3 * width)
        return 0.5 * a * (1 + (1 + 4.36 * height / a) ** 0.5) - depth

    depth = brentq(needed, 1e-3, 100)
    asked = holding.embedded_demand_n_m(force, force * height, depth)
    assert asked == pytest.approx(holding.embedded_hold_n_m(lateral, width, depth, 1), rel=1e-6)


def test_post_held_at_the_ground_matches_the_printed_sheet():
    """Calculation sheet: P 30 000 lb, h 3 ft, b 4.5 ft, 350 psf/ft doubled: d 1.509 m."""
    moment = 30_000 * POUND_N * 3 * FOOT_M
    found = brentq(
        lambda d: holding.paved_hold_n_m(350 * PSF_PER_FT, 4.5 * FOOT_M, d, 2) - moment, 0.1, 10
    )  # fmt: skip
    assert found == as_printed("1.509")


# source: NDS Table 12.2A as city permit files print it, and worked wood screws of an engineering site
@pytest.mark.parametrize(
    ("form", "gravity", "diameter", "printed"),
    [
        (screws.lag_screw_lbf_per_in, 0.55, 0.25, "260"),
        (screws.lag_screw_lbf_per_in, 0.50, 0.3125, "266"),
        (screws.lag_screw_lbf_per_in, 0.42, 0.25, "173"),
        (screws.lag_screw_lbf_per_in, 0.42, 0.375, "235"),
        (screws.wood_screw_lbf_per_in, 0.50, 0.190, "135.4"),
    ],
)
def test_withdrawal_matches_the_printed_tables(form, gravity, diameter, printed):
    """An inch of thread holds what the table prints."""
    assert form(gravity, diameter) == as_printed(printed)


def test_screw_in_two_dowel_limits_by_statics():
    """Mode IV and mode IIIs from the equilibrium of a bent dowel, solved for the depths of bearing by a root finder."""
    root, side, wood, plate, bend = 3.86, 1.6, 23.2, 426.0, 552.0
    hinge = bend * root**3 / 6
    # IV: wood bears over x, plate over y; both hinges: M + M = force times half of each depth
    force = brentq(lambda z: z**2 / (2 * wood * root) + z**2 / (2 * plate * root) - 2 * hinge, 1, 1e5)
    assert screws.bent_twice_n(root, wood, plate, bend, 1.0) == pytest.approx(force, rel=1e-9)

    # IIIs: the plate's bearing turns round at depth u from the face and gives no hinge; one hinge in the wood
    def unbalanced(z):
        u = (z / (plate * root) + side) / 2  # bears one way over u, back over side - u
        moment = plate * root * (u**2 / 2 - (side - u) * (side + u) / 2)
        return z**2 / (2 * wood * root) + moment - hinge

    force = brentq(unbalanced, 1, plate * root * side)
    assert screws.bent_once_n(root, side, wood, plate, bend, 1.0) == pytest.approx(force, rel=1e-9)


def test_side_load_of_a_known_nail():
    """A 0.162 in nail through 1.5 in of spruce into spruce: 120 lb in the NDS table (from memory); mode IV governs."""
    wood = screws.wood_bearing_psi(0.42) * screws.PSI_MPA
    found = screws.bent_twice_n(0.162 * 25.4, wood, wood, 90_000 * screws.PSI_MPA, 2.2) / POUND_N
    assert found == as_remembered("120")


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


@given(st.floats(0.1, 1.5), st.floats(0.02, 0.2), st.floats(15, 40), st.floats(8e3, 2e4))
def test_skin_friction_by_quadrature(depth, width, angle, weight):
    """Horizontal pressure at rest times the wall's friction, added up over the skin in thin rings."""
    z = (np.arange(2000) + 0.5) * depth / 2000
    phi = math.radians(angle)
    rings = (1 - math.sin(phi)) * weight * z * math.tan(2 / 3 * phi) * math.pi * width * depth / 2000
    assert holding.skin_hold_n(weight, depth, width, angle) == pytest.approx(rings.sum(), rel=1e-6)


@given(st.floats(1, 500), st.floats(0, 5e4), st.floats(15, 60), st.floats(10, 90))
def test_pressure_in_a_hole_balances_force_and_moment(force, moment, width, depth):
    """A straight line of pressure from the found peak at the mouth: its sum is the force, its moment the moment."""
    peak = holding.hole_pressure_mpa(force, moment, width, depth)
    z = (np.arange(20_000) + 0.5) * depth / 20_000
    mean = force / (width * depth)
    line = mean + (peak - mean) * (1 - 2 * z / depth)
    assert (line * width).mean() * depth == pytest.approx(force, rel=1e-6)
    # pressures at depth z press back: about the mouth their moment is -moment
    assert (line * width * z).mean() * depth == pytest.approx(-moment, rel=1e-4, abs=1e-3 * force)


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


def test_a_bar_in_springy_ground_against_a_beam_on_many_springs():
    """Differences along 1.2 m of a 12 mm bar whose head is held in place and turned, within 1 %."""
    stiff, spring, n, long = 200e9 * math.pi * 0.012**4 / 64, 40e6 * 0.012, 1200, 1.2
    step = long / n
    # unknowns: shift at n + 1 points and two beyond each end; EI w'''' + k w = 0 inside
    size = n + 5
    rows, right = np.zeros((size, size)), np.zeros(size)
    for i in range(2, n + 3):
        rows[i, i - 2 : i + 3] = np.array([1, -4, 6, -4, 1]) * stiff / step**4
        rows[i, i] += spring
    rows[2], rows[0] = 0, 0
    rows[2, 2] = 1  # the head stays in place
    rows[0, [1, 3]], right[0] = [-1 / (2 * step), 1 / (2 * step)], 1.0  # and turns by 1
    rows[1, :5] = np.array([1, -4, 6, -4, 1])  # no load of its own beyond the head
    rows[n + 3, n + 1 : n + 4] = [1, -2, 1]  # a free end: no moment
    rows[n + 4, [n, n + 1, n + 3, n + 4]] = [-1, 2, -2, 1]  # and no shear
    shift = np.linalg.solve(rows, right)
    moment = -stiff * (shift[1] - 2 * shift[2] + shift[3]) / step**2
    assert holding.bar_turning_n_m_per_rad(200e9, 0.012, 40e6) == pytest.approx(moment, rel=0.01)
