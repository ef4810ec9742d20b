"""Each workbook as it is first opened: it says how to start, in words and a picture, and then it is alive."""

import os
import signal
import subprocess
import sys

import pytest
from conftest import WORKBOOKS

from gardenframe.teaching.start import SENTENCE

NAMES = sorted(path.name for path in WORKBOOKS.glob("*.ipynb"))
BROKEN = "() => [...document.querySelectorAll('.jp-Notebook img')].filter(i => !i.naturalWidth).map(i => i.alt)"
LOCAL = ("http://localhost:", "data:", "blob:", "attachment:")
ASKED = ".jp-Dialog, .jp-toast-button, .Toastify__toast"


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_it_says_how_to_start_and_then_is_alive(book, name):
    """Before: the first lines, the picture, the sentence where a panel will be. After: the panel, and no sentence."""
    from playwright.sync_api import expect

    opened = book(name, run=False)
    page = opened.page
    expect(page.locator(".jp-RenderedMarkdown").first).to_contain_text("To start:")
    expect(page.locator(".jp-RenderedHTML, .jp-RenderedHTMLCommon", has_text=SENTENCE).first).to_be_visible()
    assert page.evaluate(BROKEN) == []
    assert page.locator(".gf-panel").count() == 0
    opened.run_all()
    expect(page.locator(".gf-panel").first).to_be_visible()
    assert page.get_by_text(SENTENCE).count() == 0
    assert page.locator(".gf-panel [role=alert]:visible").count() == 0
    assert [url for url in page.foreign if not url.startswith("attachment:")] == []
    assert page.errors == []


@pytest.mark.browser
def test_a_newcomer_meets_the_workbook_and_no_question(chrome, tmp_path):
    """The one command of the README, with a fresh profile: no news, no dialog, nothing asked of the outside."""
    from playwright.sync_api import expect

    folders = {f"JUPYTER_{name}_DIR": str(tmp_path / name) for name in ("CONFIG", "RUNTIME", "DATA")}
    command = [sys.executable, "-m", "gardenframe", str(tmp_path / "my-garden"), "--no-browser"]
    program = subprocess.Popen(
        command, env={**os.environ, **folders}, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True
    )
    try:
        address = next(line for line in program.stdout if line.startswith("The workbook: ")).split()[-1]
        page = chrome.new_page(viewport={"width": 1280, "height": 900})
        foreign = []
        page.on("request", lambda r: None if r.url.startswith(LOCAL) else foreign.append(r.url))
        page.goto(address)
        expect(page.locator(".jp-RenderedMarkdown h1").first).to_contain_text("?", timeout=60_000)
        page.wait_for_timeout(2000)  # whatever asks for attention has come by now
        assert page.locator(ASKED).all_inner_texts() == []
        page.locator(".lm-MenuBar").get_by_text("Run", exact=True).click()
        page.locator("#jp-mainmenu-run").get_by_text("Run All Cells", exact=True).click()
        expect(page.locator("#gf-cost")).to_contain_text("$", timeout=120_000)
        assert foreign == []
        page.close()
    finally:
        program.send_signal(signal.SIGTERM)
        code = program.wait(30)
        program.stdout.close()
    assert code == 0
