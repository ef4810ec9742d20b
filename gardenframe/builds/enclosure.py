"""An enclosure: a cage of tube and mesh over beds or a plot, with gates to walk or reach in by, or lids."""

import dataclasses
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from gardenframe.builds import (
    enclosure_gate,
    enclosure_goods,
    enclosure_keeps,
    enclosure_refused,
    enclosure_steps,
    fields,
)
from gardenframe.builds.build import Build
from gardenframe.builds.chart import Chart
from gardenframe.builds.enclosure_charts import charts_of
from gardenframe.builds.enclosure_laid import Laid
from gardenframe.builds.enclosure_walls import WALLS
from gardenframe.builds.feet import BASES
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.pieces import Loose
from gardenframe.geometry.scene import Body
from gardenframe.materials import members
from gardenframe.materials.animals import Asked, load_animals
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.shop import Shop
from gardenframe.strength.standing import Anchoring

GATED = ("walk-in", "reach-in")
WALK, LOW, BOXED = (("size", ("walk-in",)),), (("size", ("low",)),), (("form", ("box",)), ("size", GATED))
GABLED = (("form", ("gabled",)), ("size", GATED))
HAS_GATE = (("size", GATED),)
ASK = ("as the animals ask", "as the ticked animals ask")
MESHES = tuple((key, one.label) for key, one in enclosure_keeps.meshes().items())
OPEN = "gates open"
BASES_HERE = (*BASES, ("sill holes", "holes drilled in a timber sill"), ("bed rails", "couplers on a bed of tube"))


