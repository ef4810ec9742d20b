"""Channels: films worked apart from this code, an open-channel library, roots found another way, sag by beam theory."""

import math
from fractions import Fraction

import fluids
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial import Polynomial
from printed import as_printed, as_worked
from scipy.optimize import brentq

from gardenframe.errors import InputError
from gardenframe.materials import constants
from gardenframe.materials.water import load_channels
from gardenframe.water import channels, sag

CHANNELS = load_channels()
SLOPES = st.floats(0.002, 0.2)
SIZES = st.floats(0.03, 0.4)
FLOWS = st.floats(1e-6, 2e-3)
STRIPS = (np.arange(4000) + 0.5) / 4000 * math.pi / 2  # depth = film (1 - cos t): even steps at the bottom too
unit = pint.get_application_registry().Quantity


def film(key="flat-100", **changes):
    """Three metres at 1:40 with a litre a minute."""
    usual = {"length_m": 3.0, "slope_ratio": 1 / 40, "flow_l_per_min": 1.0}
    return channels.Film(channel=CHANNELS[key], **usual | changes)


# worked apart from this code: n 0.011, 100 mm flat channel; slope, L/min, film [mm], speed [m/s]
FILMS = [
    (1 / 40, 1, 1.10, 0.151),
    (1 / 40, 2, 1.68, None),
    (1 / 100, 1, 1.46, None),
    (1 / 100, 2, 2.22, None),
]


@pytest.mark.outside("water.channels.rectangle_film_m", "water.channels.speed_m_per_s", source="worked-apart")
@pytest.mark.parametrize(("slope", "flow", "depth_mm", "speed"), FILMS)
def test_film_of_a_flat_channel(slope, flow, depth_mm, speed):
    """A litre a minute at 1:40 runs 1.10 mm deep at 0.151 m/s, and the three neighbours."""
    found, what = film(slope_ratio=slope, flow_l_per_min=flow), f"{flow} L/min in a flat channel at 1:{1 / slope:.0f}"
    assert found.film_m * 1000 == as_worked(depth_mm, "mm", f"film of {what}", abs=0.0051)
    runs = found.speed_m_per_s
    assert speed is None or runs == as_worked(speed, "m/s", f"speed of {what}", abs=0.00051)


@pytest.mark.outside("water.channels.fall_m", "water.channels.flow_m3_per_s", source="second-method")
def test_fall_of_three_metres_and_a_litre_a_minute():
    """1:40 over 3 m falls 75 mm, 1:100 falls 30 mm: worked apart; 2.7 m in steps; L/min by a library of units."""
    assert film().fall_m * 1000 == as_worked(75, "mm", "fall of 3 m at 1:40")
    assert film(slope_ratio=0.01).fall_m * 1000 == as_worked(30, "mm", "fall of 3 m at 1:100")
    steps = sum(Fraction(1, 40) * Fraction(1, 10) for _ in range(27))
    assert channels.fall_m(1 / 40, 2.7) == as_worked(float(steps), "m", "fall of 2.7 m at 1:40, step by step")
    flow = unit(1.7, "L/min").to("m**3/s").magnitude
    assert channels.flow_m3_per_s(1.7) == as_worked(flow, "m³/s", "1.7 L/min in cubic metres a second", "pint")


@pytest.mark.outside("data/constants.csv", source="nft-reference")
def test_limits_are_those_of_the_reference():
    """nft-reference: 1:100, in practice 1:30 to 1:40, 0.5 to 2 L/min, less growth beyond 12 m, 15 m at most."""
    for key, falls_in in (("slope_low_ratio", "100"), ("slope_usual_ratio", "40"), ("slope_high_ratio", "30")):
        ours = 1 / constants.value(f"channel_{key}")
        assert ours == as_printed(falls_in, "", f"slope of a channel, 1 in {falls_in}")
    for key, printed, unit_told, what in (
        ("flow_low_l_per_min", "0.5", "L/min", "flow in a channel at planting"),
        ("flow_usual_l_per_min", "1", "L/min", "usual flow in a channel"),
        ("flow_high_l_per_min", "2", "L/min", "most flow in a channel"),
        ("usual_m", "10", "m", "length of a channel, the lower end of what is printed"),
        ("growth_m", "12", "m", "length beyond which plants grow less"),
        ("longest_m", "15", "m", "length of a channel, the upper end"),
    ):
        assert constants.value(f"channel_{key}") == as_printed(printed, unit_told, what, copied=True)
    assert film(length_m=10).notes == ()
    assert "flatter than 1:100" in film(slope_ratio=0.005).notes[0]
    assert "steeper than the usual 1:30" in film(slope_ratio=0.05).notes[0]
    assert "outside 0.5 to 2 L/min" in film(flow_l_per_min=2.5).notes[0]
    assert "Beyond 12 m" in film(length_m=13).notes[0]
    assert film(length_m=13, feeds=2).notes == ()


