"""A hoop house: from a portable cover over a bed to a house to walk into; half circle, flatter hoop, or gable."""

import dataclasses
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from gardenframe.builds import (
    fields,
    hoop_house_charts,
    hoop_house_fit,
    hoop_house_goods,
    hoop_house_heat,
    hoop_house_steps,
)
from gardenframe.builds.build import Build
from gardenframe.builds.chart import Chart
from gardenframe.builds.feet import BASES
from gardenframe.builds.fields import both
from gardenframe.builds.hoop_house_laid import Laid
from gardenframe.builds.hoop_house_shape import Section
from gardenframe.builds.hoop_house_shown import bodies, dimensions
from gardenframe.builds.method import BuildStep
from gardenframe.costs.bill import Need
from gardenframe.geometry import bending, hoops
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.pieces import Loose
from gardenframe.materials import coverings, members, usual
from gardenframe.materials.benders import Bender, bender_for, with_ends
from gardenframe.materials.shop import Shop
from gardenframe.working import Step

FORMS = (
    ("half circle", "half circle on straight legs"),
    ("segment", "flatter hoop: part of a circle"),
    ("gable", "gable: straight tubes and swivels, nothing bent"),
)
KINDS = ("film", "shade_cloth", "insect_net")
LEAST_BAY_M = 0.3
WALK_IN_M = 1.7
LEG_DEG = 45.0  # flatter legs push their feet apart


