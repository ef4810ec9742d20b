"""A frame of the reader's own: two small tables of joints and runs, and the same road as every other build.

Straight runs may be written as long as they are, through whatever lies on their way: they are then cut where tubes
meet, as the joining asks. Not one of the build types in `ALL`: it has no shape of its own, only the reader's.
"""

import dataclasses
import itertools
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any, ClassVar

from gardenframe.builds import fields, own_frame_tables
from gardenframe.builds.build import Build
from gardenframe.builds.feet import foot_needs, stake_turning_n_m_per_rad
from gardenframe.builds.method import BuildStep
from gardenframe.builds.own_frame_clear import check_clear, crowded, through
from gardenframe.builds.own_frame_examples import EXAMPLES, SCREEN
from gardenframe.builds.own_frame_laid import as_written, check_joined, cut_where_they_meet
from gardenframe.builds.own_frame_read import (
    ON_THE_WAY_M,
    OwnTableError,
    Read,
    read,
    text_of,
    words,
)
from gardenframe.builds.own_frame_steps import DRIVEN, steps_of
from gardenframe.costs.bill import Need
from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import TOUCH_M
from gardenframe.geometry.coverings import outline, panel_area_m2
from gardenframe.geometry.frame import JOININGS, Frame, Joint, Panel, Run, Support
from gardenframe.geometry.scene import Body
from gardenframe.geometry.vectors import Vector, add, distance, dot, minus, times, unit
from gardenframe.materials import members
from gardenframe.materials.members import find
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.strength.cases import GRAVITY_M_PER_S2, Case
from gardenframe.strength.loads import contents
from gardenframe.strength.panels import shares_of
from gardenframe.strength.standing import Anchoring

BOUGHT = ("strap", "stake", "stay stake", "sleeve", "foot", "bed rail")  # bases whose goods are counted
PERSON_M = 1.70
REACH_M = 2.0  # above it work takes a ladder
SHELF = "shelf rail"
AS_WRITTEN, CUT = "as written", "as the joining asks"


