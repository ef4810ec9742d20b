"""What is to be cut from what: checked, like pieces merged, kerf and trim folded in, everything a whole number.

Kerf: n pieces from one stick need their sum and n - 1 kerfs, so sum + (n - 1) k <= L. The same rule without a special
case is a stick of L + k and pieces of l + k; an `Order` holds those. Prices become whole multiples of one unit, so that
costs add, compare and round up without error.
"""

import math
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gardenframe.errors import InputError

Ints = NDArray[np.int64]
Pattern = tuple[tuple[int, int], ...]  # (item, how many), items rising
Cuts = dict[tuple[int, Pattern], int]  # (stock, pattern) -> times

NUMBERS = (int, float, np.integer, np.floating)
LONGEST = 10**9  # beyond it, sums of lengths no longer fit the tables
MOST = 10**6  # pieces of one length
PRICE_DIGITS = 6


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of stick: its length, the price of one, and how many there are (None: as many as wanted)."""

    length: int
    price: Fraction
    at_hand: int | None


@dataclass(frozen=True, slots=True)
class Request:
    """A checked request, in the reader's own unit: distinct lengths falling, with counts; stock in the order given."""

    pieces: tuple[tuple[int, int], ...]
    stock: tuple[Stock, ...]
    kerf: int
    trim: int
    priced: bool


@dataclass(frozen=True, slots=True)
class Order:
    """A request as the solvers read it.

    Lengths and room hold the kerf and are divided by what all lengths share. A stock without a limit has the limit
    that could ever be used: one stick for each piece.
    """

    lengths: Ints
    counts: Ints
    room: Ints
    prices: tuple[int, ...]
    limits: tuple[int, ...]
    limited: tuple[bool, ...]

    @property
    def pieces(self) -> int:
        """Number of pieces."""
        return int(self.counts.sum())

    def cost(self, cuts: Cuts) -> int:
        """Return the cost of a plan in price units."""
        return sum(self.prices[stock] * times for (stock, _), times in cuts.items())

    def rest(self, cuts: Cuts) -> "Order":
        """Return what is still to be cut, and the sticks still there, after some cuts."""
        counts, limits = self.counts.copy(), list(self.limits)
        for (stock, pattern), times in cuts.items():
            limits[stock] -= times
            for item, many in pattern:
                counts[item] -= many * times
        return Order(self.lengths, np.maximum(counts, 0), self.room, self.prices, tuple(limits), self.limited)


def whole(name: str, value: Any, least: int, most: int, do: str) -> int:
    """Return a value as an int, or raise InputError: not a number, not whole, out of range."""
    needs = f"a whole number from {least} to {most}"
    if isinstance(value, (bool, np.bool_)) or not isinstance(value, NUMBERS):
        raise InputError(name, value, needs, do)
    if not math.isfinite(value) or value != int(value) or not least <= value <= most:
        raise InputError(name, value, needs, do)
    return int(value)


