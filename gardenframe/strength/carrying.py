"""What every element of a frame can carry, by the bay that it lies in: worked out once, whatever loads come after."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from gardenframe.kept import cached_property
from gardenframe.materials.members import Member
from gardenframe.strength import timber
from gardenframe.strength.bays import Bays, between_braces
from gardenframe.strength.capacities import RULES, SOURCES, TIMBER, Capacity, capacities
from gardenframe.strength.mesh import Floats, Ints, Mesh


@dataclass(frozen=True)
class Carrying:
    """What the elements of a mesh can carry, of these members at this temperature of plastic pipe [°C]."""

    mesh: Mesh
    members: Mapping[str, Member]
    temperature_degc: float | None = None
    _allowed: dict[str, Floats] = field(default_factory=dict, repr=False, compare=False)  # filled when asked for

    @classmethod
    def of(cls, mesh: Mesh, members: Mapping[str, Member], temperature_degc: float | None = None) -> "Carrying":
        """Return what a mesh can carry: the same as before for the same members and temperature."""
        used = tuple(members[key] for key in dict.fromkeys(run.member for run in mesh.frame.runs.values()))
        return mesh.once(("carrying", used, temperature_degc), lambda: cls(mesh, members, temperature_degc))

    @cached_property
    def bays(self) -> Bays:
        """Stretches between braces."""
        return between_braces(self.mesh, self.members)

    @cached_property
    def member_of_run(self) -> list[Member]:
        """Member of each run."""
        runs = self.mesh.frame.runs
        return [self.members[runs[key].member] for key in self.mesh.runs]

    @cached_property
    def bay_capacities(self) -> list[Capacity]:
        """What each bay can carry."""
        found: dict[tuple[str, float], Capacity] = {}
        out = []
        for run, length in zip(self.bays.run.tolist(), self.bays.length_m.round(6).tolist(), strict=True):
            member = self.member_of_run[run]
            key = (member.key, length)
            if key not in found:
                found[key] = capacities(member, length, self.temperature_degc)
            out.append(found[key])
        return out

    def allowed(self, name: str) -> Floats:
        """Return one allowed force of each element, as (elements, 1)."""
        if name not in self._allowed:
            values = np.array([getattr(capacity, name) for capacity in self.bay_capacities])
            self._allowed[name] = values[self.bays.of_element][:, None]
        return self._allowed[name]

    @cached_property
    def rules(self) -> dict[str, Ints]:
        """Elements by the rule that checks them."""
        names = [RULES[member.family] for member in self.member_of_run]
        of = np.array([list(SOURCES).index(name) for name in names])[self.mesh.run]
        return {name: np.flatnonzero(of == i) for i, name in enumerate(SOURCES) if (of == i).any()}

    @cached_property
    def elements_by_role(self) -> dict[str, Ints]:
        """Elements of each role, wires apart from the rest."""
        runs = self.mesh.frame.runs
        names = [
            f"{runs[key].role}, wire" if member.tension_only else runs[key].role
            for key, member in zip(self.mesh.runs, self.member_of_run, strict=True)
        ]
        order = {name: i for i, name in enumerate(dict.fromkeys(names))}
        of = np.array([order[name] for name in names])[self.mesh.run]
        return {name: np.flatnonzero(of == i) for name, i in order.items()}

    @cached_property
    def of_timber(self) -> dict[str, Floats]:
        """What the rules of timber ask of each of its elements, each (1, elements, 1): stresses [MPa], sizes [mm]."""
        elements = self.rules[TIMBER]
        of = [self.member_of_run[run] for run in self.mesh.run[elements].tolist()]
        stresses = {member.key: timber.adjusted(member) for member in of}
        parts = [self.bay_capacities[bay].parts for bay in self.bays.of_element[elements].tolist()]
        columns: dict[str, list[float]] = {name: [part[name] for part in parts] for name in parts[0]}
        for name in ("compression_mpa", "bending_mpa", "tension_mpa"):
            columns[name] = [getattr(stresses[member.key], name) for member in of]
        for name in ("area_mm2", "section_modulus_mm3", "section_modulus_weak_mm3"):
            columns[name] = [getattr(member, name) for member in of]
        columns["on_edge"] = [float(member.across_mm > member.outer_mm) for member in of]
        return {name: np.array(values)[None, :, None] for name, values in columns.items()}
