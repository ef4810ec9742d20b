"""The one figure of a workbook, drawn by plotly: the frame to turn round, and cost and waste across a range.

Nothing is worked out here: frames and points come in, traces go out. Numbers are rounded lists, traces carry their own
uid, and the camera stays where the reader left it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import plotly.graph_objects as go
from plotly.offline import get_plotlyjs
from plotly.subplots import make_subplots

from gardenframe import units
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector
from gardenframe.road import Plan
from gardenframe.studies.across import Jump, Point, across, field_to_vary, jumps

Numbers = list[float | None]
TUBE, JOINT, NET, COST, WASTE, HERE = "#00598c", "#d55e00", "#009e73", "#00598c", "#a33b00", "#000000"
FONT = {"family": "system-ui, sans-serif", "size": 13, "color": "#1b1b1b"}
UNIT_M = {"metric": 1.0, "us": units.FOOT_M}  # of the axes of the 3D frame
SUFFIX = {"metric": " m", "us": " ft"}
PER_FT2 = units.FOOT_M**2  # of a cost per square metre
HEIGHT_PX = 860
SIDE_PX, AXIS_PX = 12, 52  # beside the whole, and what numbers and title of an upright axis take
UNTOLD_PX = 700.0  # of a figure whose column is not known yet
TITLE_FITS_PX = 430  # a narrower column takes a smaller title
NUMBERS = ("x", "y", "z", "text", "i", "j", "k")  # of a trace
LOW = -0.1  # what the camera looks at, below the middle: the labels of the ground stand under the frame
EYE_M = 1.8  # of the camera from the middle of the frame, in lengths of its longest side


@dataclass(frozen=True, slots=True)
class Drawn:
    """What the figure shows: traces by uid, each as plotly's own properties, and the titles above them."""

    traces: dict[str, dict[str, Any]]
    title: str
    range_title: str
    cost_title: str
    eye: dict[str, float]
    suffix: str


def drawn(plan: Plan, system: str) -> Drawn:
    """Return what the figure shows for a plan."""
    traces = frame_traces(plan, system)
    key = field_to_vary(plan)
    points = across(plan, key) if key else []
    here = getattr(plan.build, key) if key else 0.0
    traces |= chart_traces(points, here, system)
    label = plan.build.field(key).label if key else ""
    unit = "mm" if system == "metric" else "in"
    per = " per m²" if system == "metric" else " per ft²"
    return Drawn(
        traces=traces,
        title=jump_line(jumps(points), here, label, plan.cost.currency, system) if key else "",
        range_title=f"{label}, {unit}" if key else "",
        cost_title=f"Cost{per if plan.build.shared_m2 else ''}, {plan.cost.currency}" if key else "",
        eye=_eye(plan.frame),
        suffix=SUFFIX[system],
    )


def frame_traces(plan: Plan, system: str) -> dict[str, dict[str, Any]]:
    """Return tubes as one line broken between runs, joints as points, panels as meshes joined into one."""
    frame, unit_m = plan.frame, UNIT_M[system]
    marks: dict[str, list[str]] = {}
    for mark, run, _, _ in plan.marks:
        marks.setdefault(run, []).append(mark)
    xyz: tuple[Numbers, Numbers, Numbers] = ([], [], [])
    names: list[str] = []
    for key, line in frame.lines.items():
        points = line.points(10.0)
        size = plan.shop.member(frame.runs[key].member).label
        told = (
            f"{', '.join(marks.get(key, []))} {key}, {size}, {units.write(line.length_m, 'length', system)} on its axis"
        )
        for numbers, axis in zip(xyz, zip(*points)):
            numbers += [*(round(value / unit_m, 4) for value in axis), None]
        names += [told.strip()] * (len(points) + 1)
    joints = [frame.joints[fitted.joint] for fitted in plan.fitted]
    return {
        "tubes": {"x": xyz[0], "y": xyz[1], "z": xyz[2], "text": names},
        "joints": {
            "x": [round(joint.x_m / unit_m, 4) for joint in joints],
            "y": [round(joint.y_m / unit_m, 4) for joint in joints],
            "z": [round(joint.z_m / unit_m, 4) for joint in joints],
            "text": [f"{fitted.label} at {fitted.joint}" for fitted in plan.fitted],
        },
        "covering": _meshes(frame, unit_m),
    }


