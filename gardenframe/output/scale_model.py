"""A build as a model of straws or dowels at any scale: how long every piece is, how many straws, which joints.

A plan, a scale and a material come in, a `ScaleModel` goes out. A piece of the model is a piece of the build divided by
the scale, so what is left between two ends is the fitting's room, for a ball of clay or a dab of glue.
"""

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from gardenframe.costs.cutting import CuttingPlan, plan_cuts
from gardenframe.errors import require_within
from gardenframe.geometry.pieces import even_parts
from gardenframe.kept import cached_property
from gardenframe.road import Plan
from gardenframe.working import formula

LEAST_SCALE, MOST_SCALE = 2.0, 50.0
TENTHS = 10_000  # of a millimetre in a metre: what a model is cut to
LEAST_HAND_M = 0.008  # a shorter piece cannot be held


@dataclass(frozen=True, slots=True)
class Material:
    """What a model is made of: how thick and how long one is. Usual sizes; common practice, no source. [m]"""

    label: str
    one: str
    many: str
    thick_m: float
    long_m: float


MATERIALS: Mapping[str, Material] = {
    "straw": Material("paper straws, 6 mm thick", "straw", "straws", 0.006, 0.197),
    "skewer": Material("bamboo skewers, 3 mm thick", "skewer", "skewers", 0.003, 0.300),
    "dowel": Material("dowels, 5 mm thick", "dowel", "dowels", 0.005, 1.000),
    "wire": Material("garden wire, 2 mm thick", "length of wire", "lengths of wire", 0.002, 1.000),
}


@formula(result="l", symbols={"length_m": "L", "scale_ratio": "s"}, source="geometry")
def model_length_m(length_m: float, scale_ratio: float) -> float:
    """Length in a model of 1 to a scale. [m]"""
    return length_m / scale_ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelPiece:
    """Like pieces of a model. `parts` is how many straws one is joined of, each `part_m` long.

    `bends` are (radius, angle, where it starts along the piece). [m, deg, m]
    """

    mark: str
    role: str
    real_m: float
    length_m: float
    count: int
    parts: int
    part_m: float
    bends: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class JointKind:
    """A kind of joint: how many tubes end there and how many pass, how many such joints, and those of one frame."""

    ends: int
    passing: int
    count: int

    @property
    def words(self) -> str:
        """What meets there, in words.

        >>> JointKind(3, 0, 4).words, JointKind(1, 1, 2).words, JointKind(0, 2, 8).words, JointKind(1, 0, 6).words
        ('3 ends meet', '1 end on a tube that passes', '2 tubes pass', '1 end stands free')
        """
        ends = f"{self.ends} end{'' if self.ends == 1 else 's'}"
        if not self.passing:
            return f"{ends} stand{'s' if self.ends == 1 else ''} free" if self.ends == 1 else f"{ends} meet"
        if not self.ends:
            return f"{self.passing} tubes pass" if self.passing > 1 else "nothing ends"
        return f"{ends} on {'a tube that passes' if self.passing == 1 else f'{self.passing} tubes that pass'}"


@dataclass(frozen=True)
class ScaleModel:
    """A plan as a model of 1 to `scale`, made of one material."""

    plan: Plan
    scale: float
    material: Material

    @cached_property
    def pieces(self) -> tuple[ModelPiece, ...]:
        """Every kind of piece of the frame, in the order of the plan."""
        return tuple(self._pieces())

    def _pieces(self) -> list[ModelPiece]:
        found = []
        for piece in self.plan.cut:
            if piece.loose:
                continue
            length = model_length_m(piece.length_m, self.scale)
            parts, part = even_parts(length, self.material.long_m)
            bends = tuple(
                (bend.radius_m / self.scale, bend.angle_deg, bend.start_m / self.scale) for bend in piece.bends
            )
            found.append(
                ModelPiece(
                    mark=piece.mark, role=piece.role, real_m=piece.length_m, length_m=length, count=piece.count,
                    parts=parts, part_m=part, bends=bends,
                )
            )  # fmt: skip
        return found

    @cached_property
    def joints(self) -> tuple[JointKind, ...]:
        """Kinds of joint, the commonest first; ends that stand free are told too."""
        counted: Counter[tuple[int, int]] = Counter()
        for contacts in self.plan.frame.contacts.values():
            ends = sum(not contact.passes for contact in contacts)
            passing = len(contacts) - ends
            if ends or passing > 1:
                counted[ends, passing] += 1
        rows = sorted(counted.items(), key=lambda item: (item[0] == (1, 0), -item[1], item[0]))
        return tuple(JointKind(ends, passing, number) for (ends, passing), number in rows)

    @property
    def joints_made(self) -> int:
        """Number of joints at which something is joined: ends that stand free are none."""
        return sum(kind.count for kind in self.joints if (kind.ends, kind.passing) != (1, 0))

    @cached_property
    def cutting(self) -> CuttingPlan:
        """How the parts are cut from whole straws, in tenths of a millimetre; scissors take nothing away."""
        counts: Counter[int] = Counter()
        for piece in self.pieces:
            counts[max(1, round(piece.part_m * TENTHS))] += piece.count * piece.parts
        return plan_cuts(list(counts), list(counts.values()), round(self.material.long_m * TENTHS), live=True)

    @property
    def number(self) -> int:
        """Whole straws that are needed."""
        return self.cutting.sticks

    @property
    def thick_to_scale_m(self) -> float:
        """How thick a tube of the commonest size would be in the model. [m]"""
        sizes = Counter({piece.member: 0 for piece in self.plan.cut})
        for piece in self.plan.cut:
            sizes[piece.member] += piece.count
        commonest = max(sizes, key=sizes.__getitem__)
        return self.plan.shop.member(commonest).outer_mm / 1000 / self.scale

    @property
    def warnings(self) -> tuple[str, ...]:
        """What will not go well by hand."""
        short = [piece.mark for piece in self.pieces if piece.length_m < LEAST_HAND_M]
        found = []
        if short:
            found.append(
                f"{', '.join(short)} would be shorter than 8 mm: choose a larger model, such as half as small."
            )
        stiff = self.material is not MATERIALS["wire"] and any(piece.bends for piece in self.pieces)
        if stiff:
            told = f"{self.material.many.capitalize()} do not bend round a curve"
            found.append(f"{told}: bend those pieces of wire, or cut each bend into short straight pieces.")
        return tuple(found)


def scale_model(plan: Plan, scale: float = 10.0, material: str = "straw") -> ScaleModel:
    """Return a plan as a model of 1 to a scale.

    Parameters
    ----------
    scale : float
        10 for one tenth of the size.
    material : str
        A key of `MATERIALS`.

    Raises
    ------
    InputError
        For a scale outside 2 to 50.
    """
    require_within("scale", scale, LEAST_SCALE, MOST_SCALE, "to one", "10 makes a model of a tenth.")
    return ScaleModel(plan, float(scale), MATERIALS[material])


def sheet_count(length_m: float, room_m: float) -> int:
    """Return on how many sheets a length lies that is drawn true to scale.

    >>> sheet_count(0.18, 0.18), sheet_count(0.181, 0.18)
    (1, 2)
    """
    return max(1, math.ceil(length_m / room_m - 1e-9))
