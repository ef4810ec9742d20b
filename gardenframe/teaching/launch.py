"""`python -m gardenframe [folder]`: copies the workbooks there, never over an edited one, and opens JupyterLab on them.

JupyterLab runs as a program of its own; this starts it, opens the browser, and says in a sentence what stops it.
Options that are not known here go to JupyterLab as they are.
"""

import argparse
import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time
import webbrowser
from collections.abc import Iterator, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from gardenframe.errors import GardenframeError, InputError
from gardenframe.teaching import copies

FOLDER = "my-garden"
SETTINGS = Path(__file__).parent / "lab"  # no news, no looking for updates, unless the reader set it otherwise
START_S = 90  # a slow machine with a cold disk
PORTS = range(8888, 8938)
STOPS = (signal.SIGTERM, *((signal.SIGHUP,) if hasattr(signal, "SIGHUP") else ()))


class LaunchError(GardenframeError, RuntimeError):
    """JupyterLab, a kernel or a widget that does not start."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Copy, start, and stay until JupyterLab is closed; return 0, or 1 after a sentence that says what is wrong."""
    given, further = parser().parse_known_args(arguments)
    try:
        folder = Path(given.folder).expanduser().resolve()
        if given.check:
            from gardenframe.teaching import health

            return health.main(folder)
        port = free_port(given.port)
        for copied in copies.copy(folder):
            say(str(copied))
        say_settings(folder)
        return serve(folder, port, given.browser, further)
    except GardenframeError as error:
        sys.stderr.write(f"{error}\n")
        return 1


def parser() -> argparse.ArgumentParser:
    """Return the reader of the command line."""
    made = argparse.ArgumentParser(
        prog="python -m gardenframe",
        description="Copy the workbooks into a folder of your own and open JupyterLab there.",
        epilog="Any other option goes to JupyterLab as it is.",
        allow_abbrev=False,
    )
    made.add_argument(
        "folder", nargs="?", default=FOLDER, help=f"your folder for the workbooks ({FOLDER} unless given)"
    )
    made.add_argument("--port", type=int, default=None, help="the port of this machine to use (the first free one)")
    made.add_argument("--no-browser", dest="browser", action="store_false", help="start, but open no browser")
    made.add_argument(
        "--check", action="store_true", help="say what is installed and whether a kernel and widget start"
    )
    return made


def say(text: str) -> None:
    """Write a line at once, also where the output is read by another program."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def say_settings(folder: Path) -> None:
    """Say where the folder's settings cannot be used: the workbooks open all the same, and say it again."""
    from gardenframe.teaching.settings import load_settings

    try:
        load_settings(folder)
    except GardenframeError as error:
        say(f"{error} Until it is mended the workbooks show no results.")


def serve(folder: Path, port: int, browser: bool, further: Sequence[str] = ()) -> int:
    """Run JupyterLab on a folder until it ends; return its return code."""
    if find_spec("jupyterlab") is None:
        raise LaunchError(f"JupyterLab is not installed here. Run: {sys.executable} -m pip install jupyterlab")
    paths = os.pathsep.join(filter(None, (str(SETTINGS), os.environ.get("JUPYTER_CONFIG_PATH"))))
    environment = {**os.environ, "JUPYTER_CONFIG_PATH": paths}
    with subprocess.Popen(command(folder, port, further), env=environment) as server, _told(server):
        address = _address(server)
        if address:
            page = f"{address[0]}lab/tree/{copies.shipped()[0].name}{address[1]}"
            say(f"JupyterLab runs in {folder}. To stop it, press Ctrl+C here.\nThe workbook: {page}")
            if browser and not _opened(page):
                say("No browser could be opened from here: open the address above in one.")
        elif server.poll() is None:
            say(f"JupyterLab has not answered in {START_S} s. Try http://localhost:{port}/lab in a browser.")
        code = server.wait()
    if not address and code:
        do = "Its reason stands above; python -m gardenframe --check says what is missing."
        raise LaunchError(f"JupyterLab ended before it answered (code {code}). {do}")
    return 0 if code in (0, -signal.SIGTERM, -signal.SIGINT) else code


def command(folder: Path, port: int, further: Sequence[str] = ()) -> list[str]:
    """Return the command that starts JupyterLab, on this machine only."""
    return [
        *(sys.executable, "-m", "jupyterlab", "--no-browser", "--log-level=WARN"),
        *(f"--port={port}", "--ServerApp.port_retries=0"),
        f"--ServerApp.root_dir={folder}",
        *(["--allow-root"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []),  # as in a container
        *further,
    ]


def free_port(wanted: int | None) -> int:
    """Return the port wanted if nobody uses it, or the first free one; InputError where there is none."""
    if wanted is not None and not 1 <= wanted <= 65535:
        raise InputError(
            "port", wanted, "a whole number from 1 to 65535", "Leave --port out to take the first free one."
        )
    for port in PORTS if wanted is None else (wanted,):
        with contextlib.suppress(OSError), socket.socket() as tried:
            if os.name == "posix":  # a port just left may be taken again, as the server does
                tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            tried.bind(("127.0.0.1", port))
            return port
    got = wanted if wanted is not None else f"{PORTS[0]} to {PORTS[-1]}"
    raise InputError("port", got, "a port that no other program uses", "Choose another, or leave --port out.")


def _address(server: "subprocess.Popen[bytes]") -> tuple[str, str] | None:
    """Return the server's address and what follows a page to be let in, once it answers; None where it ended."""
    from jupyter_core.paths import jupyter_runtime_dir

    record = Path(jupyter_runtime_dir()) / f"jpserver-{server.pid}.json"  # written a moment before the server listens
    end = time.monotonic() + START_S
    while server.poll() is None and time.monotonic() < end:
        with contextlib.suppress(OSError, ValueError):  # not there yet, or being written
            info: dict[str, Any] = json.loads(record.read_text(encoding="utf-8"))
            socket.create_connection((info["hostname"], info["port"]), timeout=1).close()
            return info["url"], f"?token={info['token']}" if info["token"] else ""
        time.sleep(0.1)
    return None


def _opened(page: str) -> bool:
    """Open the reader's browser; return whether there was one."""
    try:
        return webbrowser.open(page)
    except (webbrowser.Error, OSError):
        return False


@contextlib.contextmanager
def _told(server: "subprocess.Popen[bytes]") -> Iterator[None]:
    """Leave Ctrl+C to JupyterLab, which asks; pass on what ends this program, so that nothing is left running."""

    def pass_on(*_: object) -> None:
        server.terminate()

    before = {number: signal.signal(number, pass_on) for number in STOPS}
    # in a terminal JupyterLab gets Ctrl+C as well, and asks; elsewhere nobody could answer
    quiet = (lambda *_: None) if sys.stdin and sys.stdin.isatty() else pass_on
    before[signal.SIGINT] = signal.signal(signal.SIGINT, quiet)
    try:
        yield
    except BaseException:
        server.terminate()
        raise
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
