"""Questions of a trellis: a rail, a post, sticks, how much room a stick leaves, what one stick more costs."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe.costs.cutting import plan_cuts
from gardenframe.geometry import lengths
from gardenframe.materials import members
from gardenframe.materials.fittings import load_fittings
from gardenframe.materials.prices import load_prices
from gardenframe.teaching.practice.numbers import Numbers, drawn_m, mark_m, on_tape_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip

TUBES = ("emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4")
STICK_M = 3.048


def _tube(rng: Random, system: str) -> Numbers:
    """Return a tube and the set-back of its clamp-on fitting, measured on the reader's tape."""
    key = rng.choice(TUBES)
    stop_m = load_fittings()[f"tee-clamp-on-{key}"].centre_to_stop_mm / 1000
    member = members.find(key)
    return {"tube": member.label, "outer_mm": member.outer_mm, "stop_mm": on_tape_m(stop_m, system) * 1000}


def _rail_numbers(rng: Random, system: str) -> Numbers:
    bays = rng.randint(2, 4)
    return {"width_m": drawn_m(rng, system, 0.7 * bays, 1.3 * bays, 0.01, 1), "bays": bays, **_tube(rng, system)}


def _rail(n: Numbers, width_off: float = 1.0, stops: int = 2) -> float:
    """Return a rail's length, or what it comes to with another diameter or number of set-backs. [m]"""
    bay = lengths.bay_mm(n["width_m"] * 1000, width_off * n["outer_mm"], n["bays"])
    ends = [n["stop_mm"] if end < stops else 0.0 for end in range(2)]
    return lengths.piece_length_mm(bay, ends[0], ends[1]) / 1000


def _rail_working(n: Numbers, system: str) -> Iterator[Shown]:
    bay = lengths.bay_mm.shown(n["width_m"] * 1000, n["outer_mm"], n["bays"], system=system)
    yield Shown("From the middle of one post to the middle of the next:")
    yield Shown(step=bay)
    yield Shown("A set-back at each end, then the nearest mark of the tape:")
    yield Shown(step=lengths.piece_length_mm.shown(bay.value, n["stop_mm"], n["stop_mm"], system=system))


FORGOT = "The set-back looks forgotten: the fitting stops the tube short of the joint."
RAIL = Question(
    key="rail",
    title="A rail",
    ask="Posts of {tube}, {outer_mm:exact} outside, stand with the outer faces of the end posts {width_m} apart, in "
    "{bays} equal bays. A clamp-on fitting stops a rail {stop_mm} short of the post's middle. How long is the rail "
    "between two neighbouring posts cut?",
    kind="length",
    draw=_rail_numbers,
    answer=_rail,
    slips=(
        Slip("set-back forgotten", lambda n: _rail(n, stops=0), FORGOT),
        Slip("set-back once", lambda n: _rail(n, stops=1),
             "The set-back looks taken off once: a rail has two ends, and stops short at both."),
        Slip("outside for centre", lambda n: _rail(n, 0.0),
             "The width looks taken from middle to middle: it is given over the outer faces of the end posts."),
        Slip("diameter for radius", lambda n: _rail(n, 2.0),
             "A whole diameter looks taken off at each end post: its middle is half a diameter inside its face."),
    ),
    hints=(
        "Start with the distance from the middle of one post to the middle of the next.",
        "From middle to middle of the end posts is {width_m} less {outer_mm:exact}; share that among {bays} bays.",
        "A rail has two ends: take {stop_mm} off twice.",
    ),
    working=_rail_working,
)  # fmt: skip


def _post_numbers(rng: Random, system: str) -> Numbers:
    height, bed = drawn_m(rng, system, 1.1, 2.3, 0.01, 1), drawn_m(rng, system, 0.18, 0.45, 0.01, 1)
    return {"height_m": height, "bed_m": bed, **_tube(rng, system)}


def _post(n: Numbers, bed: float = 1.0, radii: float = 1.0, stops: float = 1.0) -> float:
    """Return a post's length, or what it comes to with something left out. [m]"""
    apart = (n["height_m"] + bed * n["bed_m"]) * 1000
    return lengths.piece_length_mm(apart, radii * n["outer_mm"] / 2, stops * n["stop_mm"]) / 1000


def _post_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("From the ground to the top of the frame is the height above the soil and the depth of the bed. Off "
                "that come half the top rail's diameter (to its middle) and the set-back:")  # fmt: skip
    apart = (n["height_m"] + n["bed_m"]) * 1000
    yield Shown(step=lengths.piece_length_mm.shown(apart, n["outer_mm"] / 2, n["stop_mm"], system=system))