def read_pieces(lengths: Sequence[int], counts: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Return (length, count) pairs, longest first, like lengths added up."""
    for name, given in (("lengths", lengths), ("counts", counts)):
        if isinstance(given, str) or not isinstance(given, Collection):
            raise InputError(name, given, "a list of whole numbers", "Give one length and one count for each kind.")
    if len(lengths) != len(counts):
        raise InputError("counts", len(counts), f"one count for each of the {len(lengths)} lengths", "Match the lists.")
    total: Counter[int] = Counter()
    for place, (length, count) in enumerate(zip(lengths, counts, strict=True), start=1):
        size = whole(f"length {place}", length, 1, LONGEST, "Give lengths in whole mm or whole sixteenths.")
        total[size] += whole(f"count {place}", count, 1, MOST, "Leave out a piece that is not wanted.")
    return tuple(sorted(total.items(), reverse=True))


def read_price(place: int, price: Any) -> Fraction:
    """Return a price as an exact fraction, read to six decimals."""
    needs, do = "a number from 0 to 1000000", "Give the price of one stick, 0 if it is already yours, none for all."
    if isinstance(price, (bool, np.bool_)) or not isinstance(price, NUMBERS):
        raise InputError(f"price {place}", price, needs, do)
    if not math.isfinite(price) or not 0 <= price <= 1_000_000:
        raise InputError(f"price {place}", price, needs, do)
    return Fraction(f"{float(price):.{PRICE_DIGITS}f}")


def read_stock(stock: Any) -> tuple[tuple[Stock, ...], bool]:
    """Return the kinds of stick, and whether prices were given (else every stick counts 1)."""
    rows = list(stock) if isinstance(stock, Iterable) and not isinstance(stock, str) else [(stock, None, None)]
    if not rows:
        raise InputError("stock", None, "at least one length of stick", "Give the length as sold, such as 3048.")
    read, wanted = [], "Give (length, price or None, how many are at hand or None)."
    for place, row in enumerate(rows, start=1):
        if not isinstance(row, (tuple, list)) or len(row) != 3:
            raise InputError(f"stock {place}", row, "three values", wanted)
        length = whole(f"stock length {place}", row[0], 1, LONGEST, "Give the length of a stick as sold.")
        hand = None if row[2] is None else whole(f"at hand {place}", row[2], 0, MOST, "Count the sticks at hand.")
        read.append((length, row[1], hand))
    priced = any(price is not None for _, price, _ in read)
    kinds = []
    for place, (length, price, hand) in enumerate(read, start=1):
        if price is None and priced and hand is None:
            raise InputError(f"price {place}", price, "a price, since another stick has one", "Price all or none.")
        worth = Fraction(0 if priced else 1) if price is None else read_price(place, price)
        kinds.append(Stock(length, worth, hand))
    return tuple(kinds), priced


def read_request(lengths: Sequence[int], counts: Sequence[int], stock: Any, kerf: int, trim: int) -> Request:
    """Return a checked request, or raise InputError at the first value that cannot be used."""
    pieces = read_pieces(lengths, counts)
    kinds, priced = read_stock(stock)
    kerf = whole("kerf", kerf, 0, LONGEST, "Give what one cut removes, 0 for a wheel cutter.")
    trim = whole("trim", trim, 0, LONGEST, "Give what is cut off each stick before use, 0 for none.")
    room = max((kind.length - trim for kind in kinds if kind.at_hand != 0), default=0)
    for length, _ in pieces[:1]:
        if length > room:
            do = "Use a longer stick, or splice the piece."
            raise InputError("longest piece", length, f"at most {max(room, 0)}, what the longest stick gives", do)
    return Request(pieces, kinds, kerf, trim, priced)


def price_unit(stock: Sequence[Stock]) -> Fraction:
    """Return the largest amount of which every price is a whole multiple (1 where all are 0)."""
    scale = math.lcm(*(kind.price.denominator for kind in stock))
    shared = math.gcd(*(int(kind.price * scale) for kind in stock))
    return Fraction(shared, scale) if shared else Fraction(1)


def free_step(request: Request) -> int:
    """Return what one price unit is worth in an `Order` where some sticks are free, else 1.

    A free stick then costs 1, and all that could be used together less than one price unit: so none is cut into
    without need.
    """
    number = 1 + sum(count for _, count in request.pieces)
    free = [kind for kind in request.stock if not kind.price]
    return 1 + sum(number if kind.at_hand is None else min(kind.at_hand, number) for kind in free)


def as_order(request: Request, extra: int | None = None) -> Order:
    """Return the request in solver form; `extra` adds one more piece (an offcut that is to be left whole).

    Where no kind without a limit takes the longest piece, one more kind that does, dearer than any plan without it,
    keeps the order solvable: a plan that needs it tells that the sticks do not suffice.
    """
    pieces = Counter(dict(request.pieces))
    if extra is not None:
        pieces[extra] += 1
    sizes = sorted(pieces, reverse=True)
    shared = math.gcd(*(size + request.kerf for size in sizes))
    unit, step = price_unit(request.stock), free_step(request)
    number = sum(pieces.values())
    room = [max(kind.length - request.trim + request.kerf, 0) // shared for kind in request.stock]
    prices = [int(kind.price / unit) * step or (1 if step > 1 else 0) for kind in request.stock]
    limits = [number if kind.at_hand is None else min(kind.at_hand, number) for kind in request.stock]
    limited = [kind.at_hand is not None and kind.at_hand < number for kind in request.stock]
    if all(bound or space < (sizes[0] + request.kerf) // shared for bound, space in zip(limited, room, strict=True)):
        prices.append(1 + sum(price * limit for price, limit in zip(prices, limits, strict=True)))
        room, limits, limited = [*room, max(room)], [*limits, number], [*limited, False]
    return Order(
        np.array([(size + request.kerf) // shared for size in sizes], dtype=np.int64),
        np.array([pieces[size] for size in sizes], dtype=np.int64),
        np.array(room, dtype=np.int64),
        tuple(prices),
        tuple(limits),
        tuple(limited),
    )
