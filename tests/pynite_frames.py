"""Random frames solved by PyNiteFEA, an independent program, node by node as a reader would enter them."""

import random
from itertools import pairwise

import numpy as np
from Pynite import FEModel3D

from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.materials.members import load_members
from gardenframe.strength.cases import Case, JointLoad, LineLoad, PointLoad

MEMBERS = load_members()
SIZES = ("emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4")
AXES = ("X", "Y", "Z")


def random_frame(seed):
    """Return a frame of bays with posts, rails that pass through, braces, some pinned ends, and two random cases."""
    draw = random.Random(seed)  # noqa: S311 - a seed, not a secret
    bays_x, bays_y, levels = draw.randint(1, 3), draw.randint(0, 1), draw.randint(1, 2)
    xs = np.cumsum([0] + [draw.uniform(0.5, 2.5) for _ in range(bays_x)])
    ys = np.cumsum([0] + [draw.uniform(0.5, 2.5) for _ in range(bays_y)])
    zs = np.cumsum([0] + [draw.uniform(0.4, 1.5) for _ in range(levels)])
    lean_x, lean_y = draw.uniform(-0.2, 0.2), draw.uniform(-0.2, 0.2)
    at, name = [], {}
    for i, x in enumerate(xs):
        for j, y in enumerate(ys):
            for k, z in enumerate(zs):
                name[i, j, k] = f"{i}{j}{k}"
                at.append(Joint(f"{i}{j}{k}", float(x + lean_x * z), float(y + lean_y * z), float(z)))
    runs = []

    def run(key, path, role="rail"):
        runs.append(Run(key=key, member=draw.choice(SIZES), path=tuple(path), role=role))

    for i in range(len(xs)):
        for j in range(len(ys)):
            run(f"post {i}{j}", (name[i, j, k] for k in range(len(zs))), "post")
    for k in range(1, len(zs)):
        for j in range(len(ys)):
            run(f"rail {j}{k}", (name[i, j, k] for i in range(len(xs))))
        if len(ys) > 1:
            for i in range(len(xs)):
                run(f"cross {i}{k}", (name[i, j, k] for j in range(len(ys))))
    if draw.random() < 0.6:
        run("brace", (name[0, 0, 0], name[1, 0, len(zs) - 1]), "brace")
    held = "xyzXYZ" if len(ys) == 1 else draw.choice(["xyz", "xyzXYZ", "xyzZ"])
    supports = [Support(joint=name[i, j, 0], base="foot", held=held) for i in range(len(xs)) for j in range(len(ys))]
    frame = Frame.of(at, runs, supports)
    springs = {}
    for r in runs:
        if r.role != "post" and draw.random() < 0.3:
            springs[r.path[0], r.key] = 0.0
    return frame, springs, [Case(key=k, loads=_loads(frame, draw)) for k in ("a", "b")]


def _loads(frame, draw):
    loads = []
    for key in draw.sample(sorted(frame.runs), min(3, len(frame.runs))):
        long = frame.lines[key].length_m
        a, b = sorted(draw.uniform(0, long) for _ in range(2))
        f, g = ([draw.uniform(-80, 80) for _ in range(3)] for _ in range(2))
        loads.append(LineLoad(run=key, force_n_per_m=tuple(f), to_n_per_m=tuple(g), from_m=a, to_m=b))
        loads.append(LineLoad(run=key, force_n_per_m=(0.0, 0.0, -7.0)))
        loads.append(PointLoad(run=key, station_m=draw.uniform(0, long), force_n=tuple(f)))
    joint = draw.choice(sorted(frame.joints))
    loads.append(JointLoad(joint=joint, force_n=(30.0, -20.0, 10.0), moment_n_m=(3.0, 5.0, -4.0)))
    return tuple(loads)


