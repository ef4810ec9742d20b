"""With every heading open nothing runs past the panel's edge, at a laptop's width and at a narrow one."""

import pytest

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
    page = book("01_trellis.ipynb", width=width).page
    closed = page.locator(".gf-panel button.gf-head[aria-expanded=false]:visible")
    while closed.count():
        closed.first.click()
        page.wait_for_timeout(200)
    page.locator(".js-plotly-plot .main-svg").first.wait_for(timeout=60_000)
    page.wait_for_function(f"() => ({DRAWN})() >= 3", timeout=30_000)  # on a busy machine data comes after the axes
    page.wait_for_timeout(1000)
    assert page.evaluate(OVER) == []