RECTANGLE = "water.channels.manning_m3_per_s", "water.channels.rectangle_film_m", "water.channels.speed_m_per_s"


@pytest.mark.outside(*RECTANGLE, source="fluids")
@given(FLOWS, SLOPES, SIZES)
def test_film_of_a_rectangle_by_a_root_of_the_librarys_flow(flow, slope, width):
    """Manning's speed of `fluids` times the area, and the depth at which that is the flow, by Brent's method."""

    def library_flow(deep):
        return fluids.V_Manning(Rh=width * deep / (width + 2 * deep), S=slope, n=0.011) * width * deep

    theirs = brentq(lambda deep: library_flow(deep) - flow, 1e-9, 50.0, xtol=1e-16, rtol=1e-13)
    ours = channels.rectangle_film_m(flow, slope, width, 0.011)
    assert ours == as_worked(theirs, "m", "film of any rectangular channel", rel=1e-6)
    carried = channels.manning_m3_per_s(width * theirs, width + 2 * theirs, slope, 0.011)
    assert carried == as_worked(library_flow(theirs), "m³/s", "flow of any rectangular channel")
    theirs = fluids.V_Manning(Rh=width * theirs / (width + 2 * theirs), S=slope, n=0.011)
    speed = channels.speed_m_per_s(flow, width * ours)
    assert speed == as_worked(theirs, "m/s", "speed of any film", rel=1e-6)


ROUND = "water.channels.wet_angle_rad", "water.channels.wet_area_m2", "water.channels.round_film_m"


@pytest.mark.outside(*ROUND, source="fluids")
@given(st.floats(1e-5, 0.999), SLOPES, SIZES)
def test_round_channel_by_a_bracketed_root(share, slope, bore):
    """Newton's angle against Brent's depth, the segment's area by a library of shapes and by strips of its width."""
    full_half = (math.pi * bore**2 / 8) * fluids.V_Manning(Rh=bore / 4, S=slope, n=0.011)
    angle = channels.wet_angle_rad(share * full_half, slope, bore, 0.011)
    area, deep = channels.wet_area_m2(bore, angle), channels.round_film_m(bore, angle)

    def missing(depth):
        half = math.acos(1 - 2 * depth / bore)
        wet = bore**2 / 4 * (half - math.sin(half) * math.cos(half))
        return wet * fluids.V_Manning(Rh=wet / (bore * half), S=slope, n=0.011) - share * full_half

    theirs = brentq(missing, bore * 1e-5, bore / 2 * (1 + 1e-9), xtol=1e-15)
    assert deep == as_worked(theirs, "m", "film of any round channel", rel=1e-5)
    library = fluids.geometry.A_partial_circle(D=bore, h=deep)
    assert area == as_worked(library, "m²", "area of the water in any round channel", rel=1e-6, abs=1e-13)
    library = 2 * math.acos(1 - 2 * theirs / bore)
    assert angle == as_worked(library, "rad", "angle over the wet arc of any round channel", rel=1e-5)
    z = deep * (1 - np.cos(STRIPS))
    strips = 2 * np.sqrt(np.maximum(0, z * (bore - z))) * deep * np.sin(STRIPS) * (math.pi / 2 / len(STRIPS))
    assert strips.sum() == pytest.approx(area, rel=1e-4, abs=1e-12)


@given(st.sampled_from(sorted(CHANNELS)), st.floats(0.005, 0.1), st.floats(0.1, 8))
def test_more_water_runs_deeper_and_faster_a_steeper_bed_shallower(key, slope, flow):
    """Order holds over all that a slider can reach, and never over half full."""
    found = film(key, slope_ratio=slope, flow_l_per_min=flow)
    more, steeper = film(key, slope_ratio=slope, flow_l_per_min=flow * 1.1), film(
        key, slope_ratio=slope * 1.1, flow_l_per_min=flow)  # fmt: skip
    assert more.film_m > found.film_m > steeper.film_m
    assert more.speed_m_per_s > found.speed_m_per_s
    assert found.film_m <= CHANNELS[key].depth_mm / 2000
    assert found.held_l == pytest.approx(flow / 60 * found.length_m / found.speed_m_per_s)


@pytest.mark.parametrize("key", sorted(CHANNELS))
def test_working_ends_in_the_last_round(key):
    """One round is shown, numbered, and its result is the film or the wet angle that is used."""
    found = film(key)
    text = "\n".join(step.text for step in found.working())
    assert text.count("the last)") == 1
    assert found.working("us")[-1].value == pytest.approx(found.speed_m_per_s)


