"""The bend sheet: the straight tube with its marks, measured from one end, and what to do at each.

A `BendSheet` comes in, one SVG goes out. Lengths along the tube are to scale, its thickness is not. Lines by ISO 128,
dimensions by ISO 129 (from memory); words never lie on words.
"""

import math
from collections.abc import Iterable, Sequence

from gardenframe import units
from gardenframe.geometry.bend_marks import BendSheet, MarkedBend, TubeMark
from gardenframe.output.dimensions import length_text
from gardenframe.output.svg import (
    BLUE,
    DASHED,
    FAINT,
    GREY,
    INK,
    STEEL,
    THICK_PX,
    THIN_PX,
    VERMILION,
    Point,
    area,
    arrowhead,
    box_path,
    hatch,
    lines,
    path,
    segment,
    sheet,
    text,
    text_width,
)
from gardenframe.output.wrapping import spread, wrapped

EDGE_PX, LINE_PX, TUBE_PX = 14.0, 17.0, 18.0
COLUMN_PX, CLOCK_PX = 15.0, 10.0  # between upright texts; radius of a clock
DROP_PX = 26.0  # from the tube to the upright texts, room for slanting leaders
SAME_MM = 0.5  # marks nearer than this are one
NARROWEST_PX = 360.0
KEPT = "\u00a0"  # a space at which a line does not break


def bend_drawing(bends: BendSheet, system: str = "metric", width_px: float = 820.0) -> str:
    """Return the bend sheet of one kind of piece as SVG.

    Parameters
    ----------
    system : str
        "metric" (whole mm) or "us" (feet, inches, sixteenths).
    width_px : float
        Width of the sheet, 360 or more, and 15 for each mark; its height follows. [px]
    """
    least = max(NARROWEST_PX, len(together(bends.marks)) * COLUMN_PX + 2 * EDGE_PX + COLUMN_PX)
    if width_px < least:
        raise ValueError(f"width_px: got {width_px:g}, needs {least:g} or more.")
    page = _Page(bends, system, width_px)
    page.heading()
    page.tube()
    page.table()
    page.foot()
    title = f"Bend sheet of piece {bends.mark}"
    return sheet("".join(page.parts), width_px, page.y + 8, title, _described(bends, system))


