"""How a post stands: the joints near its foot and what holds them, by base. Shared by every build with posts."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from gardenframe.costs.bill import Need
from gardenframe.geometry.frame import Frame, Joint, Support
from gardenframe.materials import constants
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.members import load_members
from gardenframe.strength import holding

STRAP_LOW, STRAP_TOP_M = 0.25, 0.05  # lower strap at a quarter of the board, upper 50 mm under its edge
BED_RAIL_M = 0.035  # the axis of a tube bed's rail from the edge of the bed
TUBE_OVER_BAR_M = 0.3  # of a driven bar that stands up inside the tube
SLEEVE_OUT_M = 0.1  # of a sleeve that stands out of the ground
BASES = (
    ("timber bed", "straps inside a timber bed"),
    ("stakes", "driven stakes"),
    ("sleeves", "ground sleeves"),
)

DRIVEN = {  # how posts are set on what is driven, and with what
    "stakes": ("Drive the stakes, drop the posts over them.", "sledge hammer, stakes"),
    "sleeves": ("Drive the sleeves plumb, drop the posts in, tighten.", "sledge hammer, level"),
}


@dataclass(frozen=True, slots=True)
class Foot:
    """The joints of a post below its first rail, lowest first, and what holds them."""

    joints: tuple[Joint, ...]
    supports: tuple[Support, ...]


def foot(
    post: str,
    x_m: float,
    y_m: float,
    base: str,
    bed_depth_m: float,
    buried_m: float,
    spring: float | None = None,
    ground_m: float = 0.0,
) -> Foot:
    """Return the foot of an upright post.

    Parameters
    ----------
    base : str
        One of `BASES`, `tube bed` (a foot in the bed's soil) or `bed rails` (coupled to the rails of a tube bed).
    bed_depth_m : float
        Height of the boards that straps hold to. [m]
    buried_m : float
        Depth of a sleeve. [m]
    spring : float, optional
        Turning stiffness of a post on a driven stake; that of the bar which is bought, if not given. [N m/rad]
    ground_m : float
        Level of the ground that the post stands on. [m]
    """
    if base == "timber bed":
        low, high = bed_depth_m * STRAP_LOW, bed_depth_m - STRAP_TOP_M
        heights = {"foot": 0.0, "low strap": low, "high strap": high}
        held = {"foot": ("ground", "z"), "low strap": ("strap", "xyZ"), "high strap": ("strap", "xy")}
    elif base == "sleeves":
        heights = {"sleeve end": -buried_m, "ground": 0.0}
        held = {"sleeve end": ("sleeve", "xyz"), "ground": ("sleeve top", "xyZ")}
    elif base == "stakes":
        heights, held = {"foot": 0.0}, {"foot": ("stake", "xyzZ")}
    elif base == "bed rails":
        heights = {"low bed rail": BED_RAIL_M, "high bed rail": bed_depth_m - BED_RAIL_M}
        held = {"low bed rail": ("bed rail", "xyZ"), "high bed rail": ("bed rail", "xyz")}
    else:
        heights, held = {"foot": 0.0}, {"foot": ("foot", "xyz")}
    spring = stake_turning_n_m_per_rad() if spring is None else spring
    joints = tuple(Joint(f"{post} {name}", x_m, y_m, ground_m + z) for name, z in heights.items())
    supports = tuple(
        Support(joint=f"{post} {name}", base=how, held=letters, spring_n_m_per_rad=spring if base == "stakes" else 0.0)
        for name, (how, letters) in held.items()
    )
    return Foot(joints, supports)


@cache
def stake_turning_n_m_per_rad() -> float:
    """Return how hard the head of a driven bar is to turn, in firm ground; wet ground gives more. [N m/rad]"""
    bar = load_members()[load_fixings()["stake-rebar-900"].fits or ""]
    return holding.bar_turning_n_m_per_rad(
        bar.modulus_pa, bar.across_mm / 1000, constants.value("subgrade_mn_per_m3") * 1e6
    )


def foot_needs(frame: Frame, tube: str, buried_m: float = 0.45) -> Iterator[Need]:
    """Yield what is bought to hold the supports of a frame, by their bases; bars and sleeves by their driven depth.

    Parameters
    ----------
    buried_m : float
        Driven depth. [m]
    """
    bar = "stake-rebar-900" if buried_m + TUBE_OVER_BAR_M <= 0.9 else "stake-rebar-1200"
    stay_bar = "stake-rebar-900" if buried_m <= 0.8 else "stake-rebar-1200"
    sleeve = f"sleeve-{tube}" if buried_m + SLEEVE_OUT_M <= 0.6 else f"sleeve-1000-{tube}"
    bought = {
        "strap": ((f"strap-2-{tube}", 1), ("lag-1/4", 2)),
        "stake": ((bar, 1),),
        "stay stake": ((stay_bar, 1), (f"strap-2-{tube}", 1), ("bolt-m6-60", 1), ("cap-stake", 1)),
        "sleeve": ((sleeve, 1),),
        "foot": ((f"foot-{tube}", 1),),
        "bed rail": ((f"right-angle-coupler-clamp-on-{tube}", 1),),
    }
    for support in frame.supports:
        for item, number in bought.get(support.base, ()):
            yield Need(item=item, number=number, group="feet", spare=item.startswith("screw"))
