"""A trellis: flat, as an A, or sloped; in a timber bed, on a tube bed, on stakes or in ground sleeves."""

import dataclasses
import math
from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any, ClassVar

from gardenframe.builds import fields
from gardenframe.builds.build import Build
from gardenframe.builds.feet import BASES, DRIVEN, foot, foot_needs
from gardenframe.builds.fields import both
from gardenframe.builds.method import BuildStep
from gardenframe.costs.bill import Need
from gardenframe.geometry import lengths
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Run, Support
from gardenframe.geometry.lines import Line, lay
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector, add, times
from gardenframe.materials import coverings, members, plants, usual
from gardenframe.materials.shop import Shop
from gardenframe.strength.standing import Anchoring
from gardenframe.working import Step

FORMS = (("flat", "flat"), ("A-frame", "A-frame, two leaning panels"), ("sloped", "sloped, with props"))
BOTTOM_RAIL_M = 0.10  # its axis above the soil
CLEAR_M = 0.08  # between the joints of a brace and of a prop on one leg
LEAST_SPACE_M = 0.15  # between rails
BRACED_SPACE_M, BRACED_BAY_M = 0.35, 0.30  # least space and bay in which a corner brace clears the other joints
BRACE_M = 0.40  # a corner brace takes at most this from each side of its corner
LONGEST_BAY_M = 3.0  # so that no rail is coupled in mid-span
BOARD_M = 0.038
BED_FOOT_M, BED_SPACE_M = 0.06, 0.03  # under the lowest rail of a tube bed; between the joints of its two rails
PERSON_M = 1.70
FIXINGS = {"ties": ("tie-200", 1.0), "wire": ("tie-wire", 0.3), "woven": ("woven", 0.0)}  # item, how much each takes
RAIL = {"bott": "bottom rail", "top": "top rail", "rail": "{}"}  # level -> name of its rail
COUNTED = ("strap", "stake", "stay stake", "sleeve", "foot")  # bases that take time, one each
HOLD = DRIVEN | {  # base -> how the feet are held, and with what
    "timber bed": (
        "Screw a strap round each post at both marks on the bed, two lag screws each.",
        "drill, lag screws, straps",
    ),
    "tube bed": ("Fill the bed behind and in front of the posts; tread the soil firm.", "shovel"),
}