# sag -----------------------------------------------------------------------------------------------------------------


@pytest.mark.outside("water.sag.end_slope_ratio", source="numpy")
def test_end_slope_by_integrating_the_load_four_times():
    """An even load summed up to shear, moment, slope and sag by a library's polynomials, its ends held in place."""
    span, sag_m = 1.7, 0.0061
    moment = Polynomial([-1.0]).integ(2)  # shear and moment, each free of a constant for now
    moment -= Polynomial([0, moment(span) / span])  # none at the far end
    bowed = moment.integ(2)
    bowed -= Polynomial([0, bowed(span) / span])
    bowed *= sag_m / bowed(span / 2)
    theirs = 0.02 + bowed.deriv()(span)  # the bow rises again towards the drain
    ours = sag.end_slope_ratio(0.02, sag_m, span)
    assert ours == as_worked(theirs, "", "slope left at the low end of a sagging channel", rel=1e-9)


def beam_sags(span, sag_m, stations):
    """Return the sag of a simple span under even load: 16/5 s (x - 2x3 + x4) with x a share of the span."""
    x = np.asarray(stations) / span
    return 16 / 5 * sag_m * (x - 2 * x**3 + x**4)


@given(st.floats(0.005, 0.05), st.floats(0, 0.03), st.floats(0.5, 4))
def test_end_slope_is_the_slope_of_the_deflected_beam(slope, sag_m, span):
    """The closed formula against the flattest piece of a finely cut beam."""
    stations = np.linspace(0, span, 501)
    bed = sag.Invert.sagged(slope, stations, beam_sags(span, sag_m, stations))
    end = sag.end_slope_ratio(slope, sag_m, span)
    assert bed.least_slope == pytest.approx(end, abs=1e-5 + 5e-3 * abs(slope - end))
    assert (bed.lowest_m == pytest.approx(span)) == (end >= 0) or abs(end) < 1e-4
    assert (bed.pond_m > 1e-9) == (end < 0) or abs(end) < 1e-3


def test_a_pond_by_hand():
    """Levels 30, 10, 0, 4, 2, 3 mm: behind the 4 stand 4 mm, behind the last 3 only 1 mm."""
    bed = sag.Invert((0, 1, 2, 3, 4, 5), (0.030, 0.010, 0.0, 0.004, 0.002, 0.003))
    assert bed.pond_m == pytest.approx(0.004)
    assert bed.lowest_m == 2
    assert bed.least_slope == pytest.approx(-0.004)


# what is refused -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"slope_ratio": -0.002},
            r"^slope: got -0\.002, needs more than 0 and at most 1, falling towards the drain\. Rai",
        ),
        ({"slope_ratio": 0}, r"^slope: got 0, needs more than 0"),
        (
            {"length_m": 16},
            r"^channel length: got 16, needs 0\.1 to 15 m for 1 feed\. Use shorter channels or feed half",
        ),
        ({"length_m": 31, "feeds": 2}, r"^channel length: got 31, needs 0\.1 to 30 m for 2 feeds\."),
        ({"flow_l_per_min": 0}, r"^flow in a channel: got 0, needs 0\.01 to 200 L/min\."),
        ({"feeds": 0}, r"^feeds: got 0, needs 1 or more\."),
    ],
)
def test_a_channel_that_cannot_work_is_refused(changes, sentence):
    """One sentence for each: what came, what is allowed, what to do."""
    with pytest.raises(InputError, match=sentence):
        film(**changes)


def test_a_channel_that_would_run_full_is_refused():
    """The sentence names the most it carries, and that flow is taken."""
    most = channels.half_full_m3_per_s(CHANNELS["round-75"], 0.01) * 60_000
    assert film("round-75", slope_ratio=0.01, flow_l_per_min=most * 0.9999).film_m == pytest.approx(0.0375, rel=1e-3)
    with pytest.raises(
        InputError, match=r"^flow in a channel: got .*, needs at most [\d.]+ L/min, which half fills it\. "
    ):
        film("round-75", slope_ratio=0.01, flow_l_per_min=most * 1.001)


def test_a_slope_that_runs_backwards_under_load_is_refused():
    """The sentence says where; a bed that drains passes."""
    stations = np.linspace(0, 2, 5)
    with pytest.raises(InputError, match=r"^slope under load: got -0\.0\d+, needs over 0 all along \(here 1\.5 to 2 m"):
        sag.Invert.sagged(0.01, stations, beam_sags(2, 0.02, stations)).require_draining()
    sag.Invert.sagged(0.025, stations, beam_sags(2, 0.005, stations)).require_draining()
    with pytest.raises(InputError, match="^sags: got '1 numbers', needs 5, one for each station"):
        sag.Invert.sagged(0.01, stations, [0.0])