@dataclasses.dataclass(frozen=True, kw_only=True)
class HoopHouse(Build):
    """A covered house on hoops. Lengths in m; every field says its limits."""

    key: ClassVar[str] = "hoop_house"
    title: ClassVar[str] = "Hoop house"
    charted: ClassVar[str] = "width_m"
    covers_in_steps: ClassVar[bool] = True
    stronger: ClassVar[tuple[str, ...]] = (
        "buried_m", "hoop_spacing_m", "tube", "purlins", "braces", "end_walls", "base", "form",
    )  # fmt: skip
    nearer: ClassVar[tuple[str, ...]] = ("hoop_spacing_m",)

    form: str = fields.choice("half circle", FORMS, "Form", "What spans from side to side.")
    width_m: float = fields.length(
        3.05, 0.6, 6.0, "Width", "At the ground, over the outer faces of the tubes.", datum="outside"
    )
    length_m: float = fields.length(
        4.88, 0.9, 15.0, "Length", "Over the outer faces of the end hoops.", datum="outside"
    )
    wall_m: float = fields.length(
        0.45,
        0.0,
        2.0,
        "Side walls",
        "Height of the straight legs, from the ground to the start of the bend or the eaves.",
    )
    height_m: float = fields.length(
        2.1, 0.4, 3.6, "Height", "From the ground to the top; that of a half circle follows from its width and walls.",
        when=(("form", ("segment", "gable")),), datum="outside",
    )  # fmt: skip
    hoop_spacing_m: float = fields.length(
        1.05, 0.4, 2.4, "Hoop spacing, at most", "From hoop to hoop: the nearer, the more snow and wind it carries.",
        datum="centre to centre",
    )  # fmt: skip
    purlins: int = fields.count(2, 0, 5, "Purlins at each side", "Tubes along the house, beside the ridge.")
    tube: str = fields.choice(
        "emt-1-1/4",
        [(m.key, m.label) for m in members.load_members().values() if m.family == "emt" and m.key != "emt-2"],
        "Tube",
        "Trade size; it is a name, not a diameter.",
    )
    base: str = fields.choice("sleeves", (*BASES[1:], *BASES[:1]), "Base", "What the feet are held by.")
    covering: str = fields.choice(
        "film-6mil",
        [(c.key, c.label) for c in coverings.load_coverings().values() if c.kind in KINDS],
        "Covering",
        "What is stretched over the hoops and the ends.",
    )
    end_walls: bool = fields.flag(True, "End walls", "Both ends closed with the covering.")
    door: str = fields.choice(
        "front", [("none", "none"), ("front", "at the front"), ("both ends", "at both ends")], "Door",
        "A framed opening with a light leaf hinged at its left post.", when=(("end_walls", (True,)),),
    )  # fmt: skip
    door_width_m: float = fields.length(
        0.91, 0.3, 2.4, "Door width", "Between its posts.",
        when=(("end_walls", (True,)), ("door", ("front", "both ends"))),
        datum="clear",
    )  # fmt: skip
    door_height_m: float = fields.length(
        1.65, 0.3, 2.4, "Door height", "From the ground to its header.",
        when=(("end_walls", (True,)), ("door", ("front", "both ends"))), datum="clear",
    )  # fmt: skip
    braces: bool = fields.flag(
        True, "Wind braces", "A slanting tube in each end bay of both sides stops the house leaning along its length."
    )
    bed_depth_m: float = fields.length(
        0.28, 0.15, 0.9, "Bed depth", "Height of the bed's boards.", when=(("base", ("timber bed",)),)
    )
    buried_m: float = fields.length(
        0.45, 0.3, 0.9, "Driven depth", "Of stakes and sleeves in the ground.", first=False, group="Base",
        when=(("base", ("stakes", "sleeves")),),
    )  # fmt: skip
    base_boards: bool = fields.flag(
        True, "Base boards", "A board along each side, to batten the lower edge of the covering to.", first=False,
        group="Base", when=(("base", ("stakes", "sleeves")),),
    )  # fmt: skip
    roll_up: bool = fields.flag(
        False, "Roll-up sides", "The lower part of each side winds up on a tube to let air in.", first=False,
        group="Covering",
    )  # fmt: skip
    roll_up_m: float = fields.length(
        0.8, 0.4, 1.5, "Roll-up height", "Of the rail above the opening.", first=False, group="Covering",
        when=(("roll_up", (True,)),),
    )  # fmt: skip
    one_piece: bool = fields.flag(
        False, "Cover in one piece", "Only rolls as wide as the whole; else strips are joined where it costs less.",
        first=False, group="Covering",
    )  # fmt: skip
    held_m: float = fields.length(
        0.0, 0.0, 0.6, "Straight end that the jig holds",
        "What yours cannot bend at each end of a tube; 0 takes our invented table.", first=False, group="Bends",
        when=(("form", ("half circle", "segment")),),
    )  # fmt: skip
    overlap_m: float = fields.length(
        0.15, 0.0, 0.5, "Overlap", "Of neighbouring strips of covering.", first=False, group="Covering"
    )
    wrap_m: float = fields.length(
        0.30, 0.05, 0.80, "Burial or wrap", "Covering beyond every edge, to bury or to batten.", first=False,
        group="Covering",
    )  # fmt: skip
    clip_spacing_m: float = fields.length(
        0.50, 0.15, 1.0, "Clip spacing", "Along every tube that carries the covering.", first=False, group="Covering"
    )
    glazing: str = fields.choice(
        "film-single", hoop_house_heat.GLAZINGS, "Glazing, for heat", "How the film is laid: it changes the heat lost.",
        first=False, group="Heat and air", when=(("covering", ("film-6mil",)), ("end_walls", (True,))),
    )  # fmt: skip
    keep_degc: float = fields.number(
        "temperature", 4.0, 0.0, 18.0, "Kept at night", "Temperature that a heater should hold inside.", first=False,
        group="Heat and air", when=(("covering", ("film-6mil",)), ("end_walls", (True,))), step=1.0, step_us=5 / 9,
    )  # fmt: skip
    month: str = fields.choice(
        "mar", hoop_house_heat.MONTHS, "Month",
        "Its coldest night, clear noon and shadow, in the invented garden's climate.",
        first=False, group="Heat and air",
    )  # fmt: skip

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Walk-in house, 10 by 16 ft (Millbrook Lane, plot 14, invented)": {},
        "Cover over a bed (plot 3, invented)": {
            "width_m": 1.22, "length_m": 2.44, "wall_m": 0.3, "hoop_spacing_m": 0.8, "purlins": 0, "tube": "emt-1/2",
            "base": "timber bed", "end_walls": False, "braces": False, "wrap_m": 0.15,
        },
        "Flatter house for salads (plot 8, invented)": {
            "form": "segment", "width_m": 2.6, "length_m": 4.0, "wall_m": 0.3, "height_m": 1.5, "tube": "emt-1",
            "door": "none", "hoop_spacing_m": 1.0,
        },
        "Gable house, nothing bent (school plot, invented)": {
            "form": "gable", "width_m": 2.44, "length_m": 3.66, "wall_m": 1.3, "height_m": 2.15, "purlins": 1,
            "hoop_spacing_m": 0.95, "door_height_m": 1.65,
        },
        "Net tunnel against the cabbage white (plot 12, invented)": {
            "width_m": 1.6, "length_m": 6.0, "wall_m": 0.2, "hoop_spacing_m": 1.5, "purlins": 0, "tube": "emt-3/4",
            "base": "stakes", "covering": "insect-net-1.3", "door": "none", "braces": False, "base_boards": False,
        },
        "Long house with roll-up sides (market rows, invented)": {
            "width_m": 3.2, "length_m": 14.6, "wall_m": 0.7, "hoop_spacing_m": 0.8, "purlins": 2, "roll_up": True,
            "door": "both ends", "door_width_m": 1.07, "door_height_m": 1.75, "buried_m": 0.6,
        },
    }  # fmt: skip

    # --- what follows from the fields

    @property
    def soil_m(self) -> float:
        """Level of the soil above the ground. [m]"""
        return self.bed_depth_m if self.base == "timber bed" else 0.0

    @property
    def shared_m2(self) -> float:
        """Floor area. [m²]"""
        return self.width_m * self.length_m

    def section(self, outer_m: float) -> Section:
        """Return the line of the hoops on their axis."""
        half = (self.width_m - outer_m) / 2
        top = self.wall_m + half if self.form == "half circle" else self.height_m - outer_m / 2
        return Section(self.form, half, self.wall_m, top, self.buried_m if self.base == "sleeves" else 0.0)

    def bays(self, outer_m: float) -> int:
        """Return the number of spaces between hoops."""
        return max(1, math.ceil((self.length_m - outer_m) / self.hoop_spacing_m - 1e-9))

    def fit_together(self) -> None:
        """Refuse sizes that do not go together."""
        hoop_house_fit.check(self, members.find(self.tube).outer_mm / 1000)

    # --- the frame

    def frame(self, shop: Shop) -> Frame:
        """Return the house as runs, supports and panels."""
        laid = Laid(self, shop)
        if self.form != "gable":
            hoop_house_fit.check_couplings(self, laid, shop)
        return laid.frame(bodies(self, laid), dimensions(self, laid))

    # --- what goes with it

    def benders(self) -> Mapping[str, Bender] | None:
        """Return our benders, with the straight ends that the reader measured."""
        return with_ends(self.held_m)

    def extra_pieces(self, plan: Any) -> Iterator[Loose]:
        """Yield leaves of doors, base boards and the tubes that roll-up sides wind on."""
        yield from hoop_house_goods.pieces(self, plan)

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield what holds the feet, and the small goods of doors, boards and roll-up sides."""
        yield from hoop_house_goods.needs(self, plan)

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how it is put together and stood up."""
        yield from hoop_house_steps.steps(self, plan)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from ("hoop", "standing_up", "climbing", "children", "ladder", "snow")
        if self.form != "gable":
            yield "bending"
        if self.base != "timber bed":
            yield from ("ground", "digging", "stakes" if self.base == "stakes" else "sleeve")
        else:
            yield "timber"
        kind = coverings.load_coverings()[self.covering].kind
        yield kind
        if kind == "film":
            yield from ("heat", "heater")
        if self.end_walls and self.door != "none":
            yield from ("gate", "walk_in")

    def working(self, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
        """Yield the hoop and its jig, then heat and air."""
        outer = plan.shop.member(self.tube).outer_mm / 1000
        section = self.section(outer)
        if self.form != "gable":
            turn = 2 * math.degrees(section.slope_rad)
            member = plan.shop.member(self.tube)
            jig = hoops.jig_radius_mm(section.radius_m * 1000, member)
            held = bender_for(self.tube, "jig", self.benders())
            stick = plan.shop.longest_piece_mm(self.tube)
            yield (
                "Hoop",
                [
                    bending.arc_length_mm.shown(section.radius_m * 1000, turn, system=system),
                    hoops.widest_hoop_mm.shown(stick, held.near_mm, held.far_mm, system=system),
                    bending.spring_ratio.shown(
                        jig, hoops.yield_of_mpa(member), member.modulus_gpa * 1000, member.outer_mm, system=system
                    ),
                    bending.sprung_radius_mm.shown(jig, hoops.kept_ratio(jig, member), system=system),
                ],
            )
        yield from hoop_house_heat.working(self, section, plan, system)

    def charts(self, plan: Any, system: str) -> Iterator[Chart]:
        """Yield heater by glazing, noon by month, cost of a season by life, and sun left for a neighbour."""
        yield from hoop_house_charts.charts_of(plan, system)

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what is beyond what people build."""
        outer = plan.shop.member(self.tube).outer_mm / 1000
        size = usual.load_usual_sizes().get(self.tube)
        top = self.section(outer).top_m + outer / 2
        if size and self.width_m > 2.4 * size.longest_bay_m:
            yield (
                f"{both(self.width_m)} is wider than people build in this tube: take the next size, and look at what "
                "snow and wind ask for."
            )
        if self.end_walls and self.door != "none" and top < WALK_IN_M:
            yield f"The ridge is {both(top)} high: nobody stands upright in it."
        if self.covering.startswith("film") and not self.roll_up and self.length_m > 12:
            yield "A long house without roll-up sides gets its air from the ends only: the middle overheats."
