"""The trellis workbook in a real browser: what the page says is what the package computes."""

import re

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.errors import GardenframeError

BOOK = "01_trellis.ipynb"
NUMBERS = ("cost", "sticks", "longest")


def shown(book, key):
    """Return the locator of one key number."""
    return book.page.locator(f"#gf-{key}")


def expected(build):
    """Return the key numbers of a build by the package itself, in metric."""
    plan = gardenframe.plan(build)
    longest = max(plan.pieces["cut_mm"])
    sticks = sum(cutting.sticks for cutting in plan.cutting.values())
    return {"cost": f"${plan.cost.usual:,.2f}", "sticks": f"{sticks}", "longest": f"{longest:.0f} mm"}


def assert_page_is(book, build):
    """Wait until the page shows what the package computes for a build."""
    from playwright.sync_api import expect

    for key, text in expected(build).items():
        expect(shown(book, key)).to_have_text(text, timeout=15_000)


def assert_clean(book):
    """No request left this machine, no script failed."""
    assert [url for url in book.page.foreign if not url.startswith("attachment:")] == []
    assert book.page.errors == []


def overflow(page):
    """Return the elements of the panel that are wider than what holds them."""
    return page.evaluate(
        """() => [...document.querySelectorAll('.gf-panel, .gf-results, .gf-controls, .gf-field, .gf-cards')]
            .filter(e => e.scrollWidth > e.clientWidth + 2).map(e => e.className)"""
    )


def test_a_reader_types_slides_switches_and_mistypes(book):
    """One sitting, as a reader has it: the page follows the package at every step."""
    from playwright.sync_api import expect

    opened = book(BOOK, run=False)
    expect(opened.page.locator(".jp-RenderedMarkdown", has_text="To start:").first).to_be_visible()
    assert opened.page.locator(".gf-panel").count() == 0
    opened.run_all()
    page, build = opened.page, Trellis()
    assert_page_is(opened, build)

    opened.type("Width", "6 ft 2 1/2 in")
    build = build.changed(width_m=74.5 * 0.0254)
    assert_page_is(opened, build)

    opened.type("Height", "1,9 m")
    build = build.changed(height_m=1.9)
    assert_page_is(opened, build)

    handle = opened.field("Bays").locator(".noUi-handle")
    handle.focus()
    handle.press("ArrowRight")
    build = build.changed(bays=3)
    assert_page_is(opened, build)

    opened.field("Joining").locator("select").select_option(index=1)
    build = build.changed(joining="slip-on")
    assert_page_is(opened, build)

    opened.type("Width", "very wide")
    alert = opened.field("Width").locator("[role=alert]")
    expect(alert).to_contain_text("very wide")
    expect(shown(opened, "cost")).to_have_count(0, timeout=15_000)
    opened.settle()  # headings empty one after the other
    assert not re.search(r"\$\d", page.locator(".gf-results").inner_text())
    opened.type("Width", "186 cm")
    build = build.changed(width_m=1.86)
    expect(alert).to_have_count(0)
    assert_page_is(opened, build)

    opened.type("Height", "99 m")
    expect(opened.field("Height").locator("[role=alert]")).to_contain_text("needs")
    opened.type("Height", "1.9 m")
    assert_page_is(opened, build)

    page.locator(".gf-panel").get_by_role("button", name="feet and inches").click()
    longest = max(gardenframe.plan(build, shop=gardenframe.Shop(tape="1/16 in")).pieces["cut_mm"])
    expect(shown(opened, "longest")).to_have_text(gardenframe.units.write(longest / 1000, "length", "us"))
    page.locator(".gf-panel").get_by_role("button", name="metric", exact=True).click()
    assert_page_is(opened, build)
    assert overflow(page) == []
    assert_clean(opened)


def chosen(opened, before):
    """Return what the controls on the page say, read as a reader would; a hidden field keeps what it had."""
    values = dict(before)
    for field in Trellis.fields():
        control = opened.field(field.label)
        if not control.is_visible():
            continue
        if field.kind == "choice":
            shown = control.locator("select").evaluate("s => s.options[s.selectedIndex].text")
            words = " ".join(shown.split())  # a list shows its words with spaces that do not break
            values[field.key] = {label: key for key, label in field.choices}[words]
        elif field.kind == "flag":
            values[field.key] = control.locator("input[type=checkbox]").is_checked()
        else:
            text = control.locator("input[type=text]").input_value()
            values[field.key] = field.check(gardenframe.units.parse(text, field.kind, "metric"))
    return values


def answer(values):
    """Return the key numbers of a choice and no sentence, or no number and the sentence."""
    try:
        return expected(Trellis(**values)), ""
    except GardenframeError as error:
        return {}, str(error)


def move(opened, field):
    """Move a control by one step, or to its next choice."""
    control = opened.field(field.label)
    if field.kind == "choice":
        at = control.locator("select").evaluate("s => s.selectedIndex")
        control.locator("select").select_option(index=(at + 1) % len(field.choices))
    elif field.kind == "flag":
        control.locator("input[type=checkbox]").click()
    else:
        at_top = control.locator(".noUi-handle").evaluate("h => h.ariaValueNow === h.ariaValueMax")
        opened.slide(field.label, -1 if at_top else 1)
    opened.settle()


def test_every_control_moves_the_page_or_says_why(book):
    """Each list, slider and tick is used once; then the page says what the package says of what the controls show."""
    opened = book(BOOK, width=800)
    page = opened.page
    closed = page.locator(".gf-controls button.gf-head[aria-expanded=false]:visible")
    while closed.count():
        closed.first.click()
        opened.settle()
    values, moved, refused = Trellis().values(), 0, 0
    for field in Trellis.fields():
        if not opened.field(field.label).is_visible():
            continue
        before = values
        move(opened, field)
        values = chosen(opened, before)
        assert values[field.key] != before[field.key], field.label
        moved += 1
        alerts = page.locator(".gf-panel [role=alert]:visible").all_inner_texts()
        numbers, sentence = answer(values)
        refused += bool(sentence)
        assert sentence in " ".join(alerts), field.label
        assert bool(alerts) == bool(sentence), field.label
        assert {key: shown(opened, key).inner_text() for key in NUMBERS if shown(opened, key).count()} == numbers
    assert moved >= 12
    assert refused < moved / 2
    assert overflow(page) == []
    assert_clean(opened)
