"""A raised bed: posts, rails and cross ties of tube round walls that hold soil, on the ground or on legs."""

import dataclasses
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from gardenframe.builds import fields, raised_bed_checks, raised_bed_fit, raised_bed_told
from gardenframe.builds.build import Build
from gardenframe.builds.chart import Chart
from gardenframe.builds.feet import foot_needs
from gardenframe.builds.method import BuildStep
from gardenframe.builds.raised_bed_charts import charts_of
from gardenframe.builds.raised_bed_laid import Laid
from gardenframe.builds.raised_bed_shape import Shape
from gardenframe.builds.raised_bed_soil import filling_of, push_case, shares_of, weight_case
from gardenframe.builds.raised_bed_steps import steps_of
from gardenframe.costs.bill import Need
from gardenframe.geometry.frame import Frame
from gardenframe.materials import members
from gardenframe.materials.coverings import load_rolls
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.strength.cases import Case
from gardenframe.strength.rows import CheckRow
from gardenframe.strength.standing import Anchoring
from gardenframe.working import Step

BAGS_M3 = {"topsoil": 0.04, "compost": 0.04, "sand": 0.015, "potting-mix": 0.056, "gravel": 0.015}
LOOSE = {"topsoil": "topsoil-m3", "compost": "compost-m3", "sand": "sand-m3", "gravel": "gravel-m3"}
OWN = (("mix", ("own",)),)
LEGS, GROUND = (("form", ("legs",)),), (("form", ("ground",)),)
WALLS = (
    ("steel-along", "corrugated steel, ribs along"),
    ("steel-upright", "corrugated steel, ribs upright"),
    ("boards-38", "boards 38 mm"),
    ("boards-19", "boards 19 mm"),
    ("fabric", "fabric hung between the rails"),
)


