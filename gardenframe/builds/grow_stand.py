"""A grow stand: tiers of channels, trays, tubs or buckets with water, lamps over each, a tank and pump below."""

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, ClassVar

from gardenframe.builds import fields, grow_stand_fit, grow_stand_goods, grow_stand_pipes, grow_stand_told
from gardenframe.builds.build import Build
from gardenframe.builds.chart import Chart
from gardenframe.builds.grow_stand_charts import charts_of
from gardenframe.builds.grow_stand_laid import Laid, water_case
from gardenframe.builds.grow_stand_shape import Shape
from gardenframe.builds.grow_stand_water import Water
from gardenframe.builds.method import BuildStep
from gardenframe.costs.bill import Need
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.pieces import Loose
from gardenframe.kept import cached_property
from gardenframe.materials import members
from gardenframe.materials.pumps import load_pumps
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.materials.stands import load_carriers, load_crops, load_floors, load_lamps, load_tanks
from gardenframe.materials.water import load_channels
from gardenframe.strength.cases import Case
from gardenframe.strength.limits import Limit
from gardenframe.strength.rows import CheckRow
from gardenframe.working import Step

CHANNELS = tuple(load_channels())
SIZES = [m for m in members.load_members().values() if m.family == "emt" and m.key not in ("emt-1/2", "emt-2")]


