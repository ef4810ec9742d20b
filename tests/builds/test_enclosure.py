"""An enclosure: lengths worked apart, faces covered once, gates that meet nothing, what is flagged and refused."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from printed import as_worked
from whole_plan import READ

import gardenframe
from gardenframe.builds import ALL, enclosure_charts, enclosure_gate, enclosure_keeps
from gardenframe.builds.enclosure import Enclosure
from gardenframe.builds.enclosure_laid import Laid
from gardenframe.builds.enclosure_walls import walls_of
from gardenframe.builds.fields import FieldError
from gardenframe.errors import GardenframeError, InputError
from gardenframe.geometry import swings
from gardenframe.geometry.coverings import strips_needed
from gardenframe.geometry.frame import Frame, Joint, Run
from gardenframe.geometry.pools import packed
from gardenframe.materials.coverings import load_coverings, load_rolls
from gardenframe.materials.prices import load_prices
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site

SITE, SHOP = Site(), Shop()
D = 0.038354  # EMT 1-1/4 in, outside
PEN = {"animals": ("rabbit", "pigeon"), "tube": "emt-1-1/4"}


def planned(live=True, **fields):
    """Return the plan of an enclosure at the usual site."""
    return gardenframe.plan(Enclosure(**fields), SITE, SHOP, live=live)


def any_value(field):
    """Return a strategy over all that a field's control can reach."""
    if field.kind == "choice":
        return st.sampled_from([key for key, _ in field.choices])
    if field.kind == "choices":
        return st.sets(st.sampled_from([key for key, _ in field.choices]), max_size=4).map(tuple)
    if field.kind == "flag":
        return st.booleans()
    if field.kind == "count":
        return st.integers(int(field.low), int(field.high))
    return st.floats(field.low, field.high)


@st.composite
def any_enclosure(draw):
    """Return fields of an enclosure, sizes drawn so that most go together; the rest may be refused."""
    values = {field.key: draw(any_value(field)) for field in Enclosure.fields()}
    size = values["size"]
    high = {"walk-in": (1.0, 2.6), "reach-in": (0.75, 1.5), "low": (0.35, 1.1)}[size]
    values |= {"height_m": draw(st.floats(*high)), "gate_width_m": draw(st.floats(0.4, 1.0)), "mid_rails": 0}
    values |= {"width_m": draw(st.floats(1.2, 7.0)), "depth_m": draw(st.floats(0.9, 1.5 if size == "low" else 4.5))}
    values["bays"] = math.ceil(values["width_m"] / draw(st.floats(1.2, 2.8)))
    values["side_bays"] = math.ceil(values["depth_m"] / draw(st.floats(1.2, 2.8)))
    values["lids"] = math.ceil(values["width_m"] / 2.4)
    values["over"] = draw(st.sampled_from(["plot", "bed"]))
    values["animals"] = values["animals"] or ("deer",)
    values["gate_walls"] = values["gate_walls"] or ("back",)
    return values


# --- lengths


@pytest.mark.outside("plan.pieces", source="second-method")
def test_every_piece_of_a_plain_pen_worked_apart():
    """2 m by 2 m by 1.5 m, one bay a side, on sleeves 0.6 m deep, a gate that fills the front.

    EMT 1-1/4 in is 38.354 mm outside, its clamp-on fittings stop 26 mm short (invented). Posts go from -600 mm to the
    top rail's axis at 1500 - 19.177, less 26; rails between axes 2000 - 38.354, less 52. The gate's axes stand
    38.354 + 10 mm inside those of the posts, so it is 1961.646 - 2 x 48.354 wide; its low rail stands at 38 + 10 +
    19.177 mm, its high one 38.354 + 10 mm under the top rail. The board under it goes 100 mm past both posts' insides.
    """
    stop = SHOP.fittings["tee-clamp-on-emt-1-1/4"].centre_to_stop_mm
    assert stop == 26
    plan = planned(
        **PEN, width_m=2.0, depth_m=2.0, height_m=1.5, bays=1, side_bays=1, mid_rails=0, gate_width_m=1.85, roof="no",
        buried_m=0.6, brace="none",
    )  # fmt: skip
    wide, tall = 1961.646 - 2 * 48.354, 1500 - 19.177 - 48.354 - (38 + 10 + 19.177)
    by_hand = [
        ("base board", 1961.646 - 38.354 + 200, 1),
        ("gate leaf", tall - 52, 2),
        ("gate leaf", wide - 52, 3),
    ]  # upright, and two rails and a bar
    by_hand += [("post", 600 + 1500 - 19.177 - 26, 4), ("rail", 1961.646 - 52, 7)]  # none low across the way in
    ours = sorted((r["role"], r["length_mm"]) for _, r in plan.pieces.iterrows() for _ in range(r["count"]))
    theirs = [(role, mm) for role, mm, count in by_hand for _ in range(count)]
    assert [role for role, _ in ours] == [role for role, _ in theirs]
    assert [mm for _, mm in ours] == as_worked([mm for _, mm in theirs], "mm", "pieces of a plain pen", abs=0.05)