class _Page:
    """One sheet while it is drawn, from the top down."""

    def __init__(self, bends: BendSheet, system: str, width: float) -> None:
        self.bends, self.system, self.width = bends, system, width
        self.parts: list[str] = []
        self.y = 6.0
        self.left = EDGE_PX + 6
        self.scale = (width - 2 * self.left) / bends.cut_mm
        self.stops = together(bends.marks)

    def x(self, at_mm: float) -> float:
        """Return where a station stands across the sheet. [px]"""
        return self.left + at_mm * self.scale

    def long(self, length_mm: float) -> str:
        """Return a length along the tube as its tape shows it."""
        return length_text(length_mm / 1000, self.system)

    def write(self, words: str, bold: bool = False, indent: float = 0.0) -> None:
        """Write a paragraph, as many lines as it takes."""
        for line in wrapped(words, self.width - 2 * EDGE_PX - indent, bold):
            self.y += LINE_PX
            self.parts.append(text(EDGE_PX + indent, self.y, line, "start", bold=bold))

    def heading(self) -> None:
        """Write what the piece is, what to cut, and on what it is bent."""
        b = self.bends
        pieces = "1 piece" if b.count == 1 else f"{b.count} pieces"
        self.write(f"{b.mark}: {pieces} of {b.member.label}, bent on the {b.bender.label}", bold=True)
        unit = " mm" if self.system == "metric" else ""
        trimmed = f"; after bending trim to {self.long(b.developed_mm)}{unit} along its axis"
        self.write(f"Cut {self.long(b.cut_mm)}{unit} straight{trimmed if b.cut_mm - b.developed_mm > SAME_MM else ''}.")
        hook = "; the shoe's hook faces that end" if b.bender.kind == "shoe" else ""
        self.write(f"Mark every line from the left-hand end{hook}.")

    def tube(self) -> None:
        """Draw the clocks, the tube with its bends, its marks and their distances."""
        top = self.y + 12 + 2 * CLOCK_PX + LINE_PX + 16
        bottom = top + TUBE_PX
        self.clocks(top)
        ends = (self.x(0), top, self.x(self.bends.cut_mm), bottom)
        self.parts.append(area(box_path(ends), STEEL))
        for bend in self.bends.bends:
            left, right = self.x(bend.start_mm), self.x(bend.end_mm)
            ring = [(left, top), (right, top), (right, bottom), (left, bottom)]
            self.parts.append(area(box_path((left, top, right, bottom)), "#cfe3f3"))
            self.parts.append(lines(hatch([ring], 45, 7.0), THIN_PX, BLUE))
        self.parts.append(lines(box_path(ends), THICK_PX))
        self.distances(top, bottom)

    def clocks(self, tube_top: float) -> None:
        """Draw, above each bend, which way it goes seen from the marked end."""
        full = [f"{b.number}: {units.write(b.bend_deg, 'angle', self.system)}" for b in self.bends.bends]
        wide = max(text_width(words, bold=True) for words in full) + 10
        room = self.width - 2 * EDGE_PX
        if wide * len(full) > room:  # numbers alone; the table has the rest
            full, wide = [str(b.number) for b in self.bends.bends], max(room / len(full), 2 * CLOCK_PX + 3)
        middles = [self.x((b.start_mm + b.end_mm) / 2) for b in self.bends.bends]
        y = self.y + 12 + CLOCK_PX
        for bend, words, middle, x in zip(
            self.bends.bends, full, middles, spread(middles, wide, EDGE_PX + wide / 2, self.width - EDGE_PX - wide / 2)
        ):
            foot = y + CLOCK_PX + LINE_PX + 2
            self.parts.append(clock(x, y, bend.face_deg))
            self.parts.append(text(x, foot - 4, words, bold=True))
            self.parts.append(lines(segment(x, foot, middle, tube_top - 1), THIN_PX, GREY))

    def distances(self, top: float, bottom: float) -> None:
        """Draw each mark with its distance from the end, and the whole length below."""
        words = [self.long(at) for at, _ in self.stops]
        reach = max(text_width(said) for said in words)
        places = [self.x(at) for at, _ in self.stops]
        limits = EDGE_PX + COLUMN_PX / 2, self.width - EDGE_PX - COLUMN_PX / 2
        text_top = bottom + DROP_PX
        for (at, marks), said, x in zip(self.stops, words, spread(places, COLUMN_PX, *limits)):
            here = self.x(at)
            kinds = {mark.what for mark in marks}
            cut = kinds == {"trim"}
            self.parts.append(lines(segment(here, top - 4, here, bottom + 6), 1.0, INK, DASHED if cut else ""))
            self.parts.append(lines(path([(here, bottom + 6), (x, text_top - 3)]), THIN_PX))
            if "arrow" in kinds:
                head = [(here, top - 1), (here - 5, top - 11), (here + 5, top - 11)]
                self.parts.append(area(path(head, closed=True), VERMILION))
            self.parts.append(text(x + 4.2, text_top, said, "end", turn_deg=-90.0))
        level = text_top + reach + 10 + LINE_PX
        left, right = self.x(0), self.x(self.bends.cut_mm)
        frame = segment(left, level, right, level)
        frame += "".join(segment(x, bottom + 3, x, text_top - 4) for x in (left, right))
        frame += "".join(segment(x, level - 5, x, level + 3) for x in (left, right))
        self.parts.append(lines(frame))
        self.parts.append(area(arrowhead(left, level, -1, 0) + arrowhead(right, level, 1, 0), INK))
        self.parts.append(text(self.width / 2, level - 4, f"cut {self.long(self.bends.cut_mm)}"))
        self.y = level + 10

    def table(self) -> None:
        """Write every mark in order, with what to do there."""
        rows = [(self.long(at), what_to_do(self.bends, marks, self.system)) for at, marks in self.stops]
        heads = ("From the end", "Mark and do")
        first = max(text_width(words, bold=words == heads[0]) for words in (heads[0], *(row[0] for row in rows)))
        indent = first + 16
        self.y += LINE_PX
        self.parts.append(text(EDGE_PX + first, self.y, heads[0], "end", bold=True))
        self.parts.append(text(EDGE_PX + indent, self.y, heads[1], "start", bold=True))
        for at, does in rows:
            self.y += 3
            self.parts.append(lines(segment(EDGE_PX, self.y + 2, self.width - EDGE_PX, self.y + 2), THIN_PX, FAINT))
            self.y += 2
            self.parts.append(text(EDGE_PX + first, self.y + LINE_PX, at, "end"))
            for said in does:
                self.write(said, indent=indent)

    def foot(self) -> None:
        """Write the notes of the sheet."""
        self.y += 8
        for note in notes(self.bends, self.system):
            self.write(note)


