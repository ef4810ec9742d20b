"""A plan as DXF for a drawing program: the centre lines in space, and the three views with their dimensions, full size.

A plan comes in, the bytes of a file go out. Lengths are in mm, or in inches in the US system; each file says which.
Straight pieces are lines and bends are true arcs in the one; in the other a tube is drawn as wide as it is.
"""

import io
from collections.abc import Iterable
from itertools import pairwise
from typing import Any

from ezdxf import filemanagement
from ezdxf.document import Drawing
from ezdxf.layouts.layout import Modelspace
from ezdxf.math import OCS, Vec3

from gardenframe import units
from gardenframe.geometry.arcs import Arc, Centreline
from gardenframe.geometry.scene import Dimension
from gardenframe.geometry.vectors import Vector, distance, times
from gardenframe.output.dimensions import length_text
from gardenframe.output.projection import AXES, Shape, reach, shapes
from gardenframe.road import Plan

INSUNITS = {"metric": 4, "us": 1}  # mm, in
PER_M = {"metric": 1000.0, "us": 1 / units.INCH_M}
LAYERS = {"centre lines": 5, "tubes": 7, "marks": 3, "dimensions": 1, "panels": 8, "views": 7}  # colour of each
TEXT_M, ROW_M, BETWEEN_M = 0.035, 0.12, 1.2  # letters' height, rows of dimensions, between views
END_ON = 0.02  # of a run's length: shorter in a view, it is seen end on
TURNS_BACK = -0.9  # cosine of a turn beyond which a line comes back
Point = tuple[float, float]


def _started(system: str, layers: Iterable[str]) -> tuple[Drawing, Modelspace]:
    doc = filemanagement.new("R2010", setup=["linetypes", "styles"])
    doc.header["$INSUNITS"] = INSUNITS[system]
    doc.header["$MEASUREMENT"] = 1 if system == "metric" else 0
    for layer in layers:
        doc.layers.add(layer, color=LAYERS.get(layer, 7))
    return doc, doc.modelspace()


def _written(doc: Drawing) -> bytes:
    text = io.StringIO()
    doc.write(text)
    return text.getvalue().encode(doc.output_encoding, errors="dxfreplace")


# --- in space


def centre_lines(plan: Plan, system: str = "metric") -> bytes:
    """Return the axis of every run in space, a layer for each role, with the marks of the pieces."""
    roles = dict.fromkeys(run.role for run in plan.frame.runs.values())
    doc, space = _started(system, [*roles, "marks"])
    scale = PER_M[system]
    for key, line in plan.frame.lines.items():
        _axis(space, line, scale, plan.frame.runs[key].role)
    for mark, run, start, end in plan.marks:
        at = times(plan.frame.lines[run].point((start + end) / 2), scale)
        space.add_text(mark, height=TEXT_M * scale, dxfattribs={"layer": "marks", "insert": at})
    return _written(doc)


def _axis(space: Modelspace, line: Centreline, scale: float, layer: str) -> None:
    for piece in line.pieces:
        if isinstance(piece, Arc):
            _arc(space, piece, scale, layer)
        else:
            space.add_line(times(piece.start, scale), times(piece.end, scale), dxfattribs={"layer": layer})


def _arc(space: Modelspace, arc: Arc, scale: float, layer: str) -> None:
    """Add a true arc: in the plane square to its axis, from its start to its end by the right-hand rule."""
    ocs = OCS(Vec3(arc.axis))
    centre, start, end = (ocs.from_wcs(Vec3(p) * scale) for p in (arc.centre, arc.start, arc.end))
    space.add_arc(
        centre,
        arc.radius_m * scale,
        (start - centre).angle_deg,
        (end - centre).angle_deg,
        dxfattribs={"layer": layer, "extrusion": arc.axis},
    )


# --- on paper


def views(plan: Plan, system: str = "metric") -> bytes:
    """Return front, side and plan in third-angle projection, full size, with marks and dimensions."""
    doc, space = _started(system, LAYERS)
    scale = PER_M[system]
    _dimension_style(doc, scale)
    drawn = shapes(plan.frame, plan.shop.members)
    for name, origin in _places(reach(drawn)).items():
        page = _Page(doc, space, name, origin, scale, system)
        for panel in plan.frame.panels:
            if panel.outline is not None:
                page.panel(panel.outline.points())
        for shape in drawn:
            page.tube(shape)
        for dimension in plan.frame.dimensions:
            if dimension.view == name:
                page.dimension(dimension)
        if name == "front":
            page.marks(plan)
        page.title(reach(drawn))
    return _written(doc)


def _places(box: tuple[Vector, Vector]) -> dict[str, Point]:
    """Return where each view's origin stands: plan above the front view, side view to its right. [m]"""
    low, high = box
    return {
        "front": (0.0, 0.0),
        "side": (high[0] - low[1] + BETWEEN_M, 0.0),
        "plan": (0.0, high[2] - low[1] + BETWEEN_M),
    }


