"""What a build asks for in later seasons: what to look at, what comes off first, what a new build takes out of it.

Plans come in; lists and a second plan go out.
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from gardenframe.builds.inside import tags_of
from gardenframe.kept import cached_property
from gardenframe.materials.anchors import load_anchors
from gardenframe.materials.coverings import load_coverings, load_rolls
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.looks import Look, looks_for
from gardenframe.road import Plan, plan

USED_UP = (
    *("cable_tie", "tie_wire", "twine", "tape", "paint", "ground_staple"),
    *("lag_screw", "self_drilling_screw", "wood_screw"),
)  # kinds of fixing that are not kept
ORDER = (  # what comes off first: what carries least; braces stay until only what they hold is left
    *("wire", "roll-up tube", "purlin", "ridge", "tie", "shelf rail", "rail", "header", "rafter", "hoop"),
    *("brace", "stay", "base board", "leg", "post", "sill"),
)


DUG, FREE = ("embedded", "bed tube"), ("foot", "floor", "castor", "ballast")  # bases: set in soil; standing free
PART_OF = ("ground", "sleeve top", "bed soil", "sill hole")  # bases of which nothing is taken off


def looks(made: Plan) -> list[Look]:
    """Return what to look at each season for a build."""
    return looks_for(tags_of(made))


# --- taking it down


@dataclass(frozen=True, slots=True)
class Off:
    """One line of taking down: what comes off, how many, what to write on it and what to do."""

    what: str
    number: int
    label: str
    how: str


SOIL_OFF = Off("soil", 1, "soil", "Shovel it out from both sides by turns, before any wall is loosened.")


def take_down(made: Plan) -> list[Off]:
    """Return what comes off a build, in order: soil, coverings, moving parts, what is high, what stands last."""
    frame = made.frame
    first = [SOIL_OFF] if any(need.group == "soil" for need in made.goods()) else []
    covers = _covers(made)
    covering = [_cover_off(panel, key, len(covers) > 1) for panel, key in covers.items()]
    held = [support.joint for support in frame.supports if support.base not in PART_OF]
    standing = {key for joint in held for key in _through(made, joint) if _upright(made, key)}
    parts = {part.key: part for part in frame.parts if part.motion != "fixed"}
    moving: list[Off] = []
    tubes: list[tuple[bool, int, float, Off]] = []
    for piece in made.cut:
        places = [place.run for place in piece.places]
        run = frame.runs.get(places[0]) if places and not piece.loose else None
        if run is None:
            continue
        label = piece.mark if piece.count == 1 else f"{piece.mark}, 1 to {piece.count}"
        if run.part in parts:
            moving.append(Off(f"{run.part}: {piece.role}", piece.count, label, "Unhook it and keep it together."))
            continue
        foot = any(name in standing for name in places)
        high = max(frame.joints[joint].z_m for name in places for joint in frame.runs[name].path)
        how = "Two people: one holds it upright while the other frees its foot." if foot else "Loosen both ends."
        rank = ORDER.index(piece.role) if piece.role in ORDER else len(ORDER) // 2
        tubes.append((foot, rank, -high, Off(piece.role, piece.count, label, how)))
    tubes.sort(key=lambda row: row[:3])
    return [*first, *covering, *moving, *(off for *_, off in tubes), *_feet(made)]


def _covers(made: Plan) -> dict[str, str]:
    """Return the covering of each panel, or of the sheet it belongs to."""
    return {panel.sheet or panel.key: panel.covering for panel in made.frame.panels if panel.covering}


def _cover_off(panel: str, key: str, several: bool) -> Off:
    cover = load_coverings()[key]
    rolled = "Stack it flat and dry." if cover.stiff else "Roll it up dry and keep it out of the sun."
    return Off(f"{cover.label}: {panel}" if several else cover.label, 1, panel, rolled)


def _upright(made: Plan, run: str) -> bool:
    """Return whether a run rises more than half its length: what somebody has to hold."""
    line, joints = made.frame.lines[run], [made.frame.joints[key].z_m for key in made.frame.runs[run].path]
    return max(joints) - min(joints) > line.length_m / 2


def _through(made: Plan, joint: str) -> list[str]:
    return [contact.run for contact in made.frame.contacts.get(joint, ())]


def _feet(made: Plan) -> Iterator[Off]:
    bases = load_anchors()
    for base, number in Counter(support.base for support in made.frame.supports).items():
        row = bases[base]
        if row.up == "driven":
            yield Off(row.label, number, base, "Draw it out straight, or leave it capped and marked: nobody may trip.")
        elif base in DUG:
            yield Off(row.label, number, base, "Dig round it, draw it out, and fill the hole.")
        elif base in FREE:
            yield Off(row.label, number, base, "Take it off its leg last.")
        elif base not in PART_OF:
            yield Off(row.label, number, base, "Take it off last; keep its screws with it.")


# --- a new build out of an old one


@dataclass(frozen=True)
class Reuse:
    """A new build made alone and made out of an old one's pieces and goods.

    `alone` and `out_of_old` are plans of the same build; `old` is what stands there now.
    """

    old: Plan
    alone: Plan
    out_of_old: Plan

    @property
    def saved(self) -> float:
        """What is saved at usual prices, tax included."""
        return self.alone.cost.usual - self.out_of_old.cost.usual

    @cached_property
    def used(self) -> dict[str, dict[int, int]]:
        """Old pieces that new ones are cut from, by member and length in marks of the tape."""
        found: dict[str, dict[int, int]] = {}
        for member, cutting in self.out_of_old.cutting.items():
            taken: dict[int, int] = {}
            for (stock, _, _), number in zip(cutting.patterns, cutting.from_hand, strict=True):
                if number:
                    taken[stock] = taken.get(stock, 0) + number
            found[member] = taken
        return found

    @cached_property
    def left(self) -> dict[str, dict[int, int]]:
        """Old pieces that are left over, by member and length in whole mm."""
        left: dict[str, dict[int, int]] = {}
        for member, lengths in straight_pieces(self.old).items():
            used = Counter(self.used.get(member, {}))
            for length, number in lengths.items():
                mark = self.alone.shop.marks_in(length)
                taken = min(number, used[mark])
                used[mark] -= taken
                if number > taken:
                    left.setdefault(member, {})[length] = number - taken
        return left


def straight_pieces(made: Plan) -> dict[str, dict[int, int]]:
    """Return the pieces of a build that can be cut again, by member and length as cut; bent ones cannot.

    In whole mm: of an inch tape the next that holds the mark, which is never another mark.
    """
    found: dict[str, dict[int, int]] = {}
    for piece in made.cut:
        if not piece.bends:
            lengths, cut_mm = found.setdefault(piece.member, {}), math.ceil(piece.cut_m * 1000 - 1e-6)
            lengths[cut_mm] = lengths.get(cut_mm, 0) + piece.count
    return found


def kept_goods(made: Plan) -> dict[str, float]:
    """Return the goods of a build that serve again, by item: no ties, screws or paint, and no covering."""
    fixings, rolls, found = load_fixings(), load_rolls(), Counter[str]()
    for need in made.goods():
        if need.group == "covering" or need.item in rolls:  # what came off a roll is cut to its place, a lining too
            continue
        if need.item not in fixings or fixings[need.item].kind not in USED_UP:
            found[need.item] += need.number  # type: ignore[assignment]
    return dict(found)


def reuse(old: Plan, new: Plan) -> Reuse:
    """Return a new plan made alone and made out of an old build that is taken down.

    Straight pieces come back as lengths at hand, fittings and feet as goods at hand; covering, ties, screws and paint
    are bought anew. Pieces with drilled holes count as sound: look where the holes come.
    """
    shop = new.shop
    pieces: Mapping[str, Mapping[int, int]] = {
        member: dict(Counter(shop.leftovers.get(member, {})) + Counter(lengths))
        for member, lengths in {**{m: {} for m in shop.leftovers}, **straight_pieces(old)}.items()
    }
    goods = Counter(shop.on_hand) + Counter(kept_goods(old))
    given = replace(shop, leftovers=pieces, on_hand=dict(goods))
    return Reuse(old, new, plan(new.build, new.site, given, live=new.live))