def together(marks: Iterable[TubeMark]) -> list[tuple[float, list[TubeMark]]]:
    """Return marks by place: those at one place together."""
    found: list[tuple[float, list[TubeMark]]] = []
    for mark in marks:
        if found and mark.at_mm - found[-1][0] < SAME_MM:
            found[-1][1].append(mark)
        else:
            found.append((mark.at_mm, [mark]))
    return found


def clock(x: float, y: float, face_deg: float) -> str:
    """Return a small clock whose hand shows which way a bend goes, seen from the marked end; the first goes up."""
    turn = math.radians(face_deg)
    tip: Point = (x + math.sin(turn) * CLOCK_PX, y - math.cos(turn) * CLOCK_PX)
    ring = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{CLOCK_PX:g}" fill="#fff" stroke="{INK}" stroke-width="{THIN_PX:g}"/>'
    return ring + lines(segment(x, y, *tip), 1.0) + area(arrowhead(*tip, math.sin(turn), -math.cos(turn), 7.0), INK)


def hour(face_deg: float) -> str:
    """Return a direction as the hour of a clock, with minutes where it is not a full hour.

    >>> hour(0.0), hour(180.0), hour(315.0)
    ("12 o'clock", "6 o'clock", 'half past 10')
    """
    halves = round(face_deg / 15) % 24
    name = halves // 2 or 12
    return f"half past {name}" if halves % 2 else f"{name} o'clock"


def what_to_do(bends: BendSheet, marks: Sequence[TubeMark], system: str) -> list[str]:
    """Return a sentence for each of the marks at one place."""
    said = []
    for mark in marks:
        bend = bends.bends[mark.bend - 1]
        if mark.what == "trim":
            said.append("Trim: cut here after the last bend has been checked.")
        elif mark.what == "arrow":
            said.append(f"Arrow of bend {mark.bend}: set the bender's arrow here. {_bend_it(bend, bends, system)}")
        elif mark.what == "start" and bends.bender.kind == "jig":
            said.append(f"Start of bend {mark.bend}. {_bend_it(bend, bends, system)}")
        else:
            said.append(f"{mark.what.capitalize()} of bend {mark.bend}.")
    return said


def _bend_it(bend: MarkedBend, bends: BendSheet, system: str) -> str:
    to = units.write(bend.bend_to_deg, "angle", system, digits=1)
    rests = units.write(bend.bend_deg, "angle", system)
    radius, jig = (_radius(r, system) for r in (bend.radius_mm, bend.jig_radius_mm))
    turn = f", towards {_kept_together(hour(bend.face_deg))}" if bend.number > 1 or len(bends.bends) > 1 else ""
    round_what = f" round a jig of radius {jig}" if bends.bender.kind == "jig" else ""
    return f"Bend to about {to}{round_what}, so that it rests at {rests}, radius {radius}{turn}."


def _kept_together(words: str) -> str:
    """Return words that a line does not part: a number and its unit."""
    return words.replace(" ", KEPT)


def _radius(radius_mm: float, system: str) -> str:
    return _kept_together(units.write(radius_mm / 1000, "length", system, unit="in" if system == "us" else "mm"))


def notes(bends: BendSheet, system: str) -> list[str]:
    """Return the sentences at the foot of a sheet."""
    said = list(bends.notes)
    said += [f"Bends {a} and {b} make an offset of {_radius(depth, system)}." for a, b, depth in bends.offsets]
    if len(bends.bends) > 1:
        said.append("O'clock: which way a bend goes, seen from the left-hand end along the tube; the first goes to 12.")
    stretch = max(b.stretch_ratio for b in bends.bends)
    least = bends.bends[0].least_radius_mm
    said.append(
        f"The outside stretches by {100 * stretch:.2g} %; the published least radius is {_radius(least, system)}. "
        "Radii are to the centreline. Spring-back is an estimate: trust the drawn arc before the angle."
    )
    if bends.bender.source == "invented":
        said.append("The bender's take-up and straight ends are invented: measure your own before marking.")
    return [*said, "Length to scale, thickness not." + (" Dimensions in mm." if system == "metric" else "")]


def _described(bends: BendSheet, system: str) -> str:
    stops = "; ".join(
        f"{length_text(at / 1000, system)}: " + " and ".join(f"{m.what} {m.bend or ''}".strip() for m in marks)
        for at, marks in together(bends.marks)
    )
    return f"Straight tube of {length_text(bends.cut_mm / 1000, system)}, marked from one end at {stops}."
