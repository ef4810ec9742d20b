"""What the reader can buy, cut and carry, and what is there already."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from gardenframe.errors import InputError, require_within
from gardenframe.materials.fittings import FittingRow, load_fittings
from gardenframe.materials.members import Member, load_members
from gardenframe.materials.prices import Prices, load_prices

# kerf: a wheel cutter parts without removing metal; a hacksaw blade takes about 1 mm (common practice, no source)
CUTTERS = {"wheel cutter": 0.0, "hacksaw": 1.0, "chop saw": 2.5}
TAPES = {"mm": 1.0, "1/16 in": 25.4 / 16}


@dataclass(frozen=True, kw_only=True)
class Shop:
    """A shop and a workbench.

    Parameters
    ----------
    cutter : str
        wheel cutter, hacksaw or chop saw: sets the kerf unless `kerf_mm` is given.
    trim_mm : float
        Taken off each stick before the first cut. [mm]
    sticks : mapping of member key to stick lengths
        In whole mm; the member's own stick where it is not named.
    carried_mm : float or None
        Longest piece that can be carried home; longer sticks are cut at the shop. [mm]
    on_hand : mapping of item key to number
        Fittings, fixings and rolls already there.
    leftovers : mapping of member key to {length_mm: number}
        Lengths of tube already there.
    tape : str
        How cut lengths are rounded: mm or 1/16 in.
    tax, spares : float
        Shares of one; spares apply to fixings and fittings.
    fittings, prices, members : records of the tables
        The reader's own in place of ours.
    """

    cutter: str = "hacksaw"
    kerf_mm: float | None = None
    trim_mm: float = 0.0
    sticks: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    carried_mm: float | None = None
    on_hand: Mapping[str, float] = field(default_factory=dict)
    leftovers: Mapping[str, Mapping[int, int]] = field(default_factory=dict)
    tape: str = "mm"
    tax: float = 0.0
    spares: float = 0.05
    fittings: Mapping[str, FittingRow] = field(default_factory=load_fittings)
    prices: Prices = field(default_factory=load_prices)
    members: Mapping[str, Member] = field(default_factory=load_members)

    def __post_init__(self) -> None:
        if self.cutter not in CUTTERS:
            raise InputError("cutter", self.cutter, f"one of {', '.join(CUTTERS)}")
        if self.tape not in TAPES:
            raise InputError("tape", self.tape, f"one of {', '.join(TAPES)}")
        require_within("kerf", self.kerf, 0, 10, "mm", "A hacksaw takes about 1 mm, a wheel cutter none.")
        require_within("trim per stick", self.trim_mm, 0, 500, "mm")
        require_within("tax", self.tax, 0, 0.5, "of one", "Write 8 % as 0.08.")
        require_within("spares", self.spares, 0, 1, "of one", "Write 5 % as 0.05.")
        if self.carried_mm is not None:
            require_within("longest carried length", self.carried_mm, 300, 20_000, "mm")
        for key, number in self.on_hand.items():
            require_within(f"on hand {key}", number, 0, 1e6, "pieces")

    @property
    def kerf(self) -> float:
        """What each cut removes. [mm]"""
        return CUTTERS[self.cutter] if self.kerf_mm is None else self.kerf_mm

    def member(self, key: str) -> Member:
        """Return a member by its key; InputError naming those there are."""
        if key not in self.members:
            raise InputError("member", key, f"one of {', '.join(self.members)}")
        return self.members[key]

    def stick_lengths(self, key: str) -> tuple[float, ...]:
        """Stick lengths sold of a member: the reader's own in whole mm, else its row's, 2438.4 for 8 ft. [mm]"""
        return tuple(self.sticks.get(key) or (self.member(key).stick_mm,))

    def share_of_stick(self, key: str, length_mm: float) -> float:
        """Length sold, against the stick that is priced: 1 for that stick written in whole mm."""
        full = self.member(key).stick_mm
        return 1.0 if round(length_mm) == round(full) else length_mm / full

    def priced_stick(self, key: str, length_mm: float) -> tuple[str, float]:
        """Item of the price table that a stick is bought as, and its length against what that item prices.

        The row `member:length` where there is one (`emt-1:6096`), else the member's own row by length, since shops
        charge about by the metre (common practice, no source). A reader's price of the member comes before our row.
        """
        named, own = f"{key}:{round(length_mm)}", self.prices.own
        if named in self.prices and (named in own or key not in own):
            return named, 1.0
        return key, self.share_of_stick(key, length_mm)

    def stock(self, key: str) -> list[tuple[int, float, int | None]]:
        """Sticks that a member can be cut from: length in marks of the tape, price of one, how many (None: any)."""
        found: list[tuple[int, float, int | None]] = []
        for length in self.stick_lengths(key):
            item, share = self.priced_stick(key, length)
            found.append((self.stick_marks(length), self.prices.price(item).usual * share, None))
        own = self.leftovers.get(key, {}).items()
        return found + [(self.marks_in(length), 0.0, number) for length, number in own]

    def marks_in(self, length_mm: float) -> int:
        """Whole marks of the tape in a length."""
        return math.floor(length_mm / TAPES[self.tape] + 1e-9)

    def stick_marks(self, length_mm: float) -> int:
        """Whole marks of the tape that a stick gives once it is trimmed."""
        return math.floor((length_mm - self.trim_mm) / TAPES[self.tape] + 1e-9)

    @property
    def kerf_marks(self) -> int:
        """What each cut removes, in whole marks of the tape, never less than it is."""
        return math.ceil(self.kerf / TAPES[self.tape] - 1e-9)

    def longest_piece_mm(self, key: str) -> float:
        """Longest piece that one stick gives and that can be carried. [mm]"""
        longest = max(self.stick_lengths(key)) - self.trim_mm
        return longest if self.carried_mm is None else min(longest, self.carried_mm)

    def on_the_tape(self, length_mm: float) -> int:
        """Length to the nearest mark of the tape, in marks (mm or sixteenths)."""
        return math.floor(length_mm / TAPES[self.tape] + 0.5)

    def tape_mm(self, length_mm: float) -> float:
        """Length to the nearest mark of the tape. [mm]"""
        return self.on_the_tape(length_mm) * TAPES[self.tape]