def _meshes(frame: Frame, unit_m: float) -> dict[str, Any]:
    """Return the panels that take a covering: a flat one as a fan about its middle, a swept one as a strip."""
    corners: list[Vector] = []
    sides: list[tuple[int, int, int]] = []
    for panel in frame.panels:
        if panel.covering and panel.outline is not None:
            _fan(panel.outline.points(15.0)[:-1], corners, sides)
        elif panel.covering and panel.swept:
            first, second = (line.points(15.0) for line in frame.sweep(panel))
            if len(first) == len(second):
                _strip(first, second, corners, sides)
    x, y, z = ([round(corner[n] / unit_m, 4) for corner in corners] for n in range(3))
    i, j, k = ([side[n] for side in sides] for n in range(3))
    return {"x": x, "y": y, "z": z, "i": i, "j": j, "k": k}


def _fan(outline: Sequence[Vector], corners: list[Vector], sides: list[tuple[int, int, int]]) -> None:
    """Add triangles from the middle of an outline to each of its edges."""
    first, many = len(corners), len(outline)
    x, y, z = (sum(axis) / many for axis in zip(*outline))
    corners += [(x, y, z), *outline]
    sides += [(first, first + 1 + n, first + 1 + (n + 1) % many) for n in range(many)]


def _strip(
    left: Sequence[Vector], right: Sequence[Vector], corners: list[Vector], sides: list[tuple[int, int, int]]
) -> None:
    """Add two triangles between each pair of neighbouring points of two lines."""
    first, many = len(corners), len(left)
    corners += [*left, *right]
    for n in range(first, first + many - 1):
        sides += [(n, n + 1, n + many), (n + 1, n + many + 1, n + many)]


def chart_traces(points: list[Point], here: float, system: str) -> dict[str, dict[str, Any]]:
    """Return cost and waste across the range, and the reader's own place on both."""
    unit = "mm" if system == "metric" else "in"
    along = [round(units.in_unit(point.value, unit), 2) for point in points]
    mine = [n for n, point in enumerate(points) if point.value == here]
    cost = [round(point.shown_cost * (PER_FT2 if point.shared_m2 and system == "us" else 1), 2) for point in points]
    waste = [round(100 * point.waste_share, 2) for point in points]
    sticks = [f"{point.sticks} sticks" for point in points]
    return {
        "cost": {"x": along, "y": cost, "text": sticks},
        "waste": {"x": along, "y": waste, "text": sticks},
        "cost here": {"x": [along[n] for n in mine], "y": [cost[n] for n in mine], "text": ["yours"] * len(mine)},
        "waste here": {"x": [along[n] for n in mine], "y": [waste[n] for n in mine], "text": ["yours"] * len(mine)},
    }


def jump_line(found: list[Jump], here: float, label: str, currency: str, system: str) -> str:
    """Return what the chart says about the next stick, as its title."""
    ahead = next((jump for jump in found if jump.after.value > here and jump.after.sticks > jump.before.sticks), None)
    if ahead is None:
        return "No further stick is needed above your size" if found else "The number of sticks does not change"
    at = units.write(ahead.before.value, "length", system)
    more = units.write(ahead.after.cost - ahead.before.cost, "money", "metric", unit=currency)
    sticks = ahead.after.sticks - ahead.before.sticks
    return f"{label} over {at}: {'one stick' if sticks == 1 else f'{sticks} sticks'} more, {more} more"


def _eye(frame: Frame) -> dict[str, float]:
    """Return where the camera stands, so that a long frame is not clipped."""
    sides = [max(values) - min(values) for values in zip(*(joint.at for joint in frame.joints.values()))]
    long = max(sides)
    flat = 1.0 + 0.25 * (long / max(sorted(sides)[1], 0.3) - 1.0)
    far = EYE_M * min(max(flat, 1.0), 2.0)
    return {"x": -0.55 * far, "y": -0.95 * far, "z": 0.35 * far}


def figure(found: Drawn) -> go.Figure:
    """Return the figure: the frame above, cost and waste beneath it."""
    fig = make_subplots(
        rows=3, cols=1, specs=[[{"type": "scene"}], [{"type": "xy"}], [{"type": "xy"}]],
        row_heights=[0.55, 0.25, 0.2], vertical_spacing=0.07, shared_xaxes=False,
    )  # fmt: skip
    kept, hover = found.traces, "%{text}<extra></extra>"
    fig.add_trace(
        go.Scatter3d(
            uid="tubes", name="tubes", mode="lines", line={"color": TUBE, "width": 7}, hovertemplate=hover,
            connectgaps=False, **kept["tubes"],
        ), row=1, col=1,
    )  # fmt: skip
    fig.add_trace(
        go.Scatter3d(
            uid="joints", name="joints", mode="markers", marker={"color": JOINT, "size": 4}, hovertemplate=hover,
            **kept["joints"],
        ), row=1, col=1,
    )  # fmt: skip
    fig.add_trace(
        go.Mesh3d(uid="covering", name="covering", color=NET, opacity=0.22, hoverinfo="skip", **kept["covering"]),
        row=1, col=1,
    )  # fmt: skip
    for row, uid, colour, dash, ending in ((2, "cost", COST, "solid", ""), (3, "waste", WASTE, "dot", " %")):
        for trace in _curve(uid, kept, {"color": colour, "width": 2, "dash": dash}, ending):
            fig.add_trace(trace, row=row, col=1)
    _laid_out(fig, found)
    return fig


