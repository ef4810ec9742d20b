"""The working of one row of the anchors, made of the formulas that the arrays stand for."""

from gardenframe.materials import constants
from gardenframe.strength import holding, screws
from gardenframe.strength.footing import Foot, Footing
from gardenframe.strength.rows import CheckRow
from gardenframe.working import Step


def of_row(row: CheckRow, foot: Foot | None, system: str = "metric") -> list[Step]:
    """Return the steps to what holds, and the factor where something pulls."""
    steps = _steps(row, foot, system) if foot else []
    if row.demand <= 0:
        return steps
    if row.unit == "N m":
        return [*steps, holding.moment_factor.shown(row.capacity, row.demand, system=system)]
    if row.unit == "N":
        return [*steps, holding.force_factor.shown(row.capacity, row.demand, system=system)]
    return steps


def _steps(row: CheckRow, foot: Foot, system: str) -> list[Step]:
    held = foot.footing
    if row.kind == "uplift":
        return _uplift(row, held, system)
    at = int(row.forces["at"])
    if row.kind in ("soil", "driven", "paved"):
        lateral = held.ground.lateral(held.main.rests)
        given = (lateral, held.width_m, held.depth_m, row.forces["short"])
        if row.kind == "paved":
            return [holding.paved_hold_n_m.shown(*given, system=system)]
        push, turn = float(foot.push_n[at]), float(foot.turn_n_m[at])
        if row.kind == "driven":
            rubbed = holding.rubbed_push_n.shown(push, held.friction_ratio, float(foot.down_n[at]), system=system)
            left, lasting = float(foot.soil_push_n[at]), float(held.lasting_ratio[at])
            asked = holding.embedded_demand_n_m.shown(left, turn, held.depth_m, system=system)
            given_back = holding.driven_side_hold_n_m.shown(**held.driven, lasting_ratio=lasting, system=system)
            return [rubbed, asked, given_back]
        asked = holding.embedded_demand_n_m.shown(push, turn, held.depth_m, system=system)
        return [asked, holding.embedded_hold_n_m.shown(*given, system=system)]
    if row.kind == "screws":
        return _screws(row, held, system)
    if row.kind == "pull":
        return _driven(held, system)
    push, turn = float(foot.push_n[at]), float(foot.turn_n_m[at]) * 1000
    return [holding.hole_pressure_mpa.shown(push, turn, held.width_m * 1000, held.depth_m * 1000, system=system)]


def _uplift(row: CheckRow, held: Footing, system: str) -> list[Step]:
    steps, main = [], held.main
    if held.ballast_n:
        mass = held.chosen("ballast_kg", main.ballast_kg)
        share, g = constants.value("little_weight_ratio"), constants.value("gravity_m_per_s2")
        steps.append(holding.ballast_n.shown(mass, share, g, system=system))
    if main.up == "driven" or (main.up != "nothing" and "tested_n" in held.options):
        steps += _driven(held, system)
    elif main.up == "placed":
        soil = held.ground.loose if main.rests == "fill" else held.ground.soil
        steps.append(holding.skin_hold_n.shown(*held.skin(soil), system=system))
    elif main.up in ("grip", "screws"):
        steps += _screws(row, held, system)
    return steps


def _driven(held: Footing, system: str) -> list[Step]:
    if "tested_n" in held.options:
        return [holding.tested_hold_n.shown(*held.tested, system=system)]
    return [holding.driven_hold_n.shown(**held.driven, system=system)]


def _screws(row: CheckRow, held: Footing, system: str) -> list[Step]:
    key = next(a.screw for a in held.anchors if a.screw)
    return screws.working(held.ground.fixings[key], held.ground.timber, row.forces["duration"], system)
