"""An arch over a path between two beds: flat-topped, gabled, a half hoop, or bent twice; frames in a row, with net."""

import dataclasses
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from gardenframe import units
from gardenframe.builds import fields, walkway_arch_room
from gardenframe.builds.build import Build
from gardenframe.builds.feet import BASES, foot_needs
from gardenframe.builds.fields import both
from gardenframe.builds.method import BuildStep
from gardenframe.builds.walkway_arch_laid import BAY_LEAST_M, BAY_MOST_M, Laid
from gardenframe.builds.walkway_arch_room import Room, room_of
from gardenframe.builds.walkway_arch_steps import steps_of
from gardenframe.costs.bill import Need
from gardenframe.geometry.frame import Frame
from gardenframe.materials import constants, coverings, members, plants, usual
from gardenframe.materials.benders import Bender, with_ends
from gardenframe.materials.shop import Shop
from gardenframe.strength.rows import CheckRow
from gardenframe.strength.standing import Anchoring
from gardenframe.working import Step

FORMS = (
    ("half-hoop", "half hoop"),
    ("two bends", "two bends, straight between"),
    ("flat", "flat top"),
    ("gabled", "gabled, with swivels"),
)
BENT = ("half-hoop", "two bends")
BEDDED = ("timber bed", "tube bed")
NETS = ("trellis_net", "welded_mesh", "poultry_net", "shade_cloth")