def test_gates_hang_on_hinges_and_close_on_latches():
    """Each gate has its hinges and one latch; each lid two of each, or four latches where it lifts off."""
    for name, fields in Enclosure.examples.items():
        plan = planned(**fields)
        words = [fitted.fitting for fitted in plan.fitted]
        build = plan.build
        leaves = len(build.gate_walls) if build.gated else build.lids
        hinged = build.gated or build.lid == "hinged"
        assert words.count("hinge") == (build.hinges if build.gated else 2) * leaves * hinged, name
        assert words.count("latch") == (1 if build.gated else 2 if hinged else 4) * leaves, name


# --- faces


def _inside(point, corners):
    """Return whether a point of a plane lies in a convex outline, by the signs of cross products."""
    normal = np.cross(np.subtract(corners[1], corners[0]), np.subtract(corners[-1], corners[0]))
    turns = [
        np.dot(np.cross(np.subtract(b, a), np.subtract(point, a)), normal)
        for a, b in zip(corners, [*corners[1:], corners[0]])
    ]
    return min(turns) >= 0


def _corners(panel):
    return [piece.start for piece in panel.outline.pieces]


def _faces(laid):
    """Yield every face that has to be closed as (origin, one side, other side), walls by themselves."""
    low = 0.089 - laid.build.hole_m if laid.build.base == "sill holes" else laid.soil_m
    for wall in laid.walls.values():
        yield wall, np.array(wall.at(0, low)), np.array(wall.at(wall.length_m, low)), np.array([0, 0, laid.top_z - low])


@settings(max_examples=12, deadline=None)
@given(any_enclosure(), st.randoms(use_true_random=False))
def test_every_face_is_covered_once_and_only_once(values, rng):
    """At random points of every wall there is one panel, fixed or a gate, and never two; a gate leaves its gap."""
    try:
        laid = Laid(Enclosure(**values), SHOP)
        frame = laid.frame()
    except GardenframeError:
        assume(False)
    walls = [panel for panel in frame.panels if panel.side == "wall"]
    for wall, start, end, up in _faces(laid):
        way = next((way for way in laid.ways if way.wall.key == wall.key), None)
        for n in range(40):
            u, v = (0.001 + 0.998 * rng.random() for _ in "uv")  # off the corners, which two faces share
            if way is not None and n % 2:  # half of them round the edges of the way in
                u = min(max(rng.choice([way.left_m, way.right_m, way.left_m * 0.5 + way.right_m * 0.5])
                            / wall.length_m + 0.1 * (u - 0.5), 0.001), 0.999)  # fmt: skip
                edge = rng.choice([laid.header_z(way), laid.low_z]) - start[2]
                v = min(max(edge / up[2] + 0.1 * (v - 0.5), 0.001), 0.999)
            point = start + (end - start) * u + up * v
            covering = [
                p.key for p in walls if p.part == "frame" and _coplanar(p, point) and _inside(point, _corners(p))
            ]
            s, z = u * wall.length_m, point[2]
            header, foot = (
                (laid.header_z(way), laid.low_z if laid.build.size == "reach-in" else -9.0) if way else (0, 0)
            )
            in_way = way is not None and way.left_m < s < way.right_m and foot < z < header
            assert len(covering) == (0 if in_way else 1), (wall.key, s, z, covering)


