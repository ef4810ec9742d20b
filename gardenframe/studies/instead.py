"""The same build of other members: plastic pipe in sockets, timber bolted or screwed, for an estimate beside the tube.

A build comes in, a build goes out whose frame keeps every centre line and swaps every tube for the member named. The
road then does with it what it does with any build. What the estimate leaves out is said in `LIMITS` and by `notes`.
"""

import dataclasses
from collections.abc import Iterable, Iterator
from typing import Any, ClassVar

from gardenframe.builds.build import Build
from gardenframe.errors import FrameError, InputError
from gardenframe.geometry.frame import Frame, Run
from gardenframe.geometry.pieces import Loose
from gardenframe.materials import constants
from gardenframe.materials.fittings import FittingRow
from gardenframe.materials.members import Member
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.strength import screws
from gardenframe.strength.standing import Anchoring

SWAPPED = "emt"  # the family that is swapped; wires, bars and timber of the build itself stay
JOINED = {"pvc": "slip-on", "timber": "bolted"}  # how the frame is laid for each family
SCREWS = 2  # in each crossing of screwed timber (common practice, no source)
SCREW_MM = 76.2  # No. 10 x 3 in, through one 38 mm face and as deep into the other
SCREW_DIAMETER_MM = 4.826
APART_RATIO = 0.5  # distance of the two screws, as a share of the narrow side (common practice, no source)
LIMITS = (
    "Centre lines stay; outside sizes and the set-backs follow the new member.",
    "Feet are held as for tube: a strap, sleeve or stake that has no row for the new member is priced as for tube.",
    "Plastic pipe is cut for summer heat and bends further with time; timber is taken as wet and untreated.",
    "Fittings of pipe and bolts of timber are our invented rows; screws follow the NDS yield limits, from memory.",
)


@dataclasses.dataclass(frozen=True, kw_only=True)
class Instead(Build):
    """A build with every tube swapped for another member. What it does not answer itself, the build inside does."""

    key: ClassVar[str] = "instead"
    title: ClassVar[str] = "The same build of another member"

    inner: Build
    member: str

    def __getattr__(self, name: str) -> Any:
        """Return what the build inside has: its sizes, its levels."""
        if name == "inner" or name.startswith("__"):
            raise AttributeError(name)
        return getattr(self.inner, name)

    @property
    def shared_m2(self) -> float | None:
        """Area that a chart shares the cost over. [m²]"""
        return self.inner.shared_m2

    def frame(self, shop: Shop) -> Frame:
        """Return the frame of the build inside, its tubes swapped.

        Raises
        ------
        FrameError
            For a bent run: timber and pipe are not bent as tube is.
        """
        laid, new = self.inner.frame(shop), shop.member(self.member)
        runs = [self._exchanged(run, laid, shop, new) for run in laid.runs.values()]
        return dataclasses.replace(laid, runs={run.key: run for run in runs})

    def _exchanged(self, run: Run, laid: Frame, shop: Shop, new: Member) -> Run:
        old = shop.member(run.member)
        if old.family != SWAPPED:
            return run
        if not laid.lines[run.key].straight:
            raise FrameError(f"run {run.key}", f"it is bent, and {new.label} is not bent as tube is", "Keep tube.")
        share = new.outer_mm / old.outer_mm
        offset = tuple(share * each for each in run.offset_m)
        return dataclasses.replace(run, member=new.key, offset_m=(offset[0], offset[1], offset[2]))

    def loads(self, site: Site) -> Any:
        """Return the further cases of the build inside."""
        return self.inner.loads(site)

    def contents(self, frame: Frame, site: Site) -> Any:
        """Return the further cases of the build inside, on the swapped frame."""
        return self.inner.contents(frame, site)

    def anchoring(self) -> Anchoring:
        """Return what the reader chose of the anchors."""
        return self.inner.anchoring()

    def checks(self, plan: Any) -> Any:
        """Return the further rows of the build inside."""
        return self.inner.checks(plan)

    def extra_pieces(self, plan: Any) -> Iterator[Loose]:
        """Yield the loose pieces of the build inside, tubes among them swapped."""
        for loose in self.inner.extra_pieces(plan):
            swap = plan.shop.member(loose.member).family == SWAPPED
            yield dataclasses.replace(loose, member=self.member) if swap else loose

    def items(self, plan: Any) -> Iterator[Any]:
        """Yield what the build inside buys, fitted to the new member where the price table has it."""
        yield from (dataclasses.replace(need, item=item) for need, item, _ in self._goods(plan))

    def notes(self, plan: Any) -> tuple[str, ...]:
        """Return which goods are priced as for tube, having no row for the new member."""
        kept = dict.fromkeys(plan.shop.prices.price(item).label for _, item, same in self._goods(plan) if same)
        return tuple(f"priced as for tube: {label}" for label in kept)

    def _goods(self, plan: Any) -> Iterator[tuple[Any, str, bool]]:
        """Yield each need, the item that is bought for it, and whether that is still one for tube."""
        tubes = [key for key, member in plan.shop.members.items() if member.family == SWAPPED]
        tubes.sort(key=len, reverse=True)  # emt-1-1/2 ends like no other once the longest is tried first
        for need in self.inner.items(plan):
            old = next((size for size in tubes if need.item.endswith(size)), "")
            renamed = need.item.removesuffix(old) + self.member if old else need.item
            priced = renamed in plan.shop.prices
            yield need, renamed if priced else need.item, bool(old) and not priced

    def steps(self, plan: Any) -> Iterable[Any]:
        """Return the steps of the build inside."""
        return self.inner.steps(plan)

    def cautions(self) -> Iterable[str]:
        """Return the tags of the build inside."""
        return self.inner.cautions()


