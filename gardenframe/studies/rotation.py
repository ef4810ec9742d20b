"""Where each crop goes next year: no plant family comes back to a bed within some years, frames follow where they fit.

What stood where comes in; an order of crops for each coming year goes out, or the reason why there is none.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations

from gardenframe.errors import InputError
from gardenframe.materials.plants import Plant, load_plants

REST = ""  # a bed in which something of no named family stands: green manure, flowers
MOST_BEDS = 7  # every order of more is too many to try


@dataclass(frozen=True, slots=True)
class Move:
    """One crop in one coming year: the bed it goes to, from where, and whether its frame fits there."""

    year: int
    plant: str
    from_bed: str
    to_bed: str
    frame_follows: bool


def rotation(
    stood: Mapping[str, Sequence[str]],
    years: int = 3,
    gap_years: int = 3,
    frames_m: Mapping[str, float] | None = None,
    beds_m: Mapping[str, float] | None = None,
) -> list[Move]:
    """Return where this year's crops go in each of some coming years.

    Of the orders that keep families apart, the one in which most frames follow their crops is taken, then the first.

    Parameters
    ----------
    stood : mapping of bed to plants
        Keys of the plants that stood there, the last one this year's; `REST` where the bed rested or grew something
        of another family. What lives for many years stays where it is.
    years : int
        How many years to look ahead.
    gap_years : int
        Years for which a family stays away from a bed it has left; 3 is common practice, no source.
    frames_m, beds_m : mapping
        Width that the frame of a plant needs, by the plant's bed of this year, and width of each bed. [m]

    Raises
    ------
    InputError
        For an unknown plant, too many beds, or where no order keeps the families apart.
    """
    plants = load_plants()
    past = {bed: [_family(plants, key) for key in keys] for bed, keys in stood.items()}
    _check(stood, years, gap_years)
    crops = {bed: keys[-1] for bed, keys in stood.items()}
    frames_m, beds_m = frames_m or {}, beds_m or {}
    at = {bed: bed for bed in crops}  # where each crop, named by its first bed, stands now
    found: list[Move] = []
    for year in range(1, years + 1):
        order = _next(at, crops, past, gap_years, plants, frames_m, beds_m)
        if order is None:
            families = ", ".join(_family(plants, key) or "a rest" for key in crops.values())
            raise InputError(
                "beds", f"{len(crops)} with {families}", f"an order that keeps a family away for {gap_years} years",
                "Leave a bed to another family, or take fewer years.",
            )  # fmt: skip
        found += [
            Move(year, crops[home], at[home], bed, frames_m.get(home, 0.0) <= beds_m.get(bed, float("inf")))
            for home, bed in order.items()
        ]
        at = order
        for home, bed in order.items():
            past[bed].append(_family(plants, crops[home]))
    return found


def _family(plants: Mapping[str, Plant], key: str) -> str:
    if key == REST:
        return ""
    if key not in plants:
        raise InputError("plant", key, f"one of {', '.join(plants)}")
    return plants[key].family


def _check(stood: Mapping[str, Sequence[str]], years: int, gap_years: int) -> None:
    if not 2 <= len(stood) <= MOST_BEDS:
        raise InputError("beds", len(stood), f"2 to {MOST_BEDS}", "Work out two parts of the garden apart.")
    for bed, keys in stood.items():
        if not keys:
            raise InputError(f"bed {bed}", "no plant", "at least this year's", "Write what stood in it.")
    for name, value, high in (("years ahead", years, 10), ("years away", gap_years, 6)):
        if not 1 <= value <= high:
            raise InputError(name, value, f"1 to {high} years")


def _next(
    at: Mapping[str, str],
    crops: Mapping[str, str],
    past: Mapping[str, Sequence[str]],
    gap_years: int,
    plants: Mapping[str, Plant],
    frames_m: Mapping[str, float],
    beds_m: Mapping[str, float],
) -> dict[str, str] | None:
    homes, beds = list(crops), list(past)
    barred = {bed: set(families[-gap_years:]) - {""} for bed, families in past.items()}
    stays = {home for home in homes if crops[home] != REST and plants[crops[home]].perennial}
    best: tuple[int, dict[str, str]] | None = None
    for order in permutations(beds):
        pairs = list(zip(homes, order, strict=True))
        if any(
            bed != at[home] if home in stays else _family(plants, crops[home]) in barred[bed] for home, bed in pairs
        ):
            continue
        fits = sum(frames_m.get(home, 0.0) <= beds_m.get(bed, float("inf")) for home, bed in pairs)
        if best is None or fits > best[0]:
            best = fits, dict(pairs)
    return best[1] if best else None
