"""What the page says of strength: the plan's own numbers, in both unit systems, and never that anything is safe."""

import re

import pytest

import gardenframe
from gardenframe import Site
from gardenframe.builds import Trellis
from gardenframe.builds.cold_frame import ColdFrame
from gardenframe.builds.raised_bed import RaisedBed
from gardenframe.builds.walkway_arch import WalkwayArch
from gardenframe.output.telling import said_of, sides
from gardenframe.strength.rows import CheckRow
from gardenframe.teaching import standing_results as page
from gardenframe.teaching.reading import Reader


@pytest.fixture(scope="module")
def plan():
    """Return the default trellis, proved."""
    return gardenframe.plan(Trellis())


@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_ratio_is_the_plans(plan, system):
    """Each row of the table of checks stands on the page with its ratio; the worst heads it and is the card's."""
    text = page.ratios_page(plan, Reader(system))
    for _, row in plan.checks.iterrows():
        assert row["check"] in text
        assert f">{row['ratio']:.2f}<" in text
    hardest = max(plan.checks["ratio"].max(), plan.anchors["ratio"].max())
    assert page.strength_card(plan).number == f"{hardest:.2f}"


def test_every_anchor_is_the_plans(plan):
    """Each row of the table of anchors stands on the page with what holds over what pulls."""
    text = page.anchors_page(plan, Reader())
    for _, row in plan.anchors.iterrows():
        assert row["check"] in text
        if row["demand"] > 1:
            assert f">{row['capacity'] / row['demand']:.2f}<" in text


def test_over_its_limit_says_what_to_change(plan):
    """Where a check is over, the page says so in words and names what helps; a light wind has no such words."""
    assert plan.checks["ratio"].max() > 1
    assert "over the limit" in page.ratios_page(plan, Reader())
    calm = gardenframe.plan(Trellis(tube="emt-1-1/4", bed_depth_m=0.45), Site(wind_m_per_s=12.0, wind_kind="forecast"))
    assert max(calm.checks["ratio"].max(), calm.anchors["ratio"].max()) < 1
    assert "over the limit" not in page.ratios_page(calm, Reader())


def test_limits_in_both_systems(plan):
    """The gust of the sentence is the plan's limit: m/s and km/h, or mph (1 mph = 0.44704 m/s, by definition)."""
    gust = next(x for x in plan.limits if x.what == "gust" and x.condition == "grown").value
    metric, us = (page.limits_page(plan, Reader(system)) for system in ("metric", "us"))
    assert f"{gust:.1f} m/s ({gust * 3.6:.0f} km/h)" in metric
    assert f">{gust:.1f}<" in metric
    assert f"{gust / 0.44704:.0f} mph" in us
    assert "divided by 1.5" in metric


def test_a_limit_says_what_is_not_in_it():
    """Panes and what fixes them are no part of a gust limit; a net on ties that were checked has no such sentence."""
    glass = next(values for values in ColdFrame.examples.values() if values.get("glazing") == "glass-3")
    panes = page.limits_page(gardenframe.plan(ColdFrame(**glass), live=True), Reader())
    assert "What fixes the covering is not checked: it may give first." in panes
    assert "What a covering itself carries (net, film, sheet or pane) is in none of them" in panes
    bare = page.limits_page(gardenframe.plan(Trellis(), live=True), Reader())
    assert "What fixes the covering" not in bare
    assert "What a covering itself carries" in bare


def test_loads_are_the_tables(plan):
    """Each case stands on the page with the sum that the table of loads has."""
    text = page.loads_page(plan, Reader())
    for _, row in plan.loads.iterrows():
        assert f"<td>{row['case']}</td>" in text
    wind = plan.loads.set_index("case").loc["W+y", "y_n"]
    assert f">{wind:.0f}<" in text


def test_arrows_are_in_the_readers_unit(plan):
    """The drawing of loads names no newtons where the reader has feet and inches, and no pounds where not."""
    metric, us = (page.loads_page(plan, Reader(system, 860.0)) for system in ("metric", "us"))
    assert re.search(r">\d+ N<", metric)
    assert not re.search(r"\d N<", us)
    assert re.search(r">[\d.]+ lbf<", us)


def test_cases_of_a_lid_left_open_are_in_words():
    """A gust of the forecast has other factors than a design wind; its combinations are told in words all the same."""
    lid = gardenframe.plan(ColdFrame())
    cases = {row.case for row in lid.check_rows if row.check.startswith("lid open: ") and "W" in row.case}
    assert cases
    assert all(re.match(r"wind from .* \(", said_of(lid, case)) for case in cases)


