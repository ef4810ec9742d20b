"""A grow stand: lengths worked apart, sag against another program, pump against a fluids library, what is refused."""

import cmath
import math
from dataclasses import replace
from itertools import pairwise

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.polynomial import Polynomial
from printed import as_printed, as_worked
from pynite_frames import pynite
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar
from whole_plan import READ, any_value

import gardenframe
from gardenframe.builds import grow_stand_pipes, grow_stand_told
from gardenframe.builds.fields import FieldError
from gardenframe.builds.grow_stand import GrowStand
from gardenframe.builds.grow_stand_laid import water_case
from gardenframe.builds.grow_stand_sag import HandSag, beds, beds_of, channel_second_moment_mm4, slope_left_ratio
from gardenframe.builds.trellis import Trellis
from gardenframe.errors import GardenframeError
from gardenframe.materials import members
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.strength.cases import self_weight
from gardenframe.strength.overturning import wrenches
from gardenframe.strength.stiffness import Model, respond

SITE, SHOP = Site(), Shop()
G = 9.80665
LITTLE = grow_stand_told.LITTLE


def planned(**fields):
    """Return the plan of a grow stand at the usual site."""
    return gardenframe.plan(GrowStand(**fields), SITE, SHOP)


DEFAULT = planned()


# --- lengths


def test_every_piece_of_the_default_worked_apart():
    """1 in tube is 29.5402 mm outside, its clamp-on fittings stop 22 mm short (invented); slope 2.5 %.

    Posts 2200 - 14.7701 - 22; rails along 1830 - 29.5402 that fall by 1 in 40, less 44, level ones the same without the
    fall; ties and bearers 610 - 29.5402 - 44; two top ties on to the wall, 120 more and one fitting less. Braces
    between posts from 220 up to 200 and 100 under the top rails, and 60 past each coupler.
    """
    long, deep, top = 1830 - 29.5402, 610 - 29.5402, 2200 - 14.7701
    sloped = math.hypot(long, 0.025 * long) - 44
    found = {(row["role"], round(row["length_mm"], 2)): row["count"] for _, row in DEFAULT.pieces.iterrows()}
    wanted = {
        ("post", top - 22): 4, ("shelf rail", sloped): 6, ("shelf rail", long - 44): 2, ("rail", long - 44): 1,
        ("rail", deep - 44): 20, ("rail", deep + 120 - 22): 2,
        ("brace", math.hypot(long, top - 200 - 220) + 120): 1, ("brace", math.hypot(deep, top - 100 - 220) + 120): 2,
    }  # fmt: skip
    assert {key: n for key, n in found.items() if "pipe" not in key[0]} == {
        (role, round(length, 2)): n for (role, length), n in wanted.items()
    }


def test_pipe_has_its_own_cutting_plan():
    """Riser from tee to tee 523.33 - 32, headers 610 - 16 - 4, drains 203.33 - 48 across: cut from sticks of pipe."""
    pieces = {(r["role"], round(r["length_mm"], 2)): r["count"] for _, r in DEFAULT.pieces.iterrows()}
    assert pieces["supply pipe", round((2200 - 630) / 3 - 32, 2)] == 2
    assert pieces["supply pipe", 590.0] == 3
    assert pieces["drain pipe", round(610 / 3 - 48, 2)] == 6
    for key in ("pvc-3/4", "pvc-1-1/4"):
        plan = DEFAULT.cutting[key]
        mine = DEFAULT.pieces[DEFAULT.pieces["member"] == key]
        wanted = sorted(r["cut_mm"] for _, r in mine.iterrows() for _ in range(r["count"]))
        cut = sorted(c for _, content, times in plan.patterns for c, n in content.items() for _ in range(n * times))
        assert cut == wanted
        assert plan.sticks >= math.ceil(sum(wanted) / 3048)
        assert key in set(DEFAULT.bill["item"])