def pynite(frame, springs, cases, points_on=None):
    """Return the model of PyNiteFEA of a frame of straight runs, with its cases; `points_on` divides runs for it.

    Parameters
    ----------
    points_on : mapping, optional
        For a bent run, the stations that part it into straight members.
    """
    model = FEModel3D()
    stations, members = {}, {}
    for joint in frame.joints.values():
        if frame.contacts[joint.key]:
            model.add_node(joint.key, *map(float, joint.at))
    for run in frame.runs.values():
        member = MEMBERS[run.member]
        if run.member not in model.sections:
            model.add_material(run.member, member.modulus_pa, member.shear_modulus_pa, 0.3, 7850.0)
            i = member.second_moment_mm4 * 1e-12
            model.add_section(run.member, member.area_mm2 * 1e-6, i, i, member.torsion_mm4 * 1e-12)
        marks = {c.station_m: c.joint for c in frame.on[run.key]}
        for station in (points_on or {}).get(run.key, ()):
            if all(abs(station - s) > 1e-6 for s in marks):
                marks[station] = f"{run.key}@{station:.6f}"
                model.add_node(marks[station], *frame.lines[run.key].point(station))
        ordered = sorted(marks)
        for a, b in pairwise(ordered):
            key = f"{run.key}|{a:.6f}"
            model.add_member(key, marks[a], marks[b], run.member, run.member)
            stations.setdefault(run.key, []).append((a, b, key))
            members[key] = run.key
        first, last = stations[run.key][0][2], stations[run.key][-1][2]
        i, j = (springs.get((run.path[e], run.key)) == 0.0 for e in (0, -1))
        if i or j:
            if first == last:
                model.def_releases(first, Ryi=i, Rzi=i, Ryj=j, Rzj=j)
            else:
                model.def_releases(first, Ryi=i, Rzi=i)
                model.def_releases(last, Ryj=j, Rzj=j)
    for support in frame.supports:
        model.def_support(support.joint, *(letter in support.held for letter in "xyzXYZ"))
    for case in cases:
        for load in case.loads:
            _put(model, stations, load, case.key)
        model.add_load_combo(case.key, {case.key: 1.0})
    return model


def _put(model, stations, load, case):
    if isinstance(load, JointLoad):
        for axis, force, moment in zip(AXES, load.force_n, load.moment_n_m, strict=True):
            model.add_node_load(load.joint, f"F{axis}", force, case)
            model.add_node_load(load.joint, f"M{axis}", moment, case)
        return
    for a, b, key in stations[load.run]:
        long = model.members[key].L()
        scale = long / (b - a)
        if isinstance(load, PointLoad):
            last = b == stations[load.run][-1][1]
            if a <= load.station_m < b or (last and load.station_m >= b):
                for axis, force in zip(AXES, load.force_n, strict=True):
                    model.add_member_pt_load(key, f"F{axis}", force, (load.station_m - a) * scale, case)
            continue
        end = stations[load.run][-1][1] if load.to_m is None else load.to_m
        low, high = max(a, load.from_m), min(b, end)
        if high - low < 1e-9:
            continue
        to = load.force_n_per_m if load.to_n_per_m is None else load.to_n_per_m
        for axis, f, g in zip(AXES, load.force_n_per_m, to, strict=True):
            slope = (g - f) / (end - load.from_m)
            w = [(f + slope * (s - load.from_m)) / scale for s in (low, high)]
            model.add_member_dist_load(key, f"F{axis}", *w, (low - a) * scale, (high - a) * scale, case)


def answers(model, frame, cases):
    """Return movements (cases, joints, 6) and support forces (cases, supports, 6) of a solved PyNiteFEA model."""
    nodes = [model.nodes[key] for key in frame.joints]
    moved = [[[getattr(n, k)[c.key] for k in ("DX", "DY", "DZ", "RX", "RY", "RZ")] for n in nodes] for c in cases]
    names = ("RxnFX", "RxnFY", "RxnFZ", "RxnMX", "RxnMY", "RxnMZ")
    given = [[[getattr(model.nodes[s.joint], k)[c.key] for k in names] for s in frame.supports] for c in cases]
    return np.array(moved), np.array(given)


__all__ = ["answers", "pynite", "random_frame"]
