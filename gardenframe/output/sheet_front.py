"""First pages of a build sheet: what it is, what it was worked out for, what can hurt someone, what to settle first."""

from collections.abc import Iterator
from datetime import date

from gardenframe import units
from gardenframe.materials.cautions import Caution
from gardenframe.materials.settling import to_settle
from gardenframe.materials.soils import load_soils
from gardenframe.output import markup, telling
from gardenframe.output.picture import picture
from gardenframe.road import Plan
from gardenframe.strength.wind import rows as wind_rows

PICTURE_PX = 330
ON_SCREEN = (
    "Print this page with the browser's own Print (Ctrl+P or Cmd+P) on A4 or Letter, at 100 %. "
    "It needs no network; keep it with the build."
)
WIND_KINDS = {"code": "design speed of the local code", "forecast": "gust of a forecast"}


def parts(plan: Plan, system: str, name: str, day: date) -> Iterator[str]:
    """Yield the parts of the first pages."""
    yield _top(plan, system, name, day)
    yield markup.section("cautions", "Cautions", _cautions(plan.caution_rows))
    yield markup.section("before", "Before you build", _before(plan))


def _top(plan: Plan, system: str, name: str, day: date) -> str:
    kind = f"{plan.build.title}. " if name != plan.build.title else ""
    drawn = picture(plan.frame, PICTURE_PX, members=plan.shop.members, title=f"Picture of {name}")
    warnings = "".join(markup.paragraph(f"Look again: {warning}", "warning") for warning in plan.warnings)
    return (
        f"<header>{markup.paragraph(ON_SCREEN, 'screen')}<h1>{markup.escape(name)}</h1>"
        f"{markup.paragraph(f'{kind}Build sheet, {day.isoformat()}.', 'under')}</header>"
        f"<div class='top'><figure>{drawn}</figure>{markup.facts(key_facts(plan, system))}</div>"
        f"{markup.paragraph(telling.take_off(plan, system), 'lead')}{warnings}"
    )


def key_facts(plan: Plan, system: str) -> Iterator[tuple[str, str]]:
    """Yield the few numbers that sum a plan up."""
    cost = plan.cost
    yield (
        "Cost",
        f"{telling.money(cost.usual, plan)} ({telling.money(cost.low, plan)} to {telling.money(cost.high, plan)})",
    )
    sticks = sum(cutting.sticks for cutting in plan.cutting.values())
    pieces = sum(piece.count for piece in plan.cut)
    yield "To cut", f"{pieces} pieces from {sticks} sticks"
    longest = max(plan.cut, key=lambda piece: piece.cut_m, default=None)
    if longest:
        yield "Longest piece", f"{longest.mark}, {units.write(longest.cut_m, 'length', system)}"
    yield "Mass of pieces", units.write(mass_kg(plan), "mass", system, digits=1)
    yield "Time", f"about {telling.hours(sum(plan.steps['minutes']))}, up to {max(plan.steps['people'])} people"
    row = max((*telling.rows_by_worst(plan), *telling.anchors_by_worst(plan)), key=lambda r: r.ratio)
    yield "Hardest worked", f"{row.check}: {telling.ratio(row)} of its limit"


def mass_kg(plan: Plan) -> float:
    """Return the mass of all pieces. [kg]"""
    return sum(p.length_m * p.count * plan.shop.member(p.member).mass_kg_per_m for p in plan.cut)


def _cautions(rows: list[Caution]) -> str:
    ending = "Local codes and licensed practice come first. No number on these pages makes a structure safe."
    return markup.paragraph(ending, "lead") + markup.listed(row.text for row in rows)


def _before(plan: Plan) -> str:
    told = "No legal limit is given here: they differ from place to place. Ask, write the answer down, tick it off."
    return markup.paragraph(told) + markup.listed((row.text for row in to_settle(plan.build.indoors)), "tick")


def chosen(plan: Plan, system: str) -> str:
    """Return what the reader chose: the build's fields, the site and the shop."""
    build, shop = plan.build, plan.shop
    fields = [
        (f"{field.label} ({field.datum})" if field.datum else field.label, field.written(value, system))
        for field in build.fields()
        if build.used(field) and (value := getattr(build, field.key)) is not None
    ]
    kept = units.write(shop.kerf / 1000, "length", system)
    rest = [
        ("Cut with", f"{shop.cutter}; a cut removes {kept}"),
        ("Spares", units.write(shop.spares, "share", system)),
        ("Tax", units.write(shop.tax, "share", system)),
    ]
    if shop.trim_mm:
        rest.append(("Trimmed off each stick", units.write(shop.trim_mm / 1000, "length", system)))
    if shop.carried_mm is not None:
        rest.append(("Longest that is carried", units.write(shop.carried_mm / 1000, "length", system)))
    return (
        markup.facts(fields)
        + "<h3>Site</h3>"
        + markup.facts(_site(plan, system))
        + "<h3>Shop</h3>"
        + markup.facts(rest)
    )


def _site(plan: Plan, system: str) -> Iterator[tuple[str, str]]:
    site = plan.site
    if plan.build.indoors:
        yield "Place", "under a roof: neither wind nor snow"
        return
    yield "Wind", f"{telling.speed(site.wind_m_per_s, system)}, {WIND_KINDS[site.wind_kind]}"
    yield "Country round about", _label("exposures.csv", "exposure", site.exposure)
    yield "Shelter close by", _label("shelters.csv", "shelter", site.shelter)
    yield "Ground snow", units.write(site.ground_snow_pa, "pressure", system)
    yield "Soil", load_soils()[site.soil].label


def _label(table: str, column: str, key: str) -> str:
    return next((str(row["label"]) for row in wind_rows(table) if row[column] == key), key)