@pytest.mark.parametrize("name", GrowStand.examples)
def test_pipes_close(name):
    """From the pump to the highest inlet, pieces and what fittings take add up; so does the drain's fall."""
    build = GrowStand(**GrowStand.examples[name])
    water, up = build.water, 0.0
    for cut in grow_stand_pipes.supply(build):
        if cut.name in ("from the pump", "riser"):
            up += grow_stand_pipes.length_m(cut) + sum(grow_stand_pipes.stop_m(end, cut.size) for end in cut.ends)
    assert up + 0.08 == pytest.approx(water.inlet_m)
    assert all(grow_stand_pipes.length_m(cut) > 0.03 for cut in grow_stand_pipes.cuts(build))
    down = sum(cut.centres_m * cut.number for cut in grow_stand_pipes.drains(build) if cut.name == "downpipe")
    lowest = build.low_m - 0.10
    fall = lowest + (0 if build.shape.in_turn else (build.tiers - 1) * build.shape.pitch_m) - water.pass_m + 0.03
    assert down == pytest.approx(fall)


def test_all_of_it_is_in_the_bill():
    """Pipe fittings, channels with ends, cups, pump, tank, lamps, hangers, straps, ties: each counted by hand."""
    bought = dict(zip(DEFAULT.bill["item"], DEFAULT.bill["needed"], strict=True))
    counted = {
        "elbow-pvc-3/4": 4, "tee-pvc-3/4": 2, "cap-pvc-3/4": 3, "valve-pvc-3/4": 1, "union-pvc-3/4": 1,
        "bulkhead-pvc-1-1/4": 9, "elbow-pvc-1-1/4": 3 + 2, "tee-pvc-1-1/4": 9, "channel-end-flat-100": 18,
        "channel-flat-100": 9 * 1.83, "net-cup-50": math.ceil(81 * 1.05), "lamp-bar-36": 12, "lamp-hanger": 12,
        "strap-metal": 18 * 0.3, "pump-large-45": 1, "tank-50": 1, "rcd-adaptor": 1, "timer-socket": 1,
        "feed-valve": math.ceil(9 * 1.05), "wall-flange": 2, "pump-adaptor": 1, "socket-strip": 12 // 6,
    }  # fmt: skip
    assert {key: bought[key] for key in counted} == pytest.approx(counted)
    assert bought["tie-200"] > 24


PARTED = {"bulkhead": 1, "elbow": 2, "valve": 2, "union": 2, "tee": 3, "cap": 1}  # pipes that end in each


@pytest.mark.parametrize("name", GrowStand.examples)
def test_every_socket_of_a_pipe_fitting_has_its_pipe(name):
    """Every pipe has two ends; all but one at the pump and one over the tank lie in sockets, and one tee is a vent."""
    build = GrowStand(**GrowStand.examples[name])
    plan = gardenframe.plan(build, SITE, SHOP, live=True)
    bought = grow_stand_pipes.fittings(plan)
    pieces = [(cut, grow_stand_pipes.parts(plan, cut)[0] * cut.number) for cut in grow_stand_pipes.cuts(build)]
    for role, size in (("supply pipe", build.pipe), ("drain pipe", build.water.drain_size)):
        if build.pipe == build.water.drain_size:
            continue
        sockets = sum(PARTED[key.removesuffix(f"-{size}")] * n for key, n in bought.items() if key.endswith(f"-{size}"))
        ends = sum(2 * n for cut, n in pieces if cut.role == role)
        falls = sum(n for cut, n in pieces if cut.name == "drop to the next tier" and cut.role == role)
        assert sockets == ends - falls - 1 + (role == "drain pipe")


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_pipe_goes_all_the_way_into_its_fittings(data):
    """Wherever a slider stands, no pipe is shorter than the two sockets that it is cemented into."""
    fields = dict(GrowStand.examples[data.draw(st.sampled_from(sorted(GrowStand.examples)))])
    named = st.sampled_from(["low_m", "flow_l_per_min", "rows", "depth_m", "length_m", "tank", "pipe", "tiers"])
    for key in data.draw(st.lists(named, min_size=1, max_size=4)):
        fields[key] = data.draw(any_value(next(field for field in GrowStand.fields() if field.key == key)))
    try:
        build = GrowStand(**fields)
    except GardenframeError:
        return
    for cut in grow_stand_pipes.cuts(build):
        assert grow_stand_pipes.length_m(cut) >= grow_stand_pipes.sockets_m(cut) - 1e-9, cut.name


FIVE = {"rows": 5, "depth_m": 0.51, "carries": "round-75", "lamp_m": 0.03, "low_m": 0.65, "height_m": 2.6}


