"""The frame of a plan solved by PyNiteFEA with its fittings as springs, on the moved frame (P-delta)."""

import math
from itertools import pairwise

import numpy as np
from Pynite import FEModel3D

from gardenframe.materials.members import load_members
from gardenframe.strength.joints import joint_springs

MEMBERS = load_members()
STUB_M = 1e-3  # a spring is a stub as soft in turning as the spring, stiff in the rest
LOAD_FACTOR, LEAN = 1.6, 0.002  # AISC 360 C2, as the plan's own second order has it (from memory)


def plan_model(plan, factors, lean=(0.0, 0.0), longest_m=0.15):
    """Return the model of straight runs that meet on their axes, solved under factors on the plan's cases.

    Vertical loads push sideways too, by LEAN along `lean`. Forces and movements come for LOAD_FACTOR times the loads.
    """
    frame, model = plan.frame, FEModel3D()
    springs = joint_springs(frame, plan.fitted)
    stations = {}
    for key, joint in frame.joints.items():
        model.add_node(key, *map(float, joint.at))
    for run in frame.runs.values():
        member = MEMBERS[run.member]
        if run.member not in model.sections:
            model.add_material(run.member, member.modulus_pa, member.shear_modulus_pa, 0.3, 0.0)
            i = member.second_moment_mm4 * 1e-12
            model.add_section(run.member, member.area_mm2 * 1e-6, i, i, member.torsion_mm4 * 1e-12)
        line = frame.lines[run.key]
        marks, stubs = {}, []
        for contact in frame.on[run.key]:
            marks[contact.station_m] = contact.joint
            assert math.hypot(*contact.offset) < 1e-9
            if _body(frame, contact.joint, springs) == run.key:
                continue
            assert not contact.passes
            own = f"{contact.joint}|{run.key}"
            first = contact.station_m < line.length_m / 2
            inside = contact.station_m + (STUB_M if first else -STUB_M)
            model.add_node(own, *line.point(inside))
            ends = (contact.joint, own) if first else (own, contact.joint)
            _stub(model, f"{own} stub", *ends, springs[contact.joint, run.key], member)
            stubs.append((*sorted((contact.station_m, inside)), f"{own} stub"))
            del marks[contact.station_m]
            marks[inside] = own
        ends = sorted(marks)
        for a, b in pairwise(ends):
            for n in range(1, parts := math.ceil((b - a) / longest_m)):
                at = a + (b - a) * n / parts
                marks[at] = f"{run.key}@{at:.6f}"
                model.add_node(marks[at], *line.point(at))
        stations[run.key] = stubs
        for a, b in pairwise(sorted(marks)):
            name = f"{run.key}|{a:.6f}"
            model.add_member(name, marks[a], marks[b], run.member, run.member)
            stations[run.key].append((a, b, name))
    for support in frame.supports:
        model.def_support(support.joint, *(letter in support.held for letter in "xyzXYZ"))
    for case in plan.standing.loads.cases:
        if case.key in factors:
            for load in case.loads:
                _put(model, frame, stations, load, LOAD_FACTOR * factors[case.key], lean)
    model.add_load_combo("all", {"all": 1.0})
    model.analyze_PDelta(check_stability=False)
    return model


def _body(frame, joint, springs):
    """Return the run that a joint moves with: the first that passes, else none."""
    if len(frame.contacts[joint]) == 1:
        return frame.contacts[joint][0].run
    return next((c.run for c in frame.contacts[joint] if c.passes), None)


def _stub(model, key, start, end, spring, member):
    name = f"stub {spring:g}"
    if name not in model.sections:
        soft = spring * STUB_M
        model.add_material(name, member.modulus_pa, member.shear_modulus_pa, 0.3, 0.0)
        i, j = soft / member.modulus_pa, soft / member.shear_modulus_pa
        model.add_section(name, member.area_mm2 * 1e-6, i, i, j)
    model.add_member(key, start, end, name, name)


def _put(model, frame, stations, load, factor, lean):
    start, end = np.array(load.force_n_per_m), np.array(load.to_n_per_m or load.force_n_per_m)
    start, end = (factor * (f + LEAN * max(-f[2], 0.0) * np.array([*lean, 0.0])) for f in (start, end))
    last = frame.lines[load.run].length_m if load.to_m is None else load.to_m
    for a, b, name in stations[load.run]:
        low, high = max(a, load.from_m), min(b, last)
        if high - low < 1e-9:
            continue
        shares = [(s - load.from_m) / (last - load.from_m) for s in (low, high)]
        w = [start + (end - start) * share for share in shares]
        for axis, number in zip("XYZ", range(3), strict=True):
            model.add_member_dist_load(name, f"F{axis}", w[0][number], w[1][number], low - a, high - a, "all")
