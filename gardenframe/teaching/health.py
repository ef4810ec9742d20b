"""`python -m gardenframe --check`: what is installed, and whether a kernel, a widget and a panel start.

Each check returns the line that says what it found, or raises LaunchError with what is wrong and what to do.
"""

import json
import platform
import queue
import shutil
import sys
import tempfile
import time
import webbrowser
from collections.abc import Callable, Iterator
from importlib import metadata
from pathlib import Path
from typing import Any

from gardenframe.errors import GardenframeError
from gardenframe.teaching import copies

PACKAGE = "gardenframe"
EXTENSIONS = {"@jupyter-widgets/jupyterlab-manager": "jupyterlab_widgets", "anywidget": "anywidget"}
KERNEL_S = 60
TRIED = """
import json, ipywidgets, gardenframe
from gardenframe.teaching import controls
slider = ipywidgets.IntSlider(value=3)
panel = controls.panel(gardenframe.builds.ALL["trellis"], site=gardenframe.Site(), shop=gardenframe.Shop())
print(json.dumps([slider.comm.comm_id, panel.number("cost"), panel.error]))
"""


class HealthError(GardenframeError, RuntimeError):
    """Something that the workbooks need and that is missing or does not start."""


def main(folder: Path) -> int:
    """Write a line for each check, the settings of a folder among them; return 0, or 1 where something is wrong."""
    wrong = 0
    for line, good in report(folder):
        wrong += not good
        sys.stdout.write(f"{'ok   ' if good else 'wrong'} {line}\n")
        sys.stdout.flush()
    sys.stdout.write("All is there.\n" if not wrong else f"{wrong} of these must be put right.\n")
    return 1 if wrong else 0


def report(folder: Path) -> Iterator[tuple[str, bool]]:
    """Yield a line for each check, with whether it went well."""
    yield f"Python {platform.python_version()} at {sys.executable}", True
    yield from packages()
    checks: tuple[Callable[[], str], ...] = (
        *(tables, workbooks, lambda: settings(folder)),
        *(extensions, kernel, browser),
    )
    for check in checks:
        try:
            yield check(), True
        except GardenframeError as error:
            yield str(error), False


def packages() -> Iterator[tuple[str, bool]]:
    """Yield what gardenframe needs, with the version found and whether it is one that was asked for."""
    from packaging.requirements import Requirement

    yield f"{PACKAGE} {metadata.version(PACKAGE)}", True
    for line in metadata.requires(PACKAGE) or []:
        needed = Requirement(line)
        if needed.marker and not needed.marker.evaluate({"extra": ""}):
            continue
        install = f"Run: {sys.executable} -m pip install '{needed}'"
        try:
            found = metadata.version(needed.name)
        except metadata.PackageNotFoundError:
            yield f"{needed.name} is not installed. {install}", False
            continue
        good = needed.specifier.contains(found, prereleases=True)
        yield f"{needed.name} {found}" + ("" if good else f", but {needed.specifier} is needed. {install}"), good


def tables() -> str:
    """Return how many members and sources our tables hold."""
    from gardenframe.materials.members import load_members
    from gardenframe.tables import data_folder, source_keys

    return f"tables: {len(load_members())} members, {len(source_keys())} sources in {data_folder()}"


def workbooks() -> str:
    """Return how many workbooks were shipped and where they lie."""
    return f"workbooks: {len(copies.shipped())} in {copies.shipped_folder()}"


def settings(folder: Path) -> str:
    """Return which settings the workbooks of a folder start from; its error where they cannot be used."""
    from gardenframe.teaching.settings import FILE, load_settings

    found = load_settings(folder)
    return f"settings: {found.where}" if found.where else f"settings: no {FILE} in {folder}, so as shipped"


def extensions() -> str:
    """Return that JupyterLab has what draws widgets."""
    from jupyter_core.paths import jupyter_path

    for name, package in EXTENSIONS.items():
        if not any((Path(folder) / name / "package.json").is_file() for folder in jupyter_path("labextensions")):
            do = f"Run: {sys.executable} -m pip install --force-reinstall {package}"
            raise HealthError(f"JupyterLab cannot draw widgets: its part {name} is missing. {do}")
    return "JupyterLab draws widgets: " + ", ".join(EXTENSIONS)


def kernel(name: str = "python3") -> str:
    """Return that a kernel answered, and that a widget and a panel started in it."""
    from jupyter_client.kernelspec import NoSuchKernel
    from jupyter_client.manager import start_new_kernel

    began = time.monotonic()
    do = f"Run: {sys.executable} -m pip install --force-reinstall ipykernel"
    with tempfile.TemporaryFile("w+", encoding="utf-8", errors="replace") as told:
        try:
            manager, client = start_new_kernel(kernel_name=name, startup_timeout=KERNEL_S, stderr=told)
        except NoSuchKernel:
            raise HealthError(f"There is no kernel called {name}. {do}") from None
        except (RuntimeError, OSError) as problem:
            raise HealthError(f"The kernel died before it answered ({_last(told) or problem}). {do}") from None
        try:
            answered = time.monotonic() - began
            tried = _tried(client, manager)
        except HealthError as error:
            last = "" if manager.is_alive() else _last(told)
            raise HealthError(f"{error} {f'It said: {last}' if last else ''}".strip()) from None
        finally:
            client.stop_channels()
            manager.shutdown_kernel(now=True)
    return f"kernel: answered in {answered:.1f} s; {tried}"


def _last(told: Any) -> str:
    """Return the last line of what a kernel wrote about its errors."""
    told.seek(0)
    lines: list[str] = told.read().split("\n")
    return next((line.strip() for line in reversed(lines) if line.strip()), "")


def _tried(client: Any, manager: Any) -> str:
    """Return what a panel made in a kernel says, where its widgets opened their channels to the page."""
    opened, printed = set(), ""
    asked = client.execute(TRIED)
    for message in _messages(client, manager):
        content, kind = message["content"], message["msg_type"]
        if message["parent_header"].get("msg_id") != asked:
            continue
        if kind == "comm_open" and content["target_name"] == "jupyter.widget":
            opened.add(content["comm_id"])
        elif kind == "stream" and content["name"] == "stdout":
            printed += content["text"]
        elif kind == "error":
            raise HealthError(f"A widget did not start: {content['ename']}: {content['evalue']}.")
        elif kind == "status" and content["execution_state"] == "idle":
            break
    slider, cost, error = json.loads(printed)
    if slider not in opened or error or not cost:
        said = error or "it opened no channel to the page"
        raise HealthError(f"A widget did not start: {said}. Run: {sys.executable} -m pip install -U ipywidgets")
    return f"a slider and a panel started ({len(opened)} widgets; an example trellis costs {cost})"


def _messages(client: Any, manager: Any) -> Iterator[dict[str, Any]]:
    """Yield what a kernel sends; HealthError where it has died or says nothing for long."""
    heard = time.monotonic()
    while time.monotonic() - heard < KERNEL_S:
        try:
            yield client.get_iopub_msg(timeout=1)
            heard = time.monotonic()
        except queue.Empty:
            if not manager.is_alive():
                raise HealthError("The kernel died while a widget was made: close other programs, try again.") from None
    raise HealthError(f"The kernel has not answered in {KERNEL_S} s: close other programs, try again.")


def browser() -> str:
    """Return which browser is opened, or that its address must be typed."""
    try:
        return f"browser: {getattr(webbrowser.get(), 'name', 'found')}"
    except webbrowser.Error:
        found = shutil.which("chromium") or shutil.which("firefox") or shutil.which("google-chrome")
        return "browser: none is set; open the address that is shown" + (f" in {found}" if found else "")
