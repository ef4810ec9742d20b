"""The frame solver against PyNiteFEA, an independent program, on random frames and on a hoop house."""

import numpy as np
import pytest
from frames_for_tests import hoop_house
from printed import as_worked
from pynite_frames import answers, pynite, random_frame

from gardenframe.strength.cases import Case, LineLoad
from gardenframe.strength.stiffness import solve

KINDS = (("movement of joints", "m", 0), ("turning of joints", "rad", 0))
KINDS += (("force of supports", "N", 1), ("moment of supports", "N m", 1))
FLOORS = ("strength.stiffness", "strength.mesh", "strength.element", "strength.loading", "strength.response")


def agree(ours, theirs, of):
    """Every movement and reaction to 1e-6 of the largest of its kind."""
    for number, (what, unit, which) in enumerate(KINDS):
        kind = slice(3 * (number % 2), 3 * (number % 2) + 3)
        a, b = ours[which][..., kind], theirs[which][..., kind]
        if not b.any():  # hinged feet give no moment
            assert np.abs(a).max() < 1e-9
            continue
        assert a == as_worked(b, unit, f"{what}, {of}", rel=0.0, abs=1e-6 * max(np.abs(b).max(), 1e-6))


def compare(seed, of="random frames"):
    """Solve one random frame with both and compare."""
    frame, springs, cases = random_frame(seed)
    response = solve(frame, cases, springs=springs)
    model = pynite(frame, springs, cases)
    model.analyze_linear(check_stability=False)
    agree((response.joint_movements, response.support_forces), answers(model, frame, cases), of)


@pytest.mark.outside(*FLOORS, source="PyNiteFEA")
def test_random_frames_agree_with_pynite():
    """Posts, rails that pass, braces, pinned ends; line, part, sloping and point loads: to 1e-6, twelve frames."""
    for seed in range(12):
        compare(seed)


@pytest.mark.slow
@pytest.mark.outside(*FLOORS, source="PyNiteFEA")
def test_two_hundred_more_random_frames_agree_with_pynite():
    """The same on two hundred more."""
    for seed in range(1000, 1200):
        compare(seed, "two hundred random frames")


@pytest.mark.outside(*FLOORS, source="PyNiteFEA")
def test_a_hoop_house_agrees_with_pynite():
    """Bent hoops as the same chords, purlins passing: movements and reactions to 1e-6."""
    frame = hoop_house(3)
    cases = [
        Case(key="side", loads=tuple(LineLoad(run=f"hoop {i}", force_n_per_m=(30, 10, -20)) for i in range(3))),
        Case(key="end", loads=(LineLoad(run="purlin 2", force_n_per_m=(0, 0, -100), from_m=0.3, to_m=1.7),)),
    ]
    response = solve(frame, cases)
    mesh = response.mesh
    cuts = {key: mesh.from_m[mesh.first[i] : mesh.first[i + 1]] for i, key in enumerate(mesh.runs)}
    model = pynite(frame, {}, cases, cuts)
    model.analyze_linear(check_stability=False)
    # corners of the hoops' paths are not on the tube
    reached = [i for i, key in enumerate(frame.joints) if frame.contacts[key]]
    frame_keys = [list(frame.joints)[i] for i in reached]
    moved = np.array(
        [
            [[getattr(model.nodes[k], d)[c.key] for d in ("DX", "DY", "DZ", "RX", "RY", "RZ")] for k in frame_keys]
            for c in cases
        ]
    )
    names = ("RxnFX", "RxnFY", "RxnFZ", "RxnMX", "RxnMY", "RxnMZ")
    given = np.array(
        [[[getattr(model.nodes[s.joint], k)[c.key] for k in names] for s in frame.supports] for c in cases]
    )
    agree((response.joint_movements[:, reached], response.support_forces), (moved, given), "hoop house of three hoops")