@dataclasses.dataclass(frozen=True, kw_only=True)
class OwnFrame(Build):
    """A frame of tables. Metres; x along the front, y away from you, z up."""

    key: ClassVar[str] = "own_frame"
    title: ClassVar[str] = "Own frame"
    stronger: ClassVar[tuple[str, ...]] = ("tube", "joining", "base", "buried_m")
    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = EXAMPLES

    joints: str = fields.table(
        SCREEN["joints"], "Joints", "joint, x_m, y_m, z_m: a name of one word and where it is, in metres."
    )
    runs: str = fields.table(
        SCREEN["runs"], "Runs",
        "run, member, path: a name, a tube such as 1 in, the joints from end to end. More columns may follow: "
        "bend_radius_m, role, also, offset_x_m, offset_y_m, offset_z_m.",
    )  # fmt: skip
    coverings: str = fields.table(
        SCREEN["coverings"], "Coverings",
        "panel, corners, covering: the joints round it in order, a covering's key. More: plant, side. May be empty.",
    )  # fmt: skip
    joining: str = fields.choice(
        "clamp-on", [(key, key) for key in JOININGS], "Joining", "How tubes are joined; it changes every cut length."
    )
    tube: str = fields.choice(
        "tables",
        [("tables", "as in the table"),
         *((m.key, m.label) for m in members.load_members().values() if m.family == "emt")],
        "Tube", "One size for every tube, in place of the table's.",
    )  # fmt: skip
    base: str = fields.choice(
        "stake", [("stake", "driven stakes"), ("foot", "levelling feet, standing free")], "Feet",
        "What stands under every lowest end, where the table of feet says nothing.",
    )  # fmt: skip
    buried_m: float = fields.length(
        0.6, 0.3, 0.9, "Driven depth", "Of stakes and sleeves in the ground.", first=False, group="Feet",
        when=(("base", ("stake",)),),
    )  # fmt: skip
    load_kg: float = fields.number(
        "mass", 0.0, 0.0, 300.0, "Load on each shelf rail",
        "Pots, tools, boxes: spread along every run of the role shelf rail.", step=1.0, step_us=0.45359237,
    )  # fmt: skip
    laid: str = fields.choice(
        CUT, [(CUT, "as the joining asks"), (AS_WRITTEN, "as written")], "Cut where tubes meet",
        "As the joining asks: straight runs are cut or pass where they meet; bent ones, and those with an offset, "
        "stay whole. As written: each row is one tube.",
        first=False, group="Laying",
    )  # fmt: skip
    feet: str = fields.table(
        "", "Table of feet", "joint, base: what holds each joint; more: held, spring_n_m_per_rad. Empty: as Feet says.",
        first=False, group="Feet",
    )  # fmt: skip

    def __post_init__(self) -> None:
        """Read a table that is named as a file; then check as every build does."""
        for key in ("joints", "runs", "coverings", "feet"):
            object.__setattr__(self, key, text_of(str(getattr(self, key)), key))
        super().__post_init__()

    def fit_together(self) -> None:
        """Refuse the first bad cell, or the first run that cannot be laid, by its table and line."""
        found = self.read
        try:
            own_frame_of(found, self.joining, self.tube, self.base, self.laid)
        except FrameError as error:
            raise _placed(error, found) from None

    @property
    def read(self) -> Read:
        """The rows of the tables."""
        return read(self.joints, self.runs, self.feet, self.coverings)

    @classmethod
    def of_plan(cls, plan: Any) -> "OwnFrame":
        """Return any plan's frame as tables to edit, laid as it is; what tables cannot say is left out."""
        texts: dict[str, Any] = dict(own_frame_tables.texts_of(plan.frame))
        while True:
            try:
                return cls(**texts, joining=plan.frame.joining, laid=AS_WRITTEN)
            except OwnTableError as error:
                if error.field != "coverings" or error.line is None:
                    raise
                texts["coverings"] = own_frame_tables.without(texts["coverings"], error.line)

    def frame(self, shop: Shop) -> Frame:
        """Return the frame of the tables, its runs laid for the joining."""
        found = self.read
        try:
            return own_frame_of(found, self.joining, self.tube, self.base, self.laid, shop)
        except FrameError as error:
            raise _placed(error, found) from None

    # --- what goes with it

    def contents(self, frame: Frame, site: Site) -> Iterator[Case]:
        """Yield what stands on the shelf rails: as much on every row of the table, however it was cut."""
        rows = [row["run"] for row in self.read.runs if row.get("role") == SHELF]
        runs = [key for key, run in frame.runs.items() if run.role == SHELF]
        if rows and self.load_kg > 0:
            weight_n = self.load_kg * len(rows) * GRAVITY_M_PER_S2
            yield contents(frame, "G", "what stands on the shelf rails", weight_n, runs)

    def anchoring(self) -> Anchoring:
        """Return how deep stakes and sleeves are driven."""
        return Anchoring(options={base: {"depth_m": self.buried_m} for base in ("stake", "stay stake", "sleeve")})

    def items(self, plan: Any) -> Iterator[Need]:
        """Yield what holds the feet, each for the tube that stands on it."""
        by_tube: dict[str, list[Support]] = {}
        for support in plan.frame.supports:
            contacts = plan.frame.contacts[support.joint]
            by_tube.setdefault(plan.frame.runs[contacts[0].run].member, []).append(support)
        for tube, supports in by_tube.items():
            yield from foot_needs(dataclasses.replace(plan.frame, supports=tuple(supports)), tube, self.buried_m)

    def steps(self, plan: Any) -> Iterator[BuildStep]:
        """Yield how it is put together and stood up."""
        yield from steps_of(plan, self.buried_m)

    def cautions(self) -> Iterator[str]:
        """Yield tags of the cautions that go with it."""
        yield from ("standing_up", "climbing")
        bases = {row["base"] for row in self.read.feet} or {self.base}
        if max(row["z_m"] for row in self.read.joints) > REACH_M:
            yield "overhead"
        if self.read.coverings:
            yield "net"
        if bases & set(DRIVEN):
            yield "ground"
        if bases & {"stake", "stay stake"}:
            yield "stakes"
        if any((row.get("bend_radius_m") or 0) > 0 for row in self.read.runs):
            yield "bending"

    def warnings(self, plan: Any) -> Iterator[str]:
        """Yield what is not counted, and what the tables may have forgotten."""
        others = dict.fromkeys(s.base for s in plan.frame.supports if s.base not in (*BOUGHT, "ground", "sleeve top"))
        if others:
            yield f"Nothing is bought for feet of the kind {', '.join(others)}: add their goods by hand."
        loose = [run for run in plan.frame.runs.values() if not _meets(plan.frame, run)]
        if loose:
            yield f"Run {loose[0].key} meets no other: is a joint missing from its path?"
        if self.laid == AS_WRITTEN:
            yield from (
                f"Run {run}: {problem}." for run, problem in itertools.islice(through(plan.frame, plan.shop.members), 1)
            )
        yield from crowded(plan.frame, plan.fitted)


def _meets(frame: Frame, run: Run) -> bool:
    return any(len(frame.contacts[c.joint]) > 1 or c.joint in frame.held for c in frame.on[run.key])