def _coplanar(panel, point):
    a, b, *_, d = _corners(panel)
    normal = np.cross(np.subtract(b, a), np.subtract(d, a))
    return abs(np.dot(np.subtract(point, a), normal)) < 1e-9 * np.linalg.norm(normal) + 1e-9


@settings(max_examples=12, deadline=None)
@given(any_enclosure())
def test_areas_add_up_and_strips_reach_across(values):
    """Walls and ways in make the four sides, slopes the top; strips cover each panel once plus overlaps."""
    try:
        plan = gardenframe.plan(Enclosure(**values), SITE, SHOP, live=True)
        covered = plan.covered
    except GardenframeError:
        assume(False)
    build, laid = plan.build, Laid(plan.build, SHOP)
    low = 0.089 - build.hole_m if build.base == "sill holes" else laid.soil_m
    areas = {panel: one.area_m2 / len(one.panels) for one in covered for panel in one.panels}
    fixed = sum(areas[p.key] for p in plan.frame.panels
                if p.side == "wall" and p.part == "frame" and p.key.split()[-1] not in ("gable", "eave"))  # fmt: skip
    ways = sum((way.right_m - way.left_m) * (laid.header_z(way) - (laid.low_z if build.size == "reach-in" else low))
               for way in laid.ways)  # fmt: skip
    long, deep = laid.walls["front"].length_m, laid.walls["left"].length_m
    assert fixed + ways == pytest.approx(2 * (long + deep) * (laid.top_z - low), rel=1e-6)
    if build.gabled:
        slopes = [areas[f"{end} slope"] for end in ("front", "back")]
        assert sum(slopes) * math.cos(math.radians(build.pitch_deg)) == pytest.approx(long * deep, rel=1e-6)
        rise = math.tan(math.radians(build.pitch_deg)) * deep / 2
        assert areas["left gable"] == pytest.approx(deep * (0.12 + rise / 2), rel=1e-6)
    for one in covered:
        strip = one.strips.strips[0]
        sides = _sides([p for p in plan.frame.panels if p.key in one.panels])
        across = sides[0] if strip.across else sides[1]
        wrap, overlap = one.strips.wrap_m, one.strips.overlap_m
        assert len(one.strips.strips) == strips_needed(across + 2 * wrap, one.roll_width_m, overlap)
        reach = len(one.strips.strips) * one.roll_width_m - (len(one.strips.strips) - 1) * overlap
        assert reach >= across + 2 * wrap - 1e-6
        assert strip.length_m == pytest.approx((sides[1] if strip.across else sides[0]) + 2 * wrap)


def _sides(panels):
    """Return the longest first side and the sum of those across, from the corners alone."""
    first, other = [], []
    for panel in panels:
        corners = np.array(_corners(panel))
        along = (corners[1] - corners[0]) / np.linalg.norm(corners[1] - corners[0])
        flat = corners - corners[0]
        first.append(np.ptp(flat @ along))
        away = flat - np.outer(flat @ along, along)
        other.append(np.linalg.norm(away, axis=1).max())
    return max(first), sum(other)


def test_rolls_are_shared_and_never_too_few():
    """Strips of 6, 5, 4 and 3 m from 10 m rolls: 6 + 4 and 5 + 3; all the mesh that is laid was bought."""
    assert packed([[6.0], [5.0], [4.0, 3.0]], 10.0) == [1, 1, 0]
    for fields in Enclosure.examples.values():
        plan = planned(**fields)
        for key in {one.roll for one in plan.covered}:
            mine = [one for one in plan.covered if one.roll == key]
            bought = sum(one.rolls for one in mine) * load_rolls()[key].length_mm / 1000
            assert sum(one.strips.length_m for one in mine) <= bought + 1e-9


# --- gates