@dataclasses.dataclass(frozen=True, kw_only=True)
class GrowStand(Build):
    """A grow stand with water, light and plumbing. Lengths in m; every field says its limits."""

    key: ClassVar[str] = "grow_stand"
    title: ClassVar[str] = "Grow stand"
    indoors: ClassVar[bool] = True
    charted: ClassVar[str] = "length_m"

    length_m: float = fields.length(1.83, 0.6, 4.5, "Length", "Along the front, over the end posts.", datum="outside")
    depth_m: float = fields.length(
        0.61, 0.3, 1.2, "Depth", "Front to back, over all; an arm reaches about 0.6 m (2 ft) in.", datum="outside"
    )
    height_m: float = fields.length(2.20, 0.7, 2.6, "Height", "From the floor to the top rails, which carry lamps.")
    tiers: int = fields.count(3, 1, 6, "Tiers", "Shelves one above the other, evenly spaced.")
    low_m: float = fields.length(
        0.63, 0.3, 1.2, "Lowest shelf", "From the floor to its rails' top at the drain end: the tank stands below."
    )
    carries: str = fields.choice(
        "flat-100",
        [
            *((row.key, row.label) for row in load_channels().values()),
            *((row.key, row.label) for row in load_carriers().values()),
        ],
        "Carries",
        "What the water runs through on each tier.",
    )
    rows: int = fields.count(
        3, 1, 10, "Channels on a tier", "Side by side across the depth.", when=(("carries", CHANNELS),)
    )
    crop: str = fields.choice(
        "lettuce", [(row.key, row.label) for row in load_crops().values()], "Crop", "What grows in it."
    )
    plants_each: int = fields.count(
        30, 0, 60, "Most plants in each", "In each channel, tray, tub or bucket; no more than its crop has room for."
    )
    slope_share: float = fields.number(
        "share", 0.025, 0.0, 0.033, "Slope", "Fall of the channels along their length: 2.5 % is 1 in 40.",
        when=(("carries", CHANNELS),), step=0.001, step_us=0.001,
    )  # fmt: skip
    flow_l_per_min: float = fields.number(
        "number", 1.0, 0.2, 2.0, "Flow into each, L/min", "Channels take 0.5 at planting to 2.", step=0.1, step_us=0.1
    )
    tank: str = fields.choice(
        "tank-50", [(row.key, row.label) for row in load_tanks().values()], "Tank", "On the floor below."
    )
    pump: str = fields.choice(
        "large-45",
        [(row.key, row.label) for row in load_pumps().values()],
        "Pump",
        "In the tank; the table is invented.",
    )
    lamp: str = fields.choice(
        "bar-36", [(row.key, row.label) for row in load_lamps().values()], "Lamp", "Hung over every tier; invented."
    )
    lamps: int = fields.count(4, 1, 12, "Lamps over a tier", "Spread evenly.")
    lamp_m: float = fields.length(
        0.08, 0.0, 1.0, "Lamps over plants", "From the tops of grown plants up to the lamps, on adjustable hangers."
    )
    lit_h: float = fields.number(
        "number", 16.0, 4.0, 24.0, "Hours of light a day", "By a timer.", step=0.5, step_us=0.5
    )
    tube: str = fields.choice("emt-1", [(m.key, m.label) for m in SIZES], "Tube", "Trade size; it is a name.")
    stands: str = fields.choice(
        "wall",
        [("wall", "against a wall, tied to it"), ("free", "free in the room")],
        "Stands",
        "Indoors, out of wind.",
    )
    joining: str = fields.choice(
        "clamp-on",
        [("clamp-on", "clamp-on: one tube passes, the rest stop"), ("slip-on", "slip-on: each stops in a socket")],
        "Joining", "How tubes are joined; it changes every cut length.", first=False, group="Frame",
    )  # fmt: skip
    bays: int = fields.count(
        1, 1, 4, "Bays", "From one pair of posts to the next: more of them, less sag.", first=False, group="Frame"
    )
    bearers: int = fields.count(
        3,
        1,
        8,
        "Bearers in a bay",
        "Tubes across each shelf between the posts; under trays as many as each needs to rest on two.",
        first=False,
        group="Frame",
    )
    braces: str = fields.choice(
        "all",
        [("none", "none"), ("back", "across the back"), ("all", "across the back and up both ends")],
        "Braces",
        "Diagonals outside the posts, held by clamped couplers.",
        first=False,
        group="Frame",
        when=(("joining", ("clamp-on",)),),
    )
    feet: str = fields.choice(
        "feet",
        [("feet", "levelling feet, 40 mm"), ("plates", "feet on plates, 150 mm"), ("castors", "castors with brakes")],
        "Feet", "What the posts stand on.", first=False, group="Frame",
    )  # fmt: skip
    floor: str = fields.choice(
        "slab", [(row.key, row.label) for row in load_floors().values()], "Floor", "What the feet press on.",
        first=False, group="Frame",
    )  # fmt: skip
    blocked: bool = fields.flag(
        True, "Weighed to the brim", "As if a root had blocked every drain; else half full, or as deep as chosen.",
        first=False, group="Water",
    )  # fmt: skip
    water_m: float = fields.length(
        0.04, 0.01, 0.36, "Depth of water", "In trays, tubs or buckets.", first=False, group="Water",
        when=(("carries", tuple(load_carriers())),),
    )  # fmt: skip
    fed: str = fields.choice(
        "each", [("each", "each from the pump"), ("in turn", "the top one; each then feeds the one below")],
        "Channels are fed", "In turn, every second tier slopes the other way.", first=False, group="Water",
        when=(("carries", CHANNELS),),
    )  # fmt: skip
    pipe: str = fields.choice(
        "pvc-3/4", [(f"pvc-{size}", f"PVC {size} in") for size in ("1/2", "3/4", "1")], "Supply pipe",
        "From the pump up to the tiers.", first=False, group="Water",
    )  # fmt: skip
    pump_h: float = fields.number(
        "number", 24.0, 0.5, 24.0, "Pump runs, hours a day", "Channels day and night; trays a few floods.", step=0.5,
        step_us=0.5, first=False, group="Water",
    )  # fmt: skip
    fish: bool = fields.flag(
        False, "Fish feed the plants", "Shows feed, fish and their tank for this growing area.", first=False,
        group="Water",
    )  # fmt: skip
    energy_price: float = fields.number(
        "number", 0.15, 0.0, 2.0, "Price of a kWh", "From your bill, in the currency of your prices; ours is invented.",
        step=0.01, step_us=0.01, first=False, group="Energy",
    )  # fmt: skip

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Lettuce in channels along the shed wall (Millbrook Lane, invented)": {},
        "Basil in flood trays on castors (school plot, invented)": {
            "length_m": 1.25, "depth_m": 0.75, "height_m": 1.55, "tiers": 2, "low_m": 0.55, "carries": "tray-600",
            "crop": "basil", "lamps": 3, "lamp_m": 0.06, "stands": "free", "feet": "castors",
            "water_m": 0.03, "flow_l_per_min": 1.5, "pump_h": 2.0, "tank": "tank-90", "bearers": 2, "blocked": False,
        },
        "Basil on rafts over fish (plot 11, invented)": {
            "length_m": 2.45, "depth_m": 0.61, "height_m": 1.9, "tiers": 2, "low_m": 0.65, "carries": "raft-1200",
            "crop": "basil", "lamp": "board-120", "lamps": 2, "lamp_m": 0.03, "lit_h": 11.0, "bays": 2,
            "bearers": 3, "water_m": 0.15, "tank": "tank-150", "fish": True, "flow_l_per_min": 2.0, "tube": "emt-1-1/4",
        },
        "Tomatoes in buckets, one tier (plot 7, invented)": {
            "length_m": 1.9, "depth_m": 0.7, "height_m": 1.6, "tiers": 1, "low_m": 0.5, "carries": "bucket-20",
            "crop": "dwarf-tomato", "lamp": "board-120", "lamps": 3, "lamp_m": 0.12, "water_m": 0.28,
            "bays": 2, "flow_l_per_min": 0.5, "pump": "middle-20", "lit_h": 14.0, "blocked": False,
        },
        "One stream from top to bottom (gate shed, invented)": {
            "length_m": 2.4, "depth_m": 0.61, "height_m": 2.35, "tiers": 4, "carries": "round-75",
            "rows": 3, "fed": "in turn", "slope_share": 0.02, "bays": 2, "bearers": 1, "lamps": 5,
            "lamp_m": 0.04, "flow_l_per_min": 1.5, "tank": "tank-90", "low_m": 0.55,
        },
    }  # fmt: skip

    @cached_property
    def shape(self) -> Shape:
        """Where everything is."""
        return Shape(self)

    @cached_property
    def water(self) -> Water:
        """What flows, stands and is lifted."""
        return Water(self.shape)

    @property
    def shared_m2(self) -> float:
        """Growing area, over which a chart shares the cost. [m²]"""
        return self.length_m * self.depth_m * self.tiers

    def fit_together(self) -> None:
        """Refuse what does not go together, each with what would do."""
        grow_stand_fit.refuse(self)

    def frame(self, shop: Shop) -> Frame:
        """Return the frame: posts, shelves, bearers, top rails, braces, ties to the wall."""
        return Laid(self, shop).frame()

    # --- what goes with it -------------------------------------------------------------------------------------

    def contents(self, frame: Frame, site: Site) -> Iterable[Case]:
        """Return the water with all that stands and hangs on the tiers."""
        return (water_case(self, frame),)

    def limits(self, plan: Any) -> Iterable[Limit]:
        """Return none: it stands indoors."""
        return ()

    def checks(self, plan: Any) -> Iterator[CheckRow]:
        """Yield the slope left under load, tipping empty and top-heavy, and what the floor carries."""
        yield from grow_stand_told.rows(plan)

    def working(self, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
        """Yield film, slope, pump, tank, light, energy, tipping, fish."""
        yield from grow_stand_told.working(plan, system)

    def charts(self, plan: Any, system: str) -> Iterator[Chart]:
        """Yield the channel under load, the slope left, pump against system, energy of a head."""
        yield from charts_of(plan, system)

    def extra_pieces(self, plan: Any) -> Iterator[Loose]:
        """Yield the pieces of supply and drain pipe."""
        yield from grow_stand_pipes.pipes(plan)

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield channels or trays, pipe fittings, pump, tank, lamps and small goods."""
        yield from grow_stand_goods.needs(plan)

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how frame, water and light are put together."""
        yield from grow_stand_goods.steps(plan)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from ("water_stand", "electricity", "water", "lamp", "lifting", "pvc")
        if self.fish:
            yield "fish"

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what lies outside usual ranges: water, light, tank, fish, slope under load."""
        yield from grow_stand_told.warnings(plan)
