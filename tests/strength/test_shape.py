"""Arrows and deflected shape: against the sums of the cases, and the joints' own movements."""

import numpy as np
import pytest

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.strength.shape import case_arrows, deflected, moments, round_scale


@pytest.fixture(scope="module")
def standing():
    """Return the default trellis on the default site."""
    return gardenframe.plan(Trellis()).standing


def test_arrows_add_up_to_the_combination(standing):
    """Sum of the arrows of each combination = factors times the sums of the cases in the table of loads."""
    sums = {row["case"]: np.array([row["x_n"], row["y_n"], row["z_n"]]) for row in standing.loads.rows}
    for combination in standing.loads.combinations:
        expected = sum(factor * sums[key] for key, factor in combination.factors.items())
        drawn = sum(np.array(vector) for _, vector, _ in case_arrows(standing, combination.key))
        assert drawn == pytest.approx(expected, abs=1e-6)


def test_an_arrow_stands_on_its_run(standing):
    """Each arrow of wind lies in the frame's own box and says its size."""
    ats = np.array([joint.at for joint in standing.frame.joints.values()])
    for place, vector, said in case_arrows(standing, "D + P + 0.6 W+y"):
        assert (ats.min(axis=0) - 1e-9 <= place).all()
        assert (np.array(place) <= ats.max(axis=0) + 1e-9).all()
        assert said == f"{np.linalg.norm(vector):.0f} N"


def test_shape_is_the_joints_movement_enlarged(standing):
    """At a run's first joint the shape is the joint's place and its movement times the scale."""
    response, case = standing.response, "D + P + L+x"
    shape, times = deflected(standing, case)
    number = response.cases.index(case)
    for key, run in standing.frame.runs.items():
        joint = run.path[0]
        moved = response.joint_movements[number, response.mesh.joint_index[joint], :3]
        offset = np.array(standing.frame.lines[key].point(0.0)) - standing.frame.joints[joint].at
        if np.linalg.norm(offset) < 1e-9:  # beside the joint a run also moves as the joint turns
            assert shape[key][0] == pytest.approx(np.array(standing.frame.joints[joint].at) + times * moved, abs=1e-6)


@pytest.mark.parametrize(("wanted", "given"), [(0.3, 1), (1.9, 1), (2.0, 2), (49.0, 20), (50.0, 50), (730.0, 500)])
def test_scale_is_round(wanted, given):
    """1, 2, 5 and their tens, never above what is wanted."""
    assert round_scale(wanted) == given


def test_moments_drawn_are_those_of_the_response(standing):
    """The largest is that of the run's own forces; each diagram starts and ends on its tube, and is in scale."""
    case = "D + P + 0.6 W+y"
    drawn, (largest, run) = moments(standing, case)
    number = standing.response.cases.index(case)
    peaks = {key: standing.response.along(key, 13).moment_n_m[number].max() for key in standing.frame.lines}
    assert (largest, run) == (pytest.approx(max(peaks.values())), max(peaks, key=peaks.get))
    aside = {}
    for key, line in standing.frame.lines.items():
        assert drawn[key][0] == line.point(0.0)
        assert drawn[key][-1] == line.point(line.length_m)
        along = np.array([line.point(line.length_m * i / 12) for i in range(13)])
        aside[key] = np.linalg.norm(np.array(drawn[key][1:-1]) - along, axis=1).max()
    assert aside["rail 1.1"] / aside[run] == pytest.approx(peaks["rail 1.1"] / largest, rel=1e-6)
