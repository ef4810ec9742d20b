"""A scale model on the page: which build, how small, of what; lengths, joints, and sheets to print true to scale."""

from pathlib import Path
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe import builds, road, units
from gardenframe.builds.fields import Field
from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.output.exports import put_in
from gardenframe.output.offered import FOLDER as SAVED_FOLDER
from gardenframe.output.picture import picture
from gardenframe.output.saved import Saved, saved_in
from gardenframe.output.scale_model import LEAST_SCALE, MATERIALS, MOST_SCALE, ScaleModel, model_length_m, scale_model
from gardenframe.output.scale_sheet import in_hand, scale_sheet, sheets_of
from gardenframe.teaching.controls.opener import Opener
from gardenframe.teaching.controls.small import Small
from gardenframe.teaching.page import Card, Column, alert, cards, escape, note, table, warning
from gardenframe.teaching.settings_source import Source

FOLDER = "my_models"  # beside the workbooks
PICTURE_PX = 360.0


def fields(saved: list[Saved]) -> tuple[Field, ...]:
    """Return what a reader chooses: a build, as it comes, as one of its examples or as saved; a scale; a material."""
    kinds = [(kind.key, kind.title) for kind in builds.ALL.values()]
    own = [(f"saved {n}", f"{one.name} (saved {one.build.title.lower()})") for n, one in enumerate(saved)]
    return (
        Field(key="build", label="Build", kind="choice", default="trellis", choices=(*kinds, *own),
              help="As it comes, or one that you saved in a panel."),
        Field(key="scale", label="Scale, one to", kind="number", default=10.0, low=LEAST_SCALE, high=MOST_SCALE,
              step=1.0, step_us=1.0, help="10 makes a model of a tenth; 12 makes an inch of every foot."),
        Field(key="material", label="Made of", kind="choice", default="straw",
              choices=tuple((key, one.label) for key, one in MATERIALS.items()),
              help="Usual sizes; hold yours against the list."),
    )  # fmt: skip


class ModelPage(Small):
    """A build as a model: displays itself at the end of a cell."""

    title = "A scale model"

    def __init__(self, settings: Source, folder: Path | None = None) -> None:
        self._settings = settings
        self._saved = saved_in((folder or Path.cwd()) / SAVED_FOLDER)
        self.model: ScaleModel | None = None
        super().__init__(fields(self._saved), settings.system)

    def _laid_out(self) -> None:
        super()._laid_out()
        self.button = W.Button(description="Write the sheets", button_style="primary")
        self.button.on_click(lambda _: self.write())
        self.said, self.opener = W.HTML(), Opener()
        row = W.HBox([self.button, self.said])
        row.add_class("gf-keep")
        self.box.children = (*self.box.children[:-1], row, self.opener, self.box.children[-1])

    def refresh(self) -> None:
        """Show the model of what is chosen; sheets of what was chosen before are no longer offered."""
        self.model = None
        self.said.value = ""
        self.opener.clear()
        super().refresh()

    def shows(self) -> str:
        """Return key numbers, pieces and joints of the model."""
        given, values = self._settings.now(), self.values.kept
        plan = road.plan(self._chosen(values["build"]), given.site, given.shop, live=True)
        model = scale_model(plan, values["scale"], values["material"])
        page = _page(model, self.system)
        self.model = model
        return page

    def _chosen(self, key: str) -> Any:
        if key in builds.ALL:
            return builds.ALL[key]()
        return self._saved[int(key.removeprefix("saved "))].build

    def write(self) -> None:
        """Write the sheets of the model into a folder beside this workbook, and offer to open them."""
        if self.model is None:
            self.said.value = alert("Nothing was written: first mend what is said above.")
            return
        page = scale_sheet(self.model, self.system)
        name = f"{self.model.plan.build.key}-1-to-{self.model.scale:g}.html"
        try:
            put_in(FOLDER, [(name, page.encode("utf-8"))])
        except GardenframeError as error:
            self.said.value = alert(str(error))
            return
        self.said.value = f"<p role='status'>{escape(f'Written: {FOLDER}/{name}.')}</p>"
        self.opener.offer(page, "Open the sheets in a tab of their own; print them at 100 % and measure the bar")


def _page(model: ScaleModel, system: str) -> str:
    stuff = model.material
    yours = in_hand(stuff.thick_m, system)
    longest = max(model.pieces, key=lambda piece: piece.length_m)
    found = cards(
        (
            Card("straws", stuff.many.capitalize(), str(model.number), f"{in_hand(stuff.long_m, system)} long each"),
            Card("joints", "Joints", str(model.joints_made), "to make"),
            Card("longest", "Longest piece", in_hand(longest.length_m, system), longest.mark),
            Card("thick", "Thick to scale", in_hand(model.thick_to_scale_m, system), f"yours {yours}"),
            Card("sheets", "Sheets", str(sheets_of(model)), "of drawings, true to scale"),
        )
    )
    columns = (Column("Mark"), Column("Part"), Column("Real piece", number=True), Column("In the model", number=True),
               Column("Number", number=True), Column("Joined of", number=True))  # fmt: skip
    rows = [
        (p.mark, p.role, units.write(p.real_m, "length", system), in_hand(p.length_m, system), p.count,
         p.parts if p.parts > 1 else "")
        for p in model.pieces
    ]  # fmt: skip
    joints = table(
        "Joints", (Column("What meets"), Column("Number", number=True)), [(k.words, k.count) for k in model.joints]
    )
    worked = escape(model_length_m.shown(longest.real_m, model.scale, system=system).text).replace("\n", "<br>")
    seen = picture(model.plan.frame, PICTURE_PX, members=model.plan.shop.members, title=model.plan.build.title)
    return (
        f"{found}{warning(model.warnings)}<div class='gf-drawing'>{seen}</div>"
        f"<h4>Worked for {escape(longest.mark)}</h4><p>{worked}</p>"
        f"<h4>Pieces</h4>{table('Pieces', columns, rows)}<h4>Joints</h4>{joints}"
        + note("A model shows how it goes together, not whether it will stand. Nothing here is called safe.")
    )


def model_page(*, site: Site | None = None, shop: Shop | None = None) -> ModelPage:
    """Return the page of a scale model; site and shop as for a panel."""
    return ModelPage(Source(site, shop))
