"""A shade frame: a cloth over a bed or a seat, on rafters or sliding on two wires."""

import dataclasses
import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, ClassVar

from gardenframe.builds import fields, shade_frame_steps, shade_frame_sun, shade_frame_wires
from gardenframe.builds.build import Build
from gardenframe.builds.chart import Chart, HeatMap
from gardenframe.builds.feet import BASES, foot_needs
from gardenframe.builds.fields import both
from gardenframe.builds.method import BuildStep
from gardenframe.builds.shade_frame_charts import charts_of
from gardenframe.builds.shade_frame_laid import Laid
from gardenframe.builds.shade_frame_roof import ASIDE_M, FORMS, WRAP_M, Roof
from gardenframe.costs.bill import Need
from gardenframe.geometry.frame import Frame
from gardenframe.materials import members
from gardenframe.materials.coverings import load_rolls
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.strength.cases import Case
from gardenframe.strength.limits import Limit, limits_of
from gardenframe.strength.rows import CheckRow
from gardenframe.strength.standing import Anchoring
from gardenframe.working import Step

ROOFED = ("sloped", "flat", "pitched")
CLOTHS = (
    ("shade-cloth-30", "30 %: tomatoes, peppers, most vegetables"),
    ("shade-cloth-40", "40 %: salads, herbs"),
    ("shade-cloth-50", "50 %: salads in hot summers, seedlings"),
    ("shade-cloth-70", "70 %: a seat, ferns"),
)
WIRES = (
    ("wire-12.5", "12.5 gauge, high tensile"),
    ("wire-9", "9 gauge, soft"),
    ("wire-12", "12 gauge, soft"),
    ("wire-14", "14 gauge, soft"),
)
LEAST_OVER_M = 0.10  # or none: an edge rail needs room for its couplers
RAFTERS_APART_M = 0.25
LEAST_BAY_M, MOST_BAY_M = 0.6, 3.5
STEEPEST_DEG = 40.0  # over it the wind takes the roof for a wall


