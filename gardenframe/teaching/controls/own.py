"""The panel of an own frame: its tables to type, tables of any build to start from, and files to take away."""

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe import builds, road
from gardenframe.builds import own_frame_tables
from gardenframe.builds.own_frame import OwnFrame
from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.output.files import put
from gardenframe.teaching.controls.panel import Panel
from gardenframe.teaching.page import alert, escape
from gardenframe.teaching.settings_source import Source

OPENED = ("drawing", "pieces", "fittings", "cutting")
NOTHING = "choose one"
LOOK = """<style>
.gf-panel .gf-table-text { flex-direction: column; height: auto; align-items: stretch; width: 100%; }
.gf-panel .gf-table-text .widget-label { width: auto; text-align: left; font-weight: 600; }
.gf-panel .gf-table-text textarea { font: 12.5px/1.45 ui-monospace, monospace; white-space: pre; overflow: auto;
  width: 100%; min-height: 150px; resize: vertical; }
.gf-panel .gf-keep .widget-dropdown { width: auto; flex: 1 1 260px; min-width: 0; max-width: min(420px, 100%); }
.gf-panel .gf-keep .widget-dropdown select { flex: 1 1 0; width: 0; min-width: 0; text-overflow: ellipsis; }
.gf-panel .gf-keep .widget-dropdown > .widget-label { width: auto; }
</style>"""


class OwnPanel(Panel):
    """A panel whose build is the reader's tables. Displays itself at the end of a cell."""

    def __init__(self, settings: Source, opened: Iterable[str], folder: Path | None = None) -> None:
        self.folder = folder or Path.cwd()
        names = [(NOTHING, "")]
        for key, kind in builds.ALL.items():
            names += [(f"{kind.title}: {name}", f"{key}|{name}") for name in kind.examples]
        self.take = W.Dropdown(options=names, description="Take the tables of")
        self.take.observe(self._took, "value")
        self.name = W.Text(value="own", description="Files are called")
        self.write_button = W.Button(description="Write the tables as files")
        self.write_button.on_click(lambda _: self.write())
        self.said = W.HTML()
        super().__init__(OwnFrame, settings, (), opened)

    def _laid_out(self) -> None:
        super()._laid_out()
        row = W.HBox([self.take, self.name, self.write_button])
        row.add_class("gf-keep")
        look = W.HTML(LOOK)
        look.add_class("gf-style")
        self.box.children = (*self.box.children[:2], look, row, self.said, *self.box.children[2:])

    # --- what the reader does

    def _took(self, change: Any) -> None:
        if change["new"]:
            key, name = change["new"].split("|", 1)
            self.take_from(key, name)
            self.take.value = ""

    def take_from(self, key: str, name: str) -> None:
        """Put the tables of an example of a build type into the boxes."""
        kind = builds.ALL[key]
        try:
            plan = road.plan(kind(**kind.examples[name]), live=True)
            values = OwnFrame.of_plan(plan).values()
        except GardenframeError as error:
            self.said.value = alert(str(error))
            return
        left = len([p for p in plan.frame.panels if p.covering]) - len(values["coverings"].splitlines()[1:])
        moving = [part.key for part in plan.frame.parts if part.motion != "fixed"]
        told = f"These are the tables of {name}."
        if moving:
            told += f" Left out, since it moves: {', '.join(moving)}."
        if left > 0:
            number = "one covering, since it is" if left == 1 else f"{left} coverings, since they are"
            told += f" Left out: {number} curved or moving, or no joint is at a corner, or no two tubes lie across."
        self.values.replace(values)
        self.said.value = f"<p class='gf-note' role='status'>{escape(told)}</p>"
        self.refresh()

    def write(self) -> None:
        """Write the tables as they stand into files beside the workbooks; say their names."""
        if self.plan is None:
            self.said.value = alert("Nothing was written: first mend what is said below.")
            return
        name = "".join(letter for letter in self.name.value.strip() if letter.isalnum() or letter in "-_") or "own"
        names = []
        try:
            for table in own_frame_tables.HEADINGS:
                text = getattr(self.plan.build, table)
                if text:
                    place = self.folder / f"{name}_{table}.csv"
                    put(place, f"{text}\n".encode())
                    names.append(place.name)
        except OSError as problem:
            self.said.value = alert(f"The files could not be written: {problem.strerror or problem}.")
            return
        told = f"Written beside the workbooks: {', '.join(names)}. Type a file's name into a box to read it again."
        self.said.value = f"<p class='gf-note' role='status'>{escape(told)}</p>"


def own_frame(
    *, site: Site | None = None, shop: Shop | None = None, opened: Iterable[str] = OPENED, folder: Path | None = None
) -> OwnPanel:
    """Return the panel of an own frame; see `panel`. Files are written into `folder`, the working one unless given."""
    return OwnPanel(Source(site, shop), opened, folder)