@dataclasses.dataclass(frozen=True, kw_only=True)
class WalkwayArch(Build):
    """An arch over a path. Lengths in m, angles in degrees; every field says its limits."""

    charted: ClassVar[str] = "between_m"
    key: ClassVar[str] = "walkway_arch"
    title: ClassVar[str] = "Walkway arch"
    stronger: ClassVar[tuple[str, ...]] = (
        "tube",
        "frames",
        "roof_purlins",
        "braces",
        "bottom",
        "buried_m",
        "base",
        "covering",
    )

    form: str = fields.choice(
        "half-hoop", FORMS, "Form", "Bent forms need a bender or a jig; a flat top and a gable are cut and clamped."
    )
    between_m: float = fields.length(
        1.22, 0.6, 3.0, "Between the beds", "Across the path, from face to face.", datum="clear"
    )
    path_m: float = fields.length(
        0.915, 0.6, 2.4, "Clear path wanted", "A wheelchair needs 915 mm (36 in).", datum="clear"
    )
    length_m: float = fields.length(
        1.52, 0.4, 9.0, "Length", "Along the path, from the first frame to the last.", datum="centre to centre"
    )
    frames: int = fields.count(3, 2, 13, "Frames", "Arches in a row: more of them, each with less net to hold.")
    height_m: float = fields.length(2.40, 1.5, 3.3, "Height", "From the path to the top of a frame.", datum="outside")
    headroom_m: float = fields.length(
        2.032, 1.5, 2.6, "Headroom wanted", "Over the whole clear path; 2032 mm (80 in) where anyone may pass.",
        datum="clear",
    )  # fmt: skip
    hanging_m: float = fields.length(
        0.10, 0.0, 0.9, "Hanging plants", "How far fruit, flowers or baskets hang below the frame.", datum="below"
    )
    pitch_deg: float = fields.number(
        "angle", 35.0, 15.0, 60.0, "Pitch", "Of the gable's slopes, from level.", when=(("form", ("gabled",)),)
    )
    bend_with: str = fields.choice(
        "shoe", (("shoe", "hand bender, its own radius"), ("jig", "jig, any radius from its least")), "Bent with",
        "A hand bender makes tight bends of one radius; a jig makes wide ones.", when=(("form", ("two bends",)),),
    )  # fmt: skip
    radius_m: float = fields.length(
        0.655, 0.05, 1.5, "Bend radius", "To the middle of the tube.",
        when=(("form", ("two bends",)), ("bend_with", ("jig",))),
    )  # fmt: skip
    plant: str = fields.choice(
        "runner-bean", [(p.key, p.label) for p in plants.load_plants().values() if p.climber], "Plant",
        "What climbs it, a row at each side.",
    )  # fmt: skip
    covering: str = fields.choice(
        "trellis-net-150",
        [("none", "none")] + [(c.key, c.label) for c in coverings.load_coverings().values() if c.kind in NETS],
        "Covering",
        "Net or mesh over the sides and the top.",
    )
    tube: str = fields.choice(
        "emt-3/4",
        [(m.key, m.label) for m in members.load_members().values() if m.family == "emt"],
        "Tube",
        "Trade size; it is a name, not a diameter.",
    )
    base: str = fields.choice(
        "timber bed", (*BASES[:1], ("tube bed", "the rails of beds framed in tube"), *BASES[1:]), "Base",
        "What the feet are held by.",
    )  # fmt: skip
    roof_purlins: int = fields.count(3, 1, 7, "Purlins over the top", "Tubes along the path that join the frames.")
    side_rails: int = fields.count(2, 2, 6, "Rails at each side", "Tubes along the path on the legs.")
    braces: bool = fields.flag(
        True, "Wind braces", "A slanting tube in the first bay of each side stops it leaning along the path."
    )
    left_depth_m: float = fields.length(
        0.28, 0.1, 0.9, "Left bed: height of its boards", "Above its own ground.", first=False, group="Beds"
    )
    right_depth_m: float = fields.length(
        0.28, 0.1, 0.9, "Right bed: height of its boards", "Above its own ground.", first=False, group="Beds"
    )
    left_width_m: float = fields.length(
        0.91, 0.3, 2.4, "Left bed: width", "Away from the path.", first=False, group="Beds", datum="outside"
    )
    right_width_m: float = fields.length(
        0.91, 0.3, 2.4, "Right bed: width", "Away from the path.", first=False, group="Beds", datum="outside"
    )
    level_m: float = fields.length(
        0.0, -0.4, 0.4, "Right bed: level", "Its ground above that of the left; the path lies with the left.",
        first=False, group="Beds",
    )  # fmt: skip
    shift_m: float = fields.length(
        0.0, -0.9, 0.9, "Right bed: out of line", "How much farther along the path it starts: the frames stand askew.",
        first=False, group="Beds",
    )  # fmt: skip
    held_m: float = fields.length(
        0.0, 0.0, 0.6, "Straight end that the bender holds",
        "What yours cannot bend at each end of a tube; 0 takes our invented table.", first=False, group="Bends",
        when=(("form", ("half-hoop", "two bends")),),
    )  # fmt: skip
    straight_m: float = fields.length(
        0.25, 0.1, 1.2, "Straight below a bend", "From the bend to the coupling with the leg.", first=False,
        group="Bends", when=(("form", BENT),),
    )  # fmt: skip
    bottom: bool = fields.flag(
        True, "Bottom under the soil",
        "Say no where the beds have none: soil on a mesh that is fixed to them holds the arch down. Not on the bill.",
        first=False, group="Base", when=(("base", BEDDED),),
    )  # fmt: skip
    buried_m: float = fields.length(
        0.45, 0.3, 0.9, "Driven depth", "Of stakes and sleeves in the ground.", first=False, group="Base",
        when=(("base", ("stakes", "sleeves")),),
    )  # fmt: skip
    tie_spacing_m: float = fields.length(
        0.30, 0.10, 0.60, "Tie spacing", "Along every tube that carries the covering.", first=False, group="Covering"
    )
    overlap_m: float = fields.length(
        0.10, 0.0, 0.30, "Overlap", "Of neighbouring strips of covering.", first=False, group="Covering"
    )

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Beans between two plots (plots 4 and 5, invented)": {},
        "Roses over the gate path, two bends (invented)": {
            "form": "two bends", "plant": "climbing-rose", "tube": "emt-1", "between_m": 1.4, "length_m": 1.2,
            "frames": 2, "covering": "welded-mesh-6x6-10ga", "height_m": 2.35, "hanging_m": 0.2,
        },
        "Squash walk, flat top (plot 9, invented)": {
            "form": "flat", "plant": "squash", "tube": "emt-1-1/4", "between_m": 1.52, "path_m": 1.22, "length_m": 3.66,
            "frames": 4, "height_m": 2.5, "hanging_m": 0.4, "covering": "welded-mesh-6x6-10ga",
        },
        "Sweet peas under a gable, no bender (school plot, invented)": {
            "form": "gabled", "plant": "sweet-pea", "tube": "emt-1-1/4", "between_m": 1.22, "height_m": 2.45,
            "hanging_m": 0.05,
        },
        "Unequal beds, one a step higher and out of line (plots 1 and 2, invented)": {
            "left_depth_m": 0.4, "left_width_m": 1.22, "right_depth_m": 0.2, "right_width_m": 0.6, "level_m": 0.15,
            "shift_m": 0.3, "height_m": 2.6, "tube": "emt-1", "between_m": 1.6,
        },
        "Beans on a narrow path, in sleeves (plot 3, invented)": {
            "between_m": 1.35, "base": "sleeves", "buried_m": 0.6, "length_m": 1.2, "height_m": 2.4,
            "hanging_m": 0.0, "plant": "pole-bean",
        },
    }  # fmt: skip

    # --- what goes together ------------------------------------------------------------------------------------

    @property
    def room(self) -> Room:
        """What is left to walk through, and the frame's shape across the path."""
        return room_of(self)

    @property
    def shared_m2(self) -> float:
        """Area of the path between the beds and the outer frames. [m²]"""
        return self.between_m * self.length_m

    def depths_m(self) -> tuple[float, float]:
        """Height of the boards at each side. [m]"""
        return self.left_depth_m, self.right_depth_m

    def fit_together(self) -> None:
        """Refuse sizes that do not go together, each with what would do."""
        walkway_arch_room.refuse(self)
        bay = self.length_m / (self.frames - 1)
        if bay < BAY_LEAST_M:
            most = int(self.length_m / BAY_LEAST_M + 1e-9) + 1
            needs = f"at most {most} in that length"
            raise self.wrong("frames", needs, f"They stand {both(BAY_LEAST_M)} apart or more.")
        if bay > BAY_MOST_M:
            least = math.ceil(self.length_m / BAY_MOST_M - 1e-9) + 1
            needs = f"at least {least} in that length"
            raise self.wrong("frames", needs, f"They stand at most {both(BAY_MOST_M)} apart.")

    def frame(self, shop: Shop) -> Frame:
        """Return the arch as runs, supports and panels."""
        return Laid(self, shop).frame()

    def anchoring(self) -> Anchoring:
        """Return how deep what is driven stands, and whether the beds have a bottom."""
        if self.base in BEDDED:
            return Anchoring(bed="bottom" if self.bottom else "open")
        driven = {base: {"depth_m": self.buried_m} for base in ("stake", "sleeve")}
        return Anchoring(options=driven, bed="none")

    # --- what goes with it -------------------------------------------------------------------------------------

    def benders(self) -> Mapping[str, Bender] | None:
        """Return our benders, with the straight ends that the reader measured."""
        return with_ends(self.held_m)

    def checks(self, plan: Any) -> Iterator[CheckRow]:
        """Yield what is left of width and headroom against the figures for access."""
        room = self.room
        yield from (
            CheckRow(
                check=f"access: {what}", case="as built", where=where, demand=constants.value(key),
                capacity=left * 1000, unit="mm", source=source, kind="access",
            )
            for what, where, key, left, source in (
                ("clear width", "between the beds and the legs", "path_clear_mm", room.clear_m, "ada-2010"),
                ("headroom", "at the edge of the clear path", "headroom_mm", room.headroom_m, "ada-memory"),
            )
        )  # fmt: skip

    def working(self, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
        """Yield width, headroom and, where tube is bent, its arithmetic."""
        room = self.room
        less = (
            f"; the beds leave {units.write(room.clear_m, 'length', system)}"
            if room.clear_m < room.between_legs_m
            else ""
        )
        yield f"Clear width from leg to leg{less}", room.clear_steps(system)
        yield "Headroom at the edge of the path", self.room.headroom_steps(system)
        for sheet in plan.bend_sheets:
            yield f"Bending {sheet.mark}", sheet.working(system)

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield what holds the feet."""
        yield from foot_needs(plan.frame, self.tube, self.buried_m)

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how the frames are made and stood over the path."""
        yield from steps_of(self)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from ("walkway_arch", "headroom", "overhead", "standing_up", "climbing", "children", "ladder")
        yield from ("bed",) if self.base in BEDDED else ("ground", "digging")
        if self.form in BENT:
            yield "bending"
        if self.covering != "none":
            yield from ("net", "covering", "snow")
        if self.base == "stakes":
            yield "stakes"

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what is short of the figures for access, and what is beyond what people build."""
        room = self.room
        for what, key, left in (
            ("clear width", "path_clear_mm", room.clear_m),
            ("headroom", "headroom_mm", room.headroom_m),
        ):
            if left * 1000 < constants.value(key) - 0.5:
                figure = both(constants.value(key) / 1000)
                yield f"The {what} of {both(left)} is less than the figure for access ({figure})."
        size = usual.load_usual_sizes().get(self.tube)
        bay = self.length_m / (self.frames - 1)
        if size and bay > size.longest_bay_m:
            yield (
                f"Frames {both(bay)} apart are farther than people build in this tube ({both(size.longest_bay_m)}): "
                "add a frame or take the next size."
            )
        for sheet in plan.bend_sheets:
            yield from (f"{sheet.mark}: {note}" for note in sheet.notes[1:])
