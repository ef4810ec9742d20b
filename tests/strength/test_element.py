"""Matrices and loads of elements against the same sums written out one by one."""

import math

import numpy as np
import pytest
from frames_for_tests import hoop_house
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

from gardenframe.errors import FrameError
from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.materials.members import load_members
from gardenframe.strength.cases import Case, Combination, LineLoad, LineLoads, PointLoad
from gardenframe.strength.element import Steps, geometric, geometric_roots, leaned
from gardenframe.strength.loading import lay
from gardenframe.strength.stiffness import Model, respond

MEMBERS = load_members()


def braced():
    """Return a portal with a wire across it: tubes and a wire, upright, level and slanting."""
    places = {"A": (0, 0, 0), "B": (0, 0, 2.2), "C": (1.7, 0.3, 2.0), "D": (1.7, 0.3, 0)}
    runs = [("left", "emt-1", "AB"), ("top", "emt-3/4", "BC"), ("right", "emt-1", "DC"), ("stay", "wire-12.5", "AC")]
    return Frame.of(
        [Joint(key, *map(float, at)) for key, at in places.items()],
        [Run(key=key, member=member, path=tuple(path)) for key, member, path in runs],
        [Support(joint=key, base="foot", held="xyzXYZ") for key in "AD"],
    )


def test_the_roots_of_tension_are_its_matrix():
    """Squares of the six rows add up to the geometric stiffness of tubes and of wires."""
    for frame in (hoop_house(2), braced()):
        mesh = Model(frame, MEMBERS, fine=True).mesh
        roots = geometric_roots(mesh)
        assert np.swapaxes(roots, 1, 2) @ roots == pytest.approx(geometric(mesh), abs=1e-12)


@pytest.mark.outside("strength.element", source="second-method")
@settings(max_examples=30, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_levels_are_brackets_added_up(seed):
    """What places carry is the sum of size <x - at>^p / p! term by term, integrated n times (Macaulay)."""
    rng = np.random.default_rng(seed)
    mesh = Model(braced(), MEMBERS, fine=True).mesh
    many, cases = 25, 3
    case, element, power = (rng.integers(0, top, many) for top in (cases, mesh.elements, 3))
    at = rng.choice([0.0, 0.3, 0.7], many) * mesh.length_m[element]
    size = rng.normal(size=(many, 3))
    steps = Steps.gathered(mesh, case, element, at, power, size, cases)
    x = mesh.length_m[:, None] * np.array([0.0, 0.3, 0.55, 1.0])
    expected = np.zeros((4, cases, mesh.elements, 4, 3))
    for c, e, a, p, s in zip(case, element, at, power, size, strict=True):
        for n in range(4):
            for k, place in enumerate(x[e]):
                if place >= a:
                    expected[n, c, e, k] += s * (place - a) ** (p + n) / math.factorial(p + n)
    ours = steps.levels(x, 4)
    assert ours == as_worked(expected, "", "loads added up along an element, bracket by bracket", abs=1e-12, rel=1e-9)


def test_a_leaning_frame_turns_what_is_upright_sideways():
    """A load of 5 down and 2 sideways gives 5 along the lean, in the axes of each element."""
    mesh = Model(braced(), MEMBERS, fine=True).mesh
    load = np.einsum("eij,j->ei", mesh.axes, [2.0, 0.0, -5.0])
    for axis, along in ((0, [5.0, 0, 0]), (1, [0, 5.0, 0])):
        assert np.einsum("eij,ei->ej", mesh.axes, leaned(load, mesh, axis)) == pytest.approx(
            np.tile(along, (mesh.elements, 1)), abs=1e-12
        )


@pytest.mark.parametrize("order", ["amplified", "second"])
def test_combinations_side_by_side_are_what_each_is_alone(order):
    """Twelve at once, with a wire that pulls in some and hangs slack in others, and each by itself."""
    model = Model(braced(), MEMBERS, fine=True)
    cases = [
        Case(key="D", loads=(LineLoad(run="top", force_n_per_m=(0, 0, -150)),)),
        Case(key="W", loads=(PointLoad(run="left", station_m=1.5, force_n=(120, 30, 0)),)),
    ]
    shares = [(d, w) for d in (0.6, 1.0, 4.0) for w in (-1.0, -0.3, 0.4, 1.5)]
    combinations = [Combination(key=f"{d} {w}", factors={"D": d, "W": w}) for d, w in shares]
    every = respond(model, cases, combinations, order=order)
    assert {bool(loose) for loose in every.slack.values()} == {True, False}
    for number, combination in enumerate(combinations):
        alone = respond(model, cases, [combination], order=order)
        assert every.unknowns[number] == pytest.approx(alone.unknowns[0], rel=1e-9, abs=1e-12)
        assert every.ends[number] == pytest.approx(alone.ends[0], rel=1e-8, abs=1e-6)
        assert every.samples[number] == pytest.approx(alone.samples[0], rel=1e-8, abs=1e-6)
        assert every.slack[combination.key] == alone.slack[combination.key]


def test_loads_as_arrays_are_laid_as_their_records_are():
    """Slanting loads on three runs, as arrays and read one by one; one that is beyond its run is refused by name."""
    mesh = Model(braced(), MEMBERS, fine=True).mesh
    rng = np.random.default_rng(7)
    start, end = np.array([0.1, 0.0, 0.4]), np.array([0.9, 1.6, 1.9])
    forces = rng.normal(size=(2, 3, 3))
    many = LineLoads(("right", "left", "top"), np.array([1, 2, 0]), start, end, *forces)
    arrays, records = (lay(mesh, [Case(key="W", loads=loads)]) for loads in (many, tuple(many)))
    assert arrays.on_unknowns == pytest.approx(records.on_unknowns, abs=1e-12)
    assert arrays.total[0] == pytest.approx(many.whole_n)
    assert [load.run for load in many] == ["left", "top", "right"]
    beyond = LineLoads(many.runs, many.run, start, end + 1.0, *forces)
    with pytest.raises(FrameError, match=r"^case W: it loads run top at 0 to 2\.6 m, and the run is"):
        lay(mesh, [Case(key="W", loads=beyond)])
