"""The pictures of the README: there, said in words, and taken anew with `pytest tests/browser --write-pictures`."""

import re
from datetime import date
from pathlib import Path

import pytest

import gardenframe
from gardenframe import builds
from gardenframe.output.picture import picture
from gardenframe.output.sheet import build_sheet

ROOT = Path(__file__).parents[2]
LINK = re.compile(r"!\[([^]]*)\]\(([^)]+)\)")
MOST_BYTES = 400_000
GRID = """<style>body {{ margin: 0; font: 14px system-ui, sans-serif; color: #1f2a33; }}
main {{ display: grid; grid-template-columns: repeat(4, 1fr); gap: 10px 16px; padding: 12px; width: 1000px; }}
figure {{ margin: 0; text-align: center; display: flex; flex-direction: column; justify-content: flex-end; }}
figcaption {{ padding: 4px 0; font-weight: 600; }}</style><main>{}</main>"""


def test_every_picture_of_the_readme_is_there_and_said_in_words():
    """At least three; none so large that a page is slow; words for those who do not see them."""
    links = LINK.findall((ROOT / "README.md").read_text(encoding="utf-8"))
    assert len(links) >= 3
    for words, place in links:
        data = (ROOT / place).read_bytes()
        assert data.startswith(b"\x89PNG")
        assert len(data) < MOST_BYTES
        assert len(words.split()) > 5


@pytest.mark.browser
@pytest.mark.pictures
def test_taking_pictures(book, chrome):
    """Eight builds as their plans draw them, the panel of the trellis, the first page of a build sheet."""
    place = ROOT / ".pictures"
    place.mkdir(exist_ok=True)
    plans = {kind.title: gardenframe.plan(kind(), live=True) for kind in builds.ALL.values()}
    boxes = (
        f"<figure>{picture(plan.frame, 230, title=title)}<figcaption>{title}</figcaption></figure>"
        for title, plan in plans.items()
    )
    tab = chrome.new_page(viewport={"width": 1024, "height": 600})
    tab.set_content(GRID.format("".join(boxes)))
    tab.locator("main").screenshot(path=place / "builds.png")
    tab.set_viewport_size({"width": 820, "height": 922})
    tab.set_content(build_sheet(gardenframe.plan(builds.Trellis()), "us", name="Pole beans", written_on=date.today()))
    tab.screenshot(path=place / "build_sheet.png")
    tab.close()
    found = book("01_trellis.ipynb", height=1400)
    found.settle()
    panel = found.page.locator(".gf-panel").first
    panel.evaluate("node => node.scrollIntoView({block: 'start'})")
    found.page.wait_for_timeout(500)
    box = panel.bounding_box()
    found.page.screenshot(path=place / "trellis.png", clip={**box, "height": min(box["height"], 740)})