def _curve(uid: str, kept: dict[str, dict[str, Any]], line: dict[str, Any], ending: str) -> Iterator[go.Scatter]:
    """Yield a curve and the reader's own place on it."""
    told, here = f"%{{y}}{ending}, %{{text}}<extra></extra>", f"{uid} here"
    yield go.Scatter(uid=uid, name=uid, mode="lines", line=line, hovertemplate=told, **kept[uid])
    mark = {"color": HERE, "size": 10, "symbol": "diamond"}
    said = {"mode": "markers+text", "textposition": "top center", "hovertemplate": told, "cliponaxis": False}
    yield go.Scatter(uid=here, name=here, marker=mark, **said, **kept[here])


def _laid_out(fig: go.Figure, found: Drawn) -> None:
    axis = {
        "title": {"text": ""}, "showspikes": False, "gridcolor": "#d5d9dd", "backgroundcolor": "#ffffff",
        "nticks": 4, "ticksuffix": found.suffix, "tickfont": {"size": 11},
    }  # fmt: skip
    looks = {"eye": found.eye, "center": {"x": 0.0, "y": 0.0, "z": LOW}, "projection": {"type": "perspective"}}
    fig.update_scenes(aspectmode="data", camera=looks, xaxis=axis, yaxis=axis, zaxis=axis)
    fig.update_xaxes(gridcolor="#e7eaec", zeroline=False, showline=True, linecolor="#8b949b")
    fig.update_yaxes(gridcolor="#e7eaec", zeroline=False, showline=True, linecolor="#8b949b", rangemode="tozero")
    fig.update_layout(
        height=HEIGHT_PX, showlegend=False, uirevision="keep", font=FONT, paper_bgcolor="#ffffff",
        plot_bgcolor="#ffffff", margin={"l": SIDE_PX, "r": SIDE_PX, "t": 8, "b": 48},
        annotations=[{
            "text": found.title, "xref": "paper", "yref": "paper", "x": 0, "y": 0.468, "xanchor": "left",
            "yanchor": "bottom", "showarrow": False, "font": FONT | {"size": 15},
        }],
    )  # fmt: skip
    fig.layout.yaxis.title = {"text": found.cost_title}
    fig.layout.yaxis2.title = {"text": "Waste, %"}
    fig.layout.xaxis2.title = {"text": found.range_title}
    if not found.range_title:  # no field to vary: the frame has the whole figure, which is as tall as it was
        fig.update_xaxes(visible=False)
        fig.update_yaxes(visible=False)
        fig.layout.scene.domain.y, fig.layout.height = (0.0, 1.0), HEIGHT_PX // 2
    fit(fig, UNTOLD_PX)


def sent(found: Drawn, width_px: float, before: dict[str, Any] | None = None) -> dict[str, Any]:
    """Return the figure as a page draws it, of a width: plain lists and words under `data` and `layout`. [px]

    It is looked at from where the one before was: a page keeps how the reader turned it only where that is the same.
    """
    fig = figure(found)
    fit(fig, width_px)
    whole: dict[str, Any] = fig.to_plotly_json()
    if before is not None:
        whole["layout"]["scene"]["camera"] = before["layout"]["scene"]["camera"]
    return {"data": whole["data"], "layout": whole["layout"]}


def emptied(page: dict[str, Any]) -> dict[str, Any]:
    """Return the figure without a number in it; a page keeps its camera."""
    data = [{name: [] if name in NUMBERS else value for name, value in trace.items()} for trace in page["data"]]
    notes = [{**note, "text": ""} for note in page["layout"]["annotations"]]
    return {"data": data, "layout": {**page["layout"], "annotations": notes}}


def script() -> str:
    """Return plotly's own script, which draws what `sent` returns."""
    return str(get_plotlyjs())


def fit(fig: go.Figure, width_px: float) -> None:
    """Make the figure as wide as the column it stands in; by itself it would be 700 px wide in any. [px]"""
    fig.layout.width = round(width_px)
    first = AXIS_PX / (width_px - 2 * SIDE_PX)  # the frame has the whole width: its labels stand outside of it
    fig.layout.xaxis.domain = fig.layout.xaxis2.domain = (first, 1.0)
    fig.layout.annotations[0].font.size = 15 if width_px > TITLE_FITS_PX else 11
