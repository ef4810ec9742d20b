"""Keep it and print it: a build saved under a name, and the files that can be written for its plan.

Nothing is written before a button is pressed. What goes wrong is one sentence beneath the buttons; files that are
there stay as they are. Saved builds come back as names for the panel's *start from* list.
"""

import contextlib
from collections.abc import Callable
from pathlib import Path

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe.builds.build import Build
from gardenframe.errors import GardenframeError
from gardenframe.materials.site import Site
from gardenframe.output.offered import FOLDER, OFFERED, Offer
from gardenframe.output.saved import ENDING, Saved, broken_in, file_name, save, saved_in
from gardenframe.output.saved_reading import usable
from gardenframe.road import Plan
from gardenframe.teaching.controls.fold import Fold
from gardenframe.teaching.controls.opener import Opener
from gardenframe.teaching.page import alert, count, escape

HEADING = "Keep it and print it"
SAVED = "saved: "  # before its name in the list to start from
WHERE = f"All of it goes into the folder {FOLDER}, beside this workbook; nothing is sent anywhere."
Stamp = tuple[tuple[str, int, int], ...]  # name, time and size of every saved build


class Keep:
    """A name, a button that saves, and one for each file that can be written.

    Parameters
    ----------
    kind : type of Build
        Whose saved builds are listed.
    folder : Path
        Beside which the folder of saved builds lies.
    plan : callable
        Returns the plan at rest, None while there is none.
    site : callable
        Returns the site that goes with a saved build, None where the reader's own settings are to count.
    saved : callable
        Called when the saved builds have changed.
    """

    def __init__(
        self,
        kind: type[Build],
        folder: Path,
        *,
        plan: Callable[[], Plan | None],
        system: Callable[[], str],
        site: Callable[[], Site | None],
        saved: Callable[[], None],
    ) -> None:
        self.kind, self.folder = kind, folder / FOLDER
        self._plan, self._system, self._site, self._saved = plan, system, site, saved
        self._stamp: Stamp | None = None
        self._found: dict[str, Saved] = {}
        self.broken: list[str] = []
        self._made()

    def _made(self) -> None:
        self.name = W.Text(value=f"My {self.kind.title.lower()}", description="Name")
        self.name.observe(lambda _: self._ask_again(), "value")
        self.save_button = W.Button(description="Save this build", button_style="primary")
        self.save_button.on_click(lambda _: self.save())
        self.replace_button = W.Button(description="Replace the one that is there")
        self.replace_button.on_click(lambda _: self.save(replace=True))
        self.replace_button.layout.display = "none"
        self.buttons = {offer.label: W.Button(description=offer.label, tooltip=offer.help) for offer in OFFERED}
        for offer in OFFERED:
            self.buttons[offer.label].on_click(lambda _, offer=offer: self.write(offer))
        helps = "".join(f"<li><b>{escape(offer.label)}</b>: {escape(offer.help)}</li>" for offer in OFFERED)
        told = W.HTML(f"<ul class='gf-list gf-offers'>{helps}</ul><p class='gf-note'>{escape(WHERE)}</p>")
        self.said, self.opener = W.HTML(), Opener()
        saving = W.HBox([self.name, self.save_button, self.replace_button])
        files = W.HBox([*self.buttons.values()])
        self.opener.add_class("gf-opener")
        for row in (saving, files):
            row.add_class("gf-keep")
        self.fold = Fold(HEADING, [saving, files, self.said, self.opener, told])
        self.fold.sum_up("saved builds, pages and files")

    # --- what the reader does

    def save(self, replace: bool = False) -> None:
        """Save the build under the name that stands there; one of that name stays unless it is to be replaced."""
        plan = self._plan()
        if plan is None:
            self._say(alert("Nothing was saved: first mend what is said above."))
            return
        try:
            kept = save(plan.build, self.name.value, self.folder, site=self._site(), replace=replace)
        except GardenframeError as error:
            taken = self._taken() and not replace
            self.replace_button.layout.display = None if taken else "none"
            self._say(alert(str(error)))
            return
        self._ask_again()
        self._saved()
        self._tell(f"Saved as {kept.name!r} in {FOLDER}/{kept.place.name}. It stands in the list to start from.")

    def write(self, offer: Offer) -> None:
        """Write one of the files that are offered, and say where it lies."""
        self._tell(f"{offer.label}: being written; the largest builds take some seconds.")
        plan = self._plan()
        if plan is None:
            self._say(alert("Nothing was written: first mend what is said above."))
            return
        try:
            place = offer.write(plan, self.folder, self.name.value, self._system())
            page = place.read_text(encoding="utf-8") if place.suffix == ".html" else ""
        except GardenframeError as error:
            self._say(alert(str(error)))
            return
        except Exception as error:  # an exception in a callback is invisible in a browser: say it
            self._say(alert(f"{offer.label} could not be written ({type(error).__name__}: {error})."))
            return
        self._tell(f"{offer.label} written: {FOLDER}/{place.name}.")
        if page:
            self.opener.offer(page, f"Open {place.name} in a tab of its own, to look at it and print it")

    def _taken(self) -> bool:
        try:
            return (self.folder / file_name(self.kind.key, usable(self.name.value))).exists()
        except GardenframeError:
            return False

    def _ask_again(self) -> None:
        self.replace_button.layout.display = "none"

    # --- what the reader sees

    def _tell(self, sentence: str) -> None:
        self._say(f"<p role='status'>{escape(sentence)}</p>")

    def _say(self, page: str) -> None:
        self.said.value = page
        self.opener.clear()

    # --- saved builds

    def changed(self) -> bool:
        """Look whether the folder of saved builds is another than before, and read it if so."""
        stamp = _stamp(self.folder)
        if stamp == self._stamp:
            return False
        self._stamp = stamp
        found = saved_in(self.folder, self.kind.key) if stamp else []
        self._found = {f"{SAVED}{one.name}": one for one in found}
        wrong = broken_in(self.folder) if stamp else []
        self.broken = [sentence for sentence in wrong if sentence.startswith(f"{self.kind.key}.")]
        told = [count(len(found), "saved build")] if found else []
        told += [f"{count(len(self.broken), 'saved file')} cannot be read"] if self.broken else []
        self.fold.sum_up(", ".join(told) or "saved builds, pages and files")
        return True

    @property
    def saved(self) -> dict[str, Saved]:
        """Saved builds of this kind, newest first, by what the list to start from calls them."""
        return self._found


def _stamp(folder: Path) -> Stamp | None:
    """Return what changes when a saved build comes, goes or is written, also by hand; none where there is none."""
    found = []
    for path in folder.glob(f"*{ENDING}"):
        with contextlib.suppress(OSError):
            seen = path.stat()
            found.append((path.name, seen.st_mtime_ns, seen.st_size))
    return tuple(sorted(found)) or None