@dataclasses.dataclass(frozen=True, kw_only=True)
class ShadeFrame(Build):
    """A shade frame. Lengths in m, directions in degrees from north through east; every field says its limits."""

    key: ClassVar[str] = "shade_frame"
    title: ClassVar[str] = "Shade frame"
    stronger: ClassVar[tuple[str, ...]] = (
        *("tube", "bays", "rafters", "base", "buried_m", "cloth", "height_m", "braces", "wire"),
    )
    nearer: ClassVar[tuple[str, ...]] = ("height_m",)
    charted: ClassVar[str] = "length_m"
    covers_in_steps: ClassVar[bool] = True

    form: str = fields.choice("sloped", FORMS, "Form", "How the cloth lies.")
    over: str = fields.choice(
        "bed", [("bed", "a bed"), ("seat", "a seat")], "Over", "What it shades: the sun map lies on the soil, or at "
        "the height of a sitting head.",
    )  # fmt: skip
    length_m: float = fields.length(2.44, 1.2, 7.0, "Length", "Along the front, over the end posts.", datum="outside")
    width_m: float = fields.length(1.22, 0.8, 3.5, "Width", "From front to back, over the posts.", datum="outside")
    height_m: float = fields.length(
        1.20, 0.9, 2.8, "Height", "From the ground to the underside of the front rail.", datum="clear"
    )
    rise_m: float = fields.length(
        0.30, 0.1, 1.5, "Rise", "Of the back rail, or of the ridge, over the front rail.", datum="axis to axis",
        when=(("form", ("sloped", "pitched")),),
    )  # fmt: skip
    overhang_m: float = fields.length(
        0.45, 0.0, 1.2, "Overhang", "Of the cloth past the front posts: none, or 100 mm and more.",
        datum="axis to axis", when=(("form", ROOFED),),
    )  # fmt: skip
    faces_deg: float = fields.number(
        "bearing", 180.0, 0.0, 360.0, "Front faces", "A direction in words, such as south or SSW, or by the compass.",
        step=5.0, step_us=5.0,
    )  # fmt: skip
    cloth: str = fields.choice(
        "shade-cloth-40", CLOTHS, "Shade factor", "Share of the light that the cloth keeps off, as it is sold."
    )
    day: int = fields.number("date", 198, 1, 365, "Day", "Of the sun map, such as 17 Jul.", step=1.0, step_us=1.0)
    tube: str = fields.choice(
        "emt-3/4",
        [(m.key, m.label) for m in members.load_members().values() if m.family == "emt"],
        "Tube",
        "Trade size; it is a name, not a diameter.",
    )
    base: str = fields.choice("sleeves", BASES, "Base", "What the posts are held by.")
    bed_depth_m: float = fields.length(
        0.30, 0.15, 0.9, "Bed depth", "Height of the bed's boards.", when=(("base", ("timber bed",)),)
    )
    drawn: float = fields.number(
        "share", 1.0, 0.0, 1.0, "Cloth drawn out", "From the left end, for the sun map.", step=0.05, step_us=0.05,
        when=(("form", ("wires",)),),
    )  # fmt: skip
    sag_share: float = fields.number(
        "share", 0.02, 0.005, 0.10, "Sag of the wires", "Of their span, under the cloth alone: turn the turnbuckles "
        "until it shows.", step=0.005, step_us=0.005, when=(("form", ("wires",)),),
    )  # fmt: skip
    out_wind_m_per_s: float = fields.number(
        "speed", 10.0, 0.0, 25.0, "Drawn out up to gusts of", "Gather and tie the cloth before it blows harder.",
        step=0.5, step_us=0.44704, when=(("form", ("wires",)),),
    )  # fmt: skip
    wire: str = fields.choice(
        "wire-12.5", WIRES, "Wire", "Galvanised, by its gauge.", first=False, group="Wires",
        when=(("form", ("wires",)),),
    )  # fmt: skip
    ring_apart_m: float = fields.length(
        0.25, 0.10, 0.60, "Rings apart", "Along both edges of the cloth.", first=False, group="Wires",
        when=(("form", ("wires",)),),
    )  # fmt: skip
    bays: int = fields.count(1, 1, 6, "Bays", "From post to post along the front.", first=False, group="Frame")
    rafters: int = fields.count(
        2, 0, 8, "Rafters between posts", "In each bay, beyond the one beside every post.", first=False, group="Frame",
        when=(("form", ROOFED),),
    )  # fmt: skip
    behind_m: float = fields.length(
        0.0, 0.0, 1.2, "Overhang at the back", "Past the back posts: none, or 100 mm and more.", first=False,
        group="Frame", datum="axis to axis", when=(("form", ROOFED),),
    )  # fmt: skip
    beside_m: float = fields.length(
        0.30, 0.0, 0.8, "Overhang at the ends", "Past the end posts, each: none, or 100 mm and more.", first=False,
        group="Frame", datum="outside", when=(("form", ROOFED),),
    )  # fmt: skip
    braces: bool = fields.flag(
        True, "Knee braces", "At the four corner posts, along the front and across.", first=False, group="Frame"
    )
    buried_m: float = fields.length(
        0.60, 0.3, 0.9, "Driven depth", "Of stakes and sleeves in the ground.", first=False, group="Base",
        when=(("base", ("stakes", "sleeves")),),
    )  # fmt: skip
    neighbour_m: float = fields.length(
        0.0, 0.0, 12.0, "Neighbour's height", "Of a wall, a hedge or a house that throws its shadow; 0 for none.",
        first=False, group="Neighbour's shadow", step=0.1, step_us=0.1524,
    )  # fmt: skip
    neighbour_to_deg: float = fields.number(
        "bearing", 270.0, 0.0, 360.0, "It stands to the", "Seen from the middle of the frame.", first=False,
        group="Neighbour's shadow", step=5.0, step_us=5.0,
    )  # fmt: skip
    neighbour_off_m: float = fields.length(
        5.0, 1.0, 40.0, "It is away", "From the middle of the frame to its near face.", first=False,
        group="Neighbour's shadow", step=0.1, step_us=0.1524,
    )  # fmt: skip
    neighbour_long_m: float = fields.length(
        8.0, 1.0, 40.0, "It is long", "Along the face that looks at the frame.", first=False,
        group="Neighbour's shadow", step=0.1, step_us=0.1524,
    )  # fmt: skip
    fixing_spacing_m: float = fields.length(
        0.20, 0.10, 0.60, "Fixing spacing", "Of the cloth's ties along rails and rafters.", first=False,
        group="Covering", when=(("form", ROOFED),),
    )  # fmt: skip

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Summer salads on a 4 by 8 ft bed (plot 4, invented)": {},
        "A cloth that slides over a long bed (plot 9, invented)": {
            "form": "wires", "length_m": 3.66, "width_m": 1.22, "height_m": 1.3, "cloth": "shade-cloth-50",
            "tube": "emt-1-1/4", "buried_m": 0.75, "bays": 2,
        },
        "Seat in the afternoon sun (gate border, invented)": {
            "form": "pitched", "over": "seat", "length_m": 2.2, "width_m": 1.8, "height_m": 2.0, "rise_m": 0.4,
            "cloth": "shade-cloth-70", "faces_deg": 247.5, "tube": "emt-1-1/4", "overhang_m": 0.3, "behind_m": 0.3,
            "beside_m": 0.2, "buried_m": 0.9,
        },
        "Low and flat over seedlings (plot 7, invented)": {
            "form": "flat", "length_m": 1.83, "width_m": 0.91, "height_m": 0.95, "cloth": "shade-cloth-50",
            "overhang_m": 0.0, "beside_m": 0.0, "base": "timber bed", "tube": "emt-3/4", "rafters": 1,
        },
        "Beside a neighbour's hedge (plot 2, invented)": {
            "length_m": 3.66, "bays": 2, "rafters": 1, "height_m": 1.4, "tube": "emt-1",
            "cloth": "shade-cloth-30", "neighbour_m": 3.0,
            "neighbour_to_deg": 270.0, "neighbour_off_m": 4.0, "neighbour_long_m": 10.0,
        },
    }  # fmt: skip

    @property
    def soil_m(self) -> float:
        """Level of the soil above the ground. [m]"""
        return self.bed_depth_m if self.base == "timber bed" and self.over == "bed" else 0.0

    @property
    def roof(self) -> Roof:
        """Where the roof lies."""
        return Roof(self, members.find(self.tube).outer_mm / 1000)

    def fit_together(self) -> None:
        """Refuse sizes that do not go together, each with what would do."""
        outer, roof = members.find(self.tube).outer_mm / 1000, self.roof
        bay = roof.posts_x[1] - roof.posts_x[0]
        if bay < LEAST_BAY_M:
            most = int((self.length_m - outer) / LEAST_BAY_M)
            raise self.wrong(
                "bays", f"at most {most} in that length", f"Posts stand {both(LEAST_BAY_M)} apart or more."
            )
        if bay > MOST_BAY_M:
            least = math.ceil((self.length_m - outer) / MOST_BAY_M)
            raise self.wrong(
                "bays", f"at least {least} in that length", f"Posts stand {both(MOST_BAY_M)} apart at most."
            )
        if self.base == "timber bed" and self.height_m < self.bed_depth_m + 0.5:
            raise self.wrong("height_m", f"at least {both(self.bed_depth_m + 0.5)} over that bed", "Plants need room.")
        if self.form != "wires":
            self._roof_fits(outer)
        if self.neighbour_m:
            edge = math.hypot(self.length_m / 2 + roof.beside, self.width_m / 2 + max(roof.over, roof.behind))
            if self.neighbour_off_m < edge:
                needs = f"at least {both(math.ceil(edge * 10) / 10)}, clear of the frame"
                raise self.wrong("neighbour_off_m", needs, "It is measured from the middle.")

    def _roof_fits(self, outer: float) -> None:
        """Refuse rafters too close, edges too near to the posts, slopes too flat or too steep to build."""
        bay = self.roof.posts_x[1] - self.roof.posts_x[0] - 2 * ASIDE_M  # the last, the shortest
        if self.rafters and bay / (self.rafters + 1) < RAFTERS_APART_M:
            most = max(0, int(bay / RAFTERS_APART_M) - 1)
            raise self.wrong(
                "rafters", f"at most {most} in that bay", f"They lie {both(RAFTERS_APART_M)} apart or more."
            )
        for key in ("overhang_m", "behind_m", "beside_m"):
            if 0 < getattr(self, key) < LEAST_OVER_M:
                raise self.wrong(key, f"none, or at least {both(LEAST_OVER_M)}", "Two rails need room for couplers.")
        longest = max(roll.length_mm for roll in load_rolls().values() if roll.covering == self.cloth) / 1000
        along, across = (side + 2 * WRAP_M for side in self.roof.cloth_m)
        if min(along, across) > longest:
            needs = f"a cloth of at most {both(longest)} one way, as its rolls are long: with its edges it is "
            needs += f"{both(along)} by {both(across)}"
            raise self.wrong("overhang_m", needs, "Take off an overhang, or some of the width or the rise.")
        if self.form == "flat":
            return
        least = math.ceil(max(0.1, 3 * outer) * 100) / 100
        if self.rise_m < least:
            raise self.wrong("rise_m", f"at least {both(least)} in this tube", "Two fittings stand above each other.")
        across = self.roof.back_y / (2 if self.form == "pitched" else 1)
        most_m = math.floor(across * math.tan(math.radians(STEEPEST_DEG)) * 100) / 100
        if self.rise_m > most_m:
            raise self.wrong(
                "rise_m", f"at most {both(most_m)} on that width, {STEEPEST_DEG:.0f}°", "It would be a wall."
            )
        low = self.height_m - self.overhang_m * self.roof.slopes[0].tangent
        if low < 0.6 + self.soil_m:
            needs = f"an edge at least {both(0.6)} over the soil: it hangs at {both(low)}"
            raise self.wrong("overhang_m", needs, "Raise the frame or flatten it.")

    def frame(self, shop: Shop) -> Frame:
        """Return the frame, a cloth on wires gathered."""
        return Laid(self, shop).frame()

    # --- what goes with it -------------------------------------------------------------------------------------

    def anchoring(self) -> Anchoring:
        """Return how deep stakes and sleeves are driven."""
        return Anchoring(options={base: {"depth_m": self.buried_m} for base in ("stake", "sleeve")})

    def loads(self, site: Site) -> Iterable[Case]:
        """Return what the wires pull at the end frames under the cloth alone."""
        return shade_frame_wires.pulls(self, 0.0) if self.form == "wires" else ()

    def limits(self, plan: Any) -> Iterable[Limit]:
        """Return the limits of the frame; that of a cloth on wires is worked with it drawn out."""
        return shade_frame_wires.limits(plan) if self.form == "wires" else limits_of(plan.standing)

    def gust_m_per_s(self, plan: Any) -> float:
        """Return the gust that it carries, a cloth on wires drawn out. [m/s]"""
        return shade_frame_wires.gust_m_per_s(plan) if self.form == "wires" else super().gust_m_per_s(plan)

    def checks(self, plan: Any) -> Iterator[CheckRow]:
        """Yield what wires add, and the frame with the cloth drawn out."""
        if self.form == "wires":
            yield from shade_frame_wires.rows(plan)

    def working(self, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
        """Yield the sun of the day, the overhang by hand, and the wires."""
        yield from shade_frame_sun.working(plan, system)
        if self.form == "wires":
            yield from shade_frame_wires.working(plan, system)

    def charts(self, plan: Any, system: str) -> Iterator[Chart | HeatMap]:
        """Yield the sun over the bed on the day, by month and hour, and what an overhang does."""
        yield from charts_of(plan, system)

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield what holds the feet, the ties of laps in the cloth, and what wires hang from."""
        yield from foot_needs(plan.frame, self.tube, self.buried_m)
        yield from shade_frame_steps.needs(plan)
        if self.form == "wires":
            yield from shade_frame_wires.items(plan)

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how it is put together."""
        yield from shade_frame_steps.steps(plan)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from ("shade_frame", "shade_cloth", "covering", "climbing", "children", "overhead", "ladder", "snow")
        yield "bed" if self.base == "timber bed" else "ground"
        if self.base == "stakes":
            yield "stakes"
        if self.form == "wires":
            yield "tension_wire"

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what the sun does on that day, what an overhang would do, and where heads meet the edge."""
        yield from shade_frame_sun.sentences(plan)
        low = self.height_m - self.roof.over * max(self.roof.slopes[0].tangent, 0.0)
        if self.over == "seat" and self.height_m >= shade_frame_sun.SITTING_M and low < shade_frame_sun.HEADS_M:
            yield f"The front edge hangs {both(low)} over the ground: people who walk in meet it with their heads."
        if self.form == "wires":
            yield from shade_frame_wires.sentences(plan)