@pytest.mark.parametrize(
    ("fields", "key", "said"),
    [
        ({"low_m": 0.49}, "low_m", r"at least 0\.\d+ m \(1 ft 7 9/16 in\) over that tank\. A drain of 1-1/4 in"),
        (FIVE | {"flow_l_per_min": 1.2}, "rows", r"drain tees of 1-1/2 in stand 0\.11"),
        (FIVE | {"flow_l_per_min": 1.6}, "flow_l_per_min", r"got 1\.6, needs at most 1\.59 L/min\. All 15 feeds"),
    ],
)  # fmt: skip
def test_fittings_that_would_touch_are_a_sentence(fields, key, said):
    """Tee and elbow of 1-1/4 in take 48 mm and their sockets 48 mm: 96 mm from centre to centre, where 90 are left.

    Half of a 1-1/2 in drain at 1:50 takes 23.9 L/min: 1.59 for each of 15 feeds.
    """
    with pytest.raises(FieldError, match=said) as caught:
        GrowStand(**fields)
    assert caught.value.field == key


def test_what_a_long_pipe_loses_to_its_unions():
    """A supply of 4.4 m along the floor is two pieces and a union between: 2 x 20 mm shorter than the pipe."""
    plan = planned(length_m=4.4, bays=4, tube="emt-1-1/4", low_m=0.65, lamp_m=0.05)
    cut = next(cut for cut in grow_stand_pipes.cuts(plan.build) if cut.name == "along")
    number, length = grow_stand_pipes.parts(plan, cut)
    assert number == 2
    assert 2 * length == pytest.approx(4.4 - 0.0383540 - 0.02 - 0.3 + 0.06 - 2 * 0.15 - 0.020 - 0.016 - 0.040, abs=1e-4)


def test_the_pump_has_its_protection_before_it_runs():
    """Residual-current adaptor and timers go in before the tank is filled and the pump runs an hour."""
    said = DEFAULT.steps["step"].tolist()
    before, after = (next(i for i, step in enumerate(said) if word in step) for word in ("residual-current", "Fill"))
    assert before < after
    painted = DEFAULT.steps.set_index("step").loc["Paint every bare cut of steel with zinc-rich paint; let it dry."]
    assert painted["minutes"] == (4 + 6 + 2 + 1 + 20 + 2 + 1 + 2) / 2  # steel tubes alone
    holes = next(i for i, step in enumerate(said) if "9 holes of 50 mm (2 in) for net cups, 0.20 m" in step)
    assert holes < next(i for i, step in enumerate(said) if step.startswith("Lay the channels"))


def test_more_lamps_than_a_circuit_carries_are_said_and_shared_out():
    """Twelve boards of 120 W over each of three tiers are 4320 W: 15 A at 120 V give 1800 W, for hours 1440: three."""
    plan = planned(lamp="board-120", lamps=12, lamp_m=0.12, height_m=2.4, tube="emt-1-1/4")
    needed = plan.bill.set_index("item")["needed"]
    assert (needed["timer-socket"], needed["rcd-adaptor"]) == (3, 3)
    assert any(
        sentence.startswith("Lamps and pump take 4351 W together, more than the 1440 W") for sentence in plan.warnings
    )
    assert not any("together, more than" in sentence for sentence in DEFAULT.warnings)


# --- sag


@pytest.mark.outside("builds.grow_stand_sag.channel_second_moment_mm4", source="scipy")
@pytest.mark.parametrize(("width", "depth", "wall"), [(100, 50, 1.5), (150, 40, 2.5)])
def test_shape_of_a_channel_summed_over_its_depth(width, depth, wall):
    """Bottom and two sides as a width that changes with height: area, middle and y² summed by a library."""

    def summed(weight):
        bottom = quad(lambda y: (width + 2 * wall) * weight(y), 0, wall)[0]
        return bottom + quad(lambda y: 2 * wall * weight(y), wall, wall + depth)[0]

    middle = summed(lambda y: y) / summed(lambda _: 1.0)
    theirs = summed(lambda y: (y - middle) ** 2)
    ours = channel_second_moment_mm4(width, depth, wall)
    assert ours == as_worked(theirs, "mm⁴", f"channel of {width} x {depth} x {wall:g} mm, summed over its depth")


