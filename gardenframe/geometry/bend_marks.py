"""From a bent piece to what is marked on its straight tube: the length to cut, each bend's marks, and what to bend to.

A piece, its tube and a bender come in, a `BendSheet` goes out, in mm. Marks are measured from the near end, the one the
shoe's hook faces. The tube is cut long where the bender needs straight ends, bent, checked and only then trimmed.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from gardenframe.geometry import bending, hoops
from gardenframe.geometry.bend_limits import SAME_DEG, SAME_MM, bent_to_mm, check_bends, held_mm, spare_mm
from gardenframe.geometry.pieces import Bend, Piece
from gardenframe.materials.benders import RADIUS_SHARE, Bender, bender_that_makes
from gardenframe.materials.constants import value
from gardenframe.materials.members import Member
from gardenframe.working import Step

CORNER_DEG = 170.0  # a rounder bend has no corner to measure a gain from


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkedBend:
    """One bend on the straight tube. Stations from the near end, radii to the centreline.

    `roll_deg` is how its plane turns from the bend before, clockwise seen from the near end; `face_deg` the same from
    the first bend. `jig_radius_mm` is what to bend round: the shoe's radius, or that of the jig.
    """

    number: int
    start_mm: float
    end_mm: float
    arrow_mm: float | None
    radius_mm: float
    jig_radius_mm: float
    bend_deg: float
    bend_to_deg: float
    roll_deg: float
    face_deg: float
    gain_mm: float | None
    stretch_ratio: float
    least_radius_mm: float

    @property
    def arc_mm(self) -> float:
        """Length of tube in the bend. [mm]"""
        return self.end_mm - self.start_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeMark:
    """One line to draw round the straight tube: `what` is trim, arrow, start or end; `bend` its bend, 0 for a trim."""

    at_mm: float
    what: str
    bend: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class BendSheet:
    """What to mark, bend and trim for one kind of piece.

    `cut_mm` is the straight tube to start with, `developed_mm` what is left after `trim_near_mm` and `trim_far_mm` come
    off its ends. `straights_mm` are those of the finished piece: before, between and after its bends.
    """

    mark: str
    count: int
    member: Member
    bender: Bender
    cut_mm: float
    developed_mm: float
    trim_near_mm: float
    trim_far_mm: float
    straights_mm: tuple[float, ...]
    bends: tuple[MarkedBend, ...]
    yield_mpa: float
    notes: tuple[str, ...] = ()

    @property
    def marks(self) -> tuple[TubeMark, ...]:
        """Every mark along the straight tube, from the near end."""
        found = [TubeMark(at_mm=self.trim_near_mm, what="trim")] if self.trim_near_mm > SAME_MM else []
        for bend in self.bends:
            if bend.arrow_mm is not None:
                found.append(TubeMark(at_mm=bend.arrow_mm, what="arrow", bend=bend.number))
            found.append(TubeMark(at_mm=bend.start_mm, what="start", bend=bend.number))
            found.append(TubeMark(at_mm=bend.end_mm, what="end", bend=bend.number))
        if self.trim_far_mm > SAME_MM:
            found.append(TubeMark(at_mm=self.cut_mm - self.trim_far_mm, what="trim"))
        return tuple(sorted(found, key=lambda mark: mark.at_mm))

    @property
    def offsets(self) -> tuple[tuple[int, int, float], ...]:
        """Numbers of neighbouring bends that are alike and go opposite ways, and the depth that they make. [mm]"""
        return tuple(
            (a.number, b.number, bending.offset_depth_mm(b.start_mm - a.start_mm, a.gain_mm or 0.0, a.bend_deg))
            for a, b in pairwise(self.bends)
            if _opposite(a, b)
        )

    def working(self, system: str = "metric") -> list[Step]:
        """Return the arithmetic of each bend that differs, as steps."""
        steps: list[Step] = []
        seen: set[tuple[float, float]] = set()
        for bend in self.bends:
            if (kind := (round(bend.radius_mm, 2), round(bend.bend_deg, 2))) in seen:
                continue
            seen.add(kind)
            steps += _working(bend, self, system)
        return steps


def _working(bend: MarkedBend, sheet: BendSheet, system: str) -> list[Step]:
    outer, modulus = sheet.member.outer_mm, sheet.member.modulus_gpa * 1000
    kept = bending.spring_ratio(bend.jig_radius_mm, sheet.yield_mpa, modulus, outer)
    steps = [bending.arc_length_mm.shown(bend.radius_mm, bend.bend_deg, system=system)]
    if bend.gain_mm is not None:
        steps.append(bending.gain_mm.shown(bend.radius_mm, bend.bend_deg, system=system))
    if sheet.bender.take_up_mm is not None:
        steps.append(bending.arrow_from_start_mm.shown(bend.radius_mm, outer, sheet.bender.take_up_mm, system=system))
    steps.append(bending.stretch_ratio.shown(outer, bend.jig_radius_mm, system=system))
    steps.append(bending.spring_ratio.shown(bend.jig_radius_mm, sheet.yield_mpa, modulus, outer, system=system))
    steps.append(bending.sprung_radius_mm.shown(bend.jig_radius_mm, kept, system=system))
    return [*steps, bending.bend_to_deg.shown(bend.bend_deg, kept, system=system)]


def bend_sheet(
    piece: Piece,
    member: Member,
    bender: Bender,
    *,
    stick_mm: float | None = None,
    long_mm: float | None = None,
    yield_mpa: float | None = None,
) -> BendSheet:
    """Return what to mark, bend and trim for a bent piece.

    Parameters
    ----------
    piece : Piece
        With its bends, measured from its start: the near end.
    stick_mm : float, optional
        Longest tube to be had; the member's own stick unless given. [mm]
    long_mm : float, optional
        Spare tube at each end, trimmed after bending; less where the stick has not so much. [mm]
    yield_mpa : float, optional
        Yield of the tube for spring-back, where it is known better than the table's prudent value. [MPa]

    Raises
    ------
    InputError
        For a straight piece, a bender for another tube, a radius below the least, a bend over 180 degrees or on the
        next one, or a piece that takes more than a stick with the ends that stay straight.
    """
    bends = _whole(piece.bends)
    check_bends(piece, bends, member, bender, yield_mpa)
    length = piece.length_m * 1000
    short_near = max(held_mm(bends[0], member, bender) - bends[0].start_m * 1000, 0.0)
    short_far = max(bender.far_mm - (length - bends[-1].end_m * 1000), 0.0)
    spare = spare_mm(piece, member, bender, short_near + short_far, stick_mm, long_mm)
    near, far = short_near + spare, short_far + spare
    edges = [0.0, *(s * 1000 for b in bends for s in (b.start_m, b.end_m)), length]
    marked, face = [], 0.0
    for number, bend in enumerate(bends, start=1):
        face = (face + bend.roll_deg) % 360.0
        marked.append(_marked(number, bend, near, face, member, bender, yield_mpa))
    sheet = BendSheet(
        mark=piece.mark,
        count=piece.count,
        member=member,
        bender=bender,
        cut_mm=near + length + far,
        developed_mm=length,
        trim_near_mm=near,
        trim_far_mm=far,
        straights_mm=tuple(b - a for a, b in zip(edges[::2], edges[1::2])),
        bends=tuple(marked),
        yield_mpa=hoops.yield_of_mpa(member, yield_mpa),
    )
    return replace(sheet, notes=tuple(_notes(sheet)))


def bend_sheets(
    pieces: Iterable[Piece],
    members: Mapping[str, Member],
    longest_mm: Mapping[str, float] | None = None,
    benders: Mapping[str, Bender] | None = None,
) -> tuple[BendSheet, ...]:
    """Return the sheet of every bent piece, on the bender that makes its first bend.

    Parameters
    ----------
    longest_mm : mapping of member key to length, optional
        Longest tube to be had; the member's own stick where it is not named. [mm]
    benders : mapping, optional
        The reader's own in place of ours.
    """
    return tuple(
        bend_sheet(
            piece,
            members[piece.member],
            bender_that_makes(piece.member, piece.bends[0].radius_m * 1000, benders),
            stick_mm=(longest_mm or {}).get(piece.member),
        )
        for piece in pieces
        if piece.bends
    )


def _whole(bends: Sequence[Bend]) -> list[Bend]:
    """Return bends with those that go on in the same plane at the same radius made one."""
    whole: list[Bend] = []
    for bend in bends:
        last = whole[-1] if whole else None
        touch = last is not None and abs(bend.start_m - last.end_m) * 1000 < SAME_MM
        if last and touch and abs(bend.radius_m - last.radius_m) < 1e-6 and abs(bend.roll_deg) < SAME_DEG:
            whole[-1] = Bend(last.start_m, bend.end_m, last.radius_m, last.angle_deg + bend.angle_deg, last.roll_deg)
        else:
            whole.append(bend)
    return whole


def _marked(
    number: int, bend: Bend, near_mm: float, face_deg: float, member: Member, bender: Bender, yield_mpa: float | None
) -> MarkedBend:
    radius, start = bend.radius_m * 1000, near_mm + bend.start_m * 1000
    jig = bent_to_mm(radius, member, bender, yield_mpa)
    kept = hoops.kept_ratio(jig, member, yield_mpa)
    arrow = None
    if bender.take_up_mm is not None:
        arrow = start + bending.arrow_from_start_mm(radius, member.outer_mm, bender.take_up_mm)
    return MarkedBend(
        number=number,
        start_mm=start,
        end_mm=near_mm + bend.end_m * 1000,
        arrow_mm=arrow,
        radius_mm=radius,
        jig_radius_mm=jig,
        bend_deg=bend.angle_deg,
        bend_to_deg=bending.bend_to_deg(bend.angle_deg, kept),
        roll_deg=bend.roll_deg if number > 1 else 0.0,
        face_deg=face_deg,
        gain_mm=bending.gain_mm(radius, bend.angle_deg) if bend.angle_deg <= CORNER_DEG else None,
        stretch_ratio=bending.stretch_ratio(member.outer_mm, jig),
        least_radius_mm=member.min_bend_radius_mm or bender.radius_mm,
    )


def _notes(sheet: BendSheet) -> list[str]:
    """Return what a reader must know beside the numbers."""
    notes = ["Bend one, check it on a full-size arc drawn on the ground, then mark the rest; trim last."]
    if max(b.stretch_ratio for b in sheet.bends) > value("crack_strain_ratio"):
        notes.append("The outside stretches so far that the tube may crack.")
    diameters = min(b.jig_radius_mm for b in sheet.bends) / sheet.member.outer_mm
    if sheet.bender.kind == "jig" and diameters < value("kink_ratio"):
        notes.append(f"At {diameters:.0f} diameters the tube kinks unless the jig's groove holds its sides.")
    if min(sheet.trim_near_mm, sheet.trim_far_mm) + SAME_MM < value("bend_long_mm"):
        notes.append("The stick leaves little or nothing to trim: measure twice before bending.")
    return notes


def _opposite(a: MarkedBend, b: MarkedBend) -> bool:
    """Whether two bends undo each other: an offset."""
    alike = abs(a.bend_deg - b.bend_deg) < SAME_DEG and math.isclose(a.radius_mm, b.radius_mm, rel_tol=RADIUS_SHARE)
    return alike and abs(abs(b.roll_deg) - 180) < SAME_DEG and a.bend_deg < 90 + SAME_DEG