@pytest.mark.parametrize(
    ("demand_mm", "capacity_mm", "metric", "us"),
    [
        (0.1, 0.6, ("0.1 mm", "0.6 mm"), ("0.00 in", "0.02 in")),
        (1.3, 12.7, ("1 mm", "13 mm"), ("0.05 in", "0.50 in")),
        (6.35, 50.8, ("6 mm", "51 mm"), ("1/4 in", "2 in")),
    ],
)
def test_a_movement_smaller_than_a_mark_is_not_nought_of_nought(demand_mm, capacity_mm, metric, us):
    """12.7 mm is half an inch, 6.35 mm a quarter, 50.8 mm two; smaller than a mark of the tape they get decimals."""
    row = CheckRow(
        check="ridge: sag of the ridge", case="D", where="ridge", demand=demand_mm, capacity=capacity_mm, unit="mm",
        source="deflection-practice", kind="deflection",
    )  # fmt: skip
    assert (sides(row, "metric"), sides(row, "us")) == (metric, us)


def test_nothing_is_called_safe(plan):
    """No page of strength calls a build or a result safe."""
    for made in (page.ratios_page, page.limits_page, page.loads_page, page.stronger_page):
        assert not re.search(r"\bsafe\b", made(plan, Reader()), re.IGNORECASE)


def test_what_has_no_cover_is_not_told_to_take_one_down():
    """A grown arch without a net: its plants are cut back, and it is called grown, not covered."""
    bare = gardenframe.plan(WalkwayArch(covering="none"), live=True)
    shown = page.limits_page(bare, Reader("metric"))
    assert "cut the plants back." in shown
    assert "net" not in shown.split("</table>")[0]
    assert "covered" not in shown
    netted = page.limits_page(gardenframe.plan(WalkwayArch(), live=True), Reader("metric"))
    assert "take the net down" in netted
    assert "covered and grown" in netted


def test_what_gives_without_wind_is_not_sent_to_a_sheltered_place():
    """A bed on legs too heavy for its bearers: no shelter helps it, and nothing hangs on it."""
    made = gardenframe.plan(RaisedBed(form="legs"), live=True)
    assert max(row.ratio for row in made.standing.rows) > 1
    assert "does not carry its own weight and what it holds" in page.limits_page(made, Reader("metric"))
    shown = page.stronger_page(made, Reader("metric"))
    assert "gives without any wind" in shown
    assert "shelter" not in shown


@pytest.mark.parametrize(("system", "unit"), [("metric", " N"), ("us", " lbf")])
def test_feet_that_are_lifted_alike_are_told_once(system, unit):
    """An empty bed in the wind: one sentence names all its feet and the largest pull, in the reader's unit."""
    made = gardenframe.plan(RaisedBed(tube="emt-1/2", wall="steel-along"), live=True)
    lifted = [told for told in made.standing.anchors.cautions if "is lifted by" in told]
    assert len(lifted) > 3
    shown = page.anchors_page(made, Reader(system))
    said = [part for part in re.split("<li>", shown) if "lifted by" in part]
    assert len(said) == 1
    assert all(told.split(" at joint ")[1].split(" is lifted")[0] in said[0] for told in lifted)
    most = max(float(told.split("lifted by ")[1].split(" N")[0]) for told in lifted)
    pull = float(said[0].split("up to ")[1].split(unit)[0])
    assert pull == pytest.approx(most if system == "metric" else most / 4.4482216, abs=0.5)


def test_a_bed_is_not_told_to_take_its_walls_off():
    """Walls are a bed's covering, and hold its soil: above its limit they stay."""
    shown = page.limits_page(
        gardenframe.plan(RaisedBed(tube="emt-1/2", wall="steel-along"), live=True), Reader("metric")
    )
    assert "keep it full" in shown
    assert "take the cover off" not in shown


def test_what_no_gust_moves_needs_no_change():
    """A low bed full of soil outlasts every gust that is looked at: it is not sent to a sheltered place."""
    made = gardenframe.plan(RaisedBed(), live=True)
    assert "No gust up to" in page.limits_page(made, Reader("metric"))
    shown = page.stronger_page(made, Reader("metric"))
    assert "no change is needed" in shown
    assert "shelter" not in shown
