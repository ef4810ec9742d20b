"""Time the frame solver against PyNiteFEA on a hoop house, and as frames grow. Run by hand: it prints, asserts nothing.

python tests/benchmarks/stiffness.py
"""

import copy
import statistics
import sys
import time
from itertools import pairwise
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from frames_for_tests import hoop_house
from pynite_frames import MEMBERS, pynite

from gardenframe.strength.cases import Case, LineLoad, self_weight
from gardenframe.strength.stiffness import Model, respond, solve
from gardenframe.strength.system import Pattern

PUSHES = [(30, 0, 0), (0, 30, 0), (0, 0, -60), (0, 0, 40), (20, 10, -30)]


def cases_of(frame, hoops):
    """Own weight and five pushes on every hoop: six cases."""
    cases = [self_weight(frame, {key: m.mass_kg_per_m for key, m in MEMBERS.items()})]
    for i, push in enumerate(PUSHES):
        loads = tuple(LineLoad(run=f"hoop {j}", force_n_per_m=push) for j in range(hoops))
        cases.append(Case(key=f"push {i}", loads=loads))
    return cases


def median_ms(what, times=9):
    """Middle and least time of the processor of several, after one to warm up: other work waits less in it. [ms]"""
    what()
    taken = []
    for _ in range(times):
        start = time.process_time()
        what()
        taken.append((time.process_time() - start) * 1e3)
    return statistics.median(taken), min(taken)


def house(hoops, purlins):
    """Return a hoop house with its contacts found, so that only the solver is timed."""
    frame = hoop_house(hoops, purlins=purlins)
    _ = frame.contacts, frame.lines
    return frame


def against_pynite():
    """First order on a hoop house of at least 226 elements, alike for both programs.

    Solved: the model is there; what is timed is its stiffness, the equations and the end forces. All in: the model made
    from the frame as well, and the largest moment of every member. PyNiteFEA's members are our elements.
    """
    frame, hoops = house(6, (30, 60, 90, 120, 150)), 6
    while solve(frame, cases_of(frame, hoops)).mesh.elements < 226:
        hoops += 1
        frame = house(hoops, (30, 60, 90, 120, 150))
    cases = cases_of(frame, hoops)
    bare = Model(frame, MEMBERS)
    mesh = bare.mesh
    cuts = {key: mesh.from_m[mesh.first[i] : mesh.first[i + 1]] for i, key in enumerate(mesh.runs)}
    print(f"{mesh.elements} elements, first order [ms of the processor, median and best]; 30 times wanted, under 20 ms")
    for few, label in ((cases[:1], "one case"), (cases, "six cases")):
        solved, best = median_ms(lambda few=few: respond(fresh(bare), few), 21)
        whole, least = median_ms(lambda few=few: solve(frame, few, members=MEMBERS).extremes(), 21)
        made, solving, read = theirs_ms(frame, few, cuts)
        print(f"{label}, solved: PyNiteFEA {solving:.0f}, ours {solved:.1f} ({best:.1f}): {solving / solved:.0f} times")
        print(f"{label}, all in: PyNiteFEA {made + solving + read:.0f}, ours {whole:.1f} ({least:.1f}):", end=" ")
        print(f"{(made + solving + read) / whole:.0f} times")


def fresh(model):
    """Return a model with its elements and nothing worked out of them."""
    new = copy.copy(model)
    new.__dict__ = {"mesh": model.mesh, "pattern": Pattern(model.mesh)}
    return new


def theirs_ms(frame, cases, cuts, times=3):
    """Middle times of PyNiteFEA to make a model, solve it and read the largest moments. [ms]"""
    taken = []
    for _ in range(times):
        marks = [time.process_time()]
        model = pynite(frame, {}, cases, cuts)
        marks.append(time.process_time())
        model.analyze_linear(check_stability=False)
        marks.append(time.process_time())
        for case in cases:
            for member in model.members.values():
                for axis in ("My", "Mz"):
                    member.max_moment(axis, case.key), member.min_moment(axis, case.key)
        marks.append(time.process_time())
        taken.append([(b - a) * 1e3 for a, b in pairwise(marks)])
    return [statistics.median(part) for part in zip(*taken, strict=True)]


def growth():
    """Times of each order as the frame grows."""
    print("wanted: six cases second order at 600 elements in under 400 ms")
    print("elements  model  first  extremes  amplified  second  buckling  [ms, median of a few]")
    for hoops in (3, 6, 16, 40, 70, 140):
        frame = house(hoops, (30, 60, 90, 120, 150))
        cases, few = cases_of(frame, hoops), 3 if hoops > 20 else 7
        model = Model(frame, MEMBERS)
        row = [
            median_ms(lambda f=frame: Model(f, MEMBERS), few)[0],
            median_ms(lambda f=frame, c=cases: solve(f, c, members=MEMBERS), few)[0],
            median_ms(lambda m=model, c=cases: respond(m, c).extremes(), few)[0],
            median_ms(lambda f=frame, c=cases: solve(f, c, members=MEMBERS, order="amplified"), few)[0],
            median_ms(lambda f=frame, c=cases: solve(f, c, members=MEMBERS, order="second"), few)[0],
            median_ms(lambda m=model, c=cases: respond(m, c).buckling_factor, few)[0],
        ]
        print(f"{model.mesh.elements:8d}", *(f"{value:8.1f}" for value in row))


if __name__ == "__main__":
    against_pynite()
    growth()