def apex_drop_m(outer_m: float) -> float:
    """Room for the fittings between the end of a leg and the first joint below it, along the leg. [m]"""
    return 0.06 + 2 * outer_m


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
        laid = _Laid(self, outer)
        {"flat": laid.flat, "A-frame": laid.a_frame, "sloped": laid.sloped}[self.form]()
        runs = lay(laid.lines, laid.joints.values(), self.joining, shop.fittings, {self.tube: outer})
        return Frame.of(
            laid.joints.values(),
            runs,
            laid.supports,
            panels=laid.panels(runs),
            joining=self.joining,
            soil_m=self.soil_m,
            bodies=tuple(laid.bodies()),
            dimensions=tuple(laid.dimensions()),
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


class _Laid:
    """The joints, lines and supports of one trellis while they are laid out."""

    def __init__(self, build: Trellis, outer_m: float) -> None:
        self.build, self.outer_m = build, outer_m
        self.joints: dict[str, Joint] = {}
        self.lines: list[Line] = []
        self.supports: list[Support] = []
        self.faces: list[tuple[str, tuple[str, str, str, str]]] = []
        half = outer_m / 2
        step = (build.width_m - outer_m) / build.bays
        self.x_m = [half + step * i for i in range(build.bays + 1)]
        self.soil_m = build.soil_m
        self.top_m = self.soil_m + build.height_m - half
        self.y_back = build.bed_width_m - BOARD_M - half if build.base == "timber bed" else build.bed_width_m - half
        if build.base in ("stakes", "sleeves"):
            self.y_back = 0.0

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def line(self, key: str, role: str, joints: list[str], first: int, side: Vector = (0.0, 0.0, 0.0)) -> None:
        """Add a line through joints."""
        self.lines.append(
            Line(key=key, member=self.build.tube, joints=tuple(joints), role=role, first=first, side=side)
        )

    # --- forms

    def flat(self) -> None:
        """Upright posts, rails between them."""
        heights = self.rail_heights(self.top_m)
        braced = self.brace_m(heights) if self.build.braces else 0.0
        stayed = self.stay_posts()
        for i, x in enumerate(self.x_m):
            name = f"post {i + 1}"
            below = self.foot(name, x, self.y_back)
            rails = [self.put(f"{name} {rail}", (x, self.y_back, z)) for rail, z in heights.items()]
            if braced and i in (0, self.build.bays):
                rails.insert(-1, self.put(f"{name} brace", (x, self.y_back, self.top_m - braced)))
            if i in stayed:
                z = self.stay_height(heights)
                stay = self.put(f"{name} stay", (x, self.y_back, z))
                place = next(k for k, key in enumerate(rails) if self.joints[key].z_m > z)
                rails.insert(place, stay)
                self.stay(name, stay)
            self.line(name, "post", below + rails, first=2)
        self.rails("", heights, braced)
        if self.build.base == "tube bed":
            self.tube_bed()
        self.faces.append(("net", self.corners("", heights)))

    def a_frame(self) -> None:
        """Two leaning panels that meet at the top, tied near their feet."""
        build = self.build
        rise = self.top_m - self.foot_z
        for panel, y, way in (("front", 0.0, 1.0), ("back", build.spread_m, -1.0)):
            slant = (0.0, way * build.spread_m / 2 / rise, 1.0)
            top = self.top_m - apex_drop_m(self.outer_m) * rise / math.hypot(rise, build.spread_m / 2)
            self.leaning(panel, y, slant, self.rail_heights(top), ("apex",), tie=True)
        for i, x in enumerate(self.x_m):
            self.put(f"apex {i + 1}", (x, build.spread_m / 2, self.top_m))
        for i in range(build.bays + 1):
            ends = [f"{panel} {i + 1} tie" for panel in ("front", "back")]
            self.line(f"tie {i + 1}", "tie", ends, first=0, side=(-1.0, 0.0, 0.0))

    def sloped(self) -> None:
        """One leaning panel on upright props."""
        theta = math.radians(self.build.slope_deg)
        slant = (0.0, 1 / math.tan(theta), 1.0)
        heights = self.rail_heights(self.top_m)
        braced = self.brace_m(heights) + CLEAR_M if self.build.braces else 0.0
        prop_z = self.top_m - max(apex_drop_m(self.outer_m), braced)
        self.leaning("leg", 0.0, slant, heights, ("prop",), prop_z=prop_z)
        for i, x in enumerate(self.x_m):
            head = self.joints[f"leg {i + 1} prop"]
            foot_key = self.put(f"prop {i + 1} foot", (x, head.y_m, self.foot_z))
            self.supports.append(Support(joint=foot_key, base=self.foot_base, held="xyz"))
            self.line(f"prop {i + 1}", "stay", [foot_key, head.key], first=0, side=(1.0, 0.0, 0.0))

    # --- parts of forms

    @property
    def foot_z(self) -> float:
        """Level of the feet of a leaning panel: half way down the boards, or on the ground. [m]"""
        return self.soil_m / 2 if self.build.base == "timber bed" else 0.0

    @property
    def foot_base(self) -> str:
        """What holds the feet of a leaning panel."""
        return {"timber bed": "strap", "stakes": "stake", "sleeves": "sleeve"}[self.build.base]

    def leaning(
        self,
        panel: str,
        y: float,
        slant: Vector,
        heights: Mapping[str, float],
        ends: tuple[str, ...],
        tie: bool = False,
        prop_z: float = 0.0,
    ) -> None:
        """Add the legs and rails of a panel whose foot stands at y and which leans by `slant` per metre of height."""
        start = (0.0, y, self.foot_z)
        braced = self.brace_m(heights) if self.build.braces else 0.0

        def at(x: float, z: float) -> Vector:
            return add((x, 0.0, 0.0), add(start, times(slant, z - self.foot_z)))

        for i, x in enumerate(self.x_m):
            name = f"{panel} {i + 1}"
            keys = {f"{name} foot": self.foot_z}
            keys |= {f"{name} {rail}": z for rail, z in heights.items()}
            if braced and i in (0, self.build.bays):
                keys[f"{name} brace"] = heights["top"] - braced
            if tie:
                keys[f"{name} tie"] = self.between(heights)
            if prop_z:
                keys[f"{name} prop"] = prop_z
            for key, z in keys.items():
                self.put(key, at(x, z))
            self.supports.append(Support(joint=f"{name} foot", base=self.foot_base, held="xyz"))
            ordered = sorted(keys, key=keys.__getitem__)
            apex = [f"apex {i + 1}"] if "apex" in ends else []
            self.line(name, "post", ordered + apex, first=2, side=self.aside(panel))
        self.rails(panel, heights, braced)
        self.faces.append((panel, self.corners(panel, heights)))

    def aside(self, panel: str) -> Vector:
        """How far a bolted panel stands beside the other, in diameters: the legs of an A pass each other at the top."""
        return (1.0, 0.0, 0.0) if panel == "back" else (0.0, 0.0, 0.0)

    def rails(self, panel: str, heights: Mapping[str, float], braced: float) -> None:
        """Add the rails of a panel, and its corner braces under the top one."""
        posts = [f"{panel or 'post'} {i + 1}" for i in range(self.build.bays + 1)]
        label = f"{panel} " if panel else ""
        towards = (0.0, 1.0, 0.0) if panel == "back" else (0.0, -1.0, 0.0)
        aside = self.aside(panel)
        for rail in heights:
            joints = [f"{post} {rail}" for post in posts]
            if rail == "top" and braced:
                left, right = self.joints[joints[0]], self.joints[joints[-1]]
                joints.insert(1, self.put(f"{label}left brace head", (left.x_m + braced, left.y_m, left.z_m)))
                joints.insert(-1, self.put(f"{label}right brace head", (right.x_m - braced, right.y_m, right.z_m)))
                for side, post in (("left", posts[0]), ("right", posts[-1])):
                    ends = [f"{post} brace", f"{label}{side} brace head"]
                    self.line(f"{label}{side} brace", "brace", ends, first=0, side=add(times(towards, -1), aside))
            self.line(label + RAIL[rail[:4]].format(rail), "rail", joints, first=1, side=add(towards, aside))

    def rail_heights(self, top_m: float) -> dict[str, float]:
        """Height of every rail's axis, bottom first. [m]"""
        low = self.soil_m + BOTTOM_RAIL_M
        step = (top_m - low) / (self.build.mid_rails + 1)
        middle = {f"rail {i + 1}": low + step * (i + 1) for i in range(self.build.mid_rails)}
        return {"bottom": low, **middle, "top": top_m}

    def brace_m(self, heights: Mapping[str, float]) -> float:
        """What a corner brace takes from each side of its corner. [m]"""
        levels = list(heights.values())
        bay = self.x_m[1] - self.x_m[0]
        return min(BRACE_M, 0.45 * bay, 0.4 * (levels[-1] - levels[-2]))

    def between(self, heights: Mapping[str, float]) -> float:
        """A level in the lower part of the lowest space between rails, clear of a brace above. [m]"""
        levels = list(heights.values())
        return levels[0] + 0.35 * (levels[1] - levels[0])

    def foot(self, post: str, x: float, y: float) -> list[str]:
        """Add the foot of an upright post; return its joints, lowest first."""
        b = self.build
        stood = foot(post, x, y, b.base, b.bed_depth_m, b.buried_m)
        self.joints |= {joint.key: joint for joint in stood.joints}
        self.supports += stood.supports
        return [joint.key for joint in stood.joints]

    def stay_posts(self) -> tuple[int, ...]:
        """Which posts have a back stay."""
        if self.build.stays == "none" or self.build.base not in ("stakes", "sleeves"):
            return ()
        return (0, self.build.bays) if self.build.stays == "end posts" else tuple(range(self.build.bays + 1))

    def stay_height(self, heights: Mapping[str, float]) -> float:
        """Where a stay meets its post: in the space under the top rail, clear of a brace. [m]"""
        levels = list(heights.values())
        return levels[-1] - (0.65 if self.build.braces else 0.3) * (levels[-1] - levels[-2])

    def stay(self, post: str, head: str) -> None:
        """Add a stay from a post's joint to a stake behind."""
        at = self.joints[head]
        foot_key = self.put(f"{post} stay foot", (at.x_m, at.y_m + 0.5 * at.z_m, 0.0))
        self.supports.append(Support(joint=foot_key, base="stay stake", held="xyz"))
        self.line(f"{post} stay", "stay", [foot_key, head], first=0, side=(1.0, 0.0, 0.0))

    def tube_bed(self) -> None:
        """Add the front legs, the rails and the cross ties of a bed framed in tube; its soil holds the front legs."""
        low, high = BED_FOOT_M + self.outer_m, self.soil_m - self.outer_m / 2
        last = self.build.bays
        y_front = self.outer_m / 2
        drop = 1.2 * self.outer_m if self.build.joining == "bolted" else 0.0
        for i, x in enumerate(self.x_m):
            name = f"leg {i + 1}"
            keys = [self.put(f"{name} foot", (x, y_front, 0.0))]
            self.supports.append(Support(joint=keys[0], base="foot", held="xyz"))
            for level, z in (("low", low), ("high", high)):
                if drop and (level == "high" or i in (0, last)):
                    keys.append(self.put(f"{name} {level} side", (x, y_front, z - drop)))
                keys.append(self.put(f"{name} {level}", (x, y_front, z)))
            self.supports.append(Support(joint=f"{name} high", base="bed soil", held="xy"))
            self.line(name, "leg", keys, first=2)
        for level, z in (("low", low), ("high", high)):
            for row, y, towards in (("front", y_front, -1.0), ("back", self.y_back, 1.0)):
                names = [f"{'leg' if row == 'front' else 'post'} {i + 1} {level}" for i in range(last + 1)]
                for name, x in zip(names, self.x_m):
                    self.put(name, (x, y, z))
                self.line(f"bed {row} {level}", "rail", names, first=1, side=(0.0, towards, 0.0))
            for i, side in [(0, -1.0), (last, 1.0)] + ([(i, 1.0) for i in range(1, last)] if level == "high" else []):
                tail = " side" if drop else ""
                ends = [
                    self.put(f"{post} {i + 1} {level}{tail}", (self.x_m[i], y, z - drop))
                    for post, y in (("leg", y_front), ("post", self.y_back))
                ]
                name = "end" if i in (0, last) else "tie"
                self.line(f"bed {name} {i + 1} {level}", "rail", ends, first=1, side=(side, 0.0, 0.0))
        self.lines = [self._with_bed(line) for line in self.lines]

    def _with_bed(self, line: Line) -> Line:
        """Return a post with the joints that the bed's rails put on it, lowest first."""
        if line.role != "post":
            return line
        mine = [k for k in self.joints if k.startswith(f"{line.key} ")]
        return dataclasses.replace(line, joints=tuple(sorted(mine, key=lambda key: self.joints[key].z_m)))

    # --- what is not built

    def corners(self, panel: str, heights: Mapping[str, float]) -> tuple[str, str, str, str]:
        """Return the four corner joints of a panel."""
        post, last = panel or "post", self.build.bays + 1
        return (f"{post} 1 bottom", f"{post} {last} bottom", f"{post} {last} top", f"{post} 1 top")

    def panels(self, runs: list[Run]) -> tuple[Panel, ...]:
        """Return the panels with the covering, and the runs that carry each."""
        covering = None if self.build.covering == "none" else self.build.covering
        found = []
        for face, corners in self.faces:
            label = "" if face == "net" else f"{face} "
            posts = "post " if face == "net" else f"{face} "
            rails = tuple(label + RAIL[rail[:4]].format(rail) for rail in self.rail_heights(self.top_m))
            carriers = tuple(
                run.key
                for run in runs
                if run.key.split(".")[0] in rails or (run.role == "post" and run.key.startswith(posts))
            )
            points = [self.joints[key].at for key in corners]
            key, each = FIXINGS[self.build.fixing]
            found.append(
                Panel(
                    key=face,
                    carried_by=carriers,
                    covering=covering,
                    plant=self.build.plant,
                    outline=outline(points),
                    overlap_m=self.build.overlap_m,
                    wrap_m=self.build.wrap_m,
                    fixing=key,
                    fixing_each=each,
                    fixing_spacing_m=self.build.tie_spacing_m,
                )
            )
        return tuple(found)

    def bodies(self) -> Iterator[Body]:
        """Yield the bed, the soil and a person for scale."""
        build, width = self.build, self.build.width_m
        back = {"flat": build.bed_width_m, "A-frame": build.spread_m}.get(build.form, 0.0) or max(
            joint.y_m for joint in self.joints.values()
        )
        edge = BOARD_M if build.base == "timber bed" else 0.0
        if build.base in ("timber bed", "tube bed"):
            front = 0.0 if build.form == "flat" else -edge - self.outer_m
            far = back if build.form == "flat" else back + edge + self.outer_m
            kind = "bed" if edge else "soil"
            yield Body(kind=kind, low=(-edge, front, 0.0), high=(width + edge, far, self.soil_m), label="bed")
        yield Body(kind="person", low=(width + 0.35, 0.0, 0.0), high=(width + 0.95, 0.3, PERSON_M), label="1.7 m")

    def dimensions(self) -> Iterator[Dimension]:
        """Yield what the drawing measures."""
        build, width, top = self.build, self.build.width_m, self.soil_m + self.build.height_m
        yield Dimension(
            view="front", start=(0, 0, 0), end=(width, 0, 0), axis="x", name="Width", row=2, side="below",
            datum="outside",
        )  # fmt: skip
        yield Dimension(
            view="front", start=(self.x_m[0], 0, 0), end=(self.x_m[1], 0, 0), axis="x", name="Bay", side="below",
            datum="centre to centre",
        )  # fmt: skip
        yield Dimension(
            view="front", start=(0, 0, self.soil_m), end=(0, 0, top), axis="z", name="Height", row=2, side="left"
        )
        if self.soil_m:
            yield Dimension(
                view="front", start=(0, 0, 0), end=(0, 0, self.soil_m), axis="z", name="Bed depth", row=2, side="left"
            )
        levels = list(self.rail_heights(self.top_m).values()) if build.form != "A-frame" else []
        for low, high in pairwise(levels):
            yield Dimension(
                view="front", start=(0, 0, low), end=(0, 0, high), axis="z", side="left", datum="centre to centre"
            )
        if build.form == "A-frame":
            yield Dimension(
                view="side", start=(0, 0, 0), end=(0, build.spread_m, 0), axis="y", name="Spread", side="below",
                datum="centre to centre",
            )  # fmt: skip
        elif build.form == "flat" and build.base in ("timber bed", "tube bed"):
            yield Dimension(
                view="side", start=(0, 0, 0), end=(0, build.bed_width_m, 0), axis="y", name="Bed width", side="below",
                datum="outside",
            )  # fmt: skip
        elif build.form == "sloped":
            back = self.joints["prop 1 foot"].y_m
            yield Dimension(
                view="side", start=(0, 0, 0), end=(0, back, 0), axis="y", name="Prop", side="below",
                datum="centre to centre",
            )  # fmt: skip
