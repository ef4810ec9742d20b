"""Sun and shade on a bed: hours of direct sun and share of the day's light, under cloths, roofs, nets and neighbours.

A *screen* is a flat polygon with convex outline that lets a share of light through (a cloth, a leafed trellis net); a
*block* is a convex prism that lets none through (a shed, a hedge). East is x, north y, up z. Hours are sundial time
unless a clock's zone is given. The beam is followed exactly; diffuse light comes from an even sky.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from gardenframe.climate import sky
from gardenframe.climate.sun import MIDDLE_DAYS, MONTHS, Floats, at_solar_time, half_day_h, solar_hour
from gardenframe.errors import InputError, require_within
from gardenframe.named import month_of
from gardenframe.working import formula

SKY_RAYS = 256
NEAR_M = 1e-9


@dataclass(frozen=True, slots=True)
class Screen:
    """A flat polygon, corners (east, north, up) in order round it [m]; `passes` is the share of light let through."""

    corners: tuple[tuple[float, float, float], ...]
    passes: float

    def __post_init__(self) -> None:
        require_within("share of light let through", self.passes, 0, 1, "(a 30 % cloth lets 0.7 through)")
        points = np.array(self.corners, float)
        if points.ndim != 2 or len(points) < 3 or points.shape[1] != 3:
            raise InputError("screen", f"{len(self.corners)} corners", "three corners or more, each with three numbers")
        sides = np.roll(points, -1, axis=0) - points
        turns = np.cross(sides, np.roll(sides, -1, axis=0))
        normal = _normal(points)
        if np.linalg.norm(normal) < NEAR_M:
            raise InputError("screen", "corners in one line", "an outline with an area")
        unit = normal / np.linalg.norm(normal)
        if np.abs((points - points[0]) @ unit).max() > 1e-4:
            raise InputError("screen", "corners out of one plane", "a flat outline", "Split it into triangles.")
        if (turns @ unit < -1e-9).any():
            raise InputError("screen", "an outline with a notch", "a convex outline", "Split it into convex parts.")


@dataclass(frozen=True, slots=True)
class Block:
    """A solid prism: corners of a convex plan (east, north) [m], from `base_m` to `top_m`."""

    plan: tuple[tuple[float, float], ...]
    top_m: float
    base_m: float = 0.0

    def __post_init__(self) -> None:
        if self.top_m <= self.base_m:
            raise InputError("top of a block", self.top_m, f"more than its base at {self.base_m:g} m")
        Screen(tuple((x, y, 0.0) for x, y in self.plan), 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SunMap:
    """Sun on the points of a bed. Axes: months, then points in the shape of the grid.

    `direct_h` unhindered, `filtered_h` through a screen, `blocked_h` none; together the hours that the sun is up. [h]
    `light_share` is the share of a clear day's light that arrives. `passes` (month, step, points) is the share of the
    beam let through at `hours` (month, step).
    """

    months: tuple[int, ...]
    hours: Floats
    weights_h: Floats
    passes: Floats
    direct_h: Floats
    filtered_h: Floats
    blocked_h: Floats
    light_share: Floats
    sky_share: Floats

    def at(self, month: int, hour: float) -> Floats | None:
        """Return the share of the beam on each point in a month at an hour; None while the sun is down."""
        if month not in self.months:
            raise InputError("month", month, f"one of {', '.join(map(str, self.months))}")
        row = self.months.index(month)
        hours, half = self.hours[row], self.weights_h[row] / 2
        within = np.flatnonzero((hours - half <= hour) & (hour <= hours + half) & (half > 0))
        return np.asarray(self.passes[row, within[0]]) if within.size else None

    @property
    def sentence(self) -> str:
        """What to tell where the sun stays down for whole months; empty elsewhere."""
        dark = [MONTHS[month - 1] for month, row in zip(self.months, self.weights_h, strict=True) if row.sum() == 0]
        return f"The sun does not rise in the middle of {', '.join(dark)}: nothing to show there." if dark else ""


def bed_grid(length_m: float, width_m: float, across: int = 20, deep: int = 10, z_m: float = 0.0) -> Floats:
    """Return points at the middles of the cells of a bed whose corner is the origin: (deep, across, 3). [m]"""
    require_within("length of the bed", length_m, 0.01, 1000, "m")
    require_within("width of the bed", width_m, 0.01, 1000, "m")
    x, y = (np.arange(across) + 0.5) / across * length_m, (np.arange(deep) + 0.5) / deep * width_m
    points: Floats = np.stack([*np.meshgrid(x, y), np.full((deep, across), float(z_m))], axis=-1)
    return points


def turned(points: Floats, front_azimuth_deg: float) -> Floats:
    """Return points given with the front towards −y, turned so that the front faces an azimuth (180 leaves them)."""
    require_within("azimuth", front_azimuth_deg, -360, 360, "deg", "Clockwise from north: south is 180.")
    angle = math.radians(180 - front_azimuth_deg)
    c, s = math.cos(angle), math.sin(angle)
    return np.asarray(np.asarray(points, float) @ np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]]), float)


def wall(start: tuple[float, float], end: tuple[float, float], top_m: float, passes: float = 0.0,
         base_m: float = 0.0) -> Screen:  # fmt: skip
    """Return an upright screen over a line on the ground: a wall, a hedge, a trellis net in leaf."""
    return Screen(((*start, base_m), (*end, base_m), (*end, top_m), (*start, top_m)), passes)


def beam_share(points: Floats, directions: Floats, things: Iterable[Screen | Block]) -> Floats:
    """Return the share of light that reaches points (p, 3) from unit directions (d, 3): an array (d, p)."""
    share = np.ones((len(directions), len(points)))
    for thing in things:
        hit = _through_screen(points, directions, thing) if isinstance(thing, Screen) else _in_block(
            points, directions, thing)  # fmt: skip
        share *= np.where(hit, thing.passes if isinstance(thing, Screen) else 0.0, 1.0)
    return share


def sun_map(
    points: Floats,
    things: Sequence[Screen | Block],
    latitude_deg: float,
    months: Sequence[int] = tuple(range(1, 13)),
    steps: int = 24,
    longitude_deg: float = 0.0,
    zone_h: float | None = None,
) -> SunMap:
    """Return the sun on points in the middle day of each month.

    Parameters
    ----------
    points : array
        Last axis (east, north, up). [m]
    steps : int
        Parts of equal length that each day between sunrise and sunset is cut into, the sun standing at the middle.
    zone_h : float, optional
        What the clock is ahead of UTC; given, `hours` are by the clock, else by the sundial. [h]
    """
    for month in months:
        require_within("month", month, 1, 12, "(January is 1)")
    days = tuple(MIDDLE_DAYS[month - 1] for month in months)
    return _mapped(points, things, latitude_deg, days, tuple(months), steps, longitude_deg, zone_h)


def day_map(points: Floats, things: Sequence[Screen | Block], latitude_deg: float, day: int, steps: int = 48) -> SunMap:
    """Return the sun on points on one day of a usual year, hours by the sundial: a map of a single month, its own."""
    return _mapped(points, things, latitude_deg, (day,), (month_of(day),), steps, 0.0, None)


def _mapped(points: Floats, things: Sequence[Screen | Block], latitude_deg: float, of: tuple[int, ...],
            months: tuple[int, ...], steps: int, longitude_deg: float, zone_h: float | None) -> SunMap:  # fmt: skip
    days = np.array(of)[:, None]
    half = half_day_h(latitude_deg, days)
    hours = 12 + half * ((np.arange(steps) + 0.5) / steps * 2 - 1)
    weights = np.broadcast_to(2 * half / steps, hours.shape)
    place = at_solar_time(latitude_deg, days, hours)
    light = sky.clear_light(place.altitude_deg, days)
    flat = np.asarray(points, float).reshape(-1, 3)
    passes = beam_share(flat, place.to_sun.reshape(-1, 3), things).reshape(*hours.shape, -1)
    seen = beam_share(flat, _dome(), things).mean(axis=0)
    beam, diffuse = light.beam_w_per_m2 * weights, light.diffuse_w_per_m2 * weights
    total = (beam + diffuse).sum(axis=1)[:, None]
    arrived = np.einsum("ms,msp->mp", beam, passes) + diffuse.sum(axis=1)[:, None] * seen
    shape = np.asarray(points).shape[:-1]

    def spent(held: NDArray[np.bool_]) -> Floats:
        return np.asarray(np.einsum("ms,msp->mp", weights, held.astype(float)).reshape(-1, *shape), float)

    clock = hours if zone_h is None else hours - (solar_hour(0.0, longitude_deg, zone_h, days))
    share = np.divide(arrived, total, out=np.zeros_like(arrived), where=total > 0)
    return SunMap(
        months=months, hours=clock, weights_h=np.asarray(weights),
        passes=passes.reshape(*hours.shape, *shape), direct_h=spent(passes == 1), blocked_h=spent(passes == 0),
        filtered_h=spent((passes > 0) & (passes < 1)), light_share=share.reshape(-1, *shape),
        sky_share=seen.reshape(shape),
    )  # fmt: skip


def beam_between(points: Floats, things: Sequence[Screen | Block], latitude_deg: float, month: int,
                 from_h: float = 12.0, to_h: float = 16.0, steps: int = 16) -> float:  # fmt: skip
    """Return the mean share of the beam that reaches points between two sundial hours of a month's middle day. [1]

    Weighed by the beam's strength on level ground; 0 where the sun is down.
    """
    require_within("month", month, 1, 12, "(January is 1)")
    if not 0 <= from_h < to_h <= 24:
        raise InputError("hours", f"{from_h:g} to {to_h:g}", "a first hour before the last, from 0 to 24")
    day = MIDDLE_DAYS[month - 1]
    place = at_solar_time(latitude_deg, day, from_h + (to_h - from_h) * (np.arange(steps) + 0.5) / steps)
    strength = sky.clear_light(place.altitude_deg, day).beam_w_per_m2
    if strength.sum() <= 0:
        return 0.0
    passes = beam_share(np.asarray(points, float).reshape(-1, 3), place.to_sun, things).mean(axis=1)
    return float((strength * passes).sum() / strength.sum())


@dataclass(frozen=True, slots=True, kw_only=True)
class Overhang:
    """What one overhang does: share of the beam kept off in summer (12 to 16 h) and let in in winter. [1]"""

    overhang_m: float
    summer_kept_off: float
    winter_let_in: float


def overhangs(points: Floats, things_for: Callable[[float], Sequence[Screen | Block]], latitude_deg: float,
              sizes_m: Sequence[float]) -> list[Overhang]:  # fmt: skip
    """Return, for each overhang, July afternoons kept off and December days let in (January and June in the south)."""
    summer, winter = (7, 12) if latitude_deg >= 0 else (1, 6)
    rows = []
    for size in sizes_m:
        things = things_for(size)
        kept = 1 - beam_between(points, things, latitude_deg, summer)
        let = beam_between(points, things, latitude_deg, winter, 8, 16)
        rows.append(Overhang(overhang_m=size, summer_kept_off=kept, winter_let_in=let))
    return rows


def best_overhang(rows: Sequence[Overhang]) -> Overhang:
    """Return the row with the greatest sum of summer kept off and winter let in; the smallest overhang of equals."""
    if not rows:
        raise InputError("overhangs", "none", "one overhang or more to choose from")
    return max(rows, key=lambda row: (round(row.summer_kept_off + row.winter_let_in, 6), -row.overhang_m))


@formula(result="p", symbols={"altitude_deg": "alpha", "turned_deg": "psi"}, source="geometry",
         example={"altitude_deg": 60.0, "turned_deg": 30.0})  # fmt: skip
def profile_tangent(altitude_deg: float, turned_deg: float) -> float:
    """Tangent of the sun's height seen along a wall; `turned` is its azimuth less the wall's facing. [1]"""
    return math.tan(math.radians(altitude_deg)) / math.cos(math.radians(turned_deg))


@formula(result="o", symbols={"height_m": "h", "profile_ratio": "p"}, source="geometry",
         example={"height_m": 2.0, "profile_ratio": 2.0})  # fmt: skip
def overhang_m(height_m: float, profile_ratio: float) -> float:
    """Overhang whose edge just shades what lies a height below it, at the wall's face. [m]"""
    return height_m / profile_ratio