POST = Question(
    key="post",
    title="A post",
    ask="A trellis of {tube}, {outer_mm:exact} outside, is to reach {height_m} above the soil, over the top rail. Its "
    "posts stand on the ground, in a bed filled {bed_m} deep. At the top a clamp-on fitting stops the post {stop_mm} "
    "short of the top rail's middle. How long is a post cut?",
    kind="length",
    draw=_post_numbers,
    answer=_post,
    slips=(
        Slip("bed forgotten", lambda n: _post(n, bed=0), "The bed looks left out: the post stands below the soil."),
        Slip("set-back forgotten", lambda n: _post(n, stops=0), FORGOT),
        Slip("set-back twice", lambda n: _post(n, stops=2),
             "The set-back looks taken off twice: the foot of a post meets no fitting, it stands on the ground."),
        Slip("outside for centre", lambda n: _post(n, radii=0),
             "The height looks taken to the rail's middle: it is given over the top of the rail."),
        Slip("diameter for radius", lambda n: _post(n, radii=2),
             "A whole diameter looks taken off: the rail's middle is half a diameter below its top."),
    ),
    hints=(
        "Where does the post start, and where does it stop? Sketch both ends.",
        "Ground to top of the frame is {height_m} and {bed_m}.",
        "The rail's middle is half of {outer_mm:exact} below the top; the post stops {stop_mm} short of it.",
    ),
    working=_post_working,
)  # fmt: skip


def _sticks_numbers(rng: Random, system: str) -> Numbers:
    posts = rng.randint(3, 5)
    return {
        "posts": posts,
        "rails": rng.choice((2, 3)) * (posts - 1),
        "post_m": drawn_m(rng, system, 1.55, 2.4, 0.005, 0.25),
        "rail_m": drawn_m(rng, system, 0.7, 1.3, 0.005, 0.25),
        "stick_m": STICK_M,
        "kerf_mm": mark_m(system) * 1000,
        "mark_m": mark_m(system),
    }


def _sticks(n: Numbers) -> float:
    """Return the fewest sticks, by the package's own cutting plan, in marks of the tape."""
    pieces = [round(n[key] / n["mark_m"]) for key in ("post_m", "rail_m")]
    stick = math.floor(n["stick_m"] / n["mark_m"] + 1e-9)
    return float(plan_cuts(pieces, [int(n["posts"]), int(n["rails"])], stick, kerf=1).sticks)


def _total_mm(n: Numbers) -> float:
    return float(n["posts"] * n["post_m"] + n["rails"] * n["rail_m"]) * 1000


def _sticks_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("Were nothing lost, the total alone would ask for:")
    yield Shown(step=lengths.fewest_sticks.shown(_total_mm(n), n["stick_m"] * 1000, system=system))
    beside = (n["stick_m"] - n["post_m"]) / (n["rail_m"] + n["kerf_mm"] / 1000)
    alone = (n["stick_m"] + n["kerf_mm"] / 1000) / (n["rail_m"] + n["kerf_mm"] / 1000)
    yield Shown(f"But pieces are whole. Beside a post a stick holds {math.floor(beside + 1e-9)} rails, a stick of "
                f"rails alone {math.floor(alone + 1e-9)}; every post takes a stick of its own.")  # fmt: skip


STICKS = Question(
    key="sticks",
    title="Sticks",
    ask="{posts} posts of {post_m} and {rails} rails of {rail_m} are cut from sticks of {stick_m}. The saw takes "
    "{kerf_mm} a cut. How many sticks does it take?",
    kind="count",
    draw=_sticks_numbers,
    answer=_sticks,
    slips=(
        Slip("nothing lost", lambda n: lengths.fewest_sticks(_total_mm(n), n["stick_m"] * 1000),
             "That is enough in total, but not in whole pieces: what is left of two sticks makes no rail."),
        Slip("rounded down", lambda n: float(math.floor(_total_mm(n) / (n["stick_m"] * 1000))),
             "That looks like total over stick, rounded down: the last piece would be short. And pieces are whole."),
        Slip("a stick a piece", lambda n: float(n["posts"] + n["rails"]),
             "That is a stick for every piece: a rail may share a stick with a post, or with other rails."),
    ),
    hints=(
        "Two posts do not fit on one stick: how many sticks do the posts alone take?",
        "What is left of a stick beside a post, and how many rails fit into that, each with its cut?",
        "How many rails are left over, and how many of them does one more stick hold?",
    ),
    working=_sticks_working,
    counted=("stick", "sticks"),
)  # fmt: skip


