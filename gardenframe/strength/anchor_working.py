"""The working of one row of the anchors, made of the formulas that the arrays stand for."""

from gardenframe.materials import constants
from gardenframe.strength import holding, screws
from gardenframe.strength.footing import Foot
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
    if row.kind == "uplift":
        return _uplift(row, foot, system)
    at = int(row.forces["at"])
    if row.kind in ("soil", "driven", "paved"):
        lateral = foot.ground.lateral(foot.main.rests)
        given = (lateral, foot.width_m, foot.depth_m, row.forces["short"])
        if row.kind == "paved":
            return [holding.paved_hold_n_m.shown(*given, system=system)]
        push, turn = float(foot.push_n[at]), float(foot.turn_n_m[at])
        if row.kind == "driven":
            rubbed = holding.rubbed_push_n.shown(push, foot.friction_ratio, float(foot.down_n[at]), system=system)
            left, lasting = float(foot.soil_push_n[at]), float(foot.lasting_ratio[at])
            asked = holding.embedded_demand_n_m.shown(left, turn, foot.depth_m, system=system)
            held = holding.driven_side_hold_n_m.shown(**foot.driven, lasting_ratio=lasting, system=system)
            return [rubbed, asked, held]
        asked = holding.embedded_demand_n_m.shown(push, turn, foot.depth_m, system=system)
        return [asked, holding.embedded_hold_n_m.shown(*given, system=system)]
    if row.kind == "screws":
        return _screws(row, foot, system)
    if row.kind == "pull":
        return _driven(foot, system)
    push, turn = float(foot.push_n[at]), float(foot.turn_n_m[at]) * 1000
    return [holding.hole_pressure_mpa.shown(push, turn, foot.width_m * 1000, foot.depth_m * 1000, system=system)]


def _uplift(row: CheckRow, foot: Foot, system: str) -> list[Step]:
    steps, main = [], foot.main
    if foot.ballast_n:
        mass = foot.chosen("ballast_kg", main.ballast_kg)
        share, g = constants.value("little_weight_ratio"), constants.value("gravity_m_per_s2")
        steps.append(holding.ballast_n.shown(mass, share, g, system=system))
    if main.up == "driven" or (main.up != "nothing" and "tested_n" in foot.options):
        steps += _driven(foot, system)
    elif main.up == "placed":
        soil = foot.ground.loose if main.rests == "fill" else foot.ground.soil
        steps.append(holding.skin_hold_n.shown(*foot.skin(soil), system=system))
    elif main.up in ("grip", "screws"):
        steps += _screws(row, foot, system)
    return steps


def _driven(foot: Foot, system: str) -> list[Step]:
    if "tested_n" in foot.options:
        return [holding.tested_hold_n.shown(*foot.tested, system=system)]
    return [holding.driven_hold_n.shown(**foot.driven, system=system)]


def _screws(row: CheckRow, foot: Foot, system: str) -> list[Step]:
    key = next(a.screw for a in foot.anchors if a.screw)
    return screws.working(foot.ground.fixings[key], foot.ground.timber, row.forces["duration"], system)