def instead(build: Build, member: str, shop: Shop) -> Instead:
    """Return a build with every tube swapped for a member.

    Lines are laid for slip-on sockets (pipe) or for bolts (timber), at the tube nearest to the new member in size.

    Raises
    ------
    InputError
        For a member of another family, a build that is not joined that way, or sizes that do not go together.
    """
    new = shop.member(member)
    if new.family not in JOINED:
        raise InputError("member instead of tube", member, "plastic pipe or timber")
    joining = JOINED[new.family]
    offered = {key for field in build.fields() if field.key == "joining" for key, _ in field.choices}
    if joining not in offered:
        raise InputError(build.title, new.label, f"a build that can be joined {joining}")
    values: dict[str, Any] = {"joining": joining}
    for key in tube_fields(build, shop):
        sizes = [size for size, _ in build.field(key).choices if size in shop.members]
        values[key] = min(sizes, key=lambda size: abs(shop.member(size).outer_mm - new.outer_mm))
    return Instead(inner=build.changed(**values), member=member)


def tube_fields(build: Build, shop: Shop) -> list[str]:
    """Return the fields of a build that choose a tube."""
    found = []
    for field in build.fields():
        keys = [key for key, _ in field.choices if key in shop.members] if field.kind == "choice" else []
        if keys and all(shop.member(key).family == SWAPPED for key in keys):
            found.append(field.key)
    return found


def screwed(shop: Shop) -> Shop:
    """Return the shop with the bolts of timber replaced by two screws in each crossing."""
    rows = dict(shop.fittings)
    for key, row in shop.fittings.items():
        if row.fitting == "through_bolt" and shop.members[row.size].family == "timber":
            rows[key] = screwed_row(row, shop.member(row.size))
    return dataclasses.replace(shop, fittings=rows)


def screwed_row(bolt: FittingRow, timber: Member) -> FittingRow:
    """Return what two screws hold in place of a bolt.

    They hold twice one screw's side load, and turn as a pair `APART_RATIO` of the narrow side apart. They turn as
    stiffly as the bolt's row for each newton metre held, which is invented as that row is.
    """
    slip = SCREWS * screw_side_n(timber)
    moment = SCREWS / 2 * screw_side_n(timber) * timber.outer_mm / 1000 * APART_RATIO
    stiff = bolt.rotation_n_m_per_rad * moment / bolt.moment_n_m
    return dataclasses.replace(
        bolt, key="two-screws-timber", slip_n=slip, moment_n_m=moment, rotation_n_m_per_rad=stiff, source="nds-yield"
    )


def screw_side_n(timber: Member) -> float:
    """Return what one 3 in screw through the face of wet timber into timber holds sideways, a load that stays. [N]"""
    wood = screws.wood_bearing_psi(float(timber.specific_gravity or 0.0)) * screws.PSI_MPA
    root = SCREW_DIAMETER_MM * constants.value("screw_root_ratio")
    bend, less = constants.value("screw_bend_mpa"), constants.value("screw_reduction_ratio")
    side_mm = min(timber.outer_mm, SCREW_MM / 2)
    held = min(
        screws.plate_bears_n(root, side_mm, wood, less),
        screws.bent_once_n(root, side_mm, wood, wood, bend, less),
        screws.bent_twice_n(root, wood, wood, bend, less),
    )
    return screws.screw_side_n(held, constants.value("screw_wet_ratio"), 1.0)
