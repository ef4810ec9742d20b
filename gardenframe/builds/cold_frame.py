"""A cold frame: a low box of tube with walls of boards or glazing, and lids hinged along the back."""

import dataclasses
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from gardenframe.builds import cold_frame_lid, fields
from gardenframe.builds.build import Build
from gardenframe.builds.chart import Chart
from gardenframe.builds.cold_frame_charts import charts_of
from gardenframe.builds.cold_frame_laid import GAP_M, LOW_RAIL_M, PROP, Laid
from gardenframe.builds.feet import BASES, DRIVEN, foot_needs
from gardenframe.builds.fields import both
from gardenframe.builds.method import BuildStep
from gardenframe.climate.frames import both_degrees
from gardenframe.climate.sun import MONTHS
from gardenframe.costs.bill import Need
from gardenframe.geometry.frame import Frame
from gardenframe.materials import members
from gardenframe.materials.shop import Shop
from gardenframe.strength import lids
from gardenframe.strength.limits import Limit
from gardenframe.strength.rows import CheckRow
from gardenframe.strength.standing import Anchoring
from gardenframe.working import Step

GLAZINGS = (
    ("film-6mil", "polyethylene film"),
    ("twin-wall-6", "twin-wall sheet 6 mm"),
    ("twin-wall-8", "twin-wall sheet 8 mm"),
    ("glass-3", "horticultural glass 3 mm"),
)
WALLS = (("boards-19", "boards 19 mm"), *GLAZINGS[1:3], GLAZINGS[0])
LEAST_LID_M = 0.45
LEAST_WALL_M = 0.12  # between the lowest rail and the front top rail
LEAST_FALL_DEG = 3.0  # water must run off
PANE_M, PANE_LONG_M = 0.61, 1.42  # widest and longest pane sold
BAR_APART_M = 0.15
UPRIGHT_DEG = 85.0  # past this a lid may fall over backwards
TWO_HANDS_KG = 15.0
HOLD = DRIVEN | {
    "timber bed": (
        "Set the frame inside the bed; screw a strap round each post at both marks.",
        "drill, screws, straps",
    ),
}