@pytest.mark.outside("builds.grow_stand_sag.slope_left_ratio", source="numpy")
def test_slope_left_by_integrating_the_load_four_times():
    """Rail and channel bowed each by an even load, summed up by a library's polynomials, and both slopes at an end."""

    def end_slope(span, sag_m):
        moment = Polynomial([1.0]).integ(2)
        moment -= Polynomial([0, moment(span) / span])  # none at the far end
        bowed = moment.integ(2)
        bowed -= Polynomial([0, bowed(span) / span])
        return -sag_m / bowed(span / 2) * bowed.deriv()(span)

    theirs = 0.025 - end_slope(1.8, 0.003) - end_slope(0.45, 0.0005)
    ours = slope_left_ratio(0.025, 0.003, 1.8, 0.0005, 0.45)
    assert ours == as_worked(theirs, "", "slope left where a rail and its channel sag")


@pytest.mark.outside("builds.grow_stand_sag", "strength.stiffness", source="PyNiteFEA")
def test_the_loaded_channel_against_another_program():
    """One channel on three bearers, the same frame with rigid joints in PyNiteFEA: each bearer sags the same."""
    build = GrowStand(braces="none", stands="free", rows=1, tiers=1, height_m=1.2, length_m=1.6,
                      plants_each=5)  # fmt: skip
    frame = build.frame(SHOP)
    case = water_case(build, frame)
    dead = self_weight(frame, {key: m.mass_kg_per_m for key, m in SHOP.members.items()})
    both = replace(case, loads=(*case.loads, *dead.loads))
    ours = beds_of(build, frame, respond(Model(frame, SHOP.members, fine=True), [both]))[0]
    middle = build.shape.rows_y[0]
    names = [f"level 1 {f'tie {bay + 1}' if tie else f'bearer {bay + 1}.{n + 1}'}" for _, tie, bay, n in
             build.shape.supports_x]  # fmt: skip
    model = pynite(frame, {}, [both], points_on={name: [middle] for name in names})
    model.analyze(check_statics=False)
    theirs = [-model.nodes[f"{name}@{middle:.6f}"].DZ["F"] for name in names]
    assert max(theirs) > 1e-4
    sags = [ours.sags_m[i] * 1000 for i in range(0, len(ours.sags_m), 4)]
    pynite_mm = [1000 * sag for sag in theirs]
    assert sags == as_worked(pynite_mm, "mm", "sag of the bearers under a brim-full channel", rel=2e-3, abs=1e-4)


@settings(max_examples=12, deadline=None)
@given(st.floats(1.0, 2.4), st.integers(1, 4), st.integers(1, 3), st.sampled_from(["flat-100", "round-75"]))
def test_simple_spans_by_hand_are_on_the_sure_side(length, bearers, rows, carries):
    """Fittings hold rails against turning, so the solved frame keeps more slope than simple spans, less than laid.

    What a bearer sags between the rails is left out of the hand's sum: it is given back here.
    """
    build = GrowStand(length_m=length, bearers=bearers, rows=rows, carries=carries, slope_share=0.033, plants_each=2,
                      tube="emt-1-1/4", lamp="bar-18", tiers=2, low_m=0.6)  # fmt: skip
    hand = HandSag(build.shape)
    tube = members.find(build.tube)
    load = build.shape.carried_n_per_m * hand.apart_m / build.depth_m
    bearer = 5 * load * build.depth_m**4 / (384 * tube.modulus_pa * tube.second_moment_mm4 * 1e-12)
    for bed in beds(gardenframe.plan(build, SITE, SHOP, live=True)):
        assert hand.slope_left - 2 * bearer / hand.apart_m <= bed.invert.least_slope < build.slope_share
        assert bed.invert.pond_m == 0
        assert bed.invert.lowest_m == pytest.approx(bed.invert.stations_m[-1])


def test_the_flattest_piece_is_found_in_words_and_in_the_checks():
    """The row's demand is what the flattest piece lost, in per cent of fall."""
    row = DEFAULT.checks.set_index("check").loc["slope of a channel lost to sag"]
    worst = min(beds(DEFAULT), key=lambda bed: bed.invert.least_slope)
    levels, x = worst.invert.levels_m, worst.invert.stations_m
    flattest = min((a - b) / (v - u) for (u, a), (v, b) in pairwise(zip(x, levels, strict=True)))
    assert row["demand"] == pytest.approx(100 * (0.025 - flattest))
    assert row["capacity"] == 2.5
    assert f"tier {worst.tier + 1}, channel {worst.row + 1}" in row["where"]