@dataclasses.dataclass(frozen=True, kw_only=True)
class Enclosure(Build):
    """An enclosure against animals. Lengths in m; every field says its limits."""

    key: ClassVar[str] = "enclosure"
    title: ClassVar[str] = "Enclosure"
    stronger: ClassVar[tuple[str, ...]] = (
        *("tube", "bays", "side_bays", "mid_rails", "inner_posts", "base", "buried_m", "brace", "hinges"),
    )

    animals: tuple[str, ...] = fields.ticked(
        ("rabbit", "bird"), [(a.key, a.label) for a in load_animals().values()], "Keep out",
        "What has to stay outside: mesh, height, skirt and roof follow from it.",
    )  # fmt: skip
    size: str = fields.choice(
        "walk-in",
        [("walk-in", "walk-in, by a gate"), ("reach-in", "reach-in, by a door"), ("low", "low, by a lid")],
        "Size", "How the plants are reached.",
    )  # fmt: skip
    form: str = fields.choice(
        "box", [("box", "box: flat on top"), ("gabled", "gabled: a ridge from side to side")], "Form",
        "A gable sheds snow and leaves that a flat net holds.", when=HAS_GATE,
    )  # fmt: skip
    width_m: float = fields.length(3.66, 0.6, 9.0, "Width", "Along the front, over all.", datum="outside")
    depth_m: float = fields.length(2.44, 0.5, 9.0, "Depth", "Front to back, over all.", datum="outside")
    height_m: float = fields.length(
        2.13, 0.3, 3.0, "Height", "From soil or ground to the top of the walls; the gable comes on top.",
        datum="above soil",
    )  # fmt: skip
    over: str = fields.choice(
        "plot", [("bed", "one bed"), ("beds", "several beds"), ("plot", "a plot")], "Stands over",
        "What is inside: beds are drawn, and a gate must not swing into them.",
    )  # fmt: skip
    mesh: str = fields.choice(
        "auto", [("auto", "the cheapest that keeps them out"), *MESHES], "Mesh", "Of walls and gates."
    )
    gate_walls: tuple[str, ...] = fields.ticked(
        ("front",), WALLS, "Gates in", "As you look at the plan: front is below.", when=HAS_GATE
    )
    gate_width_m: float = fields.length(
        0.91, 0.4, 2.5, "Gate width", "Clear between its posts; a wheelbarrow wants 760 mm (30 in).", datum="clear",
        when=HAS_GATE,
    )  # fmt: skip
    tube: str = fields.choice(
        "emt-1-1/4", [(m.key, m.label) for m in members.load_members().values() if m.family == "emt"], "Tube",
        "Trade size; it is a name, not a diameter.",
    )  # fmt: skip
    joining: str = fields.choice(
        "clamp-on",
        [("clamp-on", "clamp-on: one passes, the rest stop"),
         ("slip-on", "slip-on: each tube stops in a socket")],
        "Joining", "How tubes are joined; it changes every cut length.",
    )  # fmt: skip
    base: str = fields.choice("sleeves", BASES_HERE, "Base", "What the posts are held by.")
    bed_depth_m: float = fields.length(
        0.28, 0.15, 0.9, "Bed depth", "Height of the bed's boards or of its tube frame.",
        when=(("base", ("timber bed", "bed rails")),),
    )  # fmt: skip
    bays: int = fields.count(2, 1, 6, "Bays along the front", "Posts stand between them.", first=False, group="Frame")
    side_bays: int = fields.count(2, 1, 6, "Bays along each side", "Posts stand between them.", first=False,
                                  group="Frame")  # fmt: skip
    mid_rails: int = fields.count(
        1, 0, 3, "Rails between", "Between the low and the top rail of every wall.", first=False, group="Frame"
    )
    inner_posts: bool = fields.flag(
        False, "Posts inside", "Under every crossing of the tubes overhead.", first=False, group="Frame", when=BOXED
    )
    pitch_deg: float = fields.number(
        "angle", 30.0, 15.0, 50.0, "Pitch", "Of the slopes, from level.", first=False, group="Frame", when=GABLED
    )
    purlins: int = fields.count(1, 0, 3, "Purlins between", "On each slope, below the one at the ridge.", first=False,
                                group="Frame", when=GABLED)  # fmt: skip
    roof: str = fields.choice(
        ASK[0], [ASK, ("yes", "always"), ("no", "none, open above")], "Roof", "Mesh over the top.", first=False,
        group="Mesh", when=BOXED,
    )  # fmt: skip
    roof_mesh: str = fields.choice(
        "auto", [("auto", "the cheapest that stops them above"), *MESHES], "Mesh of the roof",
        "Of roof, slopes or lids.", first=False, group="Mesh",
    )  # fmt: skip
    skirt: str = fields.choice(
        ASK[0], [ASK, ("buried", "buried straight down"), ("apron", "laid outwards"), ("none", "none")], "Skirt",
        "Mesh against diggers, below the walls.", first=False, group="Mesh",
    )  # fmt: skip
    skirt_m: float = fields.length(
        0.30, 0.10, 0.90, "Skirt reaches", "Down, or outwards.", first=False, group="Mesh",
        when=(("skirt", ("buried", "apron")),),
    )  # fmt: skip
    top_out: str = fields.choice(
        ASK[0], [ASK, ("no", "straight")], "Top of the walls", "Bent outwards 45° against climbers where no roof is.",
        first=False, group="Mesh", when=BOXED,
    )  # fmt: skip
    floor: bool = fields.flag(
        False, "Mesh floor", "Under all of it: the only thing that stops gophers and moles. A skirt as asked goes down "
        "to it.", first=False, group="Mesh",
    )  # fmt: skip
    floor_m: float = fields.length(
        0.30, 0.15, 0.60, "Floor lies at", "Below the ground; under a raised bed it lies on the ground.", first=False,
        group="Mesh", when=(("floor", (True,)),),
    )  # fmt: skip
    overlap_m: float = fields.length(
        0.05, 0.0, 0.30, "Overlap", "Of neighbouring strips of mesh, tied along it.", first=False, group="Mesh"
    )
    tie_spacing_m: float = fields.length(
        0.25, 0.05, 0.60, "Tie spacing", "Along every tube that carries mesh.", first=False, group="Mesh"
    )
    fixing: str = fields.choice(
        "tie-200", [("tie-200", "cable ties"), ("tie-wire", "tie wire")], "Ties", "Wire lasts longer than plastic.",
        first=False, group="Mesh",
    )  # fmt: skip
    hinge_side: str = fields.choice(
        "left", [("left", "left"), ("right", "right")], "Hinges on the", "As seen from outside.", first=False,
        group="Gate", when=HAS_GATE,
    )  # fmt: skip
    swing: str = fields.choice(
        "out", [("out", "outwards"), ("in", "inwards")], "Swings", "Outwards needs no room inside.", first=False,
        group="Gate", when=HAS_GATE,
    )  # fmt: skip
    opened_deg: float = fields.number(
        "angle", 100.0, 45.0, 170.0, "Opens to", "Where a chain or the ground stops it.", first=False, group="Gate"
    )
    gate_height_m: float = fields.length(
        2.04, 0.3, 2.6, "Gate height", "Of the way in; where less than 150 mm is left the gate reaches the top rail.",
        first=False, group="Gate", when=HAS_GATE,
    )  # fmt: skip
    gate_bay: int = fields.count(1, 1, 6, "Gate in bay", "Counted from the left, as seen from outside.", first=False,
                                 group="Gate", when=HAS_GATE)  # fmt: skip
    gate_place: str = fields.choice(
        "middle", [("left", "against its left post"), ("middle", "in its middle"), ("right", "against its right post")],
        "Place in the bay", "Posts that would stand closer than 200 mm become one.", first=False, group="Gate",
        when=HAS_GATE,
    )  # fmt: skip
    gap_m: float = fields.length(
        0.010, 0.004, 0.030, "Gap", "All round a gate, so that it swings.", first=False, group="Gate", step=0.001,
        step_us=0.0254 / 16, when=HAS_GATE,
    )  # fmt: skip
    strips: bool = fields.flag(
        False, "Strips over the gaps", "Battens on the frame that close the gaps against small animals.", first=False,
        group="Gate", when=HAS_GATE,
    )  # fmt: skip
    hinges: int = fields.count(2, 2, 3, "Hinges", "On each gate.", first=False, group="Gate", when=HAS_GATE)
    slack_m: float = fields.length(
        0.001, 0.0, 0.005, "Play of a hinge", "How far its pin can shift; it grows with wear.", first=False,
        group="Gate", step=0.0005, step_us=0.0254 / 32, when=HAS_GATE,
    )  # fmt: skip
    brace: str = fields.choice(
        "push",
        [("push", "up from the lower hinge corner"), ("pull", "down from the upper hinge corner"),
         ("none", "none, bars across")],
        "Diagonal", "Keeps the gate square.", first=False, group="Gate", when=HAS_GATE,
    )  # fmt: skip
    threshold: bool = fields.flag(
        True, "Board under the gate", "On edge in the ground, against diggers.", first=False, group="Gate",
        when=(*WALK, ("base", ("stakes", "sleeves"))),
    )  # fmt: skip
    lid: str = fields.choice(
        "hinged", [("hinged", "hinged along the back"), ("lift-off", "lifted off")], "Lid", "How it opens.",
        first=False, group="Lid", when=LOW,
    )  # fmt: skip
    lids: int = fields.count(1, 1, 4, "Lids", "Side by side.", first=False, group="Lid", when=LOW)
    beds: int = fields.count(2, 2, 5, "Beds", "Side by side along the front, equal paths between and beside them.",
                             first=False, group="Beds", when=(("over", ("beds",)),))  # fmt: skip
    bed_width_m: float = fields.length(
        1.0, 0.4, 2.5, "Bed width", "Along the front.", first=False, group="Beds", when=(("over", ("beds",)),)
    )
    buried_m: float = fields.length(
        0.75, 0.3, 0.9, "Driven depth", "Of stakes and sleeves in the ground.", first=False, group="Base",
        when=(("base", ("stakes", "sleeves")),),
    )  # fmt: skip
    hole_m: float = fields.length(
        0.05, 0.05, 0.065, "Hole depth", "Drilled in a 4x4 sill.", first=False, group="Base", step=0.005,
        step_us=0.0254 / 8, when=(("base", ("sill holes",)),),
    )  # fmt: skip
    hole_slack_m: float = fields.length(
        0.001, 0.0, 0.004, "Slack of the hole", "Its diameter less the tube's.", first=False, group="Base",
        step=0.0005, step_us=0.0254 / 32, when=(("base", ("sill holes",)),),
    )  # fmt: skip
    strapped: bool = fields.flag(
        True, "Strap at each hole", "A hole alone holds nothing down.", first=False, group="Base",
        when=(("base", ("sill holes",)),),
    )  # fmt: skip

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Berries from birds and rabbits (plot 9, invented)": {},
        "Salad bed with a hinged lid (plot 2, invented)": {
            "animals": ("rabbit", "vole", "bird", "butterfly"), "size": "low", "width_m": 1.83, "depth_m": 0.91,
            "height_m": 0.5, "base": "timber bed", "over": "bed", "tube": "emt-1", "bays": 1, "mid_rails": 0,
            "opened_deg": 100.0,
        },
        "Deer and woodchuck round the school plot (invented)": {
            "animals": ("deer", "woodchuck", "rabbit"), "width_m": 6.10, "depth_m": 4.88, "height_m": 2.44,
            "bays": 3, "side_bays": 2, "mid_rails": 1, "tube": "emt-1-1/4", "buried_m": 0.60, "gate_bay": 2,
            "gate_width_m": 1.07, "inner_posts": True,
        },
        "Gabled cage over three beds, two gates (invented)": {
            "animals": ("pigeon", "rabbit", "woodchuck"), "form": "gabled", "width_m": 4.88, "depth_m": 3.05,
            "over": "beds", "beds": 3, "bed_width_m": 0.8, "bays": 2, "side_bays": 2, "tube": "emt-1-1/4",
            "gate_walls": ("left", "right"), "gate_bay": 1, "pitch_deg": 25.0, "height_m": 2.13,
        },
        "Reach-in cage on a sill (gate border, invented)": {
            "animals": ("rabbit", "bird", "cat"), "size": "reach-in", "width_m": 2.44, "depth_m": 1.22,
            "height_m": 1.0, "over": "bed", "base": "sill holes", "gate_width_m": 1.0, "bays": 2, "floor": True,
            "gate_walls": ("front", "back"), "tube": "emt-1", "mid_rails": 0, "gate_place": "left",
        },
        "Brassicas under insect net (plot 12, invented)": {
            "animals": ("butterfly", "flea-beetle", "bird"), "size": "low", "width_m": 2.44, "depth_m": 1.0,
            "height_m": 0.8, "base": "stakes", "over": "bed", "buried_m": 0.9, "lid": "lift-off", "lids": 2,
            "bays": 2, "mid_rails": 0, "tube": "emt-3/4",
        },
    }  # fmt: skip

    # --- what follows from the fields --------------------------------------------------------------------------

    @property
    def gated(self) -> bool:
        """Whether it has gates or doors, and no lids."""
        return self.size in GATED

    @property
    def gabled(self) -> bool:
        """Whether it has a ridge."""
        return self.gated and self.form == "gabled"

    @property
    def moving(self) -> str:
        """What moves, in a word; "" where nothing does."""
        return ("gate" if self.size == "walk-in" else "door") if self.gated and self.gate_walls else ""

    @property
    def soil_m(self) -> float:
        """Level of the soil above the ground. [m]"""
        return self.bed_depth_m if self.base in ("timber bed", "bed rails") else 0.0

    @property
    def above_ground_m(self) -> float:
        """Top of the walls above the ground. [m]"""
        return self.soil_m + self.height_m

    @property
    def asked(self) -> Asked:
        """What the ticked animals ask for."""
        return enclosure_keeps.asked(self.animals)

    @property
    def roofed(self) -> bool:
        """Whether its top is closed."""
        if self.size == "low" or self.gabled:
            return True
        return bool(self.asked.roof) if self.roof == ASK[0] else self.roof == "yes"

    @property
    def tied(self) -> bool:
        """Whether tubes go across the top: where more than one bay wants them, roof or none."""
        return True

    @property
    def floor_down_m(self) -> float:
        """How far the mesh floor lies below the foot of the walls in the ground; 0 under a bed, or without one. [m]"""
        return self.floor_m if self.floor and not self.soil_m else 0.0

    @property
    def buried_mesh_m(self) -> float:
        """How far the skirt goes straight down: to a mesh floor, which stops what digs, else as asked. [m]"""
        if self.skirt == ASK[0]:
            return self.floor_down_m if self.floor else self.asked.buried.value_mm / 1000
        return self.skirt_m if self.skirt == "buried" else 0.0

    @property
    def apron_m(self) -> float:
        """How far the skirt lies outwards. [m]"""
        if self.skirt == ASK[0]:
            return 0.0 if self.floor else self.asked.apron.value_mm / 1000
        return self.skirt_m if self.skirt == "apron" else 0.0

    @property
    def closed_below(self) -> bool:
        """Whether a mesh floor closes it below, joined to its walls by the skirt or by a bed's boards."""
        return self.floor and self.buried_mesh_m > self.floor_down_m - 1e-9

    @property
    def dug_mm(self) -> float:
        """The smallest opening that what digs passes; infinite where nothing ticked digs. [mm]"""
        diggers = [animal.opening_mm for animal in self.asked.gnaws if animal.buried_mm]
        return min(one or math.inf for one in (*diggers, self.asked.floor.value_mm))

    @property
    def overhang_m(self) -> float:
        """How far the top of the walls is bent outwards. [m]"""
        return 0.0 if self.roofed or self.top_out == "no" else self.asked.overhang.value_mm / 1000

    @property
    def fixing_each(self) -> float:
        """How much of the fixing's item one tie takes: metres of wire."""
        return 0.25 if self.fixing == "tie-wire" else 1.0

    def meshes(self, shop: Shop) -> tuple[str, str, str]:
        """Return the coverings of walls, roof and skirt; a skirt that meets a floor stops what the floor stops."""
        walls = enclosure_keeps.mesh_for(self.animals, shop) if self.mesh == "auto" else self.mesh
        above = tuple(animal.key for animal in self.asked.roof) or self.animals
        roof = enclosure_keeps.mesh_for(above, shop) if self.roof_mesh == "auto" else self.roof_mesh
        known, most = load_coverings(), self.dug_mm
        net = self.skirt == ASK[0] and not self.asked.gnaws  # what only creeps under is stopped by the walls' own net
        skirt = (
            walls
            if net or known[walls].kind in enclosure_keeps.METAL
            else enclosure_keeps.mesh_for(self.animals, shop, metal=True)
        )
        if self.floor_down_m and known[skirt].smallest_opening_mm > most:
            skirt = self.floor_mesh(shop)
        return walls, roof, skirt

    def floor_mesh(self, shop: Shop) -> str:
        """Return the mesh of the floor: the cheapest of metal that stops what digs; as the skirt where nothing does."""
        most = self.dug_mm
        return enclosure_keeps.cheapest_metal(most, shop.prices) if math.isfinite(most) else self.meshes(shop)[2]

    @property
    def path_m(self) -> float:
        """Clear width of the paths between and beside beds. [m]"""
        return (self.width_m - self.beds * self.bed_width_m) / (self.beds + 1)

    def beds_inside(self) -> Iterator[Body]:
        """Yield the beds that stand inside."""
        if self.base in ("timber bed", "bed rails", "sill holes"):
            return
        top = 0.2
        if self.over == "beds":
            for i in range(self.beds):
                x = self.path_m + i * (self.bed_width_m + self.path_m)
                yield Body(kind="bed", low=(x, 0.45, 0.0), high=(x + self.bed_width_m, self.depth_m - 0.45, top),
                           label=f"bed {i + 1}")  # fmt: skip
        elif self.over == "bed" and self.size != "walk-in":
            inset = 0.08
            high = (self.width_m - inset, self.depth_m - inset, 0.15)
            yield Body(kind="bed", low=(inset, inset, 0.0), high=high, label="bed")

    def fit_together(self) -> None:
        """Refuse what does not go together, each with what would do."""
        enclosure_refused.refuse(self)

    def frame(self, shop: Shop) -> Frame:
        """Return the enclosure with its gates or lids closed, as runs, supports, parts and panels."""
        return Laid(self, shop).frame()

    def anchoring(self) -> Anchoring:
        """Return how deep what is driven stands, and how the bed counts."""
        options = {base: {"depth_m": self.buried_m} for base in ("stake", "sleeve")}
        if self.base == "sill holes":
            options["sill hole"] = {"depth_m": self.hole_m}
        boarded = self.soil_m or self.base == "sill holes"
        bed = ("bottom" if self.floor else "open") if boarded else "none"
        return Anchoring(options=options, bed=bed)

    # --- what goes with it -------------------------------------------------------------------------------------

    def checks(self, plan: Any) -> Iterator[Any]:
        """Yield what the gates add, the cases of open ones in words."""
        for row in enclosure_gate.rows(plan):
            yield dataclasses.replace(row, case=_in_words(plan, row.case)) if row.check.startswith(OPEN) else row

    def working(self, plan: Any, system: str) -> Iterator[Any]:
        """Yield the gate, the skirt and the sill's holes."""
        yield from enclosure_gate.working(plan, system)

    def charts(self, plan: Any, system: str) -> Iterator[Chart]:
        """Yield the cost of mesh as animals are ticked, and what hinges pull as a gate grows wider."""
        yield from charts_of(plan, system)

    def items(self, plan: Any) -> Iterator[Any]:
        """Yield hinges, latches, battens, staples and what holds the feet."""
        yield from enclosure_goods.needs(plan)

    def extra_pieces(self, plan: Any) -> Iterator[Loose]:
        """Yield the sill that posts stand in, and the boards under gates."""
        yield from enclosure_goods.pieces(plan)

    def steps(self, plan: Any) -> Iterator[Any]:
        """Yield how it is put together."""
        yield from enclosure_steps.steps(plan)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from enclosure_steps.caution_tags(self)

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what does not meet what the animals ask for, and what people do not build."""
        yield from enclosure_keeps.sentences(self, *self.meshes(plan.shop)[:2])
        yield from enclosure_gate.warnings(plan)


def _in_words(plan: Any, case: str) -> str:
    """Return a combination on open gates in words and as a formula; the plan itself has its gates shut."""
    named = {one.key: one.label for one in plan.standing.loads.cases} | {"G": "a person on each open gate"}
    parts = [named[part] for part in case.split(" + ") if part in named and part != "D"]
    return f"{', '.join(parts)} ({case})" if parts else case
