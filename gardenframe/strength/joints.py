"""What a fitting has to hold: a tube that pulls out or slides, a tube that bends at it; couplings likewise.

What a fitting holds is its row's word: ours are invented, so ask the maker or test one. A push at a tube's end bears
on the stop of its socket; a pull, and what slides along a tube that passes, is held by the grip.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gardenframe.geometry.arcs import TOUCH_M
from gardenframe.geometry.fittings import Fitted
from gardenframe.geometry.frame import Contact, Frame
from gardenframe.kept import cached_property
from gardenframe.strength.bays import APART_M
from gardenframe.strength.members import turned
from gardenframe.strength.mesh import Floats, Ints, Mesh
from gardenframe.strength.response import Response
from gardenframe.strength.rows import CheckRow, peak

LATCH_N_M_PER_RAD = 1.0  # a latch, a rest or a swivel holds in place and hardly stops turning
END, THROUGH, COUPLED, BOLTED = "end", "through", "coupled", "bolted"
KINDS = {
    "slip": ("joint: tube slides in its fitting", "N"),
    "joint moment": ("joint: bending at a fitting", "N m"),
    "coupling pull": ("coupling: pull", "N"),
    "coupling moment": ("coupling: bending", "N m"),
}


@dataclass(frozen=True, slots=True)
class Held:
    """One run at one fitting."""

    fitted: Fitted
    contact: Contact
    way: str  # end, through, coupled, bolted

    @property
    def kinds(self) -> tuple[str, str]:
        """The two checks of it."""
        return ("coupling pull", "coupling moment") if self.way == COUPLED else ("slip", "joint moment")


def held_runs(frame: Frame, fitted: Sequence[Fitted]) -> list[Held]:
    """Return every run at every fitting that has a row."""
    out = []
    for one in fitted:
        if one.row is None:
            continue
        for contact in frame.contacts[one.joint]:
            if one.row.fitting == "coupling" and contact.passes:
                way = COUPLED
            elif one.row.fitting == "through_bolt":
                way = BOLTED
            else:
                way = THROUGH if contact.passes else END
            out.append(Held(one, contact, way))
    return out


def joint_springs(frame: Frame, fitted: Sequence[Fitted]) -> dict[tuple[str, str], float]:
    """Return the turning stiffness of each run that a fitting joins, by (joint, run), as its row says. [N m/rad]

    The solver takes one run that passes as the body of the joint; the others turn against it. A row with none is a
    swivel: it holds a tube against twist no more than against bending, and the solver's pin would keep the twist.
    """
    latches = {
        (f.joint, c.run): LATCH_N_M_PER_RAD for f in fitted if f.fitting == "latch" for c in frame.contacts[f.joint]
    }
    return latches | {
        (held.fitted.joint, held.contact.run): held.fitted.row.rotation_n_m_per_rad or LATCH_N_M_PER_RAD
        for held in held_runs(frame, fitted)
        if held.fitted.row is not None
    }


@dataclass(frozen=True)
class Meeting:
    """Runs at fittings, as arrays: where each is, how it is held, and what its fitting holds; whatever the loads."""

    mesh: Mesh
    held: tuple[Held, ...]

    @classmethod
    def of(cls, mesh: Mesh, fitted: Sequence[Fitted]) -> "Meeting":
        """Return how runs meet at fittings: the same as before for the fittings last asked for."""
        last: list[tuple[Sequence[Fitted], Meeting]] = mesh.once("meeting", list)
        for known, found in last:
            if known is fitted and isinstance(fitted, tuple):
                return found
        found = cls(mesh, tuple(held_runs(mesh.frame, fitted)))
        last[:] = [(fitted, found)]
        return found

    @cached_property
    def elements(self) -> tuple[Ints, Ints]:
        """The element before and the one after each contact, -1 where there is none."""
        mesh = self.mesh
        run = np.array([mesh.run_index[h.contact.run] for h in self.held])
        place = run * APART_M + np.array([h.contact.station_m for h in self.held])
        starts, ends = mesh.run * APART_M + mesh.from_m, mesh.run * APART_M + mesh.to_m
        after = np.searchsorted(starts, place - TOUCH_M)
        before = np.searchsorted(ends, place - TOUCH_M)
        last = mesh.elements - 1
        after_fits = np.abs(starts[np.minimum(after, last)] - place) <= TOUCH_M
        before_fits = np.abs(ends[np.minimum(before, last)] - place) <= TOUCH_M
        return np.where(before_fits, before, -1), np.where(after_fits, after, -1)

    @cached_property
    def joint(self) -> tuple[Ints, Ints]:
        """Number of the joint of each contact, one after the other, and the first contact of each joint."""
        joints = [h.fitted.joint for h in self.held]
        order = {joint: i for i, joint in enumerate(dict.fromkeys(joints))}
        of = np.array([order[joint] for joint in joints])
        return of, np.searchsorted(of, np.arange(len(order)))

    @cached_property
    def along(self) -> Floats:
        """Direction of each run where it meets its joint: (contacts, 3)."""
        return np.array([h.contact.directions[0] for h in self.held])

    @cached_property
    def way(self) -> "np.ndarray[tuple[int], np.dtype[np.str_]]":
        """How each is held."""
        return np.array([h.way for h in self.held])

    @cached_property
    def passes(self) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
        """Which run on beyond their joint."""
        return np.array([h.contact.passes for h in self.held])

    @cached_property
    def turned(self) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
        """Which pass and bend at their fitting by what the others bring: both of a crossing, and bolted ones."""
        double = [h.way == THROUGH and h.fitted.row is not None and h.fitted.row.passes == 2 for h in self.held]
        return np.asarray(np.array(double) | ((self.way == BOLTED) & self.passes))

    @cached_property
    def holds(self) -> tuple[Floats, Floats]:
        """Grip [N] and moment [N m] that each fitting holds."""
        rows = [h.fitted.row for h in self.held]
        slip = np.array([row.slip_n if row else 0.0 for row in rows])
        moment = np.array([row.moment_n_m if row else 0.0 for row in rows])
        return slip, moment


@dataclass(frozen=True)
class Joints:
    """Forces at fittings against what they hold."""

    response: Response
    meeting: Meeting

    @property
    def held(self) -> tuple[Held, ...]:
        """Every run at every fitting that has a row."""
        return self.meeting.held

    @cached_property
    def _given(self) -> tuple[Floats, Floats]:
        """Return the force and the moment that each run brings to its joint: (cases, contacts, 3), frame's axes."""
        mesh, ends = self.response.mesh, self.response.ends
        before, after = self.meeting.elements
        force = np.zeros((len(ends), len(self.held), 3))
        moment = np.zeros_like(force)
        for element, column in ((before, 6), (after, 0)):
            there = np.flatnonzero(element >= 0)
            at = element[there]
            for out, shift in ((force, 0), (moment, 3)):
                local = ends[:, at, None, column + shift : column + shift + 3]
                out[:, there] -= turned(local, mesh.axes[at])[:, :, 0]
        return force, moment

    @cached_property
    def bending(self) -> Floats:
        """Bending moment of each run where it meets its joint: (cases, contacts). [N m]"""
        ends = self.response.ends
        before, after = self.meeting.elements
        out = np.zeros((len(ends), len(self.held)))
        for element, column in ((before, 10), (after, 4)):
            there = np.flatnonzero(element >= 0)
            found = np.hypot(ends[:, element[there], column], ends[:, element[there], column + 1])
            out[:, there] = np.maximum(out[:, there], found)
        return out

    @cached_property
    def demands(self) -> tuple[Floats, Floats]:
        """Grip [N] and moment [N m] asked of each fitting by each run: (cases, contacts)."""
        force, moment = self._given
        meeting, (of, starts) = self.meeting, self.meeting.joint
        along, way = meeting.along, meeting.way
        total = np.add.reduceat(force, starts, axis=1)[:, of]
        own = np.einsum("ckj,kj->ck", force, along)
        others = np.abs(np.einsum("ckj,kj->ck", total - force, along))
        grip = np.select(
            [way == END, way == THROUGH, way == BOLTED],
            [np.maximum(own, 0.0), others, _size(force)],
            self._coupled_pull,
        )
        through = np.where(meeting.turned, _size(moment), 0.0)
        bent = np.where((way == COUPLED) | ~meeting.passes, self.bending, through)
        return grip, bent

    @property
    def _coupled_pull(self) -> Floats:
        """Tension in each run just before its joint. [N]"""
        before, _ = self.meeting.elements
        return np.maximum(self.response.ends[:, np.maximum(before, 0), 6], 0.0) * (before >= 0)

    def rows(self, contacts: Ints | None = None) -> list[CheckRow]:
        """Return the worst of each kind among contacts, all of them if not given."""
        chosen = np.arange(len(self.held)) if contacts is None else contacts
        coupled = self.meeting.way[chosen] == COUPLED
        out = []
        for number in (0, 1):
            for mine in (chosen[~coupled], chosen[coupled]):
                if len(mine):
                    out.append(self._row(number, mine))
        return out

    def _row(self, number: int, contacts: Ints) -> CheckRow:
        demand, holds = self.demands[number][:, contacts], self.meeting.holds[number][contacts]
        asked = np.where(demand > 1e-6, demand, 0.0)
        with np.errstate(divide="ignore", invalid="ignore"):
            ratio = np.where(asked > 0, asked / holds, 0.0)
        case, at = (int(i) for i in np.unravel_index(peak(ratio), ratio.shape))
        held = self.held[int(contacts[at])]
        row = held.fitted.row
        kind = held.kinds[number]
        check, unit = KINDS[kind]
        return CheckRow(
            check=check, case=self.response.cases[case],
            where=f"{held.fitted.label} at joint {held.fitted.joint}, {held.contact.run}",
            demand=float(asked[case, at]), capacity=float(holds[at]), unit=unit, source=row.source if row else "",
            kind=kind, role=self.response.mesh.frame.runs[held.contact.run].role, run=held.contact.run,
            joint=held.fitted.joint, member=held.fitted.size, station_m=held.contact.station_m,
        )  # fmt: skip

    def every_row(self) -> list[CheckRow]:
        """Return both rows of every run at every fitting."""
        return [row for i in range(len(self.held)) for row in self.rows(np.array([i]))]


def joints(response: Response, fitted: Sequence[Fitted]) -> Joints | None:
    """Return the forces at fittings of a response, none where no fitting has a row."""
    meeting = Meeting.of(response.mesh, fitted)
    return Joints(response, meeting) if meeting.held else None


def _size(vectors: Floats) -> Floats:
    """Return the lengths of vectors in the last axis."""
    return np.asarray(np.sqrt(np.einsum("cki,cki->ck", vectors, vectors)))