# --- water


@pytest.mark.outside("builds.grow_stand_water", "water.channels", source="worked-apart")
def test_film_of_the_default_channel():
    """Manning, n 0.011, 100 mm flat channel, 1:40, 1 L/min, worked apart: 1.10 mm at 0.151 m/s."""
    film = GrowStand().water.film
    assert film.film_m * 1000 == as_worked(1.10, "mm", "film of a channel of the stand", abs=0.0051)
    assert film.speed_m_per_s == as_worked(0.151, "m/s", "speed of the film", abs=0.00051)


@pytest.mark.outside("builds.grow_stand_water", "water.pipes", "water.pumps", source="fluids")
def test_lift_and_head_of_the_default_by_a_fluids_library():
    """Inlet: axis 630 - 14.77 + 2 x 523.33 + 45.01 of fall, tube, channel 51.5, 30 over it; water at 54 mm.

    Then pipe by pipe at 9 L/min: main with six branches' worth of fittings, two risers, header, feed tube.
    """
    water = GrowStand().water
    lift = (630 - 14.7701 + 2 * 1570 / 3 + 0.025 * 1800.4598 + 14.7701 + 51.5 + 30 - 54) / 1000
    assert water.system.lift_m == as_worked(lift, "m", "lift of the stand's pump, added up", "second-method", abs=1e-6)
    bore = members.find("pvc-3/4").inner_mm / 1000
    first = water.inlet_m - 2 * 1.57 / 3 - 0.33
    main = 0.25 + (1.83 - 0.0295402 - 0.02 - 0.3 + 0.06) + (0.61 - 0.0295402) / 2 + first

    def head(flow, length, across, loss):
        speed = flow / 60_000 / (math.pi * across**2 / 4)
        number = fluids.Reynolds(V=speed, D=across, nu=1e-6)
        factor = 64 / number if number < 2000 else fluids.friction_factor(Re=number, eD=1.5e-6 / across)
        return fluids.head_from_K(K=fluids.K_from_f(fd=factor, L=length, D=across) + loss, V=speed, g=9.81)

    piped = head(9, main, bore, 0.5 + 4 * 0.9 + 0.1 + 0.08) + head(6, 1.57 / 3, bore, 0.6)
    piped += head(3, 1.57 / 3, bore, 0.6) + head(3, 0.61, bore, 0.9) + head(1, 0.3, 0.006, 0.5 + 0.1 + 1.0)
    assert water.system.head_m(9.0) == as_worked(lift + piped, "m", "head that the stand needs at 9 L/min", rel=1e-4)
    assert water.duty.head_m == pytest.approx(2.75 + (9 / 12 - 1) * (2.75 - 3.0))  # between rows of its table
    left = 2.75 + (9 / 12 - 1) * (2.75 - 3.0) - lift - piped
    assert water.duty.valve_m == as_worked(left, "m", "head that its valve takes", rel=1e-3)


def test_drain_back_and_tank_of_the_default():
    """Nine films of 100 x 1.10 mm over 1.83 m are 1.81 L; with the pipes they fit the tank, which keeps its level."""
    water = DEFAULT.build.water
    assert water.carried_l == pytest.approx(9 * 0.1 * 0.00110 * 1.83 * 1000, rel=5e-3)
    assert water.tank.running_l == pytest.approx(water.tank.filled_l - water.carried_l - water.piped_l)


def test_in_turn_every_second_tier_slopes_the_other_way():
    """One stream: a film as long as all tiers, one feed a row, the drain of each over the feed of the next."""
    build = GrowStand(**GrowStand.examples["One stream from top to bottom (gate shed, invented)"])
    shape = build.shape
    assert build.water.film.length_m == pytest.approx(4 * 2.4)
    assert build.water.flow_l_per_min == pytest.approx(3 * 1.5)
    assert [shape.drains_right(tier) for tier in range(4)] == [False, True, False, True]
    for tier in (1, 2, 3):
        drain = shape.posts_x[-1] if shape.drains_right(tier) else shape.posts_x[0]
        gap = shape.axis_z(tier, drain) - shape.axis_z(tier - 1, drain)
        assert gap == pytest.approx(shape.pitch_m - shape.fall_m)


