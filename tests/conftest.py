"""One JupyterLab and one Chromium for all browser tests, on a copy of the workbooks."""

import contextlib
import json
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import outside
import pytest
from hypothesis import settings

# a test says the same on every machine and in every hour; pytest --hypothesis-profile=explore looks further
settings.register_profile("same", deadline=None, derandomize=True)
settings.register_profile("explore", deadline=None, derandomize=False)
settings.load_profile("same")

WORKBOOKS = Path(__file__).parents[1] / "workbooks"
CHROMIUM = os.environ.get("GF_CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser") or ""
WITH_CHECKS = 3  # workbooks whose checks run in the browser too, where controls answer while a cell runs
FLAGS = [
    "--disable-gpu",
    "--disable-dev-shm-usage",  # a container has little of it
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]
ROOT = hasattr(os, "geteuid") and os.geteuid() == 0  # as root, as in a container, both programs want to be told
SETTINGS = {
    "apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False},
    "notebook-extension/tracker": {"windowingMode": "none"},
}
READY = """() => { const w = window.jupyterapp?.shell?.currentWidget;
    return w?.sessionContext?.isReady && w.sessionContext.session?.kernel?.status === 'idle'
        && w.content?.widgets?.length > 0 }"""
DONE = """() => { const w = window.jupyterapp.shell.currentWidget;
    return w.content.widgets.every(c => c.model.type !== 'code' || !c.model.sharedModel.source.trim()
        || c.model.executionCount) && w.sessionContext.session.kernel.status === 'idle' }"""

SETTLED = """() => new Promise(told => { let calm = 0; const look = () => {
    const w = window.jupyterapp.shell.currentWidget, status = document.querySelector('.gf-status');
    const busy = w.sessionContext.session.kernel.status !== 'idle' || status?.innerText.trim();
    calm = busy ? 0 : calm + 1;
    if (calm < 4) setTimeout(look, 25); else told(true); }; look(); })"""


def without_checks(path):
    """Take the cells that check out of a copy: nbval runs them, and in a browser they only take time."""
    book = json.loads(path.read_text(encoding="utf-8"))
    book["cells"] = [cell for cell in book["cells"] if "check" not in cell["metadata"].get("tags", ())]
    path.write_text(json.dumps(book), encoding="utf-8")


def pytest_configure():
    """Let a warning to the reader fail a workbook cell."""
    os.environ["PYTHONWARNINGS"] = "error::UserWarning"


def pytest_addoption(parser):
    """Let what is compared with others be written down, and more random builds be tried."""
    parser.addoption("--write-pictures", action="store_true", help="take the pictures of the README anew")
    parser.addoption("--builds", type=int, default=27, help="random builds of all types that are planned: 1000 is slow")
    parser.addoption("--note-outside", action="store_true", help="write data/outside_checks.csv from what is compared")


def pytest_collection_modifyitems(config, items):
    """Take the README's pictures only when asked to."""
    if not config.getoption("write_pictures"):
        items[:] = [item for item in items if not item.get_closest_marker("pictures")]


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item):
    """Note what an outside check compares, and hold it against the file."""
    notes = outside.notes_of(item) if isinstance(item, pytest.Function) else None
    if notes is None:
        return (yield)
    outside.NOW.append(notes)
    sys.setprofile(notes.called if notes.waiting else None)
    try:
        result = yield
    finally:
        sys.setprofile(None)
        outside.NOW.pop()
    outside.NOTED.append(notes)
    wrong = outside.problem(notes)
    if not wrong and not item.config.getoption("note_outside"):
        wrong = outside.not_as_filed(notes)
    if wrong:
        pytest.fail(wrong, pytrace=False)
    return result


def pytest_sessionfinish(session):
    """Write what was noted, if asked to."""
    if session.config.getoption("note_outside"):
        outside.write()


def free_port():
    """Return a port that nobody listens on."""
    with contextlib.closing(socket.socket()) as found:
        found.bind(("127.0.0.1", 0))
        return found.getsockname()[1]