@settings(max_examples=15, deadline=None)
@given(any_enclosure())
def test_a_gate_opens_without_touching_anything(values):
    """Swinging outwards, every gate turns through its whole swing and meets neither tube nor bed; nor does a lid."""
    values |= {"swing": "out", "gate_walls": values["gate_walls"][:1]}
    try:
        build = Enclosure(**values)
        frame = Laid(build, SHOP).frame()
    except GardenframeError:
        assume(False)
    outer = {key: member.across_mm / 1000 for key, member in SHOP.members.items()}
    for part in frame.parts:
        if part.motion == "hinged":
            assert swings.clashes(frame, outer, part, to_deg=build.opened_deg) == []


def test_a_planted_tube_stops_the_gate_and_the_page_says_so():
    """A post driven 0.5 m in front of the latch post is met on the way; a bed inside is met by a gate that opens in."""
    build = Enclosure(**PEN)
    frame = Laid(build, SHOP).frame()
    part = next(part for part in frame.parts if part.key == "front gate")
    far = frame.joints["front gate latch side 1"]
    joints = [
        *frame.joints.values(),
        Joint("peg low", far.x_m - 0.3, -0.5, 0.0),
        Joint("peg high", far.x_m - 0.3, -0.5, 1.0),
    ]
    runs = [*frame.runs.values(), Run(key="peg", member="emt-1-1/4", path=("peg low", "peg high"))]
    planted = Frame.of(joints, runs, frame.supports, parts=frame.parts, panels=frame.panels)
    met = swings.first(swings.clashes(planted, {"emt-1-1/4": D}, part))
    assert met is not None
    assert met.other == "peg"
    inward = {"swing": "in", "over": "beds", "beds": 2, "bed_width_m": 1.2, "gate_width_m": 0.9}
    plan = planned(**PEN, **inward)
    row = next(row for row in plan.check_rows if row.check == "gate: swing")
    assert "meets bed" in row.where
    assert row.ratio > 1
    assert any("gate meets bed" in said for said in plan.warnings)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("swing", ["out", "in"])
def test_a_gate_turns_as_a_body_to_its_own_side(side, swing):
    """Distances between its joints stay; the far stile goes to the side chosen and the pins stay beside their post."""
    build = Enclosure(**PEN, hinge_side=side, swing=swing, gate_walls=("right",))
    shut, turned = Laid(build, SHOP).frame(), Laid(build, SHOP, {"right gate": 90.0}).frame()
    mine = [key for key in shut.joints if key.startswith(("right gate hinge side", "right gate latch side"))]
    for a in mine:
        for b in mine:
            lengths = [math.dist(f.joints[a].at, f.joints[b].at) for f in (shut, turned)]
            assert lengths[0] == pytest.approx(lengths[1], abs=1e-9)
    moved = turned.joints["right gate latch side 1"].x_m - shut.joints["right gate latch side 1"].x_m
    assert (moved > 0.5) if swing == "out" else (moved < -0.5)
    stile = shut.joints["right gate hinge side 1"]
    assert (stile.y_m < shut.joints["right gate latch side 1"].y_m) == (side == "left")


def test_a_diagonal_keeps_a_gate_from_sagging():
    """With the diagonal it sinks less than a third of what it does with bars alone, and its hinges pull the same."""
    rows = {}
    for brace in ("push", "none"):
        plan = planned(**PEN, brace=brace)
        rows[brace] = [row.demand for row in plan.check_rows if row.check == "gate: sag against its gap"]
        gate = enclosure_gate.gates_of(plan)[0]
        assert gate.apart_m < gate.tall_m
        assert gate.mass_kg == pytest.approx(gate.tube_m * SHOP.member("emt-1-1/4").mass_kg_per_m
                                             + gate.mesh_m2 * gate.mesh_kg_per_m2)  # fmt: skip
    assert rows["push"][1] < rows["none"][1] / 3
    assert rows["push"][0] < rows["push"][1]