def test_energy_of_a_head_of_lettuce_by_hand():
    """12 lamps of 36 W for 16 h: 6.912 kWh a day; at 0.15 for 35 days over 81 heads 0.448, and the pump's share."""
    water = DEFAULT.build.water
    assert water.lamps_kwh == pytest.approx(6.912)
    assert water.head_cost(6.912) == pytest.approx(6.912 * 0.15 * 35 / 81)
    assert water.pump_kwh == pytest.approx(water.duty.power_w * 24 / 1000)


# --- tipping and floor


# an upright body 0.61 deep on its far edge: 412 N, its middle 0.27 m before that edge and 1.31 m up
WEIGHT_N, BEFORE_M, UP_M = 412.0, 0.27, 1.31


def turned(by_rad, before_m, up_m):
    """Return a point of a body that is turned over its far edge: i times its height, less how far before the edge."""
    return complex(-before_m, up_m) * cmath.exp(-1j * by_rad)


@pytest.mark.outside("builds.grow_stand_told.tip_deg", source="scipy")
def test_a_stand_tips_where_its_middle_is_highest():
    """Turned about its far edge the middle first rises: it falls over from the angle at which it is highest."""
    found = minimize_scalar(lambda by: -turned(by, BEFORE_M, UP_M).imag, bounds=(0, 1.5), options={"xatol": 1e-9})
    ours = grow_stand_told.tip_deg(BEFORE_M, UP_M)
    assert ours == as_worked(math.degrees(found.x), "°", "tilt at which a top-heavy stand falls", rel=1e-5)


TIPPED = "push_moment_n_m", "holding_moment_n_m", "tipping_push_n"


@pytest.mark.outside(*(f"builds.grow_stand_told.{name}" for name in TIPPED), source="second-method")
def test_a_push_tips_a_stand_when_its_work_is_that_of_lifting_it():
    """A hair's turn about the far edge: the push's way and the rise of the middle, each times its force, and even."""
    hair, push_n, high_m = 1e-7, 250.0, 1.2
    work = push_n * (turned(hair, 0.61, high_m) - turned(0, 0.61, high_m)).real / hair
    rise = WEIGHT_N * (turned(hair, BEFORE_M, UP_M) - turned(0, BEFORE_M, UP_M)).imag / hair
    ours = grow_stand_told.push_moment_n_m(push_n, high_m)
    assert ours == as_worked(work, "N m", "work of a push, for each radian it turns a stand", rel=1e-6)
    ours = grow_stand_told.holding_moment_n_m(WEIGHT_N, BEFORE_M, 1.0)
    assert ours == as_worked(rise, "N m", "work to lift the stand, for each radian", rel=1e-6)
    even = brentq(lambda push: push * work / push_n - rise, 0, 1000)
    ours = grow_stand_told.tipping_push_n(ours, high_m)
    assert ours == as_worked(even, "N", "push at 1.2 m that tips it", "scipy", rel=1e-6)
    counted = grow_stand_told.holding_moment_n_m(WEIGHT_N, BEFORE_M, LITTLE) / rise
    assert counted == as_printed(
        "0.6", "", "share of the weight that may be counted on, 0.6 D", "asce7-2-4", copied=True
    )


def test_weight_and_middle_against_the_loads_of_the_solver():
    """Only the top tier full: the sum and the moment of what is applied; lamps of the other tiers come on by hand."""
    plan = planned(stands="free")
    tipping = grow_stand_told.Tipping(plan, top=True)
    case = water_case(plan.build, plan.frame, (plan.build.tiers - 1,))
    standing = replace(plan.standing, extra=(case,), _model=[])
    first = respond(standing.model, standing.loads.cases, standing.loads.combinations)  # upright, without sway
    force = wrenches(first)[0].sum(axis=0)
    lamps = 2 * 4 * 0.9 * G
    assert tipping.weight_n == pytest.approx(lamps - force[2], rel=1e-6)
    middle = ((1.83 - 0.0295402) / 2 + 0.0147701, (0.61 - 0.0295402) / 2)
    x = (-force[4] / force[2] * -force[2] + middle[0] * lamps) / (lamps - force[2])
    y = (force[3] / force[2] * -force[2] + middle[1] * lamps) / (lamps - force[2])
    assert tipping.middle[:2] == pytest.approx((x, y), abs=1e-3)
    row = next(r for r in standing.anchors.rows if r.check == "whole build: overturning")
    assert row.demand == pytest.approx(tipping.lean.demand, rel=0.05)  # the solver's has its lean's own sway in it
    assert row.capacity == pytest.approx(tipping.lean.capacity / 0.6, rel=0.1)  # counts all of the weight


