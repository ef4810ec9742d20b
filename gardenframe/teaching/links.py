"""A link that opens a workbook beside the one that shows it, also from within JupyterLab."""

import json
import os
from functools import cache
from pathlib import Path

from jupyter_core.paths import jupyter_runtime_dir

from gardenframe.output.markup import escape

LOOK = "color:#00598c;text-decoration:underline"


def to_workbook(file: str, shown: str, told: str = "") -> str:
    """Return a link as HTML: in JupyterLab its own command opens the file, elsewhere a new page does.

    A plain address leads nowhere in JupyterLab, which shows every workbook at an address of its own.

    Parameters
    ----------
    file : str
        Name of a workbook in the working folder.
    shown : str
        HTML inside the link.
    told : str
        What the link is called where `shown` is no text.
    """
    said = f" aria-label='{escape(told)}'" if told else ""
    root, command = _root(os.getppid()), ""
    if root is not None and Path.cwd().is_relative_to(root):
        place = (Path.cwd() / file).relative_to(root).as_posix()
        asked = escape(json.dumps({"path": place}))
        command = f" data-commandlinker-command='docmanager:open' data-commandlinker-args='{asked}'"
    return f"<a href='{escape(file)}' target='_blank' style='{LOOK}'{said}{command}>{shown}</a>"


@cache
def _root(server: int) -> Path | None:
    """Return the folder that a Jupyter server shows, None where that process is none."""
    try:
        told = json.loads((Path(jupyter_runtime_dir()) / f"jpserver-{server}.json").read_text(encoding="utf-8"))
        return Path(told["root_dir"]).resolve()
    except (OSError, ValueError, KeyError, TypeError):
        return None
