"""The frame solver against PyNiteFEA, an independent program, on random frames and on a hoop house."""

import numpy as np
import pytest
from frames_for_tests import hoop_house
from pynite_frames import answers, pynite, random_frame

from gardenframe.strength.cases import Case, LineLoad
from gardenframe.strength.stiffness import solve


def agree(ours, theirs):
    """Every movement and reaction to 1e-6 of the largest of its kind."""
    for a, b in zip(ours, theirs, strict=True):
        for kind in (slice(0, 3), slice(3, 6)):
            assert np.abs(a[..., kind] - b[..., kind]).max() <= 1e-6 * max(np.abs(b[..., kind]).max(), 1e-6)


def compare(seed):
    """Solve one random frame with both and compare."""
    frame, springs, cases = random_frame(seed)
    response = solve(frame, cases, springs=springs)
    model = pynite(frame, springs, cases)
    model.analyze_linear(check_stability=False)
    agree((response.joint_movements, response.support_forces), answers(model, frame, cases))


@pytest.mark.parametrize("seed", range(12))
def test_random_frames_agree_with_pynite(seed):
    """Posts, rails that pass, braces, pinned ends; line, part, sloping and point loads: to 1e-6."""
    compare(seed)


@pytest.mark.slow
def test_two_hundred_more_random_frames_agree_with_pynite():
    """The same on two hundred more."""
    for seed in range(1000, 1200):
        compare(seed)


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
    agree((response.joint_movements[:, reached], response.support_forces), (moved, given))
