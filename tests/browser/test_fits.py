"""With every heading open nothing runs past the panel's edge, on a laptop and narrower; the figure turns."""

import math

import pytest

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.teaching import figures

# what scrolls inside itself counts as running over too: a reader does not see that a column is missing
OVER = """() => { const panel = document.querySelector('.gf-panel').getBoundingClientRect();
    const seen = e => e.offsetParent !== null || e.tagName === 'svg';
    const past = [...document.querySelectorAll('.gf-panel table, .gf-panel svg, .gf-panel select, .js-plotly-plot')]
        .filter(seen).filter(e => e.getBoundingClientRect().width > 0)
        .filter(e => e.getBoundingClientRect().right > panel.right + 1).map(e => e.tagName + ' ' + e.classList);
    const cut = [...document.querySelectorAll('.gf-scroll, .gf-results, .gf-controls')]
        .filter(e => e.scrollWidth > e.clientWidth + 2).map(e => e.tagName + ' ' + e.classList);
    return [...past, ...cut]; }"""
DRAWN = """() => (document.querySelector('.js-plotly-plot').data || [])
    .filter(trace => trace.x && trace.x.length > 1).length"""


@pytest.mark.browser
@pytest.mark.parametrize("width", [1280, 800])
def test_nothing_runs_past_the_panel(book, width):
    """Every heading of controls and results open, the figure drawn."""
    opened = book("01_trellis.ipynb", width=width)
    page = opened.page
    closed = page.locator(".gf-panel button.gf-head[aria-expanded=false]:visible")
    while closed.count():
        closed.first.click()
        page.wait_for_timeout(200)
    page.locator(".js-plotly-plot .main-svg").first.wait_for(timeout=60_000)
    page.wait_for_function(f"() => ({DRAWN})() >= 3", timeout=30_000)  # on a busy machine data comes after the axes
    page.wait_for_timeout(1000)
    assert page.evaluate(OVER) == []
    assert_turns_and_follows(opened)


TUBES = "wanted => JSON.stringify(document.querySelector('.js-plotly-plot').data[0].x) === JSON.stringify(wanted)"
EYE = "() => document.querySelector('.js-plotly-plot')._fullLayout.scene._scene.getCamera().eye"


def apart(eye, other):
    """Return how far two places of the camera are apart."""
    return math.dist(eye.values(), other.values())


def assert_turns_and_follows(opened):
    """Turned by hand it stays so, while it shows the frame that the page speaks of."""
    page, before = opened.page, opened.page.evaluate(EYE)
    page.locator(".js-plotly-plot").scroll_into_view_if_needed()
    box = page.locator(".js-plotly-plot .gl-container").first.bounding_box()
    page.mouse.move(box["x"] + 200, box["y"] + 200)
    page.mouse.down()
    page.mouse.move(box["x"] + 290, box["y"] + 220, steps=4)
    page.mouse.up()
    page.wait_for_timeout(1500)  # it runs on for a moment, which a page forgets
    turned = page.evaluate(EYE)
    assert apart(turned, before) > 0.1
    opened.type("Width (outside)", "2500 mm")
    tubes = figures.frame_traces(gardenframe.plan(Trellis(width_m=2.5)), "metric")["tubes"]["x"]
    page.wait_for_function(TUBES, arg=tubes, timeout=30_000)
    assert apart(page.evaluate(EYE), turned) < apart(turned, before) / 2
    assert page.errors == []
