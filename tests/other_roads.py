"""Other roads to the same number, for outside checks: beams and portals by PyNiteFEA, posts and sections by SciPy."""

import math
from itertools import pairwise

import numpy as np
from Pynite import FEModel3D
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

STEEL_PA = 200e9
HELD = {"free": (), "pinned": ("DX", "DY"), "fixed": ("DX", "DY", "RZ")}
IN_PLANE = ("DZ", "RX", "RY")


class Flat:
    """A frame in one plane, solved by PyNiteFEA: joints by name, bars that hardly stretch, loads in one case.

    Parameters
    ----------
    joints : mapping
        Name to (x, y). [m]
    bars : mapping
        Name to (joint, joint, bending stiffness [N m²]).
    held : mapping
        Joint to free, pinned or fixed.
    """

    def __init__(self, joints, bars, held):
        self.model = FEModel3D()
        self.model.add_material("any", STEEL_PA, 77e9, 0.3, 0.0)
        for name, (x, y) in joints.items():
            self.model.add_node(name, x, y, 0.0)
            stopped = (*HELD[held.get(name, "free")], *IN_PLANE)
            self.model.def_support(name, *(way in stopped for way in ("DX", "DY", "DZ", "RX", "RY", "RZ")))
        for name, (start, end, stiff_n_m2) in bars.items():
            second_m4 = stiff_n_m2 / STEEL_PA
            self.model.add_section(name, second_m4 * 1e6, second_m4, second_m4, second_m4)
            self.model.add_member(name, start, end, "any", name)

    def line(self, bar, n_per_m):
        """Press down on a whole bar, evenly."""
        self.model.add_member_dist_load(bar, "FY", -n_per_m, -n_per_m)
        return self

    def point(self, bar, station_m, force_n):
        """Press down on one point of a bar."""
        self.model.add_member_pt_load(bar, "FY", -force_n, station_m)
        return self

    def push(self, joint, along_n):
        """Push a joint along x."""
        self.model.add_node_load(joint, "FX", along_n)
        return self

    def solved(self):
        """Return itself with its answers."""
        self.model.analyze_linear(check_stability=False)
        return self

    def moment_n_m(self, bar, station_m):
        """Return the size of the moment at a point."""
        return abs(self.model.members[bar].moment("Mz", station_m, "Combo 1"))

    def largest_n_m(self, bar, from_ratio=0.0, to_ratio=1.0):
        """Return the largest moment within a part of a bar, by a fine search."""
        span = self.model.members[bar].L()
        return max(self.moment_n_m(bar, span * share) for share in np.linspace(from_ratio, to_ratio, 401))

    def sag_m(self, bar, station_m):
        """Return how far a point of a bar goes down."""
        return -self.model.members[bar].deflection("dy", station_m, "Combo 1")

    def pushed_up_n(self, joint):
        """Return what a support pushes up."""
        return self.model.nodes[joint].RxnFY["Combo 1"]

    def pushed_along_n(self, joint):
        """Return what a support pushes along x."""
        return self.model.nodes[joint].RxnFX["Combo 1"]

    def moved_m(self, joint):
        """Return how far a joint moves along x."""
        return self.model.nodes[joint].DX["Combo 1"]


def span(held, stiff_n_m2, spans_m, n_per_m=0.0, points=()):
    """Return a solved beam of PyNiteFEA: supports A, B, C, ... and bars AB, BC, ...; `points` on its first bar."""
    names = [chr(ord("A") + i) for i in range(len(held))]
    places = np.concatenate(([0.0], np.cumsum(spans_m)))
    bars = {a + b: (a, b, stiff_n_m2) for a, b in pairwise(names)}
    flat = Flat({n: (float(x), 0.0) for n, x in zip(names, places, strict=True)}, bars, dict(zip(names, held)))
    for bar in bars if n_per_m else ():
        flat.line(bar, n_per_m)
    for station_m, force_n in points:
        flat.point("AB", station_m, force_n)
    return flat.solved()


def buckling_load(stiff, length):
    """Return the push at which a straight bar on hinges bows out: the first that lets its bow end on the axis."""

    def far_end(push):
        bow = solve_ivp(lambda _, y: (y[1], -push * y[0] / stiff), (0, length), (0.0, 1.0), rtol=1e-10, atol=1e-12)
        return bow.y[0, -1] / length

    first = stiff / length**2
    pushes = first * np.arange(1.0, 41.0)
    after = next(push for push in pushes if far_end(push) < 0)
    return brentq(far_end, after - first, after, xtol=1e-9 * first)


def over_round(what, outer, inner=0.0):
    """Return an integral of what(y) over a round section, y its distance from a diameter."""

    def disc(radius):
        return quad(lambda y: what(y) * 2 * math.sqrt(max(radius**2 - y**2, 0.0)), -radius, radius, points=[0.0])[0]

    return disc(outer / 2) - (disc(inner / 2) if inner else 0.0)