def _dimension_style(doc: Drawing, scale: float) -> None:
    style = doc.dimstyles.duplicate_entry("Standard", "gardenframe")
    style.dxf.dimtxt = TEXT_M * scale
    style.dxf.dimasz = 0.7 * TEXT_M * scale
    style.dxf.dimexe = style.dxf.dimexo = style.dxf.dimgap = 0.3 * TEXT_M * scale
    style.dxf.dimtad = 1


class _Page:
    """One view while it is drawn."""

    def __init__(self, doc: Drawing, space: Modelspace, view: str, origin: Point, scale: float, system: str) -> None:
        self.doc, self.space, self.view, self.origin = doc, space, view, origin
        self.scale, self.system, self.least = scale, system, 1e-6 * scale

    def at(self, point: Vector) -> Point:
        """Where a point is on the page, in units of the file."""
        across, up, _, _ = AXES[self.view]
        return ((point[across] + self.origin[0]) * self.scale, (point[up] + self.origin[1]) * self.scale)

    def panel(self, points: list[Vector]) -> None:
        """Draw a covered surface by its edge."""
        self.space.add_lwpolyline([self.at(p) for p in points], close=True, dxfattribs={"layer": "panels"})

    def tube(self, shape: Shape) -> None:
        """Draw a run as wide as it is, with its axis; a circle where it is seen end on."""
        points, wide = [Vec3(*self.at(p)) for p in shape.points], shape.wide_m[self.view] * self.scale
        seen = sum((b - a).magnitude for a, b in pairwise(points))
        if seen < END_ON * sum(distance(a, b) for a, b in pairwise(shape.points)) * self.scale:
            self.space.add_circle(points[0], wide / 2, dxfattribs={"layer": "tubes"})
            return
        for line in _without_return([points[0], *(b for a, b in pairwise(points) if (b - a).magnitude > self.least)]):
            self.space.add_lwpolyline(line, dxfattribs={"layer": "centre lines"})
            left, right = ([p + n * (side * wide / 2) for p, n in zip(line, _normals(line))] for side in (1, -1))
            self.space.add_lwpolyline([*left, *reversed(right)], close=True, dxfattribs={"layer": "tubes"})

    def dimension(self, dimension: Dimension) -> None:
        """Draw a dimension as one that a drawing program measures; feet and inches are written over it."""
        a, b = self.at(dimension.start), self.at(dimension.end)
        words = length_text(_measured(dimension), self.system)
        far = ROW_M * (dimension.row + 1) * self.scale
        given: dict[str, Any] = {"dimstyle": "gardenframe", "text": words, "dxfattribs": {"layer": "dimensions"}}
        if dimension.axis == "aligned":
            self.space.add_aligned_dim(a, b, distance=far, **given).render()
            return
        upright = dimension.axis == ("y" if self.view == "plan" else "z")
        beside = dimension.side in ("right", "above") or (dimension.side == "auto" and self.view != "front")
        if upright:
            x = max(a[0], b[0]) + far if beside else min(a[0], b[0]) - far
            self.space.add_linear_dim(base=(x, a[1]), p1=a, p2=b, angle=90, **given).render()
        else:
            y = max(a[1], b[1]) + far if beside else min(a[1], b[1]) - far
            self.space.add_linear_dim(base=(a[0], y), p1=a, p2=b, angle=0, **given).render()

    def marks(self, plan: Plan) -> None:
        """Write the mark of each piece at its middle."""
        for mark, run, start, end in plan.marks:
            where = self.at(plan.frame.lines[run].point((start + end) / 2))
            attributes = {"layer": "marks", "insert": where}
            self.space.add_text(mark, height=TEXT_M * self.scale, dxfattribs=attributes)

    def title(self, box: tuple[Vector, Vector]) -> None:
        """Write which view it is, beneath it."""
        corner = self.at(box[0])
        where = (corner[0], corner[1] - 6 * ROW_M * self.scale)
        attributes = {"layer": "views", "insert": where}
        self.space.add_text(self.view, height=1.6 * TEXT_M * self.scale, dxfattribs=attributes)


def _without_return(points: list[Vec3]) -> list[list[Vec3]]:
    """Return a line as lines that never turn back: a hoop seen from its side goes up, and down where it came from."""
    found = [[points[0]]]
    for before, here, after in zip(points, points[1:], points[2:]):
        found[-1].append(here)
        if (here - before).normalize().dot((after - here).normalize()) < TURNS_BACK:
            found.append([here])
    return [*found[:-1], [*found[-1], points[-1]]]


def _normals(points: list[Vec3]) -> list[Vec3]:
    """Return at each point of a line the way to its left, as long as keeps a band along it even."""
    ways = [(b - a).normalize().orthogonal() for a, b in pairwise(points)]
    middle = [(a + b).normalize() / (a + b).normalize().dot(a) for a, b in pairwise(ways)]
    return [ways[0], *middle, ways[-1]]


def _measured(dimension: Dimension) -> float:
    if dimension.axis == "aligned":
        return distance(dimension.start, dimension.end)
    place = "xyz".index(dimension.axis)
    return abs(dimension.end[place] - dimension.start[place])
