"""Animals that a garden is fenced against: the opening, height, depth and top that each asks for, with its source.

A set of animals comes in; what they ask for together goes out, each figure with the animal that asks the most.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

GROUPS = ("mammal", "bird", "insect", "burrower")
MM = Column(kind="number", low=0.2, high=3000, optional=True)
FROM = Column(kind="source", optional=True)
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "group": Column(kind="choice", choices=GROUPS),
    "opening_mm": MM,
    "opening_source": FROM,
    "height_mm": MM,
    "height_source": FROM,
    "buried_mm": MM,
    "buried_source": FROM,
    "apron_mm": MM,
    "apron_source": FROM,
    "roof": Column(kind="flag"),
    "overhang_mm": MM,
    "top_source": FROM,
    "floor_mm": MM,
    "floor_source": FROM,
    "fence": Column(kind="flag"),
    "gnaws": Column(kind="flag"),
    "note": Column(),
}
SOURCE_OF = {
    "opening_mm": "opening_source",
    "height_mm": "height_source",
    "buried_mm": "buried_source",
    "apron_mm": "apron_source",
    "overhang_mm": "top_source",
    "floor_mm": "floor_source",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Animal:
    """One kind of animal; lengths are None where it asks for none.

    `opening_mm` is the largest that it does not pass, `buried_mm` how far the mesh goes straight down, `apron_mm` how
    far it then lies outwards, `overhang_mm` how far the top is bent out where there is no roof, `floor_mm` the opening
    of a mesh floor. `fence` is no where no fence stops it; `gnaws` asks for metal.
    """

    key: str
    label: str
    group: str
    opening_mm: float | None
    opening_source: str | None
    height_mm: float | None
    height_source: str | None
    buried_mm: float | None
    buried_source: str | None
    apron_mm: float | None
    apron_source: str | None
    roof: bool
    overhang_mm: float | None
    top_source: str | None
    floor_mm: float | None
    floor_source: str | None
    fence: bool
    gnaws: bool
    note: str

    def __post_init__(self) -> None:
        """Refuse a figure without its source, and an animal that nothing stops."""
        for part, source in SOURCE_OF.items():
            if getattr(self, part) is not None and getattr(self, source) is None:
                raise InputError(f"{self.key}: {source}", None, f"the source of {part}")
        if self.fence and self.opening_mm is None:
            raise InputError(f"{self.key}: opening_mm", None, "an opening, as a fence is said to stop it")
        if not self.fence and self.floor_mm is None:
            raise InputError(f"{self.key}: floor_mm", None, "the opening of a floor, as no fence stops it")


@dataclass(frozen=True, slots=True)
class Ask:
    """One figure that a set of animals asks for [mm], and which of them asks it. `value_mm` is 0 where none does."""

    part: str
    value_mm: float
    animal: Animal | None

    @property
    def source(self) -> str:
        """Key of the source that the animal's figure is from; none where no animal asks."""
        return str(getattr(self.animal, SOURCE_OF[self.part])) if self.animal else "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a set of animals asks for together. `opening` is the smallest of theirs, the rest the largest."""

    opening: Ask
    height: Ask
    buried: Ask
    apron: Ask
    overhang: Ask
    floor: Ask
    roof: tuple[Animal, ...]  # those that only a roof stops
    gnaws: tuple[Animal, ...]
    unstopped: tuple[Animal, ...]  # those that no fence stops


def load_animals(table: tables.Table | None = None) -> dict[str, Animal]:
    """Return every animal by key: ours, or those of a reader's own table."""
    return tables.keyed("animals.csv", SCHEMA, Animal, table)


@cache
def _ours() -> dict[str, Animal]:
    return load_animals()


def find(key: str) -> Animal:
    """Return an animal by its key; InputError naming those there are."""
    if key not in _ours():
        raise InputError("animal", key, f"one of {', '.join(_ours())}")
    return _ours()[key]


def asked_of(keys: Iterable[str]) -> Asked:
    """Return what a set of animals asks for.

    >>> asked = asked_of(["rabbit", "vole", "deer"])
    >>> asked.opening.value_mm, asked.opening.animal.key, asked.height.animal.key
    (6.35, 'vole', 'deer')
    """
    chosen = [find(key) for key in keys]

    def most(part: str, smallest: bool = False) -> Ask:
        asking = [one for one in chosen if getattr(one, part) is not None]
        if not asking:
            return Ask(part, 0.0, None)
        animal = (min if smallest else max)(asking, key=lambda one: getattr(one, part))
        return Ask(part, getattr(animal, part), animal)

    return Asked(
        opening=most("opening_mm", smallest=True),
        height=most("height_mm"),
        buried=most("buried_mm"),
        apron=most("apron_mm"),
        overhang=most("overhang_mm"),
        floor=most("floor_mm", smallest=True),
        roof=tuple(one for one in chosen if one.roof),
        gnaws=tuple(one for one in chosen if one.gnaws and one.fence),
        unstopped=tuple(one for one in chosen if not one.fence),
    )
