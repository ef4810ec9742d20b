"""The one road: a build, a site and a shop come in, a `Plan` goes out. Every stage takes the stage before.

build -> frame -> fittings -> couplings -> pieces -> coverings -> loads -> checks -> anchors -> cutting, bill, cost.
Each part of a plan is computed when it is first asked for, and kept. The road never asks which build it is.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import pandas as pd

from gardenframe.builds import method, shown
from gardenframe.builds.build import Build
from gardenframe.costs.bill import BillRow, Cost, Need, bill_rows, sticks_needed, total
from gardenframe.costs.cutting import CuttingPlan, plan_cuts
from gardenframe.geometry.bend_marks import BendSheet, bend_sheets
from gardenframe.geometry.coverings import Covered
from gardenframe.geometry.fittings import Fitted, fit
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.pieces import Piece, cut_pieces
from gardenframe.geometry.pools import cover_all
from gardenframe.geometry.splices import splice
from gardenframe.kept import cached_property
from gardenframe.materials.cautions import Caution, cautions_for
from gardenframe.materials.coverings import load_rolls
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.strength.limits import Limit
from gardenframe.strength.rows import CheckRow, table
from gardenframe.strength.standing import Standing
from gardenframe.working import Step


def plan(build: Build, site: Site | None = None, shop: Shop | None = None, *, live: bool = False) -> "Plan":
    """Return the plan of a build at a site from a shop.

    Parameters
    ----------
    build : Build
        What the reader chose.
    site, shop : Site, Shop
        The defaults where they are not given.
    live : bool
        Quick answers while a slider moves: a cutting plan that may be unproven, amplified first-order strength.
    """
    return Plan(build, site or Site(), shop or Shop(), live)


@dataclass(frozen=True)
class Plan:
    """Everything that follows from a build, a site and a shop. Tables are DataFrames, units end the column names."""

    build: Build
    site: Site = field(default_factory=Site)
    shop: Shop = field(default_factory=Shop)
    live: bool = False

    # --- geometry

    @cached_property
    def _joined(self) -> tuple[Frame, tuple[Fitted, ...]]:
        shop = self.shop
        frame = self.build.frame(shop)
        fitted = fit(frame, shop.fittings, shop.members)
        coupled = splice(frame, fitted, lambda key: shop.longest_piece_mm(key) / 1000)
        again = fitted if coupled is frame else fit(coupled, shop.fittings, shop.members, (frame, fitted))
        return coupled, again

    @property
    def frame(self) -> Frame:
        """Joints, runs, parts, supports and panels, couplings included."""
        return self._joined[0]

    @property
    def fitted(self) -> tuple[Fitted, ...]:
        """What is put on at each joint."""
        return self._joined[1]

    @cached_property
    def fittings(self) -> pd.DataFrame:
        """Fittings: `joint, fitting, size, count, angles_deg, set_back_mm`."""
        return pd.DataFrame(
            {
                "joint": [f.joint for f in self.fitted],
                "fitting": [f.label for f in self.fitted],
                "size": [self.shop.member(f.size).label for f in self.fitted],
                "count": [f.count for f in self.fitted],
                "angles_deg": [", ".join(f"{a:.4g}" for a in f.angles_deg) for f in self.fitted],
                "set_back_mm": [f.row.centre_to_stop_mm if f.row and f.setbacks else 0.0 for f in self.fitted],
            }
        )

    @cached_property
    def _finished(self) -> tuple[Piece, ...]:
        loose = self.build.extra_pieces(self)
        return cut_pieces(self.frame, self.fitted, self.shop.on_the_tape, self.shop.tape_mm, loose)

    @cached_property
    def bend_sheets(self) -> tuple[BendSheet, ...]:
        """What to mark, bend and trim for every bent piece."""
        members = {piece.member for piece in self._finished if piece.bends}
        longest = {key: self.shop.longest_piece_mm(key) for key in members}
        return bend_sheets(self._finished, self.shop.members, longest, self.build.benders())

    @cached_property
    def cut(self) -> tuple[Piece, ...]:
        """Pieces, like ones together; a bent one is cut as long as its bender needs, and trimmed once it is bent."""
        shop, start = self.shop, {sheet.mark: sheet.cut_mm for sheet in self.bend_sheets}
        return tuple(
            replace(p, cut=shop.on_the_tape(start[p.mark]), cut_m=shop.tape_mm(start[p.mark]) / 1000)
            if p.mark in start
            else p
            for p in self._finished
        )

    @cached_property
    def open_ends(self) -> dict[str, int]:
        """Tube ends that no fitting closes, by member: each takes a cap."""
        open_: dict[str, int] = {}
        for fitted in self.fitted:
            number = {"cap": 1, "through_bolt": len(fitted.setbacks)}.get(fitted.fitting, 0)
            if number and self.shop.member(fitted.size).shape == "tube":
                open_[fitted.size] = open_.get(fitted.size, 0) + number
        return open_

    @cached_property
    def pieces(self) -> pd.DataFrame:
        """Pieces: `mark, member, role, length_mm` (exact), `cut_mm` (as the tape shows), `count, bends, runs`.

        A bent piece's `length_mm` is that of the finished one; its `cut_mm` has what the bender needs at the ends too.
        """
        return pd.DataFrame(
            {
                "mark": [p.mark for p in self.cut],
                "member": [p.member for p in self.cut],
                "role": [p.role for p in self.cut],
                "length_mm": [p.length_m * 1000 for p in self.cut],
                "cut_mm": [p.cut_m * 1000 for p in self.cut],
                "count": [p.count for p in self.cut],
                "bends": [len(p.bends) for p in self.cut],
                "runs": [", ".join(place.run for place in p.places) for p in self.cut],
            }
        )

    @property
    def marks(self) -> list[tuple[str, str, float, float]]:
        """Mark, run and the stations of its two ends, for every piece in the frame. [m]"""
        return [(p.mark, place.run, place.start_m, place.end_m) for p in self.cut if not p.loose for place in p.places]

    # --- coverings

    @cached_property
    def covered(self) -> tuple[Covered, ...]:
        """How each panel that has a covering, or each sheet of panels, is covered."""
        rolls, prices = load_rolls().values(), self.shop.prices
        return cover_all(self.frame, self.frame.panels, rolls, lambda key: prices.price(key).usual)

    @cached_property
    def coverings(self) -> pd.DataFrame:
        """Coverings: `panel, covering, area_m2, roll, rolls, strips, strip_length_mm, ..., roll_used_m, fixings`."""
        return pd.DataFrame(
            {
                "panel": [c.panel for c in self.covered],
                "covering": [c.covering for c in self.covered],
                "area_m2": [c.area_m2 for c in self.covered],
                "roll": [c.roll for c in self.covered],
                "rolls": [c.rolls for c in self.covered],
                "strips": [len(c.strips.strips) for c in self.covered],
                "strip_length_mm": [c.strips.strips[0].length_m * 1000 for c in self.covered],
                "strip_width_mm": [c.roll_width_m * 1000 for c in self.covered],
                "roll_used_m": [c.strips.length_m for c in self.covered],
                "used_share": [c.used_share for c in self.covered],
                "fixings": [c.fixings for c in self.covered],
            }
        )

    # --- will it stand

    @cached_property
    def standing(self) -> Standing:
        """The frame with all that stands and blows on it: amplified first order while live, else second order."""
        return Standing(
            frame=self.frame,
            fitted=self.fitted,
            covered=self.covered,
            site=replace(self.site, wind_m_per_s=0.0, ground_snow_pa=0.0) if self.build.indoors else self.site,
            members=self.shop.members,
            extra=(*self.build.loads(self.site), *self.build.contents(self.frame, self.site)),
            order="amplified" if self.live else "second",
            anchoring=self.build.anchoring(),
        )

    @cached_property
    def loads(self) -> pd.DataFrame:
        """Loads by case, covered and fully grown: `case, what, x_n, y_n, z_n, parts`."""
        return pd.DataFrame(list(self.standing.loads.rows))

    @cached_property
    def check_rows(self) -> tuple[CheckRow, ...]:
        """The worst row of each kind of check of the frame, then what the build adds; anchors stand by themselves."""
        return (*self.standing.checks.rows, *self.build.checks(self))

    @cached_property
    def anchors(self) -> pd.DataFrame:
        """What holds it: columns of checks and `factor`, what holds over what pulls."""
        return self.standing.anchors.table

    @cached_property
    def checks(self) -> pd.DataFrame:
        """Checks: `check, case, where, demand, capacity, unit, ratio, source`."""
        return table(self.check_rows)

    @cached_property
    def limits(self) -> tuple[Limit, ...]:
        """Forecast gust and ground snow that use up the first check: bare, covered, grown; none under a roof."""
        return () if self.build.indoors else tuple(self.build.limits(self))

    # --- costs

    @cached_property
    def cutting(self) -> dict[str, CuttingPlan]:
        """Cutting plan of each member, in marks of the tape (mm or sixteenths of an inch)."""
        members = dict.fromkeys(piece.member for piece in self.cut)
        return {key: self._cut_from_sticks(key) for key in members}

    def _cut_from_sticks(self, key: str) -> CuttingPlan:
        shop, mine = self.shop, [p for p in self.cut if p.member == key]
        counts: dict[int, int] = {}
        for piece in mine:
            counts[piece.cut] = counts.get(piece.cut, 0) + piece.count
        return plan_cuts(list(counts), list(counts.values()), shop.stock(key), kerf=shop.kerf_marks, live=self.live)

    @cached_property
    def bill_rows(self) -> list[BillRow]:
        """The rows behind the bill."""
        return bill_rows(self._needs(), self.shop.prices, dict(self.shop.on_hand), self.shop.spares)

    def _needs(self) -> Iterator[Need]:
        """Yield everything needed, in the order of the bill: sticks, then all the rest."""
        for key, cutting in self.cutting.items():
            yield from sticks_needed(self.shop, key, cutting.bought)
        yield from self.goods()

    def goods(self) -> Iterator[Need]:
        """Yield what is needed beyond sticks: fittings, covering, what the build adds. No cutting plan is made."""
        shop = self.shop
        for fitted in self.fitted:
            if fitted.key:
                yield Need(item=fitted.key, number=fitted.count, group="fittings", spare=True)
        for size, number in self.open_ends.items():
            yield Need(item=f"cap-{size}", number=number, group="small goods")
        for covered in self.covered:
            yield Need(item=covered.roll, number=covered.rolls, group="covering", note=covered.pool or covered.panel)
            if covered.fixings:
                yield Need(
                    item=covered.fixing, number=covered.fixings * covered.fixing_each, group="covering", spare=True
                )
        yield from self.build.items(self)
        bare = sum(piece.count for piece in self.cut if shop.member(piece.member).family == "emt")
        if bare:
            yield Need(item="zinc-paint", number=2 * bare, group="small goods", note="both ends of every tube")

    @cached_property
    def bill(self) -> pd.DataFrame:
        """Bill: `item, label, group, unit, needed, on_hand, bought, price, cost_low, cost, cost_high, note`."""
        columns = list(BillRow.__dataclass_fields__)
        return pd.DataFrame([[getattr(row, name) for name in columns] for row in self.bill_rows], columns=columns)

    @cached_property
    def cost(self) -> Cost:
        """Cost with tax: `low, usual, high, currency`."""
        return total(self.bill_rows, self.shop.tax, self.shop.prices.currency)

    # --- building it

    @cached_property
    def caution_rows(self) -> list[Caution]:
        """The cautions that apply, those of every build first."""
        wind = () if self.build.indoors else ("outdoors",)
        sunk = [base for base in ("sleeve",) if any(support.base == base for support in self.frame.supports)]
        return cautions_for(("always", *wind, *self.build.cautions(), *sunk))

    @property
    def cautions(self) -> tuple[str, ...]:
        """The sentences of the cautions that apply."""
        return tuple(caution.text for caution in self.caution_rows)

    @cached_property
    def steps(self) -> pd.DataFrame:
        """Steps: `stage, step, tool, people, minutes`."""
        rows = [*method.making(self), *self.build.steps(self), *method.covering(self)]
        return pd.DataFrame(rows)

    @cached_property
    def working(self) -> dict[str, list[Step]]:
        """Shown arithmetic in metric units: heading -> steps."""
        return self.worked("metric")

    def worked(self, system: str) -> dict[str, list[Step]]:
        """Return the shown arithmetic in a unit system: what the build shows first, then lengths and quantities."""
        return dict([*self.build.working(self, system), *shown.quantities(self, system)])

    @cached_property
    def warnings(self) -> tuple[str, ...]:
        """What is beyond what people build."""
        return tuple(self.build.warnings(self))