def test_a_wall_holds_what_a_free_stand_does_not():
    """Free, an empty stand tips when leaned on; the ties add what their screws hold, at their height."""
    wall, free = (planned(stands=word).checks.set_index("check") for word in ("wall", "free"))
    name = "tipping: leaned on, empty"
    assert free.loc[name, "ratio"] > 1 > wall.loc[name, "ratio"]
    held = sum(
        foot.slide_n.min() * foot.ground_at[2] for foot in DEFAULT.standing.anchors.feet if foot.main.rests == "wall"
    )
    assert held > 1000
    assert wall.loc[name, "capacity"] - free.loc[name, "capacity"] == pytest.approx(held, rel=0.01)
    over = {word: next(r for r in planned(stands=word).standing.anchors.rows if r.kind == "overturning") for word in
            ("wall", "free")}  # fmt: skip
    assert over["wall"].capacity - over["free"].capacity == pytest.approx(held, rel=0.35)


def test_floor_rows():
    """What all feet press is the weight; a plate of 150 mm spreads it 17.9 times as far as a foot of 40 mm."""
    plan = planned(floor="timber")
    rows = plan.checks.set_index("check")
    foot = rows.loc["floor: pressure under a foot", "demand"]
    plate = (
        planned(floor="timber", feet="plates").checks.set_index("check").loc["floor: pressure under a foot", "demand"]
    )
    assert foot / plate == pytest.approx(150**2 / (math.pi * 20**2))
    loads = {row["case"]: -row["z_n"] for row in plan.standing.loads.rows}
    tank = plan.build.water.tank.filled_l * G
    spread = (loads["D"] + loads["F"] + tank) / (1.83 * 0.61)
    assert rows.loc["floor: weight over its footprint", "demand"] == pytest.approx(spread, rel=1e-6)


def test_water_weighs_what_its_volume_does():
    """Brim full: 9 channels of 100 x 50 mm, 81 lettuces of 0.25 kg, 12 lamps of 0.9 kg, the channels' own 0.8 kg/m."""
    mass = 9 * 1.83 * (0.8 + 5.0) + 81 * 0.25 + 12 * 0.9
    loads = {row["case"]: -row["z_n"] for row in DEFAULT.standing.loads.rows}
    assert loads["F"] == pytest.approx(mass * G, rel=1e-9)


def test_indoors_no_wind_reaches_it():
    """The same checks on a mild and on a wild site, and no gust to take a cover off at."""
    build = GrowStand()
    calm, wild = (
        gardenframe.plan(build, Site(wind_m_per_s=v, ground_snow_pa=s), SHOP) for v, s in ((0, 0), (60, 3000))
    )
    assert calm.checks["ratio"].tolist() == wild.checks["ratio"].tolist()
    assert wild.limits == ()


def test_cautions_of_water_light_and_fish():
    """Electricity near water, lifting, tipping, floors, eyes under lamps; fish and food where there are fish."""
    plan = planned(**GrowStand.examples["Basil on rafts over fish (plot 11, invented)"])
    asked = {"electricity-water", "lifting", "tipping", "floor", "grow-lamps", "fish-food", "standing-water"}
    assert asked <= {caution.key for caution in plan.caution_rows}
    assert "fish-food" not in {caution.key for caution in DEFAULT.caution_rows}
    assert "wind-take-down" not in {caution.key for caution in DEFAULT.caution_rows}  # no gust limit is shown indoors
    assert "wind-take-down" in {c.key for c in gardenframe.plan(Trellis(), SITE, SHOP, live=True).caution_rows}
    assert any("kg (13 to 33 lb) of fish" in sentence for sentence in plan.warnings)


# --- everything that a reader can choose


