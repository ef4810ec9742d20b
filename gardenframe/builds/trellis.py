"""A trellis: flat, as an A, or sloped; in a timber bed, on a tube bed, on stakes or in ground sleeves."""

import dataclasses
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from gardenframe.builds import fields
from gardenframe.builds.build import Build
from gardenframe.builds.feet import BASES, DRIVEN, foot_needs
from gardenframe.builds.fields import both
from gardenframe.builds.method import BuildStep
from gardenframe.builds.trellis_laid import BED_FOOT_M, BED_SPACE_M, BOTTOM_RAIL_M, Laid, apex_drop_m
from gardenframe.builds.trellis_shown import bodies, dimensions, panels
from gardenframe.costs.bill import Need
from gardenframe.geometry import lengths
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.lines import lay
from gardenframe.materials import coverings, members, plants, usual
from gardenframe.materials.shop import Shop
from gardenframe.strength.standing import Anchoring
from gardenframe.working import Step

FORMS = (("flat", "flat"), ("A-frame", "A-frame, two leaning panels"), ("sloped", "sloped, with props"))
LEAST_SPACE_M = 0.15  # between rails
BRACED_SPACE_M, BRACED_BAY_M = 0.35, 0.30  # least space and bay in which a corner brace clears the other joints
LONGEST_BAY_M = 3.0  # so that no rail is coupled in mid-span
COUNTED = ("strap", "stake", "stay stake", "sleeve", "foot")  # bases that take time, one each
HOLD = DRIVEN | {  # base -> how the feet are held, and with what
    "timber bed": (
        "Screw a strap round each post at both marks on the bed, two lag screws each.",
        "drill, lag screws, straps",
    ),
    "tube bed": ("Fill the bed behind and in front of the posts; tread the soil firm.", "shovel"),
}