def test_the_sag_of_a_leaf_with_loose_corners_is_that_of_its_diagonal():
    """Pinned at its fittings the leaf is a truss: the solver's sag lies near the diagonal's own, worked by hand."""
    plan = planned(**PEN)
    gate = enclosure_gate.gates_of(plan)[0]
    without, with_person = enclosure_gate.sags_m(plan, gate, 250.0)
    assert gate.brace_m is not None
    assert gate.brace_m[0] == pytest.approx(math.hypot(gate.width_m, gate.tall_m - 0.24), rel=1e-9)
    assert 0 < without < with_person < 0.005


# --- animals, mesh, what is flagged


def test_the_mesh_follows_from_the_animals():
    """The cheapest that none of them passes: by the opening of each mesh in the table, gnawers only metal."""
    known = load_coverings()
    for animals in (("rabbit",), ("deer",), ("vole", "rabbit"), ("bird",), ("rat", "bird"), ("butterfly",)):
        key = enclosure_keeps.mesh_for(animals, SHOP)
        wanted = enclosure_keeps.asked(animals)
        assert known[key].smallest_opening_mm <= wanted.opening.value_mm
        assert not wanted.gnaws or known[key].kind in ("welded_mesh", "poultry_net")
        price = enclosure_keeps.price_per_m2(key, SHOP.prices)
        for other, mesh in enclosure_keeps.meshes().items():
            serves = mesh.smallest_opening_mm <= wanted.opening.value_mm and not mesh.keeps_pollinators_out
            if serves and (not wanted.gnaws or mesh.kind in ("welded_mesh", "poultry_net")):
                assert price <= enclosure_keeps.price_per_m2(other, SHOP.prices)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"animals": ("deer",), "height_m": 1.0, "mid_rails": 0}, "high is too low for deer: 2.44 m"),
        ({"animals": ("gopher", "rabbit")}, "A fence does not stop pocket gophers"),
        ({"animals": ("rabbit",), "mesh": "welded-mesh-6x6-10ga"}, "can trap a small child's head"),
        ({"animals": ("rabbit",), "mesh": "deer-net-50"}, "lets rabbits through"),
        ({"animals": ("rabbit",), "mesh": "deer-net-50"}, "is not metal: rabbits gnaw"),
        ({"animals": ("bird",), "mesh": "bird-net-19"}, "catches birds, snakes and hedgehogs"),
        ({"animals": ("butterfly",), "mesh": "insect-net-1.3"}, "keeps bees out too"),
        ({"animals": ("squirrel",), "roof": "no"}, "Without a roof nothing keeps out squirrels"),
        ({"animals": ("woodchuck",), "top_out": "no"}, "climb: bend the top 0.30 m"),
        ({"animals": ("rabbit",), "skirt": "none"}, "dig: 0.15 m"),
        ({"animals": ("vole",), "gap_m": 0.010}, "The gap of 10 mm round the gate lets voles"),
        ({"animals": ("gopher",), "floor": True, "skirt": "none"}, "no skirt goes down to it: what digs passes"),
        ({"animals": ("rabbit",), "floor": True, "skirt": "buried", "skirt_m": 0.2}, "the skirt ends at 0.20 m"),
    ],
)
def test_what_does_not_keep_them_out_is_flagged(fields, said):
    """Flagged with its figure, and never refused."""
    plan = planned(**fields)
    assert any(said in one for one in plan.warnings), plan.warnings


def test_what_is_asked_for_is_built():
    """Skirt, top and roof follow from the table: a woodchuck's 305 mm down, 102 mm out and 305 mm of top bent out."""
    plan = planned(animals=("woodchuck",), tube="emt-1-1/4")
    keys = {panel.key for panel in plan.frame.panels}
    assert {"front skirt down", "front skirt out", "front top bent out"} <= keys
    assert "roof" not in keys
    down = next(one for one in plan.covered if one.panel == "left skirt")
    deep = walls_of(plan.build, D)["left"].length_m
    assert down.area_m2 == pytest.approx(deep * (0.305 + 0.102))
    assert not [said for said in plan.warnings if "woodchuck" in said]
    roofed = planned(animals=("bird",), tube="emt-1-1/4")
    assert "roof" in {panel.key for panel in roofed.frame.panels}


