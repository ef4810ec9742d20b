"""Charts of an enclosure: what its mesh costs as animals are ticked, what its hinges pull as a gate grows wider.

A plan and a unit system come in; charts with their message as title go out.
"""

from collections.abc import Iterator
from typing import Any

from gardenframe import units
from gardenframe.builds import enclosure_gate
from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.builds.enclosure_keeps import serves
from gardenframe.builds.enclosure_laid import Laid
from gardenframe.geometry.pools import cover_all
from gardenframe.materials import constants
from gardenframe.materials.animals import find
from gardenframe.materials.coverings import load_rolls
from gardenframe.strength import gates

STEPS, KEPT = 24, 64
WIDEST_M = 2.0
FORCE = {"metric": ("N", 1.0), "us": ("lbf", 1 / units.POUND_N)}
LONG = {"metric": ("m", 1.0, 2), "us": ("ft", 1 / 0.3048, 1)}
_COSTS: dict[tuple[Any, int], tuple[Any, float]] = {}  # with the prices that they were worked out at


def charts_of(plan: Any, system: str) -> Iterator[Chart]:
    """Yield the charts of a plan."""
    yield mesh_chart(plan)
    if plan.build.gated:
        yield hinge_chart(plan, system)


def mesh_cost(build: Any, shop: Any) -> float:
    """Return what the rolls of an enclosure's mesh cost at usual prices, before tax; kept, as charts ask again."""
    key = (build, id(shop.prices))
    kept = _COSTS.get(key)
    if kept is not None and kept[0] is shop.prices:
        return kept[1]
    if len(_COSTS) >= KEPT:
        _COSTS.pop(next(iter(_COSTS)), None)
    frame = Laid(build, shop).frame()
    covered = cover_all(frame, frame.panels, load_rolls().values(), lambda one: shop.prices.price(one).usual)
    cost = float(sum(one.rolls * shop.prices.price(one.roll).usual for one in covered))
    _COSTS[key] = (shop.prices, cost)
    return cost


def coarse_first(animals: tuple[str, ...]) -> tuple[str, ...]:
    """Return animals by the opening they ask for, the widest first; those that only a floor stops last."""
    return tuple(sorted(animals, key=lambda key: (-(find(key).opening_mm or 0.0), key)))


def costs_by_animals(plan: Any) -> list[tuple[str, float, float]]:
    """Return each ticked animal, the cost of mesh against it alone, and against it and all that are coarser."""
    build, found = plan.build.changed(mesh="auto", roof_mesh="auto"), []
    order = coarse_first(plan.build.animals)
    for n, key in enumerate(order):
        alone, together = (mesh_cost(build.changed(animals=one), plan.shop) for one in ((key,), order[: n + 1]))
        found.append((key, alone, together))
    return found


def _short(label: str) -> str:
    """Return an animal's name for an axis: the first that it is called by, in two words at most.

    >>> _short("squirrels and chipmunks"), _short("spotted-wing fruit flies")
    ('squirrels', 'fruit flies')
    """
    return " ".join(label.partition(" (")[0].partition(" and ")[0].split()[-2:])


def mesh_chart(plan: Any) -> Chart:
    """Return the cost of mesh as animals are ticked, one after the other from the coarsest mesh to the finest."""
    rows = costs_by_animals(plan)
    currency = plan.shop.prices.currency
    first, last = rows[0], rows[-1]
    title = f"Against {find(first[0]).label} alone the mesh costs {first[1]:.0f} {currency}"
    if len(rows) > 1:
        title += f", against all {len(rows)} that are ticked {last[2]:.0f} {currency}"
    if not serves(plan.build.animals):
        title += "; no one mesh here keeps all of them out"
    return Chart(
        title=title, across="animals, from the widest opening to the finest", up=f"rolls of mesh, {currency}",
        names=tuple(_short(find(row[0]).label) for row in rows), every_name=True,
        lines=(
            ChartLine(name="with those before", points=tuple((float(n), row[2]) for n, row in enumerate(rows)),
                      places=True),
            ChartLine(name="alone", points=tuple((float(n), row[1]) for n, row in enumerate(rows)), dashed=True,
                      places=True),
        ),
    )  # fmt: skip


def hinge_chart(plan: Any, system: str) -> Chart:
    """Return the sideways pull of a hinge against the width of the gate, hanging alone and with a person on it."""
    gate = enclosure_gate.gates_of(plan)[0]
    unit, each = FORCE[system]
    length, long, digits = LONG[system]
    person = constants.value("lean_n")
    widths = [0.4 + (WIDEST_M - 0.4) * n / STEPS for n in range(STEPS + 1)]

    def pull(width: float, on_it: float) -> float:
        weight = gate.weight_n * width / gate.width_m  # as wide again, about as heavy again
        return gates.hinge_pull_n(weight, on_it, width, gate.apart_m) * each

    here, alone = pull(gate.width_m, person), pull(gate.width_m, 0.0)
    return Chart(
        title=f"A hinge pulls {here:.0f} {unit} with a person on the gate's far side, {alone:.0f} {unit} without",
        across=f"width of the gate, {length}", up=f"pull of a hinge, {unit}", here=round(gate.width_m * long, digits),
        lines=(
            ChartLine(name="a person on it", points=tuple((w * long, pull(w, person)) for w in widths)),
            ChartLine(name="as it hangs", points=tuple((w * long, pull(w, 0.0)) for w in widths), dashed=True),
        ),
    )  # fmt: skip