@cache
def _dome() -> Floats:
    """Return directions spread over an even sky, as a level face weighs them (a spiral of equal parts)."""
    k = np.arange(SKY_RAYS) + 0.5
    out, turn = np.sqrt(k / SKY_RAYS), k * math.pi * (3 - math.sqrt(5))
    return np.stack([out * np.cos(turn), out * np.sin(turn), np.sqrt(1 - out**2)], axis=-1)


def _normal(points: Floats) -> Floats:
    return np.asarray(np.cross(points, np.roll(points, -1, axis=0)).sum(axis=0) / 2, float)


def _through_screen(points: Floats, directions: Floats, screen: Screen) -> NDArray[np.bool_]:
    """Return where a ray from a point in a direction crosses a screen: (d, p)."""
    corners = np.array(screen.corners, float)
    normal = _normal(corners)
    along = directions @ normal
    rises = (corners[0] - points) @ normal
    flat = np.abs(along) < 1e-12
    reach = rises[None, :] / np.where(flat, 1.0, along)[:, None]
    inside = (reach > NEAR_M) & ~flat[:, None]
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        across = np.cross(normal, b - a)
        inside &= ((points - a) @ across)[None, :] + reach * (directions @ across)[:, None] >= 0
    return np.asarray(inside)


def _in_block(points: Floats, directions: Floats, block: Block) -> NDArray[np.bool_]:
    """Return where a ray from a point enters a block: it passes all the block's faces on the inner side."""
    plan = np.array(block.plan, float)
    ahead = np.roll(plan, -1, axis=0)
    turn = np.sign((plan[:, 0] * ahead[:, 1] - plan[:, 1] * ahead[:, 0]).sum())
    sides = (ahead - plan) * turn
    normals = np.stack([sides[:, 1], -sides[:, 0], np.zeros(len(plan))], axis=-1)
    normals = np.vstack([normals, [[0, 0, 1], [0, 0, -1]]])
    limits = np.append((normals[:-2, :2] * plan).sum(axis=1), [block.top_m, -block.base_m])
    enter, leave = np.full((len(directions), len(points)), NEAR_M), np.full((len(directions), len(points)), np.inf)
    for normal, limit in zip(normals, limits, strict=True):
        along, room = (directions @ normal)[:, None], (limit - points @ normal)[None, :]
        with np.errstate(divide="ignore", invalid="ignore"):
            reach = room / along
        enter = np.where(along < -1e-12, np.maximum(enter, reach), enter)
        leave = np.where(along > 1e-12, np.minimum(leave, reach), leave)
        leave = np.where((np.abs(along) <= 1e-12) & (room < 0), -np.inf, leave)
    return np.asarray(enter < leave)
