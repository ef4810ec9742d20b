"""The package in the words of a teacher: which modules, tables and stages of the road belong to which part.

A module that is named nowhere here goes with the part of its folder, so a new one is never lost.
"""

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple


class Part(NamedTuple):
    """One part: its title, and the modules, tables and stages of the road that it takes in."""

    title: str
    modules: str = ""
    tables: str = ""
    stages: str = ""


PARTS = (
    Part("Tubes and sections", "materials.sections materials.members", "members usual_sizes constants"),
    Part("Bends and hoops", "geometry.bending geometry.bend_limits geometry.bend_marks geometry.hoops geometry.arcs "
         "geometry.hoop_couplings materials.benders", "benders"),
    Part("Cut lengths and fittings", "geometry output.scale_model materials.fittings", "fittings",
         "frame fittings pieces"),
    Part("Room to walk through", "geometry.clearance geometry.swings"),
    Part("Coverings and fixings", "materials.coverings materials.fixings geometry.coverings geometry.pools "
         "strength.ties", "coverings rolls fixings", "coverings"),
    Part("Wind", "strength.wind strength.wind_coefficients strength.wind_loads strength.building_wind strength.skins "
         "strength.strips strength.panels materials.beaufort",
         "exposures shelters beaufort lattice_wind wall_wind free_roof_wind free_roof_along_wind building_wall_wind "
         "building_roof_wind building_roof_along_wind"),
    Part("Snow and other loads", "strength.snow strength.snow_loads strength.loads strength.loads_basis "
         "strength.loading strength.cases strength.leans", "", "loads"),
    Part("Beams, posts and hoops", "strength.beams strength.bays"),
    Part("The frame as a whole", "strength", "deflection_limits", "checks"),
    Part("Steel", "strength.steel strength.members strength.capacities"),
    Part("Timber and screws", "strength.timber strength.screws", "timber_factors"),
    Part("Plastic pipe", "strength.pvc"),
    Part("Wires and cables", "strength.cables strength.wires"),
    Part("Feet in the ground", "strength.holding strength.anchors strength.anchor_rows strength.anchor_working "
         "strength.bearing strength.footing strength.overturning strength.setting strength.standing "
         "materials.anchors materials.soils", "anchors soils", "anchors"),
    Part("Soil in a bed", "strength.soil_push strength.bed_soil strength.bed_walls builds.raised_bed_soil "
         "materials.settling"),
    Part("Gates and lids", "strength.gates strength.lids builds.cold_frame_lid materials.animals", "animals"),
    Part("Sun and shade", "climate.sun climate.sky climate.shade"),
    Part("Heat and air", "climate", "air_leaks cover_heat garden_climate"),
    Part("Zinc and seasons", "climate.weathering materials.corrosion materials.lives studies.next_season "
         "studies.rotation materials.looks", "corrosion lives looks"),
    Part("Water in channels and pipes", "water builds.grow_stand_sag builds.grow_stand_water materials.pumps",
         "channels pipe_losses pipe_fittings pumps tanks carriers"),
    Part("Plants, fish and lamps", "water.fish water.lamps water.energy materials.plants",
         "plants aquaponics lamps water_crops"),
    Part("Cutting", "costs", "", "cutting"),
    Part("Bill and cost", "costs.bill costs.orders materials.prices studies.prices studies.compare",
         "prices", "bill cost"),
    Part("Builds and cautions", "builds materials output studies road", "cautions before_building ideas floors"),
)  # fmt: skip
STAGES: Mapping[str, str] = {
    "frame": "Runs, joints, parts and supports",
    "fittings": "What joins the tubes, and each end's set-back",
    "pieces": "True length, mark and count of every piece",
    "cutting": "Which piece comes from which stick",
    "coverings": "Areas, strips and fixings of what covers it",
    "loads": "Weight, wind, snow, plants, soil and people",
    "checks": "Demand, capacity and ratio of every check",
    "anchors": "What holds it in the ground",
    "bill": "What to buy, in whole packs and sticks",
    "cost": "What it costs, low, usual and high, with tax",
}
_MODULES = {name: part.title for part in PARTS for name in part.modules.split()}
_TABLES = {f"data/{name}.csv": part.title for part in PARTS for name in part.tables.split()}
_STAGES = {f"plan.{name}": part.title for part in PARTS for name in part.stages.split()}
LAST = PARTS[-1].title


def part_of(name: str) -> str:
    """Return the title of the part to which a formula, module, table or stage belongs, the innermost that is named.

    >>> part_of("strength.beams.euler_load_n"), part_of("strength.stiffness"), part_of("data/soils.csv")
    ('Beams, posts and hoops', 'The frame as a whole', 'Feet in the ground')
    """
    found = _TABLES.get(name) or _STAGES.get(name)
    while not found and name:
        found = _MODULES.get(name)
        name = name.rpartition(".")[0]
    return found or LAST


@cache
def parts_of(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return the titles of the parts to which several things belong, each once.

    >>> parts_of(("strength.wind.exposure_ratio", "data/exposures.csv", "plan.loads"))
    ('Wind', 'Snow and other loads')
    """
    return tuple(dict.fromkeys(part_of(name) for name in names))
