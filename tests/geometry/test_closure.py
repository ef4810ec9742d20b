"""A frame closes: put together again from its pieces and fittings alone, every joint is where the reader put it."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

import gardenframe
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.builds.trellis import Trellis
from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop

JOININGS = ("clamp-on", "slip-on", "bolted")


def trellises():
    """Return a strategy over trellises of all forms, bases and joinings that the build accepts."""
    fields = st.fixed_dictionaries(
        {
            "form": st.sampled_from(["flat", "A-frame", "sloped"]),
            "base": st.sampled_from(["timber bed", "tube bed", "stakes", "sleeves"]),
            "joining": st.sampled_from(JOININGS),
            "tube": st.sampled_from(["emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4"]),
            "width_m": st.floats(0.6, 7.5),
            "height_m": st.floats(0.7, 2.6),
            "bays": st.integers(1, 6),
            "mid_rails": st.integers(0, 3),
            "braces": st.booleans(),
            "stays": st.sampled_from(["none", "end posts", "every post"]),
        }
    )
    return fields


def made(values):
    """Return the trellis of drawn values, or None where the build refuses them in a sentence."""
    try:
        return Trellis(**values)
    except GardenframeError:
        return None


def rebuilt_m(plan, run, column):
    """Return the distance between a run's first and last joint from pieces and fitting rows alone. [m]

    Pieces come from the table by the runs they lie in; set-backs from the row of the fitting at each end: one stop at
    each end of the run, two at each coupling.
    """
    lengths = [row[column] for _, row in plan.pieces.iterrows() for name in row["runs"].split(", ") if name == run.key]
    stops = {f.joint: f.row.centre_to_stop_mm for f in plan.fitted if f.row}
    ends = stops.get(run.path[0], 0.0) + stops.get(run.path[-1], 0.0)
    return (sum(lengths) + ends + sum(2 * stops[joint] for joint in run.splices)) / 1000, len(lengths)


def assert_closes(plan):
    """Walk every run from its first joint to its last."""
    walked, apart, taped, pieces = [], [], [], []
    for run in plan.frame.runs.values():
        a, b = plan.frame.joints[run.path[0]].at, plan.frame.joints[run.path[-1]].at
        apart.append(math.dist(a, b))
        walked.append(rebuilt_m(plan, run, "length_mm")[0])
        cut, number = rebuilt_m(plan, run, "cut_mm")
        taped.append(cut)
        pieces.append(number)
    assert apart == as_worked(walked, "m", "from joint to joint, put together from pieces and stops", abs=1e-8)
    assert np.all(np.abs(np.subtract(taped, apart)) <= 0.0005 * np.array(pieces) + 1e-8)


@pytest.mark.outside("plan.frame", "plan.pieces", "geometry.fittings", "geometry.pieces", source="second-method")
@pytest.mark.parametrize("joining", JOININGS)
@pytest.mark.parametrize("name", list(Trellis.examples))
def test_every_example_closes_in_every_joining(name, joining):
    """Each example, in each joining."""
    build = dataclasses.replace(Trellis(**Trellis.examples[name]), joining=joining)
    assert_closes(gardenframe.plan(build))


@settings(max_examples=60, deadline=None)
@given(trellises())
def test_random_trellises_close(values):
    """Random forms, bases, joinings and sizes, longer than a stick too."""
    build = made(values)
    if build is not None:
        assert_closes(gardenframe.plan(build))


def test_a_wrong_set_back_does_not_close():
    """The check can fail: one tee a millimetre longer and the frame no longer closes."""
    plan = gardenframe.plan(Trellis())
    tee = next(f.key for f in plan.fitted if f.fitting == "tee")
    rows = dict(plan.shop.fittings)
    rows[tee] = dataclasses.replace(rows[tee], centre_to_stop_mm=rows[tee].centre_to_stop_mm + 1)
    wrong = gardenframe.plan(Trellis(), shop=Shop(fittings=rows))
    mixed = dataclasses.replace(plan)
    mixed.__dict__["fitted"] = wrong.fitted
    with pytest.raises(AssertionError):
        assert_closes(_Mixed(plan, wrong))


class _Mixed:
    """The pieces of one plan with the fittings of another."""

    def __init__(self, cut_from, fitted_with):
        self.frame, self.pieces, self.fitted = cut_from.frame, cut_from.pieces, fitted_with.fitted


@pytest.mark.outside("plan.frame", "plan.fittings", "plan.pieces", source="second-method")
def test_a_clamp_on_panel_worked_by_hand():
    """A reader's tee of 30 mm and elbow of 25 mm to the stop, 1 in EMT (OD 1.163 in = 29.54 mm, trade body's table).

    Width 1.2 m outside, one bay, no mid rail, height 1.0 m over a 0.3 m bed. Post axes are 1200 - 29.54 = 1170.46 mm
    apart. Top rail between two elbows: 1170.46 - 2 x 25 = 1120.46. Bottom rail between two tees:
    1170.46 - 2 x 30 = 1110.46. A post runs from the ground to the elbow's stop: 1300 - 14.77 - 25 = 1260.23.
    """
    rows = {
        key: dataclasses.replace(
            row, centre_to_stop_mm={"tee": 30, "elbow": 25}.get(row.fitting, row.centre_to_stop_mm)
        )
        for key, row in Shop().fittings.items()
    }
    build = Trellis(width_m=1.2, height_m=1.0, bays=1, mid_rails=0, bed_depth_m=0.3, tube="emt-1")
    plan = gardenframe.plan(build, shop=Shop(fittings=rows))
    found = {(row["role"], round(row["length_mm"], 2)): row["count"] for _, row in plan.pieces.iterrows()}
    assert found == {("post", 1260.23): 2, ("rail", 1120.46): 1, ("rail", 1110.46): 1}
    by_hand = {"post": [1300 - 14.77 - 25] * 2, "rail": [1170.46 - 50, 1170.46 - 60]}
    for role, lengths in by_hand.items():
        rows = plan.pieces[plan.pieces["role"] == role].sort_values("length_mm", ascending=False)
        ours = rows["length_mm"].repeat(rows["count"]).to_numpy()
        assert ours == as_worked(lengths, "mm", f"panel of two posts and two rails: {role}", abs=0.005)
    assert sorted(plan.pieces["cut_mm"]) == [1110, 1120, 1260]
    high = [joint.at[2] * 1000 for joint in plan.frame.joints.values()]
    assert max(high) == as_worked(1300 - 14.77, "mm", "level of its top rail", abs=0.005)
    stops = plan.fittings.set_index("fitting")["set_back_mm"]
    assert {*stops["tee"], *stops["elbow"]} == {30.0, 25.0}
    counted = plan.fittings.groupby("fitting")["count"].sum()
    assert counted[["elbow", "tee"]].to_list() == as_worked([2, 2], "", "elbows and tees of the panel", abs=0.0)


@pytest.mark.outside("plan.frame", "plan.fittings", "plan.pieces", source="second-method")
@pytest.mark.parametrize(("bays", "rails"), [(1, 0), (2, 1), (4, 2)])
def test_a_trellis_set_out_by_hand(bays, rails):
    """Positions of all crossings on a grid, what meets at each counted, and every length from the grid and the stops.

    Width and height outside 1.83 m, boards of 280 mm, lowest rail 100 mm above them; clamp-on: posts pass, but the top
    rail passes over them.
    """
    plan = gardenframe.plan(Trellis(bays=bays, mid_rails=rails))
    outer = 1.163 * 25.4
    across = np.linspace(outer / 2, 1830 - outer / 2, bays + 1)
    levels = np.linspace(380, 280 + 1830 - outer / 2, rails + 2)
    at = {key: np.array(joint.at) * 1000 for key, joint in plan.frame.joints.items() if "post" in key}
    crossings = sorted((x, z) for x, _, z in at.values() if z > 300)
    worked = sorted((x, z) for x in across for z in levels)
    assert np.array(crossings) == as_worked(
        np.array(worked), "mm", f"where posts and rails cross, {bays} bays", abs=1e-6
    )
    # outer posts: a rail ends on each below the top; inner posts: two; at the top the rail passes over inner posts
    met = {"elbow": 2, "tee": 2 * (rails + 1) + (bays - 1), "cross": (bays - 1) * (rails + 1)}
    counted = plan.fittings.groupby("fitting")["count"].sum()
    ours = [int(counted.get(word, 0)) for word in met]
    assert ours == as_worked(list(met.values()), "", f"elbows, tees and crosses, {bays} bays", abs=0.0)
    stop = {word: next((f.row.centre_to_stop_mm for f in plan.fitted if f.fitting == word), 0.0) for word in met}
    bay = across[1] - across[0]
    ends = [stop["tee"], *[stop["cross"]] * (2 * (bays - 1)), stop["tee"]]  # of the rails of one level, in order
    rail = [bay - ends[2 * n] - ends[2 * n + 1] for n in range(bays)] * (rails + 1)
    rail.append(across[-1] - across[0] - 2 * stop["elbow"])
    posts = [levels[-1] - stop["elbow"]] * 2 + [levels[-1] - stop["tee"]] * (bays - 1)
    for role, lengths in (("rail", rail), ("post", posts)):
        rows = plan.pieces[plan.pieces["role"] == role]
        cut = np.sort(rows["length_mm"].repeat(rows["count"]).to_numpy())
        assert cut == as_worked(np.sort(lengths), "mm", f"lengths of every {role}, {bays} bays", abs=1e-6)


@pytest.mark.parametrize("length", [4.88, 9.0])
def test_like_hoops_meet_their_purlins_where_each_would_alone(length):
    """Every joint of every bent run lies at the nearest point of its own line, whatever was kept."""
    frame = gardenframe.plan(HoopHouse(length_m=length)).frame
    bent = [run for run in frame.runs.values() if not frame.lines[run.key].straight]
    assert len(bent) > 5
    for run in bent:
        line = frame.lines[run.key]
        for contact in frame.on[run.key]:
            at = frame.joints[contact.joint].at
            assert contact.station_m == pytest.approx(line.nearest(at), abs=1e-5)
            assert math.dist(line.point(contact.station_m), at) == pytest.approx(math.dist(contact.offset, (0, 0, 0)))
            assert contact.directions[0] == pytest.approx(
                tuple((-1 if contact.end == "finish" else 1) * x for x in line.tangent(contact.station_m))
            )
