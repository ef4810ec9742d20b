"""Which mesh keeps ticked animals out, at what price, and what of an enclosure does not meet what they ask for.

The keys of animals and a shop come in; coverings and sentences go out. What animals ask for is `materials.animals`.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

from gardenframe.builds.fields import both
from gardenframe.materials.animals import Animal, Asked, asked_of
from gardenframe.materials.coverings import Covering, load_coverings, load_rolls
from gardenframe.materials.prices import Prices
from gardenframe.materials.shop import Shop

MESHES = ("welded_mesh", "poultry_net", "bird_net", "insect_net")
METAL = ("welded_mesh", "poultry_net")
DEEP_M = 0.6  # of buried mesh: nothing ticked digs under it (common practice, no source)
HIGHEST_SOLID = 0.6  # a closer cloth is a cover, not a mesh


def meshes() -> dict[str, Covering]:
    """Return every covering that an enclosure may be closed with."""
    return {key: one for key, one in load_coverings().items() if one.kind in MESHES and one.solidity < HIGHEST_SOLID}


@lru_cache(maxsize=64)
def asked(animals: tuple[str, ...]) -> Asked:
    """Return what ticked animals ask for; kept, as every part of a plan asks again."""
    return asked_of(animals)


def price_per_m2(covering: str, prices: Prices) -> float:
    """Return the least price of a square metre of a covering among its rolls."""
    return min(prices.price(r.key).usual / r.area_m2 for r in load_rolls().values() if r.covering == covering)


def stops(mesh: Covering, wanted: Asked) -> bool:
    """Whether a mesh is fine enough for what is asked, and of metal where something gnaws."""
    fine = not wanted.opening.value_mm or mesh.smallest_opening_mm <= wanted.opening.value_mm
    return fine and (not wanted.gnaws or mesh.kind in METAL)


@lru_cache(maxsize=256)
def _serving(animals: tuple[str, ...], metal: bool) -> tuple[str, ...]:
    """Return the meshes that serve; the finest that nearly do where none does."""
    wanted = asked(animals)
    choice = {key: one for key, one in meshes().items() if one.kind in METAL or not metal}
    serving = tuple(key for key, one in choice.items() if stops(one, wanted))
    if serving:  # one that lets bees in, where one serves
        return tuple(key for key in serving if not choice[key].keeps_pollinators_out) or serving
    finest = min(one.smallest_opening_mm for one in choice.values())
    most = max(wanted.opening.value_mm, finest)
    return tuple(key for key, one in choice.items() if one.smallest_opening_mm <= most)


def mesh_for(animals: tuple[str, ...], shop: Shop, *, metal: bool = False) -> str:
    """Return the cheapest mesh, by the square metre, of those that keep the animals out; the finest where none does."""
    return min(_serving(animals, metal), key=lambda key: (price_per_m2(key, shop.prices), key))


def serves(animals: tuple[str, ...]) -> bool:
    """Return whether any one mesh keeps all of some animals out."""
    return any(stops(mesh, asked(animals)) for mesh in meshes().values())


def cheapest_metal(opening_mm: float, prices: Prices) -> str:
    """Return the cheapest mesh of metal, by the square metre, whose openings are no wider."""
    fine = [k for k, one in meshes().items() if one.kind in METAL and one.smallest_opening_mm <= opening_mm]
    return min(fine, key=lambda key: (price_per_m2(key, prices), key))


def named(animals: Sequence[Animal]) -> str:
    """Return the names of animals in a row of words."""
    labels = [animal.label for animal in animals]
    return labels[0] if len(labels) == 1 else f"{', '.join(labels[:-1])} and {labels[-1]}"


def sentences(build: Any, walls: str, roof: str) -> Iterator[str]:
    """Yield what does not meet what the animals ask for, each with the figure and its source.

    Parameters
    ----------
    walls, roof : str
        Keys of the coverings; what comes from above alone counts for the roof.
    """
    wanted = asked(build.animals)
    for animal in wanted.unstopped:
        how = "The mesh floor is on the bill" if build.floor else "Tick the mesh floor, or lift the bed onto one"
        yield f"A fence does not stop {animal.label}: {animal.note} {how}."
    said: dict[str, None] = {}
    above = tuple(animal.key for animal in wanted.roof)
    for key, animals in ((walls, build.animals), *([(roof, above)] if build.roofed and roof != walls else [])):
        said |= dict.fromkeys(_mesh_sentences(load_coverings()[key], asked(animals)))
    yield from said
    yield from _size_sentences(build, wanted)


def _mesh_sentences(mesh: Covering, wanted: Asked) -> Iterator[str]:
    opening = wanted.opening
    if opening.animal and mesh.smallest_opening_mm > opening.value_mm:
        yield (
            f"{mesh.label} lets {opening.animal.label} through: its opening is {mesh.smallest_opening_mm:g} mm, and "
            f"they pass more than {opening.value_mm:g} mm [{opening.source}]."
        )
    if wanted.gnaws and mesh.kind not in METAL:
        yield (
            f"{mesh.label} is not metal: {named(wanted.gnaws)} gnaw through it [animals-memory]; hang it inside a "
            "mesh of metal."
        )
    if mesh.could_trap_a_head:
        yield (
            f"{mesh.label}: openings between 89 and 229 mm can trap a small child's head [caring-children]; choose "
            "another where children play."
        )
    if mesh.traps_wildlife:
        yield f"{mesh.label} catches birds, snakes and hedgehogs where it hangs loose: keep it taut, look every day."
    if mesh.keeps_pollinators_out:
        yield f"{mesh.label} keeps bees out too: open it while the crop that needs them flowers."


def _size_sentences(build: Any, wanted: Asked) -> Iterator[str]:
    tall = wanted.height
    if tall.animal and not build.roofed and build.above_ground_m < tall.value_mm / 1000 - 1e-9:
        yield (
            f"A wall {both(build.above_ground_m)} high is too low for {tall.animal.label}: {both(tall.value_mm / 1000)}"
            f" is asked for [{tall.source}], or a roof."
        )
    if wanted.roof and not build.roofed:
        yield f"Without a roof nothing keeps out {named(wanted.roof)} [{wanted.roof[0].top_source}]."
    if wanted.overhang.animal and not build.roofed and not build.overhang_m:
        yield (
            f"{wanted.overhang.animal.label} climb: bend the top {both(wanted.overhang.value_mm / 1000)} outwards, or "
            f"close it with a roof [{wanted.overhang.source}]."
        )
    if not build.closed_below:
        yield from _digging(build, wanted)
    if build.floor_down_m > build.buried_mesh_m + 1e-9:
        ends = f"the skirt ends at {both(build.buried_mesh_m)}" if build.buried_mesh_m else "no skirt goes down to it"
        yield (
            f"The mesh floor lies {both(build.floor_down_m)} down and {ends}: what digs passes between. Bury a skirt "
            "that deep."
        )
    if wanted.opening.animal and build.gap_m * 1000 > wanted.opening.value_mm and not build.strips and build.moving:
        yield (
            f"The gap of {build.gap_m * 1000:.0f} mm round the {build.moving} lets {wanted.opening.animal.label} "
            f"through, who pass more than {wanted.opening.value_mm:g} mm [{wanted.opening.source}]: put strips over it."
        )


def _digging(build: Any, wanted: Asked) -> Iterator[str]:
    """Yield where a skirt is less than those that dig ask for; deep mesh stands for an apron."""
    asks = [(wanted.buried, build.buried_mesh_m, "{} of buried mesh")]
    if build.buried_mesh_m <= DEEP_M:
        asks.append((wanted.apron, build.apron_m, "an apron of {} laid outwards"))
    for ask, has, what in asks:
        if ask.animal and has < ask.value_mm / 1000 - 1e-9:
            asked_for = what.format(both(ask.value_mm / 1000))
            yield (
                f"{ask.animal.label} dig: {asked_for} is asked for [{ask.source}], and there is "
                f"{'only ' + both(has) if has else 'none'}."
            )
