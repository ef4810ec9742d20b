"""The first workbook as a newcomer has it, in a folder of their own: settings saved, broken, mended, a kernel lost."""

import os
import signal
import subprocess
import sys

import pytest
from conftest import DONE, READY, Book

from gardenframe.teaching.settings import FILE
from gardenframe.teaching.start import STOPPED

pytestmark = pytest.mark.browser
KILL = """() => { window.jupyterapp.shell.currentWidget.sessionContext.session.kernel
    .requestExecute({ code: 'import os; os._exit(3)' }); return true; }"""


@pytest.fixture
def garden(tmp_path):
    """Return a folder of workbooks and the address at which the program serves it."""
    folders = {f"JUPYTER_{name}_DIR": str(tmp_path / name) for name in ("CONFIG", "RUNTIME", "DATA")}
    options = ["--no-browser", "--LabApp.expose_app_in_browser=True"]
    command = [sys.executable, "-m", "gardenframe", str(tmp_path / "my-garden"), *options]
    program = subprocess.Popen(
        command, env={**os.environ, **folders}, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True
    )
    address = next(line for line in program.stdout if line.startswith("The workbook: ")).split()[-1]
    yield tmp_path / "my-garden", address
    program.send_signal(signal.SIGTERM)
    program.wait(30)
    program.stdout.close()


@pytest.fixture
def opened(garden, chrome):
    """Return a function that opens a workbook of the folder and runs it."""
    pages = []

    def open_(name):
        page = chrome.new_page(viewport={"width": 1180, "height": 1200})
        pages.append(page)
        place = garden[1].replace("/lab/tree/", f"/lab/workspaces/t{len(pages)}/tree/")
        page.goto(place.replace("00_start_here.ipynb", name))
        page.wait_for_function(READY, timeout=90_000)
        found = Book(page)
        found.run_all()
        page.wait_for_function(DONE, timeout=60_000)
        return found

    yield open_
    for page in pages:
        page.close()


def test_a_newcomer_types_slides_and_saves_and_the_next_workbook_knows(garden, opened):
    """A length, a slip, a slider, settings saved; then the trellis in those units, its file broken and mended."""
    from playwright.sync_api import expect

    folder, _ = garden
    book = opened("00_start_here.ipynb")
    page = book.page
    book.type("Your length", "6 ft 2 1/2 in")
    expect(page.locator("#gf-metric")).to_have_text("1892 mm")  # 74.5 x 25.4 = 1892.3
    book.type("Your length", "six feet")
    expect(book.field("Your length").locator("[role=alert]")).to_contain_text("got 'six feet', needs a length")
    expect(page.locator("#gf-metric")).to_have_count(0)
    book.type("Your length", "1 m")
    expect(page.locator("#gf-metric")).to_have_text("1000 mm")
    book.slide("Width", 3)
    expect(book.field("Width").locator("input[type=text]")).to_have_value("1860 mm")
    expect(page.locator("#gf-cost")).to_contain_text("$")

    form = page.locator(".gf-panel").filter(has=page.get_by_role("button", name="Save settings"))
    form.get_by_role("button", name="feet and inches").click()
    form.get_by_role("button", name="Save settings").click()
    expect(form.locator(".gf-saving [role=status]")).to_contain_text(f"Saved in {FILE}, beside the workbooks.")
    assert 'units = "us"' in (folder / FILE).read_text(encoding="utf-8")

    picture = page.get_by_role("link", name="Open 0").first  # a picture of the gallery leads to its workbook
    file = picture.get_attribute("href")
    picture.click()
    expect(page.locator(".lm-TabBar-tabLabel", has_text=file)).to_be_visible(timeout=30_000)

    trellis = opened("01_trellis.ipynb")
    cost = trellis.page.locator("#gf-cost")
    expect(trellis.page.locator("#gf-longest")).to_contain_text(" in")
    (folder / FILE).write_text('[shop]\ncuter = "hacksaw"\n', encoding="utf-8")
    trellis.slide("Width", 1)
    alert = trellis.page.locator(".gf-results [role=alert]")
    expect(alert).to_contain_text(f"{FILE}, line 2: got a key that is not known, cuter")
    expect(cost).to_have_count(0)
    (folder / FILE).write_text('[shop]\ncutter = "hacksaw"\n', encoding="utf-8")
    trellis.slide("Width", 1)
    expect(alert).to_have_count(0)
    expect(cost).to_contain_text("$")


def test_a_page_whose_kernel_died_says_so_and_comes_back(opened):
    """The sentence on every panel, controls that do not move; run again, it is alive and the sentence gone."""
    from playwright.sync_api import expect

    book = opened("00_start_here.ipynb")
    page = book.page
    panels = page.locator(".gf-panel").count()
    assert page.locator(".gf-ended").count() == 0
    page.evaluate(KILL)
    expect(page.locator(".gf-panel > .gf-ended[role=alert]", has_text=STOPPED)).to_have_count(panels, timeout=30_000)
    assert page.evaluate("() => [...document.querySelectorAll('.gf-columns')].every(c => c.inert)")
    page.locator(".jp-Dialog").get_by_role("button").last.click()  # what JupyterLab says of it
    page.wait_for_function(READY, timeout=60_000)
    book.run_all()
    expect(page.locator(".gf-ended")).to_have_count(0)
    book.type("Your length", "2 m")
    expect(page.locator("#gf-metric")).to_have_text("2000 mm")
    page.get_by_role("link", name="Trellis", exact=True).click()  # the list of workbooks leads to them
    expect(page.locator(".lm-TabBar-tabLabel", has_text="01_trellis.ipynb")).to_be_visible(timeout=30_000)
