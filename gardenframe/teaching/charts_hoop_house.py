"""Two charts of a hoop house: heat against glazing, and what a cover costs a season against how long it lasts.

A plan comes in; a chart that a page shows goes out, drawn as a picture with its numbers as text.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from gardenframe.builds.hoop_house_heat import GLAZINGS, house_of, month_of
from gardenframe.materials.coverings import load_coverings
from gardenframe.teaching.page import escape

WIDTH_PX, ROW_PX, LABEL_PX, NUMBER_PX, TOP_PX = 720, 34, 300, 110, 34
INK, BAR, KNOWN = "#1b1b1b", "#8aa9bd", "#00598c"


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: what it is, how long, its number as text, and whether it stands out."""

    label: str
    value: float
    text: str
    known: bool = False


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars under a title; as text in a terminal, as a picture on a page."""

    title: str
    bars: tuple[Bar, ...]

    def __repr__(self) -> str:
        return "\n".join([self.title, *(f"{bar.label}: {bar.text}" for bar in self.bars)])

    def _repr_html_(self) -> str:
        """Return the picture."""
        height = TOP_PX + ROW_PX * len(self.bars)
        room, most = WIDTH_PX - LABEL_PX - NUMBER_PX, max(bar.value for bar in self.bars) or 1.0
        return (
            f'<svg viewBox="0 0 {WIDTH_PX} {height}" width="100%" style="max-width:{WIDTH_PX}px" role="img" '
            f'xmlns="http://www.w3.org/2000/svg" font-family="system-ui, sans-serif" font-size="14" fill="{INK}">'
            f"<title>{escape(repr(self))}</title>"
            f'<text x="0" y="18" font-weight="700">{escape(self.title)}</text>{"".join(self._rows(room / most))}</svg>'
        )

    def _rows(self, px: float) -> Iterable[str]:
        for i, bar in enumerate(self.bars):
            y, length, fill = TOP_PX + ROW_PX * i, bar.value * px, KNOWN if bar.known else BAR
            yield (
                f'<text x="{LABEL_PX - 8}" y="{y + 20}" text-anchor="end">{escape(bar.label)}</text>'
                f'<rect x="{LABEL_PX}" y="{y + 5}" width="{length:.1f}" height="20" fill="{fill}"/>'
                f'<text x="{LABEL_PX + length + 6:.1f}" y="{y + 20}">{escape(bar.text)}</text>'
            )


def heat_by_glazing(plan: Any) -> Bars:
    """Return the heater that each way of glazing asks for on the coldest night of the build's month."""
    build, month = plan.build, month_of(plan.build)
    section = build.section(plan.shop.member(build.tube).outer_mm / 1000)
    bars = []
    for key, label in GLAZINGS:
        watts = house_of(build, section, key).heater_w(build.keep_degc, month.cold_night_degc)
        bars.append(Bar(label, watts, f"{watts:.0f} W", key == build.glazing))
    title = f"Heater to keep {build.keep_degc:g} °C at {month.cold_night_degc:g} °C outside"
    return Bars(title, tuple(bars))


def cost_by_life(plan: Any, longest: int = 6) -> Bars:
    """Return what the cover costs a season, for each number of seasons that it may last; known lives stand out."""
    covering = load_coverings()[plan.build.covering]
    cost = sum(covered.rolls * plan.shop.prices.price(covered.roll).usual for covered in plan.covered)
    bars = []
    for seasons in range(1, max(longest, round(covering.life_high_seasons)) + 1):
        known = covering.life_low_seasons <= seasons <= covering.life_high_seasons
        each = cost / seasons
        label = f"lasts {seasons} season{'s' if seasons > 1 else ''}"
        bars.append(Bar(label, each, f"{each:.2f} {plan.cost.currency}", known))
    low, high = covering.life_low_seasons, covering.life_high_seasons
    return Bars(f"Cost of a new cover for each season; {covering.label} lasts {low:g} to {high:g}", tuple(bars))


@dataclass(frozen=True, slots=True)
class Charts:
    """Charts one below the other."""

    charts: tuple[Bars, ...]

    def __repr__(self) -> str:
        return "\n\n".join(map(repr, self.charts))

    def _repr_html_(self) -> str:
        """Return the pictures."""
        return "".join(f"<div style='margin:12px 0'>{chart._repr_html_()}</div>" for chart in self.charts)


def charts(plan: Any) -> Charts:
    """Return both charts of a plan: heat against glazing, cost of a season against life."""
    return Charts((heat_by_glazing(plan), cost_by_life(plan)))