# what each of them digs or gnaws through, in mm, from the table of animals by hand
@pytest.mark.parametrize(
    ("animals", "most_mm"),
    [(("gopher",), 12.7), (("gopher", "vole"), 6.35), (("mole", "rabbit"), 6.35), (("rabbit", "cat"), 25.4)],
)
def test_a_mesh_floor_and_its_skirt_close_the_cage_below(animals, most_mm):
    """What digs finds no way between: the skirt ends at the floor, both of metal that passes none of those that dig."""
    plan = planned(animals=animals, floor=True)
    panels, known = {panel.key: panel for panel in plan.frame.panels}, load_coverings()
    floor = _corners(panels["mesh floor"])
    for wall in ("front", "right", "back", "left"):
        skirts = [panel for key, panel in panels.items() if key.startswith(f"{wall} skirt")]
        assert [panel.key for panel in skirts] == [f"{wall} skirt down"]  # an apron would stop nothing more
        assert min(corner[2] for corner in _corners(skirts[0])) == pytest.approx(floor[0][2])
    for key in ("mesh floor", "front skirt down"):
        assert known[panels[key].covering].smallest_opening_mm <= most_mm
        assert known[panels[key].covering].kind in ("welded_mesh", "poultry_net")
    assert not any("passes between" in said or " dig: " in said for said in plan.warnings)


def test_a_skirt_against_insects_is_of_their_net():
    """Flea beetles pass 0.8 mm and creep under: metal mesh, 3 mm at its finest, would let them in below the net."""
    known = load_coverings()
    frame = planned(animals=("flea-beetle",)).frame
    skirts = [known[panel.covering] for panel in frame.panels if "skirt" in panel.key]
    assert skirts
    assert all(mesh.smallest_opening_mm <= 0.8 for mesh in skirts)
    gnawed = planned(animals=("flea-beetle", "rabbit")).frame
    assert {known[panel.covering].kind for panel in gnawed.panels if "skirt" in panel.key} == {"welded_mesh"}


def test_a_floor_under_a_bed_needs_no_skirt():
    """The boards of the bed stand on it."""
    plan = planned(**{**Enclosure.examples["Salad bed with a hinged lid (plot 2, invented)"], "floor": True})
    assert not [panel.key for panel in plan.frame.panels if "skirt" in panel.key]
    assert not [said for said in plan.warnings if "dig" in said]


def test_the_page_says_animals_and_cases_in_words():
    """The chart names animals as the boxes do; combinations with open gates or a cloth out are said, not only keyed."""
    chart = enclosure_charts.mesh_chart(planned(animals=("rabbit", "fruit-fly", "squirrel"), width_m=1.5, bays=1))
    assert set(chart.names) == {"rabbits", "fruit flies", "squirrels"}
    plan = planned(live=False, width_m=2.0, depth_m=1.5, bays=1, side_bays=1, mid_rails=0)
    cases = [row.case for row in plan.check_rows if row.check.startswith("gates open")]
    assert cases
    assert all(case.startswith("a person on each open gate") and case.endswith(")") for case in cases)


def test_what_no_one_mesh_keeps_out_is_said_once():
    """Fruit flies want 1 mm, rabbits metal, and metal is 3 mm at its finest: two layers, and one sentence for both."""
    plan = planned(animals=("rabbit", "squirrel", "fruit-fly"))
    gnawed = [said for said in plan.warnings if "is not metal" in said]
    assert len(gnawed) == 1
    assert "inside a mesh of metal" in gnawed[0]
    assert enclosure_charts.mesh_chart(plan).title.endswith("no one mesh here keeps all of them out")
    assert "no one mesh" not in enclosure_charts.mesh_chart(planned(animals=("rabbit", "squirrel"))).title


def test_nothing_that_lets_animals_in_is_said_to_make_it_stronger():
    """A coarser mesh meets less wind, and no longer keeps out what was ticked."""
    assert not {"mesh", "roof_mesh", "animals", "gap_m"} & set(Enclosure.stronger)


# --- refused


