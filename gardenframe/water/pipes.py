"""Pipes: losses by Darcy-Weisbach with Colebrook's friction, fittings by their share of the speed's head, returns.

Friction is 64/Re in smooth flow and Colebrook's above a Reynolds number of 2000: between 2000 and 4000, where real flow
wavers, that is the higher of the two. Swamee and Jain's formula starts the rounds and is shown as a check by hand.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from gardenframe.errors import InputError, require_within
from gardenframe.materials import constants
from gardenframe.materials.water import PipeLoss, load_losses
from gardenframe.water.channels import (
    FULL_RATIO,
    LITRES,
    MANNING,
    SECONDS,
    flow_m3_per_s,
    manning_m3_per_s,
    require_slope,
    round_film_m,
    speed_m_per_s,
    wet_angle_rad,
    wet_area_m2,
)
from gardenframe.working import Step, formula

GRAVITY_M_PER_S2 = constants.value("gravity_m_per_s2")
VISCOSITY_M2_PER_S = constants.value("water_viscosity_m2_per_s")
ROUGH_M = constants.value("plastic_roughness_mm") / 1000
LAMINAR = constants.value("laminar_reynolds")
ROUNDS = 100
CLOSE = 1e-14


@formula(result="A", symbols={"bore_m": "D"}, source="geometry", example={"bore_m": 0.0158})
def bore_area_m2(bore_m: float) -> float:
    """Area of the bore of a pipe. [m2]"""
    return math.pi * bore_m**2 / 4


@formula(result="Re", symbols={"speed_m_per_s": "v", "bore_m": "D", "viscosity_m2_per_s": "nu"}, source="pipe-friction",
         example={"speed_m_per_s": 0.425, "bore_m": 0.0158, "viscosity_m2_per_s": 1e-6})  # fmt: skip
def reynolds(speed_m_per_s: float, bore_m: float, viscosity_m2_per_s: float) -> float:
    """Reynolds number: how lively the flow is."""
    return speed_m_per_s * bore_m / viscosity_m2_per_s


@formula(result="f_s", symbols={"reynolds": "Re"}, source="pipe-friction", example={"reynolds": 1500.0})
def smooth_friction(reynolds: float) -> float:
    """Friction factor of smooth (laminar) flow."""
    return 64 / reynolds


@formula(result="f", symbols={"reynolds": "Re", "rough_ratio": "e"}, source="surge-textbook",
         example={"reynolds": 6e5, "rough_ratio": 4e-4})  # fmt: skip
def swamee_jain(reynolds: float, rough_ratio: float) -> float:
    """Friction factor of rough flow by Swamee and Jain, without rounds; `e` is roughness over bore."""
    return 0.25 / math.log10(rough_ratio / 3.7 + 5.74 / reynolds**0.9) ** 2


@formula(result="f_c", symbols={"reynolds": "Re", "rough_ratio": "e", "root": "x_0", "better": "x_1"},
         source="pipe-friction", example={"reynolds": 1e5, "rough_ratio": 1e-4})  # fmt: skip
def colebrook(reynolds: float, rough_ratio: float) -> float:
    """Friction factor of rough flow by Colebrook: rounds of x = 1/√f, x_0 being the round before."""
    root = -2 * math.log10(rough_ratio / 3.7 + 5.74 / reynolds**0.9)
    for _ in range(ROUNDS):
        better = -2 * math.log10(rough_ratio / 3.7 + 2.51 * root / reynolds)
        if abs(better - root) <= CLOSE * root:
            break
        root = better
    return 1 / better**2


@formula(result="f", symbols={"reynolds": "Re", "rough_ratio": "e", "LAMINAR": "Re_0"}, source="pipe-friction",
         example={"reynolds": 6700.0, "rough_ratio": 1e-4})  # fmt: skip
def friction(reynolds: float, rough_ratio: float) -> float:
    """Friction factor, smooth or rough."""
    if reynolds < LAMINAR:
        return smooth_friction(reynolds)
    return colebrook(reynolds, rough_ratio)


@formula(result="h_f", symbols={"friction": "f", "length_m": "L", "bore_m": "D", "speed_m_per_s": "v",
         "GRAVITY_M_PER_S2": "g"}, source="pipe-friction",
         example={"friction": 0.035, "length_m": 3.0, "bore_m": 0.0158, "speed_m_per_s": 0.425})  # fmt: skip
def friction_head_m(friction: float, length_m: float, bore_m: float, speed_m_per_s: float) -> float:
    """Head that a length of pipe takes (Darcy-Weisbach). [m]"""
    return friction * length_m / bore_m * speed_m_per_s**2 / (2 * GRAVITY_M_PER_S2)


@formula(result="h_K", symbols={"loss_ratio": "K", "speed_m_per_s": "v", "GRAVITY_M_PER_S2": "g"}, source="pipe-losses",
         example={"loss_ratio": 3.4, "speed_m_per_s": 0.425})  # fmt: skip
def fitting_head_m(loss_ratio: float, speed_m_per_s: float) -> float:
    """Head that the fittings of a pipe take. [m]"""
    return loss_ratio * speed_m_per_s**2 / (2 * GRAVITY_M_PER_S2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pipe:
    """A full pipe with its fittings: {key of pipe_losses.csv: how many}. It carries a `share` of the pump's flow.

    Of equal branches side by side one is written, with its share and `count`: each takes the same head.
    """

    label: str
    length_m: float
    bore_m: float
    fittings: Mapping[str, int] = field(default_factory=dict)
    share: float = 1.0
    count: int = 1
    rough_m: float = ROUGH_M
    viscosity_m2_per_s: float = VISCOSITY_M2_PER_S

    def __post_init__(self) -> None:
        require_within(f"length of {self.label}", self.length_m, 0, 1000, "m")
        require_within(f"bore of {self.label}", self.bore_m, 0.002, 0.6, "m")
        require_within(f"share of {self.label}", self.share, 0.0001, 1, "of the pump's flow")
        require_within(f"roughness of {self.label}", self.rough_m, 0, 0.05 * self.bore_m, "m")
        losses = load_losses()
        for key in self.fittings:
            if key not in losses:
                raise InputError(f"fitting of {self.label}", key, f"one of {', '.join(losses)}")

    def loss_ratio(self, losses: Mapping[str, PipeLoss] | None = None) -> float:
        """Losses of all its fittings together, as a share of the head of the speed. [1]"""
        rows = losses or load_losses()
        return sum(rows[key].loss_ratio * number for key, number in self.fittings.items())

    def speed_m_per_s(self, flow_l_per_min: float) -> float:
        """Speed in the pipe at a flow of the pump. [m/s]"""
        return speed_m_per_s(flow_m3_per_s(flow_l_per_min * self.share), bore_area_m2(self.bore_m))

    def head_m(self, flow_l_per_min: float) -> float:
        """Head that pipe and fittings take at a flow of the pump; none at no flow. [m]"""
        speed = self.speed_m_per_s(flow_l_per_min)
        number = reynolds(speed, self.bore_m, self.viscosity_m2_per_s)
        if number <= 0:
            return 0.0
        factor = friction(number, self.rough_m / self.bore_m)
        pipe = friction_head_m(factor, self.length_m, self.bore_m, speed)
        return pipe + fitting_head_m(self.loss_ratio(), speed)

    @property
    def water_l(self) -> float:
        """Water that fills it, all branches alike counted. [L]"""
        return bore_area_m2(self.bore_m) * self.length_m * self.count * LITRES

    def working(self, flow_l_per_min: float, system: str = "metric") -> list[Step]:
        """Return the arithmetic of its head at a flow of the pump."""
        flow = flow_m3_per_s(flow_l_per_min * self.share)
        area = bore_area_m2(self.bore_m)
        speed = speed_m_per_s(flow, area)
        number, rough = reynolds(speed, self.bore_m, self.viscosity_m2_per_s), self.rough_m / self.bore_m
        return [
            bore_area_m2.shown(self.bore_m, system=system),
            speed_m_per_s.shown(flow, area, system=system),
            reynolds.shown(speed, self.bore_m, self.viscosity_m2_per_s, system=system),
            friction.shown(number, rough, system=system),
            friction_head_m.shown(friction(number, rough), self.length_m, self.bore_m, speed, system=system),
            fitting_head_m.shown(self.loss_ratio(), speed, system=system),
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class System:
    """What a pump works against: the lift from the water to the highest outlet, and pipes one after another."""

    lift_m: float
    pipes: tuple[Pipe, ...] = ()

    def __post_init__(self) -> None:
        require_within("lift of the pump", self.lift_m, 0, 50, "m", "Measured from the water, not from the pump.")

    def head_m(self, flow_l_per_min: float) -> float:
        """Head needed at a flow. [m]"""
        return self.lift_m + sum(pipe.head_m(flow_l_per_min) for pipe in self.pipes)

    @property
    def water_l(self) -> float:
        """Water in the full pipes. [L]"""
        return sum(pipe.water_l for pipe in self.pipes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Return:
    """A return pipe that runs by its fall alone, part full. [m, m/s]"""

    bore_m: float
    slope_ratio: float
    film_m: float
    speed_m_per_s: float
    water_m2: float


def return_pipe(
    flow_l_per_min: float, slope_ratio: float, bores_m: Sequence[float], manning: float = MANNING
) -> Return:
    """Return the narrowest return pipe that carries a flow at most half full; InputError where none does."""
    require_within("flow in the return pipe", flow_l_per_min, 0.01, 2000, "L/min")
    require_slope(slope_ratio, "slope of the return pipe")
    if not bores_m:
        raise InputError("bores of return pipes", None, "one or more")
    flow, most = flow_m3_per_s(flow_l_per_min), 0.0
    for bore in sorted(bores_m):
        most = manning_m3_per_s(math.pi * bore**2 / 8, math.pi * bore / 2, slope_ratio, manning)
        if flow <= most:
            angle = wet_angle_rad(flow, slope_ratio, bore, manning)
            area = wet_area_m2(bore, angle)
            return Return(bore_m=bore, slope_ratio=slope_ratio, film_m=round_film_m(bore, angle), water_m2=area,
                          speed_m_per_s=speed_m_per_s(flow, area))  # fmt: skip
    raise InputError("flow in the return pipe", flow_l_per_min, f"at most {most * LITRES * SECONDS:.3g} L/min, which "
                     f"fills the widest one to {FULL_RATIO:.0%}", "Use a wider return pipe or more fall.")  # fmt: skip