@dataclasses.dataclass(frozen=True, kw_only=True)
class Trellis(Build):
    """A support for climbing plants. Lengths in m, angles in degrees; every field says its limits."""

    key: ClassVar[str] = "trellis"
    title: ClassVar[str] = "Trellis"
    stronger: ClassVar[tuple[str, ...]] = (
        "tube",
        "bays",
        "braces",
        "stays",
        "bottom",
        "buried_m",
        "base",
        "joining",
        "covering",
    )

    form: str = fields.choice("flat", FORMS, "Form", "Flat stands upright; an A stands by itself; a slope leans back.")
    width_m: float = fields.length(
        1.83, 0.4, 9.0, "Width", "Along the bed, over the outer faces of the end posts.", datum="outside"
    )
    height_m: float = fields.length(
        1.83, 0.4, 3.0, "Height", "From the soil to the top of the frame.", datum="above soil"
    )
    bays: int = fields.count(2, 1, 12, "Bays", "Spaces between posts: more bays, stiffer rails, more fittings.")
    mid_rails: int = fields.count(1, 0, 10, "Mid rails", "Rails between the bottom one and the top one.")
    plant: str = fields.choice(
        "pole-bean", [(p.key, p.label) for p in plants.load_plants().values()], "Plant", "What is to climb it."
    )
    covering: str = fields.choice(
        "trellis-net-150",
        [("none", "none")]
        + [
            (c.key, c.label)
            for c in coverings.load_coverings().values()
            if c.kind in ("trellis_net", "welded_mesh", "poultry_net")
        ],
        "Covering",
        "What the plants hold on to.",
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
            ("clamp-on", "clamp-on: one passes, the rest stop"),
            ("slip-on", "slip-on: each stops in a socket"),
            ("bolted", "bolted: they pass side by side"),
        ],
        "Joining",
        "How tubes are joined; it changes every cut length.",
    )
    base: str = fields.choice(
        "timber bed", (*BASES[:1], ("tube bed", "a bed framed in tube"), *BASES[1:]), "Base", "What it stands in or on."
    )
    bed_depth_m: float = fields.length(
        0.28, 0.15, 0.9, "Bed depth", "Height of the bed's boards.", when=(("base", ("timber bed", "tube bed")),)
    )
    bed_width_m: float = fields.length(
        0.91, 0.4, 2.4, "Bed width", "Front to back, outside.", first=False, group="Base",
        when=(("base", ("timber bed", "tube bed")), ("form", ("flat",))), datum="outside",
    )  # fmt: skip
    bottom: bool = fields.flag(
        True, "Bottom under the soil", "A mesh fixed to the bed under the soil: the soil then holds the trellis down.",
        first=False, group="Base", when=(("base", ("timber bed", "tube bed")),),
    )  # fmt: skip
    spread_m: float = fields.length(
        0.9, 0.3, 3.0, "Spread", "Between the feet of the two panels.", when=(("form", ("A-frame",)),),
        datum="centre to centre",
    )  # fmt: skip
    slope_deg: float = fields.number(
        "angle", 65.0, 40.0, 85.0, "Slope", "Of the panel, from level.", when=(("form", ("sloped",)),)
    )
    braces: bool = fields.flag(
        False, "Corner braces", "A short slanting tube in each top corner stops it leaning sideways.",
        first=False, group="Braces and stays", when=(("form", ("flat", "A-frame", "sloped")),),
    )  # fmt: skip
    stays: str = fields.choice(
        "none", [("none", "none"), ("end posts", "end posts"), ("every post", "every post")], "Back stays",
        "A slanting tube from a post to a stake behind it.", first=False, group="Braces and stays",
        when=(("form", ("flat",)), ("base", ("stakes", "sleeves"))),
    )  # fmt: skip
    buried_m: float = fields.length(
        0.45, 0.3, 0.9, "Driven depth", "Of stakes and sleeves in the ground.", first=False, group="Base",
        when=(("base", ("stakes", "sleeves")),),
    )  # fmt: skip
    fixing: str = fields.choice(
        "ties", [("ties", "cable ties"), ("wire", "tie wire"), ("woven", "woven over the tubes")], "Fixing",
        "How the covering is held to the tubes.", first=False, group="Covering",
    )  # fmt: skip
    tie_spacing_m: float = fields.length(
        0.30, 0.10, 0.60, "Tie spacing", "Along every tube that carries the covering.", first=False, group="Covering"
    )
    overlap_m: float = fields.length(
        0.10, 0.0, 0.30, "Overlap", "Of neighbouring strips of covering.", first=False, group="Covering"
    )
    wrap_m: float = fields.length(
        0.05, 0.0, 0.20, "Wrap", "Covering taken round the frame at each edge.", first=False, group="Covering"
    )

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Pole beans in a 6 ft bed (plot 4, invented)": {},
        "Peas, low and light (plot 7, invented)": {
            "width_m": 1.22, "height_m": 1.07, "bays": 1, "mid_rails": 0, "plant": "pea", "tube": "emt-3/4",
            "covering": "trellis-net-100", "bed_depth_m": 0.2,
        },
        "Tomatoes on a tube bed (plot 11, invented)": {
            "width_m": 2.44, "height_m": 1.9, "bays": 2, "mid_rails": 2, "plant": "tomato", "base": "tube bed",
            "covering": "welded-mesh-6x6-10ga", "bed_depth_m": 0.4, "bed_width_m": 1.0,
        },
        "Cucumbers on an A (school plot, invented)": {
            "form": "A-frame", "width_m": 1.83, "height_m": 1.5, "spread_m": 1.1, "bays": 2, "mid_rails": 1,
            "plant": "cucumber", "base": "stakes", "tube": "emt-3/4", "buried_m": 0.6,
        },
        "Melons on a slope (plot 2, invented)": {
            "form": "sloped", "width_m": 2.4, "height_m": 1.3, "slope_deg": 55.0, "bays": 2, "mid_rails": 2,
            "plant": "melon", "base": "stakes", "covering": "welded-mesh-6x6-10ga", "buried_m": 0.6,
        },
        "Sweet peas along a path, with stays (gate border, invented)": {
            "width_m": 3.6, "height_m": 1.8, "bays": 3, "base": "sleeves", "stays": "end posts", "plant": "sweet-pea",
            "joining": "bolted", "buried_m": 0.6,
        },
    }  # fmt: skip

    @property
    def rail_room_m(self) -> float:
        """Height between the axes of the lowest and the highest rail. [m]"""
        outer_m = members.find(self.tube).outer_mm / 1000
        top = self.height_m - outer_m / 2 - (apex_drop_m(outer_m) if self.form == "A-frame" else 0.0)
        return top - BOTTOM_RAIL_M

    @property
    def soil_m(self) -> float:
        """Level of the soil above the ground. [m]"""
        return self.bed_depth_m if self.base in ("timber bed", "tube bed") else 0.0

    def fit_together(self) -> None:
        """Refuse forms and sizes that do not go together."""
        if self.base == "tube bed" and self.form != "flat":
            raise self.wrong("base", "a timber bed, stakes or sleeves under an A-frame or a slope")
        deep = BED_FOOT_M + members.find(self.tube).outer_mm / 1000 * 2.8 + BED_SPACE_M
        if self.base == "tube bed" and self.bed_depth_m < deep:
            raise self.wrong(
                "bed_depth_m", f"at least {both(deep)} for a bed framed in that tube", "Or a thinner tube."
            )
        space = self.rail_room_m / (self.mid_rails + 1)
        if space < LEAST_SPACE_M:
            most = int(self.rail_room_m / LEAST_SPACE_M) - 1
            if most < 0:
                raise self.wrong("height_m", "room for two rails", f"Rails stand {both(LEAST_SPACE_M)} apart or more.")
            needs = f"at most {most} in that height"
            raise self.wrong("mid_rails", needs, f"Rails stand {both(LEAST_SPACE_M)} apart or more.")
        bay = self.width_m / self.bays
        if self.braces and (space < BRACED_SPACE_M or bay < BRACED_BAY_M):
            needs = f"{both(BRACED_SPACE_M)} between the top rails and bays of {both(BRACED_BAY_M)}"
            raise self.wrong("braces", needs, "Take fewer rails or bays, or no braces.")
        if self.width_m / self.bays < 0.25:
            raise self.wrong("bays", f"at most {int(self.width_m / 0.25)} in that width", "A bay is at least 250 mm.")
        if self.width_m / self.bays > LONGEST_BAY_M:
            least = math.ceil(self.width_m / LONGEST_BAY_M)
            raise self.wrong("bays", f"at least {least} in that width", f"A bay is at most {both(LONGEST_BAY_M)}.")
        if self.form == "A-frame" and self.spread_m > 2 * self.height_m:
            raise self.wrong("spread_m", "at most twice the height", "A flatter A pushes its feet apart.")

    # --- the frame ---------------------------------------------------------------------------------------------

    def frame(self, shop: Shop) -> Frame:
        """Return the trellis as runs, supports and panels."""
        outer = shop.member(self.tube).outer_mm / 1000
        laid = Laid(self, outer)
        {"flat": laid.flat, "A-frame": laid.a_frame, "sloped": laid.sloped}[self.form]()
        runs = lay(laid.lines, laid.joints.values(), self.joining, shop.fittings, {self.tube: outer})
        return Frame.of(
            laid.joints.values(),
            runs,
            laid.supports,
            panels=panels(laid, runs),
            joining=self.joining,
            soil_m=self.soil_m,
            bodies=tuple(bodies(laid)),
            dimensions=tuple(dimensions(laid)),
        )

    # --- what goes with it -------------------------------------------------------------------------------------

    def working(self, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
        """Yield where the posts and rails stand."""
        outer_mm = plan.shop.member(self.tube).outer_mm
        yield "Bays", [lengths.bay_mm.shown(self.width_m * 1000, outer_mm, self.bays, system=system)]
        levels = sorted({joint.z_m for key, joint in plan.frame.joints.items() if key.endswith((" bottom", " top"))})
        spacing = lengths.rail_spacing_mm.shown(levels[0] * 1000, levels[-1] * 1000, self.mid_rails + 1, system=system)
        yield "Rails", [spacing]

    def anchoring(self) -> Anchoring:
        """Return how deep stakes and sleeves are driven, and whether the bed lifts its soil."""
        driven = {base: {"depth_m": self.buried_m} for base in ("stake", "stay stake", "sleeve")}
        in_bed = self.base in ("timber bed", "tube bed")
        return Anchoring(options=driven, bed=("bottom" if self.bottom else "open") if in_bed else "auto")

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield what holds the feet."""
        yield from foot_needs(plan.frame, self.tube, self.buried_m)

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how it is put together and stood up."""
        flat = self.form == "flat"
        yield BuildStep("ground", "Measure both diagonals of each panel; push until they are equal.", "tape", 2, 5)
        yield BuildStep("ground", "Tighten every fitting, then measure the diagonals again.", "as before", 1, 10)
        yield BuildStep(
            "standing",
            "Look up for overhead lines, then stand the frame with two people, one at each end."
            if flat
            else "Look up for overhead lines, then stand each panel with two people and join them.",
            "two people",
            2,
            5,
        )
        plumb = "Plumb every post both ways." if flat else "Check that feet stand square: both diagonals on the ground."
        yield BuildStep("standing", plumb, "level or plumb line", 2, 10)
        text, tool = HOLD[self.base]
        yield BuildStep("standing", text, tool, 2, 6 * sum(s.base in COUNTED for s in plan.frame.supports))
        yield BuildStep("standing", "Pull at the top as hard as a person can: nothing may lift or turn.", "hands", 2, 5)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from ("standing_up", "climbing", "overhead")
        yield "ground" if self.base in ("stakes", "sleeves") else "bed"
        if self.covering != "none":
            yield "net"
        stayed = self.stays != "none" and self.used(self.field("stays"))
        if self.base == "stakes" or stayed:
            yield "stakes"

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what is beyond what people build, and what the plant asks for."""
        usual_size = usual.load_usual_sizes().get(self.tube)
        bay = (self.width_m - plan.shop.member(self.tube).outer_mm / 1000) / self.bays
        if usual_size and bay > usual_size.longest_bay_m:
            yield (
                f"Bays of {both(bay)} are longer than people build in this tube ({both(usual_size.longest_bay_m)}): "
                "add a bay or take the next size."
            )
        if usual_size and self.height_m > usual_size.tallest_m:
            yield (
                f"{both(self.height_m)} is taller than people build in this tube ({both(usual_size.tallest_m)}): "
                "take the next size or add braces."
            )
        plant = plants.load_plants()[self.plant]
        if self.height_m < plant.height_low_m:
            yield f"{plant.label} climbs to {both(plant.height_low_m)} or more; this is lower."