def _room_numbers(rng: Random, system: str) -> Numbers:
    return {
        "post_m": drawn_m(rng, system, 1.2, 1.7, 0.001, 0.0625),
        "rail_m": drawn_m(rng, system, 0.45, 0.65, 0.001, 0.0625),
        "stick_m": STICK_M,
        "kerf_mm": rng.randint(1, 3) * mark_m(system) * 1000,
    }


def _room(n: Numbers, rails: int = 2, cuts: int = 2) -> float:
    """Return how much a post may grow, or what it comes to with other cuts. [m]"""
    return float(n["stick_m"] - n["post_m"] - rails * n["rail_m"] - cuts * n["kerf_mm"] / 1000)


def _room_working(n: Numbers, system: str) -> Iterator[Shown]:
    taken = (n["post_m"] + n["rail_m"]) * 1000 + n["kerf_mm"]
    yield Shown(
        "Three pieces are parted by two cuts. Beside the post, one rail and its cut, then the other and its cut:"
    )
    yield Shown(step=lengths.piece_length_mm.shown(n["stick_m"] * 1000, taken, n["rail_m"] * 1000 + n["kerf_mm"],
                                                   system=system))  # fmt: skip


ROOM = Question(
    key="room",
    title="Room on a stick",
    ask="From each stick of {stick_m} come one post of {post_m} and two rails of {rail_m}. The saw takes {kerf_mm} a "
    "cut. How much longer may the post become before the three no longer share a stick?",
    kind="length",
    draw=_room_numbers,
    answer=_room,
    slips=(
        Slip("kerf left out", lambda n: _room(n, cuts=0), "The saw looks forgotten: each cut takes {kerf_mm} too."),
        Slip("kerf once", lambda n: _room(n, cuts=1), "One cut looks forgotten: three pieces are parted by two."),
        Slip("kerf a piece", lambda n: _room(n, cuts=3),
             "That is one cut too many: when the stick is full to its end, three pieces are parted by two cuts."),
        Slip("one rail", lambda n: _room(n, rails=1), "One rail looks forgotten: two share the stick with the post."),
    ),
    hints=(
        "What is left of the stick when all three are cut?",
        "When the stick is full to its end, three pieces are parted by two cuts.",
    ),
    working=_room_working,
    rounded=False,
)  # fmt: skip


def _cost_numbers(rng: Random, system: str) -> Numbers:
    key = rng.choice(TUBES)
    price = load_prices().price(key).usual
    return {"tube": members.find(key).label, "stick_price": price, "tax_share": rng.randint(4, 24) / 200,
            "sticks": rng.randint(4, 9)}  # fmt: skip


def _cost(n: Numbers, sticks: float = 1.0) -> float:
    return float(sticks * n["stick_price"] * (1 + n["tax_share"]))


def _cost_working(n: Numbers, system: str) -> Iterator[Shown]:
    price, tax = n["stick_price"], n["tax_share"]
    yield Shown(f"One stick and the tax on it: {price:.2f} × (1 + {tax:g}) = {_cost(n):.2f}.")


COST = Question(
    key="cost",
    title="One stick more",
    ask="A plan takes {sticks} sticks of {tube} at {stick_price} each (an invented price), with {tax_share} tax on "
    "top. Made a little taller, it takes one stick more. What does that add to the bill?",
    kind="money",
    draw=_cost_numbers,
    answer=_cost,
    slips=(
        Slip("tax forgotten", lambda n: _cost(n) / (1 + n["tax_share"]), "The tax looks left out: it comes on top."),
        Slip("tax alone", lambda n: n["stick_price"] * n["tax_share"], "That is the tax alone: the stick costs too."),
        Slip("tax taken off", lambda n: n["stick_price"] * (1 - n["tax_share"]), "The tax looks taken off: it adds."),
        Slip("all sticks", lambda n: _cost(n, n["sticks"] + 1),
             "That is the whole bill for sticks: only one is added."),
    ),
    hints=("Only one stick is added.", "{tax_share} of {stick_price} comes on top of it."),
    working=_cost_working,
)  # fmt: skip

TRELLIS = (RAIL, POST, STICKS, ROOM, COST)