@dataclasses.dataclass(frozen=True, kw_only=True)
class ColdFrame(Build):
    """A cold frame with hinged lids. Lengths in m, angles in degrees; every field says its limits."""

    key: ClassVar[str] = "cold_frame"
    title: ClassVar[str] = "Cold frame"
    stronger: ClassVar[tuple[str, ...]] = ("tube", "lids", "bars", "glazing", "bottom", "base", "buried_m", "hinges")

    width_m: float = fields.length(
        1.83, 0.6, 3.0, "Width", "Along the front, over all; for more, stand two side by side.", datum="outside"
    )
    depth_m: float = fields.length(
        0.91, 0.5, 1.5, "Depth", "Front to back; an arm reaches about 610 mm in.", datum="outside"
    )
    front_m: float = fields.length(
        0.30, 0.2, 0.9, "Front height", "From the soil to the top of the front rail.", datum="above soil"
    )
    back_m: float = fields.length(
        0.50, 0.25, 1.3, "Back height", "From the soil to the top of the back rail, where the lid hinges.",
        datum="above soil",
    )  # fmt: skip
    lids: int = fields.count(2, 1, 6, "Lids", "Side by side, each with its own hinges: more of them, each lighter.")
    glazing: str = fields.choice("twin-wall-6", GLAZINGS, "Glazing", "What the lids are covered with.")
    walls: str = fields.choice("boards-19", WALLS, "Walls", "What front, back and ends are closed with.")
    tube: str = fields.choice(
        "emt-3/4",
        [(m.key, m.label) for m in members.load_members().values() if m.family == "emt" and m.key != "emt-2"],
        "Tube",
        "Trade size; it is a name, not a diameter. No spring clips are made for 2 in.",
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
    base: str = fields.choice("timber bed", BASES, "Base", "What the posts are held by.")
    bed_depth_m: float = fields.length(
        0.28, 0.15, 0.9, "Bed depth", "Height of the bed's boards.", when=(("base", ("timber bed",)),)
    )
    opened_deg: float = fields.number(
        "angle", 30.0, 3.0, 130.0, "Lid opened", "How far the lid is turned up from closed, on its prop."
    )
    outside_degc: float = fields.number(
        "temperature", 12.0, -30.0, 45.0, "Air outside", "In the shade, now.", step=1.0, step_us=5 / 9
    )
    sun_w_per_m2: float = fields.number(
        "number", 700.0, 0.0, 1200.0, "Sun on the lid, W/m²", "About 1000 square to a high clear sun, 100 under cloud.",
        step=10.0, step_us=10.0,
    )  # fmt: skip
    limit_degc: float = fields.number(
        "temperature",
        27.0,
        10.0,
        45.0,
        "Too hot above",
        "Cool crops suffer from about 24 °C (75 °F), tender ones from about 32 °C (90 °F).",
        step=1.0,
        step_us=5 / 9,
    )
    month: int = fields.number(
        "month", 3, 1, 12, "Month", "Of the worked sun, on its middle day.", first=False, group="Sun", step_us=1.0,
    )  # fmt: skip
    faces_deg: float = fields.number(
        "bearing", 180.0, 0.0, 360.0, "Front faces", "A direction, such as south or 200°.", first=False, group="Sun",
        step=5.0, step_us=5.0,
    )  # fmt: skip
    bars: int = fields.count(
        1, 0, 8, "Bars in each lid", "Tubes from back to front that carry the glazing between its sides.",
        first=False, group="Lid",
    )  # fmt: skip
    hinges: int = fields.count(2, 2, 4, "Hinges on each lid", "Along the back rail.", first=False, group="Lid")
    most_open_deg: float = fields.number(
        "angle", 80.0, 10.0, 130.0, "Chain stops it at", "The farthest that the lid can turn up.",
        first=False, group="Lid",
    )  # fmt: skip
    tied: bool = fields.flag(
        True, "Hooked to its prop", "Holds the open lid down in a gust as well as up.", first=False, group="Lid"
    )
    open_wind_m_per_s: float = fields.number(
        "speed", 8.0, 0.0, 20.0, "Open up to gusts of", "Close and latch the lid before it blows harder.",
        first=False, group="Lid", step=0.5, step_us=0.44704,
    )  # fmt: skip
    bottom: bool = fields.flag(
        True, "Bottom under the soil", "A mesh fixed to the bed below the soil: its weight then holds the frame down.",
        first=False, group="Base", when=(("base", ("timber bed",)),),
    )  # fmt: skip
    buried_m: float = fields.length(
        0.45, 0.3, 0.9, "Driven depth", "Of stakes and sleeves in the ground.", first=False, group="Base",
        when=(("base", ("stakes", "sleeves")),),
    )  # fmt: skip
    fixing_spacing_m: float = fields.length(
        0.25, 0.10, 0.60, "Fixing spacing", "Along every tube that carries glazing or walls.", first=False,
        group="Covering",
    )  # fmt: skip

    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "Spring salads on a 6 ft bed (plot 4, invented)": {},
        "Seedlings under film, light and cheap (plot 7, invented)": {
            "width_m": 1.22, "lids": 1, "glazing": "film-6mil", "walls": "film-6mil", "front_m": 0.25, "back_m": 0.45,
            "depth_m": 0.8, "tube": "emt-1", "base": "stakes", "buried_m": 0.75, "bars": 2, "opened_deg": 25.0,
        },
        "Old glass, four lids (school plot, invented)": {
            "width_m": 2.44, "depth_m": 0.9, "lids": 4, "bars": 0, "glazing": "glass-3", "tube": "emt-1",
            "base": "sleeves", "buried_m": 0.6, "front_m": 0.3, "back_m": 0.55, "opened_deg": 20.0,
        },
        "Tall, for tomatoes in May (plot 11, invented)": {
            "width_m": 2.44, "depth_m": 1.0, "front_m": 0.6, "back_m": 0.9, "lids": 3, "bars": 1, "tube": "emt-1",
            "glazing": "twin-wall-8", "walls": "twin-wall-8", "limit_degc": 32.0, "outside_degc": 18.0,
        },
        "Steep lid for low winter sun (gate border, invented)": {
            "width_m": 1.83, "depth_m": 0.8, "front_m": 0.25, "back_m": 0.85, "lids": 2, "month": 12,
            "outside_degc": 3.0, "sun_w_per_m2": 500.0, "base": "sleeves", "buried_m": 0.6, "tube": "emt-1",
            "opened_deg": 15.0,
        },
    }  # fmt: skip

    @property
    def soil_m(self) -> float:
        """Level of the soil above the ground. [m]"""
        return self.bed_depth_m if self.base == "timber bed" else 0.0

    @property
    def lid_width_m(self) -> float:
        """Over all of one lid. [m]"""
        return (self.width_m - (self.lids - 1) * GAP_M) / self.lids

    @property
    def tilt_deg(self) -> float:
        """Slope of the closed lid. [deg]"""
        outer = members.find(self.tube).outer_mm / 1000
        return lids.tilt_deg(self.back_m - self.front_m, self.depth_m - outer)

    @property
    def slope_m(self) -> float:
        """Length of a lid down its slope, axis to axis. [m]"""
        outer = members.find(self.tube).outer_mm / 1000
        return math.hypot(self.back_m - self.front_m, self.depth_m - outer)

    def fit_together(self) -> None:
        """Refuse sizes that do not go together, each with what would do."""
        outer = members.find(self.tube).outer_mm / 1000
        if self.front_m < LOW_RAIL_M + LEAST_WALL_M + outer / 2:
            needs = f"at least {both(LOW_RAIL_M + LEAST_WALL_M + outer / 2)} in this tube"
            raise self.wrong("front_m", needs, "Two rails and their fittings stand above each other.")
        least = (self.depth_m - outer) * math.tan(math.radians(LEAST_FALL_DEG))
        least = max(least, 0.06 + 2 * outer)
        if self.back_m - self.front_m < least - 1e-9:
            needs = f"at least {both(math.ceil((self.front_m + least) * 100) / 100)}, higher than the front"
            raise self.wrong("back_m", needs, "Water must run off the lid, and the fittings of the back need room.")
        if self.lid_width_m < LEAST_LID_M:
            most = int((self.width_m + GAP_M) / (LEAST_LID_M + GAP_M))
            raise self.wrong("lids", f"at most {most} in that width", f"A lid is at least {both(LEAST_LID_M)} wide.")
        self._bars_fit(outer)
        past = UPRIGHT_DEG + self.tilt_deg
        for key in ("most_open_deg", "opened_deg"):
            if getattr(self, key) > past:
                raise self.wrong(
                    key, f"at most {past:.0f}°, nearly upright", "Past its hinge a lid falls over backwards."
                )
        if self.opened_deg > self.most_open_deg:
            raise self.wrong("opened_deg", f"at most {self.most_open_deg:.0f}°, where its chain stops the lid")

    def _bars_fit(self, outer: float) -> None:
        """Refuse bars too close, panes wider or longer than are sold."""
        apart = (self.lid_width_m - outer) / (self.bars + 1)
        if apart < BAR_APART_M:
            most = max(0, int((self.lid_width_m - outer) / BAR_APART_M) - 1)
            raise self.wrong(
                "bars", f"at most {most} in lids that wide", f"Bars stand {both(BAR_APART_M)} apart or more."
            )
        if self.glazing == "glass-3" and apart > PANE_M:
            least = math.ceil((self.lid_width_m - outer) / PANE_M) - 1
            raise self.wrong("bars", f"at least {least} under glass", f"A pane is at most {both(PANE_M)} wide.")
        if self.glazing == "glass-3" and self.slope_m > PANE_LONG_M:
            raise self.wrong("glazing", f"a lid at most {both(PANE_LONG_M)} down its slope for glass", "Take a sheet.")

    def frame(self, shop: Shop) -> Frame:
        """Return the frame with its lids closed, as runs, supports, parts and panels."""
        return Laid(self, shop).frame()

    # --- what goes with it -------------------------------------------------------------------------------------

    def anchoring(self) -> Anchoring:
        """Return how deep stakes and sleeves are driven, and whether the bed lifts its soil."""
        driven = {base: {"depth_m": self.buried_m} for base in ("stake", "sleeve")}
        in_bed = self.base == "timber bed"
        return Anchoring(options=driven, bed=("bottom" if self.bottom else "open") if in_bed else "auto")

    def checks(self, plan: Any) -> Iterator[CheckRow]:
        """Yield what the lids add, closed and open."""
        yield from cold_frame_lid.rows(plan)

    def limits(self, plan: Any) -> Iterator[Limit]:
        """Yield the gust and the snow that it carries; its lids' hinges and latches count."""
        yield from cold_frame_lid.limits(plan)

    def gust_m_per_s(self, plan: Any) -> float:
        """Return the gust that it carries, quickly, its lids' hinges and latches counted. [m/s]"""
        return min(super().gust_m_per_s(plan), cold_frame_lid.held_gust_m_per_s(plan))

    def working(self, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
        """Yield slope, weight, prop, sun and heat."""
        yield from cold_frame_lid.working(plan, system)

    def charts(self, plan: Any, system: str) -> Iterator[Chart]:
        """Yield the sun and the lid through the year, warmth against the prop, the prop's force."""
        yield from charts_of(plan, system)

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield what holds the feet, and what hangs, latches and props the lids."""
        yield from foot_needs(plan.frame, self.tube, self.buried_m)
        yield Need(item="hinge-gate", number=math.ceil(self.hinges * self.lids / 2), group="lid", note="lid hinges")
        yield Need(item="latch-gate", number=2 * self.lids, group="lid", note="lid latches")
        length = lids.prop_m(self.slope_m, self.opened_deg)
        a_stick = max(1, int(members.find(PROP).stick_mm / 1000 / length))
        yield Need(item=PROP, number=math.ceil(self.lids / a_stick), group="lid", note="props")

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how box and lids are put together."""
        yield BuildStep(
            "ground", "Put the two ends together flat on the ground, then the rails between.", "two people", 2, 20
        )
        yield BuildStep(
            "ground", "Measure both diagonals of floor, front and back; push until they are equal.", "tape", 2, 10
        )
        text, tool = HOLD[self.base]
        yield BuildStep("standing", text, tool, 2, 6 * 2 * (self.lids + 1))
        yield BuildStep("standing", "Level front and back rails: a twisted frame twists its lids.", "level", 2, 10)
        yield BuildStep(
            "ground", f"Put {self.lids} lids together flat; measure their diagonals.", "tape", 2, 12 * self.lids
        )
        yield BuildStep(
            "standing", "Hang each lid while a second person holds it; turn it through its swing before it is glazed.",
            "hinges, screwdriver", 2, 15 * self.lids,
        )  # fmt: skip
        yield BuildStep(
            "standing",
            f"Fix a latch each side and a chain that stops the lid at {self.most_open_deg:.0f}°; notch the prop.",
            "drill, saw", 1, 15 * self.lids,
        )  # fmt: skip

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with the choices."""
        yield from ("cold_frame", "lid", "heat", "children", "snow", "climbing", "covering")
        if self.glazing == "film-6mil":
            yield "film"
        yield "bed" if self.base == "timber bed" else "ground"
        if self.base == "stakes":
            yield "stakes"

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what to do with the lid now, in which months it overheats, what is heavy or steep."""
        climate = cold_frame_lid.climate_of(self, cold_frame_lid.outer_m(plan))
        yield climate.advice(self.outside_degc, self.sun_w_per_m2, self.limit_degc)
        hot = [month for month, closed, _ in cold_frame_lid.hot_months(plan) if closed > self.limit_degc]
        if hot:
            when = "every month" if len(hot) == len(MONTHS) else ", ".join(hot)
            yield f"Closed at noon on a warm clear day it passes {both_degrees(self.limit_degc)} in {when}."
        lid = cold_frame_lid.lid_of(plan)
        if lid.mass_kg > TWO_HANDS_KG:
            yield f"A lid of {lid.mass_kg:.0f} kg takes two people: make more lids, or choose a lighter glazing."
        if self.walls == "film-6mil" and self.glazing == "glass-3":
            yield "Glass lids over film walls: the box may not stay square enough for panes."