CHANGED = st.sampled_from(GrowStand.fields()).flatmap(lambda field: st.tuples(st.just(field.key), any_value(field)))


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(sorted(GrowStand.examples)), st.lists(CHANGED, min_size=1, max_size=4), st.booleans())
def test_every_choice_gives_a_plan_or_a_sentence(name, changed, live):
    """An example with some fields anywhere in their range: no crash and no mechanism; what is refused is a sentence."""
    said = ""
    try:
        plan = gardenframe.plan(GrowStand(**GrowStand.examples[name] | dict(changed)), SITE, SHOP, live=live)
        for part in READ:
            getattr(plan, part)
        plan.worked("us")
    except GardenframeError as refused:
        said = str(refused)
    if said:
        assert said.rstrip().endswith((".", ")"))
        return
    assert len(list(plan.build.charts(plan, "us"))) == (4 if plan.build.shape.channel else 2)
    assert plan.checks["ratio"].map(math.isfinite).all()
    assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)


@pytest.mark.parametrize("name", GrowStand.examples)
def test_examples_are_what_people_would_build(name):
    """Tied to a wall none is over a limit; the free one is told that a person tips it empty, and loads a castor."""
    plan = planned(**GrowStand.examples[name])
    over = set(plan.checks.loc[plan.checks["ratio"] > 1, "check"])
    assert all(check.startswith(("tipping: leaned on", "castor: weight")) for check in over)
    assert not over or plan.build.stands == "free"


# --- what is refused


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        (
            {"slope_share": 0.005},
            r"^Slope: got 0\.5 %, needs more: loaded, rails and channels sag and take 1\.4 % at the drain",
        ),
        (
            {"slope_share": 0.0},
            r"^Slope: got 0 %, needs more than 0 %\. The water would stand in the channels: raise the feed",
        ),
        (
            {"pump": "small-8"},
            r"^Pump: got small submerged pump, 8 W, needs a head over the lift of 1\.75 m; this one en",
        ),
        (
            {"pump": "middle-20"},
            r"^Pump: got middle submerged pump, 20 W, needs 1\.\d\d m of head at 9 L/min; this one ",
        ),
        (
            {"carries": "tray-1200", "length_m": 2.5, "bays": 2, "crop": "basil", "water_m": 0.08, "lamp_m": 0.03},
            r"^Tank: got tank 600 x 400 x 270 mm, needs room for the 26\d L that drain back; over its pump and un",
        ),
        ({"tiers": 6}, r"^Tiers: got 6, needs at most 3 in that height\. A tier takes .*what it carries, grown plants"),
        ({"height_m": 0.8}, r"^Height: got 800 mm, needs at least .* over that lowest shelf\. A tier takes"),
        (
            {"plants_each": 0},
            r"^Most plants in each: got 0, needs 1 or more\. A stand without plants has nothing to water",
        ),
        (
            {"fed": "in turn", "length_m": 4.3, "bays": 3, "tiers": 4, "height_m": 2.6, "slope_share": 0.015},
            r"^Channels are fed: got 'the top one.*, needs channels of at most 15\.00 m .* one after the other; these",
        ),
        (
            {"lamp_m": 0.0},
            r"^Lamps over plants: got 0 mm, needs at least 0\.03 m .*Lower than that it hangs in its own",
        ),
        (
            {"lamp_m": 0.9},
            r"^Lamps over plants: got 900 mm, needs at most .*The rails that it hangs from are right above",
        ),
        ({"low_m": 0.4}, r"^Lowest shelf: got 400 mm, needs at least 0\.49 m .* over that tank\."),
        (
            {"tank": "tank-250", "low_m": 0.7, "height_m": 2.4},
            r"^Tank: got tank 1200 .*, needs one at most .* wide, to sta",
        ),
        ({"rows": 9}, r"^Channels on a tier: got 9, needs at most 5 in that depth"),
        ({"carries": "raft-1200", "depth_m": 0.4}, r"^(Carries|Bearers|Tiers): "),
        (
            {"tube": "emt-3/4", "length_m": 2.4},
            r"^Slope: got 2\.5 %, needs less sag: loaded, rails and channels sag and take .* % at the drain end of a",
        ),
        ({"feet": "castors"}, r"^Feet: got castors with brakes, needs feet or plates where it is tied to a wall"),
        (
            {"bearers": 8, "length_m": 0.7, "lamp": "bar-18"},
            r"^Bearers in a bay: got 8, needs at most 5 in bays that long",
        ),
        ({"length_m": math.nan}, r"^Length: got nan"),
    ],
)
def test_what_does_not_go_together_is_one_sentence(fields, sentence):
    """Each bad input of a stand: the field is named, what came, and what would do."""
    with pytest.raises(FieldError, match=sentence):
        GrowStand(**fields)