@pytest.mark.parametrize(
    ("fields", "field", "said"),
    [
        ({"animals": ()}, "animals", r"Keep out: got none, needs at least one animal ticked"),
        ({"animals": ("unicorn",)}, "animals", r"Keep out: got 'unicorn', needs one of: rabbit"),
        ({"gate_walls": ()}, "gate_walls", r"Gates in: got none, needs at least one wall ticked"),
        ({"width_m": 1.5, "bays": 1, "gate_width_m": 1.6}, "gate_width_m",
         r"Gate width: got 1600 mm, needs at most 1\.42 m .* between the posts of the front wall"),
        ({"gate_width_m": 2.0}, "gate_width_m", r"of a bay of the front wall\. Make that wall longer"),
        ({"size": "low", "height_m": 2.0, "depth_m": 1.0}, "height_m", r"Height: .*0\.30 m .* with lids"),
        ({"size": "low", "height_m": 0.6, "depth_m": 2.0, "mid_rails": 0}, "depth_m", r"under a lid"),
        ({"bays": 1}, "bays", r"Bays along the front: got 1, needs at least 2 in that length"),
        ({"width_m": 2.0, "bays": 6}, "bays", r"Bays along the front: got 6, needs at most 4 in that length"),
        ({"mid_rails": 3, "height_m": 1.0}, "mid_rails", r"Rails between: got 3, needs at most"),
        ({"over": "beds", "beds": 5, "bed_width_m": 1.0}, "beds", r"Beds: got 5, needs at most 2 of that width"),
    ],
)  # fmt: skip
def test_what_cannot_be_built_is_one_sentence(fields, field, said):
    """By the field it belongs to."""
    with pytest.raises(FieldError, match=said) as refused:
        Enclosure(**fields)
    assert refused.value.field == field


def test_a_roll_narrower_than_the_overlap_is_one_sentence():
    """The strips say it, whatever the build."""
    from gardenframe.geometry.coverings import strips

    with pytest.raises(InputError, match=r"^roll width: got '200 mm', needs more than the overlap of 300 mm"):
        strips("front", (2.0, 1.0), 2.0, 0.2, 0.3, 0.0)


@settings(max_examples=12, deadline=None)
@given(any_enclosure(), st.booleans())
def test_every_choice_gives_a_plan_or_a_sentence(values, untouched):
    """All fields random: everything of a plan is read, or one sentence says what does not go together."""
    wild = {} if untouched else {"gate_place": "middle"}
    said = ""
    try:
        plan = gardenframe.plan(Enclosure(**values | wild), SITE, SHOP, live=True)
        for name in READ:
            getattr(plan, name)
        plan.worked("us")
    except GardenframeError as refused:
        said = str(refused)
    if said:
        assert said.rstrip().endswith((".", ")"))
        return
    assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)
    assert not plan.standing.anchors.unchecked or all("not checked" in said for said in plan.standing.anchors.unchecked)


def test_it_is_one_of_the_builds():
    """Under its stable key, and its examples are plans at rest with the gates open checked too."""
    assert ALL["enclosure"] is Enclosure
    plan = planned(live=False)
    checks = set(plan.checks["check"])
    assert any(check.startswith("gates open: ") for check in checks)
    assert {"gate: force on a hinge", "gate: sag against its gap", "gate: swing"} <= checks


def test_mesh_is_priced_by_the_table_there_is_now(monkeypatch):
    """A table read again may lie where the one before lay: its own prices count all the same."""
    monkeypatch.setattr(enclosure_charts, "id", lambda thing: 1, raising=False)
    build, heading = Enclosure(), "item,label,unit,pack,low,usual,high,currency,priced_on,source\n"
    rolls = [covered.roll for covered in gardenframe.plan(build, live=True).covered]
    found = []
    for usual in (30, 60):
        rows = [f"{roll},none,none,none,{usual},{usual},{usual},none,none,own\n" for roll in dict.fromkeys(rolls)]
        found.append(enclosure_charts.mesh_cost(build, Shop(prices=load_prices(heading + "".join(rows)))))
    assert found[1] > found[0]
