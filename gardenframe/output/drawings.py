"""Dimensioned front, side and plan views of a frame as one SVG.

A frame and the marks of its pieces come in, a sheet goes out. Lines by ISO 128, dimensions by ISO 129, third-angle
projection by ISO 5456 (all from memory): thick outlines, thin dimensions, dashed hidden edges, chain centre lines.
Two views never differ in scale; words never lie on words.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any

from gardenframe import units
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.scene import VIEWS, Body
from gardenframe.geometry.vectors import Vector, distance
from gardenframe.output import members_drawn, scenery
from gardenframe.output.arrows import arrows_drawn, deflected_drawn, swings_drawn
from gardenframe.output.dimensions import aligned, length_text
from gardenframe.output.dimensions import drawn as dimensions_drawn
from gardenframe.output.labels import Label, Taken, airy, near
from gardenframe.output.layout import Layout, laid_out
from gardenframe.output.legend import legend
from gardenframe.output.marking import Mark, marked
from gardenframe.output.projection import Shape, View, reach, seen_in, shapes
from gardenframe.output.svg import Box, box_path, lines, segment, sheet, text, text_box

Arrow = tuple[Vector, Vector, str]  # where, how much and which way, what it says
TITLES = {"front": "Front", "side": "Side, from the right", "plan": "Plan, from above"}
FLAT_PX = 6.0  # a flatter body is not named in that view
OPAQUE = ("bed", "soil")  # bodies behind whose faces edges are dashed


def drawing(
    frame: Frame,
    marks: Iterable[Mark] = (),
    system: str = "metric",
    views: Sequence[str] = VIEWS,
    case_arrows: Iterable[Arrow] | None = None,
    width_px: float = 820,
    *,
    deflected: Mapping[str, Sequence[Vector]] | None = None,
    members: Mapping[str, Any] | None = None,
    title: str = "Drawing",
) -> str:
    """Return the views of a frame on one sheet, as SVG.

    Parameters
    ----------
    frame : Frame
        With the bodies that stand round it and the dimensions to show; overall sizes where it names none.
    marks : iterable of (mark, run, from, to)
        Pieces and the stations of their ends on their run. [m]
    system : str
        "metric" (whole mm) or "us" (feet, inches, sixteenths).
    views : sequence of str
        Any of front, side, plan.
    case_arrows : iterable of (point, vector, label), optional
        Loads of one case; the longest is drawn about 46 px long.
    width_px : float
        Width of the sheet; its height follows.
    deflected : mapping of run to points, optional
        The deflected shape, already enlarged. [m]
    members : mapping, optional
        The reader's own members by key.
    title : str
        What a reader who cannot see it is told that it is.

    Raises
    ------
    ValueError
        For a view that there is not.
    """
    unknown = [view for view in views if view not in VIEWS]
    if unknown or not views:
        raise ValueError(f"views: got {', '.join(unknown) or 'none'}, needs any of {', '.join(VIEWS)}.")
    arrows = tuple(case_arrows or ())
    runs = shapes(frame, members)
    layout = laid_out(frame, reach(runs), tuple(views), system, width_px, TITLES, room_px=52.0 if arrows else 6.0)
    page = _Page(frame, layout, runs, system)
    rings = [members_drawn.rings_of(frame, panel) for panel in frame.panels]
    for view in layout.views.values():
        page.scene(view, rings)
    for view in layout.views.values():
        page.dimensions(view)
    for view in layout.views.values():
        page.add(arrows_drawn(arrows, view, page.taken) + deflected_drawn(deflected or {}, view))
        page.add(swings_drawn(frame, view))
        page.aligned(view)
        page.bodies_named(view)
    page.mark(list(marks))
    foot, height = legend(layout, system, page.left_out, width_px)
    page.add(foot)
    return sheet(page.svg(), width_px, height, title, _described(frame, system, views, title))


def view(frame: Frame, name: str, marks: Iterable[Mark] = (), system: str = "metric", **rest: Any) -> str:
    """Return one view of a frame as SVG; the rest as for `drawing`."""
    return drawing(frame, marks, system, (name,), **rest)


class _Page:
    """One sheet while it is drawn: what is painted, the words, and what is taken."""

    def __init__(self, frame: Frame, layout: Layout, runs: list[Shape], system: str) -> None:
        self.frame, self.layout, self.runs, self.system = frame, layout, runs, system
        self.parts: list[str] = []
        self.written: list[str] = []
        self.boxes: list[Box] = []
        self.left_out: list[str] = []  # what found no room
        self.taken = Taken(layout.width, layout.height)
        self.seen = {name: seen_in(view, runs) for name, view in layout.views.items()}
        for name, (x, y) in layout.titles.items():
            self.write(x, y, TITLES[name], anchor="start", bold=True)

    def add(self, svg: str) -> None:
        """Paint something."""
        if svg:
            self.parts.append(svg)

    def write(
        self, x: float, y: float, words: str, anchor: str = "middle", turn: float = 0.0, bold: bool = False
    ) -> None:
        """Write words whose place is free."""
        box = text_box(x, y, words, anchor, turn, bold)
        self.taken.take(*airy(box))
        self.boxes.append(box)
        self.written.append(text(x, y, words, anchor, turn, bold))

    def put(self, label: Label, bold: bool) -> None:
        """Write a label in the place that was found for it, with its leader."""
        if label.leader:
            (ax, ay), (bx, by) = label.leader
            self.add(lines(segment(ax, ay, bx, by)) + f'<circle cx="{ax:.1f}" cy="{ay:.1f}" r="1.7"/>')
            self.taken.take_line((ax, ay), (bx, by))
        self.boxes.append(label.box)
        self.written.append(text(label.x, label.y, label.words, bold=bold))

    def scene(self, view: View, rings: list[list[list[Vector]]]) -> None:
        """Paint ground, bodies, panels and runs of a view, the farthest first."""
        level, runs = view.name != "plan", self.seen[view.name]
        bodies = [body for body in self.frame.bodies if body.kind != "neighbour" or level]
        depths = [(_near(body, view), scenery.body_drawn(body, view)) for body in bodies]
        depths += members_drawn.panels_drawn(self.frame, view, rings)
        depths += [members_drawn.tube_drawn(one) for one in runs]
        depths.sort(key=lambda item: -item[0])
        covers = [(scenery.seen(b, view), _near(b, view)) for b in bodies if b.kind in OPAQUE]
        left, _, right, bottom = self.layout.edges[view.name]
        if level:
            self.add(scenery.ground(left - 4, right + 4, view.y_px))
            self.taken.take_line((left, view.y_px), (right, view.y_px))
        self.add("".join([svg for _, svg in depths]))
        if level and bottom > view.y_px + 1:  # what is in the ground is dashed
            earth = (left - 9, view.y_px + scenery.GROUND_PX, right + 9, bottom + 9)
            self.add(f'<path d="{box_path(earth)}" fill="#fff"/>')
            covers.append(((earth[0], view.y_px, earth[2], earth[3]), -1e9))
        self.add(members_drawn.couplings(self.frame, runs, view))
        self.add(members_drawn.hidden(runs, covers))
        for box, _ in covers:
            left, top, right, bottom = box
            corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
            for a, b in pairwise(corners):
                self.taken.take_line(a, b)
        for one in runs:
            for a, b in pairwise(one.points):
                self.taken.take_line(a, b, one.width)

    def dimensions(self, view: View) -> None:
        """Draw the dimensions of a view."""
        for side, lane in self.layout.lanes[view.name].items():
            svg, words, kept = dimensions_drawn(lane.placed, side, lane.edge, (view.x_px, view.y_px))
            self.add(svg)
            for x, y, value, turn in words:
                self.write(x, y, value, turn=turn)
            for a, b in kept:
                self.taken.take_line(a, b)

    def aligned(self, view: View) -> None:
        """Draw the dimensions of a view that lie along slanting lines, where there is room."""
        for dimension in self.frame.dimensions:
            if dimension.view == view.name and dimension.axis == "aligned":
                found = aligned(dimension, view, self.taken, self.system)
                if not found:
                    length = length_text(distance(dimension.start, dimension.end), self.system)
                    self.left_out.append(f"{dimension.name} {length}".strip())
                    continue
                svg, words, (x, y), turn = found
                self.add(svg)
                self.write(x, y, words, turn=turn)

    def bodies_named(self, view: View) -> None:
        """Name what stands round the frame, where there is room."""
        for body in self.frame.bodies:
            words, box = body.label, scenery.seen(body, view)
            if body.kind in scenery.SCALE_FIGURES:
                if view.name != "front":
                    continue
                words = _about(body.high[2] - body.low[2], self.system)
            if box[3] - box[1] < FLAT_PX:
                continue
            label = near(words, box, self.taken, body.kind in scenery.SCALE_FIGURES) if words else None
            if label:
                self.put(label, bold=False)

    def mark(self, marks: list[Mark]) -> None:
        """Put marks beside pieces, and keep those that found no room."""
        labels, left_out = marked(self.frame, marks, list(self.layout.views.values()), self.runs, self.taken)
        for label in labels:
            self.put(label, bold=True)
        self.left_out += left_out

    def svg(self) -> str:
        """Return all of it, words on top on a light ground."""
        ground = "".join([box_path(box) for box in self.boxes])
        return f'{"".join(self.parts)}<path d="{ground}" fill="#fff" fill-opacity="0.7"/>{"".join(self.written)}'


def _about(height_m: float, system: str) -> str:
    """Return the height of a scale figure in round numbers."""
    if system == "metric":
        return units.write(height_m, "length", system, "m", digits=1)
    return units.feet_inches(units.SIXTEENTHS_PER_INCH * round(height_m / units.INCH_M))


def _near(body: Body, view: View) -> float:
    """How far off the near face of a body is. [m]"""
    return 1e6 if body.kind in scenery.SCALE_FIGURES else min(view.depth(body.low), view.depth(body.high))


def _described(frame: Frame, system: str, views: Sequence[str], title: str) -> str:
    """Return what the sheet shows in one sentence."""
    said = []
    for d in frame.dimensions:
        if d.name and d.axis != "aligned":
            length = abs(d.end["xyz".index(d.axis)] - d.start["xyz".index(d.axis)])
            unit = " mm" if system == "metric" else ""
            said.append(f"{d.name} {length_text(length, system)}{unit} {d.datum}".strip())
    return f"{title}: {', '.join(views)} of a frame of {len(frame.runs)} runs. {'; '.join(said)}".strip() + "."
