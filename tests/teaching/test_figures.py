"""The figure's numbers are the plan's: nothing is worked out on the way to the page."""

import json

import pytest

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.builds.own_frame import OwnFrame
from gardenframe.studies.across import Jump, Point
from gardenframe.teaching import figures


@pytest.fixture(scope="module")
def plan():
    """Return the plan of an A-frame: leaning tubes, two panels."""
    return gardenframe.plan(Trellis(form="A-frame"))


@pytest.mark.parametrize(("system", "unit_m"), [("metric", 1.0), ("us", 0.3048)])
def test_tubes_are_the_runs_of_the_frame(plan, system, unit_m):
    """Every run is one line from end to end, broken from the next, in the reader's unit."""
    tubes = figures.frame_traces(plan, system)["tubes"]
    lines, at = [], []
    for point in zip(tubes["x"], tubes["y"], tubes["z"]):
        if point == (None, None, None):
            lines.append(at)
            at = []
        else:
            at.append(point)
    assert len(lines) == len(plan.frame.runs)
    for line, run in zip(lines, plan.frame.lines.values(), strict=True):
        assert line[0] == pytest.approx([value / unit_m for value in run.points()[0]], abs=1e-4)
        assert line[-1] == pytest.approx([value / unit_m for value in run.points()[-1]], abs=1e-4)


def test_joints_are_those_that_take_a_fitting(plan):
    """One point for each fitted joint, where the frame has it."""
    joints = figures.frame_traces(plan, "metric")["joints"]
    places = [plan.frame.joints[key].at for key in plan.fittings["joint"]]
    assert list(zip(joints["x"], joints["y"], joints["z"])) == [pytest.approx(at, abs=1e-4) for at in places]


def test_a_cover_swept_over_hoops_is_drawn():
    """The film between the hoops of an open house, its arc in steps of 15 degrees: 0.3 % short of the curve at most."""
    house = gardenframe.plan(HoopHouse(end_walls=False))
    assert drawn_area(house) == pytest.approx(house.coverings["area_m2"].sum(), rel=3e-3)


def test_the_covering_has_the_area_of_the_panels(plan):
    """The triangles drawn add up to the areas that the plan covers."""
    assert drawn_area(plan) == pytest.approx(plan.coverings["area_m2"].sum(), rel=1e-3)


def drawn_area(plan):
    """Return the area of the triangles drawn. [m²]"""
    mesh = figures.frame_traces(plan, "metric")["covering"]
    points = list(zip(mesh["x"], mesh["y"], mesh["z"]))
    area = 0.0
    for i, j, k in zip(mesh["i"], mesh["j"], mesh["k"]):
        u = [b - a for a, b in zip(points[i], points[j])]
        v = [b - a for a, b in zip(points[i], points[k])]
        n = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
        area += sum(c * c for c in n) ** 0.5 / 2
    return area


def test_the_figure_holds_lists_and_its_own_names(plan):
    """No packed numbers, traces by their names: another machine writes the same figure."""
    figure = figures.figure(figures.drawn(plan, "metric"))
    written = json.loads(figure.to_json())
    assert "bdata" not in figure.to_json()
    assert [trace["name"] for trace in written["data"]] == [
        "tubes", "joints", "covering", "cost", "cost here", "waste", "waste here",
    ]  # fmt: skip
    assert written["layout"]["uirevision"] == "keep"


def test_what_a_page_is_sent_is_all_that_is_drawn():
    """Every trace, the title and the width, as plain lists: it goes through a message and comes back the same."""
    found = figures.drawn(gardenframe.plan(Trellis()), "metric")
    page = figures.sent(found, 480)
    assert json.loads(json.dumps(page)) == page
    sent = {trace["name"]: trace for trace in page["data"]}
    assert {name: {key: sent[name][key] for key in trace} for name, trace in found.traces.items()} == found.traces
    assert page["layout"]["width"] == 480
    assert page["layout"]["annotations"][0]["text"] == found.title


def test_the_next_figure_is_looked_at_from_where_the_last_was():
    """A page keeps how the reader turned it only while the camera that it is sent stays the same."""
    first, second = (figures.drawn(gardenframe.plan(Trellis(width_m=width)), "metric") for width in (1.0, 6.0))
    assert first.eye != second.eye
    page = figures.sent(first, 480)
    assert figures.sent(second, 480, page)["layout"]["scene"]["camera"] == page["layout"]["scene"]["camera"]
    assert figures.sent(second, 480)["layout"]["scene"]["camera"]["eye"] == second.eye


def test_a_frame_with_nothing_to_vary_has_no_empty_charts():
    """An own frame has no size to slide: its picture takes the whole figure, without a word about sticks."""
    layout = figures.sent(figures.drawn(gardenframe.plan(OwnFrame()), "metric"), 480)["layout"]
    assert layout["annotations"][0]["text"] == ""
    assert not any(layout[axis]["visible"] for axis in ("xaxis", "yaxis", "xaxis2", "yaxis2"))
    assert (list(layout["scene"]["domain"]["y"]), layout["height"]) == ([0.0, 1.0], figures.HEIGHT_PX // 2)


def test_an_emptied_figure_has_no_number_left():
    """No point, no note and no title; the axes and how it is turned stay, for the next frame."""
    page = figures.sent(figures.drawn(gardenframe.plan(Trellis()), "metric"), 480)
    left = figures.emptied(page)
    assert not any(trace.get(key) for trace in left["data"] for key in ("x", "y", "z", "text", "i", "j", "k"))
    assert [note["text"] for note in left["layout"]["annotations"]] == [""]
    assert left["layout"]["scene"] == page["layout"]["scene"]
    assert [trace["name"] for trace in left["data"]] == [trace["name"] for trace in page["data"]]


def test_the_chart_marks_the_readers_own_place(plan):
    """The mark stands on the curve at the build's height, its cost is the plan's."""
    traces = figures.drawn(plan, "metric").traces
    assert traces["cost here"]["x"] == [round(plan.build.height_m * 1000, 2)]
    assert traces["cost here"]["y"] == [round(plan.cost.usual, 2)]
    assert traces["cost here"]["x"][0] in traces["cost"]["x"]


@pytest.mark.parametrize(("sticks", "said"), [(1, "one stick more, $12.00 more"), (6, "6 sticks more, $12.00 more")])
def test_the_title_says_how_many_sticks_more(sticks, said):
    """Where every hoop takes one more coupling, the next size takes several sticks at once."""
    before, after = Point(3.0, 100.0, 40, 0.1), Point(3.001, 112.0, 40 + sticks, 0.1)
    title = figures.jump_line([Jump(before, after)], 2.5, "Width", "USD", "metric")
    assert title == f"Width over 3000 mm: {said}"


@pytest.mark.parametrize("width_px", [330.0, 700.0])
def test_the_frame_has_the_whole_width_and_charts_keep_room_for_their_numbers(plan, width_px):
    """Labels of the turned frame stand beside it; both charts start where their axis has its room."""
    fig = figures.figure(figures.drawn(plan, "metric"))
    figures.fit(fig, width_px)
    left = fig.layout.margin.l
    assert left <= 16
    room_px = fig.layout.xaxis.domain[0] * (width_px - left - fig.layout.margin.r)
    assert room_px == pytest.approx(figures.AXIS_PX)
    assert fig.layout.xaxis2.domain == fig.layout.xaxis.domain
