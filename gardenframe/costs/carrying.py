"""Which cuts are made at the shop so that every part can be carried home: whole pieces stay whole.

The pieces of one stick come in, parts no longer than can be carried go out. Whole numbers in any one unit.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a stick as it is carried: its pieces by number, and its length, kerfs and offcut counted."""

    pieces: tuple[int, ...]
    length: int


def parts_to_carry(stock: int, pieces: Sequence[int], kerf: int, longest: int) -> tuple[Part, ...]:
    """Return the parts of a stick, few of them, none longer than can be carried unless one piece alone is.

    The parts lie along the stick in the order given, a kerf between neighbours. Pieces are shared out longest first,
    each to the first part with room; the offcut goes to the last part, or is left as a part without pieces.

    Parameters
    ----------
    stock : int
        The stick.
    pieces : sequence of int
        Its pieces, any order.
    longest : int
        Longest part that can be carried.

    Examples
    --------
    >>> [part.length for part in parts_to_carry(3048, (1800, 900), 1, 2000)]
    [1800, 1247]
    >>> [part.length for part in parts_to_carry(3048, (1800, 900), 1, 4000)]
    [3048]
    """
    if stock <= longest:
        return (Part(tuple(range(len(pieces))), stock),)
    groups: list[list[int]] = []
    for at in sorted(range(len(pieces)), key=lambda i: -pieces[i]):
        home = next((g for g in groups if _long(pieces, [*g, at], kerf) <= longest), None)
        if home is None:
            groups.append([at])
        else:
            home.append(at)
    spent = sum(_long(pieces, group, kerf) + kerf for group in groups)
    left = max(stock - spent, 0)  # of the stick behind the cut that frees the last part
    parts = [Part(tuple(group), _long(pieces, group, kerf)) for group in groups]
    if not left:
        return tuple(parts)
    roomy = next((n for n in reversed(range(len(parts))) if parts[n].length + kerf + left <= longest), None)
    if roomy is None:
        return (*parts, Part((), left))
    last = parts.pop(roomy)
    return (*parts, Part(last.pieces, last.length + kerf + left))


def _long(pieces: Sequence[int], group: Sequence[int], kerf: int) -> int:
    """Return the length of pieces side by side with a kerf between neighbours."""
    return sum(pieces[at] for at in group) + kerf * (len(group) - 1)
