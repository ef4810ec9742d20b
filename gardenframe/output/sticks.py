"""The sticks of a plan with the marks of their pieces: as they are cut, and as they leave the shop."""

from dataclasses import dataclass

from gardenframe.costs.carrying import parts_to_carry
from gardenframe.materials.shop import TAPES
from gardenframe.output.bars import StickRow
from gardenframe.road import Plan


def stick_rows(plan: Plan, member: str) -> list[StickRow]:
    """Return the sticks of a member as they are cut, like ones together: length, (mark, length) of pieces, kerf, times.

    A length that several marks share takes them in turn, as many of each as are needed. Lengths in m.
    """
    cutting, mark_m = plan.cutting[member], TAPES[plan.shop.tape] / 1000
    left: dict[int, list[str]] = {}
    for piece in plan.cut:
        if piece.member == member:
            left.setdefault(piece.cut, []).extend([piece.mark] * piece.count)
    counted: dict[tuple[float, tuple[tuple[str, float], ...]], int] = {}
    for stick in cutting.sticks_list():
        key = (stick.stock * mark_m, tuple((left[cut].pop(0), cut * mark_m) for cut in stick.pieces))
        counted[key] = counted.get(key, 0) + 1
    return [(stock, pieces, cutting.kerf * mark_m, times) for (stock, pieces), times in counted.items()]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopCut:
    """How like sticks are cut at the shop: where, measured from one end, and the parts with what they become. [m]"""

    member: str
    times: int
    stick_m: float
    cuts_m: tuple[float, ...]
    parts: tuple[tuple[float, tuple[str, ...]], ...]


def shop_cuts(plan: Plan) -> list[ShopCut]:
    """Return the cuts that are made at the shop so that no part is longer than can be carried; none where all can."""
    if plan.shop.carried_mm is None:
        return []
    mark_m = TAPES[plan.shop.tape] / 1000
    longest = int(plan.shop.carried_mm / 1000 / mark_m + 1e-9)
    found = []
    for member in plan.cutting:
        for stock, pieces, kerf, times in stick_rows(plan, member):
            lengths = [round(length / mark_m) for _, length in pieces]
            parts = parts_to_carry(round(stock / mark_m), lengths, round(kerf / mark_m), longest)
            if len(parts) == 1:
                continue
            cuts, at = [], 0.0
            for part in parts[:-1]:
                at += part.length * mark_m
                cuts.append(at)
                at += kerf
            named = tuple((part.length * mark_m, tuple(pieces[n][0] for n in part.pieces)) for part in parts)
            found.append(ShopCut(member=member, times=times, stick_m=stock, cuts_m=tuple(cuts), parts=named))
    return found
