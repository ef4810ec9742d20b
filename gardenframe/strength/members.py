"""Members against their material's rules: every sample point of every element in every combination at once.

Steel by AISC 360 H1 (and H3 where torsion counts), plastic pipe by a straight line, timber by the NDS, wire by its
pull. What `capacities` gives for one bay is the hand check beside these arrays.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from gardenframe.kept import cached_property
from gardenframe.materials.members import Member
from gardenframe.strength import steel, timber
from gardenframe.strength.bays import Bays, place_in_words
from gardenframe.strength.capacities import PLASTIC, STEEL, TIMBER, WIRE, Capacity
from gardenframe.strength.carrying import Carrying
from gardenframe.strength.mesh import Floats, Ints, Mesh
from gardenframe.strength.response import SAMPLES, Response
from gardenframe.strength.rows import CheckRow, peak

LEAST_MARGIN = 0.01  # below a buckling stress, so that a ratio beyond it stays a number
FINE_SAMPLES = 3  # points of an element where runs are divided finely already: for sway and buckling
DUST = 1e-9  # of the largest force at a point, below which one is the arithmetic's own
SHARE = "share"  # unit of a demand that is a sum of shares


@dataclass(frozen=True)
class Strength:
    """How much of each member is used.

    Parameters
    ----------
    response : Response
        Second order or amplified, to the ASD combinations.
    members : mapping
        Members by key.
    forces : array (cases, elements, points, 6)
        As `response.FORCES`.
    factors : mapping
        Factors on cases of each combination.
    """

    response: Response
    members: Mapping[str, Member]
    forces: Floats
    factors: Mapping[str, Mapping[str, float]]
    temperature_degc: float | None = None

    @cached_property
    def durations(self) -> Floats:
        """Load duration factors of timber: (cases)."""
        return np.array([timber.duration_factor(self.factors.get(case, {})) for case in self.response.cases])

    @property
    def mesh(self) -> Mesh:
        """The elements."""
        return self.response.mesh

    @cached_property
    def carrying(self) -> Carrying:
        """What its elements can carry."""
        return Carrying.of(self.mesh, self.members, self.temperature_degc)

    @property
    def bays(self) -> Bays:
        """Stretches between braces."""
        return self.carrying.bays

    @property
    def member_of_run(self) -> list[Member]:
        """Member of each run."""
        return self.carrying.member_of_run

    @property
    def bay_capacities(self) -> list[Capacity]:
        """What each bay can carry."""
        return self.carrying.bay_capacities

    def _allowed(self, name: str) -> Floats:
        """Return one allowed force of each element, as (elements, 1)."""
        return self.carrying.allowed(name)

    @property
    def rules(self) -> dict[str, Ints]:
        """Elements by the rule that checks them."""
        return self.carrying.rules

    @cached_property
    def ratio(self) -> Floats:
        """Share used by axial force and bending (for wire, by pull): (cases, elements, points)."""
        ways: dict[str, Callable[[Floats, Ints], Floats]] = {
            STEEL: self._steel, PLASTIC: self._plastic, TIMBER: self._timber, WIRE: self._wire,
        }  # fmt: skip
        if len(self.rules) == 1:
            (rule, elements), = self.rules.items()  # fmt: skip
            return ways[rule](self.forces, elements)
        out = np.empty(self.forces.shape[:3])
        for rule, elements in self.rules.items():
            out[:, elements] = ways[rule](self.forces[:, elements], elements)
        return out

    def _axial(self, axial_n: Floats, elements: Ints) -> Floats:
        """Return the share used by push or pull."""
        pull, push = self._allowed("pull_n")[elements], self._allowed("push_n")[elements]
        return np.maximum(axial_n / pull, -axial_n / push)

    def _steel(self, forces: Floats, elements: Ints) -> Floats:
        axial = self._axial(forces[..., 0], elements)
        bent = np.sqrt(forces[..., 4] ** 2 + forces[..., 5] ** 2) / self._allowed("moment_n_m")[elements]
        used = interaction(axial, bent)
        twist = np.abs(forces[..., 3]) / self._allowed("torsion_n_m")[elements]
        if twist.max(initial=0.0) > steel.TORSION_SHARE:
            shear = np.hypot(forces[..., 1], forces[..., 2]) / self._allowed("shear_n")[elements]
            used = np.where(twist > steel.TORSION_SHARE, axial + bent + (shear + twist) ** 2, used)
        return np.asarray(used)

    def _plastic(self, forces: Floats, elements: Ints) -> Floats:
        bent = np.hypot(forces[..., 4], forces[..., 5]) / self._allowed("moment_n_m")[elements]
        return np.asarray(self._axial(forces[..., 0], elements) + bent)

    def _wire(self, forces: Floats, elements: Ints) -> Floats:
        return np.maximum(forces[..., 0], 0.0) / self._allowed("pull_n")[elements]

    def _timber(self, forces: Floats, elements: Ints) -> Floats:
        """Return the NDS share: bending with push, or with pull, whichever acts."""
        of, lasts = self.carrying.of_timber, self.durations[:, None, None]
        flat_e, side_e, beam_e = (of[f"buckling_{name}_mpa"] for name in ("flat", "side", "beam"))
        column = of["compression_mpa"] * lasts
        push_limit = column * timber.column_stability_ratio(np.minimum(flat_e, side_e) / column)  # type: ignore[arg-type]
        bending = of["bending_mpa"] * lasts
        beam = np.where(of["on_edge"] > 0, timber.beam_stability_ratio(beam_e / bending), 1.0)  # type: ignore[arg-type]
        axial = forces[..., 0] / of["area_mm2"]
        flat = np.abs(forces[..., 4]) * 1000 / of["section_modulus_mm3"]
        side = np.abs(forces[..., 5]) * 1000 / of["section_modulus_weak_mm3"]
        push = np.maximum(-axial, 0.0)
        first = flat / (bending * beam * np.maximum(1 - push / flat_e, LEAST_MARGIN))
        second = side / (bending * np.maximum(1 - push / side_e - (flat / beam_e) ** 2, LEAST_MARGIN))
        pushed = (push / push_limit) ** 2 + first + second
        pull = np.maximum(axial, 0.0) / (of["tension_mpa"] * lasts)
        pulled = pull + flat / (bending * beam) + side / bending
        return np.asarray(np.where(axial > 0, np.maximum(pulled, 0.0), pushed))

    @cached_property
    def shear_ratio(self) -> Floats:
        """Share used by shear at both ends of elements, where it is highest: (cases, elements, 2); 0 for wire."""
        ends = self.forces[:, :, :: self.forces.shape[2] - 1]
        return self._share(np.hypot(ends[..., 1], ends[..., 2]), "shear_n")

    @cached_property
    def twist_ratio(self) -> Floats:
        """Share used by torsion, the same all along an element: (cases, elements, 1); 0 for wire."""
        return self._share(np.abs(self.forces[:, :, :1, 3]), "torsion_n_m")

    def _share(self, force: Floats, name: str) -> Floats:
        allowed = self._allowed(name)
        return np.asarray(force / np.where(allowed > 0, allowed, np.inf))

    # -- rows --------------------------------------------------------------------------------------------------------

    def row(self, kind: str, elements: Ints | None = None) -> CheckRow:
        """Return the worst row of a kind (strength, shear, twist) among elements, all of them if not given."""
        values, peaks = self._ratios[kind], self._peaks[kind]
        element = peak(peaks) if elements is None else int(elements[peak(peaks[elements])])
        case, point = np.unravel_index(peak(values[:, element]), values[:, element].shape)
        share = int(point) / max(values.shape[2] - 1, 1)
        return self._row(kind, int(case), element, share, float(values[case, element, point]))

    @property
    def _ratios(self) -> dict[str, Floats]:
        return {"strength": self.ratio, "shear": self.shear_ratio, "twist": self.twist_ratio}

    @cached_property
    def _peaks(self) -> dict[str, Floats]:
        return {kind: values.max(axis=0).max(axis=1) for kind, values in self._ratios.items()}

    def _row(self, kind: str, case: int, element: int, share: float, ratio: float) -> CheckRow:
        mesh, number = self.mesh, int(self.mesh.run[element])
        run = mesh.frame.runs[mesh.runs[number]]
        station = float(mesh.from_m[element] * (1 - share) + mesh.to_m[element] * share)
        capacity = self.bay_capacities[int(self.bays.of_element[element])]
        names = ("axial_n", "shear_y_n", "shear_z_n", "torsion_n_m", "moment_y_n_m", "moment_z_n_m")
        there = self.forces[case, element, round(share * (self.forces.shape[2] - 1))]
        there = np.where(np.abs(there) > DUST * np.abs(there).max(), there, 0.0)
        forces = dict(zip(names, there.tolist(), strict=True))
        check, demand, limit, unit, source = self._words(kind, run.role, capacity, ratio)
        return CheckRow(
            check=check, case=self.response.cases[case], where=place_in_words(mesh.frame, run.key, station),
            demand=demand, capacity=limit, unit=unit, source=source, kind="wire" if capacity.rule == WIRE else kind,
            role=run.role, run=run.key, member=run.member, station_m=station, length_m=capacity.length_m, forces=forces,
        )  # fmt: skip

    def _words(
        self, kind: str, role: str, capacity: Capacity, ratio: float
    ) -> tuple[str, float, float, str, str]:  # fmt: skip
        """Return check, demand, capacity, unit and source of a row."""
        if capacity.rule == WIRE:
            return f"{role}: pull of wire", ratio * capacity.pull_n, capacity.pull_n, "N", capacity.source
        if kind == "strength":
            return f"{role}: bending and axial force", ratio, 1.0, SHARE, capacity.source
        steely = capacity.rule == STEEL
        other = {TIMBER: "nds-shear"}.get(capacity.rule, capacity.source)
        if kind == "shear":
            source = "aisc-360-g" if steely else other
            return f"{role}: shear", ratio * capacity.shear_n, capacity.shear_n, "N", source
        source = "aisc-360-h3" if steely else other
        return f"{role}: twist", ratio * capacity.torsion_n_m, capacity.torsion_n_m, "N m", source

    def rows(self) -> list[CheckRow]:
        """Return the worst of each role in bending and axial force, the worst shear, and twist where it counts."""
        found = [self.row("strength", elements) for elements in self.carrying.elements_by_role.values()]
        found.append(self.row("shear"))
        if self._peaks["twist"].max() > steel.TORSION_SHARE:
            found.append(self.row("twist"))
        return found

    def every_row(self) -> list[CheckRow]:
        """Return the worst of each run in bending and axial force, and in shear."""
        first = self.mesh.first
        spans = [np.arange(first[i], first[i + 1]) for i in range(len(self.mesh.runs))]
        tubes = [span for span, member in zip(spans, self.member_of_run, strict=True) if not member.tension_only]
        return [self.row("strength", span) for span in spans] + [self.row("shear", span) for span in tubes]

    @cached_property
    def by_run(self) -> Floats:
        """Highest share of each run in each case: (cases, runs)."""
        return np.asarray(np.maximum.reduceat(self.ratio.max(axis=2), self.mesh.first[:-1], axis=1))


def interaction(axial: Floats, bent: Floats) -> Floats:
    """Return AISC 360 H1-1 on arrays of shares: what `steel.interaction_ratio` gives one by one."""
    return np.where(axial >= 0.2, axial + 8 / 9 * bent, axial / 2 + bent)


def sampled(response: Response) -> tuple[Floats, Floats]:
    """Return forces (cases, elements, points, 6) and deflections (.., 3) in the axes of the frame. [N, N m, m]"""
    mesh = response.mesh
    share = np.linspace(0, 1, SAMPLES if response.order == "first" else FINE_SAMPLES)
    forces, shifts = response._sampled(np.arange(mesh.elements), mesh.length_m[:, None] * share)
    return forces, turned(shifts, mesh.axes)


def turned(vectors: Floats, axes: Floats) -> Floats:
    """Return vectors (cases, elements, points, 3) in the axes of elements as vectors in the axes of the frame."""
    cases, elements, points, _ = vectors.shape
    flat = np.ascontiguousarray(vectors.transpose(1, 0, 2, 3)).reshape(elements, cases * points, 3)
    return np.asarray((flat @ axes).reshape(elements, cases, points, 3).transpose(1, 0, 2, 3))


def strength(
    response: Response,
    members: Mapping[str, Member],
    factors: Mapping[str, Mapping[str, float]] | None = None,
    temperature_degc: float | None = None,
    forces: Floats | None = None,
) -> Strength:
    """Return how much of each member is used.

    Parameters
    ----------
    response : Response
        To the ASD combinations, second order or amplified.
    members : mapping
        Members by key, with a measured yield where there is one.
    factors : mapping, optional
        Factors on cases of each combination: timber's load duration follows from them; without, loads stay for ever.
    temperature_degc : float, optional
        Of plastic pipe; full summer sun if not given. [°C]
    """
    return Strength(
        response,
        members,
        response.samples if forces is None else forces,
        factors or {},
        temperature_degc,
    )