@pytest.fixture(scope="module")  # its event loop would change what panels in later modules do
def chrome():
    """Return a headless Chromium; without one, skip, or fail where the environment asks for it."""
    if not CHROMIUM:
        refuse = pytest.fail if os.environ.get("GF_BROWSER") == "required" else pytest.skip
        refuse("no Chromium found: install it or set GF_CHROMIUM to its path")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=[*FLAGS, *(["--no-sandbox"] if ROOT else [])])
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def lab(tmp_path_factory):
    """Return the address of a JupyterLab on a copy of the workbooks."""
    root = tmp_path_factory.mktemp("lab")
    shutil.copytree(WORKBOOKS, root / "workbooks")
    for path in sorted((root / "workbooks").glob("*.ipynb"))[WITH_CHECKS:]:
        without_checks(path)
    for name, value in SETTINGS.items():
        file = root / f"config/lab/user-settings/@jupyterlab/{name}.jupyterlab-settings"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(json.dumps(value))
    folders = {"JUPYTER_CONFIG_DIR": "config", "JUPYTER_RUNTIME_DIR": "run", "JUPYTER_DATA_DIR": "data"}
    places = {name: str(root / folder) for name, folder in {**folders, "IPYTHONDIR": "ipython"}.items()}
    port = free_port()
    command = [sys.executable, "-m", "jupyter", "lab", "--no-browser", "--ip=127.0.0.1", f"--port={port}"]
    command += ["--ServerApp.port_retries=0", "--IdentityProvider.token=", f"--ServerApp.root_dir={root}/workbooks"]
    command += ["--LabApp.expose_app_in_browser=True", *(["--allow-root"] if ROOT else [])]
    with (root / "lab.log").open("wb") as log:
        server = subprocess.Popen(command, env={**os.environ, **places}, stdout=log, stderr=subprocess.STDOUT)
        address = f"http://127.0.0.1:{port}"
        for _ in range(600):
            if server.poll() is not None:
                pytest.fail((root / "lab.log").read_text())
            with contextlib.suppress(OSError):
                urllib.request.urlopen(f"{address}/api/status", timeout=1).close()
                break
            time.sleep(0.1)
        yield address
        server.terminate()  # the server shuts its kernels down itself
        server.wait(20)


class Book:
    """One open workbook and how a reader moves it."""

    def __init__(self, page):
        self.page = page

    def field(self, label):
        """Return the control of a field by its label."""
        text = re.compile(rf"^\s*{re.escape(label)}(,|$| \()")
        return self.page.locator(".gf-field").filter(has=self.page.locator(".widget-label", has_text=text)).first

    def type(self, label, text):
        """Type into the box of a field and press Enter."""
        box = self.field(label).locator("input[type=text]")
        box.fill(text)
        box.press("Enter")

    def slide(self, label, presses):
        """Press the arrow keys on the slider of a field, to the right, or to the left for a negative number."""
        handle = self.field(label).locator(".noUi-handle")
        handle.focus()
        for _ in range(abs(presses)):
            handle.press("ArrowRight" if presses > 0 else "ArrowLeft")

    def choose(self, label, option):
        """Choose from the list of a field by the words that are shown."""
        self.field(label).locator("select").select_option(label=option)

    def settle(self):
        """Wait until the kernel has answered all that was asked of it, and slow parts are there."""
        self.page.wait_for_timeout(100)  # a change leaves the page
        self.page.wait_for_function(SETTLED, timeout=30_000)

    def picture(self, path):
        """Write a picture of the first panel, whole, and return where."""
        panel, size = self.page.locator(".gf-panel").first, self.page.viewport_size
        self.page.set_viewport_size({"width": size["width"], "height": int(panel.bounding_box()["height"]) + 300})
        panel.screenshot(path=path)
        self.page.set_viewport_size(size)
        return path

    def run_all(self):
        """Run every cell and wait until all have run without an error."""
        self.page.evaluate("() => window.jupyterapp.commands.execute('notebook:run-all-cells').then(() => true)")
        self.page.wait_for_function(DONE, timeout=180_000)
        wrong = (
            ".jp-OutputArea-output[data-mime-type='application/vnd.jupyter.stderr'], "
            ".jp-RenderedText[data-mime-type='application/vnd.jupyter.error']"
        )
        assert not self.page.locator(wrong).all_inner_texts()


@pytest.fixture
def book(lab, chrome):
    """Return a function that opens a workbook; requests that leave this machine and page errors are kept."""
    opened = []

    def open_(name, width=1280, height=1400, run=True):
        context = chrome.new_context(viewport={"width": width, "height": height})
        page = context.new_page()
        opened.append((context, page))
        page.foreign, page.errors = [], []
        page.on("request", lambda r: None if r.url.startswith((lab, "data:", "blob:")) else page.foreign.append(r.url))
        page.on("pageerror", lambda error: page.errors.append(str(error)))
        page.goto(f"{lab}/lab/workspaces/t{time.time_ns()}/tree/{name}")
        page.wait_for_function(READY, timeout=90_000)
        found = Book(page)
        if run:
            found.run_all()
        return found

    yield open_
    for context, page in opened:
        page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.shutdown()")
        context.close()
