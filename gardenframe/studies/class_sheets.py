"""Whose piece comes from which stick: cut sheets on which a person's pieces lie together as far as they can.

A cutting plan and the kits that its pieces belong to come in, sheets go out, stick by stick. Like lengths of several
people may change places, so the plan stays as cheap as it is and only who gets which of them is chosen here.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from gardenframe.costs.cutting import CuttingPlan, StickCuts

Ints = NDArray[np.int64]


class Cut(NamedTuple):
    """One piece on a stick: whose, its mark, its length and where its far end comes. In marks of the tape."""

    kit: int
    mark: str
    length: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStick:
    """One stick as it is cut: number in its member's sheet, stock length, pieces in order, what is left."""

    member: str
    number: int
    stock: int
    at_hand: bool
    cuts: tuple[Cut, ...]
    left: int

    @property
    def kits(self) -> tuple[int, ...]:
        """Numbers of the kits that pieces of this stick go to, in order."""
        return tuple(dict.fromkeys(cut.kit for cut in self.cuts))


def sheets_of(member: str, cutting: CuttingPlan, wanted: Mapping[int, Iterable[tuple[str, int]]]) -> list[SheetStick]:
    """Return the cut sheet of one member: every stick with whose pieces it gives.

    Parameters
    ----------
    wanted : mapping of kit number to (mark, length)
        Every single piece of the member, length in marks of the tape: together what the plan cuts.
    """
    sticks = cutting.sticks_list()
    marks: dict[int, dict[int, list[str]]] = {}
    for kit, pieces in wanted.items():
        for mark, length in pieces:
            marks.setdefault(kit, {}).setdefault(length, []).append(mark)
    shares = _shared(sticks, {kit: Counter({n: len(m) for n, m in own.items()}) for kit, own in marks.items()})
    rows = [_cut(stick, share, marks, cutting.kerf) for stick, share in zip(sticks, shares, strict=True)]
    ordered = sorted(
        zip(rows, sticks, strict=True), key=lambda pair: (sorted({c.kit for c in pair[0]}), pair[1].number)
    )
    return [
        SheetStick(member=member, number=n, stock=stick.stock, at_hand=stick.at_hand, cuts=cuts, left=stick.offcut)
        for n, (cuts, stick) in enumerate(ordered, 1)
    ]


def _cut(
    stick: StickCuts, share: list[tuple[int, int]], marks: dict[int, dict[int, list[str]]], kerf: int
) -> tuple[Cut, ...]:
    """Return the pieces of a stick in the order of cutting: a kit's together, longest first."""
    found, at = [], 0
    for kit, length in sorted(share, key=lambda one: (one[0], -one[1])):
        found.append(Cut(kit, marks[kit][length].pop(0), length, at + length))
        at += length + kerf
    return tuple(found)


def _shared(sticks: list[StickCuts], wanted: Mapping[int, Counter[int]]) -> list[list[tuple[int, int]]]:
    """Return (kit, length) for each piece of each stick, few kits on a stick.

    The stick and the kit that have most pieces in common come first, and so on with what is then left: a rule, not the
    least that is possible.
    """
    kits, lengths = list(wanted), sorted({length for counts in wanted.values() for length in counts})
    column = {length: place for place, length in enumerate(lengths)}
    need = np.zeros((len(kits), len(lengths)), dtype=np.int64)
    for row, kit in enumerate(kits):
        for length, number in wanted[kit].items():
            need[row, column[length]] = number
    left = [Counter(column[length] for length in stick.pieces) for stick in sticks]
    shares: list[list[tuple[int, int]]] = [[] for _ in sticks]
    queue = [(-_best(need, slots)[0], n) for n, slots in enumerate(left)]
    heapify(queue)
    while queue:
        promised, n = heappop(queue)
        common, row = _best(need, left[n])
        if -common > promised:  # others took pieces that this stick had counted on
            heappush(queue, (-common, n))
            continue
        for place, slots in list(left[n].items()):
            taken = min(slots, int(need[row, place]))
            need[row, place] -= taken
            left[n][place] -= taken
            shares[n] += [(kits[row], lengths[place])] * taken
        left[n] = +left[n]
        if left[n]:
            heappush(queue, (-_best(need, left[n])[0], n))
    return shares


def _best(need: Ints, slots: Counter[int]) -> tuple[int, int]:
    """Return how many pieces of a stick one kit can take, and which kit takes most: the first of those that do."""
    places, numbers = list(slots), np.array(list(slots.values()), dtype=np.int64)
    common = np.minimum(need[:, places], numbers).sum(axis=1)
    row = int(np.argmax(common))
    return int(common[row]), row


def together(sheets: Iterable[SheetStick]) -> int:
    """Return how often a stick has to be sorted to a kit: the kits of each stick, added up."""
    return sum(len(stick.kits) for stick in sheets)