@dataclasses.dataclass(frozen=True, kw_only=True)
class RaisedBed(Build):
    """A raised bed. Lengths in m; every field says its limits."""

    key: ClassVar[str] = "raised_bed"
    title: ClassVar[str] = "Raised bed"
    covers_in_steps: ClassVar[bool] = True
    in_a_gust: ClassVar[str] = "keep it full, its walls on, and look at every joint afterwards"
    stronger: ClassVar[tuple[str, ...]] = ("tube", "bays", "mid_rails", "ties", "end_posts", "bearers", "stretchers")

    length_m: float = fields.length(2.44, 0.6, 7.3, "Length", "Along the front, over all.", datum="outside")
    width_m: float = fields.length(
        1.22, 0.2, 2.0, "Width", "Front to back, over all; an arm reaches in by about 610 mm (24 in).", datum="outside"
    )
    depth_m: float = fields.length(0.45, 0.15, 1.0, "Depth", "From the bottom of the bed to its rim.", datum="outside")
    form: str = fields.choice(
        "ground", [("ground", "on the ground"), ("legs", "on legs, with a floor")], "Form", "What carries the soil."
    )
    legs_m: float = fields.length(
        0.45, 0.2, 0.9, "Clear under it", "To the lowest rail; knees in a wheelchair need about 690 mm (27 in).",
        datum="clear", when=LEGS,
    )  # fmt: skip
    under: str = fields.choice(
        "soil", [("soil", "garden soil"), ("paving", "paving"), ("deck", "a deck, balcony or roof")], "Stands on",
        "What is under the bed; on a deck its weight is the first question.",
    )  # fmt: skip
    wall: str = fields.choice(
        "steel-upright", WALLS, "Wall", "Upright ribs span from rail to rail, ribs and boards along from post to post."
    )
    tube: str = fields.choice(
        "emt-1",
        [(m.key, m.label) for m in members.load_members().values() if m.family == "emt"],
        "Tube",
        "Trade size; it is a name, not a diameter.",
    )
    joining: str = fields.choice(
        "clamp-on",
        [
            ("clamp-on", "clamp-on: one tube passes, the rest stop"),
            ("slip-on", "slip-on: each tube stops in a socket"),
        ],
        "Joining",
        "How tubes are joined; it changes every cut length.",
    )
    bays: int = fields.count(3, 1, 12, "Bays", "Along the front; a post stands at every end of one.")
    mid_rails: int = fields.count(0, 0, 4, "Rails between", "Between the lowest rail and the rim, all round.")
    ties: str = fields.choice(
        "every", [("every", "at every post"), ("second", "at every second post"), ("none", "none")], "Cross ties",
        "Tubes from side to side that stop the soil from pushing the sides apart.",
    )  # fmt: skip
    mix: str = fields.choice(
        "half",
        [
            ("half", "half topsoil, half compost"), ("earthy", "60 % topsoil, 30 % compost, 10 % sand"),
            ("light", "80 % soilless potting mix, 20 % compost"), ("own", "my own"),
        ],
        "Soil mix",
        "By volume; it decides weight, push and what to buy.",
    )  # fmt: skip
    wetness: str = fields.choice(
        "soaked", [("moist", "moist"), ("soaked", "soaked, drains open"), ("flooded", "water stands in it")],
        "How wet", "What the frame is checked for: after days of rain, or with its drains blocked.",
    )  # fmt: skip
    compost_share: float = fields.number(
        "share", 0.3, 0.0, 1.0, "Compost", "Share by volume; topsoil is the rest.", when=OWN, step=0.05, step_us=0.05
    )
    sand_share: float = fields.number(
        "share", 0.1, 0.0, 1.0, "Sand", "Share by volume.", when=OWN, step=0.05, step_us=0.05
    )
    potting_share: float = fields.number(
        "share", 0.0, 0.0, 1.0, "Potting mix", "Share by volume, soilless.", when=OWN, step=0.05, step_us=0.05
    )
    sides: str = fields.choice(
        "both", [("both", "both long sides"), ("one", "one long side")], "Reached from", "Where the paths are.",
        first=False, group="Use",
    )  # fmt: skip
    worked_at: str = fields.choice(
        "any",
        [("any", "not decided"), ("chair", "from a chair"), ("edge", "sitting on its rim"), ("stand", "standing")],
        "Worked", "How you work at it: its rim is then compared with the usual heights.", first=False, group="Use",
    )  # fmt: skip
    push: str = fields.choice(
        "rest", [("rest", "at rest: the wall does not give"), ("active", "Rankine: the wall gives a little")],
        "Soil's push", "A tied frame gives little, so that at rest is the careful choice.", first=False, group="Soil",
    )  # fmt: skip
    surcharge_pa: float = fields.number(
        "pressure", 0.0, 0.0, 5000.0, "On the soil",
        "What stands or kneels on it: 1 kPa (21 psf) is 100 kg on a square metre.",
        first=False, group="Soil", step=100.0, step_us=47.88,
    )  # fmt: skip
    freeboard_m: float = fields.length(
        0.03, 0.0, 0.15, "Rim above soil", "Room for mulch, and for water to sink in.", first=False, group="Soil"
    )
    gravel_m: float = fields.length(
        0.0, 0.0, 0.15, "Gravel at the bottom", "A drain layer; it takes depth from the roots.", first=False,
        group="Soil",
    )  # fmt: skip
    settling_share: float = fields.number(
        "share", 0.15, 0.0, 0.4, "Settling", "How much new soil sinks in its first year.", first=False, group="Soil",
        step=0.01, step_us=0.01,
    )  # fmt: skip
    bags: bool = fields.flag(False, "Buy soil in bags", "Else by the whole cubic metre.", first=False, group="Soil")
    lining: bool = fields.flag(
        True,
        "Fabric lining",
        "Keeps soil off walls and in the bed; lets water out.",
        first=False,
        group="Walls",
        when=(("wall", ("steel-along", "steel-upright", "boards-38", "boards-19")),),
    )
    mesh: bool = fields.flag(
        False, "Mesh below", "Welded mesh 1/2 in against animals that dig up into it.", first=False, group="Walls",
        when=GROUND,
    )  # fmt: skip
    sag_share: float = fields.number(
        "share", 0.10, 0.03, 0.25, "Fabric bellies by", "Of its height between two rails: flatter pulls harder.",
        first=False, group="Walls", step=0.01, step_us=0.01, when=(("wall", ("fabric",)),),
    )  # fmt: skip
    fixing_spacing_m: float = fields.length(
        0.30, 0.10, 0.60, "Fixing spacing", "Along every tube that carries a wall.", first=False, group="Walls"
    )
    end_posts: int = fields.count(
        0, 0, 2, "Posts in each end", "Between the corners; they halve what an end wall spans.", first=False,
        group="Frame",
    )  # fmt: skip
    tie_at: str = fields.choice(
        "rim", [("rim", "at the rim"), ("soil", "below, in the soil")], "Upper ties lie",
        "At the rim they hold most and are in the way of a spade.", first=False, group="Frame",
        when=(("ties", ("every", "second")),),
    )  # fmt: skip
    bearers: int = fields.count(
        2, 0, 6, "Bearers in each bay", "Tubes under the floor, besides those at the posts.", first=False,
        group="Frame", when=LEGS,
    )  # fmt: skip
    held: bool = fields.flag(
        False, "Feet held down", "Driven stakes in soil, screws in a deck; else its feet stand free.", first=False,
        group="Frame", when=LEGS,
    )  # fmt: skip
    braces: bool = fields.flag(
        True, "Knee braces", "From each corner leg to the rail above, along front and back.", first=False,
        group="Frame", when=LEGS,
    )  # fmt: skip
    stretchers: str = fields.choice(
        "ends", [("none", "none"), ("ends", "between the legs of each end"), ("round", "all round")],
        "Rails between legs", "Near the ground: they stop the legs from swaying.", first=False, group="Frame",
        when=LEGS,
    )  # fmt: skip

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Salads and roots, 4 by 8 ft (plot 2, invented)": {},
        "From a chair, knees under it (school plot, invented)": {
            "form": "legs", "legs_m": 0.48, "length_m": 1.22, "width_m": 0.6, "depth_m": 0.22, "mix": "light",
            "wall": "boards-19", "bays": 1, "bearers": 3, "worked_at": "chair", "sides": "one", "held": True,
            "bags": True,
        },
        "Standing at it, fabric walls (plot 9, invented)": {
            "length_m": 1.83, "width_m": 0.9, "depth_m": 0.80, "wall": "fabric", "mid_rails": 3, "bays": 3,
            "worked_at": "stand", "tie_at": "soil",
        },
        "Herbs on a balcony (house by the gate, invented)": {
            "under": "deck", "length_m": 1.2, "width_m": 0.5, "depth_m": 0.22, "mix": "light", "sides": "one",
            "bays": 1, "wall": "boards-19", "bags": True, "tube": "emt-3/4", "ties": "none", "freeboard_m": 0.02,
            "mesh": True,
        },
        "Long bed of old boards (plots 12 to 14, invented)": {
            "length_m": 4.88, "width_m": 1.2, "depth_m": 0.30, "wall": "boards-38", "bays": 5, "mix": "earthy",
        },
        "Deep bed over mesh, gophers about (plot 5, invented)": {
            "depth_m": 0.60, "mid_rails": 1, "mesh": True, "worked_at": "edge", "tube": "emt-1-1/4",
            "bays": 3,
        },
    }  # fmt: skip

    @property
    def shared_m2(self) -> float | None:
        """Area of the bed: a chart shows the cost of a square metre. [m²]"""
        return self.length_m * self.width_m

    def fit_together(self) -> None:
        """Refuse sizes that do not go together, each with what would do."""
        raised_bed_fit.fit(self)

    # --- frame and loads

    def frame(self, shop: Shop) -> Frame:
        """Return the frame as runs, supports and panels."""
        return Laid(self, shop).frame()

    def contents(self, frame: Frame, site: Site) -> Iterator[Case]:
        """Yield the soil's push on rails or posts, and on legs its weight on the floor."""
        corner = frame.joints["front 1 low"]
        shape = Shape(self, 2 * corner.y_m)  # the tube as it was laid
        yield push_case(self, frame, shape)
        if shape.on_legs:
            yield weight_case(self, frame, shape)

    def anchoring(self) -> Anchoring:
        """Return whether the soil stands on the ground and counts as weight, and what it is."""
        fill = "potting-mix" if shares_of(self).get("potting-mix", 0.0) > 0.2 else "bed-mix"
        if self.form == "legs":
            return Anchoring(bed="none", fill=fill)
        return Anchoring(bed="bottom" if self.mesh else "open", fill=fill)

    # --- what goes with it

    def checks(self, plan: Any) -> Iterator[CheckRow]:
        """Yield wall, floor, reach and the deck under it."""
        yield from raised_bed_checks.rows(plan)

    def working(self, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
        """Yield the soil's push, rail or post, wall, volumes, deck and zinc."""
        yield from raised_bed_told.working(plan, system)

    def charts(self, plan: Any, system: str) -> Iterator[Chart]:
        """Yield the soil's push against depth, and stress against the depth of the bed."""
        yield from charts_of(plan, system)

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield feet, soil by component, gravel and lining."""
        yield from foot_needs(plan.frame, self.tube)
        legs = sum(support.base in ("floor", "deck") for support in plan.frame.supports) if self.form == "legs" else 0
        if legs:
            yield Need(item=f"foot-{self.tube}", number=legs, group="feet")
        if legs and self.held:
            yield Need(item="screw-wood-10", number=4 * legs, group="feet", spare=True)
        shape = raised_bed_checks.shape_of(plan)
        filling = filling_of(self, shape)
        needed = dict(filling.bought_m3) | ({"gravel": filling.gravel_m3} if filling.gravel_m3 else {})
        for key, volume in needed.items():
            if self.bags or key not in LOOSE:
                yield Need(item=f"{key}-bag", number=math.ceil(volume / BAGS_M3[key] - 1e-9), group="soil")
            else:
                yield Need(item=LOOSE[key], number=round(volume, 3), group="soil")
        if self.lining and self.wall != "fabric":
            roll = next(roll for roll in load_rolls().values() if roll.covering == "bed-fabric")
            area = roll.width_mm * roll.length_mm / 1e6
            yield Need(item=roll.key, number=math.ceil(filling.lining_m2 * 1.1 / area), group="soil", note="lining")

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how frame, walls and soil go together."""
        yield from steps_of(plan)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from ("raised_bed", "lifting")
        if self.wall.startswith("steel"):
            yield from ("zinc_soil", "sharp_sheet")
        if self.wall.startswith("boards") or self.form == "legs":
            yield from ("treated_timber", "timber")
        if self.under == "deck":
            yield "deck"
        if self.mesh and self.form == "ground":
            yield "welded_mesh"
        if self.form == "legs":
            yield "bed_on_legs"

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what to know before buying: deck, height of the rim, top-up, zinc, treated boards."""
        yield from raised_bed_told.warnings(plan)