def _placed(error: FrameError, found: Read) -> FrameError | OwnTableError:
    """Return an error of geometry with the line of the run, joint or panel it names; itself where it names none."""
    kind, _, where = error.where.partition(" ")
    names = [where, where.rsplit(".", 1)[0]]  # a run that was cut is numbered
    for table in {"joint": ("joints", "runs"), "panel": ("coverings",)}.get(kind, ("runs", "joints")):
        for name in names:
            line = found.line(table, name)
            if line is not None:
                return OwnTableError(table, error, line)
    return error


@lru_cache(maxsize=64)
def _shop() -> Shop:
    return Shop()


def own_frame_of(found: Read, joining: str, tube: str, base: str, laid: str, shop: Shop | None = None) -> Frame:
    """Return the frame of tables that were read, checked as every frame is."""
    shop = shop or _shop()
    joints = [Joint(row["joint"], row["x_m"], row["y_m"], row["z_m"]) for row in found.joints]
    at = {joint.key: joint.at for joint in joints}
    rows = [dict(row) | {"member": _member(row["member"], tube)} for row in found.runs]
    runs = cut_where_they_meet(rows, joints, at, joining, shop) if laid == CUT else [as_written(row) for row in rows]
    supports = _supports(found, runs, at, base)
    bare = Frame.of(joints, runs, supports, joining=joining)
    check_joined(bare)
    if laid == CUT:
        check_clear(bare, shop.members)
    panels = tuple(_panel(row, at, bare) for row in found.coverings)
    frame = dataclasses.replace(bare, panels=panels, bodies=tuple(_bodies(at)))
    for panel in panels:  # one that encloses nothing, or that nothing carries, is said by its line
        panel_area_m2(frame, panel)
        shares_of(frame, panel)
    return frame


def _member(name: str, tube: str) -> str:
    key = find(name).key
    return tube if tube != "tables" and key.startswith("emt-") else key


def _supports(found: Read, runs: list[Run], at: Mapping[str, Vector], base: str) -> list[Support]:
    """Return the supports of the table, or one under every lowest end."""
    if found.feet:
        return [
            Support(
                joint=row["joint"], base=row["base"], held=row.get("held") or "xyz",
                spring_n_m_per_rad=float(row.get("spring_n_m_per_rad") or 0.0),
            )
            for row in found.feet
        ]  # fmt: skip
    level = min(at[key][2] for run in runs for key in run.path)
    ends = dict.fromkeys(key for run in runs for key in (run.path[0], run.path[-1]) if at[key][2] < level + TOUCH_M)
    held, spring = ("xyzZ", stake_turning_n_m_per_rad()) if base == "stake" else ("xyz", 0.0)
    return [Support(joint=key, base=base, held=held, spring_n_m_per_rad=spring) for key in ends]


def _panel(row: Mapping[str, Any], at: Mapping[str, Vector], frame: Frame) -> Panel:
    corners = words(row, "corners")
    plant = row.get("plant")
    return Panel(
        key=row["panel"], carried_by=_carriers(row["panel"], corners, frame), covering=row["covering"],
        outline=outline([at[name] for name in corners]), plant=plant, side=row.get("side") or "wall",
    )  # fmt: skip


def _carriers(panel: str, corners: tuple[str, ...], frame: Frame) -> tuple[str, ...]:
    """Return the runs that lie along an edge of a covering, whole or in part."""
    found = []
    edges = [(frame.joints[a].at, frame.joints[b].at) for a, b in zip(corners, (*corners[1:], corners[0]))]
    for key, run in frame.runs.items():
        if not frame.lines[key].straight:
            continue
        start, end = frame.joints[run.path[0]].at, frame.joints[run.path[-1]].at
        if any(_lies_along(start, end, a, b) for a, b in edges):
            found.append(key)
    if not found:
        raise FrameError(f"panel {panel}", "no run lies along its edges", "Name corners that runs join.")
    return tuple(found)


def _lies_along(start: Vector, end: Vector, a: Vector, b: Vector) -> bool:
    """Whether a run and an edge share a stretch of one line."""
    ahead, long = unit(minus(b, a)), distance(a, b)
    stations = []
    for point in (start, end):
        along = dot(minus(point, a), ahead)
        if distance(point, add(a, times(ahead, along))) > 5 * ON_THE_WAY_M:
            return False
        stations.append(along)
    return min(max(stations), long) - max(min(stations), 0.0) > TOUCH_M


def _bodies(at: Mapping[str, Vector]) -> Iterator[Body]:
    """Yield the ground and a person beside it."""
    xs, ys = [p[0] for p in at.values()], [p[1] for p in at.values()]
    low, high = min(xs), max(xs)
    yield Body(kind="ground", low=(low - 0.3, min(ys) - 0.3, -0.15), high=(high + 0.9, max(ys) + 0.3, 0.0))
    yield Body(kind="person", low=(high + 0.35, min(ys), 0.0), high=(high + 0.75, min(ys) + 0.25, PERSON_M))
